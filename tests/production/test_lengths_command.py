"""``lengths`` over a plan, a folder of plans and a planned catalogue."""

from __future__ import annotations

import json
from pathlib import Path
from shutil import copy

from click.testing import CliRunner

from lugwright.cli.main import cli

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def lengths(*arguments: str) -> list[dict[str, object]]:
    """The sets of standard lengths a call answers with."""
    told = CliRunner().invoke(cli, ["lengths", *arguments, "--json"])
    assert told.exit_code == 0, told.output
    sets: list[dict[str, object]] = json.loads(told.stdout)["sets"]
    return sets


def test_one_plan_many_plans_and_a_catalogue_say_the_same(tmp_path: Path) -> None:
    """The same two models three ways; the curve is drawn; a folder without a plan is told."""
    models, store, plans = tmp_path / "models", tmp_path / "store", tmp_path / "plans"
    models.mkdir()
    for name in ("metric-studs", "sandbar-skiff"):
        copy(SCENARIOS / f"{name}.toml", models)
        asked = ["plan", str(models / f"{name}.toml"), "--out", str(plans / name), "-q"]
        assert CliRunner().invoke(cli, asked).exit_code == 0
    asked = ["catalogue", "plan", str(models), "--store", str(store), "--engine", "serial", "-q"]
    assert CliRunner().invoke(cli, asked).exit_code == 0
    each = lengths(str(plans / "metric-studs"), str(plans / "sandbar-skiff"))
    assert each == lengths(str(plans)) == lengths(str(store))
    drawn = tmp_path / "curve.svg"
    assert lengths(str(plans), "--most", "4", "--plot", str(drawn)) == each[:4]
    assert drawn.read_text("utf-8").startswith("<svg")
    twice = lengths(str(plans), "--boats", "2", "--most", "1")
    assert twice[0]["waste_dmm"] == 2 * each[0]["waste_dmm"]  # type: ignore[operator]
    none = CliRunner().invoke(cli, ["lengths", str(models)])
    assert none.exit_code == 2 and "holds no plan" in none.output
