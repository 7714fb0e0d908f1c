"""The second opinion on a production run: counted anew from the plans' own parts.

Counts from jumpers, crimps, caps and stacks, not from the plans' buy lists; imports nothing of
the room that made the run.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from lugwright.checker.book import Book
from lugwright.checker.finding import Report
from lugwright.plans.schema import BuyLine, Plan

RULE = "production run"
CMIN_PER_HOUR = 6000
Cut = tuple[int, bool, tuple[tuple[int, int], ...]]
"""One length of wire: its length, whether it is new, and what is cut from it (length, count)."""


@dataclass(frozen=True)
class RunFacts:
    """What a run says of itself. Lengths in 0.1 mm, money in millionths, time in 0.01 min.

    ``boats`` stand beside ``plans``. ``cut`` and ``crimped`` hold the batches, ``spools`` how
    each wire is cut, ``on_hand`` what lay there. ``set_up_cmin`` is taken as stated.
    """

    plans: Sequence[Plan]
    boats: Sequence[int]
    cut: Mapping[tuple[str, int], int]
    crimped: Mapping[str, int]
    spools: Mapping[str, Sequence[Cut]]
    on_hand: Mapping[str, Sequence[int]]
    bought: Sequence[BuyLine]
    piece_cmin: int
    piece_money_micro: int
    set_up_cmin: int
    set_up_micro: int
    rate_micro_per_hour: int


def check_run(facts: RunFacts) -> Report:
    """Recompute a run's counts, packs, cuts, minutes and money, and report every difference."""
    book = Book()
    pairs = list(zip(facts.plans, facts.boats, strict=True))
    pieces: Counter[tuple[str, int]] = Counter()
    fittings: Counter[str] = Counter()
    for plan, boats in pairs:
        for piece in plan.jumpers:
            pieces[piece.spool, piece.length_dmm] += boats
        for crimp in plan.crimps:
            fittings[crimp.item] += boats
    book.same(_frozen(facts.cut), _frozen(pieces), RULE, "cutting", "pieces by wire and length")
    book.same(_frozen(facts.crimped), _frozen(fittings), RULE, "crimping", "fittings by item")
    for spool in sorted({name for name, _ in pieces}):
        wanted = {length: count for (name, length), count in pieces.items() if name == spool}
        _spool(book, spool, wanted, facts)
    for plan, boats in pairs:
        for cap in plan.caps:
            if cap.item:
                fittings[cap.item] += boats
    _packs(book, facts, pieces, fittings)
    minutes = sum(boats * plan.totals.minutes_cmin for plan, boats in pairs)
    money = sum(boats * plan.totals.money_micro for plan, boats in pairs)
    book.same(facts.piece_cmin, minutes, RULE, "minutes", "boats times minutes", "x 0.01 min")
    book.same(facts.piece_money_micro, money, RULE, "money", "boats times money", "millionths")
    set_up = -(-facts.set_up_cmin * facts.rate_micro_per_hour // CMIN_PER_HOUR)
    book.same(
        facts.set_up_micro, set_up, RULE, "setting up", "minutes at the rate", "millionths"
    )
    return book.report()


T = TypeVar("T", bound=Hashable)


def _frozen(counts: Mapping[T, int]) -> frozenset[tuple[T, int]]:
    return frozenset(counts.items())


def _spool(book: Book, spool: str, wanted: Mapping[int, int], facts: RunFacts) -> None:
    """Every piece is cut, no length gives more than it holds, no offcut is used twice."""
    got: Counter[int] = Counter()
    used: Counter[int] = Counter()
    for stock, new, cuts in facts.spools.get(spool, ()):
        taken = sum(length * count for length, count in cuts)
        message = "more is cut from a length of wire than it holds"
        book.expect(taken <= stock, RULE, spool, message, taken, stock, "the spool")
        got.update(dict(cuts))
        used[stock] += not new
    book.same(_frozen(got), _frozen(wanted), RULE, spool, "pieces cut from spools")
    over = used - Counter(facts.on_hand.get(spool, ()))
    book.expect(not over, RULE, spool, "an offcut is used that is not on hand")


def _packs(
    book: Book,
    facts: RunFacts,
    pieces: Mapping[tuple[str, int], int],
    fittings: Mapping[str, int],
) -> None:
    """Whole packs that hold what is needed and no pack more; new spools as they are cut into."""
    lines = {line.item: line for line in facts.bought}
    price = {line.item: line.cost_micro // line.packs for plan in facts.plans for line in plan.buy}
    for item, need in fittings.items():
        line = lines.get(item)
        if not book.expect(line is not None, RULE, item, "is not on the buy list") or not line:
            continue
        book.same(line.need, need, RULE, item, "needed pieces")
    for spool in sorted({name for name, _ in pieces}):
        line = lines.get(spool)
        new = sum(is_new for _, is_new, _ in facts.spools.get(spool, ()))
        stated = line.packs if line else 0
        book.same(stated, new, RULE, spool, "new spools")
    for line in facts.bought:
        if line.unit == "piece":
            message = f"{line.packs} packs of {line.pack} are not the fewest for {line.need}"
            fewest = (line.packs - 1) * line.pack < line.need <= line.packs * line.pack
            book.expect(fewest, RULE, line.item, message)
        cost = line.packs * price.get(line.item, 0)
        book.same(line.cost_micro, cost, RULE, line.item, "cost of the packs", "millionths")
