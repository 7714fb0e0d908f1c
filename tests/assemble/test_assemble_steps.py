"""The steps: a person must be able to build from them alone, in that order."""

from __future__ import annotations

import re
from dataclasses import replace

from support.bench import (
    ONE,
    assembled,
    bench_choice,
    bench_console,
    bench_limits,
    bench_stock,
    fitting,
    straight_routes,
)

from lugwright.assemble.cable_ties import between
from lugwright.assemble.caps import cap_for
from lugwright.checker.run import check_plan
from lugwright.plans.schema import Plan
from lugwright.readings.lines import sheet_of
from lugwright.readings.words import band_text
from lugwright.scenario.brief import Brief
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


def test_a_ring_stud_has_no_nut_yet_at_the_bench() -> None:
    """The stud that gets rings only keeps nut and washer in the bag; the other's is loose."""
    hint = next(s for s in assembled().steps if s.target == "left loose")
    assert hint.text == (
        "Before the panel leaves the bench, see that nuts are still loose on dial3.ground and that "
        "no nut is on dial3.signal yet (keep its own nut and washer in the bag)."
    )


def spades_for_the_sender() -> Plan:
    """The sender's two wires in captive spades."""
    choice = bench_choice()
    fittings = tuple(
        replace(item, item="red spade") if "sender3" in item.barrels[0][0].name else item
        for item in choice.fittings
    )
    stock = bench_stock(fitting("red spade", "captive spade", (ONE,)))
    return assembled(stock=stock, choice=replace(choice, fittings=fittings))


def test_a_captive_spade_slips_under_a_slackened_nut() -> None:
    """Washer and nut are on by then, also where nothing else lies; none comes off again."""
    plan = spades_for_the_sender()
    at = {
        post: [(s.stage, s.verb) for s in plan.steps if s.target == post]
        for post in ("dial3.ground", "dial3.signal")
    }
    loosely = [("bench", "washer"), ("bench", "nut loose")]
    aboard = [("aboard", "land"), ("aboard", "nut snug")]
    assert at["dial3.ground"] == [("bench", "land"), *loosely, *aboard]
    assert at["dial3.signal"] == [*loosely, *aboard]
    text = next(s.text for s in plan.steps if (s.stage, s.verb) == ("aboard", "land"))
    assert text == (
        "Slacken the #8-32 UNC nut on dial3.ground, slip crimp 13 (captive spade on "
        "sender3: black) under the lock washer as lug 2 from the base, barrel at 1 o'clock seen "
        "from the back."
    )
    assert "no nut is on" not in next(s.text for s in plan.steps if s.target == "left loose")


def test_the_checker_plays_slipped_spades() -> None:
    """The player finds nothing wrong with the steps of a plan whose spades slip under."""
    stock = bench_stock(fitting("red spade", "captive spade", (ONE,)))
    report = check_plan(Brief(bench_console(), bench_limits(), stock), spades_for_the_sender())
    assert [one for one in report.findings if one.rule.startswith("step")] == []


def test_posts_left_bare_are_named() -> None:
    """A post no wire is wanted on is named in one line; without such a post there is none."""
    console = bench_console()
    spare_stud = replace(console.posts[0], id="dial1.second", name="second", circuit="")
    plan = assembled(replace(console, posts=(*console.posts, spare_stud)))
    step = next(s for s in plan.steps if s.target == "left bare")
    assert (step.stage, step.parts) == ("bench", ("dial1.second",))
    assert step.text.endswith("dial1.second.")
    assert not any(s.target == "left bare" for s in assembled().steps)


def test_no_washer_steps_without_lock_washers() -> None:
    """A limit without lock washers leaves the washer steps out."""
    plan = assembled(limits=bench_limits(lock_washer=False))
    assert not any(item.verb == "washer" for item in plan.steps)


def test_sentences_hold_what_the_bench_needs() -> None:
    """Label, length, colour, strips and ends; fitting, die and wire ends; driver."""
    texts = {(s.verb, s.target): s.text for s in assembled().steps}
    assert texts["cut", "ground 1"] == (
        "Cut ground 1: 125 mm of black 16 AWG. Bare 8 mm at end a (for dial2.ground) and "
        "7 mm at end b (for dial1.ground). Tag both ends ground 1."
    )
    assert texts["crimp", "2"] == (
        "Crimp 2: blue ring for dial2.ground: ground 1-a + ground 2-a. Twist together. "
        "Die blue; tug each wire."
    )
    assert texts["crimp", "1"] == (
        "Crimp 1: red ring for dial2.ground: pigtail ground (black 16 AWG, bare 7 mm). "
        "Die red; tug each wire. Do not cut the pigtail to length: service loop, then a drip loop "
        "before the post."
    )
    assert "with the 11/32 in nut driver" in texts["nut snug", "dial2.ground"]


def test_key_on_is_the_procedure_of_the_test_sheet() -> None:
    """Its parts in order, and every line's number, place and band in one of its steps."""
    plan = assembled()
    sheet = sheet_of(plan)
    steps = [step for step in plan.steps if step.stage == "key-on"]
    headings = [step.target for step in steps if step.target[:1].isdigit()]
    assert headings == [
        "1. Ohms, battery off",
        "2. First power, through a lamp",
        "3. Fuses in, key off",
        "4. Key on, everything on",
        "5. Engine running",
    ]
    told = " ".join(step.text for step in steps)
    for line in sheet.lines:
        assert all(words in told for words in (line.at_words, line.what, line.start_words))
        assert line.unit == "yes or no" or band_text(line) in told
    named = [word for step in steps for word in numbers_in(step.target)]
    assert named == [line.id for line in sheet.lines]


def numbers_in(target: str) -> list[str]:
    """The lines a step names: ``volts 3 to 5`` is three."""
    found = []
    for part in target.split(", "):
        match = re.fullmatch(r"(ohms|amps|volts|seen) (\d+)(?: to (\d+))?", part)
        if match:
            last = int(match[3] or match[2])
            found += [f"{match[1]} {n}" for n in range(int(match[2]), last + 1)]
    return found


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
    assert "LIVE" in plan.steps[0].text and "LIVE" not in plan.steps[1].text
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
    brief = Brief(bench_console(), bench_limits(), bench_stock())
    assert cap_for(replace(wire.wire, area_um2=1_800_000), brief) == ""
    thin = replace(wire.wire, area_um2=500_000)
    assert cap_for(thin, brief) == "red cap"
    unfolded = replace(brief, limits=bench_limits(fold_back=False))
    assert cap_for(thin, unfolded) == ""


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
