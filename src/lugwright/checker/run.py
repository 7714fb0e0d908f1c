"""The second opinion: every check over console, limits, stock and plan, and what they found."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from lugwright.base.errors import OutsideTable, own_words
from lugwright.checker.ampacity import check_ampacity
from lugwright.checker.barrels import check_barrels
from lugwright.checker.book import Book
from lugwright.checker.bypass import check_bypass
from lugwright.checker.connect import check_connections
from lugwright.checker.facts import Facts
from lugwright.checker.finding import Report
from lugwright.checker.fittings import check_current_limits, check_fittings, check_strips
from lugwright.checker.fuses import check_fuses, fused_above
from lugwright.checker.lengths import check_lengths
from lugwright.checker.network import Loads, check_currents, check_drops, solve_network
from lugwright.checker.panel import check_panel
from lugwright.checker.play import check_steps
from lugwright.checker.printed_tests import check_proving, check_test_volts
from lugwright.checker.reach import check_leads, check_reach
from lugwright.checker.runs import check_runs
from lugwright.checker.shape import check_shape
from lugwright.checker.studs import check_studs
from lugwright.checker.supplies import check_buy_list, check_caps, check_ties
from lugwright.checker.totals import check_totals
from lugwright.checker.waivers import check_waivers, needless
from lugwright.checker.ways import check_live, check_ways
from lugwright.checker.wires import check_wires
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief

CHECKS: tuple[Callable[[Facts, Book], None], ...] = (
    check_shape,
    check_panel,
    check_waivers,
    check_connections,
    check_bypass,
    check_live,
    check_runs,
    check_lengths,
    check_reach,
    check_leads,
    check_wires,
    check_barrels,
    check_fittings,
    check_strips,
    check_totals,
    check_buy_list,
    check_caps,
    check_ties,
    check_steps,
)

LOADED_CHECKS: tuple[Callable[[Facts, Loads, Book], None], ...] = (
    check_currents,
    check_drops,
    check_ampacity,
    check_fuses,
    check_current_limits,
    check_ways,
    check_studs,
)

# Made from facts that all other checks judge: said only of a plan in which those are right.
LAST_CHECKS: tuple[Callable[[Facts, Loads, Book], None], ...] = (check_proving, check_test_volts)

UNJUDGED = (LookupError, ValueError, ArithmeticError, OutsideTable)


def check_plan(brief: Brief, plan: Plan) -> Report:
    """Recompute everything about a plan from its inputs and report every difference.

    Never raises for a plan that is wrong: what cannot be judged is a finding too. The notes name
    fuses larger than the one ahead, and waivers that the plan does not need.
    """
    report = _judged(brief, plan)
    notes = list(fused_above(Facts(brief, plan))) if brief.console.ways else []
    if brief.limits.waivers:
        notes += needless(
            brief.limits, report, lambda less: _judged(replace(brief, limits=less), plan)
        )
    return replace(report, notes=tuple(notes))


def _judged(brief: Brief, plan: Plan) -> Report:
    """Every check of a plan."""
    facts, book = Facts(brief, plan), Book()
    _inputs(facts, book)
    for check in CHECKS:
        _guarded(book, check.__name__, partial(check, facts, book))
    found: list[Loads] = []
    _guarded(book, "solve_network", lambda: found.append(solve_network(facts)))
    for loads in found:
        for loaded in LOADED_CHECKS:
            _guarded(book, loaded.__name__, partial(loaded, facts, loads, book))
        if not book.report().findings:
            for last in LAST_CHECKS:
                _guarded(book, last.__name__, partial(last, facts, loads, book))
    return book.report()


def _guarded(book: Book, name: str, check: Callable[[], None]) -> None:
    """Run a check; a plan so broken that it stumbles gets a finding instead of a crash."""
    try:
        check()
    except UNJUDGED as error:
        what = name.removeprefix("check_").replace("_", " ")
        why = own_words(error) or "its parts do not fit together, or name what is not there"
        message = f"the plan is too broken to judge: {why}"
        book.complain("names", what, message)


def _inputs(facts: Facts, book: Book) -> None:
    """The plan was made from this scenario and this stock, under these limits."""
    plan, console, stock = facts.plan, facts.console, facts.stock
    for role, names, digest in (
        ("scenario", ("scenario", "console"), console.digest),
        ("stock", ("stock",), stock.digest),
    ):
        stated = next((plan.inputs[name] for name in names if name in plan.inputs), "")
        if digest and stated:
            message = "the plan was made from another file"
            same = stated == digest
            book.expect(same, "inputs", role, message, stated[:12], digest[:12], "the inputs")
    book.same(plan.title, console.title, "inputs", "title", "the console's title")
    book.same(plan.rule_set, facts.limits.rule_set, "inputs", "rule_set", "the rule set")
