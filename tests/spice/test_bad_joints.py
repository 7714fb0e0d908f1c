"""Every single joint of whole plans made bad in ngspice, and found again from the readings.

ngspice is a separate program with a netlist made from the plan on its own (``panel_netlist``). Its
voltages are rounded to what a hand meter shows and judged as a person's readings would be.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from support.panel_netlist import OPEN_OHM, SUPPLY_V, Fault, Panel, simulate

from lugwright.pipeline import make_plan, read_inputs
from lugwright.readings.diagnose import BadJoints, Diagnosis, diagnose
from lugwright.readings.judge import PASSED, Judged, judge
from lugwright.readings.lines import Sheet, sheet_of
from lugwright.readings.read_csv import Reading
from lugwright.readings.wiring import Joint

pytestmark = [
    pytest.mark.spice,
    pytest.mark.skipif(not shutil.which("ngspice"), reason="ngspice is not on the path"),
]
FOLDER = Path(__file__).parents[2] / "scenarios"
# Four dials with leads, a splice, and a hub out of reach with an extension.
QUICK = ("sandbar-skiff", "one-wire-per-barrel", "hub-out-of-reach")
WIDE = ("flying-leads", "bus-bar-hub", "reserved-lugs", "switch-panel-loom", "six-dial-console")
RESISTIVE_OHM = 2.0
MOST_JOINTS = 4  # in the set named: two ends of a wire, and a lug of its own at each
MOST_ASKED = 5  # diagnoses, the first included; of the skiff's 42 lines
OL_OHM = 1e6


@dataclass(frozen=True)
class Case:
    """A joint made bad, and the panel's readings with it."""

    fault: Fault
    ohm: float
    readings: dict[str, Reading]
    judged: tuple[Judged, ...]
    diagnosis: Diagnosis | None


@cache
def sheet_for(name: str) -> Sheet:
    """The test sheet of the proved plan of a scenario."""
    plan = make_plan(read_inputs(FOLDER / f"{name}.toml")).plan
    assert plan is not None
    return sheet_of(plan)


def readings_for(
    sheet: Sheet, rest: list[float], live: list[float], loads: dict[str, float]
) -> dict[str, Reading]:
    """What a person types: steps of 0.1 ohm and 10 mV, OL, yes and no."""
    found = {sheet.supply_line: Reading(Fraction(round(SUPPLY_V * 100)) * 10)}
    ohms, volts = iter(rest), iter(live)
    for line in sheet.lines:
        if line.part in ("continuity", "far end"):
            value = next(ohms)
            steps = Fraction(round(value * 10)) * 100
            found[line.id] = Reading(is_open=True) if value > OL_OHM else Reading(steps)
        elif line.part == "volts":
            found[line.id] = volt_reading(next(volts))
        elif line.part == "does" and all(name in loads for name in line.loads):
            parts = [loads[name] / SUPPLY_V for name in line.loads]
            if min(parts) > 0.9 or max(parts) < 0.3:
                found[line.id] = Reading(seen=min(parts) > 0.9)
    return found


def volt_reading(volts: float) -> Reading:
    """Volts in the meter's steps."""
    return Reading(Fraction(round(volts * 100)) * 10)


def cases_of(name: str, folder: Path) -> Iterator[Case]:
    """Each joint of a plan open and resistive, the sound panel first."""
    sheet = sheet_for(name)
    rest, live = Panel(sheet.plan, False), Panel(sheet.plan, True)
    ohms = [line for line in sheet.lines if line.part in ("continuity", "far end")]
    volts = [line for line in sheet.lines if line.part == "volts"]
    at_rest = [(place(rest, line.at), place(rest, line.start)) for line in ohms]
    at_key_on = [(place(live, line.at), "0") for line in volts]
    loads = list(live.load_volts())
    at_key_on += [(a, b) for _, a, b in loads]
    crimps = [crimp.number for crimp in sheet.plan.crimps]
    at_key_on += [(f"barrel {number}", "0") for number in crimps]
    wanted = [("", 0.0)]
    wanted += [(one.resistor, ohm) for one in live.faults for ohm in (OPEN_OHM, RESISTIVE_OHM)]
    bad_joints = BadJoints(sheet)
    named = {one.resistor: one for one in live.faults}
    same = {(one.kind, one.where, one.said): one.resistor for one in rest.faults}
    twin = {one.resistor: same.get((one.kind, one.where, one.said), "") for one in live.faults}
    ohm_found = simulate(
        rest, at_rest, sorted({(twin.get(r, ""), ohm) for r, ohm in wanted}), folder
    )
    volt_found = simulate(live, at_key_on, wanted, folder)
    for resistor, ohm in wanted:
        values = volt_found[resistor, ohm]
        middle, end = len(volts), len(volts) + len(loads)
        across = dict(zip([n for n, _, _ in loads], values[middle:end], strict=True))
        found = readings_for(sheet, ohm_found[twin.get(resistor, ""), ohm], values, across)
        judged = judge(sheet, found)
        fails = any(one.verdict not in PASSED for one in judged)
        supply = found[sheet.supply_line].thousandths
        answer = diagnose(bad_joints, judged, supply) if fails else None
        fault = named.get(resistor, Fault("", "", "", ""))
        found |= {f"crimp {n}": volt_reading(v) for n, v in zip(crimps, values[end:], strict=True)}
        yield Case(fault, ohm, found, judged, answer)


def place(panel: Panel, node: str) -> str:
    """Where a tip of the meter goes, in the netlist's names."""
    kind, _, name = node.partition(" ")
    return panel.metal(name) if kind == "post" else node


def names(joint: Joint, fault: Fault) -> bool:
    """Whether a joint that is suspected is the one made bad."""
    return (joint.kind, joint.where) == (fault.kind, fault.where) and joint.what.startswith(
        fault.said
    )


def hold(name: str, folder: Path) -> None:
    """The sound panel passes; every bad joint fails a line and is in a small set of suspects."""
    sound, *bad = cases_of(name, folder)
    assert [one.line.id for one in sound.judged if one.verdict not in PASSED] == []
    for case in bad:
        about = f"{name}: {case.fault.said} {case.ohm:g} ohm"
        assert case.diagnosis is not None, f"{about}: no line fails"
        assert case.diagnosis.explained, about
        joints = [joint for one in case.diagnosis.suspects for joint in one.joints]
        assert any(names(joint, case.fault) for joint in joints), about
        assert len(joints) <= MOST_JOINTS, about


@pytest.mark.parametrize("name", QUICK)
def test_every_bad_joint_is_found(name: str, tmp_path: Path) -> None:
    """Each joint of three plans, open and with two ohms in it."""
    hold(name, tmp_path)


@pytest.mark.slow
@pytest.mark.parametrize("name", WIDE)
def test_every_bad_joint_is_found_in_more_plans(name: str, tmp_path: Path) -> None:
    """The same for more plans."""
    hold(name, tmp_path)


@pytest.mark.parametrize("name", ["sandbar-skiff"])
def test_measuring_what_is_asked_for_leads_to_the_joint(name: str, tmp_path: Path) -> None:
    """From the supply and one failing line alone, doing as told each time, to a small set.

    The joint made bad is suspected all the way; nobody has to measure the whole sheet.
    """
    sheet = sheet_for(name)
    bad_joints = BadJoints(sheet)
    for case in list(cases_of(name, tmp_path))[1:]:
        about = f"{case.fault.said} {case.ohm:g} ohm"
        first = next(one.line.id for one in case.judged if one.verdict not in PASSED)
        taken = {key: case.readings[key] for key in (sheet.supply_line, first)}
        for _ in range(MOST_ASKED):
            judged = judge(sheet, taken)
            answer = diagnose(bad_joints, judged, taken[sheet.supply_line].thousandths)
            joints = [joint for one in answer.suspects for joint in one.joints]
            assert any(names(joint, case.fault) for joint in joints), f"{about}: {sorted(taken)}"
            if answer.next_line is None:
                break
            taken[answer.next_line.id] = case.readings[answer.next_line.id]
        assert answer.next_line is None, f"{about}: still asking after {sorted(taken)}"
        assert len(joints) <= MOST_JOINTS, about
