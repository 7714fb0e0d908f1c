"""What a wire may carry: table, bundle factor, and the limits of fittings, tabs, leads and posts.

16 AWG with 105 C insulation carries 25 A, 18 AWG 20 A, 14 AWG 35 A, 12 AWG 45 A, outside the
engine space (33 CFR 183.425 Table 5). Dial 1 draws 0.1 A and is held as the hub, so that the one
jumper of a circuit carries what dial 2 draws.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    ANY,
    THREE,
    ask,
    change_pigtail,
    change_post,
    cost_of,
    fitting,
    impossible,
    items,
    only_ground,
    roomy_limits,
    stock_of,
    wide_stock,
    with_load,
)
from support.consoles import given_wire, place, tiny_console

from lugwright.pipeline import Run, holding, make_plan
from lugwright.plans.outcome import Outcome
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, TiePoint
from lugwright.stock.schema import Stock

TWO_DIALS = [(60, 60), (160, 60)]


def ground_of(current_ma: int, **console: Any) -> Console:
    """Two dials' ground circuit on a 12 AWG pigtail; dial 2 draws this much."""
    made = tiny_console(TWO_DIALS, **{"lamps": False, "pigtail_size": "12 AWG", **console})
    return with_load(only_ground(made), "dial2", current_ma)


def planned(console: Console, stock: Stock | None = None, **changes: Any) -> Outcome:
    """The plan with dial 1 as the hub."""
    return ask(console, roomy_limits(**changes), stock or wide_stock(), hubs=["dial1"])


@pytest.mark.parametrize(
    ("current_ma", "engine_space", "changes"),
    [
        (25_000, False, {}),
        (21_250, True, {}),  # 85 %
        (17_500, False, {"bundle_rule": "e11-dc", "off_loom_conductors": 2}),  # 70 %
        (15_000, False, {"bundle_rule": "e11-dc", "off_loom_conductors": 4}),  # 60 %
        (17_500, False, {"bundle_rule": "iso-13297", "off_loom_conductors": 4}),  # 70 % from four
    ],
)
def test_a_jumper_carries_its_table_current(
    current_ma: int, engine_space: bool, changes: dict[str, Any]
) -> None:
    """Exactly the table's current, times the factor, and not 1 mA more."""
    for more, fits in ((0, True), (1, False)):
        console = replace(ground_of(current_ma + more), engine_space=engine_space)
        assert impossible(planned(console, **changes)) is not fits


def test_the_hub_moves_to_where_the_current_is() -> None:
    """Too much for a jumper: dial 2 is the hub unless dial 1 is held."""
    console = ground_of(25_001)
    outcome = ask(console, stock=wide_stock())
    assert outcome.choice is not None
    assert dict(outcome.choice.landings) == {"ground": "dial2.ground"}


def test_a_pigtail_carries_the_whole_circuit() -> None:
    """A 16 AWG pigtail: 24 900 + 100 mA is its 25 A; 1 mA more is a fault that names it."""
    assert not impossible(planned(ground_of(24_900, pigtail_size="16 AWG")))
    outcome = planned(ground_of(24_901, pigtail_size="16 AWG"))
    assert impossible(outcome)
    assert [(r.rule, r.place) for r in outcome.reasons] == [("ampacity", "pigtail ground")]


def test_the_run_to_the_source_has_its_own_count() -> None:
    """Two conductors run together from the source: 45 A × 0.7 = 31.5 A by the e11-dc rule."""
    rule = {"bundle_rule": "e11-dc"}
    stock = wide_stock(wire_sizes=("12 AWG",))
    assert not impossible(planned(ground_of(31_400, supply_one_way_mm=1000), stock, **rule))
    outcome = planned(ground_of(31_401, supply_one_way_mm=1000), stock, **rule)
    assert [(r.rule, r.place) for r in outcome.reasons] == [
        ("ampacity", "pigtail ground, run to the source")
    ]
    assert not impossible(planned(ground_of(31_401), stock, **rule))


def loom_console(current_ma: int) -> Console:
    """Dials 200 mm apart; ignition and ground both run over the loom leg between two tie points."""
    ties = (
        TiePoint("east", place(220, 55, 50), ("west",)),
        TiePoint("west", place(100, 55, 50), ()),
    )
    console = tiny_console(
        [(60, 60), (260, 60)], lamps=False, pigtail_size="12 AWG", tie_points=ties, fuse_ma=40_000
    )
    return with_load(console, "dial2", current_ma)


@pytest.mark.parametrize(("current_ma", "fits"), [(17_500, True), (17_501, False)])
def test_conductors_on_a_loom_leg_are_bundled(current_ma: int, fits: bool) -> None:
    """Two jumpers on the leg: 25 A × 0.7. Neither would be bundled off the loom."""
    outcome = planned(loom_console(current_ma), bundle_rule="e11-dc")
    assert impossible(outcome) is not fits


def test_a_conductor_counts_whatever_its_current() -> None:
    """Ground alone on the leg carries 25 A; with the ignition's jumper beside it no more than
    17.5.
    """
    console = loom_console(25_000)
    assert not impossible(planned(only_ground(console), bundle_rule="e11-dc"))
    assert impossible(planned(console, bundle_rule="e11-dc"))


def test_boat_wires_count_on_the_leg() -> None:
    """A sender's two wires with an entry beyond the leg lie on it too: 4 conductors, 60 %."""
    console = loom_console(15_000)
    sent = tiny_console([(60, 60), (260, 60)], lamps=False, senders=[1])
    (sender,) = sent.boat_blocks
    wires = tuple(replace(wire, entry=place(300, 55, 50), reach_dmm=9000) for wire in sender.wires)
    sender = replace(sender, wires=wires)
    signal = replace(sent.post("dial1.signal"), at=place(60, 55, 50))  # in line with the leg
    console = replace(console, posts=(*console.posts, signal), boat_blocks=(sender,))
    assert not impossible(planned(console, bundle_rule="e11-dc"))
    assert impossible(planned(with_load(console, "dial2", 15_001), bundle_rule="e11-dc"))
    alone = replace(console, boat_blocks=())
    assert not impossible(planned(with_load(alone, "dial2", 15_001), bundle_rule="e11-dc"))


def test_a_lug_that_carries_too_little_is_not_taken() -> None:
    """Every end alone is more than the ring may carry: no plan; the stronger, dearer ring is
    taken.
    """
    weak = fitting("weak", "ring", ANY, carries_ma=9_999, price_micro=100_000)
    strong = fitting("strong", "ring", ANY, carries_ma=30_000, price_micro=900_000)
    stock = replace(wide_stock(), fittings=(weak,))
    assert impossible(planned(ground_of(10_000), stock))
    both = replace(stock, fittings=(weak, strong))
    outcome = planned(ground_of(10_000), both)
    assert cost_of(outcome) == 1000 + 2 * 250
    assert items(outcome, "dial2.ground") == [("strong", (1,))]
    light = planned(ground_of(9_000), both)
    assert items(light, "dial2.ground") == [("weak", (1,))]


def test_a_lead_carries_its_own_demand() -> None:
    """An 18 AWG lead carries 20 A; 1 mA more is a fault whatever the jumper is."""
    stock = wide_stock(fitting("butt", "butt", ANY, ANY))

    def leading(current_ma: int) -> Outcome:
        lead = given_wire("18 AWG", "black")
        console = change_post(ground_of(current_ma), "dial2.ground", kind="lead", lead=lead)
        return planned(console, stock)

    assert not impossible(leading(20_000))
    outcome = leading(20_001)
    assert [(r.rule, r.place) for r in outcome.reasons] == [("ampacity", "lead dial2.ground")]


def test_a_leads_joint_carries_what_flows_in() -> None:
    """The butt of a lead at the end of the line: 10 A come in by its jumper."""
    for limit_ma, fits in ((10_000, True), (9_999, False)):
        stock = wide_stock(fitting("butt", "butt", ANY, ANY, carries_ma=limit_ma))
        lead = given_wire("16 AWG", "black")
        console = change_post(ground_of(10_000), "dial2.ground", kind="lead", lead=lead)
        assert impossible(planned(console, stock)) is not fits


def test_a_splice_carries_what_flows_in() -> None:
    """Three grounds about a point, 100 mm each; 2 × 4 A flow into the splice from dial 1.

    At 7999 mA the splice is out and the sides 1200 and 1898 are left.
    """
    console = only_ground(
        tiny_console([(130, 85), (250, 85), (190, 265)], lamps=False, dial_ma=4000)
    )
    point = SplicePoint("ground~1", "ground", place(200, 160, 50))
    limits = roomy_limits(splices=True, lug_worth_dmm=0, fitting_worth_dmm=0)
    for limit_ma, cost in ((8000, 3000), (7999, 3098)):
        stock = stock_of(fitting("end", "closed end", THREE, carries_ma=limit_ma))
        outcome = ask(console, limits, stock, {"ground": (point,)}, hubs=["dial1"])
        assert cost_of(outcome) == cost


def test_an_extensions_butt_carries_the_circuit() -> None:
    """10.1 A through the butt of the extension: a butt for 10 A does not do."""
    for limit_ma, fits in ((10_100, True), (10_099, False)):
        stock = wide_stock(fitting("butt", "butt", ANY, ANY, carries_ma=limit_ma))
        console = ground_of(10_000, reach_mm=50)
        assert impossible(planned(console, stock, extensions=True)) is not fits


def test_an_extension_carries_the_circuit() -> None:
    """An extension of 16 AWG carries 25 A whatever the pigtail is."""
    stock = wide_stock(fitting("butt", "butt", ANY, ANY))
    for current_ma, fits in ((24_900, True), (24_901, False)):
        console = ground_of(current_ma, reach_mm=50)
        assert impossible(planned(console, stock, extensions=True)) is not fits


def bundled_extension(dial2_ma: int) -> Run:
    """Dial 2 is the hub; the ground's pigtail is short, its way lies over the loom leg.

    On the leg run both pigtails and both jumpers back to dial 1: 4 conductors, 60 %.
    """
    console = loom_console(dial2_ma)
    for circuit, reach_dmm in (("ground", 1000), ("ignition", 9000)):
        console = change_pigtail(console, circuit, entry=place(80, 55, 50), reach_dmm=reach_dmm)
    stock = wide_stock(fitting("butt", "butt", ANY, ANY))
    limits = roomy_limits(bundle_rule="e11-dc", extensions=True)
    return make_plan(holding(Brief(console, limits, stock), {"hub": "dial2"}))


def test_an_extension_on_a_loom_leg_carries_its_share() -> None:
    """14.9 A through an extension of 16 AWG, which carries 25 A × 0.6 = 15 A on the leg."""
    run = bundled_extension(14_800)
    assert run.report is not None
    assert run.report.findings == ()


def test_an_extension_on_a_loom_leg_is_bundled() -> None:
    """15.1 A is too much for it there: no plan may come out that the checker refuses."""
    run = bundled_extension(15_000)
    assert run.report is None or run.report.findings == ()
