"""What a changed limit or stock does to every model, set beside what it was."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from lugwright.base.scale import mm_text, money_text
from lugwright.catalogue.schema import End, ModelResult
from lugwright.catalogue.summary import MOST_BARS, WhyRow, counted, why_rows
from lugwright.outputs.overview.content import Bar, Bars, Fact, Overview, Part
from lugwright.outputs.words import currency
from lugwright.plans.schema import Jumper, Plan

SAME, CHANGED = "as before", "changed"
NEWLY_IMPOSSIBLE, NEWLY_POSSIBLE = "newly impossible", "newly possible"
STILL_IMPOSSIBLE, UNSETTLED = "impossible as before", "not settled"
FAULT, EDITED = "at fault", "file changed since it was planned"
WAIVER = "a waiver no longer stands"
VERDICTS = (
    *(NEWLY_IMPOSSIBLE, CHANGED, NEWLY_POSSIBLE, UNSETTLED, WAIVER, FAULT, EDITED),
    *(STILL_IMPOSSIBLE, SAME),
)
BRIEF = (
    *("model", "verdict", "hub_after", "more_wire_mm", "more_stacked", "more_money"),
    "other_jumpers",
)

Changes = tuple[str, int | str, int | str, str]
"""Of wire, fittings, stacked lugs and money."""
_NO_CHANGES: Changes = ("", "", "", "")


@dataclass(frozen=True)
class ImpactRow:
    """One model before and after: what is ``more`` is after less before.

    ``other_jumpers`` are not the same. Empty where there is no plan before or none after.
    ``how``: searched, or why the stored proof still holds.
    """

    model: str
    verdict: str
    end_before: str
    end_after: str
    hub_before: str
    hub_after: str
    more_wire_mm: str
    more_fittings: int | str
    more_stacked: int | str
    more_money: str
    other_jumpers: int | str
    how: str


@dataclass(frozen=True)
class JumperRow:
    """One jumper that is not the same before and after."""

    model: str
    jumper: str


@dataclass(frozen=True)
class WaiverRow:
    """A waiver that made sense before and does not afterwards."""

    model: str
    waiver: str


def verdict_of(before: ModelResult, after: ModelResult) -> str:
    """One of VERDICTS."""
    if after.console and before.console != after.console:
        return EDITED
    if after.end is End.FAULTY and after.idle_waivers:
        return WAIVER
    if after.end in (End.FAULTY, End.FAILED, End.REJECTED):
        return FAULT
    if after.end is End.NO_ANSWER:
        return UNSETTLED
    if after.end is End.IMPOSSIBLE:
        return NEWLY_IMPOSSIBLE if before.plan is not None else STILL_IMPOSSIBLE
    if before.plan is None or after.plan is None:
        return NEWLY_POSSIBLE
    same = before.choice == after.choice and _sums(before.plan) == _sums(after.plan)
    return SAME if same else CHANGED


def _sums(plan: Plan) -> tuple[object, ...]:
    """What is compared of two plans beside their choices: totals, and every piece's length."""
    return plan.totals, tuple(jumper.length_dmm for jumper in plan.jumpers)


def impact_row(before: ModelResult, after: ModelResult) -> ImpactRow:
    """The row of one model."""
    old, new = before.plan, after.plan
    which = changed_jumpers(old.jumpers, new.jumpers) if old and new else ()
    differences = _differences(old, new) if old and new else _NO_CHANGES
    return ImpactRow(
        after.name,
        verdict_of(before, after),
        before.end.value,
        after.end.value,
        old.hub if old else "",
        new.hub if new else "",
        *differences,
        other_jumpers=len(which) if old and new else "",
        how=after.ground or "searched",
    )


def _differences(old: Plan, new: Plan) -> Changes:
    """Wire in mm, fittings, stacked lugs and money: after less before."""
    a, b = old.totals, new.totals
    money = b.money_micro - a.money_micro
    sign = "-" if money < 0 else ""
    return (
        mm_text(b.wire_dmm - a.wire_dmm),
        b.fittings - a.fittings,
        b.stacked_lugs - a.stacked_lugs,
        f"{sign}{money_text(abs(money))}",
    )


def changed_jumpers(old: Iterable[Jumper], new: Iterable[Jumper]) -> tuple[str, ...]:
    """Jumpers that are not the same before and after: gone, new, or cut or sized otherwise."""
    before = {_place(jumper): jumper for jumper in old}
    after = {_place(jumper): jumper for jumper in new}
    found = []
    for place in sorted(before.keys() | after.keys()):
        a, b = before.get(place), after.get(place)
        name = f"{place[0]} {' - '.join(place[1:3])}"
        if b is None:
            found.append(f"{name} gone")
        elif a is None:
            found.append(f"{name} new, {_cut(b)}")
        elif _cut(a) != _cut(b):
            found.append(f"{name} {_cut(a)}, now {_cut(b)}")
    return tuple(found)


def _place(jumper: Jumper) -> tuple[str, str, str, str]:
    """What makes a jumper the same one: its circuit, its two joints either way round, its role."""
    ends = sorted((jumper.from_joint, jumper.to_joint))
    return jumper.circuit, ends[0], ends[1], jumper.role


def _cut(jumper: Jumper) -> str:
    """What the bench cuts."""
    return f"{mm_text(jumper.length_dmm)} mm {jumper.wire_size} {jumper.colour}"


@dataclass
class _Seen:
    """What is kept of models looked at one after the other, so that no plan need stay."""

    rows: list[ImpactRow] = field(default_factory=list)
    why: list[WhyRow] = field(default_factory=list)
    wires: list[JumperRow] = field(default_factory=list)
    waivers: list[WaiverRow] = field(default_factory=list)
    bars: list[Bar] = field(default_factory=list)
    ends: list[End] = field(default_factory=list)
    grounds: Counter[str] = field(default_factory=Counter)
    money: str = ""

    def add(self, before: ModelResult, after: ModelResult) -> None:
        """One model, before and after."""
        row = impact_row(before, after)
        self.rows.append(row)
        self.ends.append(after.end)
        self.why += why_rows(after)
        idle = [text for text in after.idle_waivers if text not in before.idle_waivers]
        self.waivers += [WaiverRow(after.name, text) for text in idle]
        self.grounds[after.ground] += 1
        if before.plan and after.plan:
            which = changed_jumpers(before.plan.jumpers, after.plan.jumpers)
            self.wires += [JumperRow(after.name, jumper) for jumper in which]
            self.money = self.money or currency(after.plan)
            more = after.plan.totals.money_micro - before.plan.totals.money_micro
            if more:
                self.bars.append(Bar(after.name, more, row.more_money))

    def parts(self) -> tuple[Part, ...]:
        """The tables: what the change touches first, then why, then everything."""
        rows = sorted(self.rows, key=lambda row: (VERDICTS.index(row.verdict), row.model))
        touched = tuple(row for row in rows if row.verdict not in (SAME, STILL_IMPOSSIBLE))
        why, waivers, wires = tuple(self.why), tuple(self.waivers), tuple(self.wires)
        title = "Why: faults, reasons, what of the earlier plan is forbidden"
        return (
            Part("touched", "Models the change touches", ImpactRow, touched, BRIEF, self.money),
            Part("why", title, WhyRow, why),
            Part("waivers", "Waivers that no longer make sense", WaiverRow, waivers),
            Part("jumpers", "Jumpers that are not the same", JumperRow, wires, told=False),
            Part("models", "Every model", ImpactRow, tuple(rows), BRIEF, self.money, told=False),
        )

    def drawing(self) -> Bars:
        """The largest differences of money."""
        most = sorted(self.bars, key=lambda bar: (-abs(bar.value), bar.label))[:MOST_BARS]
        shown = tuple(sorted(most, key=lambda bar: (-bar.value, bar.label)))
        coin = f", {self.money}" if self.money else ""
        return Bars(f"Money of one panel, after less before{coin}", shown)


def impact(name: str, what: str, pairs: Iterable[tuple[ModelResult, ModelResult]]) -> Overview:
    """The overview of a change. ``what`` says what was changed; each pair is looked at once."""
    seen = _Seen()
    for before, after in pairs:
        seen.add(before, after)
    facts = _facts(seen.rows, seen.grounds)
    return Overview(
        title=f"Catalogue {name}: what the change does to {len(seen.rows)} models",
        facts=(Fact("change", what), *facts, Fact("afterwards", counted(seen.ends))),
        parts=seen.parts(),
        drawings=(seen.drawing(),),
    )


def _facts(rows: list[ImpactRow], grounds: Counter[str]) -> tuple[Fact, ...]:
    """How many models came out how, moved their hub, and needed no search."""
    verdicts = Counter(row.verdict for row in rows)
    moved = sum(1 for row in rows if row.hub_before and row.hub_after != row.hub_before != "")
    moved -= sum(1 for row in rows if row.hub_before and not row.hub_after)
    held = {ground: count for ground, count in sorted(grounds.items()) if ground}
    words = ", ".join(f"{count} {ground}" for ground, count in held.items())
    return (
        Fact("verdict", ", ".join(f"{verdicts[v]} {v}" for v in VERDICTS if verdicts[v])),
        Fact("hub moved", f"{moved} of {len(rows)}"),
        Fact(
            "not searched again",
            f"{sum(held.values())} of {len(rows)}{f' ({words})' if words else ''}",
        ),
    )
