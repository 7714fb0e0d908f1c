"""The three dials worked out on paper, number by number."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from support.bench import (
    assembled,
    bench_choice,
    bench_console,
    bench_limits,
    bench_stock,
    straight_routes,
)
from support.consoles import THREAD, given_wire

from lugwright.assemble.build import assemble_plan
from lugwright.plans.choice import Choice, ChosenExtension, ChosenFitting, WireKey
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import EndRef, Plan
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import ReadyRing, SupplyRun


def by_label(plan: Plan) -> dict[str, tuple[str, str, int, int]]:
    """Ends, length and current of every cut wire."""
    return {
        item.label: (item.from_joint, item.to_joint, item.length_dmm, item.current_ma)
        for item in plan.jumpers
    }


def test_cut_list() -> None:
    """Labels run from the landing outwards; lengths and currents as on paper.

    100.0 mm: 1000 x 1.05 + 2 x 100 = 1250, on the cut step. Take-off: dx 900, dy 170, path
    ceil(sqrt(838900)) = 916, 916 x 1.05 + 200 = 1161.8, up to 1200. Dial 3 takes 100 + 50 for
    its sender; ground returns dial + lamp (+ sender); lamps 3 x 150.
    """
    assert by_label(assembled()) == {
        "ignition 1": ("dial2.ignition", "dial1.ignition", 1250, 100),
        "ignition 2": ("dial2.ignition", "dial3.ignition", 1250, 150),
        "lamps 1": ("dial2.ignition", "dial1.lamp", 1200, 450),
        "lamps 2": ("dial1.lamp", "dial2.lamp", 1250, 300),
        "lamps 3": ("dial2.lamp", "dial3.lamp", 1250, 150),
        "ground 1": ("dial2.ground", "dial1.ground", 1250, 250),
        "ground 2": ("dial2.ground", "dial3.ground", 1250, 300),
    }


def test_resistance_and_strip() -> None:
    """16 AWG: ceil(17241e6 / 1309000) = 13172 nano-ohm per mm, x 125 mm = 1646.5, up to 1647.

    Strip is barrel + 1 mm: 60 + 10 in the ring for one wire, 70 + 10 in the ring for two.
    """
    first = next(item for item in assembled().jumpers if item.label == "ground 1")
    assert first.resistance_uohm == 1647
    assert (first.strip_a_dmm, first.strip_b_dmm) == (80, 70)


def test_given_wires_carry_their_circuit_or_boat_block() -> None:
    """Pigtails: 3 x 100 + 50 + 450 = 800 mA both ways; the sender's wires 50 mA each."""
    given = {item.wire: (item.joint, item.current_ma, item.stage) for item in assembled().given}
    assert given == {
        "pigtail ground": ("dial2.ground", 800, "bench"),
        "pigtail ignition": ("dial2.ignition", 800, "bench"),
        "sender3: black": ("dial3.ground", 50, "aboard"),
        "sender3: pink": ("dial3.signal", 50, "aboard"),
    }


def test_drops() -> None:
    """Drop to dial 3 and its lamp, conductor by conductor.

    Pigtail 2 m: 13172 x 2000 / 1000 = 26344, + 100 for its crimp, x 800 mA = 21155200 nV.
    ignition 2: (1647 + 200) x 150 = 277050. ground 2: 1847 x 300 = 554100.
    lamps 1: (ceil(13172 x 120 / 1000) + 200) x 450 = 1781 x 450 = 801450; lamps 2: 554100;
    lamps 3: 277050. Limits: 12000 mV x 30 and 100 permille.
    """
    drops = {item.load: item for item in assembled().drops}
    assert (drops["dial3"].feed_nv, drops["dial3"].ground_nv) == (21_432_250, 21_709_300)
    assert drops["dial3"].drop_nv == 43_141_550
    assert drops["dial3"].limit_nv == 360_000_000
    lamp = drops["dial3 lamp"]
    assert (
        lamp.feed_nv,
        lamp.ground_nv,
        lamp.limit_nv,
    ) == (22_787_800, 21_709_300, 1_200_000_000)
    assert "sender3" not in drops


def test_supply_run_is_in_the_drop_both_ways() -> None:
    """One way 1 m of 16 AWG: 13172 x 800 mA = 10537600 nV on each side of every load."""
    console = bench_console()
    run = SupplyRun(10_000, given_wire("16 AWG", "red"), 2)
    circuits = tuple(
        replace(item, pigtail=replace(item.pigtail, to_source=run)) if item.pigtail else item
        for item in console.circuits
    )
    drops = {item.load: item for item in assembled(replace(console, circuits=circuits)).drops}
    assert drops["dial3"].feed_nv == 21_432_250 + 10_537_600
    assert drops["dial3"].ground_nv == 21_709_300 + 10_537_600


def test_drawing_boat_block_has_its_own_wires_in_its_drop() -> None:
    """A load with 0.5 m of 18 AWG each way: ceil(17241e6 / 823000) = 20949 nano-ohm per mm.

    20949 x 500 / 1000 = 10474.5, up to 10475; x 50 mA = 523750 nV on each side. Without wires
    of its own it has the drop of dial 3's posts.
    """
    console = bench_console()
    one = console.boat_blocks[0]
    wires = tuple(replace(wire, one_way_dmm=5000) for wire in one.wires)
    pump = replace(one, is_sender=False, wires=wires)
    drops = {item.load: item for item in assembled(replace(console, boat_blocks=(pump,))).drops}
    assert drops["sender3"].feed_nv == 21_432_250 + 523_750
    assert drops["sender3"].ground_nv == 21_709_300 + 523_750


def test_stack_order_thread_and_nut() -> None:
    """Hub feed stud: pigtail 800, lamps 450, two jumpers 250.

    Thread: 3 x 8 tongues + 10 washer + 32 nut + ceil(1.5 x 794 um) = 12, 78 of 90.
    """
    plan = assembled()
    stacks = {item.post: item for item in plan.stacks}
    hub = stacks["dial2.ignition"]
    assert [item.current_ma for item in hub.lugs] == [800, 450, 250]
    assert (hub.used_dmm, hub.free_dmm, hub.bench_lugs, hub.nut_at_bench) == (78, 90, 3, "snug")
    assert [item.conductors for item in hub.lugs] == [1, 1, 2]
    waiting = stacks["dial3.ground"]
    assert [(i.stage, i.current_ma) for i in waiting.lugs] == [("bench", 300), ("aboard", 50)]
    assert (waiting.bench_lugs, waiting.nut_at_bench) == (1, "loose")
    only_aboard = stacks["dial3.signal"]
    assert (only_aboard.bench_lugs, only_aboard.nut_at_bench) == (0, "loose")


def test_crimps_are_numbered_in_working_order() -> None:
    """Hub first, lugs of a stud as they are stacked, bench before aboard."""
    plan = assembled()
    assert list(range(1, 15)) == [item.number for item in plan.crimps]
    assert [
        ("dial2.ground", (EndRef(wire="pigtail ground", end="a"),)),
        ("dial2.ground", (EndRef(wire="ground 1", end="a"), EndRef(wire="ground 2", end="a"))),
        ("dial2.ignition", (EndRef(wire="pigtail ignition", end="a"),)),
        ("dial2.ignition", (EndRef(wire="lamps 1", end="a"),)),
    ] == [(item.joint, item.barrels[0]) for item in plan.crimps[:4]]
    assert [item.joint for item in plan.crimps if item.stage == "aboard"] == [
        "dial3.ground",
        "dial3.signal",
    ]
    assert plan.crimps[1].area_um2 == (2_618_000,)
    assert plan.crimps[1].current_ma == 550


def test_totals() -> None:
    """Wire, lugs, minutes and money added up by hand.

    Wire: 6 x 1250 + 1200. Stacked: 2 + 1 + 1. Minutes: 7 cuts x 50 + 14 fittings x 100 + 12
    landings x 100 + 2 aboard x 200 = 3350. Wire money: 6 x 50000 + 48000; fittings 14 x 200000;
    labour 33.50 minutes at 60 an hour = 33.5.
    """
    totals = assembled().totals
    assert (
        totals.wire_dmm,
        totals.jumpers,
        totals.fittings,
        totals.stacked_lugs,
        totals.tallest_stack,
        totals.splices,
    ) == (8700, 7, 14, 4, 3, 0)
    assert (totals.wire_cost_micro, totals.fitting_cost_micro) == (348_000, 2_800_000)
    assert (totals.minutes_cmin, totals.labour_cost_micro) == (3350, 33_500_000)
    assert totals.money_micro == 36_648_000


def test_money_rounds_labour_item_by_item() -> None:
    """At a rate of 1 per hour and millionth, 33 items of up to 2 minutes each round up to 1.

    Items: 7 cuts + 14 fittings + 14 landings = 35; the whole, 3350 / 6000, rounds to 1.
    """
    totals = assembled(limits=bench_limits(rate_micro_per_hour=1)).totals
    assert totals.labour_cost_micro == 1
    assert totals.money_micro == 348_000 + 2_800_000 + 35


@pytest.mark.parametrize(
    ("objective", "cost"),
    [
        ("default", (8700 + 4 * 400 + 14 * 250,)),
        ("shortest", (8700, 4, 14)),
        ("lowest-stacks", (4, 3, 8700, 14)),
        ("cheapest", (36_648_000,)),
        ("weights", (8700 + 4 * 400 + 14 * 250,)),
    ],
)
def test_cost_without_a_search(objective: str, cost: tuple[int, ...]) -> None:
    """A choice nobody searched for gets its cost by the objective, and no bound."""
    proof = assembled(limits=bench_limits(objective=objective)).proof
    assert cost == proof.cost
    assert len(proof.levels) == len(cost)
    assert proof.bound == ()
    assert not proof.proved


def test_buy_list() -> None:
    """Whole spools and packs.

    Purple 250 mm, black 250 mm, dark blue 370 mm of 30 m spools at 0.40 a metre = 12 each. Rings
    for one 9, for two 2; push-ons 1 and 2; 7 studs; one 10 A fuse in a pack of 5 at 0.30.
    """
    lines = {item.item: (item.need, item.packs, item.cost_micro) for item in assembled().buy}
    assert lines == {
        "16 AWG black": (250, 1, 12_000_000),
        "16 AWG dark blue": (370, 1, 12_000_000),
        "16 AWG purple": (250, 1, 12_000_000),
        "blue push-on": (2, 1, 2_000_000),
        "blue ring": (2, 1, 2_000_000),
        "red push-on": (1, 1, 2_000_000),
        "red ring": (9, 1, 2_000_000),
        f"nut with lock washer {THREAD}": (7, 1, 500_000),
        "fuse 10 A": (1, 1, 1_500_000),
    }


def test_order_of_the_choice_does_not_matter() -> None:
    """The same choice told in another order gives the same bytes."""
    expected = assembled().model_dump_json()
    plain = bench_choice()
    for seed in range(5):
        shuffle = Random(seed)

        def mixed(parts: tuple, shuffle: Random = shuffle) -> tuple:
            return tuple(shuffle.sample(parts, len(parts)))

        fittings = tuple(
            replace(item, barrels=tuple(mixed(keys) for keys in item.barrels))
            for item in mixed(plain.fittings)
        )
        choice = Choice(mixed(plain.landings), mixed(plain.jumpers), (), fittings)
        assert expected == assembled(choice=choice).model_dump_json()


def test_order_of_the_console_does_not_matter() -> None:
    """Instruments, posts and circuits in another order give the same plan."""
    console = bench_console()
    turned = replace(
        console,
        instruments=console.instruments[::-1],
        posts=console.posts[::-1],
        circuits=console.circuits[::-1],
        loads=console.loads[::-1],
    )
    assert assembled(console) == assembled(turned)


def test_plan_head() -> None:
    """Hub, landings, wire sizes and the fuse in words."""
    plan = assembled()
    assert plan.hub == "dial2"
    assert [
        (item.circuit, item.post, item.pigtail, item.extension) for item in plan.landings[:1]
    ] == [("ground", "dial2.ground", "pigtail ground", "")]
    assert [(item.circuit, item.wire_size) for item in plan.circuit_wires] == [
        ("ignition", "16 AWG"),
        ("lamps", "16 AWG"),
        ("ground", "16 AWG"),
    ]
    assert plan.fuses == ("pigtail ignition: 10 A",)
    assert plan.cautions[-1] == "Planned under the rule set: plain."


def test_extension_is_cut_joined_and_counted() -> None:
    """A ground pigtail of 1 m reach that comes with a ring, 2.0 m away from the hub's stud.

    Straight from (0, 0, 0) to (170, 55, 50) mm: ceil(sqrt(1700^2 + 550^2)) = 1787 + 500 = 2287;
    reach 2000, short by 287; 287 x 1.05 + 200 = 501.35, up to 550. It is ``ground 3``, carries
    the circuit's 800 mA and is joined by a butt; the ring is cut off and lands nowhere.
    """
    console = bench_console(reach_mm=200.0)
    ring = ReadyRing(THREAD, 10, 60)
    circuits = tuple(
        replace(
            item,
            pigtail=replace(
                item.pigtail,
                ring=ring if item.name == "ground" else None,
                reach_dmm=2_000 if item.name == "ground" else 20_000,
            ),
        )
        if item.pigtail
        else item
        for item in console.circuits
    )
    extension = ChosenExtension("pigtail ground", "16 AWG", "black")
    pigtail = WireKey("given", "pigtail ground")
    plain = bench_choice()
    fittings = [item for item in plain.fittings if item.barrels != ((pigtail,),)]
    fittings.append(ChosenFitting("dial2.ground", "red ring", ((extension.key,),)))
    fittings.append(
        ChosenFitting("join pigtail ground", "red butt", ((extension.key,), (pigtail,)))
    )
    choice = replace(plain, extensions=(extension,), fittings=tuple(fittings))
    plan = assembled(
        replace(console, circuits=circuits), bench_limits(extensions=True), choice=choice
    )
    cut = next(item for item in plan.jumpers if item.role == "extension")
    assert (cut.label, cut.length_dmm, cut.current_ma) == ("ground 3", 550, 800)
    assert (cut.from_joint, cut.to_joint) == ("join pigtail ground", "dial2.ground")
    assert next(i.extension for i in plan.landings if i.circuit == "ground") == "ground 3"
    assert plan.totals.fittings == 15
    join = plan.crimps[0]
    assert (join.joint, join.current_ma) == ("join pigtail ground", 800)
    assert sorted((end.wire, end.end) for half in join.barrels for end in half) == [
        ("ground 3", "a"),
        ("pigtail ground", "a"),
    ]
    assert not any(item.ready_ring for item in plan.given)
    text = next(step.text for step in plan.steps if step.verb == "crimp")
    assert text == (
        "Crimp 1, to lengthen pigtail ground (black 16 AWG): cut off its ready-made ring; "
        "red butt: pigtail (bare 7 mm) / ground 3-a. Die red; tug each wire."
    )
    # Pigtail 0.2 m: ceil(13172 x 0.2 m) = 2635 + 100; extension 55 mm: 725 + 200; x 800 mA.
    dial2 = next(item for item in plan.drops if item.load == "dial2")
    assert dial2.ground_nv == (2635 + 100 + 725 + 200) * 800


def test_ready_ring_is_a_lug_of_its_own() -> None:
    """A pigtail with its ring lands without a crimp: one fitting less, its own tongue counts."""
    console = bench_console()
    ring = ReadyRing(THREAD, 12, 60)
    circuits = tuple(
        replace(item, pigtail=replace(item.pigtail, ring=ring)) if item.pigtail else item
        for item in console.circuits
    )
    plain = bench_choice()
    kept = tuple(item for item in plain.fittings if "pigtail" not in item.barrels[0][0].name)
    plan = assembled(replace(console, circuits=circuits), choice=replace(plain, fittings=kept))
    base = next(item for item in plan.stacks if item.post == "dial2.ground").lugs[0]
    assert (
        base.crimp,
        base.ready,
        base.current_ma,
        base.tongue_dmm,
    ) == (0, "pigtail ground", 800, 12)
    assert (plan.totals.fittings, plan.totals.stacked_lugs) == (12, 4)
    # 7 x 50 + 12 x 100 + 12 bench landings x 100 + 2 aboard x 200.
    assert plan.totals.minutes_cmin == 3150


def test_an_outcome_without_a_choice_is_refused() -> None:
    """Nothing can be assembled from an outcome that holds no choice."""
    console = bench_console()
    outcome = Outcome(Ending.IMPOSSIBLE, ())
    with pytest.raises(ValueError, match="holds no choice"):
        assemble_plan(
            Brief(console, bench_limits(), bench_stock()), straight_routes(console), outcome, "t"
        )


def test_a_search_keeps_its_own_cost_and_bound() -> None:
    """Levels, cost and bound of a search stand in the plan as they came."""
    console = bench_console()
    outcome = Outcome(Ending.PROVED, ("wire",), bench_choice(), (8700,), (8700,), note="done")
    brief = Brief(console, bench_limits(), bench_stock())
    plan = assemble_plan(brief, straight_routes(console), outcome, "t")
    assert (
        plan.proof.levels,
        plan.proof.cost,
        plan.proof.bound,
        plan.proof.proved,
    ) == (("wire",), (8700,), (8700,), True)
