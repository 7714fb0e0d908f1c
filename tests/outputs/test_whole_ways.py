"""What a plan says of devices, ways and states names what is in it, or that is told."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest

from lugwright.pipeline import make_plan, read_inputs
from lugwright.plans.schema import Plan
from lugwright.plans.whole import loose_ends

DAY_BOAT = Path(__file__).parents[1] / "scenario" / "consoles" / "day-boat.toml"


@cache
def plan() -> Plan:
    """The plan of a console with a key, four fuses and a light switch."""
    made = make_plan(read_inputs(DAY_BOAT)).plan
    assert made is not None
    return made


def first(part: str, **changes: Any) -> Plan:
    """The plan with the first row of a list changed."""
    row, *rest = getattr(plan(), part)
    return plan().model_copy(update={part: (row.model_copy(update=changes), *rest)})


def first_way(**changes: Any) -> Plan:
    """The plan with the first way of its panel changed."""
    row, *rest = plan().panel.ways
    panel = plan().panel.model_copy(update={"ways": (row.model_copy(update=changes), *rest)})
    return plan().model_copy(update={"panel": panel})


EDITS = {
    "the way named by its row": ("ways", {"far": "key.horn"}, "the way 'key.horn'"),
    "its near post": ("ways", {"near": "key.horn"}, "the post 'key.horn'"),
    "its circuit": ("ways", {"circuit": "horn"}, "the circuit 'horn'"),
    "the way of a landing": ("landings", {"way": "key.horn"}, "the way 'key.horn'"),
    "the circuit of a landing": ("landings", {"circuit": "horn"}, "the circuit 'horn'"),
    "what is live": ("live", {"live": ("horn",)}, "the circuit 'horn'"),
    "a device of a state": ("live", {"set_to": (("horn", "on"),)}, "the instrument 'horn'"),
    "a position of a state": ("live", {"set_to": (("key", "up"),)}, "the position 'up'"),
    "a state twice": ("live", {"state": "key on"}, "the state 'key on' is in the plan 2 times"),
}


def test_a_whole_plan_with_ways_has_no_loose_ends() -> None:
    """Every name in it is the name of something in it."""
    assert loose_ends(plan()) == ()


@pytest.mark.parametrize("edit", EDITS)
def test_a_loose_end_of_a_row_is_found(edit: str) -> None:
    """Each edit is told by what it broke."""
    part, changes, said = EDITS[edit]
    assert [text for text in loose_ends(first(part, **changes)) if said in text] != []


@pytest.mark.parametrize("end", ["near", "far", "instrument"])
def test_a_loose_end_of_a_way_of_the_panel_is_found(end: str) -> None:
    """Its posts and its device are the panel's."""
    assert [text for text in loose_ends(first_way(**{end: "horn.x"})) if "'horn.x'" in text] != []
