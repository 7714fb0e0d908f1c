"""A panel with devices in ngspice, with its ways closed and open as each line of the sheet has it.

The netlist is made from the plan on its own (``panel_netlist``): a sound panel passes every line
in every position, and a contact that is open or poor is named.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from support.panel_netlist import OPEN_OHM, SUPPLY_V, Panel, simulate

from lugwright.pipeline import make_plan, read_inputs
from lugwright.readings.diagnose import BadJoints, diagnose
from lugwright.readings.judge import PASSED, judge
from lugwright.readings.lines import sheet_of
from lugwright.readings.read_csv import Reading
from lugwright.readings.schema import Line, Sheet

pytestmark = [
    pytest.mark.spice,
    pytest.mark.skipif(not shutil.which("ngspice"), reason="ngspice is not on the path"),
]
ROOT = Path(__file__).parents[2]
KEY, ANCHOR = "scenarios/key-fuses-dimmer.toml", "tests/scenario/consoles/anchor-light.toml"
ON_OHMS = ("continuity", "far end", "way closed", "way open", "feed to ground", "stop apart")
POOR_OHM, OL_OHM = 2.0, 1e6


@cache
def sheet_for(file: str) -> Sheet:
    """The test sheet of the proved plan of a console."""
    plan = make_plan(read_inputs(ROOT / file)).plan
    assert plan is not None
    return sheet_of(plan)


@dataclass(frozen=True)
class Asked:
    """Lines that are read with the same ways closed, and the panel so."""

    panel: Panel
    lines: tuple[Line, ...]


@cache
def asked(file: str) -> tuple[Asked, ...]:
    """The sheet's ohms and volts, setting by setting."""
    sheet = sheet_for(file)
    found: list[Asked] = []
    for powered, parts in ((False, ON_OHMS), (True, ("volts",))):
        mine = [line for line in sheet.lines if line.part in parts]
        for closed in dict.fromkeys(line.closed for line in mine):
            lines = tuple(line for line in mine if line.closed == closed)
            found.append(Asked(Panel(sheet.plan, powered, closed), lines))
    return tuple(found)


def tip(panel: Panel, node: str) -> str:
    """Where a tip of the meter goes, in the netlist's names."""
    kind, _, name = node.partition(" ")
    if kind == "post":
        return panel.metal(name)
    return node if kind == "far" else "0"


def read(
    file: str, folder: Path, bad: Callable[[Panel], str] | None, ohm: float
) -> dict[str, Reading]:
    """What the meter shows on every line, with one joint bad."""
    sheet = sheet_for(file)
    found = {sheet.supply_line: Reading(Fraction(round(SUPPLY_V * 100)) * 10)}
    for one in asked(file):
        resistor = bad(one.panel) if bad else ""
        pairs = [(tip(one.panel, line.at), tip(one.panel, line.start)) for line in one.lines]
        values = simulate(one.panel, pairs, [(resistor, ohm)], folder)[resistor, ohm]
        found |= dict(_shown(one.lines, values))
    return found


def _shown(lines: Sequence[Line], values: Sequence[float]) -> Iterator[tuple[str, Reading]]:
    """In a meter's steps: 0.1 ohm and 10 mV; OL above what it can show."""
    for line, value in zip(lines, values, strict=True):
        step = 100 if line.unit == "ohm" else 10
        if line.unit == "ohm" and value > OL_OHM:
            yield line.id, Reading(is_open=True)
        else:
            yield line.id, Reading(Fraction(round(value * 1000 / step)) * step)


def contact(far: str) -> Callable[[Panel], str]:
    """The resistor of a way's contact; "" while it stands open."""
    return lambda panel: next(
        (one.resistor for one in panel.faults if (one.kind, one.where) == ("contact", far)), ""
    )


@pytest.mark.parametrize("file", [KEY, ANCHOR])
def test_a_sound_panel_passes_in_every_position(file: str, tmp_path: Path) -> None:
    """Ways closed and open on ohms, volts with the devices as each line has them."""
    judged = judge(sheet_for(file), read(file, tmp_path, None, 0.0))
    measured = [one for one in judged if one.reading is not None]
    assert len({one.line.closed for one in measured}) > 2
    assert [one.line.id for one in measured if one.verdict not in PASSED] == []


FARS = [
    (KEY, "key.ign"), (KEY, "key.crank"), (KEY, "fuses.f1"), (KEY, "fuses.f3"), (KEY, "light.out"),
    (KEY, "dimmer.out"), (ANCHOR, "nav.navigation"), (ANCHOR, "nav.anchor"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("file", "far", "ohm"),
    [(*each, (OPEN_OHM, POOR_OHM)[place % 2]) for place, each in enumerate(FARS)]
    + [
        pytest.param(*each, (POOR_OHM, OPEN_OHM)[place % 2], marks=pytest.mark.slow)
        for place, each in enumerate(FARS)
    ],
)
def test_a_bad_contact_is_named(file: str, far: str, ohm: float, tmp_path: Path) -> None:
    """Open, and with two ohms in it: among the joints that explain the readings."""
    readings = read(file, tmp_path, contact(far), ohm)
    judged = judge(sheet_for(file), readings)
    assert any(one.verdict not in PASSED for one in judged)
    supply = readings[sheet_for(file).supply_line].thousandths
    found = diagnose(BadJoints(sheet_for(file)), judged, supply)
    assert found.explained, found.unexplained
    named = [(joint.kind, joint.where) for one in found.suspects for joint in one.joints]
    assert ("contact", far) in named, named
    assert len(named) <= 4


def test_a_poor_stop_contact_is_named(tmp_path: Path) -> None:
    """The engine would not stop: ohms tell, with the key off and with the lanyard out."""
    readings = read(KEY, tmp_path, contact("key.ground"), POOR_OHM)
    judged = judge(sheet_for(KEY), readings)
    found = diagnose(BadJoints(sheet_for(KEY)), judged, Fraction(round(SUPPLY_V * 1000)))
    assert found.explained
    named = [(joint.kind, joint.where) for one in found.suspects for joint in one.joints]
    assert ("contact", "key.ground") in named
