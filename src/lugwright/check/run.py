"""The second opinion: every check over console, limits, stock and plan, and what they found."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from lugwright.base.errors import OutsideTable
from lugwright.check.ampacity import check_ampacity
from lugwright.check.barrels import check_barrels
from lugwright.check.book import Book
from lugwright.check.connect import check_connections
from lugwright.check.facts import Facts
from lugwright.check.finding import Report
from lugwright.check.fittings import check_current_limits, check_fittings, check_strips
from lugwright.check.fuses import check_fuses
from lugwright.check.lengths import check_lengths
from lugwright.check.network import Loads, check_currents, check_drops, solve_network
from lugwright.check.panel import check_panel
from lugwright.check.play import check_steps
from lugwright.check.proving import check_proving, check_test_volts
from lugwright.check.reach import check_reach
from lugwright.check.runs import check_runs
from lugwright.check.shape import check_shape
from lugwright.check.studs import check_studs
from lugwright.check.supplies import check_buy_list, check_caps, check_ties
from lugwright.check.totals import check_totals
from lugwright.check.waivers import check_waivers, needless
from lugwright.check.wires import check_wires
from lugwright.limits.schema import Limits
from lugwright.plan.schema import Plan
from lugwright.scenario.console import Console
from lugwright.stock.schema import Stock

CHECKS: tuple[Callable[[Facts, Book], None], ...] = (
    check_shape,
    check_panel,
    check_waivers,
    check_connections,
    check_runs,
    check_lengths,
    check_reach,
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
    check_studs,
)

# Made from facts that all other checks judge: said only of a plan in which those are right.
LAST_CHECKS: tuple[Callable[[Facts, Loads, Book], None], ...] = (check_proving, check_test_volts)

UNJUDGED = (LookupError, ValueError, ArithmeticError, OutsideTable)


def check_plan(console: Console, limits: Limits, stock: Stock, plan: Plan) -> Report:
    """Recompute everything about a plan from its inputs and report every difference.

    Never raises for a plan that is wrong: what cannot be judged is a finding too. The notes name
    waivers that the plan does not need.
    """
    report = _judged(console, limits, stock, plan)
    if not limits.waivers:
        return report
    notes = needless(limits, report, lambda less: _judged(console, less, stock, plan))
    return replace(report, notes=tuple(notes))


def _judged(console: Console, limits: Limits, stock: Stock, plan: Plan) -> Report:
    """Every check of a plan."""
    facts, book = Facts(console, limits, stock, plan), Book()
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
        message = f"the plan is too broken to judge: {type(error).__name__} {error}"
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
    book.same(plan.practice, facts.limits.practice, "inputs", "practice", "the rule set")
