"""Where checks write down what they find."""

from __future__ import annotations

from collections.abc import Hashable

from lugwright.checker.finding import Finding, Report
from lugwright.checker.rules import RULES


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
        tail = f" {unit}" if unit else ""
        return self.expect(
            stated == own,
            rule,
            place,
            f"{message}: the plan says {stated}{tail}, recomputed {own}{tail}",
        )

    def complain(self, rule: str, place: str, message: str) -> None:
        """Write a finding that needs no measure."""
        self.expect(False, rule, place, message)

    def report(self) -> Report:
        """Everything found, sorted and without repeats."""
        return Report(tuple(sorted(set(self._findings))), self._checks)
