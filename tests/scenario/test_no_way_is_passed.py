"""Whatever is changed in a console of devices: what is accepted has no wire round a way."""

from __future__ import annotations

import re
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from lugwright.base.errors import BadInput
from lugwright.base.toml import parse_toml
from lugwright.scenario.console import Console
from lugwright.scenario.load import load_toml

DAY_BOAT = Path(__file__).with_name("consoles") / "day-boat.toml"
TEXT = DAY_BOAT.read_text(encoding="utf-8")
VALUE = re.compile(r'"[^"\n]*"|true|false')
PLACES = [found.span() for found in VALUE.finditer(TEXT)]
# what may come to stand where another value stood: circuits, posts, positions, kinds, functions
WORDS = (
    *('"switched"', '"battery"', '"ignition"', '"lamps"', '"light feed"', '"pump"', '"start"'),
    *('"ground"', '"stop"', '"spare"', '"key.ign"', '"key.bat"', '"key.crank"', '"fuses.f1"'),
    *('"fuses.f3"', '"fuses.f4"', '"light.out"', '"bat"', '"ign"', '"crank"', '"in"', '"f1"'),
    *('"on"', '"off"', '"lanyard out"', '"always"', '"switch"', '"fuse"', '"breaker"', '"dimmer"'),
    *('"near"', '"far"', '"signal"', '"lamp"', '"load"', '"supply"', '"engine"', '["on"]'),
)


@st.composite
def changed(draw: st.DrawFn) -> str:
    """The day boat with one to four of its values replaced, or a line left out."""
    places = draw(st.lists(st.sampled_from(PLACES), min_size=1, max_size=4, unique=True))
    text = TEXT
    for start, end in sorted(places, reverse=True):
        text = text[:start] + draw(st.sampled_from(WORDS)) + text[end:]
    if draw(st.booleans()):
        lines = text.split("\n")
        del lines[draw(st.integers(0, len(lines) - 1))]
        text = "\n".join(lines)
    return text


@settings(max_examples=150, deadline=None)
@given(changed())
def test_changed_devices_are_refused_or_apart(text: str) -> None:
    """Refused with complaints, or each way's two sides are circuits with supplies of their own."""
    try:
        console = load_toml(parse_toml(text.encode(), "changed.toml")).console
    except BadInput as error:
        assert error.complaints
        return
    assert_apart(console)


def test_the_day_boat_is_apart() -> None:
    """The measure itself, on the console nothing is changed in."""
    assert_apart(load_toml(parse_toml(TEXT.encode(), "day-boat.toml")).console)


def assert_apart(console: Console) -> None:
    """No circuit joins both sides of a way, has two supplies, or is a stop that meets a feed."""
    for circuit in console.circuits:
        supplies = (circuit.pigtail, circuit.taken_from, circuit.supplied_by)
        assert sum(map(bool, supplies)) == 1
    roots = {circuit.name: circuit.taken_from or circuit.name for circuit in console.circuits}
    for way in console.ways:
        near, far = console.post(way.near).circuit, console.post(way.far).circuit
        if way.kind == "stop":
            sides = {console.circuit(name).side for name in (near, far) if near}
            assert sides <= {"stop", "ground"}
        elif far:
            assert near
            assert roots[near] != roots[far]
            assert console.circuit(far).supplied_by == way.far
            assert not way.is_empty
