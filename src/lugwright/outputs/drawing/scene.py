"""A plan laid out for drawing: every joint, entry and wire with its place. Drawn by many hands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import atan2, cos, pi, sin

from lugwright.outputs.drawing.frame import Frame, Point, distance, frame_of
from lugwright.outputs.drawing.lines import drawn_lines
from lugwright.outputs.drawing.runs import Run, entry_places, joint_places, runs_of
from lugwright.plans.panel import Panel, PanelPost
from lugwright.plans.schema import Plan

_ROUND = 16  # directions tried for a splice
_APART = 0.5  # radians between two of its own wires, at least
_ROOM = 3.2  # units a splice wants from foreign wires and posts


@dataclass(frozen=True)
class Ground:
    """A panel laid out, with or without a plan. ``places`` by joint, mm."""

    panel: Panel
    frame: Frame
    places: Mapping[str, Point]

    @cached_property
    def posts(self) -> Mapping[str, PanelPost]:
        """Every post by its id."""
        return {post.id: post for post in self.panel.posts}


@dataclass(frozen=True)
class Scene(Ground):
    """A plan laid out. ``entries`` by wire, ``lines`` one per run in their order, mm."""

    plan: Plan
    entries: Mapping[str, Point]
    runs: Sequence[Run]
    lines: Sequence[tuple[Point, ...]]


def scene_of(plan: Plan) -> Scene:
    """The scene of a plan."""
    return scene_at(plan, frame_of(plan.panel))


def scene_at(plan: Plan, frame: Frame) -> Scene:
    """A plan laid out for a frame of one's own, as on a board at true size."""
    places = joint_places(plan, frame)
    entries = {entry.wire: frame.at(entry.x_dmm, entry.y_dmm) for entry in plan.panel.entries}
    runs = runs_of(plan, frame, places, entries)
    posts = [places[post.id] for post in plan.panel.posts]
    lines = drawn_lines(runs, posts, frame.unit_mm)
    firsts = {run.wire: line[1] for run, line in zip(runs, lines, strict=True)}
    entries = entry_places(plan, frame, firsts)
    splices = [splice.label for splice in plan.splices]
    places |= _freed(splices, places, posts, runs, lines, frame.unit_mm)
    lines = [_ended(run, line, places, entries) for run, line in zip(runs, lines, strict=True)]
    return Scene(plan.panel, frame, places, plan, entries, runs, lines)


def ground_of(panel: Panel) -> Ground:
    """A panel that nothing is planned for yet."""
    frame = frame_of(panel)
    return Ground(panel, frame, {post.id: frame.at(post.x_dmm, post.y_dmm) for post in panel.posts})


def _ended(
    run: Run,
    line: tuple[Point, ...],
    places: Mapping[str, Point],
    entries: Mapping[str, Point],
) -> tuple[Point, ...]:
    """The line with its ends where its joints and its entry are now."""
    start = places.get(run.from_joint, entries.get(run.wire, line[0]))
    return (start, *line[1:-1], places.get(run.to_joint, line[-1]))


def _freed(
    splices: Sequence[str],
    places: Mapping[str, Point],
    posts: Sequence[Point],
    runs: Sequence[Run],
    lines: Sequence[tuple[Point, ...]],
    unit_mm: float,
) -> dict[str, Point]:
    """A place for every splice beside its own, clear of other wires, posts and splices."""
    found: dict[str, Point] = {}
    for splice in splices:
        own = [splice in (run.from_joint, run.to_joint) for run in runs]
        foreign = [line for line, mine in zip(lines, own, strict=True) if not mine]
        ends = [
            line[1] if run.from_joint == splice else line[-2]
            for run, line, mine in zip(runs, lines, own, strict=True)
            if mine and len(line) > 2
        ]
        taken = [*posts, *found.values()]
        found[splice] = min(
            _tries(places[splice], unit_mm),
            key=lambda at: _cost(at, foreign, taken, ends, places[splice], unit_mm),
        )
    return found


def _tries(centre: Point, unit_mm: float) -> list[Point]:
    """Places around a centre, the centre itself first."""
    x, y = centre
    rings = [
        (
            x + radius * unit_mm * cos(2 * pi * k / _ROUND),
            y + radius * unit_mm * sin(2 * pi * k / _ROUND),
        )
        for radius in (4.0, 6.5, 9.0, 12.0)
        for k in range(_ROUND)
    ]
    return [centre, *((round(px, 2), round(py, 2)) for px, py in rings)]


def _cost(
    at: Point,
    foreign: Sequence[tuple[Point, ...]],
    taken: Sequence[Point],
    ends: Sequence[Point],
    home: Point,
    unit_mm: float,
) -> float:
    """How bad a place is for a splice: nearness of what is not its own, then the way to it.

    Its own wires should come in from different sides.
    """
    room = _ROOM * unit_mm
    near = sum(max(0.0, room - _to_line(at, line, room)) for line in foreign)
    close = sum(max(0.0, 2 * room - distance(at, place)) for place in taken if place != at)
    way = sum(distance(at, end) for end in ends) / max(1, len(ends))
    sides = sorted(atan2(y - at[1], x - at[0]) for x, y in ends)
    tight = (
        sum(
            max(0.0, _APART - gap)
            for gap in (b - a for a, b in pairwise([*sides, sides[0] + 2 * pi]))
        )
        if len(sides) > 1
        else 0.0
    )
    return 4 * near + 6 * close + 0.3 * way + 0.5 * distance(at, home) + 30 * unit_mm * tight


def _to_line(at: Point, line: Sequence[Point], within: float) -> float:
    """Distance from a place to a line, no more than ``within``, mm."""
    best, (px, py) = within, at
    for (ax, ay), (bx, by) in pairwise(line):
        if min(ax, bx) - within > px or max(ax, bx) + within < px:
            continue
        dx, dy = bx - ax, by - ay
        size = dx * dx + dy * dy
        share = min(max(((px - ax) * dx + (py - ay) * dy) / size, 0.0), 1.0) if size else 0.0
        best = min(best, distance(at, (ax + share * dx, ay + share * dy)))
    return best
