"""Whether everything a plan prints follows from its inputs and its own decisions.

A plan is made again from console, limits, stock and its bare decisions, by the same rooms that
made it, and compared leaf by leaf. What no plan can be asked to prove by itself is its proof: that
takes a search. So a plan's **seal** counts there (``outputs.plan_json``): a plan that is as this
program wrote it is believed what its search found; one that was edited is a plan nobody searched
for, and must say so.
"""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.assemble.build import assemble_plan
from lugwright.base.errors import OutsideTable, own_words
from lugwright.checker.finding import Finding
from lugwright.checker.holds import holds_broken
from lugwright.plans.outcome import EDITED, TIE_RULE, UNSEARCHED_TIE_RULE, Ending, Outcome
from lugwright.plans.schema import Plan
from lugwright.remade.compare import differences
from lugwright.remade.decisions import NumbersOf, decisions_of
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.holds import merged, read_told

CLAIM = "proof"
ALL_HOLDS = "all holds together ("
UNMADE = (LookupError, ValueError, ArithmeticError, OutsideTable, NoPath, TypeError)


def made_again(brief: Brief, plan: Plan, routes: Routes, made_with: str) -> Plan:
    """The plan of the same decisions, made anew; its proof says that nobody searched for it.

    Raises what ``assemble`` and ``routes`` raise where the decisions make no plan.
    """
    choice = decisions_of(plan, routes, brief.console)
    written = Outcome(Ending.WITHIN_BOUND, (), choice=choice, note=EDITED, held=brief.holds.told)
    return assemble_plan(
        brief,
        routes,
        written,
        made_with,
        NumbersOf(plan) if plan.family else None,
        plan.family,
    )


def judged_again(
    brief: Brief, plan: Plan, routes: Routes, made_with: str
) -> tuple[Finding, ...]:
    """Every printed fact that does not follow, and every claim that an edited plan can not make."""
    try:
        again = made_again(brief, plan, routes, made_with)
    except UNMADE as error:
        why = own_words(error) or "they do not fit together, or name what is not there"
        message = f"its own decisions make no plan: {why}"
        return (Finding("printed", "plan", message),)
    claims = _edited_claims(plan, again) if plan.edited else _sealed_claims(plan, again, brief)
    return (*differences(plan, again), *claims)


def _edited_claims(plan: Plan, again: Plan) -> Iterator[Finding]:
    """An edited plan is one that nobody searched for: it claims no proof, nor who made it."""
    if plan.proof != again.proof or plan.made_with != again.made_with:
        message = (
            "this plan was edited by hand, so what a search found of it holds no more; where all "
            "else stands, `lugwright check --accept` takes the claim out and seals the plan again"
        )
        yield Finding(CLAIM, "proof", message)


def _sealed_claims(plan: Plan, again: Plan, brief: Brief) -> Iterator[Finding]:
    """Of a plan as it was written: its levels and cost, and that its holds are stated and kept."""
    for name in ("levels", "cost"):
        stated, own = getattr(plan.proof, name), getattr(again.proof, name)
        if stated != own:
            message = f"the plan says {_word(stated)}, made again {_word(own)}"
            yield Finding("proof", f"proof, {name}", message)
    if plan.proof.tie_rule not in (TIE_RULE, UNSEARCHED_TIE_RULE):
        yield Finding("proof", "proof, tie_rule", "is not a rule that this program tells plans by")
    yield from _held(plan, brief)


def _held(plan: Plan, brief: Brief) -> Iterator[Finding]:
    """Every hold is stated once, in order, with the price of all where each has one, and kept."""
    words, hubs = list(plan.proof.held), {one.name for one in brief.console.instruments}
    told = read_told(words, hubs)
    in_order = [hold for text in words for hold in read_told([text], hubs).holds]
    priced = any(text.endswith(")") for text in words)
    together = [text for text in words if text.startswith(ALL_HOLDS)]
    fine = len(set(words)) == len(words) and in_order == list(told.holds)
    if priced and len(in_order) > 1:
        fine = fine and together == words[-1:] and words[-1].endswith(")")
    if not fine:
        yield Finding("hold", "proof, held", "is not the list of what is held, as it was written")
    yield from holds_broken(plan, told)
    for hold in merged(brief.holds, told).holds:
        if hold not in told.holds:
            message = "is held by the scenario, and the plan does not say so"
            yield Finding("hold", str(hold), message)


def _word(value: object) -> str:
    """A value as it stands in the file."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, tuple):
        return "[" + ", ".join(map(_word, value)) + "]"
    return f'"{value}"' if isinstance(value, str) else str(value)
