"""Cutting pieces of wire from spools and offcuts: the question, its plain bounds, a first answer.

One-dimensional cutting stock: every piece is cut whole from one length of wire. Wire cutters
waste no kerf. What is left of a length is an *offcut* when it is long enough to keep, else scrap.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import gcd
from typing import Literal

from lugwright.base.scale import ceil_div

Least = Literal["spools", "scrap"]


@dataclass(frozen=True)
class PackingQuestion:
    """Lengths in 0.1 mm. ``pieces`` maps a length to how many are wanted.

    ``on_hand`` are offcuts and begun spools, each once; ``spool_dmm`` a new spool, as many as
    wanted. A rest of ``keep_dmm`` or more is kept, a shorter one is scrap. ``least`` says what
    counts first: new spools (then scrap), or scrap (then new spools).
    """

    pieces: Mapping[int, int]
    on_hand: tuple[int, ...]
    spool_dmm: int
    keep_dmm: int
    least: Least = "spools"

    def __post_init__(self) -> None:
        """Raises ValueError for a length or number that is not positive, or a piece too long."""
        lengths = (*self.pieces, *self.on_hand, self.spool_dmm)
        if min(lengths, default=1) <= 0 or min(self.pieces.values(), default=1) <= 0:
            raise ValueError("lengths and numbers of pieces must be above 0")
        if max(self.pieces, default=0) > max((self.spool_dmm, *self.on_hand)):
            raise ValueError("a piece is longer than any spool")

    @property
    def total_dmm(self) -> int:
        """All wire that is wanted."""
        return sum(length * count for length, count in self.pieces.items())


@dataclass(frozen=True, order=True)
class Filled:
    """One length of wire and what is cut from it: (length, how many), longest first."""

    stock_dmm: int
    new: bool
    cuts: tuple[tuple[int, int], ...]

    @property
    def rest_dmm(self) -> int:
        """What is left."""
        return self.stock_dmm - sum(length * count for length, count in self.cuts)


@dataclass(frozen=True)
class Packing:
    """An answer: every length that is cut into, and what is known about how good it is."""

    filled: tuple[Filled, ...]
    spools: int
    scrap_dmm: int
    spools_bound: int
    scrap_bound_dmm: int

    def cost(self, least: Least) -> tuple[int, int]:
        """What is compared, the more important first."""
        both = (self.spools, self.scrap_dmm)
        return both if least == "spools" else both[::-1]

    def bound(self, least: Least) -> tuple[int, int]:
        """The proved bound of ``cost``."""
        both = (self.spools_bound, self.scrap_bound_dmm)
        return both if least == "spools" else both[::-1]

    def proved(self, least: Least) -> bool:
        """True when no answer is better."""
        return self.cost(least) == self.bound(least)


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
        sum(scrap_dmm(question, one.rest_dmm) for one in used),
        bound,
        scrap_bound_dmm,
    )


def _order(one: Filled) -> tuple[bool, int, tuple[tuple[int, int], ...]]:
    """Offcuts first, the shortest first; then spools, the longest pieces first."""
    return (one.new, one.stock_dmm, tuple((-length, -count) for length, count in one.cuts))


def scrap_dmm(question: PackingQuestion, rest_dmm: int) -> int:
    """What of a rest is scrap: all of it, unless it is long enough to keep."""
    return 0 if rest_dmm >= question.keep_dmm else rest_dmm


def spools_bound_plain(question: PackingQuestion) -> int:
    """Fewest new spools by length alone, and by pieces of which no two share a spool.

    The textbook bounds of bin packing (Martello and Toth 1990, chapter 8, L1 and its simplest
    relative; from memory), with what is on hand taken off.
    """
    by_length = ceil_div(max(0, question.total_dmm - sum(question.on_hand)), question.spool_dmm)
    big = sum(n for length, n in question.pieces.items() if 2 * length > question.spool_dmm)
    homes = sum(max(0, stock // (question.spool_dmm // 2 + 1)) for stock in question.on_hand)
    return max(by_length, big - homes, 0)


def first_answer(question: PackingQuestion) -> Packing:
    """Fill one length after the other, offcuts first, the shortest first: good, not proved.

    Each fill is a subset sum solved exactly, long pieces preferred. It is tried twice: as full as
    it gets, and so that what would be scrap stays long enough to keep.
    """
    ways = [_filled_up(question, spare=spare) for spare in (False, True)]
    return min((packing_of(question, way) for way in ways), key=lambda x: x.cost(question.least))


def _filled_up(question: PackingQuestion, *, spare: bool) -> list[Filled]:
    """Every length filled in turn; ``spare`` leaves a rest to keep where there would be scrap."""
    left = dict(question.pieces)
    filled = []
    stocks = [(stock, False) for stock in sorted(question.on_hand)]
    while left or stocks:
        stock, new = stocks.pop(0) if stocks else (question.spool_dmm, True)
        cuts = fullest(left, stock)
        one = Filled(stock, new, cuts)
        if spare and scrap_dmm(question, one.rest_dmm) and stock > question.keep_dmm:
            cuts = fullest(left, stock - question.keep_dmm)
            if cuts or not new:
                one = Filled(stock, new, cuts)
        _take(left, one.cuts)
        filled.append(one)
    return filled


def _take(left: dict[int, int], cuts: Sequence[tuple[int, int]]) -> None:
    for length, count in cuts:
        left[length] -= count
        if not left[length]:
            del left[length]


def fullest(left: Mapping[int, int], stock_dmm: int) -> tuple[tuple[int, int], ...]:
    """The cuts that leave least of a length, as (length, how many), longest first.

    A bounded subset sum over bits: bit n of a row says that n units can be cut from the lengths
    so far; long pieces are taken first where there is a choice. Where everything left fits, all
    of it is cut.
    """
    if sum(length * count for length, count in left.items()) <= stock_dmm:
        return tuple(sorted(left.items(), reverse=True))
    unit = gcd(*left)
    room = stock_dmm // unit
    lengths = sorted(left)  # short ones first, so that reading back takes long ones first
    rows = [1]
    for length in lengths:
        rows.append(_with(rows[-1], length // unit, left[length], room))
    at = rows[-1].bit_length() - 1
    cuts = []
    for index in range(len(lengths) - 1, -1, -1):
        step, count = lengths[index] // unit, 0
        most = min(left[lengths[index]], at // step)
        count = next(n for n in range(most, -1, -1) if rows[index] >> (at - n * step) & 1)
        if count:
            cuts.append((lengths[index], count))
        at -= count * step
    return tuple(cuts)


def _with(row: int, step: int, count: int, room: int) -> int:
    """All sums with up to ``count`` more of one length, none beyond the room."""
    mask = (1 << (room + 1)) - 1
    power = 1
    while count:
        part = min(power, count)
        row |= (row << (part * step)) & mask
        count -= part
        power *= 2
    return row
