"""What the second opinion says: findings, and the report they make up."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Finding:
    """One thing that is wrong: the rule, the place, what was measured, the limit and its origin.

    ``measured`` and ``limit`` are readable, with unit (``5 lugs``, ``412.3 mV``).
    """

    rule: str
    place: str
    message: str
    measured: str = ""
    limit: str = ""
    origin: str = ""

    def __str__(self) -> str:
        text = f"{self.rule}: {self.place}: {self.message}"
        if self.limit and self.origin:
            return f"{text} (measured {self.measured}, limit {self.limit}, from {self.origin})"
        if self.limit:
            return f"{text} (it is {self.measured or 'none'}, it should be {self.limit})"
        return text


@dataclass(frozen=True)
class Report:
    """Everything the checker found, and how many single checks it made.

    ``notes`` are no faults: things a person should know all the same.
    """

    findings: tuple[Finding, ...]
    checks: int
    notes: tuple[str, ...] = ()

    @property
    def passed(self) -> bool:
        """True when nothing was found."""
        return not self.findings
