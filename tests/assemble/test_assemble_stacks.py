"""Order on the studs, clock positions, and what stays open on the bench."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from support.bench import (
    assembled,
    bench_console,
    heavy_choice,
    heavy_console,
)

from lugwright.assemble.clocks import clock_positions, heading_deg
from lugwright.assemble.stacks import LooseLug, stacking_order
from lugwright.plans.choice import WireKey
from lugwright.plans.schema import Plan, Stack


def loose(number: int, stage: str, current_ma: int, circuit: str = "ground") -> LooseLug:
    """A lug with one wire."""
    key = WireKey("jumper", circuit, "a", str(number))
    return LooseLug(number, "", circuit, stage, current_ma, 8, 60, (key,))  # type: ignore[arg-type]


def numbers(lugs: list[LooseLug]) -> list[int]:
    """Crimp numbers from base to nut."""
    return [item.crimp for item in stacking_order(lugs)]


def test_the_highest_current_lies_at_the_base() -> None:
    """Ties go by circuit, then number."""
    lugs = [
        loose(5, "aboard", 20),
        loose(4, "bench", 100),
        loose(2, "bench", 100),
        loose(3, "bench", 100, "a circuit"),
        loose(1, "bench", 300),
    ]
    assert numbers(lugs) == [1, 3, 2, 4, 5]


def test_more_current_aboard_orders_the_whole_stack() -> None:
    """An aboard lug of 400 mA goes below the bench lugs of 100, and above the one of 500."""
    lugs = [loose(1, "bench", 500), loose(2, "bench", 100), loose(3, "aboard", 400)]
    assert numbers(lugs) == [1, 3, 2]


def test_equal_current_keeps_the_bench_lug_below() -> None:
    """A lug from aboard with the same current does not open the stud."""
    assert numbers([loose(2, "bench", 100), loose(1, "aboard", 100)]) == [2, 1]


def stack_at(plan: Plan, post: str) -> Stack:
    """The stack on a post."""
    return next(item for item in plan.stacks if item.post == post)


def steps_at(plan: Plan, post: str) -> list[tuple[str, str, tuple[str, ...]]]:
    """Stage, verb and parts of every step at a post."""
    return [(item.stage, item.verb, item.parts) for item in plan.steps if item.target == post]


def test_bench_lugs_wait_above_what_comes_aboard() -> None:
    """Pigtail 750 + 500 = 1250 at the base, the load's 500 next, then two jumpers of 250.

    All three bench lugs go on at the bench, both jumpers labelled, under a loose nut; aboard they
    are lifted off, and go back above the load.
    """
    plan = assembled(heavy_console(), choice=heavy_choice())
    stack = stack_at(plan, "dial2.ground")
    assert [(i.stage, i.current_ma) for i in stack.lugs] == [
        ("bench", 1250),
        ("aboard", 500),
        ("bench", 250),
        ("bench", 250),
    ]
    assert (stack.bench_lugs, stack.nut_at_bench) == (3, "loose")
    base, load, first, second = (str(item.crimp) for item in stack.lugs)
    assert [str(item.crimp) for item in stack.waiting] == [first, second]
    assert steps_at(plan, "dial2.ground") == [
        ("bench", "land", (base,)),
        ("bench", "wait", (first,)),
        ("bench", "wait", (second,)),
        ("bench", "washer", ()),
        ("bench", "nut loose", ()),
        ("aboard", "nut off", ()),
        ("aboard", "lift", (second, first)),
        ("aboard", "land", (load,)),
        ("aboard", "land", (first,)),
        ("aboard", "land", (second,)),
        ("aboard", "washer", ()),
        ("aboard", "nut snug", ()),
    ]
    hint = next(item.text for item in plan.steps if item.target == "left loose")
    assert f"crimp {first} on dial2.ground and crimp {second} on dial2.ground" in hint
    told = {item.parts: item.text for item in plan.steps if item.verb == "wait"}
    assert '"lug 3" and put it on dial2.ground to wait, loose' in told[(first,)]
    assert '"lug 4" and put it on dial2.ground to wait, loose' in told[(second,)]
    lift = next(item.text for item in plan.steps if item.verb == "lift")
    assert f"crimp {second} (labelled lug 4) and crimp {first} (labelled lug 3)" in lift


def test_crimp_numbers_follow_the_stack() -> None:
    """Bench lugs of one stud are numbered from the base up."""
    plan = assembled(heavy_console(), choice=heavy_choice())
    bench = [i.crimp for i in stack_at(plan, "dial2.ground").lugs if i.stage == "bench"]
    assert bench == sorted(bench)


def test_reserved_lugs_take_thread_and_live_studs_a_boot() -> None:
    """Two reserved tongues of 1 mm: 8 + 20 + 10 + 32 + 12 = 82; the boot follows the nut."""
    console = bench_console()
    posts = tuple(
        replace(p, reserved=2, reserved_tongue_dmm=10, reserved_angle_deg=90, live=True)
        if p.id == "dial1.ignition"
        else p
        for p in console.posts
    )
    plan = assembled(replace(console, posts=posts))
    stack = stack_at(plan, "dial1.ignition")
    assert (stack.used_dmm, stack.reserved, stack.boot) == (82, 2, True)
    assert [verb for _, verb, _ in steps_at(plan, "dial1.ignition")] == [
        "land",
        "washer",
        "nut snug",
        "boot",
    ]


@pytest.mark.parametrize(
    ("direction", "heading"),
    [((0, 5), 0), ((5, 0), 90), ((0, -5), 180), ((-5, 0), 270), ((5, 5), 45), ((0, 0), None)],
)
def test_headings_run_clockwise_from_the_top(
    direction: tuple[int, int], heading: int | None
) -> None:
    """Up is twelve o'clock and right is three, seen from the back."""
    assert heading_deg(direction) == heading


def test_clock_is_nearest_to_the_first_leg() -> None:
    """One wire to the right, one to the left, one down: 3, 9 and 6."""
    assert clock_positions([(9, 0), (-9, 0), (0, -9)], 60, 0) == (3, 9, 6)


def test_barrels_keep_their_room() -> None:
    """Three wires to the right with 90 degrees each: three hours between any two."""
    hours = sorted(clock_positions([(9, 0), (9, 0), (9, 0)], 90, 0))
    gaps = [after - before for before, after in pairwise([*hours, hours[0] + 12])]
    assert min(gaps) >= 3
    assert 3 in hours


def test_reserved_lugs_keep_free_hours() -> None:
    """Two wires to the right and two places kept: 90 degrees each leave two gaps of three."""
    hours = sorted(clock_positions([(9, 0), (9, 0)], 90, 2))
    gaps = [after - before for before, after in pairwise([*hours, hours[0] + 12])]
    assert sum(gap // 3 - 1 for gap in gaps) >= 2


def test_more_room_than_hours_is_spread_evenly() -> None:
    """Five barrels of 70 degrees fit round a stud, though not at whole hours three apart."""
    hours = sorted(clock_positions([(9, 0)] * 5, 70, 0))
    gaps = [after - before for before, after in pairwise([*hours, hours[0] + 12])]
    assert min(gaps) == 2
