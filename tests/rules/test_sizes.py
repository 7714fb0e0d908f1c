"""Which wire a circuit may be run in, and which is taken."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    ask,
    change_circuit,
    choice_of,
    cost_of,
    impossible,
    only_ground,
    roomy_limits,
    sizes,
    spool,
    wide_stock,
    with_load,
)
from support.consoles import tiny_console

from lugwright.plans.outcome import Outcome

SIZES = ("18 AWG", "16 AWG", "14 AWG")  # 20, 25 and 35 A at 105 C, 33 CFR 183.425 Table 5
TWO_DIALS = [(60, 60), (160, 60)]


def test_the_thinnest_wire_costs_least_where_all_else_is_equal() -> None:
    """All three sizes cost the same length and fittings: less money decides."""
    outcome = ask(tiny_console(TWO_DIALS), stock=wide_stock(wire_sizes=SIZES))
    for circuit in ("ignition", "ground", "lamps"):
        assert sizes(outcome, circuit) == {"18 AWG"}


@pytest.mark.parametrize(("least", "size"), [(823_000, "18 AWG"), (823_001, "16 AWG")])
def test_minimum_size(least: int, size: str) -> None:
    """18 AWG has 823 000 µm²: a limit of as much lets it in, one more does not."""
    outcome = ask(
        tiny_console(TWO_DIALS),
        roomy_limits(minimum_area_um2=least),
        wide_stock(wire_sizes=SIZES),
    )
    assert sizes(outcome, "ground") == sizes(outcome, "lamps") == {size}


def test_a_circuit_may_ask_for_more() -> None:
    """Ground asks for 1 309 000 µm², which is 16 AWG; the others stay at 18."""
    console = change_circuit(tiny_console(TWO_DIALS), "ground", minimum_area_um2=1_309_000)
    outcome = ask(console, stock=wide_stock(wire_sizes=SIZES))
    assert sizes(outcome, "ground") == {"16 AWG"}
    assert sizes(outcome, "ignition") == {"18 AWG"}


@pytest.mark.parametrize(("fuse_ma", "size"), [(20_000, "18 AWG"), (20_001, "16 AWG")])
def test_the_fuse_sets_the_size_of_what_it_feeds(fuse_ma: int, size: str) -> None:
    """18 AWG carries 20 A by the table: behind a larger fuse, ignition and lamps are 16 AWG.

    Ground has no fuse and stays in 18 AWG.
    """
    console = tiny_console(TWO_DIALS, fuse_ma=fuse_ma)
    outcome = ask(console, roomy_limits(fuse_permille=1000), wide_stock(wire_sizes=SIZES))
    assert sizes(outcome, "ignition") == sizes(outcome, "lamps") == {size}
    assert sizes(outcome, "ground") == {"18 AWG"}


def test_the_engine_space_lowers_the_table() -> None:
    """85 % of 20 A is 17 A: in the engine space a fuse of 18 A asks for 16 AWG (21.25 A)."""
    console = tiny_console(TWO_DIALS, fuse_ma=18_000)
    limits, stock = roomy_limits(fuse_permille=1000), wide_stock(wire_sizes=SIZES)
    assert sizes(ask(console, limits, stock), "ignition") == {"18 AWG"}
    warm = replace(console, engine_space=True)
    assert sizes(ask(warm, limits, stock), "ignition") == {"16 AWG"}


def test_only_the_circuits_own_colour_is_used() -> None:
    """No dark blue wire in stock: no plan, and the reason names the lamps."""
    stock = wide_stock()
    spools = tuple(s for s in stock.spools if s.colour != "dark blue")
    outcome = ask(tiny_console(TWO_DIALS), stock=replace(stock, spools=spools))
    assert impossible(outcome)
    assert [(r.rule, r.place) for r in outcome.reasons] == [("wire size", "circuit lamps")]


def heavy(choice: str, **changes: Any) -> Outcome:
    """Three grounds in a row of 12 A each, from dial 1: 24 A in the first jumper, 12 in the second.

    18 AWG at 0.50 a metre carries 20 A, 16 AWG at 1.00 carries 25 A; the pigtail is 12 AWG.
    """
    console = only_ground(tiny_console(lamps=False, dial_ma=12_000, pigtail_size="12 AWG"))
    limits = roomy_limits(objective="cheapest", wire_size_choice=choice, **changes)
    return ask(console, limits, wide_stock(wire_sizes=SIZES[:2]), hubs=["dial1"])


def test_one_size_for_a_circuit() -> None:
    """Both jumpers in 16 AWG, though the second might be thinner.

    Rate 60 an hour, so 1 a minute. A ring 0.20 + 1 min to crimp + 1 min to land = 2.20, three of
    them 6.60; two cuts of half a minute 1.00; 2 × 0.1 m × 1.00 = 0.20. In all 7.80.
    """
    outcome = heavy("circuit")
    assert sizes(outcome, "ground") == {"16 AWG"}
    assert cost_of(outcome) == 7_800_000


def test_a_size_for_each_jumper() -> None:
    """The second jumper in 18 AWG saves 0.1 m × 0.50 = 0.05."""
    outcome = heavy("jumper")
    picked = {(j.a, j.b): j.wire_size for j in choice_of(outcome).jumpers}
    assert picked == {
        ("dial1.ground", "dial2.ground"): "16 AWG",
        ("dial2.ground", "dial3.ground"): "18 AWG",
    }
    assert cost_of(outcome) == 7_750_000


def test_sizes_that_share_no_barrel_change_the_tree() -> None:
    """With a ratio of 1.5 an 18 AWG end (823 000) shares no ring with a 16 AWG one (1 309 000).

    Nor does the 12 AWG pigtail with either: it has a ring of its own. A chain all in 16 AWG is 4
    rings 8.80 + cuts 1.00 + 0.20 = 10.00, in two sizes a ring more. A star in 18 AWG, 12 A each
    way, is 4 rings too and 0.3 m × 0.50 = 0.15 of wire: 9.95.
    """
    outcome = heavy("jumper", size_ratio_permille=1500)
    assert {(j.a, j.b, j.wire_size) for j in choice_of(outcome).jumpers} == {
        ("dial1.ground", "dial2.ground", "18 AWG"),
        ("dial1.ground", "dial3.ground", "18 AWG"),
    }
    assert cost_of(outcome) == 9_950_000


def test_money_may_ask_for_a_thicker_wire() -> None:
    """The thicker of two spools is the cheaper one: cheapest takes it, and so do ties."""
    stock = wide_stock(wire_sizes=SIZES[:2])
    spools = (spool("18 AWG", price=2_000_000), spool("16 AWG", price=1_000_000))
    stock = replace(stock, spools=spools)
    console = only_ground(tiny_console(TWO_DIALS, lamps=False))
    for objective in ("cheapest", "default"):
        outcome = ask(console, roomy_limits(objective=objective), stock)
        assert sizes(outcome, "ground") == {"16 AWG"}


def test_a_heavy_load_moves_the_hub() -> None:
    """Dial 2 draws 30 A, more than any wire here carries: only dial 2 itself can be the hub."""
    console = only_ground(tiny_console(TWO_DIALS, lamps=False, pigtail_size="12 AWG"))
    console = with_load(console, "dial2", 30_000)
    outcome = ask(console, stock=wide_stock(wire_sizes=SIZES[:2]))
    assert dict(choice_of(outcome).landings) == {"ground": "dial2.ground"}
    assert impossible(ask(console, stock=wide_stock(wire_sizes=SIZES[:2]), hubs=["dial1"]))
