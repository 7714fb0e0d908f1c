"""Step cards: every step of a plan, once, in order, with what the hands need."""

from __future__ import annotations

import pytest
from support.made_plan import small_plan
from support.plans import plan_of

from lugwright.outputs.job.cards import Card, cards_of
from lugwright.outputs.job.needs import needs_of
from lugwright.outputs.job.tasks import Task
from lugwright.outputs.job.wires import Wires
from lugwright.outputs.rows_steps import step_rows
from lugwright.plans.schema import Plan

NAMES = ("sandbar-skiff", "hub-per-circuit", "hub-out-of-reach")


def dealt(plan: Plan) -> tuple[Card, ...]:
    """The cards of a plan."""
    return cards_of(plan, step_rows(plan), Wires(plan))


def tasks_of(plan: Plan) -> list[Task]:
    """Every task of every card."""
    return [task for card in dealt(plan) for task in card.tasks]


@pytest.mark.parametrize("name", NAMES)
def test_every_step_is_on_one_card_in_the_plans_order(name: str) -> None:
    """The spans of the tasks, one behind the other, are the plan's steps."""
    plan = plan_of(name)
    told = [n for task in tasks_of(plan) for n in range(task.first, task.last + 1)]
    assert told == [step.number for step in step_rows(plan)]


def test_a_plan_written_by_hand_loses_no_step() -> None:
    """A washer without a nut behind it keeps a box of its own; unknown posts do no harm."""
    told = [n for task in tasks_of(small_plan()) for n in range(task.first, task.last + 1)]
    assert told == list(range(1, 15))


def test_a_card_stays_in_one_stage_and_is_not_a_line_each() -> None:
    """The skiff's steps make fewer than 20 cards, none of more than 12 boxes."""
    cards = dealt(plan_of("sandbar-skiff"))
    assert len(cards) < 20
    assert max(len(card.tasks) for card in cards) <= 12
    assert [card.number for card in cards] == list(range(1, len(cards) + 1))


def test_a_cut_says_length_colour_and_both_strips() -> None:
    """What is read off at the wire: nothing of it is elsewhere only."""
    plan = plan_of("sandbar-skiff")
    piece = plan.jumpers[0]
    task = next(task for task in tasks_of(plan) if task.name == piece.label)
    crimps = {
        end.end: crimp.number
        for crimp in plan.crimps
        for half in crimp.barrels
        for end in half
        if end.wire == piece.label
    }
    assert (task.big, task.note, task.lines) == (
        f"{piece.length_dmm // 10} mm",
        f"{piece.colour} ({piece.colour_code}) {piece.wire_size}",
        (
            f"end a: bare {piece.strip_a_dmm / 10} mm; {piece.from_joint} (crimp {crimps['a']})",
            f"end b: bare {piece.strip_b_dmm / 10} mm; {piece.to_joint} (crimp {crimps['b']})",
        ),
    )


def test_a_crimp_names_its_die_and_its_wire_ends() -> None:
    """Fitting, die, joint and ends of each crimp are on its card."""
    plan = plan_of("hub-out-of-reach")
    made = {task.name: task for task in tasks_of(plan) if task.box == "crimped"}
    for crimp in plan.crimps:
        task = made[f"crimp {crimp.number}"]
        ends = [(end.wire.name, end.end or "a") for half in task.barrels for end in half]
        assert (task.big, task.die) == (crimp.item, crimp.die)
        assert ends == [(end.wire, end.end) for half in crimp.barrels for end in half]
        assert task.note == f"for {crimp.joint}"
    hints = [hint for card in dealt(plan) for hint in card.hints]
    dies = {crimp.die for crimp in plan.crimps}
    assert [die for die in dies if not any(x.startswith(f"Die {die}: ") for x in hints)] == []


@pytest.mark.parametrize("name", NAMES)
def test_lugs_are_landed_in_the_order_of_their_stacks(name: str) -> None:
    """Stud by stud the landings, each with its place and its clock position, are the stack."""
    plan = plan_of(name)
    landed: dict[str, list[str]] = {}
    for task in tasks_of(plan):
        if task.box == "landed" and task.big.startswith("lug "):
            landed.setdefault(task.name, []).append(task.big)
    wanted = {
        stack.post: [
            f"lug {place}{' at the base' if place == 1 else ''}, {lug.clock} o'clock"
            for place, lug in enumerate(stack.lugs, start=1)
        ]
        for stack in plan.stacks
    }
    assert landed == wanted


def test_a_washer_goes_on_with_its_nut() -> None:
    """One box, two steps; the driver is named where the nut is run down."""
    plan = plan_of("sandbar-skiff")
    nuts = [task for task in tasks_of(plan) if task.box in ("snug", "left loose")]
    bench = [task for task in nuts if task.last - task.first == 1]
    assert len(bench) == len(plan.stacks)
    assert {"lock washer" in task.note for task in bench} == {True}
    drivers = {stack.post: stack.driver for stack in plan.stacks}
    snug = [task for task in nuts if task.box == "snug"]
    assert [task.name for task in snug if drivers[task.name] not in task.note] == []


def test_no_card_names_a_torque_figure() -> None:
    """The instrument maker's torque governs; a newton or an inch-pound stands nowhere."""
    words = " ".join(
        line for task in tasks_of(plan_of("sandbar-skiff")) for line in (task.note, *task.lines)
    )
    assert [unit for unit in ("N·m", "Nm", "in-lb", "lbf") if unit in words] == []


def test_needs_name_every_die_driver_and_hole() -> None:
    """What the plan asks for is on the bench before the first cut."""
    plan = plan_of("sandbar-skiff")
    told = {need.what for need in needs_of(plan)}
    saws = {f"hole saw or cutter {x.cut_out_dmm / 10:g} mm, pilot drill"
            for x in plan.panel.instruments}  # fmt: skip
    dies = {f"crimp tool, die {crimp.die}" for crimp in plan.crimps}
    assert saws | dies | {stack.driver for stack in plan.stacks} <= told
    assert "hot-air tool" not in told


def test_a_lined_fitting_asks_for_hot_air() -> None:
    """Only a lined sleeve is shrunk; the need says which crimps, and so does the card."""
    plan = plan_of("sandbar-skiff")
    lined = tuple(
        crimp.model_copy(update={"lined": crimp.number in (2, 3)}) for crimp in plan.crimps
    )
    changed = plan.model_copy(update={"crimps": lined})
    (need,) = (need for need in needs_of(changed) if need.what == "hot-air tool")
    assert need.why.startswith("lined crimps 2 and 3:")
    shrunk = [x.name for x in tasks_of(changed) if any("hot air" in line for line in x.lines)]
    assert shrunk == ["crimp 2", "crimp 3"]
