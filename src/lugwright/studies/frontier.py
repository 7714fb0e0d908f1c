"""One thing against another: the exact frontier, with the plan made by eye beside it."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from lugwright import pipeline
from lugwright.assemble.hand_plan import hand_choice
from lugwright.base.scale import ceil_div, mm_text, money_text
from lugwright.model.variants.frontier import Frontier, frontier
from lugwright.model.variants.frontier_drop import against_drop
from lugwright.model.variants.trade import WIRE_AGAINST_LUGS, Trade
from lugwright.outputs.hubs_table import least_thread
from lugwright.outputs.plot import Axes, PlotPoint
from lugwright.outputs.words import minutes_text
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.progress import Listener
from lugwright.plans.schema import Plan
from lugwright.problem.held import hold_in
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief

HEAD = (
    "stacked lugs",
    "wire, mm",
    "money",
    "worst drop, % of allowed",
    "fittings",
    "hub",
    "tallest stack",
    "thread left, mm",
    "minutes",
)
RIGHT = tuple(index for index, name in enumerate(HEAD) if name != "hub")


@dataclass(frozen=True)
class Side:
    """One of the things set against each other: its name, its number in a plan, its text."""

    name: str
    plain: str
    unit: str
    number: Callable[[Plan], int]
    text: Callable[[int], str]

    def words(self, value: int) -> str:
        """A value with what it is: ``1345 mm of wire``, ``2 stacked lugs``."""
        return f"{self.text(value)}{self.unit}"


def worst_share_permille(plan: Plan) -> int:
    """The largest share of its own limit that a load's drop takes, thousandths, rounded up."""
    return max((ceil_div(d.drop_nv * 1000, max(1, d.limit_nv)) for d in plan.drops), default=0)


def share_text(permille: int) -> str:
    """Thousandths as per cent, ``48.3``."""
    return f"{permille // 10}.{permille % 10}"


SIDES: Mapping[str, Side] = MappingProxyType(
    {
        "wire": Side(
            "wire, mm", "wire length", " mm of wire", lambda plan: plan.totals.wire_dmm, mm_text
        ),
        "lugs": Side(
            "stacked lugs",
            "stacked lugs",
            " stacked lugs",
            lambda plan: plan.totals.stacked_lugs,
            str,
        ),
        "money": Side(
            "money", "money", " in money", lambda plan: plan.totals.money_micro, money_text
        ),
        "drop": Side(
            "worst drop, % of allowed",
            "worst drop",
            " % of the drop allowed",
            worst_share_permille,
            share_text,
        ),
    }
)


def sides_of(trade: Trade) -> tuple[Side, Side]:
    """What is minimised, and what it is set against."""
    return SIDES[trade.value], SIDES[trade.against]


def title_of(trade: Trade) -> str:
    """``Wire length against stacked lugs``."""
    value, against = sides_of(trade)
    return f"{value.plain.capitalize()} against {against.plain}"


def axes_of(trade: Trade) -> Axes:
    """The axes of its plot."""
    value, against = sides_of(trade)
    return Axes(
        title_of(trade),
        against.name,
        value.name,
        against.text,
        value.text,
        whole=trade.against == "lugs",
    )


@dataclass(frozen=True)
class TradeOff:
    """The frontier, least of what is capped first: a checked plan for every point.

    ``hand`` is the plan made by eye, None where even that finds none; ``hand_faults`` is how
    much the checker has against it. ``told`` says what must be known of it all.
    """

    trade: Trade
    plans: tuple[Plan, ...]
    hand: Plan | None
    hand_faults: int
    complete: bool
    rejected: bool
    interrupted: bool
    told: tuple[str, ...]


def trade_off(
    brief: Brief,
    trade: Trade = WIRE_AGAINST_LUGS,
    *,
    time_limit_s: float | None = None,
    progress: Listener | None = None,
    posed: pipeline.Posed | None = None,
) -> TradeOff:
    """Find the frontier of a console under what is held. ``time_limit_s`` in seconds.

    ``posed``: the question, where it was put already; the objective is no part of it.
    """
    started = time.monotonic()
    aimed = replace(brief, limits=replace(brief.limits, objective=trade.objective))
    held = brief.holds
    free, routes = posed or pipeline.pose(brief)
    problem = hold_in(replace(free, limits=aimed.limits), held)
    left_s = None if time_limit_s is None else max(0.0, time_limit_s - time.monotonic() + started)
    hubs = (held.hub,) if held.hub else None
    search = against_drop if trade.against == "drop" else frontier
    found = search(problem, trade, time_limit_s=left_s, hubs=hubs, listener=progress)
    plans, rejected = [], False
    for outcome in reversed(found.points):
        capped = replace(outcome, held=(*held.told, *outcome.held))
        plan, report = pipeline.checked(aimed, routes, capped, held)
        rejected = rejected or not report.passed
        plans.append(plan)
    hand, faults = _by_hand(aimed, routes)
    told = [*_told(trade, plans, found, problem.faults, rejected)]
    told += [found.note] if found.note else []
    told += _hand_words(trade, plans, hand, faults)
    return TradeOff(
        trade,
        () if rejected else tuple(plans),
        hand,
        faults,
        found.complete,
        rejected,
        found.interrupted,
        tuple(told),
    )


def _by_hand(brief: Brief, routes: Routes) -> tuple[Plan | None, int]:
    """The plan made by eye, worked up, and how many findings the checker has against it."""
    choice = hand_choice(brief, routes)
    if choice is None:
        return None, 0
    outcome = Outcome(Ending.WITHIN_BOUND, (), choice=choice, note="made by eye")
    plan, report = pipeline.checked(brief, routes, outcome, replace(brief.holds, holds=()))
    return plan, len(report.findings)


def _told(
    trade: Trade, plans: Sequence[Plan], found: Frontier, faults: Sequence[Any], rejected: bool
) -> tuple[str, ...]:
    """What is proved of the frontier, and no more."""
    _, against = sides_of(trade)
    if rejected:
        return ("The checker rejects a plan of the frontier: none of it is shown.",)
    least = min((against.number(plan) for plan in plans), default=0)
    if not found.complete:
        if not plans:
            return ("No point of the frontier was found in the time given.",)
        return (
            f"Every point shown is proved; with less than {against.words(least)} there may be "
            "more, not found in the time given.",
        )
    if not plans:
        return ("No plan exists, so there is no frontier.", *map(str, faults))
    below = f"; no plan has less than {against.words(least)}" if least else ""
    return (f"Every point is proved and none is missing{below}.",)


def _hand_words(
    trade: Trade, plans: Sequence[Plan], hand: Plan | None, faults: int
) -> tuple[str, ...]:
    """How the plan made by eye stands to the frontier."""
    if hand is None:
        return ("By eye no plan is found.",)
    value, against = sides_of(trade)
    mine, capped = value.number(hand), against.number(hand)
    words = f"By eye (hub {hand.hub}): {value.words(mine)} and {against.words(capped)}"
    if faults:
        words += f"; the checker has {faults} findings against it"
    better = [
        value.number(plan)
        for plan in plans
        if against.number(plan) <= capped and value.number(plan) < mine
    ]
    if better:
        saved = value.words(mine - min(better))
        words += f"; a plan with no more than {against.words(capped)} saves {saved}"
    return (words + ".",)


def rows(found: TradeOff) -> list[list[str]]:
    """The frontier as table rows under HEAD."""
    return [_row(plan) for plan in found.plans]


def _row(plan: Plan) -> list[str]:
    totals, thread = plan.totals, least_thread(plan)
    return [
        str(totals.stacked_lugs),
        mm_text(totals.wire_dmm),
        money_text(totals.money_micro),
        share_text(worst_share_permille(plan)),
        str(totals.fittings),
        plan.hub,
        str(totals.tallest_stack),
        "" if thread is None else mm_text(thread.free_dmm - thread.used_dmm),
        minutes_text(totals.minutes_cmin),
    ]


def plot_points(found: TradeOff) -> tuple[list[PlotPoint], PlotPoint | None]:
    """The points of the plot, and the plan made by eye."""
    value, against = sides_of(found.trade)
    points = [
        PlotPoint(
            against.number(plan),
            value.number(plan),
            f"{value.text(value.number(plan))}, {plan.hub}",
        )
        for plan in found.plans
    ]
    hand = found.hand
    if hand is None:
        return points, None
    faults = f", {found.hand_faults} faults" if found.hand_faults else ""
    label = f"by eye: {value.text(value.number(hand))}, {hand.hub}{faults}"
    return points, PlotPoint(against.number(hand), value.number(hand), label)


def data(found: TradeOff) -> dict[str, Any]:
    """The frontier as data, in the units of the program's scales."""
    return {
        "value": found.trade.value,
        "against": found.trade.against,
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
        "worst_drop_permille_of_limit": worst_share_permille(plan),
        "jumpers": [[jumper.from_joint, jumper.to_joint] for jumper in plan.jumpers],
    }
