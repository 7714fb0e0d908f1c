"""Option tables: which ends share which fittings, and what is left out as beaten."""

from __future__ import annotations

from typing import Any

import pytest
from support.asking import ONE, RINGS, TWO, fitting, roomy_limits, stock_of
from support.consoles import TAB_SIZE, THREAD

from lugwright.problem.groups import (
    NO_LIMIT_MA,
    Grouper,
    lead_type,
)
from lugwright.problem.schema import EndType, GroupOption
from lugwright.stock.schema import Barrel, FittingType
from lugwright.trade.barrels import barrel_takes, folds
from lugwright.trade.money import labour_micro

WIRE = EndType("wire", 1_309_000, 2500)
THICK = EndType("thick", 2_618_000, 3500)
HUGE = EndType("huge", 8_000_000, 5500)
GIVEN = EndType("pigtail ground", 1_309_000, 2500)
WIDE = Barrel(1, 90_000_000, 90_000, 60)


def grouper(*extra: FittingType, without: tuple[str, ...] = (), **limits: Any) -> Grouper:
    """Tables over the small stock."""
    return Grouper(
        stock_of(*extra, without=without), roomy_limits(**limits), [WIRE, THICK, HUGE, GIVEN]
    )


def ways(options: tuple[GroupOption, ...]) -> list[list[tuple[str, int]]]:
    """Items and wires of every option's fittings."""
    return [[(p.item, sum(map(len, p.barrels))) for p in option.picks] for option in options]


def test_minutes_are_money_rounded_up() -> None:
    """A minute at 60 an hour is 1; a hundredth of a minute at 7 millionths an hour is a
    millionth.
    """
    assert labour_micro(100, roomy_limits().rate_micro_per_hour) == 1_000_000
    assert labour_micro(1, 7) == 1
    assert labour_micro(0, roomy_limits().rate_micro_per_hour) == 0


def test_a_barrel_at_its_edges() -> None:
    """Both ends of the area range are in; a sleeve as wide as the jackets' cross-sections is
    too.
    """
    exact = Barrel(2_618_000, 2_618_000, 3536, 60)
    limits = roomy_limits()
    assert barrel_takes(exact, [WIRE, WIRE], limits, folded=False, lined=True)
    assert barrel_takes(exact, [WIRE], limits, folded=True, lined=True)
    assert not barrel_takes(exact, [WIRE], limits, folded=False, lined=True)
    assert not barrel_takes(WIDE, [WIRE] * 3, limits, folded=False, lined=True)
    assert not barrel_takes(
        WIDE, [WIRE, THICK], roomy_limits(size_ratio_permille=1999), folded=False, lined=False
    )
    assert barrel_takes(
        WIDE, [WIRE, THICK], roomy_limits(size_ratio_permille=2000), folded=False, lined=False
    )


@pytest.mark.parametrize(
    ("barrel", "ends", "most", "fold_back", "expected"),
    [
        (ONE, 1, 1, True, False),
        (TWO, 1, 2, True, True),
        (TWO, 1, 1, True, None),  # a folded wire counts two
        (TWO, 1, 2, False, None),
        (TWO, 2, 2, True, False),
        (TWO, 2, 1, True, None),
    ],
)
def test_folding(
    barrel: Barrel, ends: int, most: int, fold_back: bool, expected: bool | None
) -> None:
    """As it is, folded back, or not at all."""
    limits = roomy_limits(fold_back=fold_back)
    assert folds(barrel, [WIRE] * ends, limits, lined=False, most=most) is expected


def test_ways_to_take_two_ends_on_a_stud() -> None:
    """One ring for both beats two rings in every respect, so it alone is left."""
    (option,) = grouper().stud(THREAD, (("wire", 2),), "bench")
    assert ways((option,)) == [[("ring 2", 2)]]
    assert (option.lugs, option.fittings, option.ends, option.tongue_dmm) == (1, 1, 2, 8)
    # 0.20 + 1 minute to crimp + 1 to land
    assert option.money_micro == 2_200_000


def test_what_is_better_in_one_respect_is_kept() -> None:
    """A flat pair of rings against one thick ring: fewer lugs or less thread, so both stay."""
    thick = fitting("thick ring", "ring", TWO, tongue_dmm=20)
    table = grouper(thick, without=("ring 2",))
    assert sorted(ways(table.stud(THREAD, (("wire", 2),), "bench"))) == [
        [("ring 1", 1), ("ring 1", 1)],
        [("thick ring", 2)],
    ]


def test_a_limit_keeps_the_stronger_of_two() -> None:
    """A weak cheap ring and a strong dear one: neither beats the other."""
    weak = fitting("weak", "ring", ONE, carries_ma=5000, price_micro=1)
    table = grouper(weak)
    assert sorted(ways(table.stud(THREAD, (("wire", 1),), "bench"))) == [
        [("ring 1", 1)],
        [("weak", 1)],
    ]
    dear = fitting("weak and dear", "ring", ONE, carries_ma=5000, price_micro=900_000)
    assert ways(grouper(dear).stud(THREAD, (("wire", 1),), "bench")) == [[("ring 1", 1)]]


def test_no_current_limit_is_no_limit() -> None:
    """A row's 0 stands for none."""
    (option,) = grouper().stud(THREAD, (("wire", 1),), "bench")
    assert option.picks[0].carries_ma == NO_LIMIT_MA


def test_different_ends_share_by_type() -> None:
    """Pigtail and jumper in one ring: the pick names both types."""
    (option,) = grouper().stud(THREAD, (("pigtail ground", 1), ("wire", 1)), "bench")
    assert option.picks[0].barrels == (("pigtail ground", "wire"),)


def test_no_fitting_no_way() -> None:
    """A wire no barrel takes, another thread, another tab."""
    table = grouper()
    assert table.stud(THREAD, (("huge", 1),), "bench") == ()
    assert table.stud("M9", (("wire", 1),), "bench") == ()
    assert table.tab("2.8 x 0.5", (("wire", 1),), "bench") == ()
    assert table.tab(TAB_SIZE, (("wire", 3),), "bench") == ()


def test_landing_minutes_go_by_stage() -> None:
    """Aboard a ring takes two minutes to land: one more than on the bench."""
    table = grouper()
    (bench,) = table.stud(THREAD, (("wire", 1),), "bench")
    (aboard,) = table.stud(THREAD, (("wire", 1),), "aboard")
    assert aboard.money_micro - bench.money_micro == 1_000_000


def test_a_splice_wants_three_ends() -> None:
    """Two ends are none; three go into a closed end or a butt, four only where the limit lets
    them.
    """
    closed, butt = fitting("end", "closed end", WIDE), fitting("butt", "butt", WIDE, WIDE)
    table = grouper(closed, butt, wires_per_splice=3)
    assert table.splice((("wire", 2),)) == ()
    assert table.splice((("wire", 4),)) == ()
    three = table.splice((("wire", 3),))
    # closed end and butt cost the same here, so one of them is enough
    assert len(three) == 1
    assert grouper(butt).splice((("wire", 4),))[0].lugs == 0


def test_a_butt_takes_its_halves_either_way_round() -> None:
    """Rows 1 + 2 and 2 + 1 take the same three ends."""
    for barrels in ((ONE, TWO), (TWO, ONE)):
        (option,) = grouper(fitting("butt", "butt", *barrels)).splice((("wire", 3),))
        assert sorted(len(half) for half in option.picks[0].barrels) == [1, 2]


def test_a_lead_is_an_end_of_its_joint() -> None:
    """The lead's own wire is in the barrels, and not among the ends counted."""
    lead = lead_type("dial1.lamp", 1_309_000, 2500)
    table = grouper(fitting("end", "closed end", TWO))
    (option,) = table.lead(lead, (("wire", 1),))
    assert option.picks[0].barrels == (("lead dial1.lamp", "wire"),)
    assert option.ends == 1
    assert table.lead(lead, (("wire", 2),)) == ()


def test_the_cheapest_butt_lengthens_a_wire() -> None:
    """Of two that fit the cheaper; one that carries too little is passed over."""
    cheap = fitting("cheap", "butt", ONE, ONE, price_micro=100_000, carries_ma=1000)
    dear = fitting("dear", "butt", ONE, ONE, price_micro=300_000)
    table = grouper(cheap, dear)
    for current_ma, item in ((1000, "cheap"), (1001, "dear")):
        option = table.extension(GIVEN, "wire", current_ma)
        assert option is not None
        assert option.picks[0].item == item
    assert grouper().extension(GIVEN, "wire", 1) is None


def test_kinds_of_the_limits_only() -> None:
    """No ring where only spades may go on a stud."""
    table = grouper(stud_kinds=("captive spade",))
    assert RINGS
    assert table.stud(THREAD, (("wire", 1),), "bench") == ()
