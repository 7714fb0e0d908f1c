"""One fault planted in a correct plan: exactly the rules that are broken are named."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.plan_edits import edit, judge, rules, without
from support.wired_by_hand import (
    AREA,
    BUTT,
    SPADE,
    at,
    hand_console,
    hand_limits,
    hand_plan,
    hand_stock,
)

from lugwright.base.origin import Origin
from lugwright.checker.rules import RULES
from lugwright.plans.schema import EndRef, Plan
from lugwright.scenario.console import Console, KeepOut, Point, ReadyRing

PLAN = hand_plan()


def of(name: str) -> Any:
    """A test for the label, number or post of a record."""
    return lambda row: name in (
        getattr(row, "label", None), getattr(row, "post", None), getattr(row, "wire", None),
        getattr(row, "load", None), getattr(row, "item", None), getattr(row, "pigtail", None),
        getattr(row, "circuit", None) if not hasattr(row, "label") else None,
    )  # fmt: skip


def crimp(number: int) -> Any:
    """A test for a crimp's number."""
    return lambda row: row.number == number


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


LIMITS: dict[str, tuple[dict[str, Any], set[str]]] = {
    "one wire in a barrel": ({"wires_per_barrel": 1}, {"barrel count"}),
    "one lug on a stud": ({"lugs_per_stud": 1}, {"lug count"}),
    "two conductors on a stud": (
        {"lugs_per_stud": 2, "stud_count": "conductors"}, {"lug count"},
    ),
    "no rings": ({"stud_kinds": ("captive spade",)}, {"fitting kind"}),
    "fuse not above half the ampacity": ({"fuse_permille": 390}, {"fuse"}),
    "fuse carries a twentieth": ({"load_permille": 54}, {"fuse load"}),
    "drop of 0.4 %": ({"drop_critical_permille": 3}, {"drop"}),
    "minimum of 2 mm²": ({"minimum_area_um2": 2_000_000}, {"minimum size"}),
    "clearance at the strip": ({"strip_clearance_dmm": 6}, {"strip length"}),
    "three threads showing": ({"showing_thread_permille": 8_000}, {"thread"}),
    "another end allowance": ({"end_allowance_dmm": 150}, {"cut length"}),
    "longer minimum": ({"minimum_jumper_dmm": 500}, {"cut length"}),
    # ground: sqrt(700² + 550²) = 890.2 -> 891, 500 up: 1391 of a reach of 20000
    "drip loop that just fits": ({"drip_loop_dmm": 18_609}, set()),
    "drip loop too long": ({"drip_loop_dmm": 18_610}, {"reach"}),
    "ground shift of nothing": ({"ground_shift_mv": 0}, set()),
    "closer supports": ({"support_distance_dmm": 900}, {"ties"}),
    "no washers": ({"lock_washer": False}, {"washer", "thread", "step order"}),
    "dearer labour": ({"rate_micro_per_hour": 120_000_000}, {"totals"}),
    "worth of a lug": ({"lug_worth_dmm": 401}, {"cost"}),
}  # fmt: skip


@pytest.mark.parametrize("limit", LIMITS)
def test_plan_under_another_limit(limit: str) -> None:
    """Another limit is named by its rule, with where it comes from."""
    changes, expected = LIMITS[limit]
    report = judge(limits=hand_limits(**changes))
    assert rules(report) == expected
    assert all(finding.origin for finding in report.findings if finding.limit)


def with_post(post_id: str, **changes: Any) -> Console:
    """The hand console with one post changed."""
    console = hand_console()
    posts = tuple(
        replace(post, **changes) if post.id == post_id else post for post in console.posts
    )
    assert posts != console.posts
    return replace(console, posts=posts)


def with_circuit(name: str, **changes: Any) -> Console:
    """The hand console with one circuit changed."""
    console = hand_console()
    rows = tuple(replace(row, **changes) if row.name == name else row for row in console.circuits)
    return replace(console, circuits=rows)


def with_pigtail(**changes: Any) -> Console:
    """The hand console with the ignition pigtail changed."""
    pigtail = hand_console().circuit("ignition").pigtail
    assert pigtail is not None
    return with_circuit("ignition", pigtail=replace(pigtail, **changes))


def with_load(**changes: Any) -> Console:
    """The hand console with the first load changed."""
    console = hand_console()
    return replace(console, loads=(replace(console.loads[0], **changes), *console.loads[1:]))


def keep_out(x0: int, height: int) -> Console:
    """The hand console with a keep-out 10 mm wide across all jumpers from dial to dial."""
    return replace(hand_console(), keep_outs=(KeepOut("box", x0, 400, x0 + 100, 900, height),))


def without_lamp_return() -> Console:
    """The console as the first plan forgot it: dial 2's lamp returns by its ground as well."""
    console = hand_console()
    loads = tuple(
        replace(load, ground_post="dial1.ground") if load.name == "dial2 lamp" else load
        for load in console.loads
    )
    return replace(console, loads=loads)


CONSOLES: dict[str, tuple[Console, set[str]]] = {
    "a lamp's return counted elsewhere": (without_lamp_return(), {"current", "drop"}),
    "fuse of 60 A": (with_pigtail(fuse_ma=60_000), {"fuse"}),
    "fuse of half an ampere": (with_pigtail(fuse_ma=500), {"fuse load"}),
    "fuse far from the source": (with_pigtail(fuse_distance_dmm=100_001), {"fuse distance"}),
    "short pigtail": (with_pigtail(reach_dmm=500), {"reach", "drop"}),
    "a ring of its own": (
        with_pigtail(ring=ReadyRing("#8-32 UNC", 8, 60)),
        {"wire ends", "barrel mix", "stack", "totals", "cost"},
    ),
    "short stud": (with_post("dial1.ignition", free_thread_dmm=63), {"thread"}),
    "stud of another thread": (
        with_post("dial2.signal", thread="M6"), {"fitting fit", "names"},
    ),
    "two lugs kept free": (
        with_post("dial1.ignition", reserved=3, reserved_tongue_dmm=0, reserved_angle_deg=60),
        {"lug count", "stack"},
    ),
    "wide lugs kept free": (
        with_post("dial1.ignition", reserved=2, reserved_tongue_dmm=0, reserved_angle_deg=91),
        {"room", "stack"},
    ),
    "tab of another size": (with_post("dial1.lamp", tab_size="4.75 x 0.8"), {"fitting fit"}),
    "weak tab": (with_post("dial1.lamp", carries_ma=149), {"current limit"}),
    "tab for its own lamp": (with_post("dial1.lamp", carries_ma=150), set()),
    # 550 in and 150 out share a barrel: 400 pass the stud, 300 of them to the lamps
    "weak landing stud": (with_post("dial1.ignition", carries_ma=399), {"current limit"}),
    "strong landing stud": (with_post("dial1.ignition", carries_ma=400), set()),
    # 300 towards the pigtail, 50 of them from the sender's lug
    "weak ground stud": (with_post("dial2.ground", carries_ma=299), {"current limit"}),
    "strong ground stud": (with_post("dial2.ground", carries_ma=300), set()),
    "weak stud": (with_post("dial2.ignition", carries_ma=149), {"current limit"}),
    "strong stud": (with_post("dial2.ignition", carries_ma=150), set()),
    "live stud": (with_post("dial1.ignition", live=True), {"boot"}),
    "a foreign post": (
        with_post("dial2.ignition", circuit="other"), {"foreign post", "bypass"},
    ),
    "a sender's post": (
        with_post("dial2.ignition", circuit="", function="signal"),
        {"signal post", "bypass"},
    ),
    "landing on a lead": (
        with_post("dial1.ground", circuit="other"), {"foreign post", "landing", "bypass"},
    ),
    "no hub": (
        replace(hand_console(), instruments=tuple(
            replace(one, hub_candidate=False) for one in hand_console().instruments)), {"hub"},
    ),
    "tall keep-out": (keep_out(1000, 501), {"obstacle"}),
    "low keep-out": (keep_out(1000, 500), set()),
    "post moved": (with_post("dial2.lamp", at=Point(1600, 721, 500)), {"run"}),
    "more current": (with_load(current_ma=101), {"current", "drop"}),
    "another digest": (replace(hand_console(), digest="abc"), set()),
}  # fmt: skip


@pytest.mark.parametrize("change", CONSOLES)
def test_plan_for_another_console(change: str) -> None:
    """A plan does not fit a console that differs in one thing."""
    console, expected = CONSOLES[change]
    assert rules(judge(console=console)) == expected


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
