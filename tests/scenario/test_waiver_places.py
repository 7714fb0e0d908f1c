"""Whether the places that waivers name are there."""

from __future__ import annotations

import pytest
from support.scenario_text import SKETCH, console_of, toml_of

from lugwright.base.errors import BadInput, Complaint
from lugwright.limits.load import load_limits
from lugwright.scenario.load import load_toml
from lugwright.scenario.waiver_places import waiver_faults

LOOSER = {
    "lugs_per_stud": "5",
    "showing_thread": "0.5",
    "wires_per_barrel": "3",
    "drop_critical": '"4 %"',
    "drop_other": '"12 %"',
    "fuse_share": '"120 %"',
    "load_share": '"90 %"',
    "fuse_distance": '"9 in"',
    "minimum_size": '"18 AWG"',
    "ground_shift": '"0.2 V"',
}
LOAD = """
[[boat_wires]]
name = "chart light"
role = "load"
current = "1 A"
wires = [ { lands_on = "speed.ignition", wire_size = "16 AWG", colour = "orange" }, \
{ lands_on = "speed.ground", wire_size = "16 AWG", colour = "black" } ]
"""


def faults(limit: str, place: str, more: str = "") -> list[Complaint]:
    """What is wrong with the place of one waiver in the sketch of a scenario."""
    own = '[limits]\nground_shift = "0.1 V"\nfuse_share = "100 %"\n'
    waiver = (
        f'\n[[waiver]]\nlimit = "{limit}"\nplace = "{place}"\nvalue = {LOOSER[limit]}\n'
        'reason = "tried"\ninitials = "AB"\ndate = 2026-11-25\n'
    )
    toml = toml_of(f"{SKETCH}{more}\n{own}{waiver}")
    limits, _ = load_limits(toml)
    return list(waiver_faults(load_toml(toml).console, limits, toml))


PLACES = [
    # limit, a place, a place of another kind
    ("lugs_per_stud", "fuel.ground", "ground"),
    ("showing_thread", "fuel.ignition", "fuel"),
    ("wires_per_barrel", "fuel.ground", "fuel sender"),
    ("drop_critical", "fuel.movement", "fuel.lamp"),
    ("drop_other", "fuel.lamp", "fuel.movement"),
    ("fuse_share", "ignition", "ground"),
    ("load_share", "ignition", "lamps"),
    ("fuse_distance", "ignition", "ground"),
    ("minimum_size", "lamps", "fuel.lamp"),
    ("ground_shift", "fuel sender", "fuel"),
]


@pytest.mark.parametrize(("limit", "place", "other"), PLACES)
def test_a_place_of_the_right_kind(limit: str, place: str, other: str) -> None:
    """One that is there has no fault; one that is something else is told with what there is."""
    assert faults(limit, place) == []
    (told,) = faults(limit, other)
    assert told.field == "waiver 1, place"
    assert told.message.startswith(f"{limit} is waived at a ")
    assert place in told.hint


def test_a_consumer_aboard_is_a_load() -> None:
    """Its drop is judged, so it may be waived."""
    assert faults("drop_other", "chart light", LOAD) == []


def test_a_misspelt_place() -> None:
    """The nearest one is named first."""
    (told,) = faults("lugs_per_stud", "fuel.grund")
    assert told.hint.startswith('did you mean "fuel.ground"? there is: ')


def test_every_kind_of_place_of_the_sketch_is_tried() -> None:
    """The sketch has the posts and loads that these tests name."""
    console = console_of(SKETCH)
    assert {"fuel.movement", "fuel.lamp"} <= {load.name for load in console.loads}


def test_a_waiver_that_is_at_fault_itself_is_not_told_twice() -> None:
    """A bad one never gets as far as its place."""
    text = SKETCH + '\n[[waiver]]\nlimit = "lugs_per_stud"\nplace = "nowhere"\n'
    with pytest.raises(BadInput) as bad:
        load_limits(toml_of(text))
    assert "waiver 1, place" not in {one.field for one in bad.value.complaints}
