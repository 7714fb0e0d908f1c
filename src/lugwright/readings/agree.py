"""Do readings agree with what a bad joint would have made them be?

One does when the joint accounts for the verdict, and either the value lies near what the joint
would make it, or both lie so far outside the band on one side that only the side can be trusted:
what floats behind an open joint stands where the electronics in it like.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lugwright.readings import bands as b
from lugwright.readings.judge import Judged
from lugwright.readings.network import Array

Truths = NDArray[np.bool_]

# Beyond the band by this much only the side counts.
GROSS_V, GROSS_OHM = 0.5, 3.0
# A meter that shows OL sees at least this, ohm.
OPEN_OHM = 1000.0


@dataclass(frozen=True)
class Taken:
    """Readings in V and ohm side by side, with their bands (infinite where there is no end).

    ``step`` is what the meter may be off, ``loose`` how far a sound network may be from ours, and
    ``gross`` from where on only the side counts.
    """

    lines: tuple[str, ...]
    value: Array
    low: Array
    high: Array
    step: Array
    loose: Array
    gross: Array
    is_low: Truths
    is_high: Truths
    is_open: Truths


def taken_from(judged: Sequence[Judged]) -> Taken:
    """The readings of measured lines."""
    ohm = np.array([one.line.unit == "ohm" for one in judged], dtype=bool)
    value = np.array([_value(one) for one in judged])
    low = np.array([-np.inf if one.low is None else float(one.low) / 1000 for one in judged])
    high = np.array([np.inf if one.high is None else float(one.high) / 1000 for one in judged])
    step = np.where(ohm, b.METER_MOHM, b.METER_MV) / 1000
    return Taken(
        lines=tuple(one.line.id for one in judged),
        value=value,
        low=low,
        high=high,
        step=step,
        loose=np.where(ohm, np.maximum(step, high / 2), step + (high - low) / 2),
        gross=np.where(ohm, GROSS_OHM, GROSS_V),
        is_low=np.array([one.verdict == "low" for one in judged], dtype=bool),
        is_high=np.array([one.verdict == "high" for one in judged], dtype=bool),
        is_open=ohm & (value >= OPEN_OHM),
    )


def agrees(taken: Taken, least: Array, most: Array) -> tuple[Truths, Array]:
    """Which readings (columns) agree with which spans (rows), and how far each is off.

    How far is counted in the looseness of the line, squared, and capped at 4.
    """
    beyond = np.maximum(least - taken.value, taken.value - most).clip(0) / taken.loose
    may_be_low = least - taken.step < taken.low
    may_be_high = most + taken.step > taken.high
    may_pass = (least - taken.step <= taken.high) & (most + taken.step >= taken.low)
    accounts = np.where(taken.is_low, may_be_low, np.where(taken.is_high, may_be_high, may_pass))
    side = taken.is_low & (most < taken.low - taken.gross)
    side |= taken.is_high & (least > taken.high + taken.gross)
    side |= taken.is_open & (most >= OPEN_OHM)
    off = np.where(side, 0.0, np.minimum(beyond, 2) ** 2)
    return accounts & ((beyond <= 1) | side), off


def _value(one: Judged) -> float:
    """What was read, in V or ohm."""
    if one.reading is None or one.reading.is_open:
        return float("inf")
    return float(one.reading.thousandths) / 1000
