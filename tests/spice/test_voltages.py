"""Every voltage and current of a plan against ngspice, with the devices in every position.

The plan's figures are the worst case over what may be on together; so no setting of the devices
may show more, and the largest over all of them is the figure itself.
"""

from __future__ import annotations

import shutil
from collections import defaultdict
from pathlib import Path

import pytest
from support.current_netlist import Powered, measure, settings

from lugwright.pipeline import make_plan, read_inputs

pytestmark = [
    pytest.mark.spice,
    pytest.mark.skipif(not shutil.which("ngspice"), reason="ngspice is not on the path"),
]
ROOT = Path(__file__).parents[2]
DEMOS = {
    "key-fuses-dimmer": 4,
    "breaker-panel": 1,
    "strapped-breakers": 1,
    "fuse-block-aboard": 3,
    "led-lamp-bus": 2,
    "second-station": 1,
    "day-boat": 4,
    "twin-outboard": 4,
}
"""With the least number of settings in which different ways are closed."""
MOST = 32  # settings looked at; of more, every so-manieth
NEAR_MV = 0.005  # the simulator's own small resistors and leaks


@pytest.mark.parametrize("name", DEMOS)
def test_every_voltage_in_every_position(name: str, tmp_path: Path) -> None:
    """Drop of every load and current of every jumper, the largest over all settings."""
    plan = make_plan(read_inputs(ROOT / "scenarios" / f"{name}.toml")).plan
    assert plan is not None
    drops: dict[str, float] = defaultdict(float)
    flows: dict[str, float] = defaultdict(float)
    number = 0
    every = list(settings(plan))
    step = max(1, len(every) // MOST)
    for _, closed in (*every[::step], every[-1]):  # the last has everything on
        number += 1
        found = measure(Powered(plan, closed), tmp_path)
        for load, drop_mv in found.drops_mv.items():
            drops[load] = max(drops[load], drop_mv)
        for jumper, current_ma in found.currents_ma.items():
            flows[jumper] = max(flows[jumper], current_ma)
    assert number >= DEMOS[name]
    said = {row.load: row.drop_nv / 1e6 for row in plan.drops if row.load in drops}
    assert len(said) > 4
    assert said == pytest.approx({load: drops[load] for load in said}, abs=NEAR_MV)
    assert {one.label: one.current_ma for one in plan.jumpers} == pytest.approx(flows, abs=0.05)
