"""The way of the data: read, pose, search, work up, check. Newcomers start here.

scenario → limits → routes and electrics → problem → model → choice → plan → check → outputs

What is heavy (routes, model) is imported where it is first needed, so that judging a plan file
never loads a solver.
"""

from __future__ import annotations

import time
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from lugwright.assemble.build import assemble_plan
from lugwright.assemble.cautions import cautions_before
from lugwright.assemble.panel import panel_of
from lugwright.assemble.stated import IN_FORCE, limits_digest, limits_used
from lugwright.base import stop
from lugwright.base.errors import BadInput
from lugwright.base.toml import TomlFile
from lugwright.base.version import __version__
from lugwright.checker.finding import Finding, Report
from lugwright.checker.holds import holds_broken
from lugwright.checker.run import check_plan
from lugwright.checker.whose import another_console
from lugwright.checker.written import check_written
from lugwright.limits.load import load_limits
from lugwright.outputs.before import Before
from lugwright.outputs.plan_json import read_plan
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.progress import Listener
from lugwright.plans.schema import Plan
from lugwright.problem.settings import SETTINGS
from lugwright.scenario.brief import Brief
from lugwright.scenario.cross_checks import panel_complaints
from lugwright.scenario.holds import Held, called, merged, read_holds, written
from lugwright.scenario.load import load_scenario, load_toml
from lugwright.scenario.waiver_places import waiver_faults
from lugwright.stock.read import read_stock

if TYPE_CHECKING:
    from lugwright.assemble.part_numbers import PartNumbers
    from lugwright.problem.schema import Problem
    from lugwright.routes.schema import Routes
    from lugwright.studies.schema import WhyNot


Posed = tuple["Problem", "Routes"]
"""A question with nothing held in it, and the routes it was put together from."""

HoldsGiven = Mapping[str, str] | Iterable[tuple[str, str]]
"""What a call holds: pairs of what and name, as ``("hub", "depth")``."""


@dataclass(frozen=True)
class Run:
    """One planning run: how it ended, the plan if there is one, and the checker's report."""

    outcome: Outcome
    plan: Plan | None
    report: Report | None


def read_inputs(
    scenario: Path | TomlFile,
    limits_file: Path | None = None,
    stock_folder: Path | None = None,
    rule_set: str | None = None,
    settings: tuple[str, ...] = (),
) -> Brief:
    """Read scenario, limits and stock. Raises BadInput with every fault found in one file."""
    loaded = load_toml(scenario) if isinstance(scenario, TomlFile) else load_scenario(scenario)
    limits, limits_toml = load_limits(loaded.toml, limits_file, rule_set, settings)
    stock = read_stock(stock_folder)
    brief = Brief(loaded.console, limits, stock)
    complaints = panel_complaints(brief, loaded.toml)
    complaints += waiver_faults(loaded.console, limits, loaded.toml)
    if complaints:
        raise BadInput(*complaints)
    digests = {"scenario": loaded.console.digest, "stock": stock.digest}
    if limits_toml is not None:
        digests["limits"] = limits_toml.digest
    holds = read_holds(written(loaded.holds, loaded.toml), loaded.console, lambda: stock)
    return replace(brief, holds=holds, digests=digests)


def before_planning(brief: Brief) -> Before:
    """What sheets can be made of before anything is planned."""
    console, limits = brief.console, brief.limits
    cautions = cautions_before(console)
    return Before(panel_of(brief), console.title, limits.rule_set, cautions)


def pose(brief: Brief) -> Posed:
    """Route the wires and pose the question, with nothing held in it yet (``hold_in``)."""
    from lugwright.problem.build import build_problem
    from lugwright.routes.build import build_routes

    routes = build_routes(brief)
    return build_problem(brief, routes), routes


def holding(brief: Brief, holds: HoldsGiven | None) -> Brief:
    """The brief with what a call holds, over what the scenario holds.

    Every question asked of them obeys it. Raises BadInput for a hold that means nothing.
    """
    pairs = holds.items() if isinstance(holds, Mapping) else holds or ()
    own = read_holds(called(pairs), brief.console, lambda: brief.stock)
    return replace(brief, holds=merged(brief.holds, own))


def make_plan(
    brief: Brief,
    *,
    time_limit_s: float | None = None,
    progress: Listener | None = None,
    posed: Posed | None = None,
) -> Run:
    """Plan a console. No plan leaves here unchecked: ``report`` stands beside every plan.

    What is held is reported with what it costs. ``time_limit_s`` in seconds, None for none.
    ``posed``: the question, where ``pose`` has put it already.
    """
    from lugwright.model.choose import best_choice
    from lugwright.problem.held import hold_in

    started = time.monotonic()
    held = brief.holds
    problem, routes = posed or pose(brief)
    outcome = best_choice(
        hold_in(problem, held),
        time_limit_s=_left(time_limit_s, started),
        hubs=(held.hub,) if held.hub else None,
        listener=progress,
    )
    if held.holds and not outcome.interrupted:
        from lugwright.studies.holds import price_holds, with_prices

        try:
            with stop.raised():
                left_s = _left(time_limit_s, started)
                prices = price_holds(problem, held, outcome, time_limit_s=left_s, progress=progress)
            outcome = with_prices(outcome, held, prices)
        except KeyboardInterrupt:
            outcome = replace(outcome, interrupted=True)
    if outcome.choice is None:
        return Run(outcome, None, None)
    return Run(outcome, *checked(brief, routes, outcome, held))


def _left(time_limit_s: float | None, started: float) -> float | None:
    """Seconds left of a time limit."""
    return None if time_limit_s is None else max(0.0, time_limit_s - time.monotonic() + started)


def checked(
    brief: Brief,
    routes: Routes,
    outcome: Outcome,
    held: Held,
    numbers: PartNumbers | None = None,
    family: str = "",
) -> tuple[Plan, Report]:
    """The plan of an outcome that holds a choice, and the checker's report on it.

    ``numbers`` and ``family`` as in ``work_up``.
    """
    if held.holds and not outcome.held:
        outcome = replace(outcome, held=held.told)
    plan = work_up(brief, routes, outcome, numbers, family)
    report = check_plan(brief, plan)
    broken = holds_broken(plan, held)
    return plan, replace(
        report, findings=(*report.findings, *broken), checks=report.checks + len(held.holds)
    )


def why_no_plan(
    brief: Brief,
    *,
    time_limit_s: float | None = None,
    progress: Listener | None = None,
) -> WhyNot:
    """Why a console has no plan, once ``make_plan`` has said that none exists.

    ``time_limit_s`` in seconds, None for none.
    """
    from lugwright.studies.why_not import why_not

    return why_not(brief, time_limit_s=time_limit_s, listener=progress)


def work_up(
    brief: Brief,
    routes: Routes,
    outcome: Outcome,
    numbers: PartNumbers | None = None,
    family: str = "",
) -> Plan:
    """The whole plan of an outcome that holds a choice.

    ``numbers`` are shared by the plans of a family, ``family`` is its name.
    """
    return assemble_plan(brief, routes, outcome, made_with(), numbers, family)


def made_with() -> str:
    """This program, the solver's version and its settings, as every plan states them."""
    return f"lugwright {__version__}, ortools {version('ortools')}: {SETTINGS}"


def inputs_notes(brief: Brief, plan: Plan) -> tuple[str, ...]:
    """What a plan was made under that is no longer so: limits, and the program itself.

    The checker judges the plan under the limits of today; these notes say what has moved.
    """
    before = {row.name: row.value for row in plan.limits}
    notes = [
        f"made when {row.name} was {before.get(row.name, 'not a limit')}; it is {row.value} now"
        for row in limits_used(brief.limits)
        if before.get(row.name) != row.value
    ]
    if plan.made_with != made_with():
        notes.append(f"made with {plan.made_with}; this is {made_with()}")
    return tuple(notes)


def check_file(
    brief: Brief, path: Path, routes: Routes | None = None
) -> tuple[Plan, Report, tuple[str, ...]]:
    """Judge a plan file, a plan folder or a written jumper list (CSV) of a panel that stands.

    A plan file is judged twice: by the second opinion, and by whether what it prints follows from
    the brief and its own decisions (``remade``). The notes name what a jumper list says otherwise
    than the routes do. ``routes`` where they are found already. Raises BadInput for a file that is
    none of these.
    """
    if path.suffix.lower() == ".csv":
        return _check_jumper_list(brief, path)

    plan = read_plan(path)
    strange = another_console(brief.console, plan)
    if strange:
        return plan, Report(strange, 1), ()
    report = check_plan(brief, plan)
    printed, notes = printed_findings(brief, plan, routes)
    report = replace(report, findings=(*report.findings, *printed), checks=report.checks + 1)
    return plan, report, (*report.notes, *notes, *inputs_notes(brief, plan))


def accepted(
    brief: Brief, plan: Plan, report: Report, routes: Routes | None = None
) -> tuple[Plan, Report] | None:
    """An edited plan as it stands sealed: nothing claimed of it that only a search can know.

    None where more is wrong with it than that claim. The plan is checked once more as accepted.
    """
    from lugwright.remade.again import CLAIM, made_again
    from lugwright.routes.build import build_routes

    if any(finding.place != CLAIM for finding in report.findings):
        return None
    routes = routes or build_routes(brief)
    own = made_again(brief, plan, routes, made_with())
    kept = {"proof": own.proof, "made_with": own.made_with, "edited": False}
    sealed = plan.model_copy(update=kept)
    again, _notes = printed_findings(brief, sealed, routes)
    anew = check_plan(brief, sealed)
    return sealed, replace(anew, findings=(*anew.findings, *again))


def printed_findings(
    brief: Brief, plan: Plan, routes: Routes | None = None
) -> tuple[tuple[Finding, ...], tuple[str, ...]]:
    """What is printed and does not follow from the facts; and a note where that was not asked.

    A plan as this program wrote it, under limits that have moved since, prints what followed then.
    """
    from lugwright.remade.again import judged_again
    from lugwright.routes.build import build_routes

    if not plan.edited:
        stated = limits_digest(plan.limits)
        if stated != plan.inputs.get(IN_FORCE):
            message = "the limits it prints are not those it was planned under"
            return (Finding("inputs", "limits", message),), ()
        if stated != limits_digest(limits_used(brief.limits)):
            note = "planned under other limits than those in force: its texts were not made again"
            return (), (note,)
    routes = routes or build_routes(brief)
    return judged_again(brief, plan, routes, made_with()), ()


def _check_jumper_list(brief: Brief, path: Path) -> tuple[Plan, Report, tuple[str, ...]]:
    from lugwright.assemble.jumper_list import read_jumper_list
    from lugwright.assemble.written_lengths import lengths_by_label
    from lugwright.routes.build import build_routes

    routes = build_routes(brief)
    listed = read_jumper_list(path, brief)
    written = Outcome(Ending.WITHIN_BOUND, (), choice=listed.choice, note="a panel already built")
    plan = work_up(brief, routes, written)
    report = check_plan(brief, plan)
    lengths = check_written(brief, plan, lengths_by_label(listed, plan))
    report = replace(
        report,
        findings=(*lengths.findings, *report.findings),
        checks=report.checks + lengths.checks,
    )
    return plan, report, (*lengths.notes, *report.notes)
