"""A pipeline that answers what a test wants, to test the words and exit codes around it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import pytest
from support.made_plan import small_plan

from lugwright import pipeline
from lugwright.checker.finding import Finding, Report
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.progress import Progress
from lugwright.plans.schema import Plan
from lugwright.scenario.holds import Held, called, read_holds
from lugwright.stock.schema import Stock
from lugwright.studies.schema import WhyNot

PASSED = Report((), 214)
REJECTED = Report(
    (Finding("length", "ground 1", "is too short", "200 mm", "205 mm", "built-in rule set"),), 214
)


@dataclass(frozen=True)
class Named:
    """Something with a name."""

    name: str


@dataclass(frozen=True)
class FakeConsole:
    """A console of which only the instruments' names are asked."""

    instruments: tuple[Named, ...] = (Named("depth"), Named("fuel"))


@dataclass(frozen=True)
class FakeInputs:
    """Inputs of which only the console and what is held are asked."""

    console: FakeConsole = FakeConsole()
    holds: Held = field(default_factory=Held)


@dataclass(frozen=True)
class FakeRun:
    """How a run ended."""

    outcome: Outcome
    plan: Plan | None = None
    report: Report | None = None


@dataclass
class FakePipeline:
    """What the pipeline answers, and what it was called with."""

    run: FakeRun
    verdicts: Mapping[str, tuple[Report, tuple[str, ...]]] = field(default_factory=dict)
    fault: BaseException | None = None
    why: WhyNot | None = None
    calls: list[tuple[str, dict[str, Any]]] = field(default_factory=list)

    def read_inputs(
        self,
        scenario: Path,
        limits_file: Path | None,
        stock_folder: Path | None,
        rule_set: str | None,
        settings: tuple[str, ...],
    ) -> FakeInputs:
        """Remember the call; raise the fault if there is one."""
        self.calls.append(("read_inputs", {"rule_set": rule_set, "settings": settings}))
        if self.fault:
            raise self.fault
        return FakeInputs()

    def holding(self, inputs: FakeInputs, holds: tuple[tuple[str, str], ...]) -> FakeInputs:
        """What is held, read as ever."""
        held = read_holds(called(holds), inputs.console, lambda: Stock((), (), (), ()))
        return replace(inputs, holds=held)

    def make_plan(
        self,
        inputs: FakeInputs,
        *,
        time_limit_s: float | None,
        progress: Callable[[Progress], None] | None,
    ) -> FakeRun:
        """Tell of some progress and end as the test wants."""
        self.calls.append(("make_plan", {"time_limit_s": time_limit_s, "holds": inputs.holds.told}))
        if progress:
            progress(Progress("weighing hubs", ("wire length, 0.1 mm",), (21000,), (20000,)))
        return self.run

    def why_no_plan(self, inputs: FakeInputs, **asked: Any) -> WhyNot | None:
        """Remember the call and give the reason the test wants."""
        self.calls.append(("why_no_plan", {"holds": inputs.holds.told}))
        return self.why

    def check_file(self, inputs: FakeInputs, path: Path) -> tuple[Plan, Report, tuple[str, ...]]:
        """The verdict on a file, by its name."""
        report, notes = self.verdicts[path.name]
        return small_plan(), report, notes


def planned(
    ending: Ending = Ending.PROVED, report: Report | None = PASSED, interrupted: bool = False
) -> FakeRun:
    """A run that ended with the small plan."""
    return FakeRun(
        Outcome(ending, ("wire length, 0.1 mm",), interrupted=interrupted), small_plan(), report
    )


def put_in(monkeypatch: pytest.MonkeyPatch, fake: FakePipeline) -> FakePipeline:
    """Let the commands find the fake where the pipeline would be."""
    for name in ("read_inputs", "holding", "make_plan", "why_no_plan", "check_file"):
        monkeypatch.setattr(pipeline, name, getattr(fake, name))
    return fake
