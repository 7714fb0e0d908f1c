"""How a planning question ended, as a value: nothing here raises."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

from lugwright.checker.finding import Finding, Report
from lugwright.door.view import PlanView
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import Plan

REJECTED = "the checker rejects this plan: do not build"


@dataclass(frozen=True)
class Answer:
    """How one console's question ended.

    ``status`` is ``proved best``, ``planned, not proved best in the time given``, ``no plan
    exists``, ``no answer in time``, or REJECTED; then ``findings`` say why and ``plan`` is None,
    so that a plan that was found wrong is not built from. ``cost`` and ``bound`` are whole numbers
    over ``levels``, which name what is compared and its unit, the first counting most. ``reasons``
    say why there is no plan. ``interrupted``: the search was stopped before its end.
    """

    status: str
    levels: tuple[str, ...]
    cost: tuple[int, ...]
    bound: tuple[int, ...]
    reasons: tuple[str, ...]
    plan: PlanView | None
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    interrupted: bool = False

    @property
    def proved(self) -> bool:
        """Whether no plan of this console costs less, proved."""
        return self.status == Ending.PROVED.value

    @property
    def gap(self) -> float | None:
        """How far above the proved bound the plan may be, as a share of its cost.

        Taken at the first level where cost and bound part; 0.0 where they never do, None without a
        plan. Where the plan's cost is 0 at that level the share is of 1.
        """
        if not self.cost:
            return None
        for cost, bound in zip(self.cost, self.bound, strict=False):
            if cost != bound:
                return (cost - bound) / max(1, cost)
        return 0.0

    @property
    def line(self) -> str:
        """The answer in one line."""
        what = self.plan.line if self.plan else "; ".join(self.reasons)
        return f"{self.status}: {what}" if what else self.status

    def __repr__(self) -> str:
        return self.line

    def _repr_html_(self) -> str:
        shown = self.plan._repr_html_() if self.plan else f"<p>{escape(self.line)}</p>"
        return f"<p><strong>{escape(self.status)}</strong></p>{shown}"


def answer_of(outcome: Outcome, plan: Plan | None, report: Report | None) -> Answer:
    """The answer of one planning run. A plan that the checker rejects is not handed on.

    Raises RuntimeError when a plan comes without its check: no plan leaves unchecked.
    """
    if plan is not None and report is None:
        raise RuntimeError("a plan came without its check")
    rejected = report is not None and not report.passed
    return Answer(
        status=REJECTED if rejected else outcome.ending.value,
        levels=outcome.levels,
        cost=outcome.cost,
        bound=outcome.bound,
        reasons=tuple(map(str, outcome.reasons)),
        plan=PlanView(plan) if plan is not None and not rejected else None,
        findings=report.findings if report else (),
        notes=tuple(filter(None, (outcome.note, *(report.notes if report else ())))),
        interrupted=outcome.interrupted,
    )
