"""Step cards: tasks that belong together, in the plan's order, none left out.

A card is what a hand does without moving on: a few wires of one circuit to cut, the crimps of one
instrument or two, the studs of one instrument, a handful of push-ons. Cards never change the
order of the plan's steps, which the checker has played.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from lugwright.base.scale import ceil_div
from lugwright.outputs.job.tasks import BOXES, STUD_VERBS, Task, Teller
from lugwright.outputs.job.wires import Wires
from lugwright.outputs.rows_bench import StepRow
from lugwright.outputs.words import PIGTAIL_NOTE
from lugwright.plans.schema import Plan
from lugwright.trade.names import is_join, is_pigtail

# How much one card holds, so that its drawing can be read at arm's length. Common practice, no
# source.
_WIRES, _CRIMPS, _STUDS, _PUSH_ONS, _REST = 6, 6, 2, 6, 8


@dataclass(frozen=True)
class Card:
    """One card. ``joined`` are studs and mid-air joints, drawn large beside its small drawing.

    ``sort`` is what hands do: the verb of its steps, or ``stud`` for lugs, washers and nuts.
    """

    number: int
    stage: str
    sort: str
    title: str
    hints: tuple[str, ...]
    tasks: tuple[Task, ...]
    wires: tuple[str, ...]
    joints: tuple[str, ...]
    joined: tuple[str, ...]

    @property
    def steps(self) -> str:
        """The plan's steps on it: ``12`` or ``12 to 18``."""
        first, last = self.tasks[0].first, self.tasks[-1].last
        return str(first) if first == last else f"{first} to {last}"


@dataclass(frozen=True)
class _Kind:
    """What makes steps that follow one another one card: equal kinds; ``most`` tasks on one."""

    title: str
    sort: str
    place: str
    in_air: bool = False


@dataclass(frozen=True)
class _Hand:
    """The steps of one card before it has its number."""

    stage: str
    kind: _Kind
    places: tuple[str, ...]
    steps: tuple[StepRow, ...]


def cards_of(plan: Plan, steps: Sequence[StepRow], wires: Wires) -> tuple[Card, ...]:
    """Every step of a plan, in order, on cards numbered from 1."""
    dealer = _Dealer(plan)
    teller = Teller(plan, wires)
    hands = [
        _Hand(stage, kind, (kind.place,), part)
        for (stage, kind), run in groupby(steps, lambda step: (step.stage, dealer.kind(step)))
        for part in _split(kind, tuple(run))
    ]
    return tuple(
        _card(number, hand, tuple(teller.tasks(hand.steps)))
        for number, hand in enumerate(_gathered(hands), start=1)
    )


def _gathered(hands: Sequence[_Hand]) -> list[_Hand]:
    """Crimps of instruments that follow one another share a card while it has room."""
    found: list[_Hand] = []
    for hand in hands:
        last = found[-1] if found else hand
        room = len(last.steps) + len(hand.steps) <= _CRIMPS
        plain = {last.kind.sort, hand.kind.sort} == {"crimp"}
        plain = plain and not (last.kind.in_air or hand.kind.in_air) and last.stage == hand.stage
        if found and plain and room:
            places = tuple(dict.fromkeys((*last.places, *hand.places)))
            found[-1] = _Hand(last.stage, last.kind, places, (*last.steps, *hand.steps))
        else:
            found.append(hand)
    return found


def _card(number: int, hand: _Hand, tasks: tuple[Task, ...]) -> Card:
    kind = hand.kind
    joints = tuple(dict.fromkeys(joint for task in tasks for joint in task.joints))
    if kind.sort == "cut":
        names = [task.name for task in tasks]
        about = f" {names[0]}" + (f" to {names[-1]}" if len(names) > 1 else "")
    else:
        about = f" {', '.join(hand.places)}" if kind.place else ""
    return Card(
        number=number,
        stage=hand.stage,
        sort=kind.sort,
        title=kind.title + about,
        hints=tuple(_hints(kind.sort, tasks)),
        tasks=tasks,
        wires=tuple(dict.fromkeys(wire for task in tasks for wire in task.wires)),
        joints=joints,
        joined=joints if kind.sort == "stud" or kind.in_air else (),
    )


def _hints(sort: str, tasks: Sequence[Task]) -> Iterator[str]:
    """What holds for every line of a card, said once."""
    wires = {wire for task in tasks for wire in task.wires}
    if sort == "cut":
        yield "Bare and tag both ends of each. End a is the one towards the supply."
    if sort == "crimp":
        dies = {task.die for task in tasks}
        for die in dict.fromkeys(task.die for task in tasks if task.die):
            names = [task.name for task in tasks if task.die == die]
            yield f"Die {die}: {'all' if len(dies) == 1 else ', '.join(names)}."
        yield "Twist together what shares a barrel; crimp; tug each wire."
    if sort == "stud":
        yield "Lug 1 lies at the base; o'clock is seen from the back."
    if sort == "stud" and any(task.box == BOXES["nut snug"] for task in tasks):
        yield "Hand snug: the instrument maker's torque governs."
    if sort == "push on":
        yield "Push each fully home, then tug."
    if sort in ("crimp", "stud") and any(is_pigtail(wire) for wire in wires):
        yield PIGTAIL_NOTE


def _split(kind: _Kind, run: tuple[StepRow, ...]) -> Iterator[tuple[StepRow, ...]]:
    """A run in parts of about the same size, none above what a card holds; studs stay whole."""
    pieces = (
        [tuple(steps) for _, steps in groupby(run, lambda step: step.target)]
        if kind.sort == "stud"
        else [(step,) for step in run]
    )
    most = {"cut": _WIRES, "crimp": _CRIMPS, "stud": _STUDS, "push on": _PUSH_ONS}
    parts = ceil_div(len(pieces), most.get(kind.sort, _REST))
    for part in range(parts):
        start, stop = (len(pieces) * index // parts for index in (part, part + 1))
        yield tuple(step for piece in pieces[start:stop] for step in piece)


class _Dealer:
    """Says what kind of card a step belongs on."""

    def __init__(self, plan: Plan) -> None:
        self._circuit: dict[str, str] = {piece.label: piece.circuit for piece in plan.jumpers}
        self._instrument = {post.id: post.instrument for post in plan.panel.posts}
        self._joint = {str(crimp.number): crimp.joint for crimp in plan.crimps}
        self._splices: dict[str, str] = {splice.label: splice.circuit for splice in plan.splices}
        self._in_air = {post.id for post in plan.panel.posts if post.kind == "lead"}

    def kind(self, step: StepRow) -> _Kind:
        """The kind of one step."""
        verb = step.verb
        if verb == "cut":
            return _Kind("Cut, bare and tag", "cut", self._circuit.get(step.target, ""))
        if verb == "crimp":
            return self._crimp_kind(self._joint.get(step.target, step.target))
        if verb in STUD_VERBS:
            place = self._instrument.get(step.target, step.target)
            return _Kind("Land on", "stud", place)
        if verb == "test" and step.stage != "key-on":
            return _Kind("Before going on", verb, "")
        titles = {"cap": "Cap off", "push on": "Push on", "tie": "Tie", "test": "Prove it"}
        return _Kind(titles[verb], verb, "")

    def _crimp_kind(self, joint: str) -> _Kind:
        """Crimps by instrument; splices by circuit, extensions by themselves, both in mid-air."""
        if joint in self._splices:
            place = f"the splices of {self._splices[joint]}"
        elif is_join(joint):
            place = "the extensions"
        else:
            place = self._instrument.get(joint, joint)
        in_air = joint in self._in_air or joint not in self._instrument
        return _Kind("Crimp for", "crimp", place, in_air)
