"""A feed without a fuse is planned only with its reason, and then every sheet says so."""

from __future__ import annotations

import json
from pathlib import Path

import pdfplumber
import pytest
from cli.test_cautions_everywhere import SKIFF, sheets_in, squeezed, words_of

from lugwright.cli.main import run

REASON = "the starter cable, 33 CFR 183.455(b) leaves it out"
SAID = squeezed(f"The feed ignition has no fuse: {REASON}.")


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the skiff without its fuse, and its plan."""
    made = tmp_path_factory.mktemp("unfused")
    text = Path(SKIFF).read_text(encoding="utf-8")
    bare = text.replace('fuse = "10 A"', f'fuse = "none", fuse_reason = "{REASON}"')
    assert bare != text
    (made / "skiff.toml").write_text(bare, encoding="utf-8")
    assert run(["plan", str(made / "skiff.toml"), "--out", str(made / "plan"), "--quiet"]) == 0
    return made


@pytest.fixture(autouse=True)
def stand_there(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Commands run in the shop's folder."""
    monkeypatch.chdir(place)


def silent(folder: Path) -> list[str]:
    """The sheets of a folder that do not say it."""
    return [path.name for path in sheets_in(folder) if SAID not in squeezed(words_of(path))]


def test_every_sheet_of_the_plan_says_so(place: Path) -> None:
    """Pages, drawings, text, workbook, the first page of each PDF; the plan file too."""
    assert len(sheets_in(place / "plan")) >= 9
    assert silent(place / "plan") == []
    cautions = json.loads((place / "plan" / "plan.json").read_text(encoding="utf-8"))["cautions"]
    assert SAID in [squeezed(caution) for caution in cautions]


def test_sheets_before_a_plan_and_on_letter(place: Path) -> None:
    """Measuring sheet, drilling template and rear view; the plan's sheets on other paper."""
    assert run(["sheets", "skiff.toml", "--out", "before"]) == 0
    assert run(["sheets", "plan", "--out", "letter", "--page", "Letter"]) == 0
    assert silent(place / "before") == []
    assert silent(place / "letter") == []


def test_hubs_changes_rework_and_kits(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is made from the plan says so as well."""
    assert run(["hubs", "skiff.toml", "--out", "side", "--quiet"]) == 0
    assert SAID in squeezed(words_of(place / "side" / "hubs.html"))
    capsys.readouterr()
    assert run(["changes", "plan", "plan"]) == 0
    assert SAID in squeezed(capsys.readouterr().out)
    assert run(["rework", "skiff.toml", "plan", "--sheet", "work.pdf", "--quiet"]) == 0
    assert SAID in squeezed(capsys.readouterr().out)
    assert SAID in squeezed(words_of(place / "work.pdf"))
    assert run(["kits", "plan", "--boats", "1", "--out", "kits"]) == 0
    with pdfplumber.open(next((place / "kits").glob("*.pdf"))) as file:
        assert any(SAID in squeezed(page.extract_text()) for page in file.pages)


def test_the_plan_stands_before_its_checker(place: Path) -> None:
    """A stated reason is no fault of the plan."""
    assert run(["check", "skiff.toml", "plan"]) == 0


def test_no_test_sheet_asks_for_a_fuse_that_is_not_there(place: Path) -> None:
    """First power is by connecting the pigtail; nothing says to put a fuse in."""
    text = (place / "plan" / "build-list.txt").read_text(encoding="utf-8")
    assert "fuse in" not in text


def test_a_plan_that_keeps_it_to_itself_is_rejected(place: Path) -> None:
    """The caution taken out of the plan file, or given another reason, does not pass."""
    plan = json.loads((place / "plan" / "plan.json").read_text(encoding="utf-8"))
    kept = [caution for caution in plan["cautions"] if "has no fuse" not in caution]
    other = [caution.replace(REASON, "none is needed") for caution in plan["cautions"]]
    for number, cautions in enumerate((kept, other)):
        assert cautions != plan["cautions"]
        edited = place / f"edited-{number}.json"
        edited.write_text(json.dumps({**plan, "cautions": cautions}), encoding="utf-8")
        assert run(["check", "skiff.toml", str(edited)]) == 6
