"""Facts of a scenario that a person can change, and how far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from lugwright.base.scale import amps_text, mm_text
from lugwright.electrics.sizes import nominal_area_um2
from lugwright.limits.schema import Limits
from lugwright.problem.demand import demand_by_post
from lugwright.scenario.console import Arrival, Circuit, Console, GivenWire, Pigtail, Post
from lugwright.scenario.given_wires import INSULATION_UM, given_wire
from lugwright.stock.schema import Stock
from lugwright.studies.limit_steps import ANY_LOAD_PERMILLE
from lugwright.studies.loosening import Loosening, Places
from lugwright.studies.question import Question

AMPLE = 10**6
LARGEST_ROW = "4/0 AWG"
SUPERCONDUCTING_UM2 = 10**9  # so thick that it drops nothing worth counting
SPARES_ALL_MA = 1  # an in-line fuse so small that it spares any wire
LONGEST_THREAD_DMM = 300
LONGEST_REACH_DMM = 20_000
CURRENT_STEP_MA = 500
MOST_CURRENT_STEPS = 100
MOST_SIZES_UP = 8

HOLD, ONE_MORE_HUB = "held hub", "hub candidates"
THREAD, RESERVED, REACH = "free thread", "reserved lugs", "reach"
FUSE, FUSE_PLACE, IN_LINE = "fuse rating", "place of the fuse", "in-line fuse"
RING, POST_CURRENT = "ready-made ring", "current limit of a post"
GIVEN_SIZE, RUN_SIZE, LEAST_SIZE = "given wire size", "supply run size", "circuit minimum size"


def fact_steps(question: Question) -> tuple[Loosening, ...]:
    """Every fact that stands in anybody's way at all."""
    console, stock = question.console, question.stock
    found = (
        _post_current(console),
        _least_size(console),
        _given_size(console),
        _run_size(console),
        _ring(console),
        _in_line(console, question.limits, stock),
        _fuse(console, stock),
        _fuse_place(console),
        _reach(console),
        _reserved(console),
        _candidates(console),
        _thread(console),
        _held(question),
    )
    return tuple(one for one in found if one is not None)


# -- posts -------------------------------------------------------------------------------------


def _posts(question: Question, places: Places, change: Callable[[Post], Post]) -> Question:
    posts = tuple(change(p) if p.id in places else p for p in question.console.posts)
    return replace(question, console=replace(question.console, posts=posts))


def _thread(console: Console) -> Loosening | None:
    studs = tuple(post.id for post in console.posts if post.kind == "stud")

    def at(question: Question, more_dmm: int, places: Places) -> Question:
        return _posts(
            question,
            places,
            lambda post: replace(post, free_thread_dmm=post.free_thread_dmm + more_dmm),
        )

    return _fact(
        THREAD,
        studs,
        tuple(range(1, LONGEST_THREAD_DMM + 1)),
        at,
        lambda question, more_dmm, post: (
            f"{mm_text(question.console.post(post).free_thread_dmm + more_dmm)} mm "
            f"of free thread on {post}"
        ),
        off=lambda question: at(question, AMPLE, frozenset(studs)),
    )


def _reserved(console: Console) -> Loosening | None:
    places = tuple(post.id for post in console.posts if post.reserved)
    most = max((post.reserved for post in console.posts), default=0)

    def at(question: Question, fewer: int, places: Places) -> Question:
        return _posts(
            question, places, lambda post: replace(post, reserved=max(0, post.reserved - fewer))
        )

    def say(question: Question, fewer: int, post: str) -> str:
        left = max(0, question.console.post(post).reserved - fewer)
        return f"{left or 'no'} lug{'' if left == 1 else 's'} reserved on {post}"

    return _fact(RESERVED, places, tuple(range(1, most + 1)), at, say)


def _post_current(console: Console) -> Loosening | None:
    places = tuple(post.id for post in console.posts if post.current_limit_ma)

    def at(question: Question, more_ma: int, places: Places) -> Question:
        return _posts(
            question,
            places,
            lambda post: replace(post, current_limit_ma=post.current_limit_ma + more_ma),
        )

    def off(question: Question) -> Question:
        return _posts(question, frozenset(places), lambda post: replace(post, current_limit_ma=0))

    def say(question: Question, more_ma: int, post: str) -> str:
        return f"{amps_text(question.console.post(post).current_limit_ma + more_ma)} A at {post}"

    return _fact(POST_CURRENT, places, current_steps(), at, say, off=off)


def current_steps() -> tuple[int, ...]:
    """Steps of a current limit, mA."""
    return tuple(CURRENT_STEP_MA * n for n in range(1, MOST_CURRENT_STEPS + 1))


# -- hub ---------------------------------------------------------------------------------------


def _held(question: Question) -> Loosening | None:
    if question.hub is None:
        return None

    def at(question: Question, _value: Any, _places: Places) -> Question:
        return replace(question, hub=None)

    return Loosening(
        HOLD,
        "call",
        lambda question: replace(question, hub=None),
        ("free",),
        at,
        lambda _question, _value, _place: "the hub not held",
    )


def _candidates(console: Console) -> Loosening | None:
    places = tuple(one.name for one in console.instruments if not one.hub_candidate)

    def at(question: Question, _value: Any, places: Places) -> Question:
        changed = tuple(
            replace(one, hub_candidate=True) if one.name in places else one
            for one in question.console.instruments
        )
        return replace(question, console=replace(question.console, instruments=changed))

    return _fact(
        ONE_MORE_HUB, places, (True,), at, lambda _question, _value, name: f"{name} as hub"
    )


# -- wires that are given ----------------------------------------------------------------------


def _pigtails(question: Question, places: Places, change: Callable[[Pigtail], Pigtail]) -> Question:
    def changed(circuit: Circuit) -> Circuit:
        if circuit.pigtail is None or f"pigtail {circuit.name}" not in places:
            return circuit
        return replace(circuit, pigtail=change(circuit.pigtail))

    circuits = tuple(changed(circuit) for circuit in question.console.circuits)
    return replace(question, console=replace(question.console, circuits=circuits))


def _pigtail_places(console: Console, wanted: Callable[[Pigtail], bool]) -> tuple[str, ...]:
    return tuple(
        f"pigtail {circuit.name}"
        for circuit in console.circuits
        if circuit.pigtail and circuit.posts and wanted(circuit.pigtail)
    )


def _arrivals(question: Question, places: Places, **changes: Any) -> Question:
    """Arriving wires with fields changed; a change that is called gets the wire."""

    def changed(arrival: Arrival) -> Arrival:
        wires = tuple(
            replace(wire, **{name: change(wire) for name, change in changes.items()})
            if wire.id in places
            else wire
            for wire in arrival.wires
        )
        return replace(arrival, wires=wires)

    arrivals = tuple(changed(arrival) for arrival in question.console.arrivals)
    return replace(question, console=replace(question.console, arrivals=arrivals))


def _reach(console: Console) -> Loosening | None:
    """Longer pigtails and arriving wires; off, reach is not judged and nobody drops more for it."""
    places = _pigtail_places(console, lambda _pigtail: True)
    places += tuple(w.id for a in console.arrivals for w in a.wires if w.entry is not None)

    def at(question: Question, more_dmm: int, places: Places) -> Question:
        longer = _pigtails(question, places, lambda p: replace(p, reach_dmm=p.reach_dmm + more_dmm))
        return _arrivals(longer, places, reach_dmm=lambda wire: wire.reach_dmm + more_dmm)

    def say(question: Question, more_dmm: int, place: str) -> str:
        return f"{mm_text(_reach_of(question.console, place) + more_dmm)} mm of reach for {place}"

    return _fact(
        REACH,
        places,
        tuple(range(100, LONGEST_REACH_DMM + 1, 100)),
        at,
        say,
        off=lambda question: replace(
            question, limits=replace(question.limits, drip_loop_dmm=-AMPLE)
        ),
    )


def _reach_of(console: Console, place: str) -> int:
    reaches = {f"pigtail {c.name}": c.pigtail.reach_dmm for c in console.circuits if c.pigtail}
    reaches |= {wire.id: wire.reach_dmm for a in console.arrivals for wire in a.wires}
    return reaches[place]


def _ring(console: Console) -> Loosening | None:
    """Another thread for the ring a pigtail comes with, or the ring cut off."""
    places = _pigtail_places(console, lambda pigtail: pigtail.ring is not None)
    threads = sorted({post.thread for post in console.posts if post.kind == "stud"})

    def at(question: Question, thread: str, places: Places) -> Question:
        def changed(pigtail: Pigtail) -> Pigtail:
            if pigtail.ring is None or not thread:
                return replace(pigtail, ring=None)
            return replace(pigtail, ring=replace(pigtail.ring, thread=thread))

        return _pigtails(question, places, changed)

    def say(_question: Question, thread: str, place: str) -> str:
        return f"a ring for {thread} on {place}" if thread else f"the ring of {place} cut off"

    def off(question: Question) -> Question:
        return at(question, "", frozenset(places))

    return _fact(RING, places, (*threads, ""), at, say, off=off, climbs=False)


def _fuse(console: Console, stock: Stock) -> Loosening | None:
    """Another fuse of the shelf before a pigtail, the nearest rating first."""
    present = {
        f"pigtail {c.name}": c.pigtail.fuse_ma
        for c in console.circuits
        if c.pigtail and c.posts and c.pigtail.fuse_ma
    }
    steps = [
        (abs(fuse.rating_ma - now_ma), place, fuse.rating_ma)
        for place, now_ma in present.items()
        for fuse in stock.fuses
        if fuse.rating_ma != now_ma
    ]
    values = tuple((place, rating) for _, place, rating in sorted(set(steps)))

    def fused(question: Question, rating_ma: int, places: Places) -> Question:
        return _pigtails(question, places, lambda one: replace(one, fuse_ma=rating_ma))

    def off(question: Question) -> Question:
        any_load = replace(question.limits, load_permille=ANY_LOAD_PERMILLE)
        fused_small = fused(question, SPARES_ALL_MA, frozenset(present))
        return replace(fused_small, limits=any_load)

    return _fact(
        FUSE,
        tuple(present),
        values,
        lambda question, value, _places: fused(question, value[1], frozenset((value[0],))),
        lambda _question, value, _place: f"a {amps_text(value[1])} A fuse at {value[0]}",
        off=off,
        climbs=False,
        single=True,
    )


def _fuse_place(console: Console) -> Loosening | None:
    """A fuse that sits nearer to its source."""
    places = _pigtail_places(console, lambda pigtail: pigtail.fuse_distance_dmm > 0)
    farthest = max((c.pigtail.fuse_distance_dmm for c in console.circuits if c.pigtail), default=0)

    def nearer(pigtail: Pigtail, by_dmm: int) -> Pigtail:
        return replace(pigtail, fuse_distance_dmm=max(0, pigtail.fuse_distance_dmm - by_dmm))

    def at(question: Question, by_dmm: int, places: Places) -> Question:
        return _pigtails(question, places, lambda pigtail: nearer(pigtail, by_dmm))

    def say(question: Question, by_dmm: int, place: str) -> str:
        pigtail = question.console.circuit(place.removeprefix("pigtail ")).pigtail
        there = nearer(pigtail, by_dmm).fuse_distance_dmm if pigtail else 0
        return f"the fuse of {place} {mm_text(there)} mm from the source"

    steps = (*range(100, farthest, 100), farthest)
    return _fact(FUSE_PLACE, places, steps, at, say)


def _in_line(console: Console, limits: Limits, stock: Stock) -> Loosening | None:
    """An in-line fuse at leads and arriving wires, the largest rating that spares them first.

    None is suggested that the wire's own load would load too far.
    """
    fed = {circuit.name for circuit in console.circuits if circuit.side == "feed"}
    demand = demand_by_post(console)
    need_ma = {f"lead {p.id}": demand[p.id] for p in console.posts if p.lead and p.circuit in fed}
    need_ma |= {
        wire.id: arrival.current_ma
        for arrival in console.arrivals
        for wire in arrival.wires
        if console.post(wire.lands_on).function == "load" and arrival.drawn_from
    }
    least = max(need_ma.values(), default=0) * 1000
    ratings = {fuse.rating_ma for fuse in stock.fuses}
    values = sorted((r for r in ratings if r * limits.load_permille >= least), reverse=True)

    def fused(question: Question, rating_ma: int, places: Places) -> Question:
        leads = frozenset(place.removeprefix("lead ") for place in places)
        question = _posts(question, leads, lambda post: replace(post, lead_fuse_ma=rating_ma))
        return _arrivals(question, places, fuse_ma=lambda _wire: rating_ma)

    return _fact(
        IN_LINE,
        tuple(need_ma),
        tuple(values),
        fused,
        lambda _question, rating_ma, place: (
            f"an in-line fuse of {amps_text(rating_ma)} A at {place}"
        ),
        off=lambda question: fused(question, SPARES_ALL_MA, frozenset(need_ma)),
        climbs=False,
    )


def _thicker(wire: GivenWire, sizes_up: int) -> GivenWire:
    """The wire some AWG sizes thicker, or the thickest there is."""
    sizes = [s for s in INSULATION_UM if nominal_area_um2(s) > wire.area_um2]
    if not sizes:
        return wire
    size = sizes[min(sizes_up, len(sizes)) - 1]
    return given_wire(size, wire.colour, "AWG", wire.insulation_temp_c)


def _any_current(wire: GivenWire) -> GivenWire:
    return replace(wire, ampacity_size=LARGEST_ROW)


def _wire_of(console: Console, place: str) -> GivenWire | None:
    wires = {f"pigtail {c.name}": c.pigtail.wire for c in console.circuits if c.pigtail}
    wires |= {f"lead {post.id}": post.lead for post in console.posts if post.lead}
    wires |= {wire.id: wire.wire for a in console.arrivals for wire in a.wires}
    return wires.get(place)


def _given_size(console: Console) -> Loosening | None:
    """Thicker pigtails, leads and arriving wires; off, any of them carries any current."""
    pigtails = _pigtail_places(console, lambda _pigtail: True)
    leads = tuple(f"lead {post.id}" for post in console.posts if post.lead)
    wires = tuple(wire.id for arrival in console.arrivals for wire in arrival.wires)
    everywhere = (*pigtails, *leads, *wires)

    def changed(
        question: Question, places: Places, change: Callable[[GivenWire], GivenWire]
    ) -> Question:
        posts = frozenset(place.removeprefix("lead ") for place in places)
        question = _pigtails(question, places, lambda p: replace(p, wire=change(p.wire)))
        question = _posts(
            question,
            posts,
            lambda post: replace(post, lead=change(post.lead)) if post.lead else post,
        )
        return _arrivals(question, places, wire=lambda wire: change(wire.wire))

    def say(question: Question, up: int, place: str) -> str:
        wire = _wire_of(question.console, place)
        return f"{place} in {_thicker(wire, up).wire_size}" if wire else ""

    return _fact(
        GIVEN_SIZE,
        everywhere,
        tuple(range(1, MOST_SIZES_UP + 1)),
        lambda question, up, places: changed(question, places, lambda w: _thicker(w, up)),
        say,
        off=lambda question: changed(question, frozenset(everywhere), _any_current),
        climbs=False,
    )


def _run_size(console: Console) -> Loosening | None:
    """Thicker supply runs; off, they drop nothing and carry any current."""
    places = _pigtail_places(console, lambda pigtail: pigtail.to_source is not None)

    def changed(
        question: Question, places: Places, change: Callable[[GivenWire], GivenWire]
    ) -> Question:
        def run_of(pigtail: Pigtail) -> Pigtail:
            run = pigtail.to_source
            return replace(pigtail, to_source=replace(run, wire=change(run.wire)) if run else None)

        return _pigtails(question, places, run_of)

    def no_drop(wire: GivenWire) -> GivenWire:
        return replace(_any_current(wire), area_um2=SUPERCONDUCTING_UM2)

    def say(question: Question, up: int, place: str) -> str:
        pigtail = question.console.circuit(place.removeprefix("pigtail ")).pigtail
        run = pigtail.to_source if pigtail else None
        return f"the supply run of {place} in {_thicker(run.wire, up).wire_size}" if run else ""

    return _fact(
        RUN_SIZE,
        places,
        tuple(range(1, MOST_SIZES_UP + 1)),
        lambda question, up, places: changed(question, places, lambda w: _thicker(w, up)),
        say,
        off=lambda question: changed(question, frozenset(places), no_drop),
    )


def _least_size(console: Console) -> Loosening | None:
    """A circuit's own smallest size, taken away."""
    places = tuple(c.name for c in console.circuits if c.minimum_area_um2)

    def at(question: Question, _value: Any, places: Places) -> Question:
        circuits = tuple(
            replace(circuit, minimum_area_um2=0) if circuit.name in places else circuit
            for circuit in question.console.circuits
        )
        return replace(question, console=replace(question.console, circuits=circuits))

    return _fact(
        LEAST_SIZE,
        places,
        (0,),
        at,
        lambda _question, _value, circuit: f"no smallest size of its own for {circuit}",
    )


def _fact(
    name: str,
    places: tuple[str, ...],
    values: tuple[Any, ...],
    at: Callable[[Question, Any, Places], Question],
    say: Callable[[Question, Any, str], str],
    *,
    off: Callable[[Question], Question] | None = None,
    climbs: bool = True,
    single: bool = False,
) -> Loosening | None:
    """A fact's loosening; None where there is no such place. Without ``off`` its last step is."""
    if not places:
        return None

    def last(question: Question) -> Question:
        return at(question, values[-1], frozenset(places))

    return Loosening(name, "scenario", off or last, values, at, say, places, climbs, single)
