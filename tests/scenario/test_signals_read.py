"""Signal circuits as the file says them: what is read, what is refused, where the advice ends."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from lugwright.assemble.cautions import cautions_for
from lugwright.base.errors import BadInput
from lugwright.base.toml import parse_toml
from lugwright.checker.run import check_plan
from lugwright.pipeline import make_plan, read_inputs
from lugwright.scenario.console import Console, Sender
from lugwright.scenario.load import load_toml

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "scenarios/second-station.toml").read_text(encoding="utf-8")
CASES = tomllib.loads((ROOT / "tests/bad_inputs/signals/sharing.toml").read_text(encoding="utf-8"))[
    "case"
]


def edited(text: str, edits: list[list[str]]) -> str:
    """The text after replacements, each of what is there."""
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def read(text: str) -> Console:
    """The console of a text. Raises BadInput."""
    return load_toml(parse_toml(text.encode(), "second-station.toml")).console


@pytest.fixture(scope="module")
def console() -> Console:
    """The two stations as they stand."""
    return read(TEXT)


def test_a_shared_signal_is_a_circuit_without_supply(console: Console) -> None:
    """Its sender's wire is where a pigtail would be, and may land on any of its posts."""
    pulses = console.circuit("pulses")
    assert (pulses.side, pulses.colour) == ("signal", "gray")
    assert pulses.posts == ("lower rpm.signal", "upper rpm.signal")
    assert pulses.sender == Sender("pulse")
    assert (pulses.lands_on, pulses.returns_to) == ("", "")
    assert console.circuit("temperature").sender == Sender("resistance", "700-22 ohm", 2)


def test_a_lamp_is_on_a_circuit_of_its_own(console: Console) -> None:
    """Held to the post that the pigtail names."""
    own = console.circuit("oil lamp signal")
    assert (own.posts, own.lands_on) == (("oil lamp.signal",), "oil lamp.signal")


def test_linked_posts_go_together(console: Console) -> None:
    """The buzzer's second tab is the same metal."""
    posts = console.circuit("heat").posts
    assert posts == ("heat buzzer.signal", "heat buzzer.signal 2", "heat lamp.signal")


def test_current_of_a_shared_sender_is_for_each_instrument(console: Console) -> None:
    """What two dials send is twice what is assumed for one; a lamp's is its bulb's."""
    sent = {load.name: load.current_ma for load in console.loads if load.senses}
    names = ("lower rpm", "lower temp", "upper rpm", "upper temp")
    assert sent == {f"{name}.signal": 250 for name in names}
    lamps = {load.name: load.ground_post for load in console.loads if "signal" in load.ground_post}
    assert lamps["heat lamp.lamp"] == "heat lamp.signal"


def test_a_sender_with_a_ground_wire_comes_back_here(console: Console) -> None:
    """The ground wire carries what all send, and draws nothing by itself."""
    assert console.circuit("heat").returns_to == "lower temp.ground"
    (block,) = (one for one in console.boat_blocks if one.name == "heat switch")
    assert [wire.lands_on for wire in block.wires] == ["lower temp.ground"]
    assert (block.current_ma, block.drawn_from, block.returns_to) == (150, "", "")


def test_feeds_that_differ_are_refused() -> None:
    """With one feed off, the other would feed it backwards through the shared signal."""
    text = edited(
        TEXT,
        [
            [
                'centre = ["75 mm", "65 mm"]\nfeeds = { signal = "pulses" }',
                'centre = ["75 mm", "65 mm"]\nfeeds = { signal = "pulses", ignition = "port" }',
            ],
            [
                '  { circuit = "ground"',
                '  { circuit = "port", colour = "red", wire_size = "14 AWG", reach = "900 mm", '
                'fuse = "5 A" },\n  { circuit = "ground"',
            ],
        ],
    )
    with pytest.raises(BadInput) as caught:
        read(text)
    (complaint,) = caught.value.complaints
    assert 'takes its current from "port" and "upper rpm" from "ignition"' in complaint.message
    assert "would feed it backwards" in complaint.message


def test_an_unstated_range_is_a_question() -> None:
    """Only one of dial and sender says its range: it is asked on the sheets."""
    console = read(edited(TEXT, [['sender = "resistance"\nrange = "240-33 ohm"\n', ""]]))
    (asked,) = console.questions
    assert asked == (
        'Ask which range sender "fuel sender" has before it goes in: dial "fuel" is made for '
        "240-33 ohm, and with another the needle reads wrong."
    )
    assert read(TEXT).questions == ()
    brief = read_inputs(parse_toml(TEXT.replace('range = "240-33 ohm"', "", 1).encode(), "x.toml"))
    plan = make_plan(brief).plan
    assert plan is not None
    (told,) = [one for one in plan.cautions if one.startswith("Ask which range")]
    assert 'dial "fuel"' in told
    assert check_plan(brief, plan).passed


def each_case() -> Iterator[Any]:
    """Every case of the file."""
    return (pytest.param(case, id=case["name"]) for case in CASES)


@pytest.mark.parametrize("case", list(each_case()))
def test_a_fault_of_a_signal(case: dict[str, Any]) -> None:
    """Place, reason and a way out; followed, the file is accepted."""
    text = edited(TEXT, case["edits"])
    with pytest.raises(BadInput) as caught:
        read(text)
    told = caught.value.complaints
    assert [one.field for one in told] == [case["field"]]
    words = f"{told[0].message} ({told[0].hint})"
    assert [word for word in case["words"] if word not in words] == []
    assert read(edited(text, case["followed"])).circuits


def test_a_current_from_memory_is_told_on_every_sheet(console: Console) -> None:
    """What the file does not say of a sender is not passed over in silence."""
    told = [note for note in console.notes if "is from memory" in note]
    assert told == [
        "The current of fuel sender, 0.25 A, is from memory, for the file does not say: ask its "
        "maker.",
        "The current of pigtail on pulses, 0.25 A for each dial, is from memory, for the file "
        "does not say: ask the sender's maker.",
        "The current of pigtail on temperature, 0.25 A for each dial, is from memory, for the file "
        "does not say: ask the sender's maker.",
    ]
    assert set(told) <= set(cautions_for(console, "usual"))
