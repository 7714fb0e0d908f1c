"""Extensions, splices, tie points and leads: the hand plan with one of them worked in."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from support.consoles import given_wire
from support.plan_edits import edit, judge, rules, step_rows
from support.wired_by_hand import (
    AREA,
    BUTT,
    at,
    hand_console,
    hand_limits,
    hand_plan,
    hand_stock,
    proved,
    steps,
)

from lugwright.plans.schema import (
    BuyLine,
    Crimp,
    EndRef,
    Jumper,
    LoadDrop,
    Plan,
    Splice,
    Tie,
    Waypoint,
)
from lugwright.scenario.console import Console, KeepOut, Point, TiePoint

PLAN = hand_plan()


def butt_crimp(number: int, joint: str, one: EndRef, other: EndRef, current_ma: int) -> Crimp:
    """A butt with one 16 AWG wire in each half."""
    return Crimp(
        number=number, item=BUTT, kind="butt", colour="blue", die="blue", joint=joint,
        stage="bench", barrels=((one,), (other,)), folded=False, area_um2=(AREA, AREA),
        area_min_um2=(1_000_000,) * 2, area_max_um2=(2_700_000,) * 2, current_ma=current_ma,
    )  # fmt: skip


# ---- an extension: the ignition pigtail has a reach of 100 mm only


def short_console() -> Console:
    """The hand console with 100 mm of ignition pigtail.

    From (0, 0, 0) to (500, 550, 500): sqrt(500² + 550²) = 743.3 -> 744, and 500 up: 1244.
    """
    console = hand_console()
    circuits = []
    for circuit in console.circuits:
        pigtail = circuit.pigtail
        if circuit.name == "ignition" and pigtail is not None:
            circuit = replace(circuit, pigtail=replace(pigtail, reach_dmm=1000))
        circuits.append(circuit)
    return replace(console, circuits=tuple(circuits))


def extension() -> Jumper:
    """What is short is 244: 244 x 1.05 + 200 = 456.2 -> 500; 13172 x 50 mm = 658.6 -> 659 µΩ."""
    start = Waypoint(x_dmm=0, y_dmm=0, z_dmm=0)
    return PLAN.jumpers[0].model_copy(
        update={
            "label": "ignition 2", "number": 2, "role": "extension",
            "from_joint": "join pigtail ignition", "to_joint": "dial1.ignition",
            "path": (start, at(500, 550)), "path_dmm": 1244, "length_dmm": 500,
            "current_ma": 550, "resistance_uohm": 659,
        }
    )  # fmt: skip


def _extended_drops() -> tuple[LoadDrop, ...]:
    """Feed: run 13172, pigtail 100 mm 1318, its crimp 100, extension 659 + 200: 15449 x 550.

    8 496 950 nV in place of 21 788 800: 13 291 850 less on every feed side.
    """
    less = 13_291_850
    return tuple(
        row.model_copy(update={"feed_nv": row.feed_nv - less, "drop_nv": row.drop_nv - less})
        for row in PLAN.drops
    )


def extended_plan() -> Plan:
    """The hand plan with the extension: 50 mm of wire, one butt, a cut and a crimp more."""
    rows = step_rows()
    rows.insert(rows.index(("bench", "cut", "lamps 1", ())), ("bench", "cut", "ignition 2", ()))
    first = next(index for index, row in enumerate(rows) if row[1] == "crimp")
    rows[first] = ("bench", "crimp", "1", ("ignition 1-a", "ignition 2-b"))
    rows.insert(first, ("bench", "crimp", "10", ("pigtail ignition-a", "ignition 2-a")))
    join = butt_crimp(10, "join pigtail ignition", EndRef(wire="pigtail ignition", end="a"),
                      EndRef(wire="ignition 2", end="a"), 550)  # fmt: skip
    plan = edit(PLAN, "crimps", lambda row: row.number == 1, barrels=(
        (EndRef(wire="ignition 1", end="a"), EndRef(wire="ignition 2", end="b")),))  # fmt: skip
    plan = edit(plan, "landings", lambda row: row.circuit == "ignition", extension="ignition 2")
    plan = edit(plan, "given", lambda row: row.wire == "pigtail ignition",
                joint="join pigtail ignition")  # fmt: skip
    plan = edit(plan, "buy", lambda row: row.item == "wire purple", need=175)
    butts = BuyLine(item=BUTT, unit="piece", need=1, pack=25, packs=1, cost_micro=3_000_000)
    totals = plan.totals.model_copy(
        update={
            "wire_dmm": 4700, "jumpers": 5, "fittings": 10, "wire_cost_micro": 235_000,
            "fitting_cost_micro": 1_780_000, "minutes_cmin": 2350,
            "labour_cost_micro": 23_500_000, "money_micro": 25_515_000,
        }
    )  # fmt: skip
    extended = plan.model_copy(
        update={
            "jumpers": (*plan.jumpers, extension()), "crimps": (*plan.crimps, join),
            "drops": _extended_drops(), "steps": steps(rows), "buy": (*plan.buy, butts),
            "totals": totals,
            "proof": plan.proof.model_copy(update={"cost": (8000,), "bound": (8000,)}),
        }
    )  # fmt: skip
    return proved(extended)


def judged(plan: Plan, **limits: Any) -> set[str]:
    """Rules broken by a plan for the short pigtail, extensions allowed."""
    return rules(judge(plan, console=short_console(), limits=hand_limits(
        **({"extensions": True} | limits))))  # fmt: skip


def test_extension_passes() -> None:
    """The extended plan, worked out by hand, has no finding."""
    assert judged(extended_plan()) == set()


def test_extension_faults() -> None:
    """Not allowed, not needed, not reported, or one cut step off."""
    assert judged(extended_plan(), extensions=False) == {"reach"}
    assert {"reach", "cut length"} <= rules(
        judge(extended_plan(), limits=hand_limits(extensions=True))
    )
    unreported = edit(
        extended_plan(), "landings", lambda row: row.circuit == "ignition", extension=""
    )
    assert judged(unreported) == {"landing"}
    long = edit(extended_plan(), "jumpers", lambda row: row.number == 2 and row.role != "jumper",
                length_dmm=550)  # fmt: skip
    expected = {"cut length", "resistance", "drop", "totals", "cost", "buy list"}
    assert judged(long) == expected


def test_extension_joined_on_one_side_only() -> None:
    """A join has one wire in each half."""
    both = (EndRef(wire="pigtail ignition", end="a"), EndRef(wire="ignition 2", end="a"))
    plan = edit(extended_plan(), "crimps", lambda row: row.number == 10, barrels=(both, ()))
    assert "barrel" in judged(plan)


# ---- a splice for the lamps, hung on a tie point


TIE = TiePoint("north", Point(1100, 720, 300), ("south",))
SOUTH = TiePoint("south", Point(1100, 500, 300), ())


def splice_parts() -> tuple[tuple[Jumper, ...], Crimp, Splice]:
    """Three lamp wires meet at (1100, 720, 300).

    From dial1.ignition: sqrt(600² + 170²) = 623.6 -> 624, and 200 down: 824. To each lamp: 500 and
    200 up: 700.
    """
    here = Waypoint(x_dmm=1100, y_dmm=720, z_dmm=300, tie="north")
    label, base = "lamps splice 1", PLAN.jumpers[1]
    ways = (
        ("dial1.ignition", label, (at(500, 550), here), 824, 1100, 300),
        (label, "dial1.lamp", (here, at(600, 720)), 700, 950, 150),
        (label, "dial2.lamp", (here, at(1600, 720)), 700, 950, 150),
    )
    wires = tuple(
        base.model_copy(
            update={
                "label": f"lamps {number}", "number": number, "from_joint": a, "to_joint": b,
                "path": path, "path_dmm": path_dmm, "length_dmm": length, "current_ma": current,
            }
        )
        for number, (a, b, path, path_dmm, length, current) in enumerate(ways, 1)
    )  # fmt: skip
    crimp = butt_crimp(
        4, label, EndRef(wire="lamps 1", end="b"), EndRef(wire="lamps 2", end="a"), 300
    )
    crimp = crimp.model_copy(
        update={
            "barrels": (crimp.barrels[0], (*crimp.barrels[1], EndRef(wire="lamps 3", end="a"))),
            "area_um2": (AREA, 2 * AREA),
        }
    )
    return wires, crimp, Splice(label=label, circuit="lamps", at=here, crimp=4)


def spliced_plan() -> Plan:
    """The hand plan with the lamps spliced; sums and steps are not redone."""
    wires, crimp, splice = splice_parts()
    others = tuple(wire for wire in PLAN.jumpers if wire.circuit != "lamps")
    crimps = tuple(crimp if row.number == 4 else row for row in PLAN.crimps)
    ties = (Tie(where="north", count=1),)
    return PLAN.model_copy(
        update={"jumpers": (*others, *wires), "crimps": crimps, "splices": (splice,), "ties": ties}
    )


def loom_console() -> Console:
    """The hand console with two linked tie points."""
    return replace(hand_console(), tie_points=(TIE, SOUTH))


def spliced(plan: Plan, **limits: Any) -> set[str]:
    """Rules broken by a spliced plan, splices allowed."""
    free = {"splices": True, "splice_to_post_dmm": 700} | limits
    return rules(judge(plan, console=loom_console(), limits=hand_limits(**free)))


SPLICE_RULES = {"splice", "splice distance", "barrel area", "barrel count", "fitting kind",
                "cut length", "path length", "run", "missing post", "cycle"}  # fmt: skip


def test_splice_that_is_right() -> None:
    """Three ends, far enough from their posts, at the tie point's height: nothing to say."""
    assert not spliced(spliced_plan()) & SPLICE_RULES


def test_splice_faults() -> None:
    """Splices forbidden, too many ends, too near a post, a kind not allowed, an end too few."""
    plan = spliced_plan()
    assert spliced(plan, splices=False) & SPLICE_RULES == {"splice"}
    assert spliced(plan, wires_per_splice=2) & SPLICE_RULES == {"splice"}
    assert spliced(plan, splice_to_post_dmm=701) & SPLICE_RULES == {"splice distance"}
    assert spliced(plan, splice_kinds=("closed end",)) & SPLICE_RULES == {"fitting kind"}
    short = plan.model_copy(update={"jumpers": plan.jumpers[:-1]})
    assert {"splice", "missing post"} <= spliced(short)


def test_splice_at_another_height() -> None:
    """A splice hangs at its tie point's height, elsewhere at the dress height."""
    plan = spliced_plan()
    bare = edit(plan, "splices", lambda row: True, at=Waypoint(x_dmm=1100, y_dmm=700, z_dmm=300))
    assert "splice" in spliced(bare)
    assert "splice" not in spliced(bare, dress_height_dmm=300)


def loom_faults(plan: Plan, console: Console, words: str) -> list[str]:
    """The wires with a finding on the loom in which these words stand."""
    found = judge(plan, console=console, limits=hand_limits(splices=True)).findings
    return [one.place for one in found if one.rule == "loom" and words in one.message]


def test_wire_off_the_loom() -> None:
    """Where there are tie points every wire from dial to dial runs over one, along the links."""
    off = loom_faults(spliced_plan(), loom_console(), "over no tie point")
    assert off == ["ground 1", "ignition 1", "pigtail ground", "pigtail ignition"]
    apart = replace(loom_console(), tie_points=(replace(TIE, to=()), SOUTH))
    south = Waypoint(x_dmm=1100, y_dmm=500, z_dmm=300, tie="south")
    north = Waypoint(x_dmm=1100, y_dmm=720, z_dmm=300, tie="north")
    over = edit(PLAN, "jumpers", lambda row: row.label == "ground 1",
                path=(at(700, 550), south, north, at(1700, 550)))  # fmt: skip
    for console, expected in ((apart, ["ground 1"]), (loom_console(), [])):
        assert loom_faults(over, console, "does not lead on") == expected


def test_wire_joins_the_loom_at_the_nearest_tie_point() -> None:
    """From dial1.ignition south is nearer than north: 603 + 200 against 624 + 200.

    With something in the straight spur to south nothing can be said; a wall behind changes nothing.
    """
    plan, console = spliced_plan(), loom_console()
    assert loom_faults(plan, console, "joins the loom at north, but south is") == ["lamps 1"]
    for x, expected in ((700, []), (1300, ["lamps 1"])):
        wall = KeepOut("wall", x, 510, x + 50, 545, 900)
        walled = replace(console, keep_outs=(wall,))
        assert loom_faults(plan, walled, "is nearer") == expected


def test_wire_takes_the_shortest_way_along_the_loom() -> None:
    """From south to north by way of far west, though a link leads straight there."""
    south = Waypoint(x_dmm=1100, y_dmm=500, z_dmm=300, tie="south")
    west = Waypoint(x_dmm=100, y_dmm=600, z_dmm=300, tie="west")
    north = Waypoint(x_dmm=1100, y_dmm=720, z_dmm=300, tie="north")
    far = TiePoint("west", Point(100, 600, 300), ("north", "south"))
    console = replace(hand_console(), tie_points=(TIE, SOUTH, far))
    for middle, expected in (((), []), ((west,), ["ground 1"])):
        plan = edit(PLAN, "jumpers", lambda row: row.label == "ground 1",
                    path=(at(700, 550), south, *middle, north, at(1700, 550)))  # fmt: skip
        assert loom_faults(plan, console, "shortest way") == expected


def test_path_of_a_pigtail_is_judged_like_a_jumpers() -> None:
    """Missing, and not starting at the entry; then its reach is counted along what it states."""

    def faults(path: tuple[Waypoint, ...]) -> set[str]:
        plan = edit(PLAN, "given", lambda row: row.wire == "pigtail ground", path=path)
        return rules(judge(plan))

    entry = PLAN.given[0].path[0]
    assert faults(()) == {"run"}
    assert faults((at(10, 0), at(700, 550))) == {"run"}
    assert faults((entry, at(700, 19000), at(700, 550))) == {"reach", "ties"}


def test_bundle_on_the_loom() -> None:
    """Four wires on one loom leg carry less each: 16 AWG at 105 C, 25 A x 0.6 = 15 A.

    33 CFR 183.425 Table 5; ABYC E-11, 4 to 6 conductors. Alone off the loom 25 A are allowed.
    """
    south = Waypoint(x_dmm=1100, y_dmm=500, z_dmm=300, tie="south")
    north = Waypoint(x_dmm=1100, y_dmm=720, z_dmm=300, tie="north")
    console = loom_console()
    loads = tuple(
        replace(load, current_ma=15_000 - 150) if load.name == "dial2" else load
        for load in console.loads
    )
    plan = PLAN.model_copy(
        update={
            "jumpers": tuple(
                wire.model_copy(update={"path": (wire.path[0], south, north, wire.path[-1])})
                for wire in PLAN.jumpers
            )
        }
    )

    def too_hot(rule: str) -> list[str]:
        limits = hand_limits(bundle_rule=rule)
        found = judge(plan, console=replace(console, loads=loads), limits=limits).findings
        return [one.place for one in found if one.rule == "ampacity" and "between" in one.message]

    assert too_hot("none") == []
    # ground 1 carries 14.85 + 0.15 + 0.05 = 15.05 A, ignition 1 14.9 A
    assert too_hot("e11-dc") == ["ground 1"]


# ---- a lead in place of the second lamp's tab


def lead_console(**changes: Any) -> Console:
    """The hand console whose second lamp has a flying lead."""
    console = hand_console()
    lead = {"kind": "lead", "tab_size": "", "lead": given_wire("16 AWG", "dark blue")}
    posts = tuple(
        replace(post, **(lead | changes)) if post.id == "dial2.lamp" else post
        for post in console.posts
    )
    return replace(console, posts=posts)


def lead_plan() -> Plan:
    """The lamp wire and the lead in a butt; sums and steps are not redone.

    The lead's own crimp of 100 µΩ carries 150 mA: 15 000 nV more for that lamp.
    """
    crimp = butt_crimp(7, "dial2.lamp", EndRef(wire="lamps 2", end="b"),
                       EndRef(wire="lead dial2.lamp", end="a"), 150)  # fmt: skip
    crimps = tuple(crimp if row.number == 7 else row for row in PLAN.crimps)
    plan = PLAN.model_copy(update={"crimps": crimps})
    row = PLAN.drops[3]
    return edit(plan, "drops", lambda one: one.load == "dial2 lamp",
                feed_nv=row.feed_nv + 15_000, drop_nv=row.drop_nv + 15_000)  # fmt: skip


SUMS = {"totals", "buy list", "step order", "step end", "names", "cost"}


def test_lead_that_is_right() -> None:
    """A lead is joined by one butt; only sums and steps, which were not redone, differ."""
    assert rules(judge(lead_plan(), console=lead_console())) - SUMS == set()


def test_lead_faults() -> None:
    """Kinds at leads, its own limit, its own fuse, two joints at one lead, drop without crimp."""
    plan, console = lead_plan(), lead_console()
    kinds = rules(judge(plan, console=console, limits=hand_limits(lead_kinds=("closed end",))))
    assert kinds - SUMS == {"fitting kind"}
    weak = rules(judge(plan, console=lead_console(carries_ma=149)))
    assert weak - SUMS == {"current limit"}
    fused = rules(judge(plan, console=lead_console(lead_fuse_ma=60_000)))
    assert fused - SUMS == {"fuse"}
    again = plan.model_copy(
        update={"crimps": (*plan.crimps, plan.crimps[6].model_copy(update={"number": 10}))}
    )
    assert {"one push-on", "wire ends"} <= rules(judge(again, console=console))
    old = plan.model_copy(update={"drops": PLAN.drops})
    assert rules(judge(old, console=console)) - SUMS == {"drop"}


def test_thin_lead_in_a_joint() -> None:
    """Wires of unlike size in one barrel: 1.309 to 0.823 mm² is 1.59 to 1."""
    stock, plan = hand_stock(), lead_plan()
    closed = replace(stock.fittings[5], name="closed", kind="closed end",
                     barrels=stock.fittings[5].barrels[:1])  # fmt: skip
    ends = (EndRef(wire="lamps 2", end="b"), EndRef(wire="lead dial2.lamp", end="a"))
    plan = edit(plan, "crimps", lambda row: row.number == 7, item="closed", kind="closed end",
                barrels=(ends,), area_um2=(AREA + 823_000,), area_min_um2=(1_000_000,),
                area_max_um2=(2_700_000,))  # fmt: skip
    console = lead_console(lead=given_wire("18 AWG", "dark blue"))
    stock = replace(stock, fittings=(*stock.fittings, closed))
    for ratio, expected in ((1590, {"size ratio"}), (1591, set())):
        limits = hand_limits(size_ratio_permille=ratio)
        assert rules(judge(plan, console=console, stock=stock, limits=limits)) - SUMS == expected
