"""The tests at key-on: places a meter can reach, and what it must read there."""

from __future__ import annotations

from dataclasses import replace

from unit.assemble.bench_for_tests import (
    assembled,
    bench_choice,
    bench_console,
    heavy_choice,
    heavy_console,
    lead_console,
)

from lugwright.plan.choice import WireKey
from lugwright.plan.schema import Plan, Step
from lugwright.scenario.console import Console

LEAD = WireKey("given", "lead dial3.ignition")


def key_on_of(plan: Plan) -> dict[str, Step]:
    """The tests at key-on by what they test."""
    return {step.target: step for step in plan.steps if step.stage == "key-on"}


def test_tabs_are_back_probed() -> None:
    """A tab is under its push-on: the tip goes in from behind."""
    text = key_on_of(assembled())["continuity lamps"].text
    assert text == (
        "Continuity, lamps: from dial2.ignition to dial1.lamp, dial2.lamp and dial3.lamp "
        "(back-probe)."
    )


def test_no_tip_goes_into_the_joint_of_a_lead() -> None:
    """A lead's end lies in an insulated joint: continuity and volts are taken at studs."""
    choice = bench_choice()
    fittings = tuple(
        replace(item, item="red butt", barrels=((item.barrels[0][0],), (LEAD,)))
        if item.joint == "dial3.ignition"
        else item
        for item in choice.fittings
    )
    tests = key_on_of(assembled(lead_console(), choice=replace(choice, fittings=fittings)))
    assert tests["continuity ignition"].parts == ("dial1.ignition",)
    assert "volts at dial3" not in tests
    assert "volts at dial1" in tests


def test_one_piece_of_metal_needs_no_continuity_test() -> None:
    """Studs joined inside an instrument to where the circuit is fed are not tested."""
    console = linked(bench_console(), "dial2.ground", "dial3.ground")
    assert key_on_of(assembled(console))["continuity ground"].parts == ("dial1.ground",)


def linked(console: Console, *names: str) -> Console:
    """The console with posts of one instrument and one link."""
    posts = tuple(
        replace(post, link="bar", instrument="bar") if post.id in names else post
        for post in console.posts
    )
    return replace(console, posts=posts)


def switched_console(returns_to: str = "dial2.ground") -> Console:
    """A consumer of 500 mA behind a switch at dial 2, on 5 m of 16 AWG of its own each way."""
    console = heavy_console()
    arrival = console.arrivals[0]
    wires = tuple(replace(wire, one_way_dmm=50_000) for wire in arrival.wires)
    heavy = replace(
        arrival, wires=wires, drawn_from="dial2.ignition", returns_to=returns_to, drop_class="other"
    )
    return replace(console, arrivals=(heavy,))


def test_a_consumer_is_measured_before_its_own_run() -> None:
    """Its own 2 x 5 m lie behind the meter: no part of the reading, but of what is allowed.

    The wire is 18 AWG: 17241 / 0.823 = 20949 nOhm/mm up, x 5000 mm = 104745000 nOhm = 104745 uOhm,
    x 500 mA = 52.4 mV each way. Up to the stud the drop is that of the load without its run;
    allowed there are 1200 mV - 104.7 mV = 1095.3 mV: 10.904 V, told as 10.90 V.
    """
    plan = assembled(switched_console(), choice=heavy_choice())
    whole = next(drop for drop in plan.drops if drop.load == "sender2")
    there_nv = whole.drop_nv - 2 * 104_745 * 500
    least = (12_000_000_000 - there_nv) // 10_000_000 / 100
    step = key_on_of(plan)["volts at sender2"]
    assert step.parts == (
        f"at least {least:.2f} V of 12.00 V where the pigtails begin",
        "below 10.90 V: over the limit",
    )
    assert step.text.startswith(
        "All on, switch on at dial2, sender2 running: dial2.ignition to dial2.ground "
    )


def test_a_consumer_that_returns_elsewhere_is_measured_against_the_landing() -> None:
    """Where the ground side is not the panel's, the minus tip stands at the ground's landing."""
    plan = assembled(switched_console(returns_to=""), choice=heavy_choice())
    text = key_on_of(plan)["volts at sender2"].text
    assert "dial2.ignition to dial2.ground reads at least " in text


def renamed(console: Console, old: str, new: str) -> Console:
    """The console with a circuit of another name."""
    circuits = tuple(
        replace(
            item,
            name=new if item.name == old else item.name,
            rides_on=new if item.rides_on == old else item.rides_on,
        )
        for item in console.circuits
    )
    posts = tuple(
        replace(post, circuit=new if post.circuit == old else post.circuit)
        for post in console.posts
    )
    return replace(console, circuits=circuits, posts=posts)


def test_only_ignition_is_behind_the_key() -> None:
    """Another feed gets its fuse, and no key is turned for it or what rides on it."""
    console = renamed(bench_console(), "ignition", "accessory")
    choice = bench_choice()
    keys = {
        wire: replace(wire, name="accessory")
        for item in choice.fittings
        for half in item.barrels
        for wire in half
        if wire.sort == "jumper" and wire.name == "ignition"
    }
    pigtail = next(
        wire
        for item in choice.fittings
        for half in item.barrels
        for wire in half
        if wire.name == "pigtail ignition"
    )
    keys[pigtail] = replace(pigtail, name="pigtail accessory")
    fittings = tuple(
        replace(
            item,
            barrels=tuple(tuple(keys.get(wire, wire) for wire in half) for half in item.barrels),
        )
        for item in choice.fittings
    )
    jumpers = tuple(
        replace(item, circuit="accessory") if item.circuit == "ignition" else item
        for item in choice.jumpers
    )
    landings = (("accessory", "dial2.ignition"), ("ground", "dial2.ground"))
    plan = assembled(
        console,
        choice=replace(choice, landings=landings, jumpers=jumpers, fittings=fittings),
    )
    tests = key_on_of(plan)
    assert "key" not in tests["first power accessory"].text
    assert "put the 10 A fuse in" in tests["first power accessory"].text
    assert tests["wakes dial1"].text == "Fuse in, at dial1: it wakes."
    assert "key" not in tests["lamps"].text
    assert key_on_of(assembled())["lamps"].text.startswith("Key on: every lamp lights with the key")
