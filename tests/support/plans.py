"""Whole plans of the demo scenarios, each made once in a run of the tests and kept."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from support.shared import shared

from lugwright.pipeline import Run, holding, make_plan, read_inputs
from lugwright.plans.outcome import Ending
from lugwright.plans.schema import Plan

SCENARIOS = Path(__file__).parents[2] / "scenarios"


@cache
def run_of(name: str, *settings: str, hub: str = "", rule_set: str | None = None) -> Run:
    """How planning a scenario ends, with limits set and the hub held where asked for."""
    asked = f"run of {name}, {settings}, hub {hub!r}, rule set {rule_set!r}"
    return shared(asked, lambda: _planned(name, settings, hub, rule_set))


def _planned(name: str, settings: tuple[str, ...], hub: str, rule_set: str | None) -> Run:
    inputs = read_inputs(SCENARIOS / f"{name}.toml", rule_set=rule_set, settings=settings)
    return make_plan(holding(inputs, {"hub": hub} if hub else None))


def plan_of(name: str, *settings: str, hub: str = "", rule_set: str | None = None) -> Plan:
    """The proved and checked plan of a scenario."""
    run = run_of(name, *settings, hub=hub, rule_set=rule_set)
    assert run.outcome.ending is Ending.PROVED
    assert run.plan is not None
    assert run.report is not None
    assert run.report.findings == ()
    return run.plan
