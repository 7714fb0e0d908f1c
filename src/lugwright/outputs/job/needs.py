"""What to have on the bench before the first cut, as the plan asks for it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from lugwright.base.scale import mm_text
from lugwright.outputs.words import number_ranges
from lugwright.plans.schema import Plan


@dataclass(frozen=True)
class Need:
    """One tool or aid, and what it is for."""

    what: str
    why: str


def needs_of(plan: Plan) -> tuple[Need, ...]:
    """Tools for plate, wire, crimps, nuts and tests; materials are in the buy list."""
    return (
        *_hole_saws(plan),
        *_cutters(plan),
        *_dies(plan),
        *_hot_air(plan),
        *_drivers(plan),
        *_ties(plan),
        Need("multimeter, volts and ohms", "continuity before power, volts at key-on"),
        Need("lamp in series, or a supply with a current limit", "first power"),
    )


def _hole_saws(plan: Plan) -> list[Need]:
    """A saw for each diameter of cut-out; what stands on standoffs has none."""
    holes = defaultdict[int, list[str]](list)
    for instrument in plan.panel.instruments:
        if instrument.cut_out_dmm:
            holes[instrument.cut_out_dmm].append(instrument.name)
    saws = [
        Need(
            f"hole saw or cutter {mm_text(size)} mm, pilot drill",
            f"cut-outs, {len(names)}: {', '.join(names)}",
        )
        for size, names in sorted(holes.items())
    ]
    saws += _rectangles(plan)
    on_feet = [
        x.name for x in plan.panel.instruments if not x.is_cut_in and not x.mount.screws
    ]
    if on_feet:
        saws.append(Need("drills for mounting screws", f"on standoffs: {', '.join(on_feet)}"))
    return [*saws, *_drills(plan)]


def _rectangles(plan: Plan) -> list[Need]:
    """What cuts rectangular holes; their sizes are on the drilling template."""
    names = [x.name for x in plan.panel.instruments if x.mount.cut_out_width_dmm]
    if not names:
        return []
    why = f"rectangular cut-outs, {len(names)}: {', '.join(names)}"
    return [Need("jigsaw and flat file, drill for the corners", why)]


def _drills(plan: Plan) -> list[Need]:
    """A drill or saw for each diameter of screw hole and of the plate's own holes."""
    holes = defaultdict[int, dict[str, int]](dict)
    for one in plan.panel.instruments:
        for screw in one.mount.screws:
            held = f"screws of {one.name}"
            holes[screw.diameter_dmm][held] = holes[screw.diameter_dmm].get(held, 0) + 1
    for hole in plan.panel.holes:
        counts = holes[hole.diameter_dmm]
        counts[hole.what] = counts.get(hole.what, 0) + 1
    return [
        Need(
            f"drill or cutter {mm_text(size)} mm",
            ", ".join(f"{what}: {count}" for what, count in sorted(counts.items())),
        )
        for size, counts in sorted(holes.items())
    ]


def _cutters(plan: Plan) -> list[Need]:
    sizes = {piece.wire_size for piece in plan.jumpers} | {wire.wire_size for wire in plan.given}
    told = ", ".join(sorted(sizes - {""}))
    tags = 2 * len(plan.jumpers)
    return [
        Need("wire cutter, stripper, rule", f"wire sizes {told}"),
        Need(f"tags, {tags}", "two for each piece that is cut"),
    ]


def _dies(plan: Plan) -> list[Need]:
    """Every die once, with the crimps it makes."""
    dies = defaultdict[str, list[int]](list)
    for crimp in sorted(plan.crimps, key=lambda crimp: crimp.number):
        dies[crimp.die].append(crimp.number)
    return [
        Need(f"crimp tool, die {die}" if die else "crimp tool", f"crimps {number_ranges(numbers)}")
        for die, numbers in sorted(dies.items())
    ]


def _hot_air(plan: Plan) -> list[Need]:
    """For lined fittings only; never near vapour."""
    lined = [crimp.number for crimp in plan.crimps if crimp.lined]
    if not lined:
        return []
    why = f"lined crimps {number_ranges(sorted(lined))}: shrink the sleeve, away from any vapour"
    return [Need("hot-air tool", why)]


def _drivers(plan: Plan) -> list[Need]:
    """Nut drivers, and the threads they are for."""
    threads = defaultdict[str, dict[str, int]](dict)
    for stack in plan.stacks:
        count = threads[stack.driver]
        count[stack.thread] = count.get(stack.thread, 0) + 1
    return [
        Need(
            driver or "nut driver",
            ", ".join(f"{thread}: {count}" for thread, count in sorted(counts.items())),
        )
        for driver, counts in sorted(threads.items())
    ]


def _ties(plan: Plan) -> list[Need]:
    count = sum(tie.count for tie in plan.ties)
    boots = sum(step.verb == "boot" for step in plan.steps)
    found = []
    if count:
        found.append(Need(f"ties, {count}", "loom and long runs"))
    if boots:
        found.append(Need(f"insulating boots, {boots}", "studs live with everything off"))
    return found
