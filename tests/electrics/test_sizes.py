"""Which wire size an area stands for, and the area of a wire size."""

import pytest

from lugwright.base.errors import OutsideTable
from lugwright.electrics.sizes import awg_size_for, nominal_area_um2
from lugwright.electrics.tables import cmil_to_um2, size_rows


def test_every_nominal_area_is_its_own_size() -> None:
    """By ASTM B258 for every row, by SAE for every row SAE has."""
    for row in size_rows():
        assert awg_size_for(row.b258_um2, "AWG") == row.size
        if row.sae_um2:
            assert awg_size_for(row.sae_um2, "SAE") == row.size


def test_the_printed_area_of_a_size_is_still_that_size() -> None:
    """NEC prints 18 AWG as 1620 circular mils against 1624.3; 0.5 % less is a smaller wire."""
    assert awg_size_for(cmil_to_um2("1620"), "AWG") == "18 AWG"
    assert awg_size_for(cmil_to_um2("1616"), "AWG") == "20 AWG"


def test_the_size_standard_decides() -> None:
    """2336 circular mils are 16 by SAE's minimum areas and only 18 by ASTM B258."""
    area_um2 = cmil_to_um2("2336")
    assert awg_size_for(area_um2, "SAE") == "16 AWG"
    assert awg_size_for(area_um2, "AWG") == "18 AWG"


def test_metric_wire_takes_the_row_below_it() -> None:
    """1.5 mm2 lies between 16 (1.31) and 14 (2.08 mm2): the 16 AWG row applies."""
    assert nominal_area_um2("1.5 mm2") == 1_500_000
    assert awg_size_for(1_500_000, "metric") == "16 AWG"


def test_outside_the_table() -> None:
    """Thinner than the smallest row there is no size; SAE has no 3 AWG."""
    with pytest.raises(OutsideTable, match="less than 24 AWG"):
        awg_size_for(100_000, "AWG")
    with pytest.raises(OutsideTable, match="less than 18 AWG"):
        awg_size_for(500_000, "SAE")
    with pytest.raises(OutsideTable, match="no 3 AWG"):
        nominal_area_um2("3 AWG", "SAE")


def test_an_unknown_standard_is_refused() -> None:
    """The closed set is named."""
    with pytest.raises(ValueError, match="AWG, SAE, metric"):
        awg_size_for(1_000_000, "BWG")
