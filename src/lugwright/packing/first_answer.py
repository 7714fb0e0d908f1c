"""A first answer: one length filled after the other, each as full as it gets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import gcd

from lugwright.packing.bounds import packing_of
from lugwright.packing.kerf_and_scrap import scrap_dmm
from lugwright.packing.question import Filled, Packing, PackingQuestion


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
        if spare and scrap_dmm(one.rest_dmm, question.keep_dmm) and stock > question.keep_dmm:
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
