"""Tests of the enumerator against arithmetic by hand, spanning trees, and itself unpruned."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import combinations, islice
from random import Random
from types import MappingProxyType

import networkx as nx
import pytest
from support.limits import plain_limits

from brute.by_hand import best, console, pigtail, post, two_dials
from brute.case import Case
from brute.loosen import RULES, loosened
from brute.random_consoles import draw, random_case
from brute.straight_routes import leg_dmm
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.console import (
    Load,
    Point,
    ReadyRing,
)


def test_two_dials_share_one_barrel() -> None:
    """One 1000 jumper; pigtail and jumper (2.6 mm2) share a 2.7 mm2 barrel: 1 lug on each stud."""
    assert best(two_dials(), plain_limits(objective="shortest")) == (1000, 0, 2)


def test_two_dials_one_wire_a_barrel() -> None:
    """With one wire a barrel the landing stud has two lugs: one stacked, three fittings.

    By default worths: 1000 + 400 x 1 + 250 x 3 = 2150.
    """
    limits = plain_limits(wires_per_barrel=1)
    assert best(two_dials(), replace(limits, objective="shortest")) == (1000, 1, 3)
    assert best(two_dials(), replace(limits, objective="lowest-stacks")) == (1, 2, 1000, 3)
    assert best(two_dials(), limits) == (2150,)


def test_two_dials_in_money() -> None:
    """Wire 0.1 m x 1.00; 2 rings x 0.20; work 0.5 + 2 x 1 + 2 x 1 min at 60 an hour: 5.00."""
    assert best(two_dials(), plain_limits(objective="cheapest")) == (100_000 + 400_000 + 4_500_000,)


def test_two_dials_length_is_built_up() -> None:
    """1000 x 1.05 + 2 x 60 = 1170, up to a step of 100: 1200; with a least length of 1250: 1300."""
    limits = plain_limits(
        objective="shortest", slack_permille=50, end_allowance_dmm=60, cut_step_dmm=100
    )
    assert best(two_dials(), limits) == (1200, 0, 2)
    assert best(two_dials(), replace(limits, minimum_jumper_dmm=1250)) == (1300, 0, 2)


def test_ready_made_ring_is_stacked_and_not_crimped() -> None:
    """The jumper's ring lies on the ready-made one: 1 stacked lug, 2 fittings."""
    feed = {"ring": ReadyRing("M4", 8, 60)}
    assert best(two_dials(**feed), plain_limits(objective="shortest")) == (1000, 1, 2)
    wrong = {"ring": ReadyRing("M5", 8, 60)}
    assert best(two_dials(**wrong), plain_limits(objective="shortest")) is None


def test_extension_makes_up_the_shortfall() -> None:
    """Reach 200: dial a wants 300 + 50 travel, so 150 more: one piece of 150 and one butt.

    The ready-made ring is cut off, so the piece's end shares the jumper's barrel again.
    """
    given = replace(two_dials(reach_dmm=200, ring=ReadyRing("M4", 8, 60)), service_travel_dmm=50)
    limits = plain_limits(objective="shortest")
    assert best(given, limits) is None
    assert best(given, replace(limits, extensions=True)) == (1150, 0, 3)


def test_thread_decides_at_a_tenth_of_a_millimetre() -> None:
    """Two rings of 10, nut 30, showing thread 1.5 x 0.7 mm up to 11: 61 is enough, 60 is not."""
    limits = plain_limits(objective="shortest", wires_per_barrel=1, showing_thread_permille=1500)
    for free, expected in ((61, (1000, 1, 3)), (60, None)):
        given = two_dials()
        posts = tuple(replace(each, free_thread_dmm=free) for each in given.posts)
        assert best(replace(given, posts=posts), limits) == expected


def test_drop_decides_at_the_last_nanovolt() -> None:
    """Landing at a: pigtail 0.9 m and jumper 0.1 m of 1.3 mm2 at 20 C.

    17241 / 1.3 = 13262.3, up: 13263 nOhm/mm. Pigtail 900 mm: 11937 uOhm (up) x 1500 mA;
    jumper 100 mm: 1327 uOhm (up) x 500 mA: 17 905 500 + 663 500 = 18 569 000 nV to b. The limit
    at 1 permille of 18.569 V is 18 569 000 nV.
    """
    limits = plain_limits(objective="shortest", drop_other_permille=1)
    given = two_dials()
    only_a = tuple(replace(each, hub_candidate=each.name == "a") for each in given.instruments)
    given = replace(given, instruments=only_a)
    assert best(replace(given, nominal_mv=18_569), limits) == (1000, 0, 2)
    assert best(replace(given, nominal_mv=18_568), limits) is None


def test_lamp_lug_lies_apart_on_the_landing_stud() -> None:
    """The lamp jumper (0 to 500 away) takes a barrel of its own on the stud where supply lands.

    Only a is a hub: 1000 between the dials, 400 from a's ignition to a's lamp, 1000 on to b's.
    Lugs: a ignition 2 (shared, lamp), b ignition 1, a lamp 1 (two ends), b lamp 1.
    """
    posts = [
        post("a", "ignition", 300, 0),
        post("b", "ignition", 1300, 0),
        post("a", "lamps", 300, 400),
        post("b", "lamps", 1300, 400),
    ]
    loads = [Load("a", "a.lamps", "", 100, "other"), Load("b", "b.lamps", "", 100, "other")]
    given = console(posts, loads, ignition=pigtail("ignition"), lamps=None)
    limits = plain_limits(objective="shortest")
    assert best(given, limits) == (2400, 1, 5)
    assert best(given, replace(limits, lugs_per_stud=1)) is None
    anywhere = replace(limits, lamp_take_off="any")
    # two lamp jumpers of 400, each from its own dial: no lamp-to-lamp wire of 1000
    assert best(given, anywhere) == (1800, 2, 6)


def test_splice_joins_three_posts() -> None:
    """A splice between three posts is used where it saves wire, and only where it may hang."""
    places = ((0, 0), (1200, 0), (600, 600))
    posts = [post(name, "ignition", x, y) for name, (x, y) in zip("abc", places, strict=True)]
    loads = [Load(p.instrument, p.id, "", 100, "other") for p in posts]
    given = console(posts, loads, ignition=pigtail("ignition"))
    middle = SplicePoint("ignition~1", "ignition", Point(600, 100, 0))
    splices = {"ignition": (middle,)}
    limits = plain_limits(objective="shortest", splices=True)
    # to the middle: ceil(hypot(600, 100)) = 609 twice and 500; without: 849 twice
    assert best(given, limits, splices=splices) == (1698, 0, 3)
    nearer = {"ignition": (replace(middle, at=Point(600, 300, 0)),)}
    # 671 + 671 + 300 = 1642 < 1698; rings 3 and one butt 4
    assert best(given, limits, splices=nearer) == (1642, 0, 4)
    assert best(given, replace(limits, splice_to_post_dmm=301), splices=nearer) == (1698, 0, 3)
    assert best(given, replace(limits, splices=False), splices=nearer) == (1698, 0, 3)


@pytest.mark.parametrize("seed", range(8))
def test_length_alone_is_the_shortest_spanning_tree(seed: int) -> None:
    """With nothing in the way, each circuit's wire is its minimum spanning tree (networkx)."""
    rng = Random(seed)
    posts = [
        post(f"dial {number}", circuit, rng.randint(0, 3000), rng.randint(0, 1500))
        for number in range(5)
        for circuit in ("ignition", "ground")
    ]
    loads = [Load(f"{n}", f"dial {n}.ignition", f"dial {n}.ground", 100, "other") for n in range(5)]
    given = console(posts, loads, ignition=pigtail("ignition"), ground=pigtail("ground"))
    expected = 0
    for circuit in ("ignition", "ground"):
        graph: nx.Graph[str] = nx.Graph()
        for one, other in combinations([p for p in posts if p.circuit == circuit], 2):
            graph.add_edge(one.id, other.id, weight=leg_dmm(one.at, other.at))
        expected += int(nx.minimum_spanning_tree(graph).size(weight="weight"))

    weights = MappingProxyType({"length": 1, "stacked": 0, "fittings": 0, "money": 0})
    assert best(given, plain_limits(objective="weights", weights=weights)) == (expected,)


@cache
def quick_cases() -> tuple[Case, ...]:
    """The random cases of three instruments among the first twenty."""
    cases = map(random_case, range(9))
    return tuple(case for case in cases if len(case.console.instruments) == 3)


def _few_ways(case: Case) -> bool:
    """Few enough trees and sizes to keep every way of a circuit."""
    posts = [len(circuit.posts) for circuit in case.console.circuits]
    plain = not any(case.splices.values()) and case.limits.wire_size_choice == "circuit"
    at_landing = case.limits.lamp_take_off == "landing"
    return plain and at_landing and max(posts) <= 4 and sum(posts) <= 8


def test_leaving_out_what_is_beaten_changes_nothing() -> None:
    """The same least cost when every way is kept, over random cases with few ways."""
    cases = list(islice(filter(_few_ways, map(random_case, range(100))), 3))
    assert len(cases) == 3
    for case in cases:
        assert case.best(thorough=True).cost == case.best().cost, case.seed


@pytest.mark.parametrize("rule", [rule for rule in RULES if rule != "reach"])
def test_taking_a_rule_away_never_costs_more(rule: str) -> None:
    """Without a rule every plan is still a plan, so the least cost cannot rise.

    Not so for the reach: where a pigtail is long enough its ready-made ring is not cut off.
    """
    compared = 0
    for case in quick_cases():
        cost, free = case.best().cost, loosened(case, rule).best().cost
        if cost is not None:
            compared += 1
            assert free is not None, case.seed
            assert free <= cost, case.seed
    assert compared >= 3


def test_same_seed_same_case() -> None:
    """A case is named by its number: drawn anew it is the same, down to what was found for it."""
    one = random_case(12)
    random_case.cache_clear()
    again = random_case(12)
    assert again is not one
    assert again == one
    assert draw(12) == draw(12)
    assert random_case(8) != one
