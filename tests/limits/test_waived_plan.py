"""A waiver from the scenario file to the printed sheet, and back through ``check``."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from lugwright.cli.main import run

RINGS = Path(__file__).parents[2] / "scenarios" / "too-many-rings.toml"
WAIVER = """
[[waiver]]
limit = "lugs_per_stud"
place = "oil.ground"
value = 5
reason = "five thin rings, <b>seen</b> & measured"
initials = "AB"
date = 2026-11-25
"""


@pytest.fixture
def boat(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The console with too many rings on one stud, and a waiver for that stud."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "boat.toml"
    path.write_text(RINGS.read_text(encoding="utf-8") + WAIVER, encoding="utf-8")
    return path


def test_one_waiver_makes_the_plan(boat: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without it no plan exists (four lugs a stud); with it one does, the checker passes it, and
    the build list and the plan say who gave it and why. Without it the checker rejects it."""
    assert run(["plan", str(RINGS), "--quiet", "--no-why"]) == 3
    capsys.readouterr()
    assert run(["plan", str(boat), "--quiet", "--out", "plan"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Waived: lugs_per_stud at oil.ground, 5. five thin rings, <b>seen</b> & measured" in told
    (row,) = json.loads(Path("plan/plan.json").read_text(encoding="utf-8"))["waivers"]
    assert (row["place"], row["initials"], row["date"]) == ("oil.ground", "AB", "2026-11-25")
    assert run(["check", str(boat), "plan"]) == 0
    boat.write_text(RINGS.read_text(encoding="utf-8"), encoding="utf-8")
    assert run(["check", str(boat), "plan"]) == 6
    found = capsys.readouterr().out
    assert "waiver: lugs_per_stud at oil.ground: the plan waives this" in found
    assert "lug count: oil.ground: too many lugs on the stud" in found


def test_a_needless_waiver_is_told(boat: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A waiver the plan does not lean on is named when planning and when checking."""
    text = boat.read_text(encoding="utf-8")
    more = WAIVER.replace("oil.ground", "oil.ignition")
    boat.write_text(text + more, encoding="utf-8")
    assert run(["plan", str(boat), "--quiet", "--out", "plan"]) == 0
    note = "waiver of lugs_per_stud at oil.ignition to 5: this plan does not need it"
    assert note in capsys.readouterr().err
    assert run(["check", str(boat), "plan"]) == 0
    assert note in capsys.readouterr().out
