"""A harness that is built, changed as little as pays: what is kept, moved, taken out, made new."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from lugwright.base.identity import JointId
from lugwright.checker.finding import Report
from lugwright.checker.run import check_plan
from lugwright.pipeline import pose, work_up
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.progress import Listener
from lugwright.plans.schema import Plan
from lugwright.problem.built_jumper import BuiltJumper
from lugwright.problem.schema import Problem
from lugwright.production.free_ends import refuse_free_ends
from lugwright.production.pairing import Pairing, Side, pair_pieces
from lugwright.production.revisions import Changes, changes_between
from lugwright.routes.schema import Routes

if TYPE_CHECKING:
    from lugwright.scenario.brief import Brief


@dataclass(frozen=True)
class Rework:
    """A harness changed. ``cost`` and ``bound`` are in units of the objective, changes included.

    ``plan`` None: there is none.
    """

    ending: Ending
    plan: Plan | None
    report: Report | None
    told: Changes | None
    kept: int
    moved: int
    removed: int
    new: int
    relanded: int
    cost: int
    bound: int
    note: str = ""
    interrupted: bool = False

    @property
    def changes(self) -> int:
        """Jumpers moved, taken out and made new, and pigtails that land elsewhere."""
        return self.moved + self.removed + self.new + self.relanded


def rework(
    brief: Brief,
    old: Plan,
    change_worth: int,
    *,
    time_limit_s: float | None = None,
    listener: Listener | None = None,
) -> Rework:
    """Plan a console whose harness is built to ``old``, each change costing ``change_worth``.

    ``change_worth`` is in units of the objective (0.1 mm for the default one, millionths of the
    currency for ``cheapest``). Raises ValueError for an objective of several levels, BadInput where
    the end of a lead is chosen with the plan.
    """
    from lugwright.model.choose import best_choice
    from lugwright.problem.built_harness import with_built
    from lugwright.problem.held import hold_in

    refuse_free_ends(brief.console, "a harness that is built")
    free, routes = pose(brief)
    problem = hold_in(free, brief.holds)
    landed = {landing.circuit: landing.post for landing in old.landings}
    built = built_jumpers(old, problem, routes, brief)
    asked = with_built(problem, built, landed, change_worth)
    hubs = (brief.holds.hub,) if brief.holds.hub else None
    outcome = best_choice(asked, time_limit_s=time_limit_s, hubs=hubs, listener=listener)
    if outcome.choice is None:
        return Rework(
            *(outcome.ending, None, None, None, 0, 0, 0, 0, 0, 0, 0),
            note=outcome.note,
            interrupted=outcome.interrupted,
        )
    plan, report = _plain_plan(brief, routes, outcome)
    gone = sum(piece.role == "jumper" for piece in old.jumpers) - len(asked.built)
    found = _told(old, plan, report, outcome)
    if plan.proof.cost[0] + change_worth * (found.changes - gone) != outcome.cost[0]:
        raise RuntimeError("the changes counted are not those that were searched for")
    return found


def _told(old: Plan, plan: Plan, report: Report, outcome: Outcome) -> Rework:
    """What becomes of the harness: its pieces counted, and the work told.

    Where a way's one jumper lands elsewhere, that jumper is counted, and no pigtail.
    """
    landed = {landing.circuit: landing.post for landing in old.landings if landing.pigtail}
    relanded = sum(
        landing.circuit in landed and landed[landing.circuit] != landing.post
        for landing in plan.landings
        if landing.pigtail
    )
    return Rework(
        *(outcome.ending, plan, report, changes_between(old, plan)),
        *_counts(pair_pieces(Side(old), Side(plan)), old, plan),
        relanded,
        outcome.cost[0],
        (outcome.bound or (0,))[0],
        outcome.note,
        outcome.interrupted,
    )


def _plain_plan(brief: Brief, routes: Routes, outcome: Outcome) -> tuple[Plan, Report]:
    """The plan with its own cost, changes left out, and the checker's report on it.

    With what is kept held, no plan costs less: a cheaper one would make the rework cheaper. So it
    is proved where the rework is.
    """
    told = (*brief.holds.told, "of a harness that is built, what is kept")
    plain = replace(outcome, ending=Ending.WITHIN_BOUND, levels=(), cost=(), bound=(), held=told)
    plan = work_up(brief, routes, plain)
    if outcome.ending is Ending.PROVED:
        proof = plan.proof.model_copy(update={"bound": plan.proof.cost, "proved": True})
        plan = plan.model_copy(update={"proof": proof})
    return plan, check_plan(brief, plan)


def _counts(pairing: Pairing, old: Plan, new: Plan) -> tuple[int, int, int, int]:
    """Jumpers kept, moved, taken out and made new; extensions are not counted."""

    def jumpers(plan: Plan, labels: list[str]) -> int:
        roles: dict[str, str] = {piece.label: piece.role for piece in plan.jumpers}
        return sum(roles[label] == "jumper" for label in labels)

    return (
        jumpers(new, list(pairing.same.values())),
        jumpers(new, [*pairing.recut.values(), *pairing.moved.values()]),
        jumpers(old, pairing.removed),
        jumpers(new, pairing.new),
    )


def built_jumpers(
    old: Plan, problem: Problem, routes: Routes, brief: Brief
) -> tuple[BuiltJumper, ...]:
    """The old plan's jumpers by today's names of their joints."""
    circuits = {circuit.name for circuit in problem.circuits}
    today = _splices_today(old, problem, routes)
    lost = 2 * brief.limits.re_termination_dmm
    colours = {circuit.name: circuit.colour for circuit in problem.console.circuits}
    return tuple(
        BuiltJumper(
            piece.circuit,
            today.get(piece.from_joint, piece.from_joint),
            today.get(piece.to_joint, piece.to_joint),
            piece.wire_size,
            piece.length_dmm,
            piece.length_dmm - lost,
        )
        for piece in old.jumpers
        if piece.role == "jumper"
        and piece.circuit in circuits
        and piece.colour == colours[piece.circuit]
    )


def _splices_today(old: Plan, problem: Problem, routes: Routes) -> Mapping[JointId, JointId]:
    """The old plan's splices by the splice point that lies where they lie."""
    points = {
        (circuit.name, point.at.x_dmm, point.at.y_dmm, point.at.z_dmm): point.id
        for circuit in problem.circuits
        for point in routes.splice_points(circuit.name)
    }
    return {
        splice.label: points.get(
            (splice.circuit, splice.at.x_dmm, splice.at.y_dmm, splice.at.z_dmm), splice.label
        )
        for splice in old.splices
    }
