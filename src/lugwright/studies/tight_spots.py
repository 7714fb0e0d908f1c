"""Which limits a plan leans on: each moved by one step, and the console solved again.

A limit that saves nothing when moved by one step is not named. Nothing is guessed: every saving
is the difference of two proved costs.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from lugwright import pipeline
from lugwright.limits.explain import limit_value
from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.values import value_text
from lugwright.model.choose import best_choice
from lugwright.outputs.hubs_table import short_level
from lugwright.outputs.words import level_text
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.progress import Listener, Progress
from lugwright.problem.build import build_problem
from lugwright.problem.held import hold_in
from lugwright.routes.build import build_routes
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.holds import Held
from lugwright.studies.limit_steps import limit_steps

MOST_LINES = 10
# Limits that the routes are made from; with any other moved they stay as they are.
ROUTED = frozenset({"clearance", "nut_driver_room", "splices", "splice_to_post"})
# The cut steps a tape measure is read to, 0.1 mm, coarse to fine (common practice, no source).
CUT_STEPS_DMM = (250, 200, 100, 50, 20, 10, 5, 1)


@dataclass(frozen=True)
class TightSpot:
    """One limit that binds: its value now, the next step in words, and what a plan then costs.

    ``cost`` is over the same levels as that of the plan; ``hub`` is the hub of the cheaper plan.
    """

    limit: str
    now: str
    origin: str
    step: str
    cost: tuple[int, ...]
    hub: str


@dataclass(frozen=True)
class TightSpots:
    """The tight spots of the best plan, the best saving first, at most ten.

    ``asked`` limits were moved; ``unsettled`` are those for which that was not settled in time.
    ``held`` are limits that were not moved since the shop holds them, each with how.
    """

    base: Outcome
    spots: tuple[TightSpot, ...]
    asked: int
    unsettled: tuple[str, ...]
    interrupted: bool = False
    held: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class _Move:
    limit: str
    step: str
    brief: Brief


def tight_spots(
    brief: Brief,
    *,
    time_limit_s: float | None = None,
    progress: Listener | None = None,
    posed: pipeline.Posed | None = None,
) -> TightSpots:
    """Move every limit by one step and solve again. ``time_limit_s`` in seconds for all of it.

    Where the plan itself is not proved nothing can be said, and every limit is unsettled.
    ``posed``: the question, where it was put already.
    """
    started = time.monotonic()
    held = brief.holds
    free, routes = posed or pipeline.pose(brief)
    hubs, left_s = (held.hub,) if held.hub else None, _left(time_limit_s, started)
    base = best_choice(hold_in(free, held), time_limit_s=left_s, hubs=hubs)
    moves, kept = list(_moves(brief)), tuple(_held(brief))
    if base.ending is not Ending.PROVED:
        names = tuple(move.limit for move in moves)
        return TightSpots(base, (), len(moves), names, base.interrupted, kept)
    spots, unsettled, stopped = [], [], False
    for move in moves:
        left_s = _left(time_limit_s, started)
        if stopped or (left_s is not None and left_s <= 0):
            unsettled.append(move.limit)
            continue
        if progress is not None:
            progress(Progress(f"what would it save to have {move.step}"))
        try:
            outcome = _solve(move, routes, held, left_s)
        except KeyboardInterrupt:  # while the question is still being put together
            unsettled.append(move.limit)
            stopped = True
            continue
        stopped = stopped or outcome.interrupted
        if outcome.ending is not Ending.PROVED:
            unsettled.append(move.limit)
        elif outcome.cost < base.cost:
            spots.append(_spot(brief, move, outcome))
    spots.sort(key=lambda spot: (spot.cost, spot.limit))
    told = tuple(spots[:MOST_LINES])
    return TightSpots(base, told, len(moves), tuple(unsettled), stopped, kept)


def _left(time_limit_s: float | None, started: float) -> float | None:
    return None if time_limit_s is None else max(0.0, time_limit_s - time.monotonic() + started)


def _moves(brief: Brief) -> Iterator[_Move]:
    """The next step of every limit that has one."""
    for one in limit_steps(brief):
        if one.values:
            after = one.step(brief, one.values[0])
            yield _Move(one.name, one.say(brief, one.values[0], ""), after)
    finer = _finer_cut(brief)
    if finer is not None and brief.limits.allows("cut_step", finer):
        limits = replace(brief.limits, cut_step_dmm=finer)
        words = f"lengths cut to {value_text(SPEC_BY_NAME['cut_step'], finer)}"
        yield _Move("cut_step", words, replace(brief, limits=limits))


def _finer_cut(brief: Brief) -> int | None:
    """The next finer cut step, 0.1 mm."""
    return next((step for step in CUT_STEPS_DMM if step < brief.limits.cut_step_dmm), None)


def _held(brief: Brief) -> Iterator[tuple[str, str]]:
    """Limits that could be moved if the shop did not hold them, each with how it does."""
    limits = brief.limits
    for one in limit_steps(brief):
        if not one.values and limits.how_held(one.name):
            yield one.name, limits.how_held(one.name)
    finer = _finer_cut(brief)
    if finer is not None and not limits.allows("cut_step", finer):
        yield "cut_step", limits.how_held("cut_step")


def _solve(move: _Move, routes: Routes, held: Held, left_s: float | None) -> Outcome:
    given = move.brief
    if move.limit in ROUTED:
        routes = build_routes(given)
    problem = build_problem(given, routes)
    hubs = (held.hub,) if held.hub else None
    return best_choice(hold_in(problem, held), time_limit_s=left_s, hubs=hubs)


def _spot(brief: Brief, move: _Move, outcome: Outcome) -> TightSpot:
    spec = SPEC_BY_NAME[move.limit]
    now = value_text(spec, limit_value(spec, brief.limits))
    landings = outcome.choice.landings if outcome.choice else ()
    hub = ", ".join(sorted({brief.console.post(post).instrument for _, post in landings}))
    origin = brief.limits.origin(move.limit)
    return TightSpot(move.limit, now, origin, move.step, outcome.cost, hub)


def tight_lines(found: TightSpots) -> tuple[str, ...]:
    """The tight spots in words, the best saving first; what could not be settled is said."""
    lines = [_line(spot, found.base) for spot in found.spots]
    if found.base.ending is not Ending.PROVED:
        return (f"Nothing can be said of single limits: {found.base.ending.value}.",)
    settled = found.asked - len(found.unsettled)
    if not lines:
        lines = [f"None of {settled} limits saves anything when moved by one step."]
    if found.unsettled:
        lines.append(f"Not settled in time: {', '.join(found.unsettled)}.")
    by_how: dict[str, list[str]] = {}
    for name, how in found.held:
        by_how.setdefault(how, []).append(name)
    lines += [f"Not moved, {how}: {', '.join(names)}." for how, names in by_how.items()]
    return tuple(lines)


def _line(spot: TightSpot, base: Outcome) -> str:
    changes = []
    for name, before, after in zip(base.levels, base.cost, spot.cost, strict=True):
        if before != after:
            words = level_text(short_level(name), abs(before - after))
            changes.append(f"saves {words}" if after < before else f"takes {words} more")
    now = f"{spot.limit.replace('_', ' ')} is {spot.now} now"
    return f"{spot.step}: {', '.join(changes)} (hub {spot.hub}; {now}, {spot.origin})"


def tight_data(found: TightSpots) -> dict[str, Any]:
    """The same as data; ``saving`` is over the levels of the objective."""
    return {
        "asked": found.asked,
        "unsettled": list(found.unsettled),
        "held": [{"limit": name, "how": how} for name, how in found.held],
        "told": list(tight_lines(found)),
        "spots": [
            {
                "limit": spot.limit,
                "now": spot.now,
                "origin": spot.origin,
                "step": spot.step,
                "hub": spot.hub,
                "saving": [a - b for a, b in zip(found.base.cost, spot.cost, strict=True)],
            }
            for spot in found.spots
        ],
    }
