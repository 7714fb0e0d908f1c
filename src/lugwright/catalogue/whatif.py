"""One model under other limits or other stock: its proof taken over, or planned anew."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lugwright import pipeline
from lugwright.base.canonical import digest_of
from lugwright.base.errors import BadInput
from lugwright.base.files import read_text
from lugwright.catalogue.job import (
    KEPT,
    PLANNED,
    Done,
    Job,
    failed,
    faulty,
    finish,
    planned,
    read_model,
)
from lugwright.catalogue.keys import key_of, limit_values, stock_rows
from lugwright.catalogue.proofs import (
    Ground,
    changed,
    only_looser_drops,
    only_shrunk,
    only_tighter,
    used_items,
)
from lugwright.catalogue.question import ON_PAPER, question_digests, stock_in_effect
from lugwright.catalogue.schema import End, ModelResult
from lugwright.catalogue.store import MOST_BYTES, json_bytes, read_result, write_whole
from lugwright.checker.run import check_plan
from lugwright.plans.choice import Choice
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import Plan
from lugwright.problem.schema import Problem
from lugwright.routes.build import build_routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.holds import Held

STOCK_FILE = "stock.json"
HELD = "proof taken over"


@dataclass(frozen=True)
class WhatIf(Job):
    """One model to look at under other settings; ``before`` is the store of the planned one."""

    before: Path


def write_stock(store: Path, rows: dict[str, Any]) -> None:
    """Keep the stock's rows beside the results that were planned from them."""
    write_whole(store / STOCK_FILE, json_bytes(rows))


def read_kept_stock(store: Path) -> dict[str, Any]:
    """The stock's rows a store was planned from; nothing where they are not there."""
    try:
        rows = json.loads(read_text(store / STOCK_FILE, MOST_BYTES))
    except (BadInput, ValueError, RecursionError):
        return {}
    return rows if isinstance(rows, dict) else {}


def run_whatif(job: WhatIf) -> Done:
    """Take over the model's proof where it holds, else plan the model; as ``run_job`` else."""
    try:
        brief = read_model(job)
    except BadInput as fault:
        return finish(job, faulty(job.name, fault), PLANNED)
    except Exception as error:
        return finish(job, failed(job.name, error), PLANNED)
    before = read_result(job.before, job.name)
    key = digest_of([key_of(brief, job.settings.seconds), before.key if before else ""])
    known = read_result(job.store, job.name)
    if known is not None and known.key == key and known.end is not End.FAILED:
        return Done(job.name, known.end, KEPT)
    if before is not None and _is_settled(before, brief):
        try:
            result = _taken_over(job, before, brief, key)
        except Exception as error:
            return finish(job, failed(job.name, error), PLANNED)
        if result is not None:
            return finish(job, result, HELD)
    result = planned(job, brief, key)
    return finish(job, result.model_copy(update={"breaks": _broken(before, brief)}), PLANNED)


def _broken(before: ModelResult | None, brief: Brief) -> tuple[str, ...]:
    """What of the stored plan the new limits forbid, as the checker tells it.

    Numbers that only come out otherwise now (a jumper cut longer) forbid nothing.
    """
    if before is None or before.plan is None or before.console != digest_of(brief.console):
        return ()
    report = check_plan(brief, before.plan)
    return tuple(str(finding) for finding in report.findings if finding.origin)


def _is_settled(before: ModelResult, brief: Brief) -> bool:
    """True when a stored result says something that can be taken over at all.

    Where faults stand whatever is chosen, they are found again without a search.
    """
    return (
        before.end in (End.PROVED, End.IMPOSSIBLE)
        and not (before.holds or before.note or before.reasons)
        and before.console == digest_of(brief.console)
    )


def _taken_over(job: WhatIf, before: ModelResult, brief: Brief, key: str) -> ModelResult | None:
    """The stored result under the new limits, checked anew; None where it has to be searched."""
    kept = read_kept_stock(job.before)
    if digest_of(kept) != before.stock:
        return None
    ground = ground_by_limits(before, brief, kept)
    if ground is not None:
        routes = build_routes(brief)
    else:
        problem, routes = pipeline.pose(brief)
        ground = ground_by_question(before, brief, problem)
    if ground is None:
        return None
    if before.plan is None or before.choice is None:
        return _as_before(before, brief, key, ground)
    plan, report = pipeline.checked(brief, routes, _outcome(before.choice, before.plan), Held())
    if not report.passed or _cost(plan) != _cost(before.plan):
        return None
    return _as_before(before, brief, key, ground).model_copy(
        update={"choice": before.choice, "plan": plan, "idle_waivers": report.notes}
    )


def ground_by_limits(before: ModelResult, brief: Brief, kept: Mapping[str, Any]) -> Ground | None:
    """Why the limits alone say that a stored proof holds, if they do (``proofs``, 1 and 2)."""
    new, rows = limit_values(brief.limits), stock_rows(brief.stock)
    if not only_tighter(before.limits, new) or not only_shrunk(kept, rows, used_items(before)):
        return None
    same = not changed(before.limits, new) - ON_PAPER
    unchanged = same and stock_in_effect(kept) == stock_in_effect(rows)
    return Ground.UNCHANGED if unchanged else Ground.TIGHTER


def ground_by_question(before: ModelResult, brief: Brief, problem: Problem) -> Ground | None:
    """Why what the search sees says that a stored proof holds, if it does (3 and 4)."""
    whole, but_drops = question_digests(problem, brief.stock)
    if whole == before.question:
        return Ground.SAME_QUESTION
    looser = only_looser_drops(before.limits, limit_values(brief.limits))
    if looser and but_drops == before.question_but_drops and not before.met:
        return Ground.NEVER_MET
    return None


def _outcome(choice: Choice, plan: Plan) -> Outcome:
    """The end of the search that found a stored plan."""
    proof = plan.proof
    return Outcome(
        Ending.PROVED,
        proof.levels,
        choice=choice,
        cost=proof.cost,
        bound=proof.bound,
        note=proof.note,
        tie_rule=proof.tie_rule,
        held=proof.held,
    )


def _cost(plan: Plan) -> tuple[object, ...]:
    """What a plan costs, in every measure: as the search counts it, and its totals."""
    return plan.proof.cost, plan.totals


def _as_before(before: ModelResult, brief: Brief, key: str, ground: Ground) -> ModelResult:
    """The stored result with the new limits beside it, and why it still holds."""
    return before.model_copy(
        update={
            "key": key,
            "ground": ground.value,
            "limits": limit_values(brief.limits),
            "stock": digest_of(stock_rows(brief.stock)),
            "question": "",
            "question_but_drops": "",
        }
    )
