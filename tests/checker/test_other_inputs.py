"""The correct plan under another limit or for another console: just the rules that differ."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.plan_edits import judge, rules
from support.wired_by_hand import hand_console, hand_limits

from lugwright.scenario.console import Console, KeepOut, Point, ReadyRing

LIMITS: dict[str, tuple[dict[str, Any], set[str]]] = {
    "one wire in a barrel": ({"wires_per_barrel": 1}, {"barrel count"}),
    "one lug on a stud": ({"lugs_per_stud": 1}, {"lug count"}),
    "two conductors on a stud": (
        {"lugs_per_stud": 2, "stud_count": "conductors"}, {"lug count"},
    ),
    "no rings": ({"stud_kinds": ("captive spade",)}, {"fitting kind"}),
    "fuse not above half the ampacity": ({"fuse_permille": 390}, {"fuse"}),
    "fuse carries a twentieth": ({"load_permille": 54}, {"fuse load"}),
    "drop of 0.4 %": ({"drop_critical_permille": 3}, {"drop"}),
    "minimum of 2 mm²": ({"minimum_area_um2": 2_000_000}, {"minimum size"}),
    "clearance at the strip": ({"strip_clearance_dmm": 6}, {"strip length"}),
    "three threads showing": ({"showing_thread_permille": 8_000}, {"thread"}),
    "another end allowance": ({"end_allowance_dmm": 150}, {"cut length"}),
    "longer minimum": ({"minimum_jumper_dmm": 500}, {"cut length"}),
    # ground: sqrt(700² + 550²) = 890.2 -> 891, 500 up: 1391 of a reach of 20000
    "drip loop that just fits": ({"drip_loop_dmm": 18_609}, set()),
    "drip loop too long": ({"drip_loop_dmm": 18_610}, {"reach"}),
    "ground shift of nothing": ({"ground_shift_mv": 0}, set()),
    "closer supports": ({"support_distance_dmm": 900}, {"ties"}),
    "no washers": ({"lock_washer": False}, {"washer", "thread", "step order"}),
    "dearer labour": ({"rate_micro_per_hour": 120_000_000}, {"totals"}),
    "worth of a lug": ({"lug_worth_dmm": 401}, {"cost"}),
}  # fmt: skip


@pytest.mark.parametrize("limit", LIMITS)
def test_plan_under_another_limit(limit: str) -> None:
    """Another limit is named by its rule, with where it comes from."""
    changes, expected = LIMITS[limit]
    report = judge(limits=hand_limits(**changes))
    assert rules(report) == expected
    assert all(finding.origin for finding in report.findings if finding.limit)


def with_post(post_id: str, **changes: Any) -> Console:
    """The hand console with one post changed."""
    console = hand_console()
    posts = tuple(
        replace(post, **changes) if post.id == post_id else post for post in console.posts
    )
    assert posts != console.posts
    return replace(console, posts=posts)


def with_circuit(name: str, **changes: Any) -> Console:
    """The hand console with one circuit changed."""
    console = hand_console()
    rows = tuple(replace(row, **changes) if row.name == name else row for row in console.circuits)
    return replace(console, circuits=rows)


def with_pigtail(**changes: Any) -> Console:
    """The hand console with the ignition pigtail changed."""
    pigtail = hand_console().circuit("ignition").pigtail
    assert pigtail is not None
    return with_circuit("ignition", pigtail=replace(pigtail, **changes))


def with_load(**changes: Any) -> Console:
    """The hand console with the first load changed."""
    console = hand_console()
    return replace(console, loads=(replace(console.loads[0], **changes), *console.loads[1:]))


def keep_out(x0: int, height: int) -> Console:
    """The hand console with a keep-out 10 mm wide across all jumpers from dial to dial."""
    return replace(hand_console(), keep_outs=(KeepOut("box", x0, 400, x0 + 100, 900, height),))


def without_lamp_return() -> Console:
    """The console as the first plan forgot it: dial 2's lamp returns by its ground as well."""
    console = hand_console()
    loads = tuple(
        replace(load, ground_post="dial1.ground") if load.name == "dial2 lamp" else load
        for load in console.loads
    )
    return replace(console, loads=loads)


CONSOLES: dict[str, tuple[Console, set[str]]] = {
    "a lamp's return counted elsewhere": (without_lamp_return(), {"current", "drop"}),
    "fuse of 60 A": (with_pigtail(fuse_ma=60_000), {"fuse"}),
    "fuse of half an ampere": (with_pigtail(fuse_ma=500), {"fuse load"}),
    "fuse far from the source": (with_pigtail(fuse_distance_dmm=100_001), {"fuse distance"}),
    "short pigtail": (with_pigtail(reach_dmm=500), {"reach", "drop"}),
    "a ring of its own": (
        with_pigtail(ring=ReadyRing("#8-32 UNC", 8, 60)),
        {"wire ends", "barrel mix", "stack", "totals", "cost"},
    ),
    "short stud": (with_post("dial1.ignition", free_thread_dmm=63), {"thread"}),
    "stud of another thread": (
        with_post("dial2.signal", thread="M6"), {"fitting fit", "names"},
    ),
    "two lugs kept free": (
        with_post("dial1.ignition", reserved=3, reserved_tongue_dmm=0, reserved_angle_deg=60),
        {"lug count", "stack"},
    ),
    "wide lugs kept free": (
        with_post("dial1.ignition", reserved=2, reserved_tongue_dmm=0, reserved_angle_deg=91),
        {"room", "stack"},
    ),
    "tab of another size": (with_post("dial1.lamp", tab_size="4.75 x 0.8"), {"fitting fit"}),
    "weak tab": (with_post("dial1.lamp", carries_ma=149), {"current limit"}),
    "tab for its own lamp": (with_post("dial1.lamp", carries_ma=150), set()),
    # 550 in and 150 out share a barrel: 400 pass the stud, 300 of them to the lamps
    "weak landing stud": (with_post("dial1.ignition", carries_ma=399), {"current limit"}),
    "strong landing stud": (with_post("dial1.ignition", carries_ma=400), set()),
    # 300 towards the pigtail, 50 of them from the sender's lug
    "weak ground stud": (with_post("dial2.ground", carries_ma=299), {"current limit"}),
    "strong ground stud": (with_post("dial2.ground", carries_ma=300), set()),
    "weak stud": (with_post("dial2.ignition", carries_ma=149), {"current limit"}),
    "strong stud": (with_post("dial2.ignition", carries_ma=150), set()),
    "live stud": (with_post("dial1.ignition", live=True), {"boot"}),
    "a foreign post": (
        with_post("dial2.ignition", circuit="other"), {"foreign post", "bypass"},
    ),
    "a sender's post": (
        with_post("dial2.ignition", circuit="", function="signal"),
        {"signal post", "bypass"},
    ),
    "landing on a lead": (
        with_post("dial1.ground", circuit="other"), {"foreign post", "landing", "bypass"},
    ),
    "no hub": (
        replace(hand_console(), instruments=tuple(
            replace(one, hub_candidate=False) for one in hand_console().instruments)), {"hub"},
    ),
    "tall keep-out": (keep_out(1000, 501), {"obstacle"}),
    "low keep-out": (keep_out(1000, 500), set()),
    "post moved": (with_post("dial2.lamp", at=Point(1600, 721, 500)), {"run"}),
    "more current": (with_load(current_ma=101), {"current", "drop"}),
    "another digest": (replace(hand_console(), digest="abc"), set()),
}  # fmt: skip


@pytest.mark.parametrize("change", CONSOLES)
def test_plan_for_another_console(change: str) -> None:
    """A plan does not fit a console that differs in one thing."""
    console, expected = CONSOLES[change]
    assert rules(judge(console=console)) == expected
