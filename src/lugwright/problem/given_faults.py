"""What is wrong whatever is chosen: given wires, fuses and loads that no jumper can mend."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lugwright.base.scale import amps_text
from lugwright.electrics.ampacity import bundle_factor_permille
from lugwright.limits.schema import Limits
from lugwright.limits.waivable import MINIMUM_AREA
from lugwright.plans.outcome import Reason
from lugwright.problem.schema import CircuitQuestion, DropPath, ExtensionNeed
from lugwright.problem.way_faults import loaded_too_far, way_faults
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import BoatBlock, Circuit, Console, GivenWire, Pigtail
from lugwright.trade.demand import (
    Demand,
    circuit_totals,
    continuous_totals,
    demands,
    lead_currents,
    post_currents,
)
from lugwright.trade.fuses import Fuse, fuse_ahead, fuse_allowed_ma, fuse_before
from lugwright.trade.given_wires import fuse_over_ma, stands_ma
from lugwright.trade.names import lead_wire, pigtail_wire


def fixed_faults(
    brief: Brief,
    circuits: Sequence[CircuitQuestion],
    needs: Sequence[ExtensionNeed],
    drops: Sequence[DropPath],
) -> tuple[Reason, ...]:
    """Every such fault, sorted by place."""
    console = brief.console
    found: list[Reason] = []
    for circuit in console.circuits:
        if circuit.pigtail and circuit.posts:
            found += _pigtail(brief, circuit, circuit.pigtail)
    found += way_faults(console, brief.limits)
    found += _leads(brief)
    found += _boat_wires(brief, needs)
    found += _posts(console)
    found += _nothing_to_choose(brief, circuits)
    found += _dropped_before(brief, circuits, drops)
    return tuple(sorted(found, key=lambda reason: (reason.place, reason.rule, reason.text)))


def _off_loom(brief: Brief, wire: GivenWire) -> int:
    return stands_ma(brief.console, brief.limits, wire, brief.limits.off_loom_conductors)


def _too_much(
    rule: str, place: str, what: str, current_ma: int, limit_ma: int, origin: str
) -> Reason:
    return Reason(
        rule, place, what, f"{amps_text(current_ma)} A", f"{amps_text(limit_ma)} A", origin
    )


def _pigtail(brief: Brief, circuit: Circuit, pigtail: Pigtail) -> Iterator[Reason]:
    console, limits = brief.console, brief.limits
    total = circuit_totals(console)[circuit.name]
    place = pigtail_wire(circuit.name)
    ampacity_origin = limits.origin("bundle_rule")
    allowed = _off_loom(brief, pigtail.wire)
    if total > allowed:
        yield _too_much("ampacity", place, "carries too much", total, allowed, ampacity_origin)
    run = pigtail.to_source
    if run:
        allowed = stands_ma(console, limits, run.wire, run.conductors)
        if total > allowed:
            where = f"{place}, run to the source"
            yield _too_much("ampacity", where, "carries too much", total, allowed, ampacity_origin)
    if circuit.side == "feed" and pigtail.fuse_ma:
        yield from _fuse(brief, pigtail, place, total)


def _fuse(brief: Brief, pigtail: Pigtail, place: str, total: int) -> Iterator[Reason]:
    """A pigtail's fuse: over the pigtail and its run, under its load, near the source. Rule R16."""
    console, limits = brief.console, brief.limits
    wires = [(place, pigtail.wire)]
    if pigtail.to_source:
        wires.append((f"{place}, run to the source", pigtail.to_source.wire))
    for where, wire in wires:
        fuse = Fuse(pigtail.fuse_ma, pigtail.circuit)
        yield from _fuse_over(brief, where, wire, fuse)
    loads = (total, continuous_totals(console)[pigtail.circuit])
    yield from loaded_too_far(limits, place, pigtail.circuit, pigtail.fuse_ma, loads)
    farthest = limits.at("fuse_distance_dmm", pigtail.circuit)
    if pigtail.fuse_distance_dmm > farthest:
        yield Reason(
            "fuse",
            place,
            "the fuse sits too far from the source",
            f"{pigtail.fuse_distance_dmm / 10:g} mm",
            f"{farthest / 10:g} mm",
            limits.origin_at("fuse_distance_dmm", pigtail.circuit),
        )


def _fuse_over(
    brief: Brief, place: str, wire: GivenWire, fuse: Fuse, longer_ma: int | None = None
) -> Iterator[Reason]:
    """Whether a fuse protects a wire, and what it is lengthened with, of that table ampacity.

    A wire that is exempt from its size is not exempt from a fuse.
    """
    limits = brief.limits
    allowed = fuse_over_ma(brief.console, limits, wire, fuse.circuit)
    origin = "scenario" if wire.fuse_up_to_ma else limits.origin_at("fuse_permille", fuse.circuit)
    if longer_ma is not None:
        allowed = min(allowed, fuse_allowed_ma(longer_ma, limits, fuse.circuit))
    if fuse.ma > allowed:
        text = f"the fuse is too big for {wire.wire_size}"
        yield _too_much("fuse", place, text, fuse.ma, allowed, origin)
    elif wire.exempt and not fuse.ma:
        text = f"{wire.wire_size} has no fuse before it: it is exempt from the table of sizes, "
        text += "not from a fuse (33 CFR 183.455)"
        yield Reason("fuse", place, text, "none", f"{amps_text(allowed)} A", origin)


def _leads(brief: Brief) -> Iterator[Reason]:
    console, limits = brief.console, brief.limits
    currents = lead_currents(console)
    by_name = {circuit.name: circuit for circuit in console.circuits}
    for post in console.posts:
        if post.lead is None:
            continue
        allowed, carried = _off_loom(brief, post.lead), currents[post.id]
        if carried > allowed:
            origin = limits.origin("bundle_rule")
            place = lead_wire(post.id)
            yield _too_much("ampacity", place, "carries too much", carried, allowed, origin)
        circuit = by_name.get(post.circuit)
        if circuit and circuit.side == "feed":
            fuse = fuse_before(post.lead_fuse_ma, fuse_ahead(console, circuit))
            yield from _fuse_over(brief, lead_wire(post.id), post.lead, fuse)


def _boat_wires(brief: Brief, needs: Sequence[ExtensionNeed]) -> Iterator[Reason]:
    console, limits = brief.console, brief.limits
    factor = bundle_factor_permille(limits.bundle_rule, limits.off_loom_conductors)
    lengthened = {need.wire: need.table_ma for need in needs}
    posts = {post.id: post for post in console.posts}
    by_name = {circuit.name: circuit for circuit in console.circuits}
    for boat_block in console.boat_blocks:
        for wire in boat_block.wires:
            allowed, longer = _off_loom(brief, wire.wire), lengthened.get(wire.id)
            if longer is not None:
                allowed = min(allowed, longer * factor // 1000)
            if boat_block.current_ma > allowed:
                origin = limits.origin("bundle_rule")
                yield _too_much(
                    "ampacity", wire.id, "carries too much", boat_block.current_ma, allowed, origin
                )
            source = posts.get(boat_block.drawn_from)
            circuit = by_name.get(source.circuit) if source else None
            is_fed = (
                posts[wire.lands_on].function == "load" or wire.lands_on == boat_block.drawn_from
            )
            if is_fed and circuit:
                fuse = fuse_before(wire.fuse_ma, fuse_ahead(console, circuit))
                yield from _fuse_over(brief, wire.id, wire.wire, fuse, longer)
                yield from _makers_fuse(boat_block, wire.id, fuse)


def _makers_fuse(block: BoatBlock, place: str, fuse: Fuse) -> Iterator[Reason]:
    """A load that names its maker's fuse hangs on one that is no larger. Rule R16."""
    asked = block.maker_fuse_ma
    if asked and not fuse.ma:
        text = f"{block.name} has no fuse before it, and its maker asks for one"
        yield Reason("fuse", place, text, "none", f"{amps_text(asked)} A", "scenario")
    elif asked and fuse.ma > asked:
        text = f"the fuse before {block.name} is larger than its maker asks for"
        yield _too_much("fuse", place, text, fuse.ma, asked, "scenario")


def _posts(console: Console) -> Iterator[Reason]:
    """Posts that carry more than they may however the wires are laid.

    A lead is judged by what flows in its own wire.
    """
    currents = {**post_currents(console), **lead_currents(console)}
    for post in console.posts:
        carried = currents[post.id]
        if post.carries_ma and carried > post.carries_ma:
            text = "carries more than it may"
            limit = post.carries_ma
            yield _too_much("current limit", post.id, text, carried, limit, "scenario")


def _dropped_before(
    brief: Brief, circuits: Sequence[CircuitQuestion], drops: Sequence[DropPath]
) -> Iterator[Reason]:
    """Loads whose drop is used up before the panel: by supply run, pigtail and return alone."""
    given = [(demand, _given_nv(demand, circuits)) for demand in demands(brief.console)]
    for path in drops:
        names = (path.feed_circuit, path.ground_circuit)
        before = path.extra_nv + max(
            (sum(nv.get(n, 0) for n in names) for d, nv in given if d.feeds(path.feed_circuit)),
            default=0,
        )
        if before > path.limit_nv:
            yield Reason(
                "drop",
                path.load,
                f"{_given_words(brief.console)} alone drop more than the load may have",
                f"{before / 1e6:.1f} mV",
                f"{path.limit_nv / 1e6:.1f} mV",
                brief.limits.origin_at(path.limit_name, path.load),
            )


def _given_words(console: Console) -> str:
    """What drops whatever is chosen, in words."""
    contacts = any(way.contact_uohm for way in console.ways)
    return f"supply run, pigtails{', contacts of ways' if contacts else ''} and return"


def _given_nv(demand: Demand, circuits: Sequence[CircuitQuestion]) -> dict[str, int]:
    """What drops before each circuit whatever is chosen: supply run, pigtail, contacts of ways."""
    totals, by_name = demand.totals, {c.name: c for c in circuits}
    found = {}
    for circuit in circuits:
        name, seen, given = circuit.name, set[str](), 0
        while name in by_name and name not in seen:
            seen.add(name)
            here = by_name[name]
            given += here.contact_uohm * totals[name]
            given += here.supply.given_uohm * totals[name] if here.supply else 0
            name = here.fed_by
        found[circuit.name] = given
    return found


def _least_size(limits: Limits, circuit: Circuit) -> str:
    """The smallest size a circuit may have by the limits, in words."""
    return limits.words_at(MINIMUM_AREA, circuit.name) or limits.minimum_size


def _nothing_to_choose(
    brief: Brief, circuits: Sequence[CircuitQuestion]
) -> Iterator[Reason]:
    console, limits, stock = brief.console, brief.limits, brief.stock
    for question in circuits:
        circuit = console.circuit(question.name)
        jumpers_needed = len([node for node in question.nodes if node.needed]) > 1
        jumpers_needed = jumpers_needed or question.has_first_jumper
        if not question.choices and (jumpers_needed or question.taken_from):
            fuse = fuse_ahead(console, circuit).ma
            sizes = ", ".join(s.wire_size for s in stock.spools_of_colour(circuit.colour)) or "none"
            text = f"no {circuit.colour} wire in stock may be used (in stock: {sizes}; at least "
            text += f"{_least_size(limits, circuit)}" + (
                f"; behind a {amps_text(fuse)} A fuse)" if fuse else ")"
            )
            yield Reason(
                "wire size",
                f"circuit {circuit.name}",
                text,
                origin=limits.origin_at(MINIMUM_AREA, circuit.name),
            )
        if circuit.pigtail and not question.landings:
            text = "no instrument that may be the hub has a post its pigtail can land on"
            yield Reason("hub", f"circuit {circuit.name}", text)
        if question.root and question.others and not question.landings:
            text = "no instrument that may be the hub has a post that the one jumper from "
            text += f"{question.root} can land on"
            origin = limits.origin("way_take_off")
            yield Reason("hub", f"circuit {circuit.name}", text, origin=origin)
