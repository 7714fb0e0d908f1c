"""Wires without a row in the ampacity table: what they carry, and the fuse before them.

33 CFR 183.425 Table 5 begins at 18 AWG; 183.425(g) frees electronics under 1 A, what is inside a
housing and pigtails under 7 in from it, and 183.455 still asks for a fuse. Strand areas: ASTM B258
for 22 AWG (642.4 circular mils, 0.3255 mm2).
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    ANY,
    ask,
    change_pigtail,
    change_post,
    fitting,
    impossible,
    roomy_limits,
    wide_stock,
    with_load,
)
from support.consoles import given_wire, tiny_console

from lugwright.plans.outcome import Outcome
from lugwright.scenario.console import Console, GivenWire

THIN = replace(given_wire("16 AWG", "red"), wire_size="22 AWG", area_um2=325_500,
               ampacity_size="22 AWG")  # fmt: skip
FEED = "dial2.ignition"


def thin(**says: Any) -> GivenWire:
    """A wire of 22 AWG, inside a housing, that carries 2 A unless said otherwise."""
    return replace(THIN, **{"carries_ma": 2000, "exempt": "inside a housing", **says})


def hanging(lead: GivenWire, current_ma: int = 200, **post: Any) -> Console:
    """Two dials; the second takes its feed by a lead, and draws so much there."""
    console = tiny_console([(60, 60), (160, 60)], lamps=False, fuse_ma=3000)
    console = with_load(console, "dial2", current_ma)
    return change_post(console, FEED, kind="lead", lead=lead, thread="", **post)


def planned(console: Console, **limits: Any) -> Outcome:
    """The plan, where a fuse may be one and a half times what it protects carries."""
    usual = {"fuse_permille": 1500, "load_permille": 1000, **limits}
    return ask(console, roomy_limits(**usual), wide_stock(fitting("butt", "butt", ANY, ANY)))


def faults(outcome: Outcome) -> list[tuple[str, str]]:
    """Rule and place of every reason why no plan exists."""
    return [(reason.rule, reason.place) for reason in outcome.reasons]


@pytest.mark.parametrize(("current_ma", "found"), [(2000, []), (2001, ["ampacity"])])
def test_without_a_row_it_carries_what_it_says(current_ma: int, found: list[str]) -> None:
    """A lead of 22 AWG that carries 2 A."""
    outcome = planned(hanging(thin(), current_ma))
    assert faults(outcome) == [(rule, f"lead {FEED}") for rule in found]
    assert impossible(outcome) is bool(found)


def test_what_it_says_is_derated_as_a_row_would_be() -> None:
    """Four conductors together: 60 % of 2 A is 1.2 A (33 CFR 183.425 Table 5 Note 2)."""
    together = {"bundle_rule": "33-cfr-183-from-50v", "off_loom_conductors": 4}
    assert not impossible(planned(hanging(thin(), 1200), **together))
    assert faults(planned(hanging(thin(), 1201), **together)) == [("ampacity", f"lead {FEED}")]


def test_beside_a_row_its_own_limit_counts_too() -> None:
    """18 AWG may carry 20 A by the table, and half an ampere by its maker."""
    wire = replace(given_wire("18 AWG", "red"), carries_ma=500)
    assert not impossible(planned(hanging(wire, 500)))
    assert faults(planned(hanging(wire, 501))) == [("ampacity", f"lead {FEED}")]


@pytest.mark.parametrize(("current_ma", "fits"), [(999, True), (1000, False)])
def test_electronics_are_exempt_under_one_ampere(current_ma: int, fits: bool) -> None:
    """33 CFR 183.425(g): whatever its maker lets it carry."""
    outcome = planned(hanging(thin(exempt="electronics under 1 A"), current_ma))
    assert impossible(outcome) is not fits


def test_a_fuse_is_judged_by_what_it_says_it_carries() -> None:
    """3 A is one and a half times 2 A; over 1.9 A it is too big."""
    assert not impossible(planned(hanging(thin())))
    assert faults(planned(hanging(thin(carries_ma=1900)))) == [("fuse", f"lead {FEED}")]


@pytest.mark.parametrize(("up_to_ma", "fits"), [(3000, True), (2999, False)])
def test_fuse_up_to_stands_in_place_of_the_share(up_to_ma: int, fits: bool) -> None:
    """By its maker's word, smaller or larger than the share: of 0.5 A, and of 20 A."""
    row = replace(given_wire("18 AWG", "red"), fuse_up_to_ma=up_to_ma)
    for wire in (thin(carries_ma=500, fuse_up_to_ma=up_to_ma), row):
        outcome = planned(hanging(wire))
        assert faults(outcome) == ([] if fits else [("fuse", f"lead {FEED}")])


def test_an_exemption_is_none_from_a_fuse() -> None:
    """Behind a feed without a fuse a thin lead wants one of its own; 18 AWG does not."""
    for wire, own_ma, fits in (
        (thin(), 0, False),
        (thin(), 3000, True),
        (given_wire("18 AWG", "red"), 0, True),
    ):
        console = hanging(wire, lead_fuse_ma=own_ma)
        bare = change_pigtail(console, "ignition", fuse_ma=0, fuse_reason="at the battery")
        outcome = planned(bare)
        assert faults(outcome) == ([] if fits else [("fuse", f"lead {FEED}")])
