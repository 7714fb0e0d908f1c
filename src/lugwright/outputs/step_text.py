"""The steps as they are printed: runs of like steps told together, each still in its place.

A run of cuts or crimps points to the boxes of its list; the steps of one stud, push-ons and ties
that follow one another share a box as long as they fit in two lines. No step is left out, and
the numbers are those of the plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from lugwright.base.scale import mm_text
from lugwright.outputs.layout import WIDTH, wrapped
from lugwright.outputs.rows_bench import StepRow
from lugwright.outputs.words import number_ranges
from lugwright.plans.schema import Crimp, Plan, Stack, StackedLug
from lugwright.trade.names import (
    is_join,
    is_lead,
    is_ready,
    ready_part,
    ready_words,
    wire_of_ready,
)

_ROOM = 2 * (WIDTH - len("[ ] 101-104  ")) - 8  # two lines, less what wrapping between words costs
_STUD_VERBS = ("land", "wait", "lift", "washer", "nut loose", "nut off", "nut snug")


@dataclass(frozen=True)
class PrintedStep:
    """One entry of the printed list: the plan's steps ``first`` to ``last``."""

    first: int
    last: int
    text: str

    @property
    def numbers(self) -> str:
        """The number of the step, or the first and the last of a run."""
        return str(self.first) if self.first == self.last else f"{self.first}-{self.last}"


@dataclass(frozen=True)
class _Bit:
    """One step of a run, in a few words."""

    number: int
    words: str


def printed_lines(plan: Plan, steps: Sequence[StepRow]) -> list[str]:
    """The steps of one stage as lines of the printed list, each entry with a box."""
    entries = printed_steps(plan, steps)
    widest = max((len(entry.numbers) for entry in entries), default=0)
    return [
        line
        for entry in entries
        for line in wrapped(entry.text, first=f"[ ] {entry.numbers:>{widest}}  ")
    ]


def printed_steps(plan: Plan, steps: Sequence[StepRow]) -> tuple[PrintedStep, ...]:
    """The steps of one stage, runs of like steps told together."""
    teller = _Teller(plan)
    return tuple(
        entry for _, run in groupby(steps, teller.kind) for entry in teller.told(tuple(run))
    )


class _Teller:
    """Finds runs of like steps and tells each."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._crimps = {str(crimp.number): crimp for crimp in plan.crimps}
        self._stacks: dict[str, Stack] = {stack.post: stack for stack in plan.stacks}
        self._ties_at = _tie_places(plan)
        self._loosely_on = {
            step.target for step in plan.steps if (step.stage, step.verb) == ("bench", "nut loose")
        }

    def kind(self, step: StepRow) -> tuple[str, str]:
        """Equal for steps that may be told together."""
        if step.verb in ("cut", "push on", "tie"):
            return (step.verb, "")
        if step.verb == "crimp" and is_plain(self._plan, self._crimps.get(step.target)):
            return ("crimp", "")
        if step.verb in _STUD_VERBS:
            return ("stud", step.target)
        return ("alone", str(step.number))

    def told(self, run: tuple[StepRow, ...]) -> Iterator[PrintedStep]:
        """The entries of one run."""
        kind = self.kind(run[0])[0]
        if len(run) == 1 or kind == "alone":
            yield from (PrintedStep(step.number, step.number, step.text) for step in run)
        elif kind == "cut":
            yield PrintedStep(run[0].number, run[-1].number, self._cut_text(run))
        elif kind == "crimp":
            yield PrintedStep(run[0].number, run[-1].number, _crimp_text(run))
        elif kind == "stud":
            yield from _packed(f"{run[0].target}: ", tuple(self._stud_bits(run)), ", ")
        elif kind == "push on":
            bits = tuple(_Bit(step.number, f"crimp {step.parts} on {step.target}") for step in run)
            yield from _packed("Push fully home and tug: ", bits, ", ")
        else:
            bits = tuple(_Bit(step.number, self._tie_words(step)) for step in run)
            yield from _packed("Tie: ", bits, ", ")

    def _cut_text(self, run: Sequence[StepRow]) -> str:
        """What to cut: the whole list of the stage, or the pieces by name."""
        stage = run[0].stage
        listed = [piece.label for piece in self._plan.jumpers if piece.stage == stage]
        named = [step.target for step in run]
        which = f"all {len(run)} wires" if named == listed else ", ".join(named)
        return (
            f"Cut {which} of the {stage} cut list; bare and tag both ends. Tick each in that list."
        )

    def _stud_bits(self, run: Sequence[StepRow]) -> Iterator[_Bit]:
        """What is done at one stud, from the base to the nut."""
        stack = self._stacks.get(run[0].target)
        waiting = [_part(lug) for lug in stack.waiting] if stack else []
        verbs = {step.verb for step in run}
        slips = run[0].stage == "aboard" and run[0].target in self._loosely_on
        slips = slips and "nut off" not in verbs
        first = True
        for step in run:
            words = self._stud_words(stack, step)
            if step.verb == "land":
                if not first:
                    words = f"on it {words}"
                elif slips:
                    under = "the lock washer" if stack is None or stack.lock_washer else "the nut"
                    under = "the lugs that wait" if waiting else under
                    words = f"slacken the nut, slip {words} under {under}"
                first = False
            yield _Bit(step.number, words)

    def _tie_words(self, step: StepRow) -> str:
        """Where to tie, and how often."""
        if step.target.startswith(("along ", "between ")):
            return f"{step.parts} {step.target}"
        place = self._ties_at.get(step.target)
        return f"at tie point {step.target}" + (f" ({place})" if place else "")

    def _stud_words(self, stack: Stack | None, step: StepRow) -> str:
        """One step at a stud."""
        if step.verb in ("land", "wait"):
            words = _lug_words(stack, step.parts)
            if step.verb == "wait":
                return f'{words}, labelled "lug {_place(stack, step.parts)}", to wait'
            back = stack is not None and step.parts in map(_part, stack.waiting)
            return f"{words} back" if back else words
        if step.verb == "lift":
            return f"what waited lifted off ({_lifted(stack)})"
        driver = f" ({stack.driver})" if stack and stack.driver else ""
        washer = " and washer" if stack and stack.lock_washer else ""
        return {
            "washer": "lock washer",
            "nut loose": "nut by a few turns only",
            "nut off": f"nut{washer} off again",
            "nut snug": f"nut snug{driver}",
        }[step.verb]


def is_plain(plan: Plan, crimp: Crimp | None) -> bool:
    """Whether the crimp list says all about a crimp: not so in mid-air, or with a fold."""
    if crimp is None or crimp.folded:
        return False
    in_air = {splice.crimp for splice in plan.splices}
    lead = any(is_lead(end.wire) for half in crimp.barrels for end in half)
    return not (lead or crimp.number in in_air or is_join(crimp.joint))


def _tie_places(plan: Plan) -> dict[str, str]:
    """Where each tie point is, by the wires that pass it; its name may tell it from the front."""
    paths = [piece.path for piece in plan.jumpers] + [wire.path for wire in plan.given]
    corners = (corner for path in paths for corner in path if corner.tie)
    return {corner.tie: f"{mm_text(corner.x_dmm)} mm from left" for corner in corners}


def _lug_words(stack: Stack | None, part: str) -> str:
    """A lug by its crimp or its ready-made ring, with its clock position."""
    ready = wire_of_ready(part) if is_ready(part) else ""
    name = f"the {ready_words(ready)}" if ready else f"crimp {part}"
    for lug in stack.lugs if stack else ():
        if (str(lug.crimp) == part) if lug.crimp else (lug.ready == ready):
            return f"{name} ({lug.clock} o'clock)"
    return name


def _part(lug: StackedLug) -> str:
    """A lug as the steps name it."""
    return str(lug.crimp) if lug.crimp else ready_part(lug.ready)


def _place(stack: Stack | None, part: str) -> int:
    """The place of a lug from the base, from 1; 0 where it is not of the stack."""
    parts = [_part(lug) for lug in stack.lugs] if stack else []
    return parts.index(part) + 1 if part in parts else 0


def _lifted(stack: Stack | None) -> str:
    """The places of the lugs that waited, from the top: ``lugs 4 and 3``."""
    places = [_place(stack, _part(lug)) for lug in reversed(stack.waiting)] if stack else []
    *more, last = map(str, places or [0])
    return f"lugs {', '.join(more)} and {last}" if more else f"lug {last}"


def _crimp_text(run: Sequence[StepRow]) -> str:
    """Which crimps of the list to make."""
    numbers = number_ranges([int(step.target) for step in run])
    return (
        f"Make crimps {numbers} of the crimp list, in order: "
        "twist what shares a barrel, crimp, tug. Tick each in that list."
    )


def _packed(head: str, bits: Sequence[_Bit], between: str) -> Iterator[PrintedStep]:
    """Bits behind their head, as many in one entry as two lines hold."""
    held: list[_Bit] = []
    for bit in bits:
        longer = len(head) + len(between.join(one.words for one in (*held, bit)))
        if held and longer > _ROOM:
            yield _entry(head, held, between)
            held = []
        held.append(bit)
    if held:
        yield _entry(head, held, between)


def _entry(head: str, held: Sequence[_Bit], between: str) -> PrintedStep:
    text = head + between.join(one.words for one in held) + "."
    return PrintedStep(held[0].number, held[-1].number, text)
