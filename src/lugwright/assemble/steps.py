"""The working order, from the first cap to key-on: a person can build from these alone.

Bench: caps (live first), cuts, crimps (joins and splices first), then stud by stud the lugs from
base to nut, push-ons, boots, ties, what stays bare and what must stay loose. Aboard: what
boat_wires, in the same order. Key-on comes from the lines of the test sheet (``readings``).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from lugwright.assemble import phrases
from lugwright.assemble.cautions import live_when
from lugwright.assemble.worked_up import WorkedUp
from lugwright.plans.schema import Stack, StackedLug, Stage, Step
from lugwright.trade.live import bare_live_studs
from lugwright.trade.names import end_label, is_strap, ready_part, wire_of_ready

StepStage = Literal["bench", "aboard"]
SLIPS_UNDER = {"captive spade", "plain spade"}  # a ring goes over the end of its stud


@dataclass(frozen=True)
class Draft:
    """A step before it has its number."""

    stage: StepStage
    verb: str
    target: str
    parts: tuple[str, ...]
    text: str


def build_steps(work: WorkedUp) -> tuple[Step, ...]:
    """Every step of bench and boat, numbered from 1."""
    drafts = [
        *_stage_steps(work, "bench"),
        *_left_bare(work),
        *_left_loose(work),
        *_stage_steps(work, "aboard"),
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


def _stage_steps(work: WorkedUp, stage: Stage) -> Iterator[Draft]:
    """All steps of one stage in working order."""
    yield from _caps(work, stage)
    yield from _settings(work, stage)
    yield from _cuts_and_crimps(work, stage)
    yield from _studs(work, stage)
    yield from _push_ons(work, stage)
    yield from _boots(work, stage)
    yield from _ties(work, stage)


def _caps(work: WorkedUp, stage: Stage) -> Iterator[Draft]:
    """Caps of the pigtails that are there at this stage, live ones first."""
    stages = {item.label: item.stage for item in work.brief.console.unused_pigtails}
    for cap in work.caps:
        if stages[cap.pigtail] == stage:
            parts = (cap.item,) if cap.item else ()
            yield Draft(stage, "cap", cap.pigtail, parts, phrases.cap_sentence(cap))


def _settings(work: WorkedUp, stage: Stage) -> Iterator[Draft]:
    """What is set on an instrument before it is mounted."""
    for one in work.brief.console.instruments if stage == "bench" else ():
        if one.setting:
            text = f"Before {one.name} goes in, set it: {one.setting.rstrip('.')}."
            yield Draft(stage, "test", f"setting of {one.name}", (), text)


def _cuts_and_crimps(work: WorkedUp, stage: Stage) -> Iterator[Draft]:
    """Every wire is cut before the first crimp, so no crimp waits for a wire."""
    for jumper in work.cut.jumpers:
        if jumper.stage == stage:
            yield Draft(stage, "cut", jumper.label, (), phrases.cut_sentence(jumper))
    for crimp in work.sheet.crimps:
        if crimp.stage == stage:
            ends = tuple(end_label(end.wire, end.end) for half in crimp.barrels for end in half)
            text = phrases.crimp_sentence(work, crimp)
            yield Draft(stage, "crimp", str(crimp.number), ends, text)


def _lug_part(lug: StackedLug) -> str:
    return str(lug.crimp) if lug.crimp else ready_part(lug.ready)


def _studs(work: WorkedUp, stage: Stage) -> Iterator[Draft]:
    """Stud by stud; at the bench the studs of one strap together, so that it goes on all at once.

    What lies under the strap on each of them comes first, what lies over it after. Straps join
    studs as a tree, so there is always one that can go on next.
    """
    told: set[str] = set()
    for stack in work.stacks:
        if stack.post in told:
            continue
        metal = work.brief.console.post(stack.post).strap if stage == "bench" else ""
        mine = [stack]
        if metal:
            mine = [x for x in work.stacks if work.brief.console.post(x.post).strap == metal]
        told |= {one.post for one in mine}
        drafts: dict[str, list[Draft]] = {one.post: list(_stud(work, one, stage)) for one in mine}
        yield from _together(drafts) if len(mine) > 1 else drafts[stack.post]


def _together(drafts: Mapping[str, list[Draft]]) -> Iterator[Draft]:
    """Steps of studs that straps join: a strap's lug goes on once its turn has come everywhere."""
    straps: dict[str, set[str]] = {}
    for post, steps in drafts.items():
        for step in steps:
            if _is_strap(step):
                straps.setdefault(step.parts[0], set()).add(post)
    while any(drafts.values()):
        for steps in drafts.values():
            while steps and not _is_strap(steps[0]):
                yield steps.pop(0)
        for part, posts in sorted(straps.items()):
            if all(drafts[post] and drafts[post][0].parts == (part,) for post in posts):
                yield from (drafts[post].pop(0) for post in sorted(posts))
                del straps[part]
                break


def _is_strap(step: Draft) -> bool:
    return step.verb == "land" and is_strap(wire_of_ready(step.parts[0]))


def _stud(work: WorkedUp, stack: Stack, stage: Stage) -> Iterator[Draft]:
    """The landings of one stud at one stage, with its washer and nut.

    A stud on which only spades are landed aboard has its washer and nut on loosely by then, and
    they slip under; for anything else the nut comes off again, or was not on yet. A bench lug
    that lies above an aboard lug waits on the stud, labelled; where the nut comes off it is lifted
    off and put back in its turn.
    """
    places = [place for place, lug in enumerate(stack.lugs, 1) if lug.stage == stage]
    if stage == "bench":
        if places or _only_spades_aboard(work, stack):
            yield from _lands(work, stack, stage, places)
            yield from _washer(stack, stage, stack.bench_lugs)
            yield _nut(stack, stage, "nut loose" if stack.nut_at_bench == "loose" else "nut snug")
        return
    if not places:
        return
    if _only_spades_aboard(work, stack):
        yield from _slips(work, stack, places)
    else:
        if stack.bench_lugs:
            yield _nut(stack, stage, "nut off")
        if stack.waiting:
            parts = tuple(_lug_part(lug) for lug in reversed(stack.waiting))
            yield Draft(stage, "lift", stack.post, parts, phrases.lift_sentence(stack))
        yield from _lands(work, stack, stage, range(places[0], len(stack.lugs) + 1))
        yield from _washer(stack, stage, len(stack.lugs))
    yield _nut(stack, stage, "nut snug")


def _only_spades_aboard(work: WorkedUp, stack: Stack) -> bool:
    """Whether every lug that is landed aboard slips under a nut that is only slackened."""
    late = [lug for lug in stack.lugs if lug.stage == "aboard"]
    kinds = {work.sheet.rows[lug.crimp].kind if lug.crimp else "ring" for lug in late}
    return bool(late) and kinds <= SLIPS_UNDER


def _lands(work: WorkedUp, stack: Stack, stage: Stage, places: Iterable[int]) -> Iterator[Draft]:
    for place in places:
        lug = stack.lugs[place - 1]
        if stage == "bench" and lug in stack.waiting:
            text = phrases.wait_sentence(work, stack, place)
            yield Draft(stage, "wait", stack.post, (_lug_part(lug),), text)
        else:
            text = phrases.land_sentence(work, stack, place, back=lug in stack.waiting)
            yield Draft(stage, "land", stack.post, (_lug_part(lug),), text)


def _slips(work: WorkedUp, stack: Stack, places: Sequence[int]) -> Iterator[Draft]:
    for place in places:
        text = phrases.slip_sentence(work, stack, place, first=place == places[0])
        yield Draft("aboard", "land", stack.post, (_lug_part(stack.lugs[place - 1]),), text)


def _washer(stack: Stack, stage: Stage, lugs_on: int) -> Iterator[Draft]:
    if stack.lock_washer:
        text = phrases.washer_sentence(stack, lugs_on)
        yield Draft(stage, "washer", stack.post, (), text)


def _nut(stack: Stack, stage: Stage, verb: str) -> Draft:
    return Draft(stage, verb, stack.post, (), phrases.nut_sentence(stack, verb))


def _push_ons(work: WorkedUp, stage: Stage) -> Iterator[Draft]:
    """Push-ons go on after the nuts of their stage are down."""
    for crimp in work.sheet.crimps:
        if crimp.kind == "push-on" and crimp.stage == stage:
            text = (
                f"Push {phrases.crimp_words(work, crimp)} fully home on {crimp.joint}, and tug it."
            )
            yield Draft(stage, "push on", crimp.joint, (str(crimp.number),), text)


def _boots(work: WorkedUp, stage: Stage) -> Iterator[Draft]:
    """A boot goes over a live stud once its nut is snug, and over one that stays bare."""
    when = live_when(work.brief.console)
    if stage == "bench":
        for post in bare_live_studs(work.brief.console, {stack.post for stack in work.stacks}):
            text = f"Slip an insulating boot over {post}: it is live {when}, though bare of wire."
            yield Draft(stage, "boot", post, (), text)
    for stack in work.stacks:
        snug_at = "bench" if stack.nut_at_bench == "snug" else "aboard"
        if stack.boot and snug_at == stage:
            text = f"Slip an insulating boot over {stack.post}: it is live {when}."
            yield Draft(stage, "boot", stack.post, (), text)


def _ties(work: WorkedUp, stage: Stage) -> Iterator[Draft]:
    for tie in work.ties.ties:
        if (tie.where in work.ties.aboard) == (stage == "aboard"):
            yield Draft(stage, "tie", tie.where, (str(tie.count),), phrases.tie_sentence(tie))


def _left_bare(work: WorkedUp) -> Iterator[Draft]:
    """Posts on which no wire is wanted, so that nobody looks for one."""
    wired = {stack.post for stack in work.stacks} | {crimp.joint for crimp in work.sheet.crimps}
    unwired = [post for post in work.brief.console.posts if post.id not in wired]
    bare = tuple(post.id for post in unwired)
    if not bare:
        return
    names: dict[str, list[str]] = {}
    for post in bare:
        instrument, _, name = post.rpartition(".")
        names.setdefault(instrument, []).append(name)
    told = "; ".join(
        f"{instrument}.{found[0]}" if len(found) == 1 else f"{instrument}: {', '.join(found)}"
        for instrument, found in names.items()
    )
    text = f"These posts get no wire, on purpose (a stud keeps its own nut): {told}."
    leads = [post.id for post in unwired if post.kind == "lead"]
    if leads:
        text += f" Insulate the end of the flying lead {phrases.joined(leads)} and tie it back."
    yield Draft("bench", "test", "left bare", bare, text)


def _left_loose(work: WorkedUp) -> Iterator[Draft]:
    """Before the panel leaves the bench: the studs that must not be run down yet."""
    waiting = [stack for stack in work.stacks if stack.nut_at_bench == "loose"]
    if not waiting:
        return
    on = [item for item in waiting if item.bench_lugs or _only_spades_aboard(work, item)]
    off = [item.post for item in waiting if item not in on]
    words = []
    if on:
        posts = phrases.joined([item.post for item in on])
        words.append(f"that nuts are still loose on {posts}")
    if off:
        what = "nut and washer" if waiting[0].lock_washer else "nut"
        bag = f"keep its own {what} in the bag"
        words.append(f"that no nut is on {phrases.joined(off)} yet ({bag})")
    text = f"Before the panel leaves the bench, see {' and '.join(words)}."
    labelled = [
        f"{phrases.short_name(lug)} on {stack.post}" for stack in waiting for lug in stack.waiting
    ]
    if labelled:
        text += f" Waiting there, each labelled with its place: {phrases.joined(labelled)}."
    yield Draft("bench", "test", "left loose", tuple(item.post for item in waiting), text)
