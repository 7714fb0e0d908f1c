"""How many wire ends a stud has room for, whatever they are crimped with."""

from __future__ import annotations

from typing import Any

import pytest
from support.asking import ONE, change_post, fitting, only_ground, pose, roomy_limits, stock_of
from support.consoles import THREAD, tiny_console

from lugwright.model.formulation.wire_ends import room_for_ends
from lugwright.scenario.console import Console

POST = "dial1.ground"


def dials(**post: Any) -> Console:
    """Two dials' ground circuit, dial 1's stud changed."""
    return change_post(only_ground(tiny_console([(60, 60), (160, 60)])), POST, **post)


# tongues 0.8 mm, barrels 45 degrees, nut 3.2 mm, no washer, no thread showing
CASES = [
    # limits, stud, ends
    ({"lugs_per_stud": 4}, {}, 8),  # four lugs of two wires
    ({"lugs_per_stud": 4, "wires_per_barrel": 1}, {}, 4),
    ({"lugs_per_stud": 99}, {"free_thread_dmm": 64}, 8),  # 3.2 mm left: four tongues
    ({"lugs_per_stud": 99}, {"free_thread_dmm": 63}, 6),
    ({"lugs_per_stud": 99}, {"free_thread_dmm": 20}, 0),
    ({"lugs_per_stud": 99}, {"free_thread_dmm": 9999}, 16),  # eight barrels all round
    ({"lugs_per_stud": 99}, {"free_thread_dmm": 9999, "reserved": 2}, 12),
    ({"lugs_per_stud": 5, "stud_count": "conductors"}, {}, 5),
    ({"lugs_per_stud": 5, "stud_count": "conductors"}, {"reserved": 1}, 4),
]


@pytest.mark.parametrize(("changes", "post", "ends"), CASES)
def test_the_least_of_number_thread_and_room(
    changes: dict[str, Any], post: dict[str, Any], ends: int
) -> None:
    """By the smallest lug in stock; reserved lugs take their places all round."""
    problem = pose(dials(**post), roomy_limits(**changes))
    assert room_for_ends(problem, POST) == ends


def test_the_smallest_lug_counts() -> None:
    """A thinner tongue in stock makes room for more."""
    thin = fitting("thin ring", "ring", ONE, tongue_dmm=4, barrel_angle_deg=20)
    console = dials(free_thread_dmm=64)
    problem = pose(console, roomy_limits(lugs_per_stud=99), stock_of(thin))
    assert problem.tables.least_lug(THREAD) == (4, 20)
    assert room_for_ends(problem, POST) == 16
    assert problem.tables.least_lug("M9") == (0, 0)
