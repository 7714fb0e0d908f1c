"""What the comment on top of each scenario claims, held to the plan that is made of it.

Every plan is made once and kept. "Binds" is shown by loosening the limit and paying less.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from support.plans import SCENARIOS, plan_of, run_of

from lugwright.pipeline import make_plan, printed_findings, read_inputs
from lugwright.plans.outcome import Ending
from lugwright.plans.schema import Crimp, Jumper, Plan, Stack

SLOW = ("bridge-24-instruments", "switch-panel-loom", "six-dial-console")
IMPOSSIBLE = ("too-many-rings",)
NAMES = sorted(path.stem for path in SCENARIOS.glob("*.toml"))
QUICK = [name for name in NAMES if name not in SLOW + IMPOSSIBLE]


def cost_of(name: str, *settings: str, hub: str = "", rule_set: str | None = None) -> int:
    """The cost of the proved plan: 0.1 mm by default, millionths where money is minimised."""
    (cost,) = plan_of(name, *settings, hub=hub, rule_set=rule_set).proof.cost
    return cost


def is_impossible(name: str, *settings: str) -> bool:
    """Whether the search ends with no plan at all."""
    return run_of(name, *settings).outcome.ending is Ending.IMPOSSIBLE


def sizes(plan: Plan) -> dict[str, str]:
    """The wire size of each circuit."""
    return {wire.circuit: wire.wire_size for wire in plan.circuit_wires}


def landings(plan: Plan) -> dict[str, str]:
    """Where the supply of each circuit lands."""
    return {landing.circuit: landing.post for landing in plan.landings}


def extensions(plan: Plan) -> list[Jumper]:
    """The pieces that lengthen pigtails."""
    return [jumper for jumper in plan.jumpers if jumper.role == "extension"]


def stack_at(plan: Plan, post: str) -> Stack:
    """The stack on a stud."""
    return next(stack for stack in plan.stacks if stack.post == post)


def crimps_at(plan: Plan, joint: str) -> list[Crimp]:
    """The fittings on a joint."""
    return [crimp for crimp in plan.crimps if crimp.joint == joint]


def without_line(name: str, line_start: str, folder: Path) -> Plan:
    """The plan of a scenario with one line struck out."""
    lines = (SCENARIOS / f"{name}.toml").read_text(encoding="utf-8").splitlines(keepends=True)
    kept = [line for line in lines if not line.startswith(line_start)]
    assert len(kept) == len(lines) - 1
    path = folder / f"{name}.toml"
    path.write_text("".join(kept), encoding="utf-8")
    run = make_plan(read_inputs(path))
    assert run.plan is not None
    return run.plan


@pytest.mark.parametrize("name", QUICK)
def test_every_plan_is_proved_and_passes_the_checker(name: str) -> None:
    """Planned without a time limit, proved best, and nothing found by the second opinion."""
    plan = plan_of(name)
    assert plan.proof.cost == plan.proof.bound


@pytest.mark.parametrize("name", QUICK)
def test_every_plan_is_made_again_from_its_own_decisions(name: str) -> None:
    """To the last leaf; nothing in a plan file comes from anywhere else."""
    assert printed_findings(read_inputs(SCENARIOS / f"{name}.toml"), plan_of(name)) == ((), ())


@pytest.mark.parametrize("name", NAMES)
def test_every_scenario_says_what_makes_it_interesting(name: str) -> None:
    """The comment stands on top, and says how to see it with a command."""
    lines = (SCENARIOS / f"{name}.toml").read_text(encoding="utf-8").splitlines()
    comment = [line for line in lines[1:] if line.startswith("# ")]
    assert any("What makes it interesting:" in line for line in comment)
    assert any("Show it:" in line for line in comment)


def test_sandbar_skiff_speed_is_the_cheapest_hub() -> None:
    """Holding another hub costs more; the skiff stays at about forty lines."""
    assert plan_of("sandbar-skiff").hub == "speed"
    assert cost_of("sandbar-skiff") == 18_250
    assert cost_of("sandbar-skiff", hub="volts") == 19_750
    assert cost_of("sandbar-skiff", hub="fuel") == 20_300
    text = (SCENARIOS / "sandbar-skiff.toml").read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 50


def test_second_post_gets_key_on_power_only_where_declared(tmp_path: Path) -> None:
    """speed.second is jumped, rpm.second is not; without ``feeds`` there is one jumper less."""
    plan = plan_of("key-on-second-post")
    ends = {end for jumper in plan.jumpers for end in (jumper.from_joint, jumper.to_joint)}
    assert "speed.second" in ends
    assert "rpm.second" not in ends
    bare = without_line("key-on-second-post", "feeds", tmp_path)
    assert len(bare.jumpers) == len(plan.jumpers) - 1
    assert bare.proof.cost < plan.proof.cost


def test_leads_are_joined_in_mid_air() -> None:
    """Each lead of "depth" holds itself and two jumpers in one yellow closed end."""
    plan = plan_of("flying-leads")
    assert plan.hub not in ("depth", "bottom")
    for post in ("ignition", "ground", "lamp"):
        (crimp,) = crimps_at(plan, f"depth.{post}")
        assert crimp.item == "closed end yellow"
        assert [len(barrel) for barrel in crimp.barrels] == [3]


def test_thin_leads_are_crimped_in_red_and_told_on_every_sheet() -> None:
    """22 AWG goes into the red half (642 to 1624 circular mils), 16 AWG into the blue one."""
    plan = plan_of("thin-leads")
    for post in ("feed", "ground"):
        (crimp,) = crimps_at(plan, f"trim.{post}")
        assert crimp.item == "step-down butt red-blue"
    (fuse,) = plan.panel.fuses
    assert fuse.by_maker == ("lead trim.feed",)
    assert plan.fuses == (
        "pigtail ignition: 5 A, over lead trim.feed by the maker's word, not by law",
    )
    told = " ".join(plan.cautions)
    assert "lead trim.feed, 22 AWG, carries 2 A by its maker's word" in told
    assert "exempt from the table of sizes (33 CFR 183.425(g)), not from a fuse" in told


def test_a_thin_lead_without_its_makers_word_wants_a_smaller_fuse(tmp_path: Path) -> None:
    """5 A is more than 2 A and half as much again; 3 A is not."""
    text = (SCENARIOS / "thin-leads.toml").read_text(encoding="utf-8")
    path = tmp_path / "console.toml"
    path.write_text(text.replace(', fuse_up_to = "5 A"', ""), encoding="utf-8")
    (reason,) = make_plan(read_inputs(path)).outcome.reasons
    assert (reason.rule, reason.place) == ("fuse", "lead trim.feed")
    smaller = text.replace(', fuse_up_to = "5 A"', "").replace('fuse = "5 A"', 'fuse = "2 A"')
    path.write_text(smaller, encoding="utf-8")
    assert make_plan(read_inputs(path)).outcome.ending is Ending.PROVED


def test_butts_at_leads_cost_more_money() -> None:
    """Planned for money, closed ends are what the leads get."""
    cheapest = "objective=cheapest"
    butts = cost_of("flying-leads", cheapest, "lead_kinds=butt")
    assert cost_of("flying-leads", cheapest) < butts


def test_tall_studs_far_away_are_not_the_hub() -> None:
    """The hub lies beside the harness; holding the tachometer takes two extensions."""
    plan = plan_of("tall-stud-far-away")
    assert plan.hub == "fuel"
    assert extensions(plan) == []
    assert len(extensions(plan_of("tall-stud-far-away", hub="rpm"))) == 2
    assert cost_of("tall-stud-far-away") == 24_650
    assert cost_of("tall-stud-far-away", hub="rpm") == 32_350


def test_short_thread_binds() -> None:
    """Three lugs fill oil.ground; without the lock washer a fourth goes on and less is paid."""
    plan = plan_of("short-thread")
    full = stack_at(plan, "oil.ground")
    tongue_dmm = max(lug.tongue_dmm for lug in full.lugs)
    assert len(full.lugs) == 3
    assert full.used_dmm + tongue_dmm > full.free_dmm
    assert plan.hub != "oil"
    loosened = plan_of("short-thread", "lock_washer=no")
    assert loosened.hub == "oil"
    assert loosened.proof.cost < plan.proof.cost


def test_one_wire_per_barrel_takes_a_splice() -> None:
    """Lamps are spliced; without splices nothing goes, with two wires in a barrel it is cheaper."""
    plan = plan_of("one-wire-per-barrel")
    assert {splice.circuit for splice in plan.splices} == {"lamps"}
    splices = {splice.label for splice in plan.splices}
    for crimp in plan.crimps:
        if crimp.joint not in splices:
            assert [len(barrel) for barrel in crimp.barrels] == [1]
    assert is_impossible("one-wire-per-barrel", "splices=no")
    assert plan_of("one-wire-per-barrel", "wires_per_barrel=2").splices == ()
    assert cost_of("one-wire-per-barrel", "wires_per_barrel=2") < cost_of("one-wire-per-barrel")


def test_drop_binds_on_the_long_supply_run() -> None:
    """Ignition is thicker than the least size; with 4 % allowed it is not, and money is saved."""
    plan = plan_of("long-supply-run")
    assert sizes(plan)["ignition"] == "12 AWG"
    assert all(drop.drop_nv <= drop.limit_nv for drop in plan.drops)
    loosened = plan_of("long-supply-run", "drop_critical=4 %")
    assert set(sizes(loosened).values()) == {"16 AWG"}
    assert any(drop.drop_nv > 360_000_000 for drop in loosened.drops if "lamp" not in drop.load)
    assert loosened.proof.cost < plan.proof.cost
    assert is_impossible("long-supply-run", "drop_critical=2.5 %")


def test_bus_bar_wins_as_hub() -> None:
    """It beats every dial; without lock washers the dials' short studs take more, and oil wins."""
    assert plan_of("bus-bar-hub").hub == "bars"
    for dial in ("fuel", "oil", "water", "volts"):
        assert cost_of("bus-bar-hub", hub=dial) > cost_of("bus-bar-hub")
    assert plan_of("bus-bar-hub", "lock_washer=no").hub == "oil"


def test_ring_or_spade_changes_the_winner() -> None:
    """Spades: chained, no splice. Rings: a splice in each circuit, and dearer."""
    spades = plan_of("ring-or-spade")
    rings = plan_of("ring-or-spade", "stud_kinds=ring")
    assert spades.splices == ()
    assert {splice.circuit for splice in rings.splices} == {"ignition", "ground"}
    assert spades.proof.cost < rings.proof.cost
    chained = plan_of("ring-or-spade", "stud_kinds=ring", "splices=no")
    assert rings.proof.cost < chained.proof.cost


def test_hub_out_of_reach_takes_an_extension() -> None:
    """Ignition is lengthened by one butt and its ring cut off, ground is not."""
    plan = plan_of("hub-out-of-reach")
    (piece,) = extensions(plan)
    assert piece.circuit == "ignition"
    (butt,) = crimps_at(plan, "join pigtail ignition")
    assert butt.kind == "butt"
    ready = {lug.ready for stack in plan.stacks for lug in stack.lugs if lug.ready}
    assert ready == {"pigtail ground"}
    assert is_impossible("hub-out-of-reach", "extensions=no")


def test_too_many_rings_stays_impossible() -> None:
    """Five lugs where four are allowed; with five allowed a plan exists and uses them all."""
    assert is_impossible("too-many-rings")
    plan = plan_of("too-many-rings", "lugs_per_stud=5")
    assert len(stack_at(plan, "oil.ground").lugs) == 5


def test_a_hub_for_each_circuit() -> None:
    """Ignition lands on volts and ground elsewhere; one hub for both takes an extension."""
    plan = plan_of("hub-per-circuit")
    instruments = {post.split(".")[0] for post in landings(plan).values()}
    assert landings(plan)["ignition"] == "volts.ignition"
    assert len(instruments) == 2
    assert extensions(plan) == []
    together = plan_of("hub-per-circuit", "one_hub=yes")
    assert len(extensions(together)) == 1
    assert plan.proof.cost < together.proof.cost


def test_pigtails_that_come_aboard() -> None:
    """Each lies at the base on its own, so all bench lugs of its stud wait; spades save money."""
    plan = plan_of("aboard-pigtails")
    for circuit, post in landings(plan).items():
        base = stack_at(plan, post).lugs[0]
        (crimp,) = [crimp for crimp in plan.crimps if crimp.number == base.crimp]
        assert [end.wire for barrel in crimp.barrels for end in barrel] == [f"pigtail {circuit}"]
        assert base.stage == "aboard"
        stack = stack_at(plan, post)
        assert stack.bench_lugs == len(stack.waiting) == len(stack.lugs) - 1 > 0
        assert stack.nut_at_bench == "loose"
    assert cost_of("aboard-pigtails") < cost_of("aboard-pigtails", "stud_kinds=ring")


def test_reserved_lugs_move_the_hub() -> None:
    """Three of four lugs are spoken for; with five allowed the tachometer is the hub."""
    plan = plan_of("reserved-lugs")
    assert plan.hub != "rpm"
    assert stack_at(plan, "rpm.ground").reserved == 3
    loosened = plan_of("reserved-lugs", "lugs_per_stud=5")
    assert loosened.hub == "rpm"
    assert loosened.proof.cost < plan.proof.cost


def test_metric_studs_and_wire() -> None:
    """Every stud is M4; the sender's 1 mm2 is folded back, and without folding nothing fits."""
    plan = plan_of("metric-studs")
    assert {stack.thread for stack in plan.stacks} == {"M4 x 0.7"}
    folded = [crimp for crimp in plan.crimps if crimp.folded]
    assert {end.wire for crimp in folded for barrel in crimp.barrels for end in barrel} == {
        "fuel sender: black",
        "fuel sender: pink",
    }
    assert is_impossible("metric-studs", "fold_back=no")


def test_strict_practice_costs_more_than_usual() -> None:
    """Three conductors on a stud: the chain ends at water.ground, and that costs."""
    plan = plan_of("strict-rule-set")
    assert all(sum(lug.conductors for lug in stack.lugs) <= 3 for stack in plan.stacks)
    usual = plan_of("strict-rule-set", rule_set="usual")
    assert any(sum(lug.conductors for lug in stack.lugs) > 3 for stack in usual.stacks)
    assert usual.proof.cost < plan.proof.cost


@pytest.mark.slow
@pytest.mark.parametrize("name", SLOW)
def test_every_slow_plan_is_proved_and_passes_the_checker(name: str) -> None:
    """As for the quick ones."""
    plan = plan_of(name)
    assert plan.proof.cost == plan.proof.bound


@pytest.mark.slow
def test_six_dial_console_lands_on_the_bus_bar() -> None:
    """All three pigtails land on the bar; splices save wire; live pigtails are capped first."""
    plan = plan_of("six-dial-console")
    assert plan.hub == "bars"
    assert set(landings(plan)) == {"ignition", "accessory", "ground"}
    assert plan.splices != ()
    assert cost_of("six-dial-console") < cost_of("six-dial-console", "splices=no")
    assert [cap.live for cap in plan.caps] == [True, False]
    assert stack_at(plan, "fuel.ground").reserved == 1


@pytest.mark.slow
def test_bundle_factor_decides_on_the_switch_panel() -> None:
    """Five conductors go through the grommet; without a bundle factor 16 AWG would do."""
    plan = plan_of("switch-panel-loom")
    through = [
        jumper
        for jumper in plan.jumpers
        if {"near side", "far side"} <= {corner.tie for corner in jumper.path}
    ]
    assert len(through) == 5
    assert max(jumper.current_ma for jumper in through) == 13_000
    assert sizes(plan)["accessory"] == "14 AWG"
    loosened = plan_of("switch-panel-loom", "bundle_rule=none")
    assert sizes(loosened)["accessory"] == "16 AWG"
    assert loosened.proof.cost < plan.proof.cost


@pytest.mark.slow
def test_bridge_of_twenty_four_instruments() -> None:
    """Sixty-four jumpers; the bus bar as hub costs more."""
    plan = plan_of("bridge-24-instruments")
    assert plan.totals.jumpers == 64
    assert cost_of("bridge-24-instruments") < cost_of("bridge-24-instruments", hub="bars")
