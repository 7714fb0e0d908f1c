"""Straps as the file says them: what is read, what is refused, where the advice ends."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from support.shared import shared

from lugwright.base.errors import BadInput
from lugwright.base.toml import parse_toml
from lugwright.pipeline import Run, make_plan, read_inputs
from lugwright.scenario.console import Console
from lugwright.scenario.leaving_out import text_without
from lugwright.scenario.load import load_toml

ROOT = Path(__file__).parents[2]
FILE = ROOT / "scenarios/strapped-breakers.toml"
TEXT = FILE.read_text(encoding="utf-8")
CASES = tomllib.loads((ROOT / "tests/bad_inputs/straps/faults.toml").read_text(encoding="utf-8"))


def edited(text: str, edits: list[list[str]]) -> str:
    """The text after replacements, each of what is there."""
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def read(text: str) -> Console:
    """The console of a text. Raises BadInput."""
    return load_toml(parse_toml(text.encode(), "strapped-breakers.toml")).console


def test_what_a_strap_joins_is_one_node() -> None:
    """Both near studs are one piece of metal, each with its own side of the strap."""
    console = read(TEXT)
    (strap,) = console.straps
    assert (strap.thickness_dmm, strap.contact_uohm, strap.carries_ma) == (15, 200, 60_000)
    port, starboard = (console.post(post) for post in strap.posts)
    assert port.node == starboard.node == "strap main bar"
    assert strap.sides == (frozenset({port.id}), frozenset({starboard.id}))


def test_links_and_straps_are_one_metal_and_sides_follow_both() -> None:
    """A strap on a linked stud reaches all that the link joins; a second strap goes on from it."""
    text = TEXT + """
[[strap]]
name = "ground bar"
posts = ["volts.ground", "fuel.ground"]
thickness = "1 mm"

[[strap]]
name = "ground tail"
posts = ["fuel.ground", "bar.ground2"]
thickness = "1 mm"

[[instrument]]
name = "bar"
pattern = "bus-bar-4-4"
centre = ["60 mm", "160 mm"]
feeds = { feed1 = "spare", feed2 = "spare", feed3 = "spare", feed4 = "spare" }
"""
    console = read(text)
    bar, tail = console.straps[:2]
    assert (bar.name, tail.name) == ("ground bar", "ground tail")
    dials, studs = {"fuel.ground", "volts.ground"}, {f"bar.ground{n}" for n in range(1, 5)}
    assert dict(zip(tail.posts, tail.sides, strict=True)) == {
        "bar.ground2": studs,
        "fuel.ground": dials,
    }
    assert {console.post(post).node for post in dials | studs} == {"strap ground bar"}


@pytest.mark.parametrize("case", CASES["case"], ids=lambda case: case["name"])
def test_a_fault_of_a_strap(case: dict[str, Any]) -> None:
    """Place, reason and a way out; followed, the file is accepted."""
    text = edited(TEXT, case["edits"])
    with pytest.raises(BadInput) as caught:
        read(text)
    told = caught.value.complaints
    assert [one.field for one in told] == [case["field"]]
    words = f"{told[0].message} ({told[0].hint})"
    assert [word for word in case["words"] if word not in words] == []
    assert read(edited(text, case["followed"])).straps


def test_without_an_instrument_its_end_of_the_strap_goes() -> None:
    """A strap that joins nothing any more is left out with the instrument."""
    text = text_without(parse_toml(TEXT.encode(), FILE.name), ["starboard strip"], "without")
    assert "[[strap]]" not in text


def planned() -> Run:
    """The two strips and their plan."""
    brief = read_inputs(FILE)
    return shared(f"plan of {FILE}", lambda: make_plan(brief))


def test_the_strap_is_on_every_list() -> None:
    """Stacks, steps and the test sheet tell of its lugs."""
    plan = planned().plan
    assert plan is not None
    lugs = {
        (stack.post, lug.ready): lug.current_ma for stack in plan.stacks for lug in stack.lugs
    }
    # by hand: the supply lands on the starboard strip; 5 A of pump, and 0.05 A and 0.1 A of dials
    # with 0.25 A of sender, go on through the strap
    assert lugs["port strip.in", "strap main bar"] == 5_400
    assert lugs["starboard strip.in", "strap main bar"] == 5_400
