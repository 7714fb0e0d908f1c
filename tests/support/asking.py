"""A small stock and short ways to ask the planner, for tests of single rules.

Every wire in stock is 16 AWG of 1.309 mm² and 2.5 mm over its insulation unless a test says
otherwise. ``ring 1`` and ``push-on 1`` take one such wire, ``ring 2`` and ``push-on 2`` two
(or one folded back). Names, prices and ranges are invented.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from brute.straight_routes import straight_routes
from support.consoles import TAB_SIZE, THREAD, given_wire
from support.limits import plain_limits
from support.routes import build_routes

from lugwright.limits.schema import Limits
from lugwright.model.choose import best_choice
from lugwright.plans.choice import Choice
from lugwright.plans.outcome import Ending, Outcome
from lugwright.problem.build import build_problem
from lugwright.problem.schema import Problem
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, Load, Pigtail, Point, Post
from lugwright.stock.schema import Barrel, FittingKind, FittingType, Hardware, Spool, Stock

AREA = 1_309_000
ONE = Barrel(1_000_000, 1_400_000, 3000, 60)
TWO = Barrel(2_000_000, 2_700_000, 4000, 60)
THREE = Barrel(3_500_000, 4_100_000, 5000, 60)
ANY = Barrel(500_000, 9_000_000, 9000, 60)
COLOURS = ("purple", "black", "dark blue")


def spool(wire_size: str = "16 AWG", colour: str = "black", price: int = 1_000_000) -> Spool:
    """A spool of the plain area of its size; ``price`` in millionths per metre."""
    wire = given_wire(wire_size, colour)
    return Spool(
        wire_size=wire_size,
        colour=colour,
        size_standard="AWG",
        area_um2=wire.area_um2,
        insulation_um=wire.insulation_um,
        insulation_temp_c=105,
        ampacity_size=wire_size,
        price_micro_per_m=price,
        spool_length_dmm=1_000_000,
        name=f"{wire_size} {colour}",
    )


def fitting(name: str, kind: FittingKind, *barrels: Barrel, **changes: Any) -> FittingType:
    """A fitting row: tongue 0.8 mm, barrel 45°, no current limit, price 0.20, not lined."""
    on_stud = kind in ("ring", "captive spade", "plain spade")
    row = FittingType(
        name=name,
        kind=kind,
        colour="",
        barrels=barrels,
        lined=False,
        stud_threads=(THREAD,) if on_stud else (),
        tab_size=TAB_SIZE if kind == "push-on" else "",
        tongue_dmm=8 if on_stud else 0,
        barrel_angle_deg=45 if on_stud else 0,
        carries_ma=0,
        die="",
        price_micro=200_000,
        pack=25,
    )
    return replace(row, **changes)


HARDWARE = (
    Hardware(THREAD, 32, 10, 800, 8000, "8 mm", 60_000, 10),
    Hardware("#10-32 UNF", 32, 10, 800, 9500, "9.5 mm", 60_000, 10),
)
RINGS = (fitting("ring 1", "ring", ONE), fitting("ring 2", "ring", TWO))
PUSH_ONS = (fitting("push-on 1", "push-on", ONE), fitting("push-on 2", "push-on", TWO))


def stock_of(
    *extra: FittingType,
    without: Iterable[str] = (),
    spools: Iterable[Spool] | None = None,
) -> Stock:
    """The small stock, with more fittings, without some named ones, or with other spools."""
    left_out = set(without)
    kept = [row for row in (*RINGS, *PUSH_ONS) if row.name not in left_out]
    wires = tuple(spool(colour=c) for c in COLOURS) if spools is None else tuple(spools)
    return Stock(wires, (*kept, *extra), HARDWARE, ())


def roomy_limits(**changes: Any) -> Limits:
    """Plain limits with two wires to a barrel and four lugs to a stud, and the named changes."""
    return plain_limits(**{"wires_per_barrel": 2, "lugs_per_stud": 4, **changes})


def pose(
    console: Console,
    limits: Limits | None = None,
    stock: Stock | None = None,
    splices: Mapping[str, tuple[SplicePoint, ...]] | None = None,
) -> Problem:
    """The question. ``splices``: these splice points on straight routes, in place of real
    routes.
    """
    rules, chosen = limits or roomy_limits(), stock or stock_of()
    if splices is not None:
        return build_problem(Brief(console, rules, chosen), straight_routes(console, splices))
    return build_problem(Brief(console, rules, chosen), build_routes(console, rules, chosen))


def ask(
    console: Console,
    limits: Limits | None = None,
    stock: Stock | None = None,
    splices: Mapping[str, tuple[SplicePoint, ...]] | None = None,
    hubs: Iterable[str] | None = None,
) -> Outcome:
    """The outcome of a search without a time limit: proved best, or no plan."""
    outcome = best_choice(pose(console, limits, stock, splices), hubs=hubs)
    assert outcome.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    if outcome.ending is Ending.PROVED:
        assert outcome.cost == outcome.bound
    return outcome


def cost_of(outcome: Outcome) -> int:
    """The cost of a proved outcome with one level."""
    assert outcome.ending is Ending.PROVED
    (cost,) = outcome.cost
    return cost


def choice_of(outcome: Outcome) -> Choice:
    """What was chosen; the outcome must hold something."""
    assert outcome.choice is not None
    return outcome.choice


def impossible(outcome: Outcome) -> bool:
    """Whether the outcome says that no plan exists."""
    return outcome.ending is Ending.IMPOSSIBLE


def ends(outcome: Outcome, circuit: str) -> list[tuple[str, str]]:
    """Both joints of a circuit's jumpers, supply side first, sorted."""
    return [(j.a, j.b) for j in choice_of(outcome).jumpers if j.circuit == circuit]


def items(outcome: Outcome, joint: str) -> list[tuple[str, tuple[int, ...]]]:
    """Fittings at a joint: name and number of wires per barrel, sorted."""
    return sorted(
        (f.item, tuple(len(barrel) for barrel in f.barrels))
        for f in choice_of(outcome).fittings
        if f.joint == joint
    )


def sizes(outcome: Outcome, circuit: str) -> set[str]:
    """Wire sizes of a circuit's jumpers."""
    return {j.wire_size for j in choice_of(outcome).jumpers if j.circuit == circuit}


# -- consoles, changed ---------------------------------------------------------------------------


def change_post(console: Console, post_id: str, **changes: Any) -> Console:
    """The console with one post changed."""
    console.post(post_id)
    posts = tuple(replace(p, **changes) if p.id == post_id else p for p in console.posts)
    return replace(console, posts=posts)


def change_circuit(console: Console, name: str, **changes: Any) -> Console:
    """The console with one circuit changed."""
    console.circuit(name)
    circuits = tuple(replace(c, **changes) if c.name == name else c for c in console.circuits)
    return replace(console, circuits=circuits)


def change_pigtail(console: Console, circuit: str, **changes: Any) -> Console:
    """The console with a circuit's pigtail changed."""
    pigtail = console.circuit(circuit).pigtail
    assert isinstance(pigtail, Pigtail)
    return change_circuit(console, circuit, pigtail=replace(pigtail, **changes))


def only_ground(console: Console) -> Console:
    """The console with its ground circuit alone: one tree, and costs that are quick to add up."""
    posts = tuple(
        p if p.circuit in ("ground", "") else replace(p, circuit="") for p in console.posts
    )
    circuits = tuple(c for c in console.circuits if c.name == "ground")
    return replace(console, posts=posts, circuits=circuits)


def without_post(console: Console, post_id: str) -> Console:
    """The console without one post and whatever loads or circuits name it."""
    console.post(post_id)
    return replace(
        console,
        posts=tuple(p for p in console.posts if p.id != post_id),
        loads=tuple(x for x in console.loads if post_id not in (x.feed_post, x.ground_post)),
        circuits=tuple(
            replace(c, posts=tuple(p for p in c.posts if p != post_id)) for c in console.circuits
        ),
    )


def add_stud(console: Console, post_id: str, circuit: str, at: Point, **changes: Any) -> Console:
    """The console with one more stud of a circuit, on an instrument that is already there."""
    instrument, name = post_id.split(".")
    stud = Post(
        id=post_id,
        instrument=instrument,
        name=name,
        kind="stud",
        function=circuit,
        circuit=circuit,
        at=at,
        thread=THREAD,
        free_thread_dmm=90,
    )
    grown = replace(console, posts=(*console.posts, replace(stud, **changes)))
    posts = (*console.circuit(circuit).posts, post_id)
    return change_circuit(grown, circuit, posts=posts)


def with_load(console: Console, name: str, current_ma: int) -> Console:
    """The console with one load's current changed."""
    loads: list[Load] = [
        replace(x, current_ma=current_ma) if x.name == name else x for x in console.loads
    ]
    assert any(x.name == name for x in loads)
    return replace(console, loads=tuple(loads))


def wide_stock(*extra: FittingType, wire_sizes: Iterable[str] = ("16 AWG",)) -> Stock:
    """A ring and a push-on that take anything, and spools of these sizes, 0.50 a metre dearer
    each.
    """
    spools = [
        spool(size, colour, price=500_000 * number)
        for colour in COLOURS
        for number, size in enumerate(wire_sizes, start=1)
    ]
    rows = (fitting("ring", "ring", ANY), fitting("push-on", "push-on", ANY))
    return Stock(tuple(spools), (*rows, *extra), HARDWARE, ())
