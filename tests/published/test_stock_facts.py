"""The built-in stock against published dimensions and currents."""

from fractions import Fraction

import pytest

from lugwright.electrics.ampacity import tab_current_ma, table_ma
from lugwright.stock.read import read_stock
from lugwright.stock.schema import STUD_KINDS

STOCK = read_stock()


# thread, threads per inch (ASME B1.1), nut thickness min and max in inches (ASME B18.6.3),
# spring lock washer section (ASME B18.21.1), nut across flats
INCH_HARDWARE = [
    ("#6-32 UNC", 32, "0.102", "0.114", "0.031", "0.3125"),
    ("#8-32 UNC", 32, "0.117", "0.130", "0.040", "0.34375"),
    ("#10-24 UNC", 24, "0.117", "0.130", "0.047", "0.375"),
    ("#10-32 UNF", 32, "0.117", "0.130", "0.047", "0.375"),
    ("1/4-20 UNC", 20, "0.178", "0.193", "0.062", "0.4375"),
]


@pytest.mark.parametrize(("thread", "tpi", "nut_min", "nut_max", "washer", "flats"), INCH_HARDWARE)
def test_inch_hardware_is_asme_rounded_up(
    thread: str, tpi: int, nut_min: str, nut_max: str, washer: str, flats: str
) -> None:
    """The thickest nut allowed and the washer, to the next 0.1 mm; the pitch to the next µm."""
    row = STOCK.hardware_for(thread)
    mm = Fraction(254, 10)
    assert 0 <= row.nut_dmm - Fraction(nut_max) * mm * 10 < 1
    assert row.nut_dmm > Fraction(nut_min) * mm * 10
    assert 0 <= row.lock_washer_dmm - Fraction(washer) * mm * 10 < 1
    assert 0 <= row.pitch_um - mm * 1000 / tpi < 1
    assert 0 <= row.across_flats_um - Fraction(flats) * mm * 1000 < 1


@pytest.mark.parametrize(
    ("thread", "pitch_um"),
    [("M3.5 x 0.6", 600), ("M4 x 0.7", 700), ("M5 x 0.8", 800), ("M6 x 1.0", 1000)],
)
def test_metric_pitch(thread: str, pitch_um: int) -> None:
    """ISO 261 coarse pitches, which the thread's own name repeats."""
    assert STOCK.hardware_for(thread).pitch_um == pitch_um


def test_a_stack_of_four_is_never_thinner_than_it_is() -> None:
    """Four 0.030 in tongues, lock washer, thickest nut, one thread of #8-32: 8.16 mm by hand."""
    row = STOCK.hardware_for("#8-32 UNC")
    showing_dmm = -(-row.pitch_um // 100)
    stack_dmm = 4 * STOCK.fitting("ring blue #8").tongue_dmm
    stack_dmm += row.lock_washer_dmm + row.nut_dmm + showing_dmm
    true_mm = (4 * 0.030 + 0.040 + 0.130 + 1 / 32) * 25.4
    assert true_mm == pytest.approx(8.16, abs=0.005)
    assert true_mm <= stack_dmm / 10 < true_mm + 0.7


def test_fitting_limits_stay_within_their_published_source() -> None:
    """Push-ons at most UL 310's current of their tab, all others at most Table 5 at 105 C."""
    largest = {"red": "18 AWG", "blue": "14 AWG", "yellow": "10 AWG"}
    for fitting in STOCK.fittings:
        if fitting.kind == "push-on":
            assert 0 < fitting.carries_ma <= tab_current_ma(fitting.tab_size)
        elif fitting.kind in STUD_KINDS:
            table = table_ma(largest[fitting.colour], 105, False)
            assert fitting.carries_ma == table
