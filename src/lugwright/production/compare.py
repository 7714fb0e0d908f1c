"""Fittings and stacks of two plans, told apart by what is in them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from lugwright.base.scale import mm_text
from lugwright.outputs.rows_bench import lug_name
from lugwright.outputs.words import barrels_text
from lugwright.plans.schema import Crimp, StackedLug
from lugwright.production.pairing import Pairing, Side


def _identity(crimp: Crimp, side: Side, names: Mapping[str, str]) -> tuple[object, ...]:
    """What makes a fitting the same: its item, its joint, and the wires in its barrels.

    ``names`` gives a cut piece the name it is compared by; the end does not matter, since each
    end of a piece lies at another joint.
    """
    barrels = sorted(
        tuple(sorted(names.get(end.wire, end.wire) for end in barrel)) for barrel in crimp.barrels
    )
    return crimp.item, side.joint(crimp.joint), crimp.folded, crimp.stage, tuple(barrels)


def _names(before: Side, pairing: Pairing) -> dict[str, str]:
    """Old labels as the new plan says them; a piece that is gone or cut anew keeps a name apart."""
    kept = {label: f"old {label}" for label in before.pieces}
    return kept | pairing.same


def fitting_sides(before: Side, after: Side, pairing: Pairing) -> tuple[list[Crimp], list[Crimp]]:
    """Fittings only the old plan has, and those only the new one has."""
    names = _names(before, pairing)
    was = [(_identity(crimp, before, names), crimp) for crimp in before.plan.crimps]
    now = [(_identity(crimp, after, {}), crimp) for crimp in after.plan.crimps]
    in_new, in_old = Counter(key for key, _ in now), Counter(key for key, _ in was)
    return _left_over(was, in_new), _left_over(now, in_old)


def _left_over(
    found: Sequence[tuple[tuple[object, ...], Crimp]], others: Counter[tuple[object, ...]]
) -> list[Crimp]:
    others, left = Counter(others), []
    for key, crimp in found:
        if others[key]:
            others[key] -= 1
        else:
            left.append(crimp)
    return left


def crimp_text(crimp: Crimp, side: Side) -> str:
    """A fitting and the wires in it."""
    folded = ", folded back" if crimp.folded else ""
    return f"{crimp.item} on {barrels_text(crimp.barrels, side.cut)}{folded}"


def _lug_text(lug: StackedLug, side: Side) -> str:
    if not lug.crimp:
        return lug_name(lug)
    return crimp_text(side.crimps[lug.crimp], side)


def _lug_key(lug: StackedLug, side: Side, names: Mapping[str, str]) -> tuple[object, ...]:
    crimp = side.crimps.get(lug.crimp)
    return (lug.ready, *(_identity(crimp, side, names) if crimp else ()))


def changed_stacks(before: Side, after: Side, pairing: Pairing) -> list[str]:
    """Posts whose lugs, their order, or whose nut at the bench differ."""
    names = _names(before, pairing)
    was = {
        stack.post: ([_lug_key(lug, before, names) for lug in stack.lugs], stack.nut_at_bench)
        for stack in before.plan.stacks
    }
    now = {
        stack.post: ([_lug_key(lug, after, {}) for lug in stack.lugs], stack.nut_at_bench)
        for stack in after.plan.stacks
    }
    return sorted(post for post in was.keys() | now.keys() if was.get(post) != now.get(post))


def stack_text(post: str, side: Side) -> str:
    """A stack from base to nut in words; "" where that plan has none."""
    for stack in side.plan.stacks:
        if stack.post == post:
            lugs = "; ".join(_lug_text(lug, side) for lug in stack.lugs)
            left = mm_text(stack.free_dmm - stack.used_dmm)
            return f"from the base: {lugs}; nut {stack.nut_at_bench}, {left} mm of thread left"
    return ""
