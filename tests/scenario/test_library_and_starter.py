"""The instrument library, starter scenarios and the JSON Schema."""

from __future__ import annotations

import json
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.scenario_text import SCENARIOS, console_of

from lugwright.base.errors import BadInput
from lugwright.base.letters import letters_fault
from lugwright.electrics.colours import colour_of_sender
from lugwright.scenario.json_schema import (
    SCHEMA_FILE,
    scenario_schema,
    schema_text,
    write_schema_beside,
)
from lugwright.scenario.library import find_pattern, pattern_names
from lugwright.scenario.load import load_scenario
from lugwright.scenario.new import starter
from lugwright.stock.read import read_stock

WANTED = {
    "bus-bar-4-4",
    "depth-dial-86",
    "dial-52",
    "dial-52-short",
    "dial-86",
    "electronic-dial-86",
    "ground-bar-6",
    "hour-meter-52",
    "receptacle-28",
    "rocker-20",
    "tachometer-86",
    "voltmeter-52",
}


def test_library_holds_the_usual_instruments() -> None:
    """Dials large and small, switch, receptacle and bus bars."""
    assert set() == WANTED - set(pattern_names())
    assert find_pattern("no-such-dial") is None


@pytest.mark.parametrize("name", pattern_names())
def test_pattern_can_be_built(name: str) -> None:
    """Posts stand above the body and inside its outline (leads lie beside it), and stock fits."""
    pattern = find_pattern(name)
    assert pattern is not None
    stock = read_stock()
    rings = {thread for row in stock.fittings for thread in row.stud_threads}
    tabs = {row.tab_size for row in stock.fittings if row.kind == "push-on"}
    half_x = (pattern.body or pattern.body_width or Fraction(0)) / 2
    half_y = (pattern.body or pattern.body_height or Fraction(0)) / 2
    for post in pattern.posts.values():
        if post.kind == "lead":
            continue
        assert post.height > pattern.body_depth
        assert abs(post.at[0]) <= half_x and abs(post.at[1]) <= half_y
        assert (post.thread in rings) if post.kind == "stud" else (post.tab in tabs)


@pytest.mark.parametrize("name", pattern_names())
def test_short_thread_still_takes_a_lug(name: str) -> None:
    """One lug, lock washer, nut and one showing thread fit on every stud of the library."""
    pattern = find_pattern(name)
    assert pattern is not None
    stock = read_stock()
    for post in pattern.posts.values():
        if post.thread is None or post.free_thread is None:
            continue
        row = stock.hardware_for(post.thread)
        used_dmm = row.nut_dmm + row.lock_washer_dmm + -(-row.pitch_um // 100) + 8
        assert used_dmm <= post.free_thread * 10


def test_bus_bar_studs_are_linked() -> None:
    """Four studs are one piece of metal, apart from the other four, and draw nothing."""
    pattern = find_pattern("bus-bar-4-4")
    assert pattern is not None
    links = [post.link for post in pattern.posts.values()]
    assert {link: links.count(link) for link in set(links)} == {"feed": 4, "ground": 4}
    assert pattern.loads == ()
    assert all(post.optional for post in pattern.posts.values())


@pytest.mark.parametrize("name", ["sandbar-skiff.toml", "six-dial-console.toml"])
def test_demo_scenarios_load(name: str) -> None:
    """The scenarios that come with the project are without fault."""
    console = load_scenario(SCENARIOS / name).console
    assert len(console.instruments) >= 4


# Any letter that can be printed.
PRINTED = st.characters(max_codepoint=0x2BFF, exclude_categories=("C", "Z", "M")).filter(
    lambda char: not letters_fault(char)
) | st.just(" ")


@settings(max_examples=25, deadline=None)
@given(
    st.integers(1, 40),
    st.sampled_from(["12 V", "24 V"]),
    st.text(PRINTED, min_size=1, max_size=60).filter(lambda t: bool(t.strip())),
)
def test_starter_loads(dials: int, voltage: str, title: str) -> None:
    """A starter scenario has the dials asked for and no fault, whatever its title."""
    console = console_of(starter(title, dials, voltage))
    assert dials == len(console.instruments)
    assert title.strip() == console.title
    assert {"ground", "ignition"} <= {circuit.name for circuit in console.circuits}


def test_starter_with_named_dials() -> None:
    """Everyday names find their pattern; a pattern can be named outright."""
    console = console_of(starter("Named", ["speed", "port fuel=dial-52-short", "depth"]))
    assert {instrument.name: instrument.pattern for instrument in console.instruments} == {
        "depth": "depth-dial-86",
        "port fuel": "dial-52-short",
        "speed": "electronic-dial-86",
    }
    assert tuple(boat_block.name for boat_block in console.boat_blocks) == ("port fuel sender",)


@pytest.mark.parametrize(
    ("dials", "words"),
    [
        (0, "1 to 40 dials"),
        (41, "1 to 40 dials"),
        (["fuel", "fuel"], "same name"),
        (["fuel=dial-53"], 'did you mean "dial-52"?'),
        (["bar=ground-bar-6"], "not a dial"),
        (["a.b"], "not a name for a dial"),
        (["depth"], "no stud"),
    ],
)
def test_starter_refuses(dials: int | list[str], words: str) -> None:
    """What cannot be laid out is refused by name."""
    with pytest.raises(BadInput) as caught:
        starter("Refused", dials)
    assert words in str(caught.value)


def test_schema_describes_every_field() -> None:
    """What an editor shows for a key is never empty, and unknown keys are faults there too."""
    schema = scenario_schema()
    for table in [schema, *schema["$defs"].values()]:
        assert table["additionalProperties"] is False
        for key, value in table["properties"].items():
            table_meant = schema["$defs"].get(value.get("$ref", "").rpartition("/")[2], {})
            assert value.get("description") or table_meant.get("description"), key


def test_schema_is_written_beside_the_scenario(tmp_path: Path) -> None:
    """The file named by the first line of a starter lies beside it, with the patterns in it."""
    target = write_schema_beside(tmp_path / "console.toml")
    assert starter("Any").splitlines()[0] == f"#:schema ./{target.name}"
    written = json.loads(target.read_text())
    pattern = written["$defs"]["InstrumentPart"]["properties"]["pattern"]
    assert list(pattern_names()) == pattern["examples"]


def test_schema_beside_the_demo_scenarios_is_current() -> None:
    """It is written by ``write_schema_beside``; write it anew when a field or limit changes."""
    assert schema_text() == (SCENARIOS / SCHEMA_FILE).read_text(encoding="utf-8")


def test_schema_knows_the_limits() -> None:
    """A scenario's own limits are completed and checked like a limits file."""
    limits = scenario_schema()["properties"]["limits"]
    assert {"slack", "lengths"} <= set(limits["properties"])


def test_loading_stays_light() -> None:
    """A scenario without fault needs neither solver nor geometry library nor syntax tree."""
    code = (
        "import sys; from lugwright.scenario.load import load_scenario;"
        "load_scenario(sys.argv[1]);"
        "heavy = {'shapely', 'networkx', 'ortools', 'tree_sitter', 'numpy', 'pandas'};"
        "print(sorted(heavy & set(sys.modules)))"
    )
    path = str(SCENARIOS / "six-dial-console.toml")
    run = subprocess.run([sys.executable, "-c", code, path], capture_output=True, text=True)
    assert (run.stdout, run.stderr) == ("[]\n", "")


@pytest.mark.parametrize(
    ("dial", "colour"),
    [
        ("fuel", "pink"),
        ("water", "tan"),
        ("port oil", "light blue"),
        ("trim", "brown with white stripe"),
        ("mud", "white"),
    ],
)
def test_a_sender_has_its_colour(dial: str, colour: str) -> None:
    """By the ABYC E-11 DC colour table (secondary source); trim is engine builders' practice.

    White stands for a sender that has no row there, and the file asks for the one it has.
    """
    text = starter("Console", (dial,))
    line = next(line for line in text.splitlines() if f'"{dial}.signal"' in line)
    assert f'colour = "{colour}"' in line
    assert ("write the one it has" in line) is (dial == "mud")
    assert colour_of_sender("tachometer") == "gray"
