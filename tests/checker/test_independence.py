"""The second opinion stands alone, and no plan, however mutilated, makes it stumble."""

from __future__ import annotations

import json
import random
import subprocess
import sys
from contextlib import suppress
from typing import Any

import pytest
from pydantic import ValidationError
from support.plan_edits import judge
from support.wired_by_hand import hand_plan

from lugwright.checker.rules import RULES
from lugwright.plans.schema import Plan

FORBIDDEN = (
    "lugwright.problem", "lugwright.model", "lugwright.assemble", "lugwright.routes",
    *(f"lugwright.trade.{rule}" for rule in (
        "barrels", "demand", "fuses", "lengths", "money", "objective", "threads",
    )),
    "ortools", "networkx", "shapely", "numpy", "pandas",
)  # fmt: skip


def test_it_imports_nothing_of_the_planner() -> None:
    """A fresh interpreter that checks plans has loaded no room of the planner and no solver."""
    code = "import lugwright.checker.run, lugwright.outputs.plan_json, sys; print(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = [
        name
        for name in run.stdout.split()
        if any(name == one or name.startswith(f"{one}.") for one in FORBIDDEN)
    ]
    assert loaded == []
    assert "lugwright.checker.play" in run.stdout.split()


def mutilate(data: Any, dice: random.Random) -> None:
    """Change one value somewhere in the plan: another number, name, or a list cut short."""
    while True:
        key = dice.choice(sorted(data)) if isinstance(data, dict) else dice.randrange(len(data))
        value = data[key]
        if isinstance(value, dict | list) and value and dice.random() < 0.85:
            data = value
            continue
        if isinstance(value, bool):
            data[key] = not value
        elif isinstance(value, int):
            data[key] = dice.choice([0, -value - 1, value + 1, 10**30])
        elif isinstance(value, str):
            data[key] = dice.choice(["", "nobody", value + "x", "aboard", "bench", "a", "b", "1"])
        elif isinstance(value, list):
            data[key] = value[1:] + value[1:]
        return


def mutilated_plan(seed: int) -> Plan:
    """A mutilated plan that the schema still takes for a plan."""
    dice = random.Random(seed)
    while True:
        data = json.loads(hand_plan().model_dump_json())
        for _ in range(dice.randrange(1, 6)):
            mutilate(data, dice)
        with suppress(ValidationError):
            return Plan.model_validate_json(json.dumps(data))


@pytest.mark.parametrize("seed", range(60))
def test_mutilated_plans_are_judged(seed: int) -> None:
    """Plans with random values changed are judged without a stumble, twice the same."""
    plan = mutilated_plan(seed)
    report = judge(plan)
    assert report == judge(plan)
    assert {finding.rule for finding in report.findings} <= set(RULES)


def test_a_plan_of_nothing() -> None:
    """An empty plan for a console is wrong in many ways, all of them told."""
    empty: dict[str, Any] = {
        name: ()
        for name, value in hand_plan()
        if isinstance(value, tuple) and name not in ("limits", "cautions", "fuses")
    }
    report = judge(hand_plan().model_copy(update=empty))
    told = {finding.rule for finding in report.findings}
    assert {"landing", "missing post", "names", "drop", "totals", "cost", "caps"} <= told
