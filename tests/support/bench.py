"""Three dials, a small stock and one choice, with numbers that can be worked out on paper.

Dials at x = 60, 160 and 260 mm; ignition studs 100 mm apart, ground studs 100 mm apart, lamp
tabs 100 mm apart. A dial takes 100 mA, a lamp 150 mA, the sender of dial 3 takes 50 mA.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from support.consoles import TAB_SIZE, THREAD, given_wire, tiny_console
from support.limits import plain_limits

from lugwright.assemble.build import assemble_plan
from lugwright.base.scale import ceil_hypot
from lugwright.limits.schema import Limits
from lugwright.plans.choice import Choice, ChosenFitting, ChosenJumper, WireKey
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import Plan
from lugwright.routes.schema import Corner, Path, Routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, Point
from lugwright.stock.schema import Barrel, FittingType, FuseType, Hardware, Spool, Stock

IGNITION_PIGTAIL = WireKey("given", "pigtail ignition")
GROUND_PIGTAIL = WireKey("given", "pigtail ground")


def bench_limits(**changes: Any) -> Limits:
    """Slack 5 %, 10 mm at each end, cut step 5 mm, lock washers, 0.1 milliohm per crimp."""
    usual: dict[str, Any] = {
        "slack_permille": 50,
        "end_allowance_dmm": 100,
        "cut_step_dmm": 50,
        "strip_clearance_dmm": 10,
        "lock_washer": True,
        "showing_thread_permille": 1500,
        "crimp_uohm": 100,
        "drop_critical_permille": 30,
        "drop_other_permille": 100,
        "wires_per_barrel": 2,
    }
    return plain_limits(**(usual | changes))


def bench_console(**changes: Any) -> Console:
    """Three dials in a row, a two-wire sender on the third."""
    return tiny_console(**({"senders": (3,)} | changes))


def spool(wire_size: str, colour: str, area_um2: int, insulation_um: int) -> Spool:
    """A spool of 30 m at 0.40 a metre."""
    name = f"{wire_size} {colour}"
    return Spool(
        wire_size, colour, "AWG", area_um2, insulation_um, 105, wire_size, 400_000, 300_000, name
    )


def fitting(name: str, kind: Any, barrels: tuple[Barrel, ...], **changes: Any) -> FittingType:
    """A fitting row at 0.20 each, in packs of ten, 0.8 mm tongue, 60 degrees of room."""
    usual: dict[str, Any] = {
        "colour": name.split()[0],
        "lined": False,
        "stud_threads": (THREAD,) if kind in ("ring", "captive spade") else (),
        "tab_size": TAB_SIZE if kind == "push-on" else "",
        "tongue_dmm": 8,
        "barrel_angle_deg": 60,
        "carries_ma": 0,
        "die": name.split()[0],
        "price_micro": 200_000,
        "pack": 10,
    }
    return FittingType(name=name, kind=kind, barrels=barrels, **(usual | changes))


ONE = Barrel(800_000, 1_700_000, 4_000, 60)
TWO = Barrel(2_000_000, 2_700_000, 5_000, 70)


def bench_stock(*more: FittingType) -> Stock:
    """16 AWG in three colours, fittings for one and for two 16 AWG wires, nuts, one fuse."""
    rows = [("purple", 1_309_000), ("black", 1_309_000), ("dark blue", 1_309_000)]
    return Stock(
        spools=tuple(spool("16 AWG", colour, area, 2_500) for colour, area in rows),
        fittings=(
            fitting("red ring", "ring", (ONE,)),
            fitting("blue ring", "ring", (TWO,)),
            fitting("red push-on", "push-on", (ONE,)),
            fitting("blue push-on", "push-on", (TWO,)),
            fitting("red butt", "butt", (ONE, ONE)),
            fitting("red cap", "cap", (ONE,)),
            *more,
        ),
        hardware=(Hardware(THREAD, 32, 10, 794, 8_700, "11/32 in nut driver", 50_000, 10),),
        fuses=(FuseType(10_000, "fuse 10 A", "red", 300_000, 5),),
    )


def straight_routes(console: Console) -> Routes:
    """Every wire runs straight."""
    at = {post.id: post.at for post in console.posts}

    def line(a: Point, b: Point) -> Path:
        plane = ceil_hypot(a.x_dmm - b.x_dmm, a.y_dmm - b.y_dmm)
        return Path((Corner(a), Corner(b)), plane + abs(a.z_dmm - b.z_dmm))

    return Routes({}, lambda a, b: line(at[a], at[b]), lambda entry, post: line(entry, at[post]))


def jumper(circuit: str, a: str, b: str) -> ChosenJumper:
    """A jumper of 16 AWG between posts written ``1.ignition``."""
    return ChosenJumper(circuit, f"dial{a}", f"dial{b}", "16 AWG")


IGNITION = (
    jumper("ignition", "2.ignition", "1.ignition"),
    jumper("ignition", "2.ignition", "3.ignition"),
)
GROUND = (
    jumper("ground", "2.ground", "1.ground"),
    jumper("ground", "2.ground", "3.ground"),
)
LAMPS = (
    jumper("lamps", "2.ignition", "1.lamp"),
    jumper("lamps", "1.lamp", "2.lamp"),
    jumper("lamps", "2.lamp", "3.lamp"),
)


def lug(post: str, item: str, *wires: ChosenJumper | WireKey) -> ChosenFitting:
    """A one-barrel fitting on a post."""
    keys = tuple(wire if isinstance(wire, WireKey) else wire.key for wire in wires)
    return ChosenFitting(f"dial{post}", item, (keys,))


def bench_choice() -> Choice:
    """Dial 2 is the hub; two wires share a ring where two jumpers leave it."""
    fittings = (
        lug("2.ignition", "red ring", IGNITION_PIGTAIL),
        lug("2.ignition", "blue ring", *IGNITION),
        lug("2.ignition", "red ring", LAMPS[0]),
        lug("1.ignition", "red ring", IGNITION[0]),
        lug("3.ignition", "red ring", IGNITION[1]),
        lug("2.ground", "red ring", GROUND_PIGTAIL),
        lug("2.ground", "blue ring", *GROUND),
        lug("1.ground", "red ring", GROUND[0]),
        lug("3.ground", "red ring", GROUND[1]),
        lug("3.ground", "red ring", WireKey("given", "sender3: black")),
        lug("3.signal", "red ring", WireKey("given", "sender3: pink")),
        lug("1.lamp", "blue push-on", LAMPS[0], LAMPS[1]),
        lug("2.lamp", "blue push-on", LAMPS[1], LAMPS[2]),
        lug("3.lamp", "red push-on", LAMPS[2]),
    )
    landings = (("ground", "dial2.ground"), ("ignition", "dial2.ignition"))
    return Choice(landings, (*IGNITION, *GROUND, *LAMPS), (), fittings)


def assembled(
    console: Console | None = None,
    limits: Limits | None = None,
    stock: Stock | None = None,
    choice: Choice | None = None,
) -> Plan:
    """The plan of a choice on straight routes."""
    where = console or bench_console()
    stocked = stock or bench_stock()
    brief = Brief(where, limits or bench_limits(), stocked, digests={"scenario": "00"})
    outcome = Outcome(Ending.NO_ANSWER, (), choice or bench_choice())
    return assemble_plan(brief, straight_routes(where), outcome, "test")


def heavy_console() -> Console:
    """The block of boat wires is a load of 500 mA at dial 2, the hub."""
    console = bench_console(senders=(2,))
    heavy = replace(console.boat_blocks[0], current_ma=500, is_sender=False)
    return replace(console, boat_blocks=(heavy,))


def heavy_choice() -> Choice:
    """Each ground jumper in a ring of its own, the load on dial 2."""
    plain = bench_choice()
    dropped = {"dial2.ground", "dial3.signal"}
    kept = [
        item
        for item in plain.fittings
        if item.joint not in dropped and "sender3" not in item.barrels[0][0].name
    ]
    added = [
        lug("2.ground", "red ring", GROUND_PIGTAIL),
        lug("2.ground", "red ring", GROUND[0]),
        lug("2.ground", "red ring", GROUND[1]),
        lug("2.ground", "red ring", WireKey("given", "sender2: black")),
        lug("2.signal", "red ring", WireKey("given", "sender2: pink")),
    ]
    return replace(plain, fittings=(*kept, *added))


def lead_console() -> Console:
    """Dial 3's ignition is a flying lead of 16 AWG."""
    console = bench_console()
    posts = tuple(
        replace(p, kind="lead", lead=given_wire("16 AWG", "red"), thread="", free_thread_dmm=0)
        if p.id == "dial3.ignition"
        else p
        for p in console.posts
    )
    return replace(console, posts=posts)
