"""Pass bands in words, the same on every sheet."""

from __future__ import annotations

from fractions import Fraction

from lugwright.plans.schema import Plan
from lugwright.readings.schema import Line

OPEN = "OL"
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
    if line.part in ("feeds apart", "not live"):
        return f"under {number_text((line.high or 0) + 1, line.unit)} {line.unit}"
    if line.low is None or line.high is None:
        least = f"at least {number_text(line.low or 0, line.unit)} {line.unit}"
        return f"{least}, or {OPEN}" if line.unit == "ohm" else least
    high = number_text(line.high, line.unit)
    if line.low == 0:
        return f"at most {high} {line.unit}"
    return f"{number_text(line.low, line.unit)} to {high} {line.unit}"


def _offset(offset_mv: int | None) -> str:
    offset = offset_mv or 0
    return f"{'-' if offset < 0 else '+'} {number_text(abs(offset), 'V')}"


def band_at_nominal(plan: Plan, line: Line) -> str:
    """The band of a line in V with nominal supply; "" where that changes nothing."""
    if not line.of_supply or line.low is None or line.high is None:
        return ""
    nominal = plan.panel.nominal_mv
    ends = (number_text(nominal + end, "V") for end in (line.low, line.high))
    return " to ".join(ends)


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
