"""Room for nut drivers: what is routed here keeps it, and no plan made here is rejected.

How the circle comes about (a socket turns about the nut's corners, s / sqrt(3) for a width s
across flats) is elementary geometry; that a wire keeps out of it is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise
from math import ceil, cos, hypot, pi, sin, sqrt
from pathlib import Path

import pytest
from support.consoles import tiny_console
from support.crowded_studs import crowd
from support.seeds import every
from support.strategies import Case
from support.wired_by_hand import hand_plan

from lugwright.checker.facts import Facts
from lugwright.checker.obstacles import blocking, standing_outlines
from lugwright.pipeline import Run, make_plan, read_inputs
from lugwright.plans.outcome import Ending
from lugwright.routes.build import build_routes
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Path as Way
from lugwright.scenario.console import Point, Post

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
SETTINGS = {
    "clearance=8 mm": ("six-dial-console", "metric-studs", "one-wire-per-barrel"),
    "nut_driver_room=5 mm": (
        *("six-dial-console", "metric-studs", "one-wire-per-barrel", "sandbar-skiff"),
        *("reserved-lugs", "short-thread", "key-on-second-post", "hub-per-circuit"),
        *("hub-out-of-reach", "ring-or-spade", "strict-rule-set", "flying-leads"),
    ),
}


def stands(run: Run) -> None:
    """A plan, and no finding against it; or that there is none is proved."""
    assert run.outcome.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    if run.plan is not None:
        assert run.report is not None
        assert [str(finding) for finding in run.report.findings] == []


@pytest.mark.parametrize(
    ("name", "setting"), [(name, setting) for setting in SETTINGS for name in SETTINGS[setting]]
)
def test_shipped_consoles_under_wider_room(name: str, setting: str) -> None:
    """With more room asked for round nuts and wires than by default, a plan still stands."""
    run = make_plan(read_inputs(SCENARIOS / f"{name}.toml", settings=(setting,)))
    assert run.plan is not None
    stands(run)


@pytest.mark.parametrize("away_mm", [9, 10, 11, 12, 13, 14])
@pytest.mark.parametrize("bearing", [0, 60, 90, 145, 180, 270])
def test_a_lamp_tab_beside_its_own_higher_stud(away_mm: int, bearing: int) -> None:
    """Two dials, the tab 9 to 14 mm from its #10-32 stud, under the limits as they come."""
    inputs = read_inputs(SCENARIOS / "sandbar-skiff.toml")
    console = tiny_console([(60, 60), (140, 60)], thread="#10-32 UNF")
    studs = {post.instrument: post.at for post in console.posts if post.function == "ignition"}
    over_dmm = (
        round(10 * away_mm * cos(bearing * pi / 180)),
        round(10 * away_mm * sin(bearing * pi / 180)),
    )
    posts = tuple(
        replace(post, at=shifted(studs[post.instrument], *over_dmm)) if post.kind == "tab" else post
        for post in console.posts
    )
    run = make_plan(replace(inputs, console=replace(console, posts=posts)))
    assert run.plan is not None
    stands(run)


def shifted(at: Point, x_dmm: int, y_dmm: int) -> Point:
    """A place beside another, 4 mm lower."""
    return Point(at.x_dmm + x_dmm, at.y_dmm + y_dmm, at.z_dmm - 40)


def ways_of(case: Case) -> Iterator[Way]:
    """Every path that a wire of the console may take."""
    routes = build_routes(case.brief)
    joints = [post.id for post in case.console.posts]
    joints += [point.id for points in routes.splices.values() for point in points][:6]
    entries = {one.pigtail.entry for one in case.console.circuits if one.pigtail}
    asked = [(routes.between, pair) for pair in combinations(joints, 2)]
    asked += [
        (routes.from_entry, (entry, post.id))
        for entry in entries
        if entry is not None
        for post in case.console.posts
    ]
    for find, ends in asked:
        try:
            yield find(*ends)
        except NoPath:
            continue


def spans_of(way: Way) -> Iterator[list[Point]]:
    """A path cut up at its tie points, stated links left out."""
    first = 0
    for at in range(1, len(way.corners)):
        if way.corners[at].tie or at == len(way.corners) - 1:
            span = way.corners[first : at + 1]
            if not (len(span) == 2 and span[0].tie and span[1].tie):
                yield [corner.at for corner in span]
            first = at


def nearest_dmm(span: list[Point], post: Post) -> float:
    """How near a span comes to a stud's axis, over places along it."""
    return min(
        hypot(
            a.x_dmm + (b.x_dmm - a.x_dmm) * part / 200 - post.at.x_dmm,
            a.y_dmm + (b.y_dmm - a.y_dmm) * part / 200 - post.at.y_dmm,
        )
        for a, b in pairwise(span)
        for part in range(201)
    )


def keep_their_room(case: Case) -> int:
    """No way is in the checker's way, nor in a driver circle that no end of it stands in."""
    outlines = standing_outlines(Facts(case.brief, hand_plan()))
    across_um = {row.thread: row.across_flats_um for row in case.stock.hardware}
    room_dmm = {
        post: ceil(across_um[post.thread] / 100 / sqrt(3)) + case.limits.nut_driver_room_dmm
        for post in case.console.posts
        if post.kind == "stud"
    }
    spans = [span for way in ways_of(case) for span in spans_of(way)]
    for span in spans:
        assert blocking(outlines, span, ("", "")) is None
        top_dmm = max(span[0].z_dmm, span[-1].z_dmm)
        for post, circle_dmm in room_dmm.items():
            ends = [nearest_dmm([end, end], post) for end in (span[0], span[-1])]
            if post.at.z_dmm > top_dmm and min(ends) >= circle_dmm:
                assert nearest_dmm(span, post) >= circle_dmm - 1e-6
    return len(spans)


@pytest.mark.parametrize("seed", every(4, range(40)))
def test_what_is_routed_keeps_room_for_drivers(seed: int) -> None:
    """Every path of a crowded console: by the checker, and by places along it."""
    keep_their_room(crowd(seed))


@pytest.mark.parametrize("seed", every(4, range(20)))
def test_no_plan_of_a_crowded_console_is_rejected(seed: int) -> None:
    """The whole way, from the question to the checked plan."""
    stands(crowd(seed).run())


@pytest.mark.slow
@pytest.mark.parametrize("tens", range(200))
def test_no_plan_of_2000_crowded_consoles_is_rejected(tens: int) -> None:
    """Ten consoles at a time: all their paths, and their plans."""
    for seed in range(1000 + 10 * tens, 1010 + 10 * tens):
        keep_their_room(crowd(seed))
        stands(crowd(seed).run())
