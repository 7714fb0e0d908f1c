"""The fuse protects the smallest conductor it feeds, is not loaded too far, and sits near.

With ``fuse_permille`` 1000 a fuse may be as large as the table current: 20 A for 18 AWG, 25 A
for 16 AWG, 45 A for 12 AWG (33 CFR 183.425 Table 5, 105 C).
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    ANY,
    add_stud,
    ask,
    change_pigtail,
    change_post,
    fitting,
    impossible,
    roomy_limits,
    sizes,
    wide_stock,
)
from support.consoles import given_wire, tiny_console

from lugwright.plans.outcome import Outcome
from lugwright.scenario.console import BoatBlock, BoatWire, Console, SupplyRun

TWO_DIALS = [(60, 60), (160, 60)]


def fused(console: Console, **changes: Any) -> Outcome:
    """The plan where a fuse may be as large as the table current of what it feeds."""
    stock = wide_stock(
        fitting("butt", "butt", ANY, ANY), wire_sizes=("18 AWG", "16 AWG", "14 AWG", "12 AWG")
    )
    return ask(console, roomy_limits(**{"fuse_permille": 1000, **changes}), stock)


def reasons(outcome: Outcome) -> list[tuple[str, str]]:
    """Rule and place of every reason why no plan exists."""
    return [(reason.rule, reason.place) for reason in outcome.reasons]


@pytest.mark.parametrize(
    ("fuse_ma", "found"), [(25_000, []), (25_001, [("fuse", "pigtail ignition")])]
)
def test_the_pigtail_is_protected(fuse_ma: int, found: list[tuple[str, str]]) -> None:
    """A 16 AWG pigtail wants no more than 25 A."""
    outcome = fused(tiny_console(TWO_DIALS, fuse_ma=fuse_ma))
    assert reasons(outcome) == found
    assert impossible(outcome) is bool(found)


def test_the_run_to_the_source_is_protected() -> None:
    """The run in 18 AWG behind a fuse of 21 A."""
    console = tiny_console(TWO_DIALS, fuse_ma=21_000)
    run = SupplyRun(10_000, given_wire("18 AWG", "purple"), 1)
    outcome = fused(change_pigtail(console, "ignition", to_source=run))
    assert reasons(outcome) == [("fuse", "pigtail ignition, run to the source")]


def test_jumpers_and_riding_jumpers_are_protected() -> None:
    """Behind 21 A neither ignition nor lamps may be 18 AWG; no thicker wire in stock, no plan."""
    console = tiny_console(TWO_DIALS, fuse_ma=21_000)
    outcome = fused(console)
    assert sizes(outcome, "ignition") == sizes(outcome, "lamps") == {"16 AWG"}
    thin = ask(console, roomy_limits(fuse_permille=1000), wide_stock(wire_sizes=("18 AWG",)))
    assert reasons(thin) == [("wire size", "circuit ignition"), ("wire size", "circuit lamps")]


@pytest.mark.parametrize(
    ("permille", "size"), [(1500, "18 AWG"), (1049, "16 AWG"), (1050, "18 AWG")]
)
def test_the_rule_sets_share(permille: int, size: str) -> None:
    """21 A over 18 AWG wants 1050 thousandths of its 20 A."""
    outcome = fused(tiny_console(TWO_DIALS, fuse_ma=21_000), fuse_permille=permille)
    assert sizes(outcome, "ignition") == {size}


def test_no_bundle_factor_for_the_fuse() -> None:
    """Bundled to 70 %, 18 AWG carries 14 A and still stands behind a fuse of 20 A."""
    outcome = fused(
        tiny_console(TWO_DIALS, fuse_ma=20_000), bundle_rule="e11-dc", off_loom_conductors=2
    )
    assert sizes(outcome, "ignition") == {"18 AWG"}


def test_ground_has_no_fuse() -> None:
    """Ground stays in 18 AWG behind any fuse on the feed side."""
    assert sizes(fused(tiny_console(TWO_DIALS, fuse_ma=25_000)), "ground") == {"18 AWG"}


@pytest.mark.parametrize(("fuse_ma", "fits"), [(625, True), (624, False)])
def test_the_load_on_a_fuse(fuse_ma: int, fits: bool) -> None:
    """2 × (100 + 150) = 500 mA with the lamps; 80 % of 625 is 500, of 624 is 499 (rounded down)."""
    outcome = fused(tiny_console(TWO_DIALS, fuse_ma=fuse_ma), load_permille=800)
    assert reasons(outcome) == ([] if fits else [("fuse", "pigtail ignition")])


@pytest.mark.parametrize(("distance", "fits"), [(1800, True), (1801, False)])
def test_the_fuse_sits_near_the_source(distance: int, fits: bool) -> None:
    """A limit of 180 mm along the conductor."""
    console = change_pigtail(tiny_console(TWO_DIALS), "ignition", fuse_distance_dmm=distance)
    assert reasons(fused(console, fuse_distance_dmm=1800)) == (
        [] if fits else [("fuse", "pigtail ignition")]
    )


@pytest.mark.parametrize(
    ("post", "lead_fuse_ma", "found"),
    [
        ("dial2.ignition", 0, [("fuse", "lead dial2.ignition")]),
        ("dial2.ignition", 20_000, []),  # an in-line fuse of its own takes the pigtail's place
        ("dial2.ignition", 20_001, [("fuse", "lead dial2.ignition")]),
        ("dial2.lamp", 0, [("fuse", "lead dial2.lamp")]),  # a taker's lead is fed too
        ("dial2.ground", 0, []),
    ],
)
def test_leads_on_the_feed_side_are_protected(
    post: str, lead_fuse_ma: int, found: list[tuple[str, str]]
) -> None:
    """A lead of 18 AWG behind a fuse of 21 A."""
    console = change_post(
        tiny_console(TWO_DIALS, fuse_ma=21_000),
        post,
        kind="lead",
        lead=given_wire("18 AWG", "black"),
        lead_fuse_ma=lead_fuse_ma,
    )
    assert reasons(fused(console)) == found


def consumer_console(function: str, fuse_ma: int = 0) -> Console:
    """A load of 1 A on an extra stud of dial 1 in 18 AWG, drawn from ignition behind 21 A."""
    console = tiny_console(TWO_DIALS, fuse_ma=21_000)
    at = replace(console.post("dial1.ignition").at, y_dmm=900)
    console = add_stud(console, "dial1.out", "ignition", at)
    circuits = tuple(
        replace(c, posts=tuple(p for p in c.posts if p != "dial1.out")) for c in console.circuits
    )
    console = replace(console, circuits=circuits)
    console = change_post(console, "dial1.out", function=function, circuit="")
    wire = BoatWire(
        "pump: red", "pump", "dial1.out", given_wire("18 AWG", "red"), None, None, 0, 0, fuse_ma
    )
    pump = BoatBlock("pump", (wire,), 1000, "dial1.ignition", "", "other", is_sender=False)
    return replace(console, boat_blocks=(pump,))


@pytest.mark.parametrize(
    ("function", "fuse_ma", "found"),
    [
        ("load", 0, [("fuse", "pump: red")]),
        ("load", 20_000, []),
        ("load", 20_001, [("fuse", "pump: red")]),
        ("signal", 0, []),
    ],
)
def test_what_is_fed_aboard_is_protected(
    function: str, fuse_ma: int, found: list[tuple[str, str]]
) -> None:
    """A load's wire of 18 AWG behind 21 A, unless it has a fuse of its own; a signal is not
    fed.
    """
    assert reasons(fused(consumer_console(function, fuse_ma))) == found


@pytest.mark.parametrize(
    ("post", "fuse_ma", "found"),
    [
        ("dial1.ignition", 0, [("fuse", "pump: red")]),
        ("dial1.ignition", 20_000, []),
        ("dial1.ignition", 20_001, [("fuse", "pump: red")]),
        ("dial1.ground", 0, []),
    ],
)
def test_what_is_taken_from_a_feed_post_is_protected(
    post: str, fuse_ma: int, found: list[tuple[str, str]]
) -> None:
    """A load's wire of 18 AWG on a feed post behind 21 A is fed there as at a switch
    (33 CFR 183.455); the wire by which it returns is not.
    """
    console = consumer_console("signal", fuse_ma)
    (pump,) = console.boat_blocks
    wire = replace(pump.wires[0], lands_on=post)
    assert reasons(fused(replace(console, boat_blocks=(replace(pump, wires=(wire,)),)))) == found
