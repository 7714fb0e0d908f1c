"""Pass bands, readings and tips of the meter in words."""

from __future__ import annotations

from lugwright.plans.schema import Plan
from lugwright.readings.judge import Judged
from lugwright.readings.read_csv import Reading
from lugwright.readings.schema import Line
from lugwright.readings.words import OPEN, band_text, number_text


def band_at(one: Judged) -> str:
    """The band at the supply that was measured."""
    if not one.line.of_supply or one.low is None or one.high is None:
        return band_text(one.line)
    return f"{number_text(one.low, 'V')} to {number_text(one.high, 'V')} V"


def reading_text(line: Line, reading: Reading | None) -> str:
    """What was read."""
    if reading is None:
        return ""
    if line.unit == "yes or no":
        return "yes" if reading.seen else "no"
    if reading.is_open:
        return OPEN
    return f"{number_text(reading.thousandths, line.unit)} {line.unit}"


def what_text(line: Line) -> str:
    """A line in a few words: what is measured where."""
    if line.unit == "yes or no":
        return f"{line.at_words}: {line.what}"
    if line.part == "first current":
        return f"{line.part}, {line.start_words}"
    return f"{line.part}, {line.at_words}"


def limits_behind(plan: Plan) -> list[tuple[str, str, str]]:
    """The limits of the plan that the bands follow: name, value, where from."""
    behind = ("conductor_temperature", "crimp_resistance")
    return [
        (f"limit {limit.name.replace('_', ' ')}", limit.value, f"{limit.source} ({limit.origin})")
        for limit in plan.limits
        if limit.name in behind
    ]
