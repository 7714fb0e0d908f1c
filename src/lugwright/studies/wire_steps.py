"""Wires of a scenario that a person can change: pigtails, leads, boat wires, their fuses."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from lugwright.base.scale import amps_text, mm_text
from lugwright.electrics.sizes import nominal_area_um2
from lugwright.limits.schema import Limits
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import BoatBlock, Circuit, Console, GivenWire, Pigtail, Post
from lugwright.scenario.given_wires import INSULATION_UM, given_wire
from lugwright.stock.schema import Stock
from lugwright.studies.easing import Easing, Places
from lugwright.studies.facts import fact, with_posts
from lugwright.studies.limit_steps import ANY_LOAD_PERMILLE
from lugwright.studies.way_steps import fused_ways, largest_fuse_ma, with_ways
from lugwright.trade.demand import demand_by_post
from lugwright.trade.names import circuit_of_pigtail, lead_wire, pigtail_wire, post_of_lead

AMPLE = 10**6
LARGEST_ROW = "4/0 AWG"
THINNEST_ROW = "18 AWG"  # of the ampacity table
SUPERCONDUCTING_UM2 = 10**9  # so thick that it drops nothing worth counting
SPARES_ALL_MA = 1  # a fuse so small that it spares any wire
LONGEST_REACH_DMM = 20_000
MOST_SIZES_UP = 8
LONGEST_LEAD_DMM = 10_000

REACH, RING = "reach", "ready-made ring"
LEAD_LENGTH = "length of a lead"
FUSE, FUSE_PLACE, IN_LINE = "fuse rating", "place of the fuse", "in-line fuse"
GIVEN_SIZE, RUN_SIZE = "given wire size", "supply run size"


def wire_steps(brief: Brief) -> tuple[Easing, ...]:
    """Every fact of a given wire that stands in anybody's way at all."""
    console, stock = brief.console, brief.stock
    found = (
        _given_size(console),
        _run_size(console),
        _ring(console),
        _in_line(console, brief.limits, stock),
        _fuse(console, stock),
        _fuse_place(console),
        _reach(console),
        _lead_length(console),
    )
    return tuple(one for one in found if one is not None)


def _pigtails(brief: Brief, places: Places, change: Callable[[Pigtail], Pigtail]) -> Brief:
    def changed(circuit: Circuit) -> Circuit:
        if circuit.pigtail is None or pigtail_wire(circuit.name) not in places:
            return circuit
        return replace(circuit, pigtail=change(circuit.pigtail))

    circuits = tuple(changed(circuit) for circuit in brief.console.circuits)
    return replace(brief, console=replace(brief.console, circuits=circuits))


def _pigtail_places(console: Console, wanted: Callable[[Pigtail], bool]) -> tuple[str, ...]:
    return tuple(
        pigtail_wire(circuit.name)
        for circuit in console.circuits
        if circuit.pigtail and circuit.posts and wanted(circuit.pigtail)
    )


def _boat_blocks(brief: Brief, places: Places, **changes: Any) -> Brief:
    """Boat wires with fields changed; a change that is called gets the wire."""

    def changed(boat_block: BoatBlock) -> BoatBlock:
        wires = tuple(
            replace(wire, **{name: change(wire) for name, change in changes.items()})
            if wire.id in places
            else wire
            for wire in boat_block.wires
        )
        return replace(boat_block, wires=wires)

    boat_blocks = tuple(changed(boat_block) for boat_block in brief.console.boat_blocks)
    return replace(brief, console=replace(brief.console, boat_blocks=boat_blocks))


def _reach(console: Console) -> Easing | None:
    """Longer pigtails and boat wires; off, reach is not judged and nobody drops more for it."""
    places = _pigtail_places(console, lambda _pigtail: True)
    places += tuple(w.id for a in console.boat_blocks for w in a.wires if w.entry is not None)

    def at(brief: Brief, more_dmm: int, places: Places) -> Brief:
        longer = _pigtails(brief, places, lambda p: replace(p, reach_dmm=p.reach_dmm + more_dmm))
        return _boat_blocks(longer, places, reach_dmm=lambda wire: wire.reach_dmm + more_dmm)

    def say(brief: Brief, more_dmm: int, place: str) -> str:
        return f"{mm_text(_reach_of(brief.console, place) + more_dmm)} mm of reach for {place}"

    return fact(
        REACH,
        places,
        tuple(range(100, LONGEST_REACH_DMM + 1, 100)),
        at,
        say,
        off=lambda brief: replace(
            brief, limits=replace(brief.limits, drip_loop_dmm=-AMPLE)
        ),
    )


def _lead_length(console: Console) -> Easing | None:
    """Longer leads, where their ends are chosen."""
    places = tuple(post.id for post in console.posts if post.lead_length_dmm)

    def at(brief: Brief, more_dmm: int, places: Places) -> Brief:
        def longer(post: Post) -> Post:
            return replace(post, lead_length_dmm=post.lead_length_dmm + more_dmm)

        return with_posts(brief, places, longer)

    def say(brief: Brief, more_dmm: int, place: str) -> str:
        length = brief.console.post(place).lead_length_dmm + more_dmm
        return f"{mm_text(length)} mm of lead at {place}"

    steps = tuple(range(100, LONGEST_LEAD_DMM + 1, 100))
    return fact(LEAD_LENGTH, places, steps, at, say)


def _reach_of(console: Console, place: str) -> int:
    reaches: dict[str, int] = {
        pigtail_wire(c.name): c.pigtail.reach_dmm for c in console.circuits if c.pigtail
    }
    reaches |= {wire.id: wire.reach_dmm for a in console.boat_blocks for wire in a.wires}
    return reaches[place]


def _ring(console: Console) -> Easing | None:
    """Another thread for the ring a pigtail comes with, or the ring cut off."""
    places = _pigtail_places(console, lambda pigtail: pigtail.ring is not None)
    threads = sorted({post.thread for post in console.posts if post.kind == "stud"})

    def at(brief: Brief, thread: str, places: Places) -> Brief:
        def changed(pigtail: Pigtail) -> Pigtail:
            if pigtail.ring is None or not thread:
                return replace(pigtail, ring=None)
            return replace(pigtail, ring=replace(pigtail.ring, thread=thread))

        return _pigtails(brief, places, changed)

    def say(_brief: Brief, thread: str, place: str) -> str:
        return f"a ring for {thread} on {place}" if thread else f"the ring of {place} cut off"

    def off(brief: Brief) -> Brief:
        return at(brief, "", frozenset(places))

    return fact(RING, places, (*threads, ""), at, say, off=off, climbs=False)


def _fuse(console: Console, stock: Stock) -> Easing | None:
    """Another fuse of the stock before a pigtail or in a fused way, the nearest rating first.

    None larger than the maker of a load beyond it allows.
    """
    present: dict[str, int] = {
        pigtail_wire(c.name): c.pigtail.fuse_ma
        for c in console.circuits
        if c.pigtail and c.posts and c.pigtail.fuse_ma
    }
    present |= dict(fused_ways(console))
    most = {place: largest_fuse_ma(console, place) for place in present}
    steps = [
        (abs(fuse.rating_ma - now_ma), place, fuse.rating_ma)
        for place, now_ma in present.items()
        for fuse in stock.fuses
        if fuse.rating_ma != now_ma and fuse.rating_ma <= (most[place] or fuse.rating_ma)
    ]
    values = tuple((place, rating) for _, place, rating in sorted(set(steps)))

    def fused(brief: Brief, rating_ma: int, places: Places) -> Brief:
        brief = with_ways(brief, places, lambda way: replace(way, amperes_ma=rating_ma))
        return _pigtails(brief, places, lambda one: replace(one, fuse_ma=rating_ma))

    def off(brief: Brief) -> Brief:
        any_load = replace(brief.limits, load_permille=ANY_LOAD_PERMILLE)
        fused_small = fused(brief, SPARES_ALL_MA, frozenset(present))
        return _all_on_for_long(replace(fused_small, limits=any_load))

    def say(_brief: Brief, value: tuple[str, int], _place: str) -> str:
        place, rating_ma = value
        way = next((way for way in console.ways if way.far == place), None)
        return f"a {amps_text(rating_ma)} A {way.kind if way else 'fuse'} at {place}"

    return fact(
        FUSE,
        tuple(present),
        values,
        lambda brief, value, _places: fused(brief, value[1], frozenset((value[0],))),
        say,
        off=off,
        climbs=False,
        single=True,
    )


def _all_on_for_long(brief: Brief) -> Brief:
    """No load momentary: then a fuse is judged by the share of it that loads may take, alone."""
    console = brief.console
    loads = tuple(replace(load, duty="continuous") for load in console.loads)
    blocks = tuple(replace(block, duty="continuous") for block in console.boat_blocks)
    return replace(brief, console=replace(console, loads=loads, boat_blocks=blocks))


def _fuse_place(console: Console) -> Easing | None:
    """A fuse that sits nearer to its source."""
    places = _pigtail_places(console, lambda pigtail: pigtail.fuse_distance_dmm > 0)
    farthest = max((c.pigtail.fuse_distance_dmm for c in console.circuits if c.pigtail), default=0)

    def nearer(pigtail: Pigtail, by_dmm: int) -> Pigtail:
        return replace(pigtail, fuse_distance_dmm=max(0, pigtail.fuse_distance_dmm - by_dmm))

    def at(brief: Brief, by_dmm: int, places: Places) -> Brief:
        return _pigtails(brief, places, lambda pigtail: nearer(pigtail, by_dmm))

    def say(brief: Brief, by_dmm: int, place: str) -> str:
        pigtail = brief.console.circuit(circuit_of_pigtail(place)).pigtail
        there = nearer(pigtail, by_dmm).fuse_distance_dmm if pigtail else 0
        return f"the fuse of {place} {mm_text(there)} mm from the source"

    steps = (*range(100, farthest, 100), farthest)
    return fact(FUSE_PLACE, places, steps, at, say)


def _in_line(console: Console, limits: Limits, stock: Stock) -> Easing | None:
    """An in-line fuse at leads and boat wires, the largest rating that spares them first.

    None is suggested that the wire's own load would load too far.
    """
    fed = {circuit.name for circuit in console.circuits if circuit.side == "feed"}
    demand = demand_by_post(console)
    need_ma: dict[str, int] = {
        lead_wire(p.id): demand[p.id] for p in console.posts if p.lead and p.circuit in fed
    }
    need_ma |= {
        wire.id: boat_block.current_ma
        for boat_block in console.boat_blocks
        for wire in boat_block.wires
        if boat_block.drawn_from
        and (
            console.post(wire.lands_on).function == "load" or wire.lands_on == boat_block.drawn_from
        )
    }
    least = max(need_ma.values(), default=0) * 1000
    ratings = {fuse.rating_ma for fuse in stock.fuses}
    values = sorted((r for r in ratings if r * limits.load_permille >= least), reverse=True)

    def fused(brief: Brief, rating_ma: int, places: Places) -> Brief:
        leads = frozenset(post_of_lead(place) for place in places)
        brief = with_posts(brief, leads, lambda post: replace(post, lead_fuse_ma=rating_ma))
        return _boat_blocks(brief, places, fuse_ma=lambda _wire: rating_ma)

    return fact(
        IN_LINE,
        tuple(need_ma),
        tuple(values),
        fused,
        lambda _brief, rating_ma, place: (
            f"an in-line fuse of {amps_text(rating_ma)} A at {place}"
        ),
        off=lambda brief: fused(brief, SPARES_ALL_MA, frozenset(need_ma)),
        climbs=False,
    )


def _thicker(wire: GivenWire, sizes_up: int) -> GivenWire:
    """The wire some AWG sizes thicker, or the thickest there is; of sizes with an ampacity."""
    least = max(wire.area_um2, nominal_area_um2(THINNEST_ROW) - 1)
    sizes = [s for s in INSULATION_UM if nominal_area_um2(s) > least]
    if not sizes:
        return wire
    size = sizes[min(sizes_up, len(sizes)) - 1]
    return given_wire(size, wire.colour, "AWG", wire.insulation_temp_c)


def _any_current(wire: GivenWire) -> GivenWire:
    return replace(wire, ampacity_size=LARGEST_ROW, carries_ma=0, exempt="", fuse_up_to_ma=0)


def _wire_of(console: Console, place: str) -> GivenWire | None:
    wires: dict[str, GivenWire] = {
        pigtail_wire(c.name): c.pigtail.wire for c in console.circuits if c.pigtail
    }
    wires |= {lead_wire(post.id): post.lead for post in console.posts if post.lead}
    wires |= {wire.id: wire.wire for a in console.boat_blocks for wire in a.wires}
    return wires.get(place)


def _given_size(console: Console) -> Easing | None:
    """Thicker pigtails, leads and boat wires; off, any of them carries any current."""
    pigtails = _pigtail_places(console, lambda _pigtail: True)
    leads = tuple(lead_wire(post.id) for post in console.posts if post.lead)
    wires = tuple(wire.id for boat_block in console.boat_blocks for wire in boat_block.wires)
    everywhere = (*pigtails, *leads, *wires)

    def changed(
        brief: Brief, places: Places, change: Callable[[GivenWire], GivenWire]
    ) -> Brief:
        posts = frozenset(post_of_lead(place) for place in places)
        brief = _pigtails(brief, places, lambda p: replace(p, wire=change(p.wire)))
        brief = with_posts(
            brief,
            posts,
            lambda post: replace(post, lead=change(post.lead)) if post.lead else post,
        )
        return _boat_blocks(brief, places, wire=lambda wire: change(wire.wire))

    def say(brief: Brief, up: int, place: str) -> str:
        wire = _wire_of(brief.console, place)
        return f"{place} in {_thicker(wire, up).wire_size}" if wire else ""

    return fact(
        GIVEN_SIZE,
        everywhere,
        tuple(range(1, MOST_SIZES_UP + 1)),
        lambda brief, up, places: changed(brief, places, lambda w: _thicker(w, up)),
        say,
        off=lambda brief: changed(brief, frozenset(everywhere), _any_current),
        climbs=False,
    )


def _run_size(console: Console) -> Easing | None:
    """Thicker supply runs; off, they drop nothing and carry any current."""
    places = _pigtail_places(console, lambda pigtail: pigtail.to_source is not None)

    def changed(
        brief: Brief, places: Places, change: Callable[[GivenWire], GivenWire]
    ) -> Brief:
        def run_of(pigtail: Pigtail) -> Pigtail:
            run = pigtail.to_source
            return replace(pigtail, to_source=replace(run, wire=change(run.wire)) if run else None)

        return _pigtails(brief, places, run_of)

    def no_drop(wire: GivenWire) -> GivenWire:
        return replace(_any_current(wire), area_um2=SUPERCONDUCTING_UM2)

    def say(brief: Brief, up: int, place: str) -> str:
        pigtail = brief.console.circuit(circuit_of_pigtail(place)).pigtail
        run = pigtail.to_source if pigtail else None
        return f"the supply run of {place} in {_thicker(run.wire, up).wire_size}" if run else ""

    return fact(
        RUN_SIZE,
        places,
        tuple(range(1, MOST_SIZES_UP + 1)),
        lambda brief, up, places: changed(brief, places, lambda w: _thicker(w, up)),
        say,
        off=lambda brief: changed(brief, frozenset(places), no_drop),
    )
