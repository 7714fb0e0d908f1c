"""read, plan, check, hubs, write: the five calls, each a step of the way of the data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from os import PathLike
from pathlib import Path

from lugwright import pipeline
from lugwright.checker.finding import Report
from lugwright.checker.run import check_plan
from lugwright.door.answer import Answer, answer_of
from lugwright.door.side_by_side import Hubs
from lugwright.door.view import PlanView
from lugwright.outputs.folder import write_folder
from lugwright.outputs.paper_size import Paper
from lugwright.plans.outcome import Ending
from lugwright.scenario.brief import Brief
from lugwright.studies.words import why_lines

Where = str | PathLike[str]


def read(
    scenario: Where,
    *,
    limits: Where | None = None,
    stock: Where | None = None,
    rule_set: str | None = None,
    settings: Mapping[str, str] | None = None,
) -> Brief:
    """Read one console: its scenario file, the limits in force and the stock.

    ``limits`` is the shop's limits file, ``stock`` a folder of stock tables, ``rule_set`` a
    built-in rule set, ``settings`` single limits as one writes them: ``{"slack": "5 %"}``. Raises
    BadInput with every fault of the first file that has any, with line and column.
    """
    return pipeline.read_inputs(
        Path(scenario),
        Path(limits) if limits is not None else None,
        Path(stock) if stock is not None else None,
        rule_set,
        tuple(f"{name} = {value}" for name, value in (settings or {}).items()),
    )


def plan(
    console: Brief,
    *,
    time_s: float | None = None,
    holds: pipeline.HoldsGiven | None = None,
    why: bool = True,
) -> Answer:
    """Plan a console, prove the plan and check it. How that ends is a value.

    ``time_s``: seconds for the search, None for none. ``holds`` fixes things beforehand:
    ``{"hub": "depth"}``. ``why``: where no plan exists, find out which limits cannot hold
    together, for which ``time_s`` is counted anew. Raises BadInput for a hold that means nothing.
    """
    console = pipeline.holding(console, holds)
    run = pipeline.make_plan(console, time_limit_s=time_s)
    answer = answer_of(run.outcome, run.plan, run.report)
    if not why or run.outcome.ending is not Ending.IMPOSSIBLE or run.outcome.interrupted:
        return answer

    found = pipeline.why_no_plan(console, time_limit_s=time_s)
    return replace(answer, reasons=tuple(why_lines(found)))


def check(console: Brief, plan: PlanView | Where) -> Report:
    """Judge a plan, a plan folder, a ``plan.json``, or a jumper list (CSV) of a built panel.

    Raises BadInput for a file that is none of these.
    """
    if isinstance(plan, PlanView):
        return check_plan(console, plan.record)
    return pipeline.check_file(console, Path(plan))[1]


def hubs(
    console: Brief,
    *,
    time_s: float | None = None,
    holds: pipeline.HoldsGiven = (),
) -> Hubs:
    """Every hub candidate solved to its own best, side by side. Arguments as for ``plan``."""
    from lugwright.studies.hubs import compare_hubs

    return Hubs(compare_hubs(pipeline.holding(console, holds), time_limit_s=time_s))


def write(plan: PlanView, folder: Where, *, page: str = "A4") -> tuple[str, ...]:
    """Write a plan's folder, every sheet for that paper (``A4`` or ``Letter``); the file names.

    Raises BadInput where the folder holds what is not a plan's; then nothing has changed.
    """
    return write_folder(plan.shown, Path(folder), Paper(page))
