"""Steps as tasks: one movement of the hands, one box.

A washer goes on with its nut and shares its box; every other step has a box of its own. The words
on the boxes are a closed set: cut, crimped, landed, snug, and what else a step may end in.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lugwright.base.scale import mm_text
from lugwright.outputs.job.wires import WireEnd, Wires
from lugwright.outputs.rows_bench import StepRow
from lugwright.outputs.step_text import is_plain
from lugwright.outputs.words import colour_text
from lugwright.plans.schema import Crimp, Jumper, Plan, Stack, StackedLug
from lugwright.trade.names import is_ready, pigtail_wire, strap_name, wire_of_ready

BOXES = {
    "cap": "capped",
    "cut": "cut",
    "crimp": "crimped",
    "land": "landed",
    "wait": "waiting, labelled",
    "lift": "lifted off",
    "push on": "landed",
    "washer": "washer on",
    "nut loose": "left loose",
    "nut off": "nut off",
    "nut snug": "snug",
    "boot": "boot on",
    "tie": "tied",
    "test": "seen",
}
STUD_VERBS = ("land", "wait", "lift", "washer", "nut loose", "nut off", "nut snug", "boot")


def box_key(number: int) -> str:
    """The key of a step's box, by which the same box elsewhere on the sheet is ticked with it."""
    return f"step {number}"


@dataclass(frozen=True)
class Task:
    """One line of a card. ``first`` to ``last`` are the plan's steps it covers.

    ``name`` is what it is about, ``big`` what must not be misread (a length, a place), ``note``
    stands behind them, ``lines`` below; ``barrels`` holds wire ends. ``wires`` and ``joints`` are
    what its drawing shows, ``die`` what it is crimped with.
    """

    first: int
    last: int
    box: str
    name: str
    big: str = ""
    note: str = ""
    lines: tuple[str, ...] = ()
    barrels: tuple[tuple[WireEnd, ...], ...] = ()
    wires: tuple[str, ...] = ()
    joints: tuple[str, ...] = ()
    die: str = ""

    @property
    def key(self) -> str:
        """The key of its box."""
        return box_key(self.last)

    @property
    def numbers(self) -> str:
        """``12`` or ``12–13``."""
        return str(self.first) if self.first == self.last else f"{self.first}–{self.last}"


class Teller:
    """Makes tasks of steps."""

    def __init__(self, plan: Plan, wires: Wires) -> None:
        self._plan, self._wires = plan, wires
        self._jumpers: dict[str, Jumper] = {piece.label: piece for piece in plan.jumpers}
        self._crimps = {str(crimp.number): crimp for crimp in plan.crimps}
        self._stacks: dict[str, Stack] = {stack.post: stack for stack in plan.stacks}
        self._posts = {post.id for post in plan.panel.posts}
        self._entering = {entry.wire for entry in plan.panel.entries} - {
            given.wire for given in plan.given
        }
        self._crimp_at: dict[tuple[str, str], Crimp] = {
            (end.wire, end.end): crimp
            for crimp in plan.crimps
            for barrel in crimp.barrels
            for end in barrel
        }

    def tasks(self, steps: Sequence[StepRow]) -> Iterator[Task]:
        """One task for each step; a washer waits for the nut that follows it."""
        washer: StepRow | None = None
        for step in steps:
            if washer and not (step.verb.startswith("nut ") and step.target == washer.target):
                yield self._task(washer, washer.number)
                washer = None
            if step.verb == "washer":
                washer = step
                continue
            yield self._task(step, washer.number if washer else step.number)
            washer = None
        if washer:
            yield self._task(washer, washer.number)

    def _task(self, step: StepRow, first: int) -> Task:
        if step.verb == "cut" and step.target in self._jumpers:
            return self._cut(step, self._jumpers[step.target])
        if step.verb == "crimp" and step.target in self._crimps:
            return self._crimp(step, self._crimps[step.target])
        if step.verb in ("land", "wait") and step.target in self._stacks:
            return self._land(step, self._stacks[step.target])
        if step.verb == "push on" and step.parts in self._crimps:
            return self._push_on(step, self._crimps[step.parts])
        if step.verb.startswith("nut ") and step.target in self._stacks:
            return self._nut(step, first, self._stacks[step.target])
        parts = [part for part in step.parts.split(", ") if part in self._posts]
        joints = [step.target] if step.target in self._posts else parts
        return Task(
            step.number,
            step.number,
            BOXES[step.verb],
            step.target,
            lines=(step.text,),
            wires=tuple({pigtail_wire(step.target)} & self._entering),
            joints=tuple(joints),
        )

    def _cut(self, step: StepRow, piece: Jumper) -> Task:
        """A piece of wire: its length, its strips and what goes on its ends."""
        what = ", extension" if piece.role == "extension" else ""
        return Task(
            step.number,
            step.number,
            BOXES["cut"],
            piece.label,
            big=f"{mm_text(piece.length_dmm)} mm",
            note=f"{colour_text(piece.colour, piece.colour_code)} {piece.wire_size}{what}",
            lines=(
                self._cut_end(piece, "a", piece.from_joint, piece.strip_a_dmm),
                self._cut_end(piece, "b", piece.to_joint, piece.strip_b_dmm),
            ),
            wires=(piece.label,),
            joints=(piece.from_joint, piece.to_joint),
        )

    def _cut_end(self, piece: Jumper, end: str, joint: str, strip_dmm: int) -> str:
        crimp = self._crimp_at.get((piece.label, end))
        fitting = f" (crimp {crimp.number})" if crimp else ""
        return f"end {end}: bare {mm_text(strip_dmm)} mm; {joint}{fitting}"

    def _crimp(self, step: StepRow, crimp: Crimp) -> Task:
        """A fitting: its die, its wires and how far each is bared."""
        barrels = self._wires.barrels(crimp)
        return Task(
            step.number,
            step.number,
            BOXES["crimp"],
            f"crimp {crimp.number}",
            big=crimp.item,
            note=f"for {crimp.joint}",
            lines=self._crimp_lines(step, crimp),
            barrels=barrels,
            wires=_names(barrels),
            joints=(crimp.joint,),
            die=crimp.die,
        )

    def _crimp_lines(self, step: StepRow, crimp: Crimp) -> tuple[str, ...]:
        """What its ends do not tell: in mid-air and with a fold, the whole sentence."""
        lined = ("Lined: shrink its sleeve with hot air.",) if crimp.lined else ()
        if is_plain(self._plan, crimp):
            return lined
        return (step.text, *lined)

    def _land(self, step: StepRow, stack: Stack) -> Task:
        """A lug on its stud: which place from the base, where its barrel points.

        One that waits for what comes aboard is told in full, with what its label says.
        """
        found = _lug_of(stack, step.parts)
        box = BOXES[step.verb]
        if found is None:
            return Task(step.number, step.number, box, step.target, lines=(step.text,))
        place, lug = found
        barrels = self._lug_barrels(lug)
        crimp = self._crimps.get(str(lug.crimp))
        what = f"crimp {lug.crimp}, {crimp.item}" if crimp else self._ready_made(stack, lug)
        return Task(
            step.number,
            step.number,
            box,
            stack.post,
            big=f"lug {place}{' at the base' if place == 1 else ''}, {lug.clock} o'clock",
            note=what,
            lines=() if (step.stage, step.verb) == ("bench", "land") else (step.text,),
            barrels=barrels,
            wires=_names(barrels),
            joints=(stack.post,),
        )

    def _lug_barrels(self, lug: StackedLug) -> tuple[tuple[WireEnd, ...], ...]:
        crimp = self._crimps.get(str(lug.crimp))
        if crimp is not None:
            return self._wires.crimped(crimp)
        return ((WireEnd(self._wires.named(lug.ready), "", ""),),)

    def _ready_made(self, stack: Stack, lug: StackedLug) -> str:
        """What goes on ready-made; a strap's lugs go on all its studs together."""
        for strap in self._plan.panel.straps:
            if strap_name(strap.name) == lug.ready:
                others = ", ".join(post for post in strap.posts if post != stack.post)
                return f"its own lug, together with that on {others}"
        return "its ready-made ring"

    def _push_on(self, step: StepRow, crimp: Crimp) -> Task:
        barrels = self._wires.crimped(crimp)
        return Task(
            step.number,
            step.number,
            BOXES["push on"],
            step.target,
            big=f"crimp {crimp.number}",
            barrels=barrels,
            wires=_names(barrels),
            joints=(step.target,),
        )

    def _nut(self, step: StepRow, first: int, stack: Stack) -> Task:
        """A nut, with the washer under it where one goes on now."""
        washer = "lock washer, " if first != step.number else ""
        driver = f", {stack.driver}" if stack.driver and step.verb == "nut snug" else ""
        how = {
            "nut loose": " by a few turns only: more is landed aboard",
            "nut off": " and its washer off again" if stack.lock_washer else " off again",
            "nut snug": "",
        }[step.verb]
        return Task(
            first,
            step.number,
            BOXES[step.verb],
            stack.post,
            big={"nut loose": "nut LOOSE", "nut off": "nut off", "nut snug": "nut snug"}[step.verb],
            note=f"{washer}{stack.thread} nut{driver}{how}",
            joints=(stack.post,),
        )


def _names(barrels: tuple[tuple[WireEnd, ...], ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(end.wire.name for barrel in barrels for end in barrel))


def _lug_of(stack: Stack, part: str) -> tuple[int, StackedLug] | None:
    """The lug a step names, and its place from the base."""
    ready = wire_of_ready(part) if is_ready(part) else ""
    for place, lug in enumerate(stack.lugs, start=1):
        if (str(lug.crimp) == part) if lug.crimp else (lug.ready == ready):
            return place, lug
    return None
