"""Two ground pigtails of one circuit, every number reckoned by hand (lengths in 0.1 mm)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.limits import plain_limits

from brute.by_hand import BUTT, PURPLE, RING, STOCK, WIRE, console, pigtail, post
from brute.by_hand import best as best_with
from brute.case import Case
from brute.statements import Statements, Strap
from brute.test_joints_by_hand import stock_of
from lugwright.limits.schema import Limits
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.console import Circuit, Console, Load, Pigtail, Point, ReadyRing
from lugwright.stock.schema import Stock

SHORTEST = plain_limits(objective="shortest")
BY_DROP = plain_limits(objective="shortest", drop_other_permille=1)


def starboard(x: int, **extra: Any) -> Pigtail:
    """A ground pigtail of the other harness, whose entry is at (x, 0)."""
    stage = extra.pop("stage", "bench")
    made = replace(pigtail("ground", **extra), entry=Point(x, 0, 0), stage=stage)
    return replace(made, harness="starboard")


def dials(places: dict[str, tuple[int, int]], amperes: dict[str, int], **port: Any) -> Console:
    """Dials with a ground alone, and what comes back there (mA); the port pigtail at the origin."""
    posts = [post(name, "ground", x, y) for name, (x, y) in places.items()]
    loads = [Load(name, "", f"{name}.ground", amperes[name], "other") for name in places]
    stage = port.pop("stage", "bench")
    return console(posts, loads, ground=replace(pigtail("ground", **port), stage=stage))


def best(
    given: Console,
    other: Pigtail,
    limits: Limits = SHORTEST,
    stock: Stock = STOCK,
    splices: tuple[SplicePoint, ...] = (),
    straps: tuple[Strap, ...] = (),
) -> tuple[int, ...] | None:
    """The least cost with the other harness's pigtail."""
    more = Statements(straps, joined_aboard=(other,))
    return best_with(given, limits, stock, {"ground": splices}, more)


A_AND_B = {"a": (300, 0), "b": (1300, 0)}
UNEVEN = {"a": 1000, "b": 500}


def test_one_tree_with_two_pigtails_that_land_apart_or_together() -> None:
    """a and b are 1000 apart: a pigtail and the jumper share a lug on each.

    Where neither may stand with another wire in a barrel: two lugs on each.
    """
    given = dials(A_AND_B, UNEVEN)
    assert best(given, starboard(1600)) == (1000, 0, 2)
    assert best(given, starboard(1600), replace(SHORTEST, pigtail_barrel="own")) == (1000, 2, 4)


@pytest.mark.parametrize(
    ("port", "other", "own", "found"),
    [
        ("bench", "bench", "shared", (0, 0, 1)),
        ("bench", "bench", "own", (0, 1, 2)),
        ("bench", "aboard", "shared", (0, 1, 2)),
        ("aboard", "aboard", "shared", (0, 1, 2)),
    ],
)
def test_both_on_one_post(port: str, other: str, own: Any, found: tuple[int, ...]) -> None:
    """Two bare pigtails of the bench in one lug; what comes aboard comes by itself, each."""
    given = dials({"a": (300, 0)}, {"a": 1000}, stage=port)
    limits = replace(SHORTEST, pigtail_barrel=own)
    assert best(given, starboard(1600, stage=other), limits) == found


def test_each_load_drops_over_the_worse_pigtail() -> None:
    """900 mm of pigtail: 11937 uOhm, 1.5 A, 17 905 500 nV. The jumper: 1327 uOhm.

    Port at a: 0.5 A over the jumper, 663 500 nV. Starboard at b: a's 1 A over it, 1 327 000 nV.
    So where 19 232 500 nV are too many, both land at a: three ends there, one lug more.
    """
    given = dials(A_AND_B, UNEVEN)
    for volts, found in (
        (19_233, (1000, 0, 2)),
        (19_232, (1000, 1, 3)),
        (18_569, (1000, 1, 3)),
        (18_568, None),
    ):
        assert best(replace(given, nominal_mv=volts), starboard(1600), BY_DROP) == found


def test_each_load_drops_over_the_longer_pigtail() -> None:
    """Starboard has 1800 mm: 13263 x 1800 = 23 874 uOhm (up), by 1.5 A 35 811 000 nV.

    At b 1 327 000 nV more for a. At a 663 500 nV more for b, and port lands at b, the shorter
    pigtail by the longer way.
    """
    given = dials(A_AND_B, UNEVEN)
    for volts, found in ((36_475, (1000, 0, 2)), (36_474, None)):
        other = starboard(1600, reach_dmm=18_000)
        assert best(replace(given, nominal_mv=volts), other, BY_DROP) == found


def test_each_pigtail_carries_everything() -> None:
    """1.5 A come back, by the one or the other."""
    given = dials(A_AND_B, UNEVEN)
    for most, found in ((1500, (1000, 0, 2)), (1499, None)):
        thin = replace(starboard(1600), wire=replace(WIRE, carries_ma=most))
        assert best(given, thin) == found
        own = replace(given.circuits[0], pigtail=replace(pigtail("ground"), wire=thin.wire))
        assert best(replace(given, circuits=(own,)), starboard(1600)) == found


def test_what_flows_in_a_lug_is_the_worse_of_both() -> None:
    """a, b, c in a row with 3 A, 1 A, 1 A; ready-made rings, port's at a, starboard's at c.

    Port alone: 2 A between a and b, 1 A on to c. Starboard alone: 3 A and 4 A, in b's lug. With
    less for a lug: a and b each to c by themselves, 1200 + 200, 3 A and 1 A in two lugs there.
    """
    places = {"a": (300, 0), "b": (1300, 0), "c": (1500, 0)}
    ring = ReadyRing("M4", 8, 60)
    given = dials(places, {"a": 3000, "b": 1000, "c": 1000}, reach_dmm=300, ring=ring)
    other = starboard(1600, reach_dmm=100, ring=ring)
    for most, found in (
        (4000, (1200, 2, 3)),
        (3999, (1400, 3, 4)),
        (3000, (1400, 3, 4)),
        (2999, None),
    ):
        stock = stock_of(replace(RING, carries_ma=most))
        assert best(given, other, stock=stock) == found


def test_what_flows_into_a_splice_is_the_worse_of_both() -> None:
    """Port lands at a, starboard at c: to a come 1 A and 1 A, to c 3 A and 1 A.

    Over the splice 671 + 671 + 300, by four fittings; without it 849 + 849.
    """
    places = {"a": (0, 0), "b": (600, 600), "c": (1200, 0)}
    given = dials(places, {"a": 3000, "b": 1000, "c": 1000}, reach_dmm=100)
    middle = (SplicePoint("ground~1", "ground", Point(600, 300, 0)),)
    limits = replace(SHORTEST, splices=True)
    for most, found in ((4000, (1642, 0, 4)), (3999, (1698, 0, 3))):
        stock = stock_of(RING, replace(BUTT, carries_ma=most))
        other = starboard(1200, reach_dmm=100)
        assert best(given, other, limits, stock, middle) == found


def test_a_studs_current_and_a_straps_are_the_worse_of_both() -> None:
    """a with 3 A and b with 1 A on one strap, port at a, starboard at b: 1 A or 3 A over it.

    Drop with a contact of 1000 uOhm: of b, port alone, 11937 x 4000 + 2 x 1000 x 1000; of a,
    starboard alone, 47 748 000 + 2 x 1000 x 3000 nV.
    """
    given = dials(A_AND_B, {"a": 3000, "b": 1000}, reach_dmm=300)
    bar = Strap(("a.ground", "b.ground"), 10)
    for most, found in ((3000, (0, 2, 2)), (2999, None)):
        strong = replace(bar, carries_ma=most)
        assert best(given, starboard(1600, reach_dmm=300), straps=(strong,)) == found
    for most, found in ((4000, (0, 2, 2)), (3999, None)):
        posts = tuple(replace(each, carries_ma=most) for each in given.posts)
        limited = replace(given, posts=posts)
        assert best(limited, starboard(1600, reach_dmm=300), straps=(bar,)) == found
    lossy = replace(bar, contact_uohm=1000)
    # 30 mm of pigtail: 13263 x 30 = 398 uOhm (up), 4 A
    for volts, found in ((1592 + 6000, (0, 2, 2)), (1592 + 5999, None)):
        low = replace(given, nominal_mv=volts)
        other = starboard(1600, reach_dmm=300)
        assert best(low, other, BY_DROP, straps=(lossy,)) == found


def two_engines() -> Console:
    """Ignition on a and b (0 and 1500), the starboard feed on c and d (3000 and 4500).

    A ground on each, 300 above; port's pigtails enter at the origin.
    """
    posts, circuits = [], []
    for x, name in ((0, "a"), (1500, "b"), (3000, "c"), (4500, "d")):
        posts.append(post(name, "ignition" if name in "ab" else "feed", x, 0, name="feed"))
        posts.append(post(name, "ground", x, 300, name="ground"))
    for circuit, harness, x in (("ignition", "port", 0), ("feed", "starboard", 4500)):
        ids = tuple(each.id for each in posts if each.circuit == circuit)
        own = replace(pigtail(circuit), entry=Point(x, 0, 0), harness=harness)
        circuits.append(Circuit(circuit, "feed", "purple", "", "", ids, own, 0, harness=harness))
    grounds = tuple(each.id for each in posts if each.circuit == "ground")
    own = replace(pigtail("ground"), harness="port")
    circuits.append(Circuit("ground", "ground", "black", "", "", grounds, own, 0, harness="port"))
    loads = [Load(name, f"{name}.feed", f"{name}.ground", 1000, "other") for name in "abcd"]
    return replace(console(posts, loads), circuits=tuple(circuits))


def test_each_pigtail_lands_on_its_own_harness_s_hub() -> None:
    """1500 of each feed and 4500 of ground; a ring on each stud, pigtails at the ends of the row.

    Where starboard's ground enters at the left and reaches 500, only a is in reach; it belongs on
    c or d. c is ceil(hypot(3000, 300)) = 3015 away, 2515 more: a butt, and three ends at c. With
    a hub for each circuit it lands on a, and port's on d.
    """
    given = two_engines()
    assert best(given, starboard(4500)) == (7500, 0, 8)
    short = starboard(0, reach_dmm=500)
    assert best(given, short) is None
    assert best(given, short, replace(SHORTEST, extensions=True)) == (7500 + 2515, 1, 10)
    assert best(given, short, replace(SHORTEST, one_hub=False)) == (7500, 0, 8)


def test_the_same_with_everything_kept() -> None:
    """The enumerator finds the same when it leaves nothing out."""
    given = dials({"a": (300, 0), "b": (1300, 0), "c": (900, 700)}, {**UNEVEN, "c": 1500})
    thick = replace(PURPLE, colour="black", area_um2=2_000_000, wire_size="14 AWG")
    stock = replace(STOCK, spools=(*STOCK.spools, thick))
    limits = replace(BY_DROP, wire_size_choice="jumper")
    more = Statements(joined_aboard=(starboard(1600),))
    costs = set()
    for volts in (36_300, 36_600, 37_100, 39_000):
        low = replace(given, nominal_mv=volts)
        case = Case(low, limits, stock, 0, frozenset(), {}, more)
        assert case.best().cost == case.best(thorough=True).cost
        costs.add(case.best().cost)
    assert len(costs) > 1


def test_what_is_not_joined_aboard() -> None:
    """Two feeds never; a second pigtail of one harness is capped off."""
    feed = console([post("a", "ignition", 300, 0)], [], ignition=pigtail("ignition"))
    other = replace(pigtail("ignition"), harness="starboard")
    with pytest.raises(ValueError, match="two feeds never meet"):
        best(feed, other)
    with pytest.raises(ValueError, match="capped off"):
        best(dials(A_AND_B, UNEVEN), replace(starboard(1600), harness="engine"))
