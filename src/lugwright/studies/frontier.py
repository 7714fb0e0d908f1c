"""Wire length against stacked lugs: the exact frontier, with the plan made by eye beside it."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from lugwright import pipeline
from lugwright.assemble.hand_plan import hand_choice
from lugwright.base.scale import mm_text, money_text
from lugwright.model.frontier import wire_against_stacks
from lugwright.outputs.hubs_table import least_thread
from lugwright.outputs.plot import PlotPoint
from lugwright.outputs.words import minutes_text
from lugwright.plan.outcome import Ending, Outcome
from lugwright.plan.progress import Listener
from lugwright.plan.schema import Plan
from lugwright.routes.schema import Routes

HEAD = (
    "stacked lugs",
    "wire, mm",
    "fittings",
    "hub",
    "tallest stack",
    "thread left, mm",
    "minutes",
    "money",
)


@dataclass(frozen=True)
class TradeOff:
    """The frontier, fewest stacked lugs first: a checked plan for every point.

    ``hand`` is the plan made by eye, None where even that finds none; ``hand_faults`` is how
    much the checker has against it. ``told`` says what must be known of it all.
    """

    plans: tuple[Plan, ...]
    hand: Plan | None
    hand_faults: int
    complete: bool
    rejected: bool
    interrupted: bool
    told: tuple[str, ...]


def trade_off(
    inputs: pipeline.Inputs,
    *,
    time_limit_s: float | None = None,
    holds: pipeline.HoldsGiven = (),
    progress: Listener | None = None,
) -> TradeOff:
    """Find the frontier of a console under what is held. ``time_limit_s`` in seconds.

    Raises BadInput for a hold that means nothing.
    """
    started = time.monotonic()
    shortest = replace(inputs, limits=replace(inputs.limits, objective="shortest"))
    held = pipeline.held_by(inputs, holds)
    problem, routes = pipeline.pose(shortest, held)
    left_s = None
    if time_limit_s is not None:
        left_s = max(0.0, time_limit_s - (time.monotonic() - started))
    hubs = (held.hub,) if held.hub else None
    found = wire_against_stacks(problem, time_limit_s=left_s, hubs=hubs, listener=progress)
    plans, rejected = [], False
    for outcome in reversed(found.points):
        capped = replace(outcome, held=(*held.told, *outcome.held))
        plan, report = pipeline.checked(shortest, routes, capped, held)
        rejected = rejected or not report.passed
        plans.append(plan)
    hand, faults = _by_hand(shortest, routes)
    told = [*_told(found.points, found.complete, problem.faults, rejected)]
    told += [found.note] if found.note else []
    told += _hand_words(plans, hand, faults)
    return TradeOff(
        () if rejected else tuple(plans),
        hand,
        faults,
        found.complete,
        rejected,
        found.interrupted,
        tuple(told),
    )


def _by_hand(inputs: pipeline.Inputs, routes: Routes) -> tuple[Plan | None, int]:
    """The plan made by eye, worked up, and how many findings the checker has against it."""
    choice = hand_choice(inputs.console, inputs.limits, inputs.stock, routes)
    if choice is None:
        return None, 0
    outcome = Outcome(Ending.WITHIN_BOUND, (), choice=choice, note="made by eye")
    plan, report = pipeline.checked(inputs, routes, outcome, replace(inputs.holds, holds=()))
    return plan, len(report.findings)


def _told(
    points: Sequence[Outcome], complete: bool, faults: Sequence[Any], rejected: bool
) -> tuple[str, ...]:
    """What is proved of the frontier, and no more."""
    if rejected:
        return ("The checker rejects a plan of the frontier: none of it is shown.",)
    if not complete:
        if not points:
            return ("No point of the frontier was found in the time given.",)
        least = min(outcome.cost[1] for outcome in points)
        return (
            f"Every point shown is proved; with fewer than {least} stacked lugs there may be "
            "more, not found in the time given.",
        )
    if not points:
        return ("No plan exists, so there is no frontier.", *map(str, faults))
    least = min(outcome.cost[1] for outcome in points)
    below = f"; no plan has fewer than {least} stacked lugs" if least else ""
    return (f"Every point is proved and none is missing{below}.",)


def _hand_words(plans: Sequence[Plan], hand: Plan | None, faults: int) -> tuple[str, ...]:
    """How the plan made by eye stands to the frontier."""
    if hand is None:
        return ("By eye no plan is found.",)
    totals = hand.totals
    words = (
        f"By eye (hub {hand.hub}): {mm_text(totals.wire_dmm)} mm of wire and "
        f"{totals.stacked_lugs} stacked lugs"
    )
    if faults:
        words += f"; the checker has {faults} findings against it"
    better = [
        plan
        for plan in plans
        if plan.totals.stacked_lugs <= totals.stacked_lugs
        and plan.totals.wire_dmm < totals.wire_dmm
    ]
    if better:
        saved = totals.wire_dmm - min(plan.totals.wire_dmm for plan in better)
        words += f"; a plan with no more stacked lugs saves {mm_text(saved)} mm"
    return (words + ".",)


def rows(found: TradeOff) -> list[list[str]]:
    """The frontier as table rows under HEAD."""
    return [_row(plan) for plan in found.plans]


def _row(plan: Plan) -> list[str]:
    totals, thread = plan.totals, least_thread(plan)
    return [
        str(totals.stacked_lugs),
        mm_text(totals.wire_dmm),
        str(totals.fittings),
        plan.hub,
        str(totals.tallest_stack),
        "" if thread is None else mm_text(thread.free_dmm - thread.used_dmm),
        minutes_text(totals.minutes_cmin),
        money_text(totals.money_micro),
    ]


def plot_points(found: TradeOff) -> tuple[list[PlotPoint], PlotPoint | None]:
    """The points of the plot, and the plan made by eye."""
    points = [
        PlotPoint(
            p.totals.stacked_lugs, p.totals.wire_dmm, f"{mm_text(p.totals.wire_dmm)} mm, {p.hub}"
        )
        for p in found.plans
    ]
    hand = found.hand
    if hand is None:
        return points, None
    faults = f", {found.hand_faults} faults" if found.hand_faults else ""
    label = f"by eye: {mm_text(hand.totals.wire_dmm)} mm, {hand.hub}{faults}"
    return points, PlotPoint(hand.totals.stacked_lugs, hand.totals.wire_dmm, label)


def data(found: TradeOff) -> dict[str, Any]:
    """The frontier as data, in the units of the program's scales."""
    return {
        "complete": found.complete,
        "told": list(found.told),
        "points": [_point(plan) for plan in found.plans],
        "by_eye": None
        if found.hand is None
        else {**_point(found.hand), "findings": found.hand_faults},
    }


def _point(plan: Plan) -> dict[str, Any]:
    totals = plan.totals
    return {
        "stacked_lugs": totals.stacked_lugs,
        "wire_dmm": totals.wire_dmm,
        "fittings": totals.fittings,
        "hub": plan.hub,
        "tallest_stack": totals.tallest_stack,
        "minutes_cmin": totals.minutes_cmin,
        "money_micro": totals.money_micro,
        "jumpers": [[jumper.from_joint, jumper.to_joint] for jumper in plan.jumpers],
    }
