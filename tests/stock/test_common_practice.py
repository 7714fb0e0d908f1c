"""The built-in stock against what the trade does: common practice, no published source."""

from fractions import Fraction
from pathlib import Path

import pytest

from lugwright.base.units import parse_current_ma
from lugwright.electrics.tables import cmil_to_um2, size_rows
from lugwright.stock.read import read_stock
from lugwright.stock.schema import STUD_KINDS, Barrel

STOCK = read_stock()


def barrel(name: str) -> Barrel:
    """The first barrel of a fitting of the built-in stock."""
    return STOCK.fitting(name).barrels[0]


def takes(of: Barrel, *areas_cmil: float) -> bool:
    """Whether the summed strand area lies in the barrel's range."""
    summed_um2 = sum(cmil_to_um2(str(area)) for area in areas_cmil)
    return of.area_min_um2 <= summed_um2 <= of.area_max_um2


@pytest.mark.parametrize(
    ("colour", "inches"), [("red", "0.030"), ("blue", "0.030"), ("yellow", "0.040")]
)
def test_tongues_are_rounded_up(colour: str, inches: str) -> None:
    """Common practice, no source: ring tongues of 0.030 and 0.040 in, to the next 0.1 mm."""
    tongues = {
        row.tongue_dmm for row in STOCK.fittings if row.kind in STUD_KINDS and row.colour == colour
    }
    (tongue_dmm,) = tongues
    assert 0 <= tongue_dmm - Fraction(inches) * 254 < 1


def test_two_16_awg_in_a_blue_barrel_is_the_tightest_common_case() -> None:
    """5165 circular mils (ASTM B258) fit 5180, which is from memory; 5200 (E-11 column) do not.

    The margin is under 0.3 %, so the fitting's own row decides.
    """
    blue = barrel("ring blue #8")
    assert takes(blue, 2582.7, 2582.7)
    assert not takes(blue, 2600, 2600)
    assert takes(barrel("ring yellow #8"), 2600, 2600)
    assert not takes(barrel("ring yellow #8"), 2582.7, 2582.7)
    pair_um2 = 2 * STOCK.spools_of_colour("purple")[1].area_um2
    assert 0 < blue.area_max_um2 - pair_um2 < blue.area_max_um2 * 3 // 1000


@pytest.mark.parametrize(
    ("size", "colour"),
    [
        ("18 AWG", "red"),
        ("16 AWG", "blue"),
        ("14 AWG", "blue"),
        ("12 AWG", "yellow"),
        ("10 AWG", "yellow"),
    ],
)
def test_a_lone_wire_fits_the_barrel_marked_for_it(size: str, colour: str) -> None:
    """Markings 22-18 red, 16-14 blue, 12-10 yellow: common practice, no source."""
    spool = STOCK.spool(size, "black")
    assert spool is not None
    fits = {
        name
        for name in ("red", "blue", "yellow")
        if barrel(f"ring {name} #8").area_min_um2
        <= spool.area_um2
        <= barrel(f"ring {name} #8").area_max_um2
    }
    assert fits == {colour}


def test_18_and_16_together_are_a_14() -> None:
    """Common practice, no source: 1600 + 2426 = 4026 circular mils are a 14 AWG: blue."""
    summed_um2 = cmil_to_um2("1600") + cmil_to_um2("2426")
    nearest = min(size_rows(), key=lambda row: abs(row.b258_um2 - summed_um2))
    assert nearest.size == "14 AWG"
    assert takes(barrel("ring blue #8"), 1600, 2426)
    assert not takes(barrel("ring red #8"), 1600, 2426)


def test_two_wires_take_the_next_larger_barrel() -> None:
    """Two 18 AWG leave red for blue, a 16 with a 14 leaves blue for yellow.

    Common practice, no source: two wires are twisted together and use the next larger barrel.
    """
    assert not takes(barrel("ring red #8"), 1624.3, 1624.3)
    assert takes(barrel("ring blue #8"), 1624.3, 1624.3)
    assert not takes(barrel("ring blue #8"), 2582.7, 4106.7)
    assert takes(barrel("ring yellow #8"), 2582.7, 4106.7)


def test_a_fold_that_is_short_and_one_that_fits(tmp_path: Path) -> None:
    """Common practice, no source: 16 AWG (2600) in a barrel of 6500 to 10500 circular mils.

    Doubled (5200) it is short, three times (7800) it fits. The barrel comes from a shop's table.
    """
    (tmp_path / "fittings.csv").write_text(
        "name,kind,colour,threads,tongue,barrel_angle_deg,area_min_cmil,area_max_cmil,sleeve,"
        "barrel_length,die,price,pack\n"
        "big ring,ring,yellow,#10-32,0.040 in,75,6500,10500,6 mm,0.25 in,yellow,0.4,10\n"
    )
    shop = read_stock(tmp_path).fitting("big ring").barrels[0]
    assert not takes(shop, 2600, 2600)
    assert takes(shop, 2600, 2600, 2600)


def test_three_lamps_on_one_fuse() -> None:
    """Three 20 W lamps at 12.6 V draw 4.76 A; 5 A is marginal, take 7.5 A.

    Practice loads a fuse to at most 80 % (general fuse practice, from memory).
    """
    lamps_ma = parse_current_ma("4.7619 A")
    assert lamps_ma == 4762
    ratings = sorted(fuse.rating_ma for fuse in STOCK.fuses)
    assert next(rating for rating in ratings if rating >= lamps_ma) == 5000
    assert next(rating for rating in ratings if rating * 800 // 1000 >= lamps_ma) == 7500
