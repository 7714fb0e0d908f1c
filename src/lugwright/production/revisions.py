"""What changed between two revisions of a plan, and what a harness built to the old one needs.

Labels are numbers handed out anew with every plan, so pieces are told apart by what they are: the
circuit, the joints at both ends, wire size, colour and length. A splice is known by its place.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from lugwright.base.scale import mm_text, money_text
from lugwright.outputs.words import minutes_text
from lugwright.plans.schema import Plan
from lugwright.production.compare import changed_stacks, crimp_text, fitting_sides, stack_text
from lugwright.production.pairing import Pairing, Side, pair_pieces
from lugwright.production.rework_lines import fuses_by_place, rework_lines


@dataclass(frozen=True)
class Change:
    """One difference. ``kind`` is new, removed, recut, moved, renamed or changed.

    ``before`` and ``after`` are words, "" where there is nothing on that side.
    """

    part: str
    kind: str
    place: str
    before: str
    after: str


@dataclass(frozen=True)
class Changes:
    """Everything that differs, by part of the plan; ``work`` is what brings an old harness up."""

    changes: tuple[Change, ...]
    work: tuple[str, ...]
    same_jumpers: int
    warnings: tuple[str, ...] = ()

    @property
    def none(self) -> bool:
        """True when nothing a bench can see differs."""
        return not self.changes


def changes_between(old: Plan, new: Plan) -> Changes:
    """Compare two plans of one console, the earlier first."""
    before, after = Side(old), Side(new)
    pairing = pair_pieces(before, after)
    found = [
        *_of_landings(old, new),
        *_of_pieces(before, after, pairing),
        *_of_fittings(before, after, pairing),
        *_of_stacks(before, after, pairing),
        *_of_caps(old, new),
        *_of_ways(old, new),
        *_of_fuses(old, new),
        *_of_totals(old, new),
        *_of_limits(old, new),
    ]
    warnings = () if old.title == new.title else ("the two plans have different titles",)
    return Changes(
        tuple(found), tuple(rework_lines(before, after, pairing)), len(pairing.same), warnings
    )


def _of_landings(old: Plan, new: Plan) -> Iterable[Change]:
    if old.hub != new.hub:
        yield Change("hub", "changed", "", old.hub, new.hub)
    was = {landing.circuit: landing.post for landing in old.landings}
    now = {landing.circuit: landing.post for landing in new.landings}
    for circuit in sorted(was.keys() | now.keys()):
        if was.get(circuit) != now.get(circuit):
            yield Change("landing", "changed", circuit, was.get(circuit, ""), now.get(circuit, ""))


def _of_pieces(before: Side, after: Side, pairing: Pairing) -> Iterable[Change]:
    for kind, pairs in (("recut", pairing.recut), ("moved", pairing.moved)):
        for was, now in pairs.items():
            piece, other = before.pieces[was], after.pieces[now]
            yield Change("jumper", kind, now, before.told(piece), after.told(other))
    for label in pairing.removed:
        yield Change("jumper", "removed", label, before.told(before.pieces[label]), "")
    for label in pairing.new:
        yield Change("jumper", "new", label, "", after.told(after.pieces[label]))
    for was, now in pairing.same.items():
        if was != now:
            yield Change("jumper", "renamed", now, was, now)


def _of_fittings(before: Side, after: Side, pairing: Pairing) -> Iterable[Change]:
    gone, come = fitting_sides(before, after, pairing)
    for crimp in gone:
        yield Change("fitting", "removed", before.joint(crimp.joint), crimp_text(crimp, before), "")
    for crimp in come:
        yield Change("fitting", "new", after.joint(crimp.joint), "", crimp_text(crimp, after))


def _of_stacks(before: Side, after: Side, pairing: Pairing) -> Iterable[Change]:
    for post in changed_stacks(before, after, pairing):
        was, now = stack_text(post, before), stack_text(post, after)
        kind = "changed" if was and now else "new" if now else "removed"
        yield Change("stack", kind, post, was, now)


def _of_caps(old: Plan, new: Plan) -> Iterable[Change]:
    was = {cap.pigtail: cap.item or "no cap" for cap in old.caps}
    now = {cap.pigtail: cap.item or "no cap" for cap in new.caps}
    for pigtail in sorted(was.keys() | now.keys()):
        if was.get(pigtail) != now.get(pigtail):
            kind = "changed" if pigtail in was and pigtail in now else "new"
            kind = "removed" if pigtail not in now else kind
            yield Change("cap", kind, pigtail, was.get(pigtail, ""), now.get(pigtail, ""))


def _of_ways(old: Plan, new: Plan) -> Iterable[Change]:
    """Ways of devices that supply other than they did."""

    def told(plan: Plan) -> dict[str, str]:
        return {
            way.far: f"{way.kind} from {way.near}"
            + (f", supplies {way.circuit}" if way.circuit else "")
            for way in plan.ways
        }

    yield from _by_place("way", told(old), told(new))


def _of_fuses(old: Plan, new: Plan) -> Iterable[Change]:
    yield from _by_place("fuse", fuses_by_place(old), fuses_by_place(new))


def _by_place(part: str, was: Mapping[str, str], now: Mapping[str, str]) -> Iterable[Change]:
    """What is new, gone or otherwise at each place."""
    for place in sorted(was.keys() | now.keys()):
        before, after = was.get(place, ""), now.get(place, "")
        if before != after:
            kind = "changed" if before and after else "new" if after else "removed"
            yield Change(part, kind, place, before, after)


def _of_totals(old: Plan, new: Plan) -> Iterable[Change]:
    for name, was in old.totals:
        now = getattr(new.totals, name)
        if was != now:
            words = _total_words(name)
            yield Change("total", "changed", words, _total_text(name, was), _total_text(name, now))


def _total_words(name: str) -> str:
    for suffix in ("_dmm", "_micro", "_cmin"):
        name = name.removesuffix(suffix)
    return name.replace("_", " ")


def _total_text(name: str, value: int) -> str:
    if name.endswith("_dmm"):
        return f"{mm_text(value)} mm"
    if name.endswith("_micro"):
        return money_text(value)
    return minutes_text(value) if name.endswith("_cmin") else str(value)


def _of_limits(old: Plan, new: Plan) -> Iterable[Change]:
    if old.rule_set != new.rule_set:
        yield Change("rule set", "changed", "", old.rule_set, new.rule_set)
    was = {limit.name: limit.value for limit in old.limits}
    now = {limit.name: limit.value for limit in new.limits}
    for name in sorted(was.keys() | now.keys()):
        if was.get(name) != now.get(name):
            yield Change("limit", "changed", name, was.get(name, ""), now.get(name, ""))
