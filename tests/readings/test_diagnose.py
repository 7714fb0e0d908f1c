"""Readings judged, and the joint found that explains them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from support.made_plan import small_plan
from support.readings import line_at, reading, small_sheet, sound_readings

from lugwright.readings.diagnose import BadJoints, Diagnosis, diagnose
from lugwright.readings.judge import judge, judge_line
from lugwright.readings.network import Circuit, Mood, Swing
from lugwright.readings.read_csv import Reading
from lugwright.readings.wiring import wiring_of

OPEN = Reading(is_open=True)


def diagnosis(changed: dict[str, Reading], only: bool = False) -> Diagnosis:
    """What the readings of a sound panel say with some of them changed, or with these alone."""
    base = {"volts 2": reading("12")} if only else sound_readings(small_sheet())
    judged = judge(small_sheet(), {**base, **changed})
    return diagnose(BadJoints(small_sheet()), judged, Fraction(12_000))


def at(part: str, post: str) -> str:
    """The id of a line."""
    return line_at(small_sheet(), part, post).id


def test_a_sound_panel_passes() -> None:
    """No line of a panel without a fault fails."""
    judged = judge(small_sheet(), sound_readings(small_sheet()))
    assert {"pass"} == {one.verdict for one in judged}


@pytest.mark.parametrize("supply", ["10.20", "12.00", "15.00"])
def test_the_band_moves_with_the_supply(supply: str) -> None:
    """The same sag passes at any supply in range; the next step of the meter fails."""
    line = line_at(small_sheet(), "volts", "fuel.ignition")
    low = Fraction(supply) * 1000 - 140
    for value, verdict in ((low, "pass"), (low - 10, "low")):
        judged = judge_line(line, Reading(value), Fraction(supply) * 1000)
        assert judged.verdict == verdict


def test_a_dead_tail_is_one_wire() -> None:
    """No path and no volts at one post alone: a joint of the wire that leads there, or its tab."""
    found = diagnosis(
        {
            at("continuity", "revs.ignition"): OPEN,
            at("volts", "revs.ignition"): reading("0.05"),
            "seen 3": Reading(seen=False),
        }
    )
    assert found.explained
    assert {"ignition 4", "tab 6"} == {suspect.branch.name for suspect in found.suspects}


def test_a_dead_post_with_a_live_one_behind_it_is_its_own_stud() -> None:
    """Wires go on from the stack; only the instrument's own metal is dead."""
    found = diagnosis(
        {
            at("volts", "depth.ignition"): reading("0.02"),
            at("continuity", "fuel.ignition"): OPEN,
            at("continuity", "revs.ignition"): OPEN,
            at("continuity", "depth.lamp"): OPEN,
            at("continuity", "fuel.lamp"): OPEN,
            at("far end", "depth.ignition"): OPEN,
            "seen 1": Reading(seen=False),
        }
    )
    assert found.explained
    assert [suspect.branch.name for suspect in found.suspects] == ["stud depth.ignition"]


def test_too_few_readings_are_called_too_few() -> None:
    """One dead post and nothing else measured: many joints would do, and it says what is next."""
    found = diagnosis({at("volts", "fuel.ignition"): reading("0.1")}, only=True)
    names = {suspect.branch.name for suspect in found.suspects}
    assert {"ignition 2", "ignition 3", "lug fitting 5", "pigtail ignition"} <= names
    assert found.next_line is not None
    left = [sum(len(one.joints) for one in branches) for _, branches in found.outcomes]
    assert max(left) < sum(len(suspect.joints) for suspect in found.suspects)


def test_the_next_line_splits_the_suspects() -> None:
    """Measuring what was asked for leaves one of the outcomes told beforehand, and no other."""
    first = {at("volts", "fuel.ignition"): reading("0.1")}
    before = diagnosis(first, only=True)
    assert before.next_line is not None
    outcomes = dict(before.outcomes)
    sound = sound_readings(small_sheet())[before.next_line.id]
    after = diagnosis({**first, before.next_line.id: sound}, only=True)
    assert {suspect.branch for suspect in after.suspects} <= set(outcomes["pass"])


def test_readings_no_joint_explains() -> None:
    """Two ends of the panel dead at once is no single joint; it is said, not hidden."""
    found = diagnosis(
        {
            at("volts", "revs.ignition"): reading("0.05"),
            at("volts", "fuel.ground"): reading("11.9"),
            at("continuity", "revs.ignition"): OPEN,
            at("continuity", "fuel.ground"): OPEN,
        }
    )
    assert not found.explained
    assert found.unexplained


def test_a_reading_against_all_sense_has_no_suspect() -> None:
    """More volts than the supply: no joint does that."""
    found = diagnosis({at("volts", "fuel.ignition"): reading("12.9")})
    assert (found.explained, found.suspects) == (False, ())


def test_readings_move_on_a_straight_line() -> None:
    """Thévenin: what a resistance does lies on the line from sound to open.

    A joint of 1 mohm is made 3 ohm by the formula, and by building the network anew.
    """
    sheet = small_sheet()
    lines = [line for line in sheet.lines if line.part == "volts"]
    circuit = Circuit(sheet, lines, Mood(1, 1), powered=True)
    opened, rest = circuit.opened("ignition 3")
    swing = Swing(circuit.sound(), opened, rest).at(np.array([3.0]))[0]
    jumpers = tuple(
        row.model_copy(update={"resistance_uohm": row.resistance_uohm + 3_000_000})
        if row.label == "ignition 3"
        else row
        for row in small_plan().jumpers
    )
    worse = replace(sheet, wiring=wiring_of(small_plan(jumpers=jumpers)))
    anew = Circuit(worse, lines, Mood(1, 1), powered=True).sound()
    assert swing == pytest.approx(anew, abs=1e-9)


def test_what_dials_do_is_a_reading_too() -> None:
    """Nothing but dials looked at, one dead: joints before it, and none that only others need.

    A poor joint before all of them may starve one and let the others wake: it stays suspected.
    """
    seen = {f"seen {n}": Reading(seen=n != 2) for n in (1, 2, 3)}
    found = diagnosis(seen, only=True)
    names = {suspect.branch.name for suspect in found.suspects}
    assert found.explained
    assert {"ignition 3", "ground 1", "lug fitting 5", "stud fuel.ground"} <= names
    assert names & {"ignition 4", "tab 6", "ground 2", "stud depth.ignition"} == set()
