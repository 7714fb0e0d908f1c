"""Allowed current of conductors and tabs.

The table is 33 CFR 183.425 Table 5 (30 C ambient) with its Note 1 factors for engine spaces.
How many conductors run together is judged by a rule set, since the standards differ: every
caller names the one it means.
"""

from __future__ import annotations

from lugwright.base.errors import OutsideTable
from lugwright.base.spelling import did_you_mean
from lugwright.electrics.tables import ampacity_rows, bundle_rows, tab_rows


def bundle_rules() -> tuple[str, ...]:
    """Names of the rule sets for bundles, sorted."""
    return tuple(sorted(bundle_rows()))


def table_ma(ampacity_size: str, insulation_temp_c: int, engine_space: bool) -> int:
    """Table current of one conductor in mA, rounded down (33 CFR 183.425 Table 5 and Note 1).

    ``ampacity_size`` is written ``16 AWG``. Raises OutsideTable for a size or an insulation
    temperature the table does not hold.
    """
    row = ampacity_rows().get((ampacity_size, insulation_temp_c))
    if row is None:
        temperatures = ", ".join(str(t) for t in sorted({t for _, t in ampacity_rows()}))
        raise OutsideTable(
            f"33 CFR 183.425 Table 5 has no row for {ampacity_size} with {insulation_temp_c} C "
            f"insulation (18 AWG to 4/0 AWG; {temperatures} C)"
        )
    if not engine_space:
        return row.current_ma
    return row.current_ma * row.engine_space_permille // 1000


def bundle_factor_permille(rule: str, conductors: int) -> int:
    """Bundle factor of a rule set for a number of conductors run together, in thousandths.

    What counts as a conductor is the rule set's own (``tables/bundle_factors.csv``). Raises
    ValueError for a rule set that is none, or for less than one conductor.
    """
    rows = bundle_rows().get(rule)
    if rows is None:
        hint = did_you_mean(rule, bundle_rules())
        told = f'bundle rule must be one of {", ".join(bundle_rules())} (got "{rule}")'
        raise ValueError(f"{told}; {hint}" if hint else told)
    for row in rows:
        if row.conductors_from <= conductors <= (row.conductors_to or conductors):
            return row.factor_permille
    raise ValueError(f"a bundle has at least one conductor (got {conductors})")


def allowed_ma(
    ampacity_size: str, insulation_temp_c: int, engine_space: bool, rule: str, conductors: int
) -> int:
    """Current allowed in one conductor of a bundle, in mA, rounded down.

    Raises OutsideTable as ``table_ma`` and ValueError as ``bundle_factor_permille``.
    """
    alone_ma = table_ma(ampacity_size, insulation_temp_c, engine_space)
    return alone_ma * bundle_factor_permille(rule, conductors) // 1000


def tab_current_ma(tab_size: str) -> int:
    """Largest current of a tab in mA (UL 310, with the largest wire listed there).

    ``tab_size`` is written ``6.3 x 0.8``. Raises OutsideTable for a tab that has no row.
    """
    row = tab_rows().get(tab_size)
    if row is None:
        raise OutsideTable(f'no tab current for "{tab_size}" (have: {", ".join(tab_rows())})')
    return row.current_ma
