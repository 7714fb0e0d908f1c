"""Leads, splices, folds and unlike butts: fittings that hang in mid-air."""

from __future__ import annotations

from dataclasses import replace

from support.bench import (
    GROUND,
    GROUND_PIGTAIL,
    ONE,
    TWO,
    bench_choice,
    bench_console,
    bench_limits,
    bench_stock,
    fitting,
    lead_console,
    lug,
    straight_routes,
)

from lugwright.assemble.barrels import fits
from lugwright.assemble.build import assemble_plan
from lugwright.assemble.currents import flow
from lugwright.assemble.ends import BarrelWire, given
from lugwright.plans.choice import ChosenFitting, ChosenJumper
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import Plan
from lugwright.routes.schema import Corner, Path, Routes, SplicePoint
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Point

SPLICE = SplicePoint("splice-point ground 1", "ground", Point(1700, 300, 0))


def end(area_um2: int, insulation_um: int = 2_000, name: str = "w") -> BarrelWire:
    """A wire end of an area."""
    return BarrelWire(given(name), area_um2, insulation_um, 100, "bench", "ground", ())


def test_area_and_sleeve_limits_are_inclusive() -> None:
    """A barrel takes its least and its most area, and jackets that just fill its sleeve."""
    ring, limits = fitting("red ring", "ring", (ONE,)), bench_limits()
    for area, fit in ((799_999, False), (800_000, True), (1_700_000, True), (1_700_001, False)):
        assert fits(ring, [[end(area)]], False, limits, "post") is fit
    assert fits(ring, [[end(900_000, 4_000)]], False, limits, "post")
    assert not fits(ring, [[end(900_000, 4_001)]], False, limits, "post")


def test_a_fold_counts_twice_in_area_and_number() -> None:
    """450000 folded is 900000; it counts as two wires, its insulation once."""
    ring = fitting("red ring", "ring", (ONE,))
    thin = [[end(450_000, 4_000)]]
    assert fits(ring, thin, True, bench_limits(), "post")
    assert not fits(ring, thin, True, bench_limits(wires_per_barrel=1), "post")
    assert not fits(ring, thin, True, bench_limits(fold_back=False), "post")
    assert not fits(ring, [[end(450_000), end(450_000)]], True, bench_limits(), "post")


def test_number_ratio_and_lining() -> None:
    """Two to a barrel, three in mid-air by another limit, lined ones two, sizes near enough."""
    wide = fitting("wide ring", "ring", (replace(TWO, area_min_um2=1, sleeve_um=9_000),))
    three = [[end(800_000, name=str(n)) for n in range(3)]]
    assert not fits(wide, three, False, bench_limits(), "post")
    assert fits(wide, three, False, bench_limits(wires_per_splice=3), "mid-air")
    assert not fits(wide, three, False, bench_limits(wires_per_splice=2), "mid-air")
    lined = replace(wide, lined=True)
    assert not fits(lined, three, False, bench_limits(wires_per_splice=3), "mid-air")
    unlike = [[end(500_000), end(1_600_000)]]
    assert not fits(wide, unlike, False, bench_limits(size_ratio_permille=3_199), "post")
    assert fits(wide, unlike, False, bench_limits(size_ratio_permille=3_200), "post")


def test_a_join_asks_only_for_a_folds_number() -> None:
    """An extension's butt obeys no count, but a fold counts two wires per barrel."""
    butt = fitting("red butt", "butt", (ONE, ONE))
    halves = [[end(900_000)], [end(900_000)]]
    assert fits(butt, halves, False, bench_limits(wires_per_barrel=1), "join")
    thin = [[end(450_000)], [end(450_000)]]
    assert fits(butt, thin, True, bench_limits(), "join")
    assert not fits(butt, thin, True, bench_limits(wires_per_barrel=1), "join")


def spliced() -> Plan:
    """The ground circuit over a splice: landing to splice, splice to dials 1 and 3."""
    console = bench_console()
    straight = straight_routes(console)
    at = {post.id: post.at for post in console.posts} | {SPLICE.id: SPLICE.at}

    def line(a: str, b: str) -> Path:
        if SPLICE.id not in (a, b):
            return straight.between(a, b)
        return Path((Corner(at[a]), Corner(at[b])), 800)

    routes = Routes({"ground": (SPLICE,)}, line, straight.find_entry)
    jumpers = (
        ChosenJumper("ground", "dial2.ground", SPLICE.id, "16 AWG"),
        ChosenJumper("ground", SPLICE.id, "dial1.ground", "16 AWG"),
        ChosenJumper("ground", SPLICE.id, "dial3.ground", "16 AWG"),
    )
    plain = bench_choice()
    ground = {item.key for item in GROUND} | {GROUND_PIGTAIL}
    kept = tuple(item for item in plain.fittings if not ground & set(item.barrels[0]))
    own = (
        lug("2.ground", "blue ring", GROUND_PIGTAIL, jumpers[0]),
        lug("1.ground", "red ring", jumpers[1]),
        lug("3.ground", "red ring", jumpers[2]),
        # Told the wrong way round: two wires where the row has its half for one.
        ChosenFitting(
            SPLICE.id, "step butt", ((jumpers[1].key, jumpers[2].key), (jumpers[0].key,))
        ),
    )
    other = tuple(item for item in plain.jumpers if item.circuit != "ground")
    choice = replace(plain, jumpers=(*other, *jumpers), fittings=(*kept, *own))
    stock = bench_stock(fitting("step butt", "butt", (ONE, TWO)))
    outcome = Outcome(Ending.NO_ANSWER, (), choice)
    return assemble_plan(Brief(console, bench_limits(), stock), routes, outcome, "test")


def test_splice() -> None:
    """The splice carries 250 + 300 in; its butt is turned so that each half fits."""
    plan = spliced()
    splice = plan.splices[0]
    assert (splice.label, splice.circuit, splice.crimp) == ("splice ground 1", "ground", 1)
    crimp = plan.crimps[0]
    assert crimp.current_ma == 550
    assert [[f"{e.wire}-{e.end}" for e in half] for half in crimp.barrels] == [
        ["ground 1-b"],
        ["ground 2-a", "ground 3-a"],
    ]
    assert crimp.area_um2 == (1_309_000, 2_618_000)
    # Strips follow the half each wire lies in: 60 + 10 and 70 + 10.
    strips = {item.label: (item.strip_a_dmm, item.strip_b_dmm) for item in plan.jumpers}
    assert strips["ground 1"] == (80, 70)
    assert strips["ground 2"] == (80, 70)
    assert plan.totals.splices == 1
    text = next(step.text for step in plan.steps if step.verb == "crimp")
    assert text == (
        "Crimp 1, splice ground 1: step butt on ground 1-b / 2-a + 3-a; tug. "
        "Tag it, hang it 170 mm from left, 30 mm up (seen from the back)."
    )
    first = next(item for item in plan.jumpers if item.label == "ground 1")
    assert (first.from_joint, first.to_joint) == ("dial2.ground", "splice ground 1")


def test_lead_joint() -> None:
    """The lead's butt carries what flows in, and its own crimp is in its load's drop.

    Dial 3 with a crimp of 100 micro-ohm at its lead: 100 x 150 mA more than on a stud.
    """
    console = lead_console()
    plain = bench_choice()
    kept = [item for item in plain.fittings if item.joint != "dial3.ignition"]
    jumper = next(j for j in plain.jumpers if j.b == "dial3.ignition")
    kept.append(
        ChosenFitting(
            "dial3.ignition", "red butt", ((given("lead dial3.ignition"),), (jumper.key,))
        )
    )
    outcome = Outcome(Ending.NO_ANSWER, (), replace(plain, fittings=tuple(kept)))
    brief = Brief(console, bench_limits(), bench_stock())
    plan = assemble_plan(brief, straight_routes(console), outcome, "test")
    crimp = plan.crimps[0]
    assert (crimp.joint, crimp.kind, crimp.current_ma) == ("dial3.ignition", "butt", 150)
    assert [half[0].wire for half in crimp.barrels] == ["lead dial3.ignition", "ignition 2"]
    drop = next(item for item in plan.drops if item.load == "dial3")
    assert drop.feed_nv == 21_432_250 + 100 * 150
    assert all(item.wire != "lead dial3.ignition" for item in plan.given)


def test_linked_posts_are_one_node() -> None:
    """A tree that enters a bus bar at one post and leaves it at another has no gap."""
    console = bench_console()
    posts = tuple(
        replace(p, link="bar", instrument="dial2")
        if p.id in ("dial1.ground", "dial2.ground")
        else p
        for p in console.posts
    )
    jumpers = [ChosenJumper("ground", "dial1.ground", "dial3.ground", "16 AWG")]
    runs = flow(replace(console, posts=posts), {"ground": "dial2.ground"}, jumpers)
    assert runs.runs[jumpers[0].key].current_ma == 300
    assert runs.totals_ma["ground"] == 800


def test_a_ring_of_jumpers_is_told_not_hidden() -> None:
    """A jumper between two posts that are wired already is marked, and carries nothing here."""
    ring = ChosenJumper("ground", "dial1.ground", "dial3.ground", "16 AWG")
    runs = flow(bench_console(), {"ground": "dial2.ground"}, (*GROUND, ring)).runs
    assert (runs[ring.key].closes_ring, runs[ring.key].current_ma) == (True, 0)
    assert runs[GROUND[0].key].current_ma == 250


def test_jumpers_are_walked_from_the_supply() -> None:
    """A jumper told the wrong way round has its end a on the supply side all the same."""
    turned = ChosenJumper("ground", "dial1.ground", "dial2.ground", "16 AWG")
    run = flow(bench_console(), {"ground": "dial2.ground"}, [turned]).runs[turned.key]
    assert (run.a, run.b, run.current_ma) == ("dial2.ground", "dial1.ground", 250)
