"""Verdict per line: what was read against the pass band, at the measured supply."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from lugwright.readings.read_csv import Reading
from lugwright.readings.schema import Line, Sheet

Verdict = Literal["pass", "low", "high", "no", "not measured"]
PASSED: frozenset[Verdict] = frozenset({"pass", "not measured"})


@dataclass(frozen=True)
class Judged:
    """One line with its reading and verdict. The band is in thousandths of the line's unit."""

    line: Line
    reading: Reading | None
    low: Fraction | None
    high: Fraction | None
    verdict: Verdict


def judge(sheet: Sheet, readings: Mapping[str, Reading]) -> tuple[Judged, ...]:
    """Every line of the sheet, and what was measured beyond it, judged."""
    supply = readings.get(sheet.supply_line, Reading()).thousandths
    lines = (*sheet.lines, *(line for line in sheet.extra if line.id in readings))
    return tuple(judge_line(line, readings.get(line.id), supply) for line in lines)


def judge_line(line: Line, reading: Reading | None, supply_mv: Fraction) -> Judged:
    """One line; ``supply_mv`` is the supply as measured."""
    shift = supply_mv if line.of_supply else Fraction(0)
    low = None if line.low is None else line.low + shift
    high = None if line.high is None else line.high + shift
    return Judged(line, reading, low, high, _verdict(line, reading, low, high))


def _verdict(
    line: Line, reading: Reading | None, low: Fraction | None, high: Fraction | None
) -> Verdict:
    if reading is None:
        return "not measured"
    if line.unit == "yes or no":
        return "pass" if reading.seen else "no"
    if reading.is_open:
        return "pass" if high is None else "high"
    if low is not None and reading.thousandths < low:
        return "low"
    if high is not None and reading.thousandths > high:
        return "high"
    return "pass"
