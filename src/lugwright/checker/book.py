"""Where checks write down what they find."""

from __future__ import annotations

from collections.abc import Hashable
from fractions import Fraction

from lugwright.checker.finding import Finding, Report
from lugwright.checker.rules import RULES

_READABLE = {
    "x 0.1 mm": ("mm", 10),
    "x 0.01 min": ("min", 100),
    "nV": ("mV", 1_000_000),
    "millionths": ("", 1_000_000),
}
"""What the integers of a plan count, and the unit and divisor a person reads them in."""


class Book:
    """Collects findings and counts the single checks made."""

    def __init__(self) -> None:
        self._findings: list[Finding] = []
        self._checks = 0

    def expect(
        self,
        holds: bool,
        rule: str,
        place: str,
        message: str,
        measured: object = "",
        limit: object = "",
        origin: str = "",
    ) -> bool:
        """Count one check of ``rule``; when it does not hold, write a finding. Returns ``holds``.

        Raises KeyError for a rule that is not in ``RULES``.
        """
        if rule not in RULES:
            raise KeyError(rule)
        self._checks += 1
        if not holds:
            self._findings.append(Finding(rule, place, message, str(measured), str(limit), origin))
        return holds

    def same(
        self, stated: Hashable, own: Hashable, rule: str, place: str, message: str, unit: str = ""
    ) -> bool:
        """Check that a value stated in the plan is the one recomputed here."""
        said, found = _in_words(stated, unit), _in_words(own, unit)
        return self.expect(
            stated == own, rule, place, f"{message}: the plan says {said}, recomputed {found}"
        )

    def complain(self, rule: str, place: str, message: str) -> None:
        """Write a finding that needs no measure."""
        self.expect(False, rule, place, message)

    def report(self) -> Report:
        """Everything found, sorted and without repeats."""
        return Report(tuple(sorted(set(self._findings))), self._checks)


def _in_words(value: object, unit: str = "") -> str:
    """A value as a person reads it, with its unit."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None or value == "" or value == ():
        return "none"
    if isinstance(value, (tuple, list, frozenset, set)):
        parts = sorted(value, key=str) if isinstance(value, (frozenset, set)) else value
        return ", ".join(map(_in_words, parts)) + (f" {unit}" if unit else "")
    word, divisor = _READABLE.get(unit, (unit, 1))
    if isinstance(value, (int, Fraction)) and (divisor > 1 or isinstance(value, Fraction)):
        value = f"{float(value) / divisor:.10g}"
    return f"{value} {word}" if word else str(value)
