"""What sheets can be made of before anything is planned: the panel, and what every sheet says."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.plans.panel import Panel


@dataclass(frozen=True)
class Before:
    """A console that is not planned yet: its panel, title, rule set and cautions."""

    panel: Panel
    title: str
    rule_set: str
    cautions: tuple[str, ...]
