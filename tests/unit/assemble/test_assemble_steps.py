"""The steps: a person must be able to build from them alone, in that order."""

from __future__ import annotations

from dataclasses import replace

from unit.assemble.bench_for_tests import (
    assembled,
    bench_console,
    bench_limits,
    bench_stock,
    straight_routes,
)

from lugwright.assemble.caps import cap_for
from lugwright.assemble.ties import between
from lugwright.plan.schema import Plan
from lugwright.scenario.console import Console, Pigtail


def places(plan: Plan, verb: str, stage: str = "bench") -> dict[str, int]:
    """Number of each step of a verb at a stage, by target."""
    return {s.target: s.number for s in plan.steps if (s.verb, s.stage) == (verb, stage)}


def test_stages_follow_one_another() -> None:
    """Bench, then aboard, then key-on; numbers run from 1 without a gap."""
    plan = assembled()
    stages = [item.stage for item in plan.steps]
    assert stages == sorted(stages, key=["bench", "aboard", "key-on"].index)
    assert [item.number for item in plan.steps] == list(range(1, len(stages) + 1))


def test_bench_runs_cut_crimp_land_push() -> None:
    """All cuts, then all crimps, then the studs, then the push-ons, then what stays loose."""
    verbs = [item.verb for item in assembled().steps if item.stage == "bench"]
    assert verbs[:7] == ["cut"] * 7
    assert verbs[7:19] == ["crimp"] * 12
    assert verbs[19:-4] == [
        *("land", "land", "washer", "nut snug"),
        *("land", "land", "land", "washer", "nut snug"),
        *("land", "washer", "nut snug") * 2,
        *("land", "washer", "nut loose"),
        *("land", "washer", "nut snug"),
    ]
    assert verbs[-4:] == ["push on"] * 3 + ["test"]


def test_a_crimp_waits_for_all_its_wires() -> None:
    """Every crimp comes after the cuts of its wires and before the landing of its lug."""
    plan = assembled()
    cuts = places(plan, "cut")
    crimps = places(plan, "crimp") | places(plan, "crimp", "aboard")
    for crimp in plan.crimps:
        wires = [end.wire for half in crimp.barrels for end in half]
        assert all(cuts.get(wire, 0) < crimps[str(crimp.number)] for wire in wires)
    landed = {s.parts[0]: s.number for s in plan.steps if s.verb in ("land", "push on")}
    assert landed.keys() == {str(crimp.number) for crimp in plan.crimps}
    assert all(crimps[number] < landed[number] for number in landed)


def test_lugs_go_on_from_the_base() -> None:
    """The hub's feed stud: the lands are the stack, base first."""
    plan = assembled()
    stack = next(item for item in plan.stacks if item.post == "dial2.ignition")
    landed = [s.parts for s in plan.steps if (s.verb, s.target) == ("land", "dial2.ignition")]
    assert landed == [(str(item.crimp),) for item in stack.lugs]


def test_a_stud_for_aboard_wires_only_waits() -> None:
    """No bench step at the sender's stud, but the bench is told to leave it loose."""
    plan = assembled()
    steps = [(s.stage, s.verb) for s in plan.steps if s.target == "dial3.signal"]
    assert steps == [("aboard", "land"), ("aboard", "washer"), ("aboard", "nut snug")]
    hint = next(s for s in plan.steps if s.target == "left loose")
    assert hint.parts == ("dial3.ground", "dial3.signal")


def test_no_washer_steps_without_lock_washers() -> None:
    """A limit without lock washers leaves the washer steps out."""
    plan = assembled(limits=bench_limits(lock_washer=False))
    assert not any(item.verb == "washer" for item in plan.steps)


def test_sentences_hold_what_the_bench_needs() -> None:
    """Label, length, colour, strips and ends; fitting, die and wire ends; driver."""
    texts = {(s.verb, s.target): s.text for s in assembled().steps}
    assert texts["cut", "ground 1"] == (
        "Cut ground 1: 125 mm of black 16 AWG. Bare 8 mm at end A (for dial2.ground) and "
        "7 mm at end B (for dial1.ground). Tag both ends ground 1."
    )
    assert texts["crimp", "2"] == (
        "Crimp 2: blue ring for dial2.ground: ground 1 A + ground 2 A. Twist together. "
        "Die blue; tug each wire."
    )
    assert texts["crimp", "1"] == (
        "Crimp 1: red ring for dial2.ground: pigtail ground (black 16 AWG, bare 7 mm). "
        "Die red; tug each wire."
    )
    assert "with the 11/32 in nut driver" in texts["nut snug", "dial2.ground"]


def test_key_on_tests_in_order() -> None:
    """Before power, the fuse, dials, lamps, volts.

    The worst drop is the lamp of dial 3: 44497100 nV = 44.5 mV below 12 V, 11955 mV, rounded
    down to 11.95 V.
    """
    tests = [(s.target, s.parts) for s in assembled().steps if s.stage == "key-on"]
    assert [what for what, _ in tests] == [
        "continuity ignition",
        "continuity lamps",
        "continuity ground",
        "no short ignition to ground",
        "polarity",
        "first power ignition",
        "wakes dial1",
        "wakes dial2",
        "wakes dial3",
        "lamps",
        "volts at dial3 lamp",
    ]
    assert tests[-1][1] == ("at least 11.95 V of 12.00 V at the source",)


def spare(console: Console, label: str, live: bool, stage: str = "bench") -> Pigtail:
    """An unused pigtail like the ignition's."""
    used = console.circuit("ignition").pigtail
    assert used is not None
    return replace(used, label=label, circuit="", cap_off=True, live=live, stage=stage, fuse_ma=0)


def test_caps_live_first() -> None:
    """Live pigtails are capped before dead ones and before anything is cut."""
    console = bench_console()
    unused = (spare(console, "alarm", False), spare(console, "trim", True))
    plan = assembled(replace(console, unused_pigtails=unused))
    assert [(c.pigtail, c.live, c.item) for c in plan.caps] == [
        ("trim", True, "red cap"),
        ("alarm", False, "red cap"),
    ]
    assert [(s.verb, s.target) for s in plan.steps[:3]] == [
        ("cap", "trim"),
        ("cap", "alarm"),
        ("cut", "ignition 1"),
    ]
    assert "live" in plan.steps[0].text and "live" not in plan.steps[1].text
    assert ("red cap", 2) in [(line.item, line.need) for line in plan.buy]
    assert any("trim" in caution for caution in plan.cautions)


def test_a_pigtail_that_comes_aboard_is_capped_aboard() -> None:
    """What is not there on the bench can not be capped there."""
    console = bench_console()
    plan = assembled(replace(console, unused_pigtails=(spare(console, "trim", True, "aboard"),)))
    assert [s.stage for s in plan.steps if s.verb == "cap"] == ["aboard"]


def test_cap_must_take_the_wire() -> None:
    """A wire too thick for every cap gets none, and one below the range may be folded."""
    wire = bench_console().circuits[0].pigtail
    assert wire is not None
    limits, stock = bench_limits(), bench_stock()
    assert cap_for(replace(wire.wire, area_um2=1_800_000), limits, stock) == ""
    thin = replace(wire.wire, area_um2=500_000)
    assert cap_for(thin, limits, stock) == "red cap"
    assert cap_for(thin, bench_limits(fold_back=False), stock) == ""


def test_ties_without_a_loom() -> None:
    """Every 40 mm: jumpers of 100 mm take 2, the take-off of 91.6 mm takes 2.

    Pigtails: ignition sqrt(150^2 + 55^2) = 159.8 + 50 = 209.8 takes 5; ground 178.7 + 50 = 228.7
    takes 5. Senders state no entry.
    """
    plan = assembled(limits=bench_limits(support_distance_dmm=400))
    assert {tie.where: tie.count for tie in plan.ties} == {
        **{f"along ignition {n}": 2 for n in (1, 2)},
        **{f"along ground {n}": 2 for n in (1, 2)},
        **{f"along lamps {n}": 2 for n in (1, 2, 3)},
        "along pigtail ground": 5,
        "along pigtail ignition": 5,
    }
    tied = [s for s in plan.steps if s.verb == "tie"]
    assert {s.stage for s in tied} == {"bench"}
    assert ("cable tie", 24) in [(line.item, line.need) for line in plan.buy]


def test_supports_along_a_run() -> None:
    """One per support distance where a run is longer than one."""
    assert [between(length, 100) for length in (99, 100, 101, 200, 250)] == [0, 0, 1, 2, 2]


def test_straight_routes_are_plain_distances() -> None:
    """The routes these tests stand on: 100 mm between neighbours, heights added."""
    routes = straight_routes(bench_console())
    assert routes.between("dial1.ground", "dial2.ground").path_dmm == 1000
