"""One fault planted in a correct plan: exactly the rules that are broken are named."""

from __future__ import annotations

from typing import Any

import pytest
from support.plan_edits import crimp, edit, judge, of, rules, without
from support.wired_by_hand import AREA, BUTT, at, hand_plan

from lugwright.plans.schema import EndRef, Plan

PLAN = hand_plan()


def test_the_hand_plan_passes() -> None:
    """The plan worked out by hand has no finding, and many checks were made."""
    report = judge()
    assert [str(finding) for finding in report.findings] == []
    assert report.passed
    assert report.checks > 500


def totals(**changes: Any) -> Plan:
    """The hand plan with other totals."""
    return PLAN.model_copy(update={"totals": PLAN.totals.model_copy(update=changes)})


def proof(**changes: Any) -> Plan:
    """The hand plan with another proof."""
    return PLAN.model_copy(update={"proof": PLAN.proof.model_copy(update=changes)})


def swapped_stack(post: str) -> Plan:
    """The lugs of one stud turned over."""
    lugs = next(stack for stack in PLAN.stacks if stack.post == post).lugs
    return edit(PLAN, "stacks", of(post), lugs=lugs[::-1])


EDITED_PLANS: dict[str, tuple[Plan, set[str]]] = {
    "length one cut step short": (
        edit(PLAN, "jumpers", of("ignition 1"), length_dmm=1200),
        {"cut length", "resistance", "drop", "totals", "cost", "buy list"},
    ),
    # 990 x 1.05 + 200 = 1239.5, still cut at 1250
    "path not the sum of its legs": (
        edit(PLAN, "jumpers", of("ignition 1"), path_dmm=990), {"path length"},
    ),
    "path ends beside its post": (
        edit(PLAN, "jumpers", of("ignition 1"), path=(at(500, 550), at(1500, 551))),
        {"run", "path length"},
    ),
    "corner at the wrong height": (
        edit(PLAN, "jumpers", of("ignition 1"), path=(
            at(500, 550), at(1000, 550).model_copy(update={"z_dmm": 500 - 10}), at(1500, 550)),
            path_dmm=1020, length_dmm=1300),
        {"run", "resistance", "drop", "totals", "cost", "buy list"},
    ),
    "no path at all": (edit(PLAN, "jumpers", of("ignition 1"), path=()), {"run"}),
    "black wire for ignition": (
        edit(PLAN, "jumpers", of("ignition 1"), colour="black", spool="wire black"),
        {"colour", "buy list"},
    ),
    "a spool that is not in stock": (
        edit(PLAN, "jumpers", of("ignition 1"), spool="wire green"),
        {"names", "buy list", "totals", "current", "drop"},
    ),
    "size that is not the spool's": (
        edit(PLAN, "jumpers", of("ignition 1"), wire_size="14 AWG"), {"spool", "one size"},
    ),
    "current one milliampere off": (
        edit(PLAN, "jumpers", of("ground 1"), current_ma=299), {"current"},
    ),
    "resistance off by one": (
        edit(PLAN, "jumpers", of("ground 1"), resistance_uohm=1646), {"resistance"},
    ),
    "stripped too short": (edit(PLAN, "jumpers", of("ground 1"), strip_b_dmm=60), {"strip length"}),
    "ends changed over": (
        edit(PLAN, "jumpers", of("ground 1"), from_joint="dial2.ground", to_joint="dial1.ground"),
        {"direction", "run", "wire ends"},
    ),
    "two wires with one label": (
        PLAN.model_copy(update={"jumpers": (*PLAN.jumpers, PLAN.jumpers[0])}),
        {"labels", "wire ends", "totals", "cost", "buy list", "current", "drop"},
    ),
    "wrong number": (edit(PLAN, "jumpers", of("lamps 2"), number=3), {"labels"}),
    "drop of a load misprinted": (
        edit(PLAN, "drops", of("dial2"), drop_nv=44_408_749), {"drop"},
    ),
    "drop of a load left out": (without(PLAN, "drops", of("dial2 lamp")), {"drop"}),
    "drop of a load nobody has": (edit(PLAN, "drops", of("dial2"), load="x"), {"drop", "names"}),
    "hub misnamed": (PLAN.model_copy(update={"hub": "dial2"}), {"hub"}),
    "supply not landed": (
        without(PLAN, "landings", of("ground")),
        {"landing", "missing post", "wire ends"},
    ),
    "wrong pigtail": (edit(PLAN, "landings", of("ground"), pigtail="ignition"), {"landing"}),
    "area misprinted": (edit(PLAN, "crimps", crimp(1), area_um2=(AREA,)), {"barrel area"}),
    "range misprinted": (edit(PLAN, "crimps", crimp(1), area_max_um2=(1,)), {"barrel area"}),
    "colour of a fitting": (edit(PLAN, "crimps", crimp(1), colour="red"), {"fitting kind"}),
    "ring for another thread": (
        edit(PLAN, "crimps", crimp(5), item="ring M6"),
        {"fitting fit", "buy list"},
    ),
    "butt on a stud": (
        edit(PLAN, "crimps", crimp(5), item=BUTT, kind="butt"),
        {"barrel", "fitting kind", "fitting fit", "buy list", "totals", "stack", "thread"},
    ),
    "fold of two wires": (edit(PLAN, "crimps", crimp(1), folded=True), {"fold"}),
    "current of a crimp": (edit(PLAN, "crimps", crimp(4), current_ma=451), {"current"}),
    "end crimped twice": (
        edit(PLAN, "crimps", crimp(2), barrels=((EndRef(wire="lamps 1", end="a"),) * 2,),
             area_um2=(2 * AREA,), current_ma=600),
        {"wire ends", "step order", "stack", "current"},
    ),
    "end in no barrel": (
        edit(PLAN, "crimps", crimp(1), barrels=((EndRef(wire="pigtail ignition", end="a"),),),
             area_um2=(AREA,), current_ma=550),
        {"wire ends", "step order", "stack"},
    ),
    "lugs in the wrong order": (swapped_stack("dial1.ignition"), {"stack order", "step order",
                                                                 "step end"}),
    "aboard lug under a bench lug": (
        swapped_stack("dial2.ground"),
        {"stack order", "step order", "step end", "step stage"},
    ),
    "stack left out": (
        without(PLAN, "stacks", of("dial2.ignition")),
        {"stack", "names", "buy list"},
    ),
    "thread misprinted": (edit(PLAN, "stacks", of("dial1.ground"), used_dmm=55), {"thread"}),
    "washer forgotten": (edit(PLAN, "stacks", of("dial1.ground"), lock_washer=False), {"washer"}),
    "boot on a dead stud": (
        edit(PLAN, "stacks", of("dial1.ground"), boot=True),
        {"boot", "step end", "buy list"},
    ),
    "nut left open for nothing": (
        edit(PLAN, "stacks", of("dial1.ground"), nut_at_bench="loose"), {"nut", "step nut"},
    ),
    "lug's tongue misprinted": (
        edit(PLAN, "stacks", of("dial2.ignition"),
             lugs=(PLAN.stacks[2].lugs[0].model_copy(update={"tongue_dmm": 7}),)),
        {"stack"},
    ),
    "total of wire off by one": (totals(wire_dmm=4201), {"totals"}),
    "total of lugs off by one": (totals(stacked_lugs=3), {"totals"}),
    "labour off by one": (totals(labour_cost_micro=22_000_001), {"totals"}),
    "cost off by one": (proof(cost=(7251,), bound=(7251,)), {"cost"}),
    "another objective": (proof(objective="shortest"), {"cost"}),
    "called proved above the bound": (proof(bound=(7249,)), {"proof"}),
    "cheaper than its own bound": (proof(bound=(7251,), proved=False), {"proof"}),
    "buy list one ring short": (edit(PLAN, "buy", of("ring 16-14"), need=4), {"buy list"}),
    "buy list without caps": (without(PLAN, "buy", of("cap 16-14")), {"buy list"}),
    "spool at another price": (edit(PLAN, "buy", of("wire black"), cost_micro=1), {"buy list"}),
    "cap that does not take its wire": (
        edit(PLAN, "caps", of("radio"), item="ring 16-14"), {"caps", "buy list", "step order"},
    ),
    "packs too few": (edit(PLAN, "buy", of("wire black"), packs=0), {"buy list"}),
    "nuts not bought": (without(PLAN, "buy", of("nut with lock washer #8-32 UNC")), {"buy list"}),
    "pigtail not capped": (
        without(PLAN, "caps", of("tachometer")), {"caps", "names", "buy list"},
    ),
    "live pigtail called dead": (edit(PLAN, "caps", of("radio"), live=False), {"caps"}),
    "another title": (PLAN.model_copy(update={"title": "other"}), {"inputs"}),
    "another rule set": (PLAN.model_copy(update={"rule_set": "other"}), {"inputs"}),
    "boat wire left out": (without(PLAN, "given", of("sender2: pink")), {"names"}),
    "boat wire's post": (edit(PLAN, "given", of("sender2: pink"), joint="dial1.lamp"),
                             {"wire ends", "bypass"}),
    "wrong size in the list": (edit(PLAN, "circuit_wires", of("lamps"), wire_size="14 AWG"),
                               {"one size"}),
}  # fmt: skip


@pytest.mark.parametrize("fault", EDITED_PLANS)
def test_fault_in_the_plan(fault: str) -> None:
    """An edited plan breaks exactly the rules that the edit touches."""
    plan, expected = EDITED_PLANS[fault]
    assert rules(judge(plan)) == expected


def test_a_finding_is_in_the_units_of_the_bench() -> None:
    """Millimetres, money and words, never the tenths, millionths or tuples a plan counts in."""
    own = PLAN.totals
    report = judge(totals(wire_dmm=own.wire_dmm + 5, money_micro=own.money_micro + 500_000))
    told = [str(finding) for finding in report.findings if finding.rule == "totals"]
    wire, money = own.wire_dmm, own.money_micro
    assert told == [
        f"totals: money: the sum: the plan says {(money + 500_000) / 1e6:.10g}, "
        f"recomputed {money / 1e6:.10g}",
        f"totals: wire: the sum: the plan says {(wire + 5) / 10:.10g} mm, "
        f"recomputed {wire / 10:.10g} mm",
    ]
    sized = judge(edit(PLAN, "jumpers", of("ignition 1"), wire_size="18 AWG"))
    assert not any("('" in str(finding) for finding in sized.findings)
