"""A small plan made by hand: two dials, lamps, one sender; every number is worked out here.

Nothing of the planner is used. Places are in 0.1 mm, back view, all posts 50 mm high:

    dial1.ignition (500, 550)   dial1.ground (700, 550)   dial1.lamp (600, 720)
    dial2.ignition (1500, 550)  dial2.ground (1700, 550)  dial2.lamp (1600, 720)
    dial2.signal (1600, 460)

The supply lands on dial1. A dial takes 100 mA, a lamp 150 mA, the sender of dial 2 takes 50 mA.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from support.consoles import TAB_SIZE, THREAD, given_wire, place, tiny_console
from support.limits import plain_limits

from lugwright.assemble.panel import panel_of
from lugwright.limits.schema import Limits
from lugwright.plans.schema import (
    BuyLine,
    Cap,
    CircuitWire,
    Crimp,
    EndRef,
    Given,
    Jumper,
    Landing,
    LoadDrop,
    Plan,
    Proof,
    Stack,
    StackedLug,
    Step,
    Totals,
    Waypoint,
)
from lugwright.readings.lines import sheet_of
from lugwright.readings.procedure import proving_steps
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, Pigtail
from lugwright.stock.schema import Barrel, FittingType, Hardware, Spool, Stock

RING, SMALL_RING, SPADE = "ring 16-14", "ring 22-16", "spade 16-14"
PUSH_ON, BUTT, CAP = "push-on 16-14", "butt 16-14", "cap 16-14"
AREA = 1_309_000  # 16 AWG, µm²
SMALL = 823_000  # 18 AWG


def hand_limits(**changes: Any) -> Limits:
    """Slack 5 %, 10 mm at each end, cut in steps of 5 mm, at most 2 wires in a barrel."""
    values: dict[str, Any] = {
        "slack_permille": 50,
        "end_allowance_dmm": 100,
        "cut_step_dmm": 50,
        "wires_per_barrel": 2,
        "lugs_per_stud": 4,
        "lock_washer": True,
        "showing_thread_permille": 1000,
        "strip_clearance_dmm": 5,
        "drop_critical_permille": 30,
        "drop_other_permille": 100,
        "crimp_uohm": 100,
        "fuse_permille": 1500,
    }
    return plain_limits(**(values | changes))


def hand_console() -> Console:
    """Two dials, a sender at the second, two unused pigtails, 1 m of supply run."""
    console = tiny_console(((60, 60), (160, 60)), senders=(2,), supply_one_way_mm=1000)
    unused = tuple(
        Pigtail(
            label, "", given_wire("16 AWG", colour), place(0, 0), 2000, "bench", None, 0, 0, None,
            cap_off=True, live=live,
        )
        for label, colour, live in (("radio", "red", True), ("tachometer", "gray", False))
    )  # fmt: skip
    return replace(console, unused_pigtails=unused)


def _fitting(name: str, kind: Any, price: int, small: bool = False, **more: Any) -> FittingType:
    """Barrels 6 mm long: 1.0 to 2.7 mm², or 0.5 to 1.65 mm² for the small one."""
    barrel = Barrel(500_000, 1_650_000, 4_500, 60) if small else Barrel(
        1_000_000, 2_700_000, 5_000, 60
    )  # fmt: skip
    values: dict[str, Any] = {
        "barrels": (barrel, barrel) if kind == "butt" else (barrel,),
        "lined": False,
        "stud_threads": (),
        "tab_size": "",
        "tongue_dmm": 0,
        "barrel_angle_deg": 60,
        "carries_ma": 0,
        "die": "blue",
        "price_micro": price,
        "pack": 25,
    }
    return FittingType(name=name, kind=kind, colour="blue", **(values | more))


def hand_stock() -> Stock:
    """Three spools of 16 AWG at 0.50 a metre, and the fittings of the plan."""
    spools = tuple(
        Spool(f"16 AWG {colour}", colour, "AWG", AREA, 2_500, 105, "16 AWG", 500_000, 300_000,
              f"wire {colour}")
        for colour in ("purple", "black", "dark blue")
    )  # fmt: skip
    spools = tuple(replace(spool, wire_size="16 AWG") for spool in spools)
    stud = {"stud_threads": (THREAD,), "tongue_dmm": 8}
    fittings = (
        _fitting(RING, "ring", 200_000, **stud),
        _fitting(SPADE, "captive spade", 250_000, **stud),
        _fitting(SMALL_RING, "ring", 180_000, small=True, **stud),
        _fitting("ring M6", "ring", 200_000, stud_threads=("M6",), tongue_dmm=8),
        _fitting(PUSH_ON, "push-on", 150_000, tab_size=TAB_SIZE),
        _fitting(BUTT, "butt", 120_000),
        _fitting(CAP, "cap", 50_000),
    )
    nut = Hardware(THREAD, 30, 10, 794, 8_732, "11/32 in", 30_000, 50)
    return Stock(spools, fittings, (nut,), ())


def at(x: int, y: int, tie: str = "") -> Waypoint:
    """A corner 50 mm above the panel."""
    return Waypoint(x_dmm=x, y_dmm=y, z_dmm=500, tie=tie)


ENTRY = Waypoint(x_dmm=0, y_dmm=0, z_dmm=0)
LANDINGS = {"dial1.ignition": at(500, 550), "dial1.ground": at(700, 550)}


def _jumper(
    circuit: str, number: int, joints: tuple[str, str], path: Sequence[Waypoint],
    path_dmm: int, length_dmm: int, current_ma: int, resistance_uohm: int, colour: str,
) -> Jumper:  # fmt: skip
    return Jumper(
        label=f"{circuit} {number}", circuit=circuit, number=number, role="jumper", stage="bench",
        from_joint=joints[0], to_joint=joints[1], path=tuple(path), path_dmm=path_dmm,
        length_dmm=length_dmm, wire_size="16 AWG", colour=colour, colour_code="",
        spool=f"wire {colour}", current_ma=current_ma, resistance_uohm=resistance_uohm,
        strip_a_dmm=65, strip_b_dmm=65,  # barrel 6 mm and 0.5 mm clearance
    )  # fmt: skip


def _jumpers() -> tuple[Jumper, ...]:
    """Lengths: path x 1.05 + 20 mm, up to 5 mm. 16 AWG at 20 C: 17241 / 1.309 mm² = 13172 nΩ/mm.

    100 mm: 105 + 20 = 125 mm, 1646.5 -> 1647 µΩ.
    lamps 1: sqrt(100² + 170²) = 197.2 -> 19.8 mm; 20.79 + 20 = 40.79 -> 45 mm, 592.7 -> 593 µΩ.
    """
    return (
        _jumper("ignition", 1, ("dial1.ignition", "dial2.ignition"),
                (at(500, 550), at(1500, 550)), 1000, 1250, 150, 1647, "purple"),
        _jumper("lamps", 1, ("dial1.ignition", "dial1.lamp"),
                (at(500, 550), at(600, 720)), 198, 450, 300, 593, "dark blue"),
        _jumper("lamps", 2, ("dial1.lamp", "dial2.lamp"),
                (at(600, 720), at(1600, 720)), 1000, 1250, 150, 1647, "dark blue"),
        _jumper("ground", 1, ("dial1.ground", "dial2.ground"),
                (at(700, 550), at(1700, 550)), 1000, 1250, 300, 1647, "black"),
    )  # fmt: skip


def _crimp(
    number: int, item: str, joint: str, ends: Sequence[str], area: int, current: int,
    stage: Any = "bench",
) -> Crimp:  # fmt: skip
    kind = {RING: "ring", SMALL_RING: "ring", PUSH_ON: "push-on"}[item]
    low, high = (500_000, 1_650_000) if item == SMALL_RING else (1_000_000, 2_700_000)
    refs = tuple(EndRef(wire=end.rpartition("|")[0], end=end[-1]) for end in ends)  # type: ignore[arg-type]
    return Crimp(
        number=number, item=item, kind=kind, colour="blue", die="blue", joint=joint, stage=stage,
        barrels=(refs,), folded=False, area_um2=(area,), area_min_um2=(low,),
        area_max_um2=(high,), current_ma=current,
    )  # fmt: skip


def _crimps() -> tuple[Crimp, ...]:
    """Currents: each pigtail carries 550 mA, the largest end in its lug; the tongue of crimp 1
    passes 550 - 150, that of crimp 3 550 - 300. Crimp 4 takes 300 in and lets 150 out: 300."""
    return (
        _crimp(1, RING, "dial1.ignition", ("pigtail ignition|a", "ignition 1|a"), 2 * AREA, 550),
        _crimp(2, RING, "dial1.ignition", ("lamps 1|a",), AREA, 300),
        _crimp(3, RING, "dial1.ground", ("pigtail ground|a", "ground 1|a"), 2 * AREA, 550),
        _crimp(4, PUSH_ON, "dial1.lamp", ("lamps 1|b", "lamps 2|a"), 2 * AREA, 300),
        _crimp(5, RING, "dial2.ignition", ("ignition 1|b",), AREA, 150),
        _crimp(6, RING, "dial2.ground", ("ground 1|b",), AREA, 300),
        _crimp(7, PUSH_ON, "dial2.lamp", ("lamps 2|b",), AREA, 150),
        _crimp(8, SMALL_RING, "dial2.ground", ("sender2: black|a",), SMALL, 50, "aboard"),
        _crimp(9, SMALL_RING, "dial2.signal", ("sender2: pink|a",), SMALL, 50, "aboard"),
    )


def _lug(crimp: int, circuit: str, current: int, conductors: int, stage: Any) -> StackedLug:
    return StackedLug(
        crimp=crimp, ready="", circuit=circuit, stage=stage, current_ma=current, tongue_dmm=8,
        conductors=conductors, clock=12,
    )  # fmt: skip


def _stack(post: str, used: int, *lugs: StackedLug) -> Stack:
    """Thread: 0.8 mm a tongue, washer 1.0, nut 3.0, one thread of 0.794 -> 0.8 mm showing."""
    bench = sum(lug.stage == "bench" for lug in lugs)
    return Stack(
        post=post, thread=THREAD, driver="11/32 in", lugs=lugs, reserved=0, lock_washer=True,
        used_dmm=used, free_dmm=90, bench_lugs=bench,
        nut_at_bench="snug" if bench == len(lugs) else "loose", boot=False,
    )  # fmt: skip


def _stacks() -> tuple[Stack, ...]:
    """One lug: 8 + 10 + 30 + 8 = 56; two lugs: 64."""
    return (
        _stack("dial1.ignition", 64, _lug(1, "ignition", 550, 2, "bench"),
               _lug(2, "lamps", 300, 1, "bench")),
        _stack("dial1.ground", 56, _lug(3, "ground", 550, 2, "bench")),
        _stack("dial2.ignition", 56, _lug(5, "ignition", 150, 1, "bench")),
        _stack("dial2.ground", 64, _lug(6, "ground", 300, 1, "bench"),
               _lug(8, "ground", 50, 1, "aboard")),
        _stack("dial2.signal", 56, _lug(9, "", 50, 1, "aboard")),
    )  # fmt: skip


def _given() -> tuple[Given, ...]:
    rows = (
        ("pigtail ignition", "ignition", "bench", "dial1.ignition", "16 AWG", "purple", 550),
        ("pigtail ground", "ground", "bench", "dial1.ground", "16 AWG", "black", 550),
        ("sender2: pink", "", "aboard", "dial2.signal", "18 AWG", "pink", 50),
        ("sender2: black", "ground", "aboard", "dial2.ground", "18 AWG", "black", 50),
    )
    return tuple(
        Given(
            wire=wire, circuit=circuit, stage=stage, joint=joint,  # type: ignore[arg-type]
            wire_size=size, colour=colour, current_ma=current, ready_ring=False, strip_dmm=65,
            path=(ENTRY, LANDINGS[joint]) if wire.startswith("pigtail") else (),
        )
        for wire, circuit, stage, joint, size, colour, current in rows
    )  # fmt: skip


def _drops() -> tuple[LoadDrop, ...]:
    """Supply: run 1 m 13172 µΩ, pigtail 2 m 26344 µΩ, one crimp 100 µΩ: 39616 µΩ x 550 mA.

    dial1, both sides           39616 x 550                    = 21 788 800 nV
    dial2.ignition  + (1647 + 2 x 100) x 150 =   277 050      -> 22 065 850
    dial1.lamp      + (593 + 200) x 300      =   237 900      -> 22 026 700
    dial2.lamp      + 1847 x 150             =   277 050      -> 22 303 750
    dial2.ground    + 1847 x 300             =   554 100      -> 22 342 900
    Limits: 12 V x 3 % = 360 mV for the dials, 10 % = 1200 mV for the lamps.
    """
    rows = (
        ("dial1", 100, 21_788_800, 21_788_800, 43_577_600, 360_000_000),
        ("dial1 lamp", 150, 22_026_700, 21_788_800, 43_815_500, 1_200_000_000),
        ("dial2", 100, 22_065_850, 22_342_900, 44_408_750, 360_000_000),
        ("dial2 lamp", 150, 22_303_750, 22_342_900, 44_646_650, 1_200_000_000),
    )
    return tuple(
        LoadDrop(load=load, current_ma=ma, feed_nv=feed, ground_nv=ground, drop_nv=drop,
                 limit_nv=limit)
        for load, ma, feed, ground, drop, limit in rows
    )  # fmt: skip


STEPS: tuple[tuple[str, str, str, tuple[str, ...]], ...] = (
    ("bench", "cap", "radio", (CAP,)),
    ("bench", "cap", "tachometer", (CAP,)),
    *(("bench", "cut", label, ()) for label in ("ignition 1", "lamps 1", "lamps 2", "ground 1")),
    ("bench", "crimp", "1", ("pigtail ignition-a", "ignition 1-a")),
    ("bench", "crimp", "2", ("lamps 1-a",)),
    ("bench", "crimp", "3", ("pigtail ground-a", "ground 1-a")),
    ("bench", "crimp", "4", ("lamps 1-b", "lamps 2-a")),
    ("bench", "crimp", "5", ("ignition 1-b",)),
    ("bench", "crimp", "6", ("ground 1-b",)),
    ("bench", "crimp", "7", ("lamps 2-b",)),
    ("bench", "land", "dial1.ignition", ("1",)),
    ("bench", "land", "dial1.ignition", ("2",)),
    ("bench", "washer", "dial1.ignition", ()),
    ("bench", "nut snug", "dial1.ignition", ()),
    ("bench", "land", "dial1.ground", ("3",)),
    ("bench", "washer", "dial1.ground", ()),
    ("bench", "nut snug", "dial1.ground", ()),
    ("bench", "push on", "dial1.lamp", ("4",)),
    ("bench", "land", "dial2.ignition", ("5",)),
    ("bench", "washer", "dial2.ignition", ()),
    ("bench", "nut snug", "dial2.ignition", ()),
    ("bench", "land", "dial2.ground", ("6",)),
    ("bench", "washer", "dial2.ground", ()),
    ("bench", "nut loose", "dial2.ground", ()),
    ("bench", "push on", "dial2.lamp", ("7",)),
    ("aboard", "crimp", "8", ("sender2: black-a",)),
    ("aboard", "crimp", "9", ("sender2: pink-a",)),
    ("aboard", "nut off", "dial2.ground", ()),
    ("aboard", "land", "dial2.ground", ("8",)),
    ("aboard", "washer", "dial2.ground", ()),
    ("aboard", "nut snug", "dial2.ground", ()),
    ("aboard", "land", "dial2.signal", ("9",)),
    ("aboard", "washer", "dial2.signal", ()),
    ("aboard", "nut snug", "dial2.signal", ()),
    ("key-on", "test", "all", ()),
)


def steps(rows: Sequence[tuple[str, str, str, tuple[str, ...]]] = STEPS) -> tuple[Step, ...]:
    """Rows of (stage, verb, target, parts) as steps numbered from 1."""
    return tuple(
        Step(number=number, stage=stage, verb=verb, target=target, parts=parts)  # type: ignore[arg-type]
        for number, (stage, verb, target, parts) in enumerate(rows, 1)
    )


def proved(plan: Plan) -> Plan:
    """The plan with the whole procedure where its steps have tests at key-on."""
    tests = [(one.stage, one.verb) == ("key-on", "test") for one in plan.steps]
    if not any(tests):
        return plan
    at = tests.index(True)
    after = [one for one, test in zip(plan.steps, tests, strict=True) if not test][at:]
    told = (*plan.steps[:at], *proving_steps(sheet_of(plan), at + 1), *after)
    numbered = (one.model_copy(update={"number": n}) for n, one in enumerate(told, 1))
    return plan.model_copy(update={"steps": tuple(numbered)})


def _buy() -> tuple[BuyLine, ...]:
    """Spools of 30 m at 0.50 a metre, fittings in packs of 25, nuts in packs of 50."""
    rows = (
        ("wire purple", "mm", 125, 30_000, 15_000_000),
        ("wire dark blue", "mm", 170, 30_000, 15_000_000),
        ("wire black", "mm", 125, 30_000, 15_000_000),
        (RING, "piece", 5, 25, 5_000_000),
        (SMALL_RING, "piece", 2, 25, 4_500_000),
        (PUSH_ON, "piece", 2, 25, 3_750_000),
        (CAP, "piece", 2, 25, 1_250_000),
        (f"nut with lock washer {THREAD}", "piece", 5, 50, 1_500_000),
    )
    return tuple(
        BuyLine(item=item, unit=unit, need=need, pack=pack, packs=1, cost_micro=cost)  # type: ignore[arg-type]
        for item, unit, need, pack, cost in rows
    )


def _totals() -> Totals:
    """Wire: 3 x 125 + 45 mm. Wire money: 3 x 62 500 + 22 500. Fittings: 5 x 200 000 + 2 x 180 000
    + 2 x 150 000. Minutes: 4 cuts x 50, 9 fittings x 100, 7 bench landings x 100, 2 aboard x 200.
    One hundredth of a minute costs 10 000 millionths.
    """
    return Totals(
        wire_dmm=4200, jumpers=4, fittings=9, stacked_lugs=2, tallest_stack=2, splices=0,
        wire_cost_micro=210_000, fitting_cost_micro=1_660_000, minutes_cmin=2200,
        labour_cost_micro=22_000_000, money_micro=23_870_000,
    )  # fmt: skip


def hand_plan() -> Plan:
    """The whole plan. Cost: 4200 + 2 lugs x 400 + 9 fittings x 250 = 7250."""
    colours = (("ignition", "purple"), ("ground", "black"), ("lamps", "dark blue"))
    plan = Plan(
        title="tiny", rule_set="plain", made_with="by hand", inputs={},
        panel=panel_of(Brief(hand_console(), hand_limits(), hand_stock())), hub="dial1",
        landings=tuple(
            Landing(circuit=name, post=f"dial1.{name}", pigtail=name)
            for name in ("ignition", "ground")
        ),
        circuit_wires=tuple(
            CircuitWire(circuit=name, colour=colour, colour_code="", wire_size="16 AWG")
            for name, colour in colours
        ),
        jumpers=_jumpers(), given=_given(), crimps=_crimps(), splices=(), stacks=_stacks(),
        caps=(
            Cap(pigtail="radio", colour="red", live=True, item=CAP),
            Cap(pigtail="tachometer", colour="gray", live=False, item=CAP),
        ),
        ties=(), steps=steps(), drops=_drops(), fuses=(), buy=_buy(), totals=_totals(),
        proof=Proof(objective="default", levels=("worth_dmm",), cost=(7250,), bound=(7250,),
                    proved=True, tie_rule="less money, then names"),
        limits=(), cautions=(),
    )  # fmt: skip
    return proved(plan)
