"""Wire length against stacked lugs: every point proved, none missing."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from brute.case import Case
from brute.circuits import CircuitWays
from brute.enumerate import landings, loom_legs_of
from brute.given import lay_given
from brute.joints import Joints
from brute.judged import judged_loads
from brute.random_consoles import random_case
from brute.random_ways import random_way_case
from brute.search import Combined, SupplyWays, Way
from brute.setting import Setting
from brute.tally import plus, summed_key
from support.consoles import tiny_console
from support.limits import plain_limits
from support.seeds import every

from lugwright.checker.run import check_plan
from lugwright.cli.main import run
from lugwright.limits.schema import Limits
from lugwright.model.variants.frontier import Frontier, frontier
from lugwright.model.variants.trade import WIRE_AGAINST_LUGS, Trade
from lugwright.outputs.plot import PlotPoint, frontier_plot
from lugwright.pipeline import holding, pose
from lugwright.problem.build import build_problem
from lugwright.scenario.brief import Brief
from lugwright.stock.read import read_stock
from lugwright.studies.frontier import axes_of, plot_points, rows, trade_off

SKIFF = Path(__file__).resolve().parents[2] / "scenarios" / "sandbar-skiff.toml"
ONE_WIRE = plain_limits(wires_per_barrel=1)


def frontier_of(case: Case) -> Frontier:
    """Our frontier of a random case."""
    return frontier(build_problem(case.brief, case.routes()))


def points_of(found: Frontier) -> list[tuple[int, int]]:
    """Stacked lugs and wire of every point, in the order found."""
    assert found.complete
    return [(outcome.cost[1], outcome.cost[0]) for outcome in found.points]


# -- by trying everything ------------------------------------------------------------------------


def shorter(ways: list[Way]) -> list[Way]:
    """Ways that no other way equals or beats in wire, in stacked lugs and in every need."""
    kept: list[tuple[tuple[int, ...], Way]] = []
    for way in sorted(ways, key=lambda each: (each.key, each.needs())):
        own = (way.key[0], way.key[1], *way.needs()[1:])
        if not any(all(a <= b for a, b in zip(other, own, strict=True)) for other, _ in kept):
            kept.append((own, way))
    return [way for _, way in kept]


def enumerated(case: Case, limits: Limits) -> list[tuple[int, int]]:
    """The frontier from every plan of a small console: stacked lugs and wire, most lugs first."""
    setting = Setting(case.console, limits, case.stock, case.routes())
    joints = Joints(setting)
    given = lay_given(setting, joints)
    if given is None:
        return []
    owners = [circuit for circuit in case.console.circuits if not circuit.taken_from]
    loads, legs = judged_loads(setting, given), loom_legs_of(setting)
    supplies = SupplyWays(setting, CircuitWays(setting, joints, given), given, loads, legs, True)
    before = summed_key(given.tally, limits)
    least: dict[int, int] = {}
    for posts in landings(setting, owners):
        lists = [
            shorter(supplies.landed(circuit, post))
            for circuit, post in zip(owners, posts, strict=True)
        ]
        together = Combined(given, loads, legs)
        for chosen in product(*lists):
            if not together._holds(chosen):
                continue
            key = before
            for way in chosen:
                key = plus(key, way.key)
            least[key[1]] = min(key[0], least.get(key[1], key[0]))
    front: list[tuple[int, int]] = []
    for stacked in sorted(least):
        if not front or least[stacked] < front[-1][1]:
            front.append((stacked, least[stacked]))
    return front[::-1]


@pytest.mark.parametrize(
    "seed", every(3, [*range(4), 5, 6, *range(8, 14), 14, 16, 21, 24, 26, 27, 36])
)
def test_the_frontier_is_that_of_all_plans(seed: int) -> None:
    """On small random consoles: the same points as trying everything, none more, none less."""
    case = random_case(seed)
    limits = replace(case.limits, objective="shortest")
    assert points_of(frontier_of(case)) == enumerated(case, limits)


@pytest.mark.parametrize("seed", every(3, range(12)))
def test_the_best_by_any_weights_is_on_the_frontier_with_devices(seed: int) -> None:
    """With keys, fuses and switches: for every worth of a lug what the enumerator says."""
    case = random_way_case(seed)
    points = points_of(frontier_of(case))
    for worth in (0, 400):
        weights = {"length": 1, "stacked": worth, "fittings": 0, "money": 0}
        limits = replace(case.limits, objective="weights", weights=weights)
        cost = replace(case, limits=limits).best().cost
        least = min((wire + worth * stacked for stacked, wire in points), default=None)
        assert cost == (None if least is None else (least,))


@pytest.mark.parametrize("seed", every(4, range(15, 30)))
def test_any_weights_find_their_best_on_the_frontier(seed: int) -> None:
    """For every worth of a lug the cheapest point costs what the enumerator says."""
    case = random_case(seed)
    points = points_of(frontier_of(case))
    for worth in (0, 37, 400, 5000):
        weights = {"length": 1, "stacked": worth, "fittings": 0, "money": 0}
        limits = replace(case.limits, objective="weights", weights=weights)
        cost = replace(case, limits=limits).best().cost
        least = min((wire + worth * stacked for stacked, wire in points), default=None)
        assert cost == (None if least is None else (least,))


# -- by hand ---------------------------------------------------------------------------------------


def inputs_of(limits: Limits = ONE_WIRE) -> Brief:
    """Four dials in a row and one away, one wire in a barrel: stacks cost a way round."""
    console = tiny_console(((60, 60), (160, 60), (260, 60), (160, 180)), lamps=False)
    return Brief(console, limits, read_stock())


def test_each_point_has_its_checked_plan() -> None:
    """Fewest lugs first; each next point has more lugs and less wire; every plan passes."""
    inputs = inputs_of()
    found = trade_off(inputs)
    assert found.complete and len(found.plans) == len(rows(found)) >= 1
    sums = [(plan.totals.stacked_lugs, plan.totals.wire_dmm) for plan in found.plans]
    assert sums == sorted(set(sums))
    assert [wire for _, wire in sums] == sorted({wire for _, wire in sums}, reverse=True)
    shortest = replace(inputs.limits, objective="shortest")
    for plan in found.plans:
        assert check_plan(Brief(inputs.console, shortest, inputs.stock), plan).passed
        assert plan.proof.proved


def test_the_plan_made_by_eye_is_drawn_in() -> None:
    """It lies on or behind the frontier, and the plot says so."""
    found = trade_off(inputs_of())
    points, hand = plot_points(found)
    assert hand is not None and found.hand is not None
    as_few = [point.y for point in points if point.x <= hand.x]
    assert found.hand_faults or min(as_few) <= hand.y
    drawn = frontier_plot(points, hand, axes_of(found.trade)).file()
    assert "by eye" in drawn and drawn.count("<circle") == len(points)


def test_a_plot_of_one_point_and_of_none() -> None:
    """The picture does not need two points to have a scale."""
    one = frontier_plot([PlotPoint(2, 1345, "a & b")], None, axes_of(WIRE_AGAINST_LUGS)).file()
    assert one.count("<circle") == 1 and "a &amp; b" in one
    assert "<circle" not in frontier_plot([], None, axes_of(WIRE_AGAINST_LUGS)).file()


def test_holds_are_obeyed_at_every_point() -> None:
    """With the hub held every plan has it, and says so."""
    found = trade_off(holding(inputs_of(), [("hub", "dial4")]))
    assert found.plans and {plan.hub for plan in found.plans} == {"dial4"}
    assert all("hub dial4" in plan.proof.held for plan in found.plans)


def test_a_question_put_already_has_the_same_frontier() -> None:
    """The question of the default objective serves: only what is to be least differs."""
    inputs = inputs_of()
    for trade in (WIRE_AGAINST_LUGS, Trade("money", "lugs")):
        assert trade_off(inputs, trade, posed=pose(inputs)) == trade_off(inputs, trade)


def test_no_time_is_not_no_plan() -> None:
    """Out of time nothing is claimed of what was not found."""
    found = trade_off(inputs_of(), time_limit_s=1e-6)
    assert not found.complete and not found.plans
    assert found.told[0] == "No point of the frontier was found in the time given."


def test_no_plan_has_no_frontier() -> None:
    """Where no plan exists that is said, and the search is complete."""
    found = trade_off(inputs_of(plain_limits(wires_per_barrel=1, lugs_per_stud=1)))
    assert found.complete and not found.plans
    assert found.told[0] == "No plan exists, so there is no frontier."


def test_the_command_tells_plots_and_writes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """``--frontier`` adds table, JSON, plot file and its part of the page."""
    monkeypatch.chdir(tmp_path)
    call = ["hubs", str(SKIFF), "--quiet", "--frontier"]
    assert run([*call, "--json"]) == 0
    (found,) = json.loads(capsys.readouterr().out)["frontiers"]
    assert found["complete"] and found["points"]
    folder = tmp_path / "plans" / "sandbar-skiff"
    assert (folder / "frontier-wire-lugs.svg").read_text(encoding="utf-8").startswith("<svg")
    assert "Wire length against stacked lugs" in (folder / "hubs.html").read_text(encoding="utf-8")
    assert run(call) == 0
    assert "Every point is proved and none is missing" in capsys.readouterr().out
