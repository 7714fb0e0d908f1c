"""A family: one model with options, planned jointly so that variants share hub and jumpers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from lugwright.assemble.part_numbers import PartNumbers
from lugwright.base.errors import BadInput, Complaint
from lugwright.base.scale import mm_text
from lugwright.checker.finding import Report
from lugwright.pipeline import checked, pose, work_up
from lugwright.plans.choice import Choice
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.progress import Listener
from lugwright.plans.schema import Plan
from lugwright.production.family_file import FamilyFile
from lugwright.production.free_ends import refuse_free_ends
from lugwright.scenario.holds import Held
from lugwright.trade.objective import MONEY

if TYPE_CHECKING:
    from lugwright.model.variants.family import FamilyFound
    from lugwright.problem.schema import Problem
    from lugwright.routes.schema import Routes
    from lugwright.scenario.brief import Brief


@dataclass(frozen=True)
class Member:
    """One variant of a family as planned. ``alone_micro``: its money when planned by itself."""

    name: str
    boats: int
    plan: Plan
    report: Report
    money_micro: int
    alone_micro: int
    alone_hub: str


@dataclass(frozen=True)
class Family:
    """A family as planned. Costs in millionths over the whole mix.

    ``cost_micro`` = Σ boats × money + price × distinct jumpers, ``bound_micro`` its proved bound;
    ``alone_micro`` the same sum when every variant is planned by itself.
    """

    title: str
    ending: Ending
    hub: str
    members: tuple[Member, ...]
    parts: int
    part_micro: int
    cost_micro: int
    bound_micro: int
    alone_parts: int
    alone_micro: int
    interrupted: bool = False
    note: str = ""


@dataclass(frozen=True)
class _Posed:
    """A variant ready to be searched."""

    name: str
    boats: int
    brief: Brief
    routes: Routes
    problem: Problem


def plan_family(
    family: FamilyFile,
    briefs: Sequence[Brief],
    *,
    hub: str = "",
    time_limit_s: float | None = None,
    listener: Listener | None = None,
) -> Family:
    """Plan a family jointly, and every variant by itself beside it.

    ``inputs`` are those of its variants, in order. Money is what counts, whatever objective the
    limits name. Raises BadInput where something is held in a variant's scenario.
    """
    from lugwright.model.variants.family import best_family
    from lugwright.model.variants.family_model import Variant

    posed, variants = [], []
    for part, own in zip(family.variants, briefs, strict=True):
        if own.holds.holds:
            message = "a variant of a family holds nothing by itself"
            raise BadInput(Complaint(part.scenario.file, 0, 0, "hold", message))
        refuse_free_ends(own.console, "a family")
        problem, routes = pose(own)
        posed.append(_Posed(part.name, part.boats, own, routes, problem))
        variants.append(Variant(problem, part.boats, _places(problem, routes)))
    found = best_family(
        variants, family.part_micro, hub=hub, time_limit_s=time_limit_s, listener=listener
    )
    return _worked_up(family, posed, found, hub)


def _worked_up(family: FamilyFile, posed: Sequence[_Posed], found: FamilyFound, hub: str) -> Family:
    """The plans of what was found, numbered alike, each checked, beside the variants alone."""
    numbers = PartNumbers(family=True)
    told = (f"hub and jumpers of the family {family.title}", *((f"hub {hub}",) if hub else ()))
    members, alone_parts = [], set[tuple[object, ...]]()
    for one, choice, money in zip(posed, found.choices, found.money_micro, strict=False):
        plan, report = _planned(one, found.ending, choice, money, told, numbers, family.title)
        alone = _alone(one)
        alone_parts |= distinct_parts(alone)
        members.append(
            Member(one.name, one.boats, plan, report, money, alone.totals.money_micro, alone.hub)
        )
    alone_micro = sum(x.boats * x.alone_micro for x in members)
    return Family(
        family.title,
        found.ending,
        found.hub,
        tuple(members),
        found.parts,
        family.part_micro,
        found.cost_micro,
        found.bound_micro,
        len(alone_parts),
        alone_micro + family.part_micro * len(alone_parts),
        found.interrupted,
        found.note,
    )


def _planned(
    one: _Posed,
    ending: Ending,
    choice: Choice,
    money: int,
    told: tuple[str, ...],
    numbers: PartNumbers,
    family: str,
) -> tuple[Plan, Report]:
    """One variant's plan and the checker's report on it.

    With the family's jumpers held nothing cheaper is left to the variant: else the family could
    be made cheaper by it. So the plan is proved where the family is.
    """
    outcome = Outcome(ending, (MONEY,), choice=choice, cost=(money,), bound=(money,), held=told)
    if ending is not Ending.PROVED:
        outcome = replace(outcome, bound=())
    return checked(one.brief, one.routes, outcome, Held(), numbers, family)


def _alone(one: _Posed) -> Plan:
    """The plan the variant would have by itself."""
    from lugwright.model.choose import best_choice

    return work_up(one.brief, one.routes, best_choice(one.problem))


def _places(problem: Problem, routes: Routes) -> dict[str, str]:
    """Every splice point's id with a name that means the same place in every variant."""
    return {
        point.id: f"splice at {point.at.x_dmm} {point.at.y_dmm} {point.at.z_dmm} {point.tie}"
        for circuit in problem.circuits
        for point in routes.splice_points(circuit.name)
    }


def distinct_parts(plan: Plan) -> set[tuple[object, ...]]:
    """A plan's jumpers as parts: circuit, both ends (a splice by its place), wire, length.

    Extensions are cut to the boat and are no parts of a family.
    """
    splices = {splice.label: splice.at for splice in plan.splices}
    return {
        (
            piece.circuit,
            frozenset(splices.get(end, end) for end in (piece.from_joint, piece.to_joint)),
            piece.wire_size,
            piece.length_dmm,
        )
        for piece in plan.jumpers
        if piece.role == "jumper"
    }


@dataclass(frozen=True)
class SharedRow:
    """One distinct jumper of a family and the variants it is in."""

    label: str
    what: str
    length: str
    variants: tuple[str, ...]


def shared_rows(family: Family) -> tuple[SharedRow, ...]:
    """Every cut wire of a family by its label, in the order of circuits and numbers.

    Raises RuntimeError when one label names different parts: nobody could build from it.
    """
    found: dict[tuple[str, int], SharedRow] = {}
    for member in family.members:
        for piece in member.plan.jumpers:
            what = f"{piece.from_joint} to {piece.to_joint}, {piece.wire_size} {piece.colour}"
            key = (piece.circuit, piece.number)
            own = SharedRow(piece.label, what, mm_text(piece.length_dmm), (member.name,))
            row = found.setdefault(key, own)
            if row is own:
                continue
            if row.length != own.length:
                raise RuntimeError(f"{piece.label} is two different parts")
            found[key] = replace(row, variants=(*row.variants, member.name))
    return tuple(found[key] for key in sorted(found))
