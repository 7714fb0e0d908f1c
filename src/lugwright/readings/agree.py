"""Does a reading agree with what a bad joint would have made it be?

It does when the joint accounts for the verdict, and either the value lies near what the joint
would make it, or both lie so far outside the band on one side that only the side can be trusted:
what floats behind an open joint stands where the electronics in it like.
"""

from __future__ import annotations

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


def agrees(one: Judged, least: Array, most: Array) -> tuple[Truths, Array]:
    """For each of many spans, in V or ohm: does the reading agree with it, and how far is it off?

    How far is counted in the looseness of the line, squared, and capped at 4.
    """
    value = _value(one)
    band_low = -np.inf if one.low is None else float(one.low) / 1000
    band_high = np.inf if one.high is None else float(one.high) / 1000
    step, loose, gross = _looseness(one, band_low, band_high)
    beyond = np.maximum(least - value, value - most).clip(0) / loose
    accounts = {
        "pass": (least - step <= band_high) & (most + step >= band_low),
        "low": least - step < band_low,
        "high": most + step > band_high,
    }[one.verdict]
    side = {
        "pass": np.zeros_like(accounts),
        "low": most < band_low - gross,
        "high": least > band_high + gross,
    }[one.verdict]
    if value >= OPEN_OHM and one.line.unit == "ohm":
        side = side | (most >= OPEN_OHM)
    off = np.where(side, 0.0, np.minimum(beyond, 2) ** 2)
    return accounts & ((beyond <= 1) | side), off


def _value(one: Judged) -> float:
    """What was read, in V or ohm."""
    if one.reading is None or one.reading.is_open:
        return float("inf")
    return float(one.reading.thousandths) / 1000


def _looseness(one: Judged, band_low: float, band_high: float) -> tuple[float, float, float]:
    """The meter's step, how far a sound network may be from ours, and what is gross."""
    if one.line.unit == "V":
        step = b.METER_MV / 1000
        return step, step + (band_high - band_low) / 2, GROSS_V
    step = b.METER_MOHM / 1000
    if band_high == np.inf:
        return step, max(step, band_low / 2), GROSS_OHM
    return step, max(step, band_high / 2), GROSS_OHM
