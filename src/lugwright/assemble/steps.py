"""The working order, from the first cap to key-on: a person can build from these alone.

Bench: caps (live first), cuts, crimps (joins and splices first), then stud by stud the lugs from
base to nut, push-ons, boots, ties, and what must stay loose. Aboard: what arrives, in the same
order. Key-on: the tests of ``proving``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from lugwright.assemble import phrases
from lugwright.assemble.built import Built
from lugwright.assemble.proving import Test, proving_tests
from lugwright.plan.schema import Stack, StackedLug, Stage, Step

StepStage = Literal["bench", "aboard", "key-on"]


@dataclass(frozen=True)
class Draft:
    """A step before it has its number."""

    stage: StepStage
    verb: str
    target: str
    parts: tuple[str, ...]
    text: str


def build_steps(built: Built) -> tuple[Step, ...]:
    """Every step of a plan, numbered from 1."""
    drafts = [
        *_stage_steps(built, "bench"),
        *_left_loose(built),
        *_stage_steps(built, "aboard"),
        *(_test(test) for test in proving_tests(built)),
    ]
    return tuple(
        Step(
            number=number,
            stage=draft.stage,
            verb=draft.verb,
            target=draft.target,
            parts=draft.parts,
            text=draft.text,
        )
        for number, draft in enumerate(drafts, 1)
    )


def _stage_steps(built: Built, stage: Stage) -> Iterator[Draft]:
    """All steps of one stage in working order."""
    yield from _caps(built, stage)
    yield from _cuts_and_crimps(built, stage)
    for stack in built.stacks:
        yield from _stud(built, stack, stage)
    yield from _push_ons(built, stage)
    yield from _boots(built, stage)
    yield from _ties(built, stage)


def _caps(built: Built, stage: Stage) -> Iterator[Draft]:
    """Caps of the pigtails that are there at this stage, live ones first."""
    stages = {item.label: item.stage for item in built.console.unused_pigtails}
    for cap in built.caps:
        if stages[cap.pigtail] == stage:
            parts = (cap.item,) if cap.item else ()
            yield Draft(stage, "cap", cap.pigtail, parts, phrases.cap_sentence(cap))


def _cuts_and_crimps(built: Built, stage: Stage) -> Iterator[Draft]:
    """Every wire is cut before the first crimp, so no crimp waits for a wire."""
    for jumper in built.cut.jumpers:
        if jumper.stage == stage:
            yield Draft(stage, "cut", jumper.label, (), phrases.cut_sentence(jumper))
    for crimp in built.sheet.crimps:
        if crimp.stage == stage:
            ends = tuple(f"{end.wire} {end.end}" for half in crimp.barrels for end in half)
            text = phrases.crimp_sentence(built, crimp)
            yield Draft(stage, "crimp", str(crimp.number), ends, text)


def _lug_part(lug: StackedLug) -> str:
    return str(lug.crimp) if lug.crimp else f"ready {lug.ready}"


def _stud(built: Built, stack: Stack, stage: Stage) -> Iterator[Draft]:
    """The landings of one stud at one stage, with its washer and nut.

    A stud on which nothing is landed at the bench keeps its nut as delivered until then.
    """
    places = range(1, len(stack.lugs) + 1)
    bench = stack.bench_lugs
    now = places[:bench] if stage == "bench" else places[bench:]
    if not now:
        return
    if stage == "aboard" and bench:
        yield _nut(stack, stage, "nut off")
    for place in now:
        text = phrases.land_sentence(built, stack, place)
        if place == 1 and stage == "aboard":
            text = f"Take off whatever nut {stack.post} came with. {text}"
        parts = (_lug_part(stack.lugs[place - 1]),)
        yield Draft(stage, "land", stack.post, parts, text)
    if stack.lock_washer:
        text = f"Lay the {stack.thread} lock washer on {stack.post}, on top of the lugs."
        yield Draft(stage, "washer", stack.post, (), text)
    loose = stage == "bench" and stack.nut_at_bench == "loose"
    yield _nut(stack, stage, "nut loose" if loose else "nut snug")


def _nut(stack: Stack, stage: Stage, verb: str) -> Draft:
    return Draft(stage, verb, stack.post, (), phrases.nut_sentence(stack, verb))


def _push_ons(built: Built, stage: Stage) -> Iterator[Draft]:
    """Push-ons go on after the nuts of their stage are down."""
    for crimp in built.sheet.crimps:
        if crimp.kind == "push-on" and crimp.stage == stage:
            text = (
                f"Push {phrases.crimp_words(built, crimp)} fully home on {crimp.joint}, and tug it."
            )
            yield Draft(stage, "push on", crimp.joint, (str(crimp.number),), text)


def _boots(built: Built, stage: Stage) -> Iterator[Draft]:
    """A boot goes over a live stud once its nut is snug."""
    for stack in built.stacks:
        snug_at = "bench" if stack.nut_at_bench == "snug" else "aboard"
        if stack.boot and snug_at == stage:
            text = f"Slip an insulating boot over {stack.post}: it is live with the key off."
            yield Draft(stage, "boot", stack.post, (), text)


def _ties(built: Built, stage: Stage) -> Iterator[Draft]:
    for tie in built.ties.ties:
        if (tie.where in built.ties.aboard) == (stage == "aboard"):
            yield Draft(stage, "tie", tie.where, (str(tie.count),), phrases.tie_sentence(tie))


def _left_loose(built: Built) -> Iterator[Draft]:
    """Before the panel leaves the bench: the studs that must not be run down yet."""
    waiting = [stack for stack in built.stacks if stack.nut_at_bench == "loose"]
    if not waiting:
        return
    posts = tuple(stack.post for stack in waiting)
    text = f"Before the panel leaves the bench, see that the nuts of {phrases.joined(posts)}"
    text += " are still loose: more is landed there aboard."
    hanging = [
        phrases.lug_words(built, lug)
        for stack in waiting
        for lug in stack.lugs[stack.bench_lugs :]
        if lug.stage == "bench"
    ]
    if hanging:
        text += f" Left hanging by its stud until then: {phrases.joined(hanging)}."
    yield Draft("bench", "test", "left loose", posts, text)


def _test(test: Test) -> Draft:
    return Draft("key-on", "test", test.what, test.seen, test.text)
