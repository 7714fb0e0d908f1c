"""Where the published standards differ, ``strict`` takes the safest of them, row by row.

``conflicts.csv`` has one row per standard and topic: the value that standard gives for one of our
limits, its source, and how the source was seen. What no limit can hold (resistance, bundles of a
pair, wire area, push-ons, bare wire at a barrel) is worked out below from published numbers.
"""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from lugwright.checker.barrels import PUSH_ON_MOST
from lugwright.electrics.ampacity import bundle_factor_permille, table_ma
from lugwright.electrics.resistance import nohm_per_mm
from lugwright.electrics.tables import cmil_to_um2
from lugwright.limits.built_in import RULE_SETS
from lugwright.limits.compare import loosens
from lugwright.limits.defaults import built_in
from lugwright.limits.explain import limit_value
from lugwright.limits.spec import Value
from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.values import parse_value
from lugwright.scenario.given_wires import given_wire

ROWS = tuple(
    csv.DictReader(
        Path(__file__).with_name("conflicts.csv").read_text(encoding="utf-8").splitlines()
    )
)
TOPICS = tuple(dict.fromkeys(row["topic"] for row in ROWS))
STRICT, USUAL = built_in("strict"), built_in("usual")
# Topics in which a limit of ours covers two cases and the other one asks for more.
COVERED_BY_ANOTHER = {"smallest panel wire": "smallest single wire"}


def values(topic: str) -> list[Value]:
    """What the standards of a topic give, as values of its limit."""
    rows = [row for row in ROWS if row["topic"] == topic]
    return [parse_value(SPEC_BY_NAME[row["limit"]], _written(row["value"])) for row in rows]


def _written(text: str) -> object:
    return {"true": True, "false": False}.get(text, text)


@pytest.mark.parametrize(
    "row", ROWS, ids=lambda row: f"{row['topic']}, {row['standard']}, {row['value']}"
)
def test_strict_allows_nothing_a_standard_forbids(row: dict[str, str]) -> None:
    """In every row the strict value is that of the standard or a tighter one."""
    spec = SPEC_BY_NAME[row["limit"]]
    published = parse_value(spec, _written(row["value"]))
    assert not loosens(spec, limit_value(spec, STRICT), published), row["source"]


@pytest.mark.parametrize("topic", TOPICS)
def test_strict_is_the_safest_of_a_topic_and_no_tighter(topic: str) -> None:
    """It is one of the published values: none is made up."""
    name = next(row["limit"] for row in ROWS if row["topic"] == topic)
    published = values(COVERED_BY_ANOTHER.get(topic, topic))
    assert limit_value(SPEC_BY_NAME[name], STRICT) in published


@pytest.mark.parametrize("topic", TOPICS)
def test_usual_is_one_of_the_published_values(topic: str) -> None:
    """The usual set takes small-craft practice, which is in the table too."""
    name = next(row["limit"] for row in ROWS if row["topic"] == topic)
    published = values(COVERED_BY_ANOTHER.get(topic, topic))
    assert limit_value(SPEC_BY_NAME[name], USUAL) in published


@pytest.mark.parametrize("rule_set", RULE_SETS)
def test_every_row_has_a_source_and_how_it_was_seen(rule_set: str) -> None:
    """The table names where each value stands; so does each value in force."""
    assert all(row["source"] and row["obtained"] for row in ROWS)
    limits = built_in(rule_set)
    assert all(limits.origins[row["limit"]].source for row in ROWS)


# -- what several limits hold together ---------------------------------------------------------

FOOT_MM = Fraction(3048, 10)
CMIL_MM2 = Fraction(5067, 10_000_000)  # pi/4 x (0.0254 mm)^2


def ohm_cmil_per_ft(rule_set: str) -> Fraction:
    """A rule set's resistivity as K of the drop formulas, ohm-circular-mil per foot."""
    limits = built_in(rule_set)
    area_um2 = 1_000_000
    per_mm = nohm_per_mm(area_um2, limits.conductor_temp_c, limits.stranding_permille)
    return Fraction(per_mm) / 10**9 * FOOT_MM / CMIL_MM2


@pytest.mark.parametrize(
    ("standard", "k"),
    [
        ("ABYC E-11 11.14.2.6 (secondary source)", "10.75"),
        ("NEC practice from chapter 9 table 8 (secondary source)", "12.9"),
        ("ISO 10133 Annex C, 0.0164 ohm-mm2/m (attribution from memory)", "9.87"),
    ],
)
def test_strict_resistance_is_no_less_than_any_constant(standard: str, k: str) -> None:
    """K of the strict set lies above that of every published drop formula."""
    assert ohm_cmil_per_ft("strict") >= Fraction(k), standard


def test_strict_resistance_is_no_less_than_tinned_strand_at_its_worst() -> None:
    """14 AWG, 4107 circular mils: 3.06 ohm per 1000 ft at 20 C (AC 43.13-1B Table 11-9, read)."""
    per_mm = nohm_per_mm(cmil_to_um2("4107"), 20, STRICT.stranding_permille)
    assert Fraction(per_mm) / 10**9 * FOOT_MM * 1000 >= Fraction("3.05")
    bare = nohm_per_mm(cmil_to_um2("4107"), 20, 0)
    solid = Fraction(bare) / 10**9 * FOOT_MM * 1000
    assert abs(solid - Fraction("2.525")) < Fraction("0.005")  # NBS Handbook 100, solid bare


def test_ampacity_is_the_law_s_table_in_both_sets() -> None:
    """16 AWG with 105 C insulation: 25 A, 21.25 A in an engine space (33 CFR 183.425 Table 5).

    AC 43.13-1B Table 11-9 has 7 A, for more than 33 wires at 70 C and 60 000 ft: no limit here.
    """
    assert table_ma("16 AWG", 105, engine_space=False) == 25_000
    assert table_ma("16 AWG", 105, engine_space=True) == 21_250


def test_a_pair_off_the_loom_is_reduced_in_the_strict_set_alone() -> None:
    """0.70 from the second conductor (ABYC E-11, DC); one pair at 25 A is common practice."""
    factor = {
        limits.rule_set: bundle_factor_permille(limits.bundle_rule, limits.off_loom_conductors)
        for limits in (USUAL, STRICT)
    }
    assert factor == {"usual": 1000, "strict": 700}


FIRST_STEP = [
    # whose counting, from how many conductors on it reduces (reference: each rule's own source)
    ("33-cfr-183-from-50v", 3),  # 33 CFR 183.435(b), read
    ("nec-310-15", 4),  # NEC Table 310.15(C)(1), read
    ("iso-13297", 4),  # ISO 13297 Annex A, secondary source
    ("e11-ac", 3),  # ABYC E-11 ampacity tables, secondary source
    ("e11-dc", 2),  # ABYC E-11 ampacity tables, DC counting, secondary source
]


@pytest.mark.parametrize(("rule", "first"), FIRST_STEP)
def test_strict_reduces_from_the_first_step_of_any(rule: str, first: int) -> None:
    """The strict set reduces from the second conductor, before every other counting does.

    From 41 conductors on NEC asks for 0.35 where E-11 has 0.40; no panel brings so many together.
    """
    assert next(n for n in range(1, 50) if bundle_factor_permille(rule, n) < 1000) == first
    assert bundle_factor_permille(STRICT.bundle_rule, first) <= bundle_factor_permille(rule, first)
    assert bundle_factor_permille(STRICT.bundle_rule, 2) < 1000


def test_sae_wire_is_judged_as_the_thinner_it_is() -> None:
    """14 gauge: 4107 circular mils by ASTM B258, 3702 at least by SAE J1128 (read)."""
    awg, sae = (given_wire("14 AWG", "black", standard, 105) for standard in ("AWG", "SAE"))
    assert abs(awg.area_um2 - cmil_to_um2("4107")) < 2000
    assert abs(sae.area_um2 - cmil_to_um2("3702")) < 2000


def test_a_push_on_takes_two_wires() -> None:
    """UL 310, scope: one or two conductors, 26 to 10 AWG (read)."""
    assert PUSH_ON_MOST == 2


@pytest.mark.parametrize("rule_set", RULE_SETS)
def test_bare_wire_at_the_barrel_is_within_the_published_range(rule_set: str) -> None:
    """0.25 to 1.25 mm for 18 AWG and larger (NASA-STD-8739.4 Chg 6, p. 53, read)."""
    assert Fraction("2.5") <= built_in(rule_set).strip_clearance_dmm <= Fraction("12.5")


@pytest.mark.parametrize("rule_set", RULE_SETS)
def test_room_for_two_re_terminations_and_a_drip_loop(rule_set: str) -> None:
    """AC 43.13-1B CHG 1, 11-118 (p. 11-52, read) asks for both; reach counts one twice."""
    limits = built_in(rule_set)
    assert limits.re_termination_dmm > 0 and limits.drip_loop_dmm > 0
