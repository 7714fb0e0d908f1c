"""A plan file edited to any JSON, sealed again or not, is judged or refused in words."""

from __future__ import annotations

import copy
import json
import random
import shutil
from pathlib import Path
from typing import Any

import pytest
from support.scenario_text_made import at, places, put

from lugwright.base.canonical import digest_of
from lugwright.cli.main import run

ROOT = Path(__file__).parents[2]
IN_THE_DEFAULT_RUN, IN_ALL = 32, 1_000
SEED = 7
JUNK: tuple[Any, ...] = (
    *(None, True, 1.5, -1, 0, 2**63, 10**400, -(10**12), [], {}, [[[]]], {"a": {"b": 1.5}}),
    *("", "\ud800", "\u202e", "5 mm", "x" * 100_000),
)
CALLS = (
    ["check", "skiff.toml", "edited"],
    ["sheets", "edited", "--only", "list,drill,stacks,rear-view", "--out", "sheets"],
    ["kits", "edited", "--boats", "2"],
    ["changes", "plan", "edited"],
    ["changes", "edited", "plan"],
    ["lengths", "edited"],
    ["readings", "edited", "plan/test-readings.csv"],
    ["spools", "edited", "--boats", "1"],
    ["rework", "skiff.toml", "edited", "--time", "1", "-q"],
)


def edited(plan: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    """A plan with one value another, left out, doubled or added."""
    plan = copy.deepcopy(plan)
    way = chance.choice(list(places(plan)))
    parent, how = at(plan, way[:-1]), chance.random()
    if how < 0.7:
        put(plan, way, chance.choice(JUNK))
    elif how < 0.85:
        del parent[way[-1]]
    elif isinstance(parent, list):
        parent.append(copy.deepcopy(parent[way[-1]]))
    else:
        parent["zzz"] = chance.choice(JUNK)
    return _sealed(plan) if chance.random() < 0.5 else plan


def _sealed(plan: dict[str, Any]) -> dict[str, Any]:
    """With a seal that is right again, where what it holds has one."""
    bare = {key: value for key, value in plan.items() if key != "seal"}
    try:
        return {**bare, "seal": digest_of(bare)}
    except TypeError:
        return plan


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the skiff's file and its plan, as the command makes it."""
    made = tmp_path_factory.mktemp("planned")
    shutil.copy(ROOT / "scenarios" / "sandbar-skiff.toml", made / "skiff.toml")
    assert run(["plan", str(made / "skiff.toml"), "-q", "--out", str(made / "plan")]) == 0
    (made / "edited").mkdir()
    return made


@pytest.fixture
def plan(planned: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    """The plan as data, in a copy of that folder, which is where the commands run."""
    shutil.copytree(planned, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    data: dict[str, Any] = json.loads(Path("plan/plan.json").read_text(encoding="utf-8"))
    return data


@pytest.mark.parametrize(
    "number", [IN_THE_DEFAULT_RUN, pytest.param(IN_ALL, marks=pytest.mark.slow)]
)
def test_an_edited_plan_is_no_fault_of_ours(
    plan: dict[str, Any], number: int, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every command that reads a plan ends with one of its own codes, and with words."""
    chance, codes = random.Random(SEED), []
    for index in range(number):
        Path("edited/plan.json").write_text(json.dumps(edited(plan, chance)), encoding="utf-8")
        capsys.readouterr()
        codes.append(run(CALLS[index % len(CALLS)]))
        assert "our fault" not in capsys.readouterr().err, index
    assert set(codes) <= {0, 2, 4, 5, 6} and codes.count(2) > number / 3


@pytest.mark.parametrize("call", CALLS[1:], ids=" ".join)
def test_a_sealed_plan_that_does_not_hang_together_is_refused(
    plan: dict[str, Any], call: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    """A lug on a stud that names a crimp which is not there: no paper and no work is made of it."""
    lugs = [lug for stack in plan["stacks"] for lug in stack["lugs"] if lug["crimp"]]
    lugs[0]["crimp"] = 999_999
    Path("edited/plan.json").write_text(json.dumps(_sealed(plan)), encoding="utf-8")
    capsys.readouterr()
    assert run(call) == 2
    assert "names the crimp '999999', which is not in the plan" in capsys.readouterr().err
