"""Straps on tiny consoles, every number reckoned by hand (lengths in 0.1 mm)."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from random import Random
from types import MappingProxyType
from typing import Any

import networkx as nx
import pytest
from support.limits import plain_limits

from brute.by_hand import STOCK, console, pigtail, post, two_dials
from brute.by_hand import best as best_with
from brute.case import Case
from brute.statements import Statements, Strap
from brute.straight_routes import leg_dmm
from brute.test_joints_by_hand import only_hub, with_post
from brute.test_ways_by_hand import SHELF, keyed
from lugwright.limits.schema import Limits
from lugwright.scenario.console import Console, Load

SHORTEST = plain_limits(objective="shortest")
BAR = Strap(("a.ignition", "b.ignition"), 10)


def best(given: Console, limits: Limits = SHORTEST, *straps: Strap) -> tuple[int, ...] | None:
    """The least cost with these straps."""
    return best_with(given, limits, SHELF, more=Statements(straps))


def three_dials() -> Console:
    """Dials a at 300, b at 1300 and c at 1500, 1 A each; the ignition pigtail at the origin."""
    posts = [post(name, "ignition", x, 0) for name, x in (("a", 300), ("b", 1300), ("c", 1500))]
    loads = [Load(each.instrument, each.id, "", 1000, "other") for each in posts]
    return console(posts, loads, ignition=pigtail("ignition"))


def test_what_a_strap_joins_needs_no_jumper() -> None:
    """On the stud where the pigtail lands its ring lies with the strap's lug: one stacked lug.

    The other stud has the strap's alone. One fitting, no wire. Where no lug may be stacked
    there is no plan.
    """
    assert best(two_dials(), SHORTEST) == (1000, 0, 2)
    assert best(two_dials(), SHORTEST, BAR) == (0, 1, 1)
    assert best(two_dials(), replace(SHORTEST, lugs_per_stud=1), BAR) is None


def test_its_lugs_count_in_stacks_and_its_studs_are_one_point_of_the_tree() -> None:
    """c hangs on b, 200 on. Landing at c: pigtail and jumper in one lug there, one on b's strap.

    Landing at a: a's strap and pigtail, b's strap and jumper, c: two stacked, three fittings.
    """
    assert best(three_dials(), SHORTEST, BAR) == (200, 1, 2)
    assert best(only_hub(three_dials(), "a"), SHORTEST, BAR) == (200, 2, 3)
    lowest = plain_limits(objective="lowest-stacks")
    assert best(three_dials(), lowest, BAR) == (1, 2, 200, 2)


def test_it_counts_as_one_conductor() -> None:
    """Landing at b alone: strap, pigtail and jumper are three conductors, in two lugs.

    With two allowed the jumper leaves a, 1200 to c: two conductors there and at b; with one the
    pigtail has no room.
    """
    given = only_hub(three_dials(), "b")
    for most, found in ((3, (200, 1, 2)), (2, (1200, 2, 3)), (1, None)):
        limits = replace(SHORTEST, stud_count="conductors", lugs_per_stud=most)
        assert best(given, limits, BAR) == found
    assert best(given, replace(SHORTEST, lugs_per_stud=2), BAR) == (200, 1, 2)


def test_its_thickness_counts_in_the_thread() -> None:
    """Strap 10, ring 10, nut 30: 50 of thread where the pigtail lands, 40 on the other stud."""
    for thread, other, found in ((50, 40, (0, 1, 1)), (49, 49, None), (50, 39, None)):
        given = with_post(two_dials(), "a.ignition", free_thread_dmm=thread)
        given = with_post(given, "b.ignition", free_thread_dmm=other)
        assert best(given, SHORTEST, BAR) == found
    thicker = replace(BAR, thickness_dmm=11)
    given = with_post(two_dials(), "b.ignition", free_thread_dmm=41)
    assert best(with_post(given, "a.ignition", free_thread_dmm=51), SHORTEST, thicker) == (0, 1, 1)
    assert best(with_post(given, "a.ignition", free_thread_dmm=50), SHORTEST, thicker) is None


def test_it_counts_among_the_lugs_that_need_room() -> None:
    """Its own angle is nought; with a ring of 180 degrees it is the second of two that fit."""
    for angle, found in ((180, (0, 1, 1)), (181, None)):
        rings = tuple(replace(each, barrel_angle_deg=angle) for each in STOCK.fittings)
        stock = replace(STOCK, fittings=rings)
        assert best_with(two_dials(), SHORTEST, stock, more=Statements((BAR,))) == found


def test_its_landings_are_paid_for() -> None:
    """One money a minute: two lugs of the strap landed, 2; the pigtail's ring 0.2 + 1 + 1."""
    assert best(two_dials(), plain_limits(objective="cheapest"), BAR) == (4_200_000,)


def test_it_carries_what_flows_through_it() -> None:
    """Landing at a it carries b's 0.5 A, landing at b a's 1 A.

    With 49 of thread there is no room for a ring on its stud (10 + 10 + 30).
    """
    for most, found in ((500, (0, 1, 1)), (499, None)):
        assert best(two_dials(), SHORTEST, replace(BAR, carries_ma=most)) == found
    full = with_post(two_dials(), "a.ignition", free_thread_dmm=49)
    for most, found in ((1000, (0, 1, 1)), (999, None)):
        assert best(full, SHORTEST, replace(BAR, carries_ma=most)) == found


def test_it_carries_for_all_beyond_it() -> None:
    """Over a, b and c: from the stud where the pigtail lands 2 A go over to the other two.

    Over b and c, landing at a, whose jumper of 1000 comes to b: the strap takes 1 A on to c.
    """
    every = Strap(("a.ignition", "b.ignition", "c.ignition"), 10)
    for most, found in ((2000, (0, 1, 1)), (1999, None)):
        assert best(three_dials(), SHORTEST, replace(every, carries_ma=most)) == found
    two = Strap(("b.ignition", "c.ignition"), 10)
    for most, found in ((1000, (1000, 1, 2)), (999, None)):
        given = only_hub(three_dials(), "a")
        assert best(given, SHORTEST, replace(two, carries_ma=most)) == found


def test_a_studs_current_counts_the_straps_tongue() -> None:
    """Landing at a: 1.5 A in, 0.5 A over the strap, 1 A into the dial: half of 3 A.

    At b 0.5 A in by the strap and into the dial: half of 1 A.
    """
    for at_a, at_b, found in ((1500, 500, (0, 1, 1)), (1499, 500, None), (1500, 499, None)):
        given = with_post(two_dials(), "a.ignition", carries_ma=at_a)
        given = with_post(given, "b.ignition", carries_ma=at_b)
        assert best(given, SHORTEST, BAR) == found


def test_the_contact_of_both_lugs_counts_in_the_drop() -> None:
    """Landing at a: pigtail of 900 mm, 11937 uOhm x 1.5 A; then 0.5 A over two contacts to b.

    17 905 500 + 2 x 1000 x 500 = 18 905 500 nV; from b to a with 1 A 1 000 000 nV more. Over a,
    b and c: 11937 x 3000 + 1000 x 2000 (2 A at the stud of the pigtail) + 1000 x 1000
    = 38 811 000 nV.
    """
    limits = plain_limits(objective="shortest", drop_other_permille=1)
    bar = replace(BAR, contact_uohm=1000)
    for volts, found in ((18_906, (0, 1, 1)), (18_905, None)):
        assert best(replace(two_dials(), nominal_mv=volts), limits, bar) == found
    full = with_post(two_dials(), "a.ignition", free_thread_dmm=49)
    for volts, found in ((19_906, (0, 1, 1)), (19_905, None)):
        assert best(replace(full, nominal_mv=volts), limits, bar) == found
    every = Strap(("a.ignition", "b.ignition", "c.ignition"), 10, 1000)
    for volts, found in ((38_811, (0, 1, 1)), (38_810, None)):
        assert best(replace(three_dials(), nominal_mv=volts), limits, every) == found


def test_drop_over_a_strap_and_on_over_a_jumper() -> None:
    """Landing at a; the strap brings 2 A to b, a jumper of 20 mm 1 A on to c.

    11937 x 3000 + 2 x 1000 x 2000 + 266 x 1000 = 35 811 000 + 4 000 000 + 266 000 nV. From a
    straight to c, 120 mm: 1592 x 1000 to c, 35 811 000 + 1 592 000, and to b less than either.
    """
    limits = plain_limits(objective="shortest", drop_other_permille=1)
    given, bar = only_hub(three_dials(), "a"), replace(BAR, contact_uohm=1000)
    for volts, found in ((40_077, (200, 2, 3)), (40_076, (1200, 1, 2)), (37_810, None)):
        assert best(replace(given, nominal_mv=volts), limits, bar) == found


def test_two_straps_over_one_stud() -> None:
    """a with b, b with c: b has two lugs of straps. No jumper; the pigtail lands on a or c.

    Contacts of 1000: from a to c 2 A, 2 A, 1 A, 1 A: 35 811 000 + 6 000 000 nV. In the middle,
    at b: 1 A over two contacts, 2 000 000, but two lugs stacked.
    """
    straps = BAR, Strap(("b.ignition", "c.ignition"), 10)
    assert best(three_dials(), SHORTEST, *straps) == (0, 2, 1)
    assert best(three_dials(), replace(SHORTEST, lugs_per_stud=2), *straps) == (0, 2, 1)
    limits = plain_limits(objective="lowest-stacks", drop_other_permille=1)
    lossy = tuple(replace(each, contact_uohm=1000) for each in straps)
    for volts, tallest in ((41_811, 2), (41_810, 3), (37_811, 3), (37_810, None)):
        found = best(replace(three_dials(), nominal_mv=volts), limits, *lossy)
        assert found == (None if tallest is None else (2, tallest, 0, 1))


def test_lamps_on_a_strap_take_one_jumper() -> None:
    """1000 of ignition, one lamp jumper of 400 to a strapped lamp stud.

    Ignition 3 lugs, 1 stacked; on the lamp stud the ring lies on the strap: 1 stacked, 1 lug.
    """
    posts = [
        *(post(name, "ignition", x, 0) for name, x in (("a", 300), ("b", 1300))),
        *(post(name, "lamps", x, 400) for name, x in (("a", 300), ("b", 1300))),
    ]
    loads = [Load(name, f"{name}.lamps", "", 100, "other") for name in "ab"]
    given = console(posts, loads, ignition=pigtail("ignition"), lamps=None)
    assert best(given, SHORTEST, Strap(("a.lamps", "b.lamps"), 10)) == (1400, 2, 4)


def test_what_is_strapped_to_a_far_post_is_no_second_way_out() -> None:
    """One jumper leaves the key's own stud: 1200 to b and 200 on, though a is nearer b.

    Lugs: battery, key, b, c; the key's lies on the strap. The strap takes a's 1 A.
    """
    far = Strap(("key.ignition", "a.ignition"), 10)
    assert best(keyed(), SHORTEST, far) == (1400, 1, 4)
    assert best(keyed(), SHORTEST, replace(far, carries_ma=1000)) == (1400, 1, 4)
    assert best(keyed(), SHORTEST, replace(far, carries_ma=999)) is None


def test_a_circuit_of_one_strap_lands_whatever_the_hub() -> None:
    """c alone may be the hub and has no ground. Ignition 1200 over three lugs, landing at c.

    The ground is one point: its pigtail's ring lies on the strap. Without the strap the ground
    has nowhere to land.
    """
    given = three_dials()
    grounds = [post(name, "ground", x, 300) for name, x in (("a", 300), ("b", 1300))]
    pigtails: dict[str, Any] = {"ignition": pigtail("ignition"), "ground": pigtail("ground")}
    made = console([*given.posts, *grounds], list(given.loads), **pigtails)
    strap = Strap(("a.ground", "b.ground"), 10)
    assert best(only_hub(made, "c"), SHORTEST, strap) == (1200, 1, 4)
    assert best(only_hub(made, "c"), SHORTEST) is None


def test_what_no_strap_may_join() -> None:
    """A tab; posts of two circuits; one instrument alone; what is joined twice over."""
    tab = with_post(two_dials(), "b.ignition", kind="tab", tab_size="6.3 x 0.8", thread="")
    with pytest.raises(ValueError, match="on studs"):
        best(tab, SHORTEST, BAR)
    other = [post("a", "ignition", 300, 0), post("b", "ground", 1300, 0)]
    circuits: dict[str, Any] = {"ignition": pigtail("ignition"), "ground": pigtail("ground")}
    with pytest.raises(ValueError, match="one circuit"):
        best(console(other, [], **circuits), SHORTEST, Strap(("a.ignition", "b.ground"), 10))
    with pytest.raises(ValueError, match="several instruments"):
        best(two_dials(), SHORTEST, Strap(("a.ignition",), 10))
    with pytest.raises(ValueError, match="twice over"):
        best(two_dials(), SHORTEST, BAR, replace(BAR, thickness_dmm=5))


@pytest.mark.parametrize("seed", range(6))
def test_length_alone_is_the_shortest_tree_over_what_is_strapped(seed: int) -> None:
    """With a strap a piece of the tree that costs nothing: networkx's least spanning tree.

    The same when every way is kept.
    """
    rng = Random(seed)
    posts = [
        post(f"dial {number}", "ignition", rng.randint(0, 3000), rng.randint(0, 1500))
        for number in range(5)
    ]
    loads = [Load(each.instrument, each.id, "", 100, "other") for each in posts]
    given = console(posts, loads, ignition=pigtail("ignition"))
    names = [each.id for each in posts]
    rng.shuffle(names)
    graph: nx.Graph[str] = nx.Graph()
    for one, other in combinations(posts, 2):
        graph.add_edge(one.id, other.id, weight=leg_dmm(one.at, other.at))
    for one_name, other_name in combinations(names[:3], 2):
        graph[one_name][other_name]["weight"] = 0
    expected = int(nx.minimum_spanning_tree(graph).size(weight="weight"))

    weights = MappingProxyType({"length": 1, "stacked": 0, "fittings": 0, "money": 0})
    limits = plain_limits(objective="weights", weights=weights)
    more = Statements((Strap(tuple(names[:3]), 5),))
    case = Case(given, limits, STOCK, seed, frozenset(), {}, more)
    assert case.best().cost == (expected,)
    assert case.best(thorough=True).cost == (expected,)
