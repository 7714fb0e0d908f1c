"""One way of solving one console, in a process of its own: ``scale.py`` starts it.

Run: python benchmarks/way.py WAY SCENARIO ANSWER --seconds N [--set NAME=VALUE ...]
The answer is written to ANSWER as JSON once there is one. The search also writes a line for every
report on its way to ANSWER.progress: wall and CPU seconds since the start, best cost, bound.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

STARTED = time.monotonic()
ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "benchmarks")]

if TYPE_CHECKING:
    from lugwright.plans.progress import Progress
    from lugwright.plans.schema import Plan
    from lugwright.scenario.brief import Brief

Answer = dict[str, Any]
PROVED, WITHIN, NONE, OPEN = "proved", "not proved", "impossible", "no answer"
"""How a way ended: best and proved so; a plan, not proved; no plan exists; nothing in time."""


@dataclass(frozen=True)
class Task:
    """What is asked: the console with its limits, wall seconds from the start of the process, and
    where to write (the answer's path; others are made from it)."""

    inputs: Brief
    seconds: float
    path: Path

    @property
    def left_s(self) -> float:
        """Wall seconds left."""
        return max(1.0, self.seconds - (time.monotonic() - STARTED))


def ours(task: Task) -> Answer:
    """The search as ``plan`` runs it: posed, searched, worked up, checked, all sheets written."""
    from lugwright import pipeline
    from lugwright.model.choose import best_choice
    from lugwright.outputs.folder import write_folder
    from lugwright.outputs.paper_size import Paper
    from lugwright.outputs.shown import ShownPlan
    from lugwright.plans.outcome import Ending
    from lugwright.scenario.holds import Held

    problem, routes = pipeline.pose(task.inputs)
    answer: Answer = {"posed_cpu_s": _cpu_s()}
    with open(f"{task.path}.progress", "w", encoding="utf-8") as told:

        def hear(progress: Progress) -> None:
            wall_s = round(time.monotonic() - STARTED, 2)
            row = [wall_s, _cpu_s(), progress.best_cost, progress.bound]
            told.write(json.dumps(row) + "\n")
            told.flush()

        outcome = best_choice(problem, time_limit_s=task.left_s, listener=hear)
        words = {
            Ending.PROVED: PROVED,
            Ending.WITHIN_BOUND: WITHIN,
            Ending.IMPOSSIBLE: NONE,
            Ending.NO_ANSWER: OPEN,
        }
        answer |= {
            "ending": words[outcome.ending],
            "cost": outcome.cost or None,
            "bound": outcome.bound or None,
            "solve_cpu_s": _cpu_s(),
            "solve_wall_s": round(time.monotonic() - STARTED, 2),
            "electrical_rules_met": outcome.met,
            "reasons": [str(reason) for reason in outcome.reasons[:3]],
        }
        if answer["cost"]:
            ended = [answer["solve_wall_s"], answer["solve_cpu_s"], outcome.cost, outcome.bound]
            told.write(json.dumps(ended) + "\n")
    if outcome.choice is not None:
        plan, report = pipeline.checked(task.inputs, routes, outcome, Held())
        answer |= {"findings": len(report.findings), "hub": plan.hub}
        write_folder(ShownPlan(plan), task.path.with_suffix(".plan"), Paper())
    return answer


def one_model(task: Task) -> Answer:
    """Everything as one CP-SAT model."""
    from one_model import solve_all

    from lugwright import pipeline
    from lugwright.model.formulation.ask import Status
    from lugwright.model.formulation.objective import objective_of

    problem, _ = pipeline.pose(task.inputs)
    answer: Answer = {"posed_cpu_s": _cpu_s()}
    solved = solve_all(problem, task.left_s)
    unfold = objective_of(problem).unfold
    words = {Status.BEST: PROVED, Status.SOME: WITHIN, Status.NONE: NONE, Status.UNKNOWN: OPEN}
    return answer | {
        "ending": words[solved.status],
        "cost": unfold(solved.value) if solved.answer else None,
        "bound": None if solved.status is Status.NONE else unfold(solved.bound),
    }


def highs(task: Task) -> Answer:
    """Everything but the electrical rules as one MILP, in HiGHS."""
    from milp import by_highs

    return _by_milp(task, by_highs)


def scip(task: Task) -> Answer:
    """The same MILP in SCIP."""
    from milp import by_scip

    return _by_milp(task, by_scip)


def _by_milp(task: Task, solve: Callable[..., object]) -> Answer:
    from milp import Ended, milp_of

    from lugwright import pipeline
    from lugwright.model.formulation.objective import objective_of

    problem, _ = pipeline.pose(task.inputs)
    answer: Answer = {"posed_cpu_s": _cpu_s()}
    milp = milp_of(problem)
    answer |= {"columns": len(milp.rows.cost) + milp.flows}
    answer |= {"rows": len(milp.rows.rows) + len(milp.more)}
    ended = solve(milp, task.left_s)
    assert isinstance(ended, Ended)
    unfold = objective_of(problem).unfold
    return answer | {
        "ending": PROVED if ended.proved else OPEN if ended.cost is None else WITHIN,
        "cost": None if ended.cost is None else unfold(ended.cost),
        "bound": None if ended.bound is None else unfold(ended.bound),
    }


def brute(task: Task) -> Answer:
    """Everything tried, by the enumerator of the tests; it keeps no clock."""
    from brute.enumerate import best_by_enumeration

    from lugwright.routes.build import build_routes

    inputs = task.inputs
    routes = build_routes(inputs)
    found = best_by_enumeration(inputs.console, inputs.limits, inputs.stock, routes)
    ending = NONE if found.cost is None else PROVED
    return {"ending": ending, "cost": found.cost, "bound": found.cost, "hub": found.hub}


def hand(task: Task) -> Answer:
    """The plan a rigger makes by eye."""
    from hand_plan import by_hand

    plan, faults = by_hand(task.inputs)
    return _unproved(plan) | {"findings": faults}


def greedy(task: Task) -> Answer:
    """The nearest-post plan with the best hub."""
    from greedy import nearest_post_plan

    found = nearest_post_plan(task.inputs)
    return _unproved(found.plan) | {"findings": 0, "tried": found.tried}


def _unproved(plan: Plan | None) -> Answer:
    if plan is None:
        return {"ending": OPEN, "cost": None, "bound": None}
    return {"ending": WITHIN, "cost": plan.proof.cost, "bound": None, "hub": plan.hub}


WAYS: dict[str, Callable[[Task], Answer]] = {
    "ours": ours,
    "one model": one_model,
    "HiGHS": highs,
    "SCIP": scip,
    "brute force": brute,
    "hand plan": hand,
    "greedy": greedy,
}


def _cpu_s() -> float:
    return round(time.process_time(), 2)


def main() -> None:
    """Solve and write the answer."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("way", choices=WAYS)
    parser.add_argument("scenario", type=Path)
    parser.add_argument("answer", type=Path)
    parser.add_argument("--seconds", type=float, required=True)
    parser.add_argument("--set", action="append", default=[])
    options = parser.parse_args()
    from lugwright import pipeline

    inputs = pipeline.read_inputs(options.scenario, settings=tuple(options.set))
    answer = WAYS[options.way](Task(inputs, options.seconds, options.answer))
    answer.setdefault("solve_cpu_s", _cpu_s())
    options.answer.write_text(json.dumps(answer), encoding="utf-8")


if __name__ == "__main__":
    main()
