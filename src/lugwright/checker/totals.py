"""Totals, money and the stated cost, counted again from the plan."""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.base.scale import ceil_div
from lugwright.checker.book import Book
from lugwright.checker.facts import Facts
from lugwright.plans.schema import Totals

CMIN_PER_HOUR = 6000
DMM_PER_M = 10_000
_UNITS = {"dmm": "x 0.1 mm", "cmin": "x 0.01 min", "micro": "millionths"}


def check_totals(facts: Facts, book: Book) -> None:
    """Every total, the cost the objective makes of them, and what is said to be proved."""
    own = own_totals(facts)
    for name, value in own.model_dump().items():
        stated = getattr(facts.plan.totals, name)
        place, _, end = name.rpartition("_")
        unit = _UNITS.get(end, "")
        words = (place if unit else name).replace("_", " ")
        book.same(stated, value, "totals", words, "the sum", unit)
    _cost(facts, book, own)


def own_totals(facts: Facts) -> Totals:
    """The sums over the plan. Labour is rounded once for itself, item by item in the money.

    Rule R26.
    """
    plan, rate = facts.plan, facts.limits.rate_micro_per_hour
    heights = _heights(facts)
    wire = sum(
        ceil_div(spool.price_micro_per_m * jumper.length_dmm, DMM_PER_M)
        for jumper in plan.jumpers
        if (spool := facts.spool(jumper))
    )
    items = [facts.fittings[crimp.item] for crimp in plan.crimps if crimp.item in facts.fittings]
    fittings = sum(item.price_micro for item in items)
    work = list(_work_cmin(facts))
    labour = sum(ceil_div(item * rate, CMIN_PER_HOUR) for item in work)
    return Totals(
        wire_dmm=sum(jumper.length_dmm for jumper in plan.jumpers),
        jumpers=len(plan.jumpers),
        fittings=len(plan.crimps),
        stacked_lugs=sum(max(0, height - 1) for height in heights),
        tallest_stack=max(heights, default=0),
        splices=len(plan.splices),
        wire_cost_micro=wire,
        fitting_cost_micro=fittings,
        minutes_cmin=sum(work),
        labour_cost_micro=ceil_div(sum(work) * rate, CMIN_PER_HOUR),
        money_micro=wire + fittings + labour,
    )


def _heights(facts: Facts) -> list[int]:
    """Lugs on each stud, counted from the crimps and the ready-made rings, not from the stacks.

    Rule R25.
    """
    found = []
    for post in facts.console.posts:
        if post.kind == "stud":
            ready = sum(
                wire.post == post.id and facts.is_ready(wire.name)
                for wire in facts.panel_wires.values()
            )
            ready += sum(post.id in strap.posts for strap in facts.console.straps)
            found.append(len(facts.crimps_at.get(post.id, [])) + ready)
    return found


def _work_cmin(facts: Facts) -> Iterator[int]:
    """Minutes of every cut, every fitting and every landing, in hundredths, one by one.

    Rule R27.
    """
    limits = facts.limits
    for _ in facts.plan.jumpers:
        yield limits.minutes_cut_cmin
    for crimp in facts.plan.crimps:
        row = facts.fittings.get(crimp.item)
        kind = row.kind if row else crimp.kind
        yield limits.minutes_fitting_cmin.get(kind, 0)
        post = facts.posts.get(crimp.joint)
        if post and post.kind in ("stud", "tab"):
            wires = [end.wire for half in crimp.barrels for end in half]
            stage = "aboard" if any(facts.stage_of(wire) == "aboard" for wire in wires) else "bench"
            yield limits.minutes_landing_cmin.get(kind, {}).get(stage, 0)
    for wire in facts.panel_wires.values():
        if wire.post and facts.is_ready(wire.name):
            yield limits.minutes_landing_cmin.get("ring", {}).get(wire.stage, 0)
    for strap in facts.console.straps:
        for _ in strap.posts:
            yield limits.minutes_landing_cmin.get("ring", {}).get("bench", 0)


def objective_cost(facts: Facts, totals: Totals) -> tuple[int, ...]:
    """What the objective makes of the totals, most important first. Rule R28."""
    limits = facts.limits
    wire, stacked, fittings = totals.wire_dmm, totals.stacked_lugs, totals.fittings
    if limits.objective == "shortest":
        return (wire, stacked, fittings)
    if limits.objective == "lowest-stacks":
        return (stacked, totals.tallest_stack, wire, fittings)
    if limits.objective == "cheapest":
        return (totals.money_micro,)
    if limits.objective == "weights":
        parts = {"length": wire, "stacked": stacked, "fittings": fittings,
                 "money": totals.money_micro}  # fmt: skip
        return (sum(limits.weights.get(name, 0) * value for name, value in parts.items()),)
    worth = limits.lug_worth_dmm * stacked + limits.fitting_worth_dmm * fittings
    return (wire + worth,)


def _cost(facts: Facts, book: Book, own: Totals) -> None:
    proof = facts.plan.proof
    book.same(proof.objective, facts.limits.objective, "cost", "proof", "the objective")
    counted = "the cost, as the file counts it"
    book.same(proof.cost, objective_cost(facts, own), "cost", "proof", counted)
    same_number = len(proof.levels) == len(proof.cost)
    book.expect(same_number, "cost", "proof", "levels and costs are not as many")
    if proof.bound:
        message = "the plan costs less than its own bound"
        low = len(proof.bound) == len(proof.cost) and proof.bound <= proof.cost
        book.expect(low, "proof", "proof", message, proof.cost, proof.bound, "the plan's proof")
    message = "the plan is called proved best although cost and bound differ"
    if not proof.proved:
        message = "cost and bound are equal, but the plan is not called proved best"
    equal = proof.cost == proof.bound
    book.expect(
        proof.proved == equal, "proof", "proof", message, proof.cost, proof.bound,
        "the plan's proof",
    )  # fmt: skip
