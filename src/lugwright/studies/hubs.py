"""Every hub candidate solved to its own optimum, side by side.

All hubs are searched in one go, so that parts common to several are solved once. Every plan is
checked by the checker; one it rejects is not shown. A hub on which not every supply can land
stays in the table with the reason.
"""

from __future__ import annotations

import time
from collections.abc import Iterable
from dataclasses import dataclass, replace

from lugwright import pipeline
from lugwright.base import stop
from lugwright.base.scale import mm_text
from lugwright.limits.schema import Limits
from lugwright.model.choose import best_per_hub
from lugwright.model.formulation.trials import ONE_PER_CIRCUIT
from lugwright.outputs.hubs_table import REJECTED, HubRow
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.progress import Listener
from lugwright.problem.held import hold_in
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, Pigtail, Post
from lugwright.scenario.holds import Held
from lugwright.trade.hubs import NO_HUB
from lugwright.trade.lengths import reach_needed_dmm

ROWS_S = 0.2  # of the second within which a stopped command ends
LATE = "stopped before its plan was worked up"


@dataclass(frozen=True)
class HubTable:
    """One row per hub candidate, by name; with a hub for each circuit allowed, one row more.

    ``told`` are sentences on the whole: what is held, and what rules every plan out.
    """

    rows: tuple[HubRow, ...]
    told: tuple[str, ...]
    interrupted: bool


def compare_hubs(
    brief: Brief,
    *,
    time_limit_s: float | None = None,
    progress: Listener | None = None,
    posed: pipeline.Posed | None = None,
) -> HubTable:
    """Solve every hub candidate of a console. ``time_limit_s`` in seconds, None for none.

    Holds other than of the hub are obeyed in every row; a held hub leaves that one row. ``posed``:
    the question, where it was put already.
    """
    started = time.monotonic()
    held = brief.holds
    free, routes = posed or pipeline.pose(brief)
    problem = hold_in(free, held)
    candidates = [i.name for i in brief.console.instruments if i.hub_candidate]
    candidates = [held.hub] if held.hub else candidates
    left_s = None
    if time_limit_s is not None:
        left_s = max(0.0, time_limit_s - (time.monotonic() - started))
    outcomes = best_per_hub(
        problem,
        candidates,
        time_limit_s=left_s,
        listener=progress,
        anywhere=not brief.limits.one_hub and not held.hub,
    )
    names = [*sorted(candidates), *({ONE_PER_CIRCUIT} & outcomes.keys())]
    rows = _rows(brief, routes, {name: outcomes.get(name) for name in names}, held)
    interrupted = any(outcome.interrupted for outcome in outcomes.values())
    told = tuple(f"Held in every row: {words}." for words in held.told)
    told += tuple(f"Whatever the hub is, this stands in the way: {f}." for f in problem.faults)
    return HubTable(tuple(rows), told, interrupted)


def _rows(
    brief: Brief, routes: Routes, outcomes: dict[str, Outcome | None], held: Held
) -> list[HubRow]:
    """A row for each hub. After a stop the cheapest are worked up, while there is time."""
    began, rows = time.monotonic(), dict[str, HubRow]()
    by_cost = sorted(outcomes.items(), key=lambda item: item[1].cost if item[1] else ())
    for name, outcome in by_cost:
        late = stop.asked() and time.monotonic() - began > ROWS_S
        if late and outcome is not None and outcome.choice is not None:
            ending = Ending.NO_ANSWER.value
            rows[name] = HubRow(name, ending, outcome.levels, bound=outcome.bound, reasons=(LATE,))
        else:
            rows[name] = _row(brief, routes, name, outcome, held)
    return [rows[name] for name in outcomes]


def _row(
    brief: Brief,
    routes: Routes,
    name: str,
    outcome: Outcome | None,
    held: Held,
) -> HubRow:
    """One row; without an outcome no supply could land there at all, and the reason is found."""
    if outcome is None:
        reasons = landing_reasons(brief.console, brief.limits, routes, name)
        return HubRow(name, Ending.IMPOSSIBLE.value, (), reasons=tuple(reasons))
    ending, levels = outcome.ending.value, outcome.levels
    if outcome.choice is None:
        own: tuple[str, ...] = ()
        if name != ONE_PER_CIRCUIT:
            own = tuple(landing_reasons(brief.console, brief.limits, routes, name))
        reasons = own or tuple(map(str, outcome.reasons))
        return HubRow(name, ending, levels, bound=outcome.bound, reasons=reasons)
    apart = bool(brief.console.ways) or len(brief.console.harnesses) > 1
    if apart and name != ONE_PER_CIRCUIT and not held.hub:
        # circuits need not all have a post on a hub: that this one is looked at is what was held
        outcome = replace(outcome, held=(*outcome.held, f"hub {name}"))
    plan, report = pipeline.checked(brief, routes, outcome, held)
    if not report.passed:
        findings = tuple(str(finding) for finding in report.findings)
        return HubRow(name, REJECTED, levels, reasons=findings)
    return HubRow(name, ending, levels, outcome.cost, outcome.bound, plan)


def landing_reasons(
    console: Console, limits: Limits, routes: Routes, instrument: str
) -> Iterable[str]:
    """Why the supplies cannot all land on an instrument, a line for each circuit that cannot."""
    if not console.instrument(instrument).hub_candidate:
        yield "it is not a hub candidate"
    for circuit in console.circuits:
        if circuit.pigtail is None or not circuit.posts or circuit.side in NO_HUB:
            continue
        posts = [console.post(post) for post in circuit.posts]
        own = [post for post in posts if post.instrument == instrument]
        if not own:
            # beside ways, or of another harness, a circuit may land elsewhere than on the hub
            if not console.ways and len(console.harnesses) == 1:
                yield f"it has no {circuit.name} post"
            continue
        why = [_why_not(console, limits, routes, circuit.pigtail, post) for post in own]
        if all(why):
            yield "; ".join(f"{circuit.name}: {reason}" for reason in why)


def _why_not(console: Console, limits: Limits, routes: Routes, pigtail: Pigtail, post: Post) -> str:
    """Why a pigtail cannot land on a post; "" where it can."""
    if post.kind == "lead":
        return f"{post.id} is a lead, and a supply lands on a stud or a tab"
    if pigtail.entry is None:
        return ""
    try:
        path_dmm = routes.from_entry(pigtail.entry, post.id).path_dmm
    except NoPath:
        return f"no way leads from where the pigtail comes in to {post.id}"
    short_dmm = reach_needed_dmm(path_dmm, console, limits) - pigtail.reach_dmm
    if short_dmm > 0 and not limits.extensions:
        origin = limits.origin("extensions")
        return (
            f"the pigtail is {mm_text(short_dmm)} mm too short for {post.id} "
            f"and may not be lengthened [limit from {origin}]"
        )
    ring = pigtail.ring
    if short_dmm <= 0 and ring is not None and (post.kind != "stud" or post.thread != ring.thread):
        there = f"a {post.thread} stud" if post.kind == "stud" else f"a {post.kind}"
        return f"the pigtail's own ring is for {ring.thread}, and {post.id} is {there}"
    return ""
