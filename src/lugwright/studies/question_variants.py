"""The question in variants: some things taken away, some steps taken."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from lugwright.scenario.brief import Brief
from lugwright.studies.easing import Easing, Places, all_off
from lugwright.studies.excess import findings
from lugwright.studies.fact_steps import fact_steps
from lugwright.studies.limit_steps import limit_steps
from lugwright.studies.question import Probe, Prober, Verdict
from lugwright.studies.schema import Finding
from lugwright.studies.stock_steps import stock_steps
from lugwright.studies.way_steps import way_steps
from lugwright.studies.wire_steps import wire_steps


@dataclass(frozen=True)
class Step:
    """One step taken: of what, which value, at which places (None: at every one it has)."""

    name: str
    value: Any
    places: Places | None = None


@dataclass(frozen=True)
class Variant:
    """What is taken away wholly, and which steps are taken in what is left."""

    gone: frozenset[str] = frozenset()
    steps: tuple[Step, ...] = ()

    def without(self, names: Iterable[str]) -> Variant:
        """The same with some more things taken away."""
        return replace(self, gone=self.gone | frozenset(names))

    def with_step(self, step: Step) -> Variant:
        """The same with one more step taken."""
        return replace(self, steps=(*self.steps, step))


class Asking:
    """One question, everything that can be loosened in it, and a prober to ask variants of it."""

    def __init__(self, brief: Brief, prober: Prober) -> None:
        self.brief = brief
        self.prober = prober
        self.every = {one.name: one for one in _easings(brief)}

    def verdict(self, variant: Variant, told: str = "") -> Verdict:
        """Whether a variant has a plan; undecided when time is up."""
        probe = self.probe(variant, told)
        return Verdict.UNDECIDED if probe is None else probe.verdict

    def probe(self, variant: Variant, told: str = "") -> Probe | None:
        """The probe of a variant; None when time is up."""
        return self.prober.ask(self._posed(variant), variant, told)

    def findings(self, name: str, before: Variant, after: Probe | None) -> tuple[Finding, ...]:
        """What a plan wants beyond what a variant allows of one thing."""
        probe = self.probe(before)
        return findings(name, probe, after) if probe and after else ()

    def _posed(self, variant: Variant) -> Brief:
        gone = [one for name, one in self.every.items() if name in variant.gone]
        brief = all_off(self.brief, gone)
        for step in variant.steps:
            brief = self.every[step.name].step(brief, step.value, step.places)
        return brief


def _easings(brief: Brief) -> tuple[Easing, ...]:
    """Everything that can be loosened, the less telling first: of two the later one is named."""
    return (
        *stock_steps(brief),
        *wire_steps(brief),
        *way_steps(brief),
        *fact_steps(brief),
        *limit_steps(brief),
    )
