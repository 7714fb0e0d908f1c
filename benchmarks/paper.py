"""CPU seconds of each sheet of a plan, cold: the library it needs is imported within its time.

Run: python benchmarks/paper.py [PLAN ...]   (plan folders or plan.json; without: two plans by eye)
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from hand_plan import by_hand

from lugwright import pipeline
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.plan_json import read_plan
from lugwright.outputs.sheets import SHEETS, files_of
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan

SCENARIOS = Path(__file__).resolve().parent.parent / "scenarios"
BY_EYE = ("sandbar-skiff", "bridge-24-instruments")


def cpu_s(plan: Plan) -> dict[str, float]:
    """CPU seconds of each sheet, in the order of the list."""
    spent = {}
    for sheet in SHEETS:
        start = time.process_time()
        files_of(ShownPlan(plan), [sheet], Paper())
        spent[sheet.name] = time.process_time() - start
    return spent


def plans() -> list[Plan]:
    """The plans named by the call, or the two by eye."""
    if len(sys.argv) > 1:
        return [read_plan(Path(name)) for name in sys.argv[1:]]
    found = [by_hand(pipeline.read_inputs(SCENARIOS / f"{name}.toml"))[0] for name in BY_EYE]
    return [plan for plan in found if plan is not None]


def main() -> None:
    """One column a plan, one row a sheet. The first plan pays for the imports."""
    columns = {f"{len(plan.panel.instruments)} instruments": cpu_s(plan) for plan in plans()}
    print(f"{'sheet':16}" + "".join(f"{name:>16}" for name in columns))
    for sheet in SHEETS:
        row = "".join(f"{spent[sheet.name]:16.2f}" for spent in columns.values())
        print(f"{sheet.name:16}{row}")
    print(f"{'all':16}" + "".join(f"{sum(spent.values()):16.2f}" for spent in columns.values()))


if __name__ == "__main__":
    main()
