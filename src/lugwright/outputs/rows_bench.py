"""Rows of what hands do: cut, crimp, stack, splice, cap, and the steps in working order.

Fields whose names end in a unit (``_mm``, ``_a``, ``_mm2``) hold a plain decimal as text, ready
for a table; every other text is clean of control characters when an output has passed it
through ``words.one_line``.
"""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.base.scale import amps_text, mm_text
from lugwright.outputs.words import (
    area_margin_text,
    area_text,
    barrel_text,
    barrels_text,
    colour_text,
    cut_labels,
)
from lugwright.plans.schema import Crimp, Plan, Stack, StackedLug
from lugwright.trade.names import ready_words

NO_CAP = "no cap in stock fits"


@dataclass(frozen=True)
class CutRow:
    """One piece of wire to cut. ``crimp_at_a`` and ``crimp_at_b`` number what goes on its ends."""

    label: str
    circuit: str
    role: str
    stage: str
    colour: str
    wire_size: str
    length_mm: str
    from_joint: str
    to_joint: str
    bare_at_a_mm: str
    bare_at_b_mm: str
    crimp_at_a: str
    crimp_at_b: str
    spool: str
    amps: str


@dataclass(frozen=True)
class CrimpRow:
    """One fitting to crimp. Halves of a butt are parted by a stroke.

    ``margin_mm2`` is the least distance of a barrel's filled area from either end of its range.
    """

    number: int
    fitting: str
    kind: str
    barrel_colour: str
    die: str
    wires: str
    joint: str
    stage: str
    folded: str
    area_mm2: str
    range_mm2: str
    margin_mm2: str
    amps: str


@dataclass(frozen=True)
class StudRow:
    """One stud as a whole: its nut, its washer and its thread.

    ``nut_at_bench``: ``snug``, ``loose``, or ``none yet`` where nothing is put on at the bench.
    """

    post: str
    thread: str
    driver: str
    lugs: int
    bench_lugs: int
    reserved: int
    washer: str
    nut_at_bench: str
    used_mm: str
    free_mm: str
    left_mm: str
    boot: str


@dataclass(frozen=True)
class StackRow:
    """One lug on a stud. ``order`` 1 lies at the base; ``clock`` is an hour, back view."""

    post: str
    order: int
    lug: str
    wires: str
    circuit: str
    stage: str
    clock: int
    tongue_mm: str
    conductors: int
    amps: str


@dataclass(frozen=True)
class SpliceRow:
    """One splice in mid-air; its place is seen from the back, height above the panel's back."""

    label: str
    circuit: str
    x_mm: str
    y_mm: str
    height_mm: str
    tie: str
    crimp: int
    fitting: str
    wires: str


@dataclass(frozen=True)
class StepRow:
    """One thing to do, in working order."""

    number: int
    stage: str
    verb: str
    target: str
    parts: str
    text: str


@dataclass(frozen=True)
class CapRow:
    """One unused pigtail to cap, in the order of capping: live ones first."""

    order: int
    pigtail: str
    colour: str
    live: str
    cap: str


@dataclass(frozen=True)
class LooseNutRow:
    """A stud whose nut is left loose at the bench, and what goes under it aboard.

    ``waits`` names the lugs that wait there, each with what its label says.
    """

    post: str
    thread: str
    driver: str
    on_at_bench: int
    waits: str
    comes_aboard: str


def cut_rows(plan: Plan) -> tuple[CutRow, ...]:
    """The cut list, in the plan's order."""
    at_end = {
        (end.wire, end.end): str(crimp.number)
        for crimp in plan.crimps
        for barrel in crimp.barrels
        for end in barrel
    }
    return tuple(
        CutRow(
            label=piece.label,
            circuit=piece.circuit,
            role=piece.role,
            stage=piece.stage,
            colour=colour_text(piece.colour, piece.colour_code),
            wire_size=piece.wire_size,
            length_mm=mm_text(piece.length_dmm),
            from_joint=piece.from_joint,
            to_joint=piece.to_joint,
            bare_at_a_mm=mm_text(piece.strip_a_dmm),
            bare_at_b_mm=mm_text(piece.strip_b_dmm),
            crimp_at_a=at_end.get((piece.label, "a"), ""),
            crimp_at_b=at_end.get((piece.label, "b"), ""),
            spool=piece.spool,
            amps=amps_text(piece.current_ma),
        )
        for piece in plan.jumpers
    )


def crimp_margin_um2(crimp: Crimp) -> int:
    """Least distance of any barrel's area from an end of its range; negative when outside."""
    spans = zip(crimp.area_um2, crimp.area_min_um2, crimp.area_max_um2, strict=True)
    return min(min(area - least, most - area) for area, least, most in spans)


def _range_text(crimp: Crimp) -> str:
    """The range of the barrels, once where the halves of a butt are alike."""
    spans = zip(crimp.area_min_um2, crimp.area_max_um2, strict=True)
    texts = [f"{area_text(least)} to {area_text(most)}" for least, most in spans]
    return " / ".join(dict.fromkeys(texts))


def crimp_rows(plan: Plan) -> tuple[CrimpRow, ...]:
    """The crimp list, by number."""
    cut = cut_labels(plan)
    return tuple(
        CrimpRow(
            number=crimp.number,
            fitting=crimp.item,
            kind=crimp.kind,
            barrel_colour=crimp.colour,
            die=crimp.die,
            wires=barrels_text(crimp.barrels, cut),
            joint=crimp.joint,
            stage=crimp.stage,
            folded="folded back" if crimp.folded else "",
            area_mm2=" / ".join(area_text(area) for area in crimp.area_um2),
            range_mm2=_range_text(crimp),
            margin_mm2=area_margin_text(crimp_margin_um2(crimp)),
            amps=amps_text(crimp.current_ma),
        )
        for crimp in sorted(plan.crimps, key=lambda crimp: crimp.number)
    )


def stud_rows(plan: Plan) -> tuple[StudRow, ...]:
    """One row per stud that carries a lug."""
    loosely_on = {
        step.target for step in plan.steps if (step.stage, step.verb) == ("bench", "nut loose")
    }
    return tuple(
        StudRow(
            post=stack.post,
            thread=stack.thread,
            driver=stack.driver,
            lugs=len(stack.lugs),
            bench_lugs=stack.bench_lugs,
            reserved=stack.reserved,
            washer="lock washer" if stack.lock_washer else "none",
            nut_at_bench=(
                stack.nut_at_bench if stack.bench_lugs or stack.post in loosely_on else "none yet"
            ),
            used_mm=mm_text(stack.used_dmm),
            free_mm=mm_text(stack.free_dmm),
            left_mm=mm_text(stack.free_dmm - stack.used_dmm),
            boot="boot" if stack.boot else "",
        )
        for stack in plan.stacks
    )


def lug_name(lug: StackedLug) -> str:
    """A lug by its crimp's number, or the ready-made ring of a wire."""
    return f"crimp {lug.crimp}" if lug.crimp else ready_words(lug.ready)


def stack_rows(plan: Plan) -> tuple[StackRow, ...]:
    """Every lug of every stud, from base to nut."""
    cut = cut_labels(plan)
    wires = {crimp.number: barrels_text(crimp.barrels, cut) for crimp in plan.crimps}
    return tuple(
        StackRow(
            post=stack.post,
            order=order,
            lug=lug_name(lug),
            wires=wires[lug.crimp] if lug.crimp else lug.ready,
            circuit=lug.circuit,
            stage=lug.stage,
            clock=lug.clock,
            tongue_mm=mm_text(lug.tongue_dmm),
            conductors=lug.conductors,
            amps=amps_text(lug.current_ma),
        )
        for stack in plan.stacks
        for order, lug in enumerate(stack.lugs, start=1)
    )


def splice_rows(plan: Plan) -> tuple[SpliceRow, ...]:
    """Every splice in mid-air, its place and its ends."""
    cut = cut_labels(plan)
    crimps = {crimp.number: crimp for crimp in plan.crimps}
    return tuple(
        SpliceRow(
            label=splice.label,
            circuit=splice.circuit,
            x_mm=mm_text(splice.at.x_dmm),
            y_mm=mm_text(splice.at.y_dmm),
            height_mm=mm_text(splice.at.z_dmm),
            tie=splice.at.tie,
            crimp=splice.crimp,
            fitting=crimps[splice.crimp].item,
            wires=" / ".join(barrel_text(b, cut) for b in crimps[splice.crimp].barrels),
        )
        for splice in plan.splices
    )


def cap_rows(plan: Plan) -> tuple[CapRow, ...]:
    """Unused pigtails in the order of capping, live ones first."""
    in_order = sorted(plan.caps, key=lambda cap: not cap.live)
    return tuple(
        CapRow(
            order=order,
            pigtail=cap.pigtail,
            colour=colour_text(cap.colour, cap.colour_code),
            live="live" if cap.live else "dead",
            cap=cap.item or NO_CAP,
        )
        for order, cap in enumerate(in_order, start=1)
    )


def _comes_aboard(stack: Stack, wires: dict[int, str]) -> str:
    """What goes under a loose nut aboard."""
    late = [lug for lug in stack.lugs if lug.stage == "aboard"]
    return "; ".join(
        f"{lug_name(lug)}: {wires[lug.crimp]}" if lug.crimp else lug_name(lug) for lug in late
    )


def _waits(stack: Stack) -> str:
    """The lugs that wait under a loose nut, each with the place its label says."""
    places = {lug: place for place, lug in enumerate(stack.lugs, start=1)}
    return "; ".join(f"{lug_name(lug)} (lug {places[lug]})" for lug in stack.waiting)


def loose_nut_rows(plan: Plan) -> tuple[LooseNutRow, ...]:
    """Studs whose nut stays loose until the panel is in the boat."""
    cut = cut_labels(plan)
    wires = {crimp.number: barrels_text(crimp.barrels, cut) for crimp in plan.crimps}
    return tuple(
        LooseNutRow(
            stack.post,
            stack.thread,
            stack.driver,
            stack.bench_lugs,
            _waits(stack),
            _comes_aboard(stack, wires),
        )
        for stack in plan.stacks
        if stack.nut_at_bench == "loose"
    )
