"""A plan hangs together, or what does not is told."""

import pytest
from support.made_plan import CRIMPS, JUMPERS, small_plan

from lugwright.plans.schema import Step
from lugwright.plans.whole import loose_ends

PLAN = small_plan()
EDITS = {
    "a jumper left out": (
        {"jumpers": JUMPERS[:-1]},
        "crimp 11 names the wire 'lamps 2', which is not in the plan",
    ),
    "a crimp left out": (
        {"crimps": CRIMPS[1:]},
        "stack on depth.ignition names the crimp '1', which is not in the plan",
    ),
    "a jumper twice": ({"jumpers": (*JUMPERS, JUMPERS[0])}, "the wire 'ignition 1' is in the plan"),
    "an end in the air": (
        {"jumpers": (*JUMPERS[:-1], JUMPERS[-1].model_copy(update={"to_joint": "fuel.horn"}))},
        "wire lamps 2 names the joint 'fuel.horn', which is not in the plan",
    ),
    "a circuit of nobody": (
        {"jumpers": (*JUMPERS[:-1], JUMPERS[-1].model_copy(update={"circuit": "horn"}))},
        "wire lamps 2 names the circuit 'horn', which is not in the plan",
    ),
    "a wire without a way": (
        {"jumpers": (*JUMPERS[:-1], JUMPERS[-1].model_copy(update={"path": ()}))},
        "wire lamps 2 has no path",
    ),
    "a butt with one area": (
        {"crimps": tuple(x.model_copy(update={"area_um2": (1,)}) for x in CRIMPS)},
        "crimp 3 does not have one area for each of its barrels",
    ),
    "a stack of nothing": (
        {"stacks": tuple(x.model_copy(update={"bench_lugs": 9}) for x in PLAN.stacks)},
        "has 9 bench lugs of all its lugs",
    ),
    "a step with another wire": (
        {"steps": (Step(number=1, stage="bench", verb="cut", target="horn 1"),)},
        "step 1 names the wire 'horn 1', which is not in the plan",
    ),
    "a plate without its instruments": (
        {"panel": PLAN.panel.model_copy(update={"instruments": ()})},
        "names the instrument 'depth', which is not in the plan",
    ),
    "a plate without its posts": (
        {"panel": PLAN.panel.model_copy(update={"posts": ()})},
        "names the post 'depth.ignition', which is not in the plan",
    ),
}


def test_a_whole_plan_has_no_loose_ends() -> None:
    """Every name in it is the name of something in it."""
    assert loose_ends(PLAN) == ()


@pytest.mark.parametrize("edit", EDITS)
def test_a_planted_loose_end_is_found(edit: str) -> None:
    """Each edit is told by what it broke."""
    changes, said = EDITS[edit]
    assert [text for text in loose_ends(small_plan(**changes)) if said in text] != []
