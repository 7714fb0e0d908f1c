"""Which of two values of a limit is the looser one."""

from __future__ import annotations

from lugwright.electrics.ampacity import bundle_factor_permille
from lugwright.electrics.tables import bundle_rows
from lugwright.limits.spec import LimitSpec, SizeValue, Unit, Value

BUNDLE_RULE = "bundle_rule"
RANGED = (
    *(Unit.LENGTH, Unit.SHARE, Unit.RATIO, Unit.PITCHES, Unit.COUNT, Unit.TEMPERATURE),
    *(Unit.RESISTANCE, Unit.VOLTS_OR_OFF, Unit.WIRE_SIZE, Unit.MONEY_PER_HOUR, Unit.MINUTES),
)
"""Units whose values lie on a scale, so that a shop can give a range of them."""


def loosens(spec: LimitSpec, new: Value, old: Value) -> bool:
    """Whether ``new`` allows something that ``old`` does not.

    Where no direction of a limit is the safer one, every other value counts as looser.
    """
    if new == old:
        return False
    if spec.name == BUNDLE_RULE:
        return _bundles_looser(str(new), str(old))
    if spec.tighter == "none":
        return True
    if isinstance(new, tuple) and isinstance(old, tuple):
        return not set(new) <= set(old)
    if spec.tighter == "listed":
        return spec.choices.index(str(new)) < spec.choices.index(str(old))
    if spec.tighter == "less":
        return on_scale(new) > on_scale(old)
    return on_scale(new) < on_scale(old)


def looser(spec: LimitSpec, one: int, other: int) -> int:
    """The looser of two values of a limit that has a direction."""
    return one if loosens(spec, one, other) else other


def on_scale(value: Value) -> float:
    """A value as a number: a wire size by its area, a limit that is off as without end.

    Raises TypeError for a word or a list, which lie on no scale.
    """
    if value is None:
        return float("inf")
    if isinstance(value, SizeValue):
        return value.area_um2
    if isinstance(value, int):
        return value
    raise TypeError(f"{value!r} lies on no scale")


def _bundles_looser(new: str, old: str) -> bool:
    """Whether one rule set leaves more of the ampacity than another for some number of wires.

    The factors change only where a row of a rule begins, so those numbers decide.
    """
    rows = bundle_rows()
    counts = {row.conductors_from for rule in (new, old) for row in rows[rule]}
    return any(bundle_factor_permille(new, n) > bundle_factor_permille(old, n) for n in counts)
