"""Tiny consoles written out by hand, for tests that reckon every number themselves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from brute.enumerate import best_by_enumeration
from brute.statements import NONE, Statements
from brute.straight_routes import straight_routes
from lugwright.limits.schema import Limits
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.console import (
    Circuit,
    Console,
    GivenWire,
    Instrument,
    Load,
    Pigtail,
    Point,
    Post,
)
from lugwright.stock.schema import Barrel, FittingType, Hardware, Spool, Stock

PURPLE = Spool("16 AWG", "purple", "AWG", 1_300_000, 2500, 105, "16 AWG", 1_000_000, 9**9, "p")
BLACK = replace(PURPLE, colour="black", name="b")
BLUE = replace(PURPLE, colour="blue", name="l")
RING = FittingType(
    "ring",
    "ring",
    "",
    (Barrel(0, 2_700_000, 9000, 50),),
    False,
    ("M4",),
    "",
    10,
    60,
    0,
    "",
    200_000,
    25,
)
BUTT = replace(
    RING,
    name="butt",
    kind="butt",
    barrels=(RING.barrels[0], RING.barrels[0]),
    stud_threads=(),
    price_micro=300_000,
)
STOCK = Stock((PURPLE, BLACK, BLUE), (RING, BUTT), (Hardware("M4", 30, 10, 700, 0, "", 0, 1),), ())
WIRE = GivenWire("16 AWG", "", 1_300_000, 2500, 105, "16 AWG")


def post(instrument: str, circuit: str, x: int, y: int, **extra: Any) -> Post:
    """A stud with ample thread unless told otherwise."""
    fields: dict[str, Any] = {"kind": "stud", "thread": "M4", "free_thread_dmm": 1000, **extra}
    name = fields.pop("name", circuit)
    kind = fields.pop("kind")
    at = Point(x, y, 0)
    return Post(f"{instrument}.{name}", instrument, name, kind, circuit, circuit, at, **fields)


def pigtail(circuit: str, **extra: Any) -> Pigtail:
    """A bare 16 AWG pigtail from the origin that reaches everywhere."""
    fields: dict[str, Any] = {
        "reach_dmm": 9000,
        "ring": None,
        "to_source": None,
        "fuse_ma": 0,
        **extra,
    }
    return Pigtail(
        label=circuit,
        circuit=circuit,
        wire=WIRE,
        entry=Point(0, 0, 0),
        stage="bench",
        fuse_distance_dmm=0,
        **fields,
    )


def console(posts: list[Post], loads: list[Load], **pigtails: Pigtail | None) -> Console:
    """A console of these posts; a circuit with no pigtail is taken from ignition."""
    colours = {"ignition": "purple", "ground": "black", "lamps": "blue"}
    circuits = []
    for name, own in pigtails.items():
        ids = tuple(post.id for post in posts if post.circuit == name)
        side: Any = "ground" if name == "ground" else "feed"
        taken = "" if own else "ignition"
        circuits.append(Circuit(name, side, colours[name], "", taken, ids, own, 0))
    names = dict.fromkeys(post.instrument for post in posts)
    instruments = tuple(
        Instrument(name, "dial", Point(0, 0, 0), 520, 580, 510, 300) for name in names
    )
    return Console(
        "t",
        5000,
        2000,
        60,
        12_000,
        False,
        0,
        instruments,
        tuple(posts),
        tuple(loads),
        tuple(circuits),
        (),
        (),
        (),
        (),
    )


def two_dials(**feed: Any) -> Console:
    """Dials a and b, 1000 apart; ignition pigtail at the origin, a at 300, b at 1300."""
    posts = [post("a", "ignition", 300, 0), post("b", "ignition", 1300, 0)]
    loads = [Load("a", "a.ignition", "", 1000, "other"), Load("b", "b.ignition", "", 500, "other")]
    return console(posts, loads, ignition=pigtail("ignition", **feed))


def best(
    console: Console,
    limits: Limits,
    stock: Stock = STOCK,
    splices: Mapping[str, tuple[SplicePoint, ...]] | None = None,
    more: Statements = NONE,
) -> tuple[int, ...] | None:
    """The least cost over straight routes."""
    routes = straight_routes(console, splices or {})
    return best_by_enumeration(console, limits, stock, routes, more=more).cost
