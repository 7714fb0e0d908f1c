"""Faults whose finding is worked out by hand: its place, its measure, its origin."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from support.plan_edits import crimp, edit, judge, of, rules, without
from support.wired_by_hand import AREA, SPADE, hand_console, hand_limits, hand_plan, hand_stock

from lugwright.base.origin import Origin
from lugwright.checker.rules import RULES
from lugwright.plans.schema import EndRef, Plan

PLAN = hand_plan()


def test_mirrored_panel() -> None:
    """A plan drawn from the front is caught: every wire misses its joints, lengths do not tell."""
    jumpers = tuple(
        jumper.model_copy(
            update={
                "path": tuple(
                    corner.model_copy(update={"x_dmm": 6000 - corner.x_dmm})
                    for corner in jumper.path
                )
            }
        )
        for jumper in PLAN.jumpers
    )
    report = judge(PLAN.model_copy(update={"jumpers": jumpers}))
    assert rules(report) == {"run"}
    assert len(report.findings) == 2 * len(jumpers)


def test_missing_jumper() -> None:
    """Without its jumper a ground post hangs on nothing, and all that was its wire's is missed."""
    report = judge(without(PLAN, "jumpers", of("ground 1")))
    missing = [finding.place for finding in report.findings if finding.rule == "missing post"]
    assert missing == ["dial2.ground"]


def test_ring_of_wires() -> None:
    """One more wire between two lamp tabs closes a ring; the wire is named."""
    more = PLAN.jumpers[2].model_copy(update={"label": "lamps 3", "number": 3})
    report = judge(PLAN.model_copy(update={"jumpers": (*PLAN.jumpers, more)}))
    ring = [finding.place for finding in report.findings if finding.rule == "cycle"]
    assert ring == ["lamps 3"]
    assert "missing post" not in rules(report)


def test_lamps_taken_off_twice_or_elsewhere() -> None:
    """Lamp jumpers leave ignition once, at the landing, unless the limit lets any stud do."""
    elsewhere = edit(PLAN, "jumpers", of("lamps 1"), from_joint="dial2.ignition")
    assert "take-off" in rules(judge(elsewhere))
    free = rules(judge(elsewhere, limits=hand_limits(lamp_take_off="any")))
    assert "take-off" not in free
    from_tab = edit(PLAN, "jumpers", of("lamps 2"), from_joint="dial1.ignition")
    assert "take-off" in rules(judge(from_tab))
    assert "take-off" not in rules(judge(from_tab, limits=hand_limits(lamp_take_off="any")))


def test_two_hubs_where_one_is_asked() -> None:
    """Supplies on two instruments are two hubs; one a circuit may be allowed."""
    plan = edit(PLAN, "landings", of("ground"), post="dial2.ground")
    assert "hub" in rules(judge(plan))
    assert "hub" not in rules(judge(plan, limits=hand_limits(one_hub=False)))


def test_captive_spade_is_another_fitting() -> None:
    """A spade in place of a ring changes money and buy list, not whether it fits."""
    plan = edit(PLAN, "crimps", crimp(6), item=SPADE, kind="captive spade")
    assert rules(judge(plan)) == {"totals", "buy list"}


def test_barrel_overfilled_and_underfilled() -> None:
    """The stock row decides on the summed area, to the square micrometre."""
    stock = hand_stock()
    for low, high, expected in (
        (AREA, 2 * AREA, set()),
        (AREA, 2 * AREA - 1, {"barrel area"}),
        (AREA + 1, 2 * AREA, {"barrel area"}),
    ):
        fittings = tuple(
            replace(row, barrels=(replace(row.barrels[0], area_min_um2=low, area_max_um2=high),))
            if row.name == "push-on 16-14"
            else row
            for row in stock.fittings
        )
        plan = edit(
            PLAN, "crimps", lambda row: row.kind == "push-on",
            area_min_um2=(low,), area_max_um2=(high,),
        )  # fmt: skip
        assert rules(judge(plan, stock=replace(stock, fittings=fittings))) == expected


def test_other_facts_of_a_fitting() -> None:
    """Sleeve, lining, current limit and size ratio are judged per barrel or fitting."""
    stock = hand_stock()

    def with_ring(plan: Plan = PLAN, **changes: Any) -> set[str]:
        rows = (replace(row, **changes) if row.name == "ring 16-14" else row
                for row in stock.fittings)  # fmt: skip
        return rules(judge(plan, stock=replace(stock, fittings=tuple(rows))))

    barrel = stock.fittings[0].barrels[0]
    # two wires of 2.5 mm: sqrt(2) x 2.5 = 3.536 mm
    assert with_ring(barrels=(replace(barrel, sleeve_um=3_536),)) == set()
    assert with_ring(barrels=(replace(barrel, sleeve_um=3_535),)) == {"barrel sleeve"}
    told = edit(PLAN, "crimps", lambda row: row.item == "ring 16-14", lined=True)
    assert with_ring(told, lined=True) == set()
    assert with_ring(lined=True) == {"fitting kind"}
    assert with_ring(carries_ma=550) == set()
    assert with_ring(carries_ma=549) == {"current limit"}


def test_wires_of_two_circuits_in_one_barrel() -> None:
    """The lamp wire may share the stud with ignition, never the barrel."""
    ends = tuple(EndRef(wire=wire, end="a") for wire in ("pigtail ignition", "lamps 1"))
    plan = edit(PLAN, "crimps", crimp(1), barrels=(ends,), current_ma=850)
    plan = edit(
        plan, "crimps", crimp(2), barrels=((EndRef(wire="ignition 1", end="a"),),), current_ma=150
    )
    assert "barrel mix" in rules(judge(plan))


def test_aboard_wire_in_a_bench_barrel() -> None:
    """What comes aboard never shares a barrel with bench wires."""
    ends = (EndRef(wire="ground 1", end="b"), EndRef(wire="sender2: black", end="a"))
    plan = edit(PLAN, "crimps", crimp(6), barrels=(ends,))
    mixed = [finding.place for finding in judge(plan).findings if finding.rule == "barrel mix"]
    assert mixed == ["crimp 6 at dial2.ground"] * len(mixed)
    assert mixed


def test_ground_shift_by_hand() -> None:
    """A sender that returns elsewhere sees dial 2's whole ground drop: 22.3429 mV."""
    console = hand_console()
    sender = replace(console.boat_blocks[0], returns_to="")
    console = replace(console, boat_blocks=(sender,))
    # 50 mA less from dial 2 to the source: 39616 x 500 + 1847 x 250 = 20 269 750 nV
    tight = judge(console=console, limits=hand_limits(ground_shift_mv=20)).findings
    shift = [finding.measured for finding in tight if finding.rule == "ground shift"]
    assert shift == ["20.3 mV at 0.05 A"]
    wide = rules(judge(console=console, limits=hand_limits(ground_shift_mv=21)))
    assert "ground shift" not in wide


def test_other_inputs() -> None:
    """A plan that names the digest of another file is told so."""
    plan = PLAN.model_copy(update={"inputs": {"scenario": "a" * 64, "stock": "b" * 64}})
    console = replace(hand_console(), digest="a" * 64)
    stock = replace(hand_stock(), digest="c" * 64)
    report = judge(plan, console=console, stock=stock)
    assert [(finding.rule, finding.place) for finding in report.findings] == [("inputs", "stock")]


def test_finding_names_rule_place_measure_limit_and_origin() -> None:
    """A finding reads in the trade's words, with the limit's own origin."""
    limits = replace(
        hand_limits(lugs_per_stud=1),
        origins={"lugs_per_stud": Origin("limits file", "shop.toml", 12)},
    )
    first = judge(limits=limits).findings[0]
    assert str(first) == (
        "lug count: dial1.ignition: too many lugs on the stud "
        "(measured 2 lugs, limit 1 lugs, from limits file, shop.toml:12)"
    )


def test_every_rule_name_is_explained() -> None:
    """Findings name rules of the closed list only, and each rule has its line."""
    assert all(meaning and not meaning.endswith(".") for meaning in RULES.values())
