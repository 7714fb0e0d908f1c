"""Splices in mid-air: when one may be used, what it costs, and what joins it."""

from __future__ import annotations

import pytest
from support.asking import (
    ONE,
    RINGS,
    TWO,
    ask,
    cost_of,
    ends,
    fitting,
    items,
    only_ground,
    roomy_limits,
    stock_of,
)
from support.consoles import place, tiny_console

from lugwright.limits.schema import Limits
from lugwright.plans.outcome import Outcome
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.console import Console
from lugwright.stock.schema import Barrel, FittingType, Stock

# Dials' ground studs lie 10 mm right and 5 mm below their centres. About the point (200, 160) mm
# they are at (-60, -80), (60, -80) and (0, 100) mm: 100 mm each.
CENTRES = [(130, 85), (250, 85), (190, 265)]
STAR = SplicePoint("ground~1", "ground", place(200, 160, 50))
THREE = Barrel(3_500_000, 4_100_000, 5000, 60)
CLOSED = fitting("closed end 3", "closed end", THREE)
BUTT = fitting("butt 1+2", "butt", ONE, TWO)
# the two sides of the triangle: 1200 and ceil(hypot(600, 1800)) = 1898
CHAIN_DMM = 1200 + 1898
STAR_DMM = 3 * 1000


def star_console() -> Console:
    """Three grounds about one splice point."""
    return only_ground(tiny_console(CENTRES, lamps=False))


def spliced(stock: Stock | None = None, point: SplicePoint = STAR, **changes: object) -> Outcome:
    """The star console with one candidate splice point; worth of lugs and fittings zero."""
    limits: Limits = roomy_limits(
        **{"splices": True, "lug_worth_dmm": 0, "fitting_worth_dmm": 0, **changes}
    )
    return ask(star_console(), limits, stock or stock_of(CLOSED), {"ground": (point,)})


def used(outcome: Outcome) -> bool:
    """Whether the splice point is used."""
    return any(STAR.id in pair for pair in ends(outcome, "ground"))


def test_a_splice_saves_wire() -> None:
    """Three legs of 1000 against two sides of 1200 and 1898; off by limit, the sides are left."""
    outcome = spliced()
    assert cost_of(outcome) == STAR_DMM
    assert items(outcome, STAR.id) == [("closed end 3", (3,))]
    assert cost_of(spliced(splices=False)) == CHAIN_DMM


def test_a_splice_costs_its_fitting() -> None:
    """Both ways take one ring 2 at the landing and two more rings; the splice's fitting comes on
    top.

    Chain, landing at its end: ring 2, ring 2, ring 1 = 3 fittings. Star: ring 2, ring 1, ring 1
    and the closed end = 4. The star saves 98 of wire: worth it at 98 a fitting, not at 99.
    """
    assert cost_of(spliced(fitting_worth_dmm=97)) == STAR_DMM + 4 * 97
    assert cost_of(spliced(fitting_worth_dmm=99)) == CHAIN_DMM + 3 * 99
    assert not used(spliced(fitting_worth_dmm=99))


@pytest.mark.parametrize(("most", "expected"), [(3, STAR_DMM), (2, CHAIN_DMM)])
def test_wires_per_splice(most: int, expected: int) -> None:
    """Three ends meet: a limit of three lets them, one of two does not."""
    assert cost_of(spliced(wires_per_splice=most)) == expected


def test_wires_per_barrel_is_not_for_splices() -> None:
    """One wire per barrel on the posts: the closed end still takes three."""
    assert used(spliced(wires_per_barrel=1))


@pytest.mark.parametrize(("least", "expected"), [(1000, STAR_DMM), (1001, CHAIN_DMM)])
def test_splice_to_post(least: int, expected: int) -> None:
    """Every leg has a path of 1000: enough at a limit of 1000, too near at 1001."""
    assert cost_of(spliced(splice_to_post_dmm=least)) == expected


def test_no_splice_of_two_ends() -> None:
    """Two dials with a splice point between: a splice of two ends is none, the jumper runs
    through.
    """
    console = only_ground(tiny_console([(60, 60), (260, 60)], lamps=False))
    point = SplicePoint("ground~1", "ground", place(170, 55, 50))
    stock = stock_of(fitting("any butt", "butt", Barrel(1, 9_000_000, 9000, 60)))
    outcome = ask(console, roomy_limits(splices=True), stock, {"ground": (point,)})
    assert ends(outcome, "ground") in (
        [("dial1.ground", "dial2.ground")],
        [("dial2.ground", "dial1.ground")],
    )


@pytest.mark.parametrize(
    ("rows", "kinds", "expected"),
    [
        ((CLOSED,), ("butt", "closed end"), STAR_DMM),
        ((CLOSED,), ("butt",), CHAIN_DMM),
        ((BUTT,), ("butt",), STAR_DMM),
        ((BUTT,), ("closed end",), CHAIN_DMM),
        ((), ("butt", "closed end"), CHAIN_DMM),
    ],
)
def test_splice_kinds(rows: tuple[FittingType, ...], kinds: tuple[str, ...], expected: int) -> None:
    """A splice is joined by a kind that is allowed and in stock, or not made."""
    assert cost_of(spliced(stock_of(*rows), splice_kinds=kinds)) == expected


def test_a_step_down_butt_goes_either_way_round() -> None:
    """One wire in one half, two in the other, whichever half of the row comes first."""
    for row in (BUTT, fitting("butt 2+1", "butt", TWO, ONE)):
        outcome = spliced(stock_of(row))
        ((name, wires),) = items(outcome, STAR.id)
        assert name == row.name
        assert sorted(wires) == [1, 2]


def test_equal_halves_need_a_fold_back() -> None:
    """A butt of two halves for two wires each: the lone wire must be folded back into its half."""
    equal = stock_of(fitting("butt 2+2", "butt", TWO, TWO))
    assert cost_of(spliced(equal)) == STAR_DMM
    assert cost_of(spliced(equal, fold_back=False)) == CHAIN_DMM


def test_halves_of_one_wire_each_join_no_splice() -> None:
    """Three ends do not go into two barrels of one wire."""
    assert cost_of(spliced(stock_of(fitting("butt 1+1", "butt", ONE, ONE)))) == CHAIN_DMM


def test_a_lined_fitting_takes_two_wires_at_most() -> None:
    """A lined closed end refuses three; a lined butt takes two in a half and one in the other."""
    lined_end = fitting("lined end", "closed end", THREE, lined=True)
    assert cost_of(spliced(stock_of(lined_end))) == CHAIN_DMM
    lined_butt = fitting("lined butt", "butt", ONE, TWO, lined=True)
    assert cost_of(spliced(stock_of(lined_butt))) == STAR_DMM


def test_a_splice_is_no_landing() -> None:
    """The supply lands on a post though a splice point lies at the pigtail's entry."""
    outcome = spliced()
    assert outcome.choice is not None
    ((_, post),) = outcome.choice.landings
    assert post in {f"dial{n}.ground" for n in (1, 2, 3)}


def test_a_point_of_another_circuit_is_of_no_use() -> None:
    """The same place listed for ignition alone: ground cannot use it."""
    console, limits = star_console(), roomy_limits(splices=True, lug_worth_dmm=0)
    other = SplicePoint("ignition~1", "ignition", STAR.at)
    outcome = ask(console, limits, stock_of(CLOSED), {"ignition": (other,)})
    assert not any(other.id in pair for pair in ends(outcome, "ground"))
    assert cost_of(outcome) == CHAIN_DMM + 3 * 250


def test_height_counts_on_every_leg() -> None:
    """The point hangs 30 mm lower: 3 × (1000 + 300) is dearer than the chain's 3098."""
    low = SplicePoint("ground~1", "ground", place(200, 160, 20))
    assert cost_of(spliced(point=low)) == CHAIN_DMM


def test_rings_alone_are_no_splices() -> None:
    """Rings in stock do not join wires in mid-air."""
    assert all(row.kind == "ring" for row in RINGS)
    assert cost_of(spliced(stock_of())) == CHAIN_DMM
