"""Which limits bind: each saving is that of planning under the moved limit, none is made up."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from lugwright.cli.main import run
from lugwright.pipeline import holding, make_plan, read_inputs
from lugwright.plans.outcome import Ending
from lugwright.scenario.brief import Brief
from lugwright.studies.tight_spots import MOST_LINES, TightSpots, tight_lines, tight_spots

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
ONE_WIRE = SCENARIOS / "one-wire-per-barrel.toml"
NO_PLAN = SCENARIOS / "too-many-rings.toml"


@pytest.fixture(scope="module")
def found() -> tuple[Brief, TightSpots]:
    """A console with one wire in a barrel, and its tight spots."""
    inputs = read_inputs(ONE_WIRE)
    return inputs, tight_spots(inputs)


SETTINGS = {
    "wires_per_barrel": "wires_per_barrel=2",
    "lamp_take_off": "lamp_take_off=any",
    "cut_step": "cut_step=2 mm",
}


def test_every_saving_is_that_of_a_plan(found: tuple[Brief, TightSpots]) -> None:
    """Planning with that one limit set by hand costs just what the spot says, on the same hub."""
    _, spots = found
    assert {spot.limit for spot in spots.spots} == set(SETTINGS)
    for spot in spots.spots:
        moved = read_inputs(ONE_WIRE, settings=(SETTINGS[spot.limit],))
        planned = make_plan(moved)
        assert planned.outcome.ending is Ending.PROVED and planned.plan is not None
        assert (planned.outcome.cost, planned.plan.hub) == (spot.cost, spot.hub)
        assert spot.cost < spots.base.cost


@pytest.mark.parametrize(
    "setting", ["lugs_per_stud=5", "wires_per_splice=5", "clearance=5 mm", "drop_other=11 %"]
)
def test_what_is_not_named_saves_nothing(found: tuple[Brief, TightSpots], setting: str) -> None:
    """A limit that could be moved and stands in no line costs the same when it is."""
    inputs, spots = found
    assert setting.partition("=")[0] not in {spot.limit for spot in spots.spots}
    present = make_plan(inputs).outcome.cost
    assert make_plan(read_inputs(ONE_WIRE, settings=(setting,))).outcome.cost == present


def test_the_best_saving_comes_first(found: tuple[Brief, TightSpots]) -> None:
    """Ordered by what is saved, told with value, place and hub, at most ten lines."""
    _, spots = found
    costs = [spot.cost for spot in spots.spots]
    assert costs == sorted(costs) and len(costs) <= MOST_LINES
    lines = tight_lines(spots)
    assert lines[0] == (
        "2 wires per barrel: saves wire and worths 420 mm (hub volts; wires per barrel is 1 now, "
        f"{spots.spots[0].origin})"
    )
    assert not spots.unsettled and len(lines) == len(spots.spots)


def test_holds_stay_held() -> None:
    """With the hub held no step may change it."""
    spots = tight_spots(holding(read_inputs(ONE_WIRE), [("hub", "fuel")]))
    assert spots.spots and {spot.hub for spot in spots.spots} == {"fuel"}


def test_out_of_time_nothing_is_said_to_save_nothing() -> None:
    """Every limit stays unsettled, and that is what is told."""
    spots = tight_spots(read_inputs(ONE_WIRE), time_limit_s=1e-6)
    assert not spots.spots and len(spots.unsettled) == spots.asked > 10
    assert tight_lines(spots) == ("Nothing can be said of single limits: no answer in time.",)


def test_without_a_plan_there_is_nothing_to_save() -> None:
    """Where no plan exists the study says no more than that."""
    spots = tight_spots(read_inputs(NO_PLAN))
    assert tight_lines(spots) == ("Nothing can be said of single limits: no plan exists.",)


def test_the_command_tells_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """``--tight`` in JSON and on the page."""
    monkeypatch.chdir(tmp_path)
    assert run(["hubs", str(ONE_WIRE), "--quiet", "--tight", "--json"]) == 0
    tight = json.loads(capsys.readouterr().out)["tight"]
    assert [spot["saving"] for spot in tight["spots"]] == [[4200], [2500], [90]]
    page = tmp_path / "plans" / "one-wire-per-barrel" / "hubs.html"
    assert "saves wire and worths 420 mm" in page.read_text(encoding="utf-8")
