"""Plans for tests of paper, made by eye: real consoles and routes, no search."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from lugwright import pipeline
from lugwright.assemble.hand_plan import hand_choice
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import Plan
from lugwright.routes.build import build_routes

SCENARIOS = Path(__file__).parents[2] / "scenarios"


@cache
def plan_by_eye(name: str) -> Plan:
    """The hand plan of a demo console. Raises ValueError when there is none by eye."""
    inputs = pipeline.read_inputs(SCENARIOS / f"{name}.toml")
    routes = build_routes(inputs)
    choice = hand_choice(inputs, routes)
    if choice is None:
        raise ValueError(f"no plan by eye for {name}")
    return pipeline.work_up(inputs, routes, Outcome(Ending.WITHIN_BOUND, (), choice=choice))
