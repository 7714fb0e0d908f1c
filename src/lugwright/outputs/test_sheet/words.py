"""Pass bands, readings and tips of the meter in words."""

from __future__ import annotations

from fractions import Fraction

from lugwright.plan.schema import Plan
from lugwright.readings.judge import Judged
from lugwright.readings.lines import Line
from lugwright.readings.read_csv import OPEN, Reading

_PLACES = {"ohm": 1, "V": 2, "A": 2}


def number_text(thousandths: Fraction | int, unit: str) -> str:
    """A number in a meter's steps, without its unit; more places only where it needs them."""
    value = float(thousandths) / 1000
    places = _PLACES[unit]
    rounded = round(value, places)
    text = f"{rounded:.{places}f}" if abs(rounded - value) < 1e-9 else f"{value:.3f}"
    return text.removeprefix("-") if float(text) == 0 else text


def band_text(line: Line) -> str:
    """The pass band of a line: what a reading must be to pass."""
    if line.unit == "yes or no":
        return "yes"
    if line.part == "volts":
        pole = "supply" if line.of_supply else "minus"
        return f"{pole} {_offset(line.low)} to {_offset(line.high)} V"
    if line.low is None or line.high is None:
        return f"at least {number_text(line.low or 0, line.unit)} {line.unit}, or {OPEN}"
    high = number_text(line.high, line.unit)
    if line.low == 0:
        return f"at most {high} {line.unit}"
    return f"{number_text(line.low, line.unit)} to {high} {line.unit}"


def _offset(offset_mv: int | None) -> str:
    offset = offset_mv or 0
    return f"{'-' if offset < 0 else '+'} {number_text(abs(offset), 'V')}"


def band_at(one: Judged) -> str:
    """The band at the supply that was measured."""
    if not one.line.of_supply or one.low is None or one.high is None:
        return band_text(one.line)
    return f"{number_text(one.low, 'V')} to {number_text(one.high, 'V')} V"


def band_at_nominal(plan: Plan, line: Line) -> str:
    """The band of a line in V with nominal supply; "" where that changes nothing."""
    if not line.of_supply or line.low is None or line.high is None:
        return ""
    nominal = plan.panel.nominal_mv
    ends = (number_text(nominal + end, "V") for end in (line.low, line.high))
    return " to ".join(ends)


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
    if line.part == "does":
        return f"{line.at_words}: {line.what}"
    if line.part == "first current":
        return f"{line.part}, {line.start_words}"
    return f"{line.part}, {line.at_words}"


def supply_place(plan: Plan) -> str:
    """Where the supply is measured: where the runs behind the pigtails begin, if they are known."""
    landed = {landing.circuit for landing in plan.landings}
    runs = [row.run_uohm for row in plan.panel.circuits if row.name in landed]
    if runs and all(runs):
        return "where the wires to the pigtails begin: the posts of the battery or its main switch"
    return "on the pigtails' pins in the engine's plug, from behind"


def nominal_text(plan: Plan) -> str:
    """Nominal volts, to two places."""
    return f"{number_text(plan.panel.nominal_mv, 'V')} V"


def limits_behind(plan: Plan) -> list[tuple[str, str, str]]:
    """The limits of the plan that the bands follow: name, value, where from."""
    behind = ("conductor_temperature", "crimp_resistance")
    return [
        (f"limit {limit.name.replace('_', ' ')}", limit.value, f"{limit.source} ({limit.origin})")
        for limit in plan.limits
        if limit.name in behind
    ]
