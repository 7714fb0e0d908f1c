"""What to do to a harness built to one plan so that it becomes another, in working order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from lugwright.base.scale import mm_text
from lugwright.plans.schema import Crimp, Plan
from lugwright.production.compare import changed_stacks, crimp_text, fitting_sides, stack_text
from lugwright.production.pairing import Pairing, Side, limit_dmm


def rework_lines(before: Side, after: Side, pairing: Pairing) -> Iterator[str]:
    """The work, line by line: undo under the old labels, then make under the new ones."""
    stacks = changed_stacks(before, after, pairing)
    gone, come = fitting_sides(before, after, pairing)
    yield from _undo(before, pairing, stacks, gone)
    yield from _tag_anew(pairing)
    for verb, pairs in (("Move", pairing.moved), ("Shorten", pairing.recut)):
        for was, now in pairs.items():
            old, new = before.told(before.pieces[was]), after.told(after.pieces[now])
            yield f"{verb} old {old}; cut both fittings off, then it is {new}."
    yield from _too_short(before, after, pairing, gone)
    for label in pairing.new:
        yield f"Cut {after.told(after.pieces[label])}."
    for crimp in come:
        yield f"Crimp at {crimp.joint}: {crimp_text(crimp, after)}; die {crimp.die}."
    for post in stacks:
        if text := stack_text(post, after):
            yield f"Stack {post} {text}."
    yield from _fuses(before.plan, after.plan)


def fuses_by_place(plan: Plan) -> dict[str, str]:
    """The rating of every fuse the scenario states, by its wire or far post, in words."""
    parts = (text.rpartition(": ") for text in plan.fuses)
    return {place: rating for place, _, rating in parts}


def _fuses(before: Plan, after: Plan) -> Iterator[str]:
    """Fuses last, when all wires are where they belong."""
    was, now = fuses_by_place(before), fuses_by_place(after)
    for place in sorted(was.keys() | now.keys()):
        old, new = was.get(place, ""), now.get(place, "")
        if old == new:
            continue
        if old and new:
            yield f"Change the fuse at {place}: {new} in place of {old}."
        else:
            verb = f"Put a fuse of {new} in at" if new else f"Take the fuse of {old} out at"
            yield f"{verb} {place}."


def _undo(
    before: Side, pairing: Pairing, stacks: Sequence[str], gone: Sequence[Crimp]
) -> Iterator[str]:
    """Open, cut off, take out; every label in these lines is one of the old plan."""
    opened = [post for post in stacks if stack_text(post, before)]
    if opened:
        yield f"Take the nuts off {', '.join(opened)}."
    for crimp in gone:
        yield f"Cut off at {crimp.joint}: {crimp_text(crimp, before)} (old labels)."
    for label in pairing.removed:
        yield f"Take out old {before.told(before.pieces[label])}."


def _tag_anew(pairing: Pairing) -> Iterator[str]:
    """One line, since labels may change places with each other."""
    renamed = [f"{was} is now {now}" for was, now in sorted(pairing.same.items()) if was != now]
    if renamed:
        yield f"Put on new tags, all in one go: {'; '.join(renamed)}."


def _too_short(before: Side, after: Side, pairing: Pairing, gone: Sequence[Crimp]) -> Iterator[str]:
    """Pieces that stay but lose an end: cutting a fitting off takes wire with it."""
    lost_dmm = limit_dmm(after.plan, "re_termination")
    ends: Counter[str] = Counter(
        end.wire for crimp in gone for barrel in crimp.barrels for end in barrel
    )
    for was, now in sorted(pairing.same.items()):
        piece = after.pieces[now]
        least = piece.path_dmm + 2 * limit_dmm(after.plan, "end_allowance")
        if ends[was] and piece.length_dmm - ends[was] * lost_dmm < least:
            yield (
                f"Where {now} comes out short after its old fitting is cut off, cut it new: "
                f"{after.told(piece)}; it must be {mm_text(least)} mm at the least."
            )
