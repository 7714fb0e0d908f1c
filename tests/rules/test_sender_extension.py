"""A sender's boat wire that is short: lengthened in its own size. Rule R11.

Length by hand from R11 with the usual rule set's limits, read off them here.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from lugwright.base.scale import ceil_div
from lugwright.base.toml import parse_toml
from lugwright.checker.run import check_plan
from lugwright.pipeline import make_plan, pose, read_inputs
from lugwright.plans.schema import Jumper, Plan
from lugwright.scenario.brief import Brief

TEXT = (Path(__file__).parents[2] / "scenarios/second-station.toml").read_text(encoding="utf-8")
WIRE = '{ lands_on = "heat", wire_size = "16 AWG", colour = "tan" }'
SHORT = (
    '{ lands_on = "heat", wire_size = "14 AWG", colour = "tan", entry = ["190 mm", "0 mm"], '
    'reach = "60 mm" }'
)


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> tuple[Brief, Plan]:
    """The two stations, the wire of the heat switch 14 AWG and 60 mm long behind the panel."""
    assert WIRE in TEXT
    file = tmp_path_factory.mktemp("short") / "short.toml"
    file.write_text(TEXT.replace(WIRE, SHORT), encoding="utf-8")
    assert parse_toml(file.read_bytes(), file.name)
    brief = read_inputs(file)
    plan = make_plan(brief).plan
    assert plan is not None
    return brief, plan


def extension_of(plan: Plan) -> Jumper:
    """What lengthens the heat switch's wire."""
    (found,) = [piece for piece in plan.jumpers if piece.from_joint == "join pigtail heat"]
    return found


def test_it_keeps_the_boat_wires_size(planned: tuple[Brief, Plan]) -> None:
    """14 AWG as the wire, while the circuit's own jumpers are thinner."""
    brief, plan = planned
    piece = extension_of(plan)
    assert piece.wire_size == "14 AWG"
    jumpers = {p.wire_size for p in plan.jumpers if p.circuit == "heat" and p.role == "jumper"}
    assert jumpers == {"16 AWG"}
    assert (piece.stage, piece.role) == ("aboard", "extension")
    assert [str(finding) for finding in check_plan(brief, plan).findings] == []


def test_its_length_by_hand(planned: tuple[Brief, Plan]) -> None:
    """Shortfall with slack, two end allowances, up to the cut step; never below the least."""
    brief, plan = planned
    limits, piece = brief.limits, extension_of(plan)
    _, routes = pose(brief)
    circuit = brief.console.circuit("heat")
    assert circuit.pigtail is not None and circuit.pigtail.entry is not None
    path = routes.from_entry(circuit.pigtail.entry, piece.to_joint).path_dmm
    needed = path + brief.console.service_travel_dmm + limits.drip_loop_dmm
    needed += 2 * limits.re_termination_dmm
    short = needed - 600
    length = ceil_div(short * (1000 + limits.slack_permille), 1000) + 2 * limits.end_allowance_dmm
    length = max(length, limits.minimum_jumper_dmm)
    assert piece.length_dmm == ceil_div(length, limits.cut_step_dmm) * limits.cut_step_dmm


def test_another_size_is_found_by_the_checker(planned: tuple[Brief, Plan]) -> None:
    """An extension in the circuit's size is not that wire's."""
    brief, plan = planned
    piece = extension_of(plan)
    thin = next(p for p in plan.jumpers if p.circuit == "heat" and p.role == "jumper")
    changes = {"wire_size": thin.wire_size, "spool": thin.spool, "colour": thin.colour}
    other = piece.model_copy(update=changes)
    jumpers = tuple(other if one is piece else one for one in plan.jumpers)
    report = check_plan(brief, plan.model_copy(update={"jumpers": jumpers}))
    assert any("size of heat switch: tan" in str(finding) for finding in report.findings)
