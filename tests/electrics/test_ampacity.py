"""Ampacity, bundles and tabs: rounding, and refusing what the tables do not hold."""

import pytest

from lugwright.base.errors import OutsideTable
from lugwright.electrics.ampacity import (
    allowed_ma,
    bundle_factor_permille,
    bundle_rules,
    tab_current_ma,
    table_ma,
)
from lugwright.electrics.tables import ampacity_rows, bundle_rows, size_rows, tab_rows


def test_it_rounds_down() -> None:
    """14 AWG at 105 C in an engine space in a bundle of three: 35 x 0.85 x 0.7 = 20.825 A."""
    assert allowed_ma("14 AWG", 105, True, "e11-dc", 3) == 20_825
    assert allowed_ma("16 AWG", 105, True, "e11-dc", 3) == 14_875
    assert allowed_ma("16 AWG", 75, True, "nec-310-15", 21) == 5_062  # 11250 x 0.45 = 5062.5


@pytest.mark.parametrize(
    ("size", "temp_c"), [("20 AWG", 105), ("16 AWG", 100), ("16", 105), ("", 0)]
)
def test_outside_the_table_nothing_is_guessed(size: str, temp_c: int) -> None:
    """A size or a temperature without a row has no ampacity."""
    with pytest.raises(OutsideTable, match="Table 5 has no row"):
        table_ma(size, temp_c, False)


def test_an_unknown_bundle_rule_is_refused_with_the_nearest() -> None:
    """The message names every rule set and the one probably meant."""
    with pytest.raises(ValueError, match='did you mean "e11-dc"'):
        bundle_factor_permille("e11-cd", 2)


@pytest.mark.parametrize("conductors", [0, -1])
def test_a_bundle_has_a_conductor(conductors: int) -> None:
    """No rule set has a factor for nothing."""
    for rule in bundle_rules():
        with pytest.raises(ValueError, match="at least one conductor"):
            bundle_factor_permille(rule, conductors)


def test_more_conductors_never_carry_more() -> None:
    """In every rule set each number from 1 to 100 has one factor, and it never rises."""
    for rule in bundle_rules():
        factors = [bundle_factor_permille(rule, count) for count in range(1, 101)]
        assert factors == sorted(factors, reverse=True)
        assert factors[0] == 1000


def test_a_thicker_wire_never_carries_less() -> None:
    """Along the table, both in size and in insulation temperature."""
    sizes = [row.size for row in size_rows() if row.size not in ("24 AWG", "22 AWG", "20 AWG")]
    temperatures = sorted({temp_c for _, temp_c in ampacity_rows()})
    for temp_c in temperatures:
        column = [table_ma(size, temp_c, False) for size in sizes]
        assert column == sorted(column)
    for size in sizes:
        row = [table_ma(size, temp_c, False) for temp_c in temperatures]
        assert row == sorted(row)


def test_every_table_row_names_its_source() -> None:
    """A value without a source, or the words that there is none, does not get in."""
    sources = [row.source for row in ampacity_rows().values()]
    sources += [row.source for row in size_rows()]
    sources += [row.source for row in tab_rows().values()]
    sources += [row.source for of_rule in bundle_rows().values() for row in of_rule]
    assert len(sources) > 150
    assert all(sources)


def test_a_tab_without_a_row_has_no_current() -> None:
    """9.5 mm tabs are in IEC 61210 but not in the currents we have."""
    with pytest.raises(OutsideTable, match=r"9\.5 x 1\.2"):
        tab_current_ma("9.5 x 1.2")
