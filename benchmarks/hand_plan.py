"""The plan a rigger makes by eye beside the proved one, for every demo scenario.

By eye: hub = the tallest studs, every wire to the nearest post already wired, two wires in a
fitting. Run: python benchmarks/hand_plan.py [SCENARIO ...]
"""

from __future__ import annotations

import sys
from pathlib import Path

from lugwright import pipeline
from lugwright.assemble.hand_plan import hand_choice
from lugwright.base.scale import money_text
from lugwright.checker.run import check_plan
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief

ROOT = Path(__file__).resolve().parent.parent


def by_hand(inputs: Brief) -> tuple[Plan | None, int]:
    """The hand plan worked up, and how many findings the checker has against it."""
    _, routes = pipeline.pose(inputs)
    choice = hand_choice(inputs, routes)
    if choice is None:
        return None, 0
    plan = pipeline.work_up(inputs, routes, Outcome(Ending.WITHIN_BOUND, (), choice=choice))
    report = check_plan(inputs, plan)
    return plan, len(report.findings)


def figures(plan: Plan | None) -> str:
    """Hub, wire, stacked lugs, fittings and money of a plan."""
    if plan is None:
        return "no plan"
    totals = plan.totals
    return (
        f"{plan.hub}, {totals.wire_dmm / 10:.0f} mm, {totals.stacked_lugs}, "
        f"{totals.fittings}, {money_text(totals.money_micro)}"
    )


def main() -> None:
    """One row a scenario: by eye, and proved (hub, wire, stacked lugs, fittings, money)."""
    paths = [Path(name) for name in sys.argv[1:]] or sorted((ROOT / "scenarios").glob("*.toml"))
    print("| scenario | by eye: hub, wire, stacked, fittings, money | faults | proved best |")
    print("| --- | --- | --- | --- |")
    for path in paths:
        inputs = pipeline.read_inputs(path)
        hand, faults = by_hand(inputs)
        run = pipeline.make_plan(inputs, time_limit_s=120)
        ours = figures(run.plan)
        ending = "" if run.outcome.ending is Ending.PROVED else f" ({run.outcome.ending.value})"
        print(f"| {path.stem} | {figures(hand)} | {faults} | {ours}{ending} |", flush=True)


if __name__ == "__main__":
    main()
