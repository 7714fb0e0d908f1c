"""Plain bounds of a packing, and an answer set beside them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from lugwright.base.scale import ceil_div
from lugwright.packing.kerf_and_scrap import scrap_dmm
from lugwright.packing.question import Filled, Packing, PackingQuestion


def spools_bound_plain(question: PackingQuestion) -> int:
    """Fewest new spools by length alone, and by pieces of which no two share a spool.

    The textbook bounds of bin packing (Martello and Toth 1990, chapter 8, L1 and its simplest
    relative; from memory), with what is on hand taken off.
    """
    by_length = ceil_div(max(0, question.total_dmm - sum(question.on_hand)), question.spool_dmm)
    big = sum(n for length, n in question.pieces.items() if 2 * length > question.spool_dmm)
    homes = sum(max(0, stock // (question.spool_dmm // 2 + 1)) for stock in question.on_hand)
    return max(by_length, big - homes, 0)


def packing_of(
    question: PackingQuestion,
    filled: Iterable[Filled],
    spools_bound: int | None = None,
    scrap_bound_dmm: int = 0,
) -> Packing:
    """An answer from what is cut, with the plain bounds where no better ones are known.

    Raises ValueError when it does not cut just what is wanted.
    """
    used = tuple(sorted((one for one in filled if one.cuts), key=_order))
    got: Counter[int] = Counter()
    for one in used:
        got.update(dict(one.cuts))
        if one.rest_dmm < 0:
            raise ValueError("more is cut from a length than it holds")
    if got != Counter(question.pieces):
        raise ValueError("the cuts are not the pieces wanted")
    taken = Counter(one.stock_dmm for one in used if not one.new)
    if taken - Counter(question.on_hand):
        raise ValueError("an offcut is used that is not on hand")
    bound = spools_bound_plain(question) if spools_bound is None else spools_bound
    return Packing(
        used,
        sum(one.new for one in used),
        sum(scrap_dmm(one.rest_dmm, question.keep_dmm) for one in used),
        bound,
        scrap_bound_dmm,
    )


def _order(one: Filled) -> tuple[bool, int, tuple[tuple[int, int], ...]]:
    """Offcuts first, the shortest first; then spools, the longest pieces first."""
    return (one.new, one.stock_dmm, tuple((-length, -count) for length, count in one.cuts))
