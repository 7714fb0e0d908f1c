"""First power and fuses on a panel with two feeds: one behind the key, one not."""

from __future__ import annotations

from fractions import Fraction

import pytest
from support.plans import plan_of

from lugwright.outputs.test_sheet.report import Report, report_text
from lugwright.plans.schema import Plan
from lugwright.readings.judge import judge, judge_line
from lugwright.readings.lines import sheet_of
from lugwright.readings.read_csv import Reading
from lugwright.readings.schema import SET_TO, Line, Sheet
from lugwright.readings.words import band_text


def plan() -> Plan:
    """The plan of a console with two feeds."""
    return plan_of("switch-panel-loom")


def sheet() -> Sheet:
    """Its test sheet."""
    return sheet_of(plan())


def of(part: str) -> list[Line]:
    """The lines of a part."""
    return [line for line in sheet().lines if line.part == part]


def test_each_feed_is_powered_alone_while_the_other_is_dead() -> None:
    """One line a feed, in volts, at the other's landing post; the key only for its own."""
    told = {line.circuit: (line.unit, line.at_words, line.what) for line in of("feeds apart")}
    assert told == {
        "accessory": (
            "V", "bars.ignition1 of ignition",
            "pigtail accessory powered, no other; the highest of these",
        ),
        "ignition": (
            "V", "bars.accessory3 of accessory",
            "pigtail ignition powered, key on, no other; the highest of these",
        ),
    }  # fmt: skip


@pytest.mark.parametrize(("millivolts", "verdict"), [(0, "pass"), (90, "pass"), (100, "high")])
def test_a_dead_feed_reads_under_a_tenth_of_a_volt(millivolts: int, verdict: str) -> None:
    """0.1 V itself fails."""
    line = of("feeds apart")[0]
    assert band_text(line) == "under 0.10 V"
    assert judge_line(line, Reading(Fraction(millivolts)), Fraction(0)).verdict == verdict


def test_two_feeds_that_are_joined_are_told() -> None:
    """No joint is blamed; it says what it means."""
    line = of("feeds apart")[0]
    judged = judge(sheet(), {line.id: Reading(Fraction(3_000))})
    told = report_text(Report(plan(), judged, None))
    assert f"{line.id}: two feeds are joined; power off" in told


def test_every_fuse_is_read_aloud_and_pulled() -> None:
    """Its rating, then what dies with it and that nothing else does."""
    assert [(line.at_words, line.what) for line in of("fuse")] == [
        ("pigtail accessory", "its fuse says 30 A: read aloud from the fuse itself"),
        ("pigtail ignition", "its fuse says 5 A: read aloud from the fuse itself"),
    ]
    (first, second) = of("pulled")
    assert first.what.endswith("dead then: deck lamps, horns and wash pump, nothing else")
    assert second.what.endswith("dead then: deck light, horn, volts and wash, nothing else")
    (engine,) = of("engine")
    assert engine.what.endswith("nothing stays live after key off but accessory, which the key "
                                "does not switch")  # fmt: skip


def test_lines_are_numbered_by_what_the_meter_is_set_to() -> None:
    """ohms, amps, volts, seen: each from 1 on, in the order of work."""
    for unit, word in SET_TO.items():
        mine = [line.id for line in sheet().lines if line.unit == unit]
        assert mine == [f"{word} {n}" for n in range(1, len(mine) + 1)]
        assert mine
