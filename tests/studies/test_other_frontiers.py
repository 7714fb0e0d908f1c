"""Money, wire and stacked lugs against each other and against drop: none missing, all proved."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from brute.case import Case
from brute.circuits import CircuitWays
from brute.enumerate import loom_legs_of
from brute.given import lay_given
from brute.hubs import landings
from brute.joints import Joints
from brute.judged import judged_loads
from brute.random_consoles import random_case
from brute.search import Combined, SupplyWays, Way
from brute.setting import Setting
from brute.tally import EQUALS, MONEY_THEN_WIRE, plus, summed_key
from support.seeds import seeds

from lugwright.assemble.build import assemble_plan
from lugwright.base.scale import ceil_div
from lugwright.checker.run import check_plan
from lugwright.cli.cmd_hubs import TRADES as OFFERED
from lugwright.cli.main import run
from lugwright.model.variants.frontier import Frontier, frontier
from lugwright.model.variants.frontier_drop import against_drop
from lugwright.model.variants.trade import TRADES
from lugwright.outputs.folder import STUDY_NAMES
from lugwright.pipeline import read_inputs
from lugwright.problem.build import build_problem
from lugwright.scenario.brief import Brief
from lugwright.studies.frontier import sides_of, trade_off

SKIFF = Path(__file__).resolve().parents[2] / "scenarios" / "sandbar-skiff.toml"
MINUTES = ("money:drop", "lugs:drop")  # on the demo console
SEEDS = (0, 2, 3, 5, 8, 9, 12, 14, 16, 21, 24, 27)
LONG = (14, 16, *SEEDS[1::2])  # with -m slow

Key = tuple[int, ...]
Plans = Iterator[tuple[Key, int]]


def found_for(name: str, case: Case) -> Frontier:
    """Our frontier of a random case."""
    problem = build_problem(case.brief, case.routes())
    search = against_drop if TRADES[name].against == "drop" else frontier
    found = search(problem, TRADES[name])
    assert found.complete
    return found


def every_plan(case: Case, objective: str) -> Plans:
    """Of every plan of a small console that no other matches: its key and worst drop's share."""
    limits = replace(case.limits, objective=objective)
    setting = Setting(case.console, limits, case.stock, case.routes())
    joints = Joints(setting)
    given = lay_given(setting, joints)
    if given is None:
        return
    owners = [circuit for circuit in case.console.circuits if not circuit.taken_from]
    loads, legs = judged_loads(setting, given), loom_legs_of(setting)
    supplies = SupplyWays(setting, CircuitWays(setting, joints, given), given, loads, legs, True)
    before = summed_key(given.tally, limits)
    for posts in landings(setting, owners):
        lists = [
            unmatched(supplies.landed(circuit, post))
            for circuit, post in zip(owners, posts, strict=True)
        ]
        together = Combined(given, loads, legs)
        for chosen in product(*lists):
            if not together._holds(chosen):
                continue
            key, drops = before, together.own_nv
            for way in chosen:
                key, drops = plus(key, way.key), plus(drops, way.drops_nv)
            shares = (
                ceil_div(drop * 1000, max(1, limit))
                for drop, limit in zip(drops, together.limits_nv, strict=True)
            )
            yield key, max(shares, default=0)


def unmatched(ways: list[Way]) -> list[Way]:
    """Ways that no other way equals or beats in all of its key and in every need."""
    kept: list[tuple[Key, Way]] = []
    for way in sorted(ways, key=lambda each: (each.key, each.needs())):
        own = (*way.key[:-EQUALS], *way.needs()[1:])
        if not any(all(a <= b for a, b in zip(other, own, strict=True)) for other, _ in kept):
            kept.append((own, way))
    return [way for _, way in kept]


def undominated(pairs: Iterator[tuple[int, int]]) -> list[tuple[int, int]]:
    """The frontier of pairs (capped, value), most of what is capped first."""
    least: dict[int, int] = {}
    for capped, value in pairs:
        least[capped] = min(value, least.get(capped, value))
    front: list[tuple[int, int]] = []
    for capped in sorted(least):
        if not front or least[capped] < front[-1][1]:
            front.append((capped, least[capped]))
    return front[::-1]


@pytest.mark.parametrize("seed", seeds(SEEDS, LONG))
def test_money_against_wire(seed: int) -> None:
    """The same points as trying everything."""
    case = random_case(seed)
    wanted = undominated((key[1], key[0]) for key, _ in every_plan(case, MONEY_THEN_WIRE))
    found = found_for("money:wire", case)
    assert [outcome.cost[0] for outcome in found.points] == [money for _, money in wanted]
    caps = [outcome.held for outcome in found.points][1:]
    assert len(caps) == len(set(caps))


@pytest.mark.parametrize(
    ("name", "objective"),
    [("wire:drop", "shortest"), ("money:drop", "cheapest"), ("lugs:drop", "lowest-stacks")],
)
@pytest.mark.parametrize("seed", seeds(SEEDS[:8], LONG))
def test_against_the_worst_drop(name: str, objective: str, seed: int) -> None:
    """As many points as trying everything finds, each of the same value."""
    case = random_case(seed)
    wanted = undominated((share, key[0]) for key, share in every_plan(case, objective))
    found = found_for(name, case)
    assert [outcome.cost[0] for outcome in found.points] == [value for _, value in wanted]


@pytest.mark.parametrize("seed", seeds(SEEDS, LONG))
def test_money_against_lugs_for_every_worth(seed: int) -> None:
    """For every worth of a lug the cheapest point costs what the enumerator says."""
    case = random_case(seed)
    found = found_for("money:lugs", case)
    stacked = [stacked_of(outcome.held) for outcome in found.points]
    assert stacked == sorted(stacked, reverse=True)
    for worth in (0, 10**4, 3 * 10**5, 10**7, 10**9):
        weights = {"length": 0, "stacked": worth, "fittings": 0, "money": 1}
        limits = replace(case.limits, objective="weights", weights=weights)
        cost = replace(case, limits=limits).best().cost
        sums = sums_of(case, found)
        least = min((money + worth * lugs for lugs, money in sums), default=None)
        assert cost == (None if least is None else (least,))


def stacked_of(held: tuple[str, ...]) -> int:
    """The cap a point was found under; none is far above all."""
    return int(held[0].split()[2]) if held else 10**6


def sums_of(case: Case, found: Frontier) -> list[tuple[int, int]]:
    """Stacked lugs of every point by its plan, and its money."""
    made = []
    for outcome in found.points:
        limits = replace(case.limits, objective="cheapest")
        brief = Brief(case.console, limits, case.stock)
        plan = assemble_plan(brief, case.routes(), outcome, "test")
        made.append((plan.totals.stacked_lugs, outcome.cost[0]))
    return made


# -- the study and the command ---------------------------------------------------------------------


def skiff_inputs() -> Brief:
    """The four dials of the demo."""
    return read_inputs(SKIFF)


@pytest.mark.parametrize(
    "name",
    [pytest.param(name, marks=pytest.mark.slow) if name in MINUTES else name for name in TRADES],
)
def test_every_point_is_a_checked_plan(name: str) -> None:
    """Least of what is capped first; what is least falls from point to point; each plan passes."""
    inputs = skiff_inputs()
    found = trade_off(inputs, TRADES[name])
    assert found.complete and found.plans
    value, against = sides_of(TRADES[name])
    capped = [against.number(plan) for plan in found.plans]
    values = [value.number(plan) for plan in found.plans]
    assert capped == sorted(set(capped))
    assert values == sorted(set(values), reverse=True)
    aimed = replace(inputs.limits, objective=TRADES[name].objective)
    for plan in found.plans:
        assert check_plan(Brief(inputs.console, aimed, inputs.stock), plan).passed
        assert plan.proof.proved


def test_what_the_command_offers_is_what_the_model_knows() -> None:
    """Names on the command line, trades of the model and files of the folder agree."""
    assert tuple(TRADES) == OFFERED
    assert {f"frontier-{name.replace(':', '-')}.svg" for name in TRADES} <= STUDY_NAMES


def test_the_command_tells_of_two_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """``--frontier-of`` may be given several times; each has its table, plot and data."""
    monkeypatch.chdir(tmp_path)
    call = ["hubs", str(SKIFF), "--quiet", "--json"]
    for pair in ("money:lugs", "wire:drop"):
        call += ["--frontier-of", pair]
    assert run(call) == 0
    told = json.loads(capsys.readouterr().out)["frontiers"]
    assert [(one["value"], one["against"]) for one in told] == [("money", "lugs"), ("wire", "drop")]
    folder = tmp_path / "plans" / "sandbar-skiff"
    page = (folder / "hubs.html").read_text(encoding="utf-8")
    assert "Money against stacked lugs" in page and "Wire length against worst drop" in page
    assert {path.name for path in folder.glob("*.svg")} == {
        "frontier-money-lugs.svg", "frontier-wire-drop.svg",
    }  # fmt: skip
