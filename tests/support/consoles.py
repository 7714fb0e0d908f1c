"""Small consoles made by hand, for tests of every room.

A console of ``tiny_console`` has n like dials named ``dial1``, ``dial2`` …, each with an ignition
stud, a ground stud and (unless left out) a lamp tab: posts ``dial1.ignition``, ``dial1.ground``,
``dial1.lamp``. Circuits: ``ignition`` (feed) and ``ground`` with a pigtail each, ``lamps`` taken
on ``ignition``. Everything a test may want otherwise is a keyword, or is changed afterwards with
``dataclasses.replace``. All places are given in millimetres, seen from the back.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lugwright.scenario.console import (
    BoatBlock,
    BoatWire,
    Circuit,
    Console,
    GivenWire,
    Instrument,
    KeepOut,
    Load,
    Pigtail,
    Point,
    Post,
    SupplyRun,
    TiePoint,
)

THREAD = "#8-32 UNC"
TAB_SIZE = "6.3 x 0.8"
IGNITION_OFFSET_MM = (-10.0, -5.0)
GROUND_OFFSET_MM = (10.0, -5.0)
LAMP_OFFSET_MM = (0.0, 12.0)
SIGNAL_OFFSET_MM = (0.0, -14.0)


def dmm(length_mm: float) -> int:
    """Millimetres as whole 0.1 mm."""
    return round(length_mm * 10)


def place(x_mm: float, y_mm: float, z_mm: float = 0.0) -> Point:
    """A point given in millimetres, back view."""
    return Point(dmm(x_mm), dmm(y_mm), dmm(z_mm))


def given_wire(wire_size: str = "16 AWG", colour: str = "black") -> GivenWire:
    """A given wire: 18, 16, 14 or 12 AWG by nominal area (ASTM B258), insulation 105 C."""
    area_um2, insulation_um = {
        "18 AWG": (823_000, 2_200),
        "16 AWG": (1_309_000, 2_500),
        "14 AWG": (2_081_000, 2_900),
        "12 AWG": (3_309_000, 3_400),
    }[wire_size]
    return GivenWire(wire_size, colour, area_um2, insulation_um, 105, wire_size)


def tiny_console(
    centres_mm: Sequence[tuple[float, float]] = ((60, 60), (160, 60), (260, 60)),
    *,
    lamps: bool = True,
    post_height_mm: float = 50.0,
    body_mm: float = 52.0,
    body_depth_mm: float = 45.0,
    heights_mm: Mapping[int, float] | None = None,
    depths_mm: Mapping[int, float] | None = None,
    hub_candidates: Sequence[int] | None = None,
    thread: str = THREAD,
    free_thread_mm: float = 9.0,
    tab_size: str = TAB_SIZE,
    entry_mm: tuple[float, float] = (0.0, 0.0),
    reach_mm: float = 2000.0,
    pigtail_size: str = "16 AWG",
    fuse_ma: int = 10_000,
    supply_one_way_mm: float = 0.0,
    dial_ma: int = 100,
    lamp_ma: int = 150,
    senders: Sequence[int] = (),
    keep_outs: Sequence[KeepOut] = (),
    tie_points: Sequence[TiePoint] = (),
    size_mm: tuple[float, float] = (600.0, 300.0),
) -> Console:
    """A console of like dials at ``centres_mm`` (back view); numbers of dials count from 1.

    ``post_height_mm`` and ``body_depth_mm`` hold for every dial not named in ``heights_mm`` or
    ``depths_mm``. ``hub_candidates`` None: every dial. ``supply_one_way_mm`` 0: no supply run.
    ``senders``: dials that get a signal stud and a two-wire sender (50 mA) that comes aboard
    and returns to the dial's ground. Equal arguments give an equal console.
    """
    heights = dict(heights_mm or {})
    depths = dict(depths_mm or {})
    instruments: list[Instrument] = []
    posts: list[Post] = []
    for number, centre in enumerate(centres_mm, start=1):
        is_hub = hub_candidates is None or number in hub_candidates
        depth_dmm = dmm(depths.get(number, body_depth_mm))
        instruments.append(
            Instrument(
                name=f"dial{number}",
                pattern="dial for tests",
                centre=place(*centre),
                cut_out_dmm=dmm(body_mm) + 5,
                bezel_dmm=dmm(body_mm) + 60,
                body_dmm=dmm(body_mm),
                body_depth_dmm=depth_dmm,
                hub_candidate=is_hub,
            )
        )
        posts += _posts(
            number,
            centre,
            heights.get(number, post_height_mm),
            lamps=lamps,
            signal=number in senders,
            thread=thread,
            free_thread_dmm=dmm(free_thread_mm),
            tab_size=tab_size,
        )
    console = Console(
        title="tiny",
        width_dmm=dmm(size_mm[0]),
        height_dmm=dmm(size_mm[1]),
        thickness_dmm=60,
        nominal_mv=12_000,
        engine_space=False,
        service_travel_dmm=0,
        instruments=tuple(instruments),
        posts=tuple(posts),
        loads=_loads(len(centres_mm), dial_ma, lamp_ma if lamps else 0),
        circuits=(),
        unused_pigtails=(),
        boat_blocks=tuple(_sender(number) for number in senders),
        keep_outs=tuple(keep_outs),
        tie_points=tuple(tie_points),
    )
    supply = (dmm(supply_one_way_mm), pigtail_size)
    pigtails = {
        circuit: _pigtail(circuit, colour, place(*entry_mm), dmm(reach_mm), fuse, supply)
        for circuit, colour, fuse in (("ignition", "purple", fuse_ma), ("ground", "black", 0))
    }
    return replace(console, circuits=_circuits(console.posts, pigtails, lamps=lamps))


def _posts(
    number: int,
    centre_mm: tuple[float, float],
    height_mm: float,
    *,
    lamps: bool,
    signal: bool,
    thread: str,
    free_thread_dmm: int,
    tab_size: str,
) -> list[Post]:
    """The posts of one dial."""
    wanted = [("ignition", IGNITION_OFFSET_MM), ("ground", GROUND_OFFSET_MM)]
    if lamps:
        wanted.append(("lamp", LAMP_OFFSET_MM))
    if signal:
        wanted.append(("signal", SIGNAL_OFFSET_MM))
    circuits = {"ignition": "ignition", "ground": "ground", "lamp": "lamps", "signal": ""}
    posts = []
    for function, offset in wanted:
        is_tab = function == "lamp"
        posts.append(
            Post(
                id=f"dial{number}.{function}",
                instrument=f"dial{number}",
                name=function,
                kind="tab" if is_tab else "stud",
                function=function,
                circuit=circuits[function],
                at=place(centre_mm[0] + offset[0], centre_mm[1] + offset[1], height_mm),
                thread="" if is_tab else thread,
                free_thread_dmm=0 if is_tab else free_thread_dmm,
                tab_size=tab_size if is_tab else "",
            )
        )
    return posts


def _loads(dials: int, dial_ma: int, lamp_ma: int) -> tuple[Load, ...]:
    """Each dial takes current ignition to ground, and its lamp (0: none) lamp to ground."""
    loads = []
    for number in range(1, dials + 1):
        name = f"dial{number}"
        loads.append(Load(name, f"{name}.ignition", f"{name}.ground", dial_ma, "critical"))
        if lamp_ma:
            loads.append(Load(f"{name} lamp", f"{name}.lamp", f"{name}.ground", lamp_ma, "other"))
    return tuple(loads)


def _pigtail(
    circuit: str,
    colour: str,
    entry: Point,
    reach_dmm: int,
    fuse_ma: int,
    supply: tuple[int, str],
) -> Pigtail:
    """A bare bench pigtail for a circuit; ``supply`` is the run's one-way length and wire size."""
    one_way_dmm, wire_size = supply
    wire = given_wire(wire_size, colour)
    run = SupplyRun(one_way_dmm, wire, 2) if one_way_dmm else None
    return Pigtail(
        label=circuit,
        circuit=circuit,
        wire=wire,
        entry=entry,
        reach_dmm=reach_dmm,
        stage="bench",
        ring=None,
        fuse_ma=fuse_ma,
        fuse_distance_dmm=0,
        to_source=run,
    )


def _circuits(
    posts: Sequence[Post], pigtails: Mapping[str, Pigtail], *, lamps: bool
) -> tuple[Circuit, ...]:
    """Ignition, ground and (with ``lamps``) the lamp circuit taken from ignition."""

    def ids(circuit: str) -> tuple[str, ...]:
        return tuple(post.id for post in posts if post.circuit == circuit)

    made = [
        Circuit("ignition", "feed", "purple", "", "", ids("ignition"), pigtails["ignition"], 0),
        Circuit("ground", "ground", "black", "", "", ids("ground"), pigtails["ground"], 0),
    ]
    if lamps:
        made.append(Circuit("lamps", "feed", "dark blue", "", "ignition", ids("lamps"), None, 0))
    return tuple(made)


def _sender(number: int) -> BoatBlock:
    """A two-wire sender for one dial: pink on its signal stud, black on its ground stud."""
    name = f"sender{number}"
    wires = tuple(
        BoatWire(
            id=f"{name}: {colour}",
            boat_block=name,
            lands_on=f"dial{number}.{post}",
            wire=given_wire("18 AWG", colour),
            ring=None,
            entry=None,
            reach_dmm=0,
            one_way_dmm=0,
            fuse_ma=0,
        )
        for post, colour in (("signal", "pink"), ("ground", "black"))
    )
    return BoatBlock(
        name=name,
        wires=wires,
        current_ma=50,
        drawn_from=f"dial{number}.ignition",
        returns_to=f"dial{number}.ground",
        drop_class="other",
        is_sender=True,
    )
