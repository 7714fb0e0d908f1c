"""Which wires go into one barrel together."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from support.asking import (
    AREA,
    ONE,
    RINGS,
    TWO,
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
)
from support.consoles import TAB_SIZE, given_wire, tiny_console

from lugwright.plans.outcome import Outcome
from lugwright.scenario.console import Console
from lugwright.stock.schema import Barrel, FittingType, Stock

# Two grounds 100 mm apart, the supply on dial 1: there two ends meet, the pigtail's and a jumper's.
SHARED = 1000 + 2 * 250  # ring 2 at dial 1, ring 1 at dial 2
APART = 1000 + 3 * 250 + 400  # ring 1 three times, one of them stacked
# Areas are in µm² (two 16 AWG: 2 618 000), insulation 2500 µm each: 2 × 2500² = 3536².


def pair() -> Console:
    """Two dials' ground circuit."""
    return only_ground(tiny_console([(60, 60), (160, 60)], lamps=False))


def landed(stock: Stock, console: Console | None = None, **changes: object) -> Outcome:
    """The plan with dial 1 as the hub."""
    return ask(console or pair(), roomy_limits(**changes), stock, hubs=["dial1"])


def with_double(double: FittingType) -> Stock:
    """Ring 1 and one ring meant for two wires."""
    return stock_of(double, without=["ring 2"])


def ring_of(barrel: Barrel, **changes: object) -> FittingType:
    """A ring for two, with this barrel."""
    return fitting("double", "ring", barrel, **changes)


def test_a_pigtail_with_a_barrel_of_its_own() -> None:
    """It shares no ring with a jumper on a stud, and a tab that takes it takes no jumper."""
    outcome = landed(stock_of(), pigtail_barrel="own")
    assert items(outcome, "dial1.ground") == [("ring 1", (1,)), ("ring 1", (1,))]
    assert cost_of(outcome) == APART
    tabs = change_post(pair(), "dial1.ground", kind="tab", thread="", tab_size=TAB_SIZE)
    push_on = stock_of(fitting("push-on", "push-on", TWO), fitting("push-on 1", "push-on", ONE))
    assert not impossible(landed(push_on, tabs))
    assert impossible(landed(push_on, tabs, pigtail_barrel="own"))


def test_two_wires_share_a_ring_that_takes_both() -> None:
    """One lug in place of two: a fitting less and nothing stacked."""
    outcome = landed(stock_of())
    assert items(outcome, "dial1.ground") == [("ring 2", (2,))]
    assert cost_of(outcome) == SHARED


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        (2 * AREA, 2 * AREA, SHARED),
        (2 * AREA + 1, 9_000_000, APART),
        (500_000, 2 * AREA - 1, APART),
    ],
)
def test_summed_area_within_the_range(low: int, high: int, expected: int) -> None:
    """Two 16 AWG sum to 2 618 000: in at both ends of the range, out by one below or above."""
    ring = ring_of(Barrel(low, high, 4000, 60))
    assert cost_of(landed(with_double(ring), fold_back=False)) == expected


@pytest.mark.parametrize(("sleeve", "expected"), [(3536, SHARED), (3535, APART)])
def test_summed_insulation_within_the_sleeve(sleeve: int, expected: int) -> None:
    """2 × 2500² = 12 500 000: in a sleeve of 3536 (12 503 296), not of 3535 (12 496 225)."""
    ring = ring_of(Barrel(TWO.area_min_um2, TWO.area_max_um2, sleeve, 60))
    assert cost_of(landed(with_double(ring))) == expected


@pytest.mark.parametrize(("most", "expected"), [(2, SHARED), (1, APART)])
def test_wires_per_barrel(most: int, expected: int) -> None:
    """The ring would take two; a limit of one keeps them apart."""
    assert cost_of(landed(stock_of(), wires_per_barrel=most)) == expected


def test_three_wires_where_the_limit_lets_them() -> None:
    """The middle of three dials as the hub: pigtail and two jumpers in one ring of three.

    2000 of wire and ring 3 + ring 1 + ring 1. With two to a barrel, ring 2 + ring 1 at the hub:
    one fitting and one stacked lug more.
    """
    console = only_ground(tiny_console(lamps=False))
    stock = stock_of(fitting("ring 3", "ring", Barrel(3_500_000, 4_100_000, 5000, 60)))

    def cost(most: int) -> int:
        return cost_of(ask(console, roomy_limits(wires_per_barrel=most), stock, hubs=["dial2"]))

    assert cost(3) == 2000 + 3 * 250
    assert cost(2) == 2000 + 4 * 250 + 400


@pytest.mark.parametrize("lined", [False, True])
def test_a_lined_ring_takes_two_but_not_three(lined: bool) -> None:
    """Adhesive lining lets two in; three only go into the same ring unlined."""
    console = only_ground(tiny_console(lamps=False))
    ring = fitting("ring 3", "ring", Barrel(3_500_000, 4_100_000, 5000, 60), lined=lined)
    outcome = ask(console, roomy_limits(wires_per_barrel=3), stock_of(ring), hubs=["dial2"])
    assert cost_of(outcome) == (2000 + 4 * 250 + 400 if lined else 2000 + 3 * 250)
    double = with_double(ring_of(TWO, lined=lined))
    assert cost_of(landed(double)) == SHARED


@pytest.mark.parametrize(("ratio", "expected"), [(2528, SHARED), (2527, APART)])
def test_ratio_of_sizes(ratio: int, expected: int) -> None:
    """A 12 AWG pigtail (3 309 000) with a 16 AWG jumper (1 309 000): the ratio is 2.5279.

    Together 4 618 000 and 2500² + 3400² = 17 810 000 < 4300². Thousandths: 2528 lets them in.
    """
    console = change_pigtail(pair(), "ground", wire=given_wire("12 AWG"))
    wide = fitting("wide", "ring", Barrel(3_000_000, 5_000_000, 4300, 60))
    assert cost_of(landed(stock_of(wide), console, size_ratio_permille=ratio)) == expected


def folding_stock(*extra: FittingType) -> Stock:
    """Only rings too big for one wire: a lone one must be folded back."""
    return stock_of(*extra, without=["ring 1"])


def test_a_lone_wire_is_folded_back() -> None:
    """Doubled it fills ring 2 (2 618 000); where folding is not allowed no plan exists."""
    outcome = landed(folding_stock())
    assert cost_of(outcome) == SHARED
    assert outcome.choice is not None
    folded = {f.joint: f.folded for f in outcome.choice.fittings}
    assert folded == {"dial1.ground": False, "dial2.ground": True}
    assert impossible(landed(folding_stock(), fold_back=False))


def test_a_folded_wire_counts_two() -> None:
    """With one wire to a barrel there is no folding."""
    assert impossible(landed(folding_stock(), wires_per_barrel=1))


def test_a_folded_wire_brings_its_insulation_once() -> None:
    """A sleeve of 2500 holds one jacket; its strands are doubled bare. Two jackets do not fit."""
    tight = fitting("tight", "ring", Barrel(2_000_000, 2_700_000, 2500, 60))
    outcome = landed(stock_of(tight, without=["ring 1", "ring 2"]))
    assert cost_of(outcome) == APART
    assert items(outcome, "dial1.ground") == [("tight", (1,)), ("tight", (1,))]
    tighter = fitting("tight", "ring", Barrel(2_000_000, 2_700_000, 2499, 60))
    assert impossible(landed(stock_of(tighter, without=["ring 1", "ring 2"])))


def test_only_a_lone_wire_is_folded() -> None:
    """Two wires folded would fill a barrel of four; they are not folded, so they go apart."""
    four = fitting("ring 4", "ring", Barrel(5_000_000, 5_400_000, 9000, 60))
    assert cost_of(landed(stock_of(four, without=["ring 2"]), wires_per_barrel=4)) == APART


def test_wires_of_two_circuits_never_share() -> None:
    """The lamps' take-off has a lug of its own though a ring for three is in stock.

    One dial with a lamp is not enough to be a tree, so two: at dial 1's ignition meet pigtail,
    jumper and take-off: ring 2 and ring 1.
    """
    stock = stock_of(fitting("ring 3", "ring", Barrel(3_500_000, 4_100_000, 5000, 60)))
    console = tiny_console([(60, 60), (160, 60)])
    outcome = ask(console, roomy_limits(wires_per_barrel=3), stock, hubs=["dial1"])
    assert items(outcome, "dial1.ignition") == [("ring 1", (1,)), ("ring 2", (2,))]


@pytest.mark.parametrize(
    ("kinds", "expected"),
    [(("ring",), {"ring 1", "ring 2"}), (("captive spade",), {"spade 1", "spade 2"})],
)
def test_stud_kinds(kinds: Sequence[str], expected: set[str]) -> None:
    """Both kinds are in stock; the limit says which a stud may take."""
    spades = (fitting("spade 1", "captive spade", ONE), fitting("spade 2", "captive spade", TWO))
    outcome = landed(stock_of(*spades), stud_kinds=tuple(kinds))
    assert outcome.choice is not None
    assert {f.item for f in outcome.choice.fittings} == expected
    assert impossible(landed(stock_of(*spades), stud_kinds=("plain spade",)))


def test_a_ring_fits_its_thread_only() -> None:
    """Rings for another thread are of no use."""
    other = tuple(
        fitting(row.name, "ring", *row.barrels, stud_threads=("#10-32 UNF",)) for row in RINGS
    )
    assert impossible(landed(stock_of(*other, without=["ring 1", "ring 2"])))
