"""``lugwright sheets``: some sheets again, whole or not at all, and nothing else touched."""

import json
import shutil
from fractions import Fraction
from pathlib import Path

import pytest
from support.made_plan import small_plan

from lugwright import __version__
from lugwright.base.canonical import digest_of
from lugwright.cli import cmd_sheets
from lugwright.cli.main import run
from lugwright.outputs import sheets as all_sheets
from lugwright.outputs.folder import NAMES, write_folder
from lugwright.outputs.kept import SUMS_FILE
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.plan_json import plan_text
from lugwright.outputs.sheets import Sheet
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan

PLAN = small_plan(made_with=f"lugwright {__version__}")


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A plan folder that no test touches."""
    place = tmp_path_factory.mktemp("written") / "skiff"
    write_folder(ShownPlan(PLAN), place)
    return place


@pytest.fixture
def folder(written: Path, tmp_path: Path) -> Path:
    """A plan folder of the test's own."""
    return shutil.copytree(written, tmp_path / "skiff")


def contents(folder: Path) -> dict[str, bytes]:
    """Every file of a folder, but for the list of what was written."""
    return {file.name: file.read_bytes() for file in folder.iterdir() if file.name != SUMS_FILE}


def test_all_sheets_again_give_the_same_bytes(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without --only every sheet is written, as plan wrote it; nothing is said but the files."""
    before = contents(folder)
    for name in NAMES - {"plan.json"}:
        (folder / name).unlink()
    assert run(["sheets", str(folder)]) == 0
    assert contents(folder) == before
    told = capsys.readouterr()
    assert told.out.splitlines() == [f"{folder}/{name}" for name in sorted(NAMES - {"plan.json"})]
    assert told.err == ""


def test_only_some_are_written_and_others_left_alone(folder: Path) -> None:
    """Files of other sheets keep whatever stands in them, studies too; scribbles stay beside."""
    for name in ("cut-list.csv", "workbook.xlsx", "hubs.html", "build-list.txt"):
        (folder / name).write_text("scribbled", encoding="utf-8")
    before = contents(folder)
    assert run(["sheets", str(folder / "plan.json"), "--only", "tables", "--only", "list,"]) == 0
    after = contents(folder)
    changed = {name for name in before if after[name] != before[name]}
    assert changed == {"cut-list.csv", "build-list.txt"}
    kept = {"cut-list.kept-1.csv", "build-list.kept-1.txt"}
    assert after.keys() == before.keys() | kept
    assert {after[name] for name in kept} == {b"scribbled"}


def test_another_folder_is_made_and_filled_again(folder: Path, tmp_path: Path) -> None:
    """--out takes sheets alone; a second time they are replaced."""
    out = tmp_path / "print" / "letter"
    call = ["sheets", str(folder), "--only", "workbook", "--page", "letter", "--out", str(out)]
    assert run(call) == 0
    assert run([*call[:3], "list", *call[4:]]) == 0
    assert run(call) == 0
    assert set(contents(out)) == {"workbook.xlsx", "build-list.txt"}
    assert contents(out)["workbook.xlsx"] != contents(folder)["workbook.xlsx"]


def test_json_names_the_files(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Folder, files, paper and notes as data."""
    assert run(["sheets", str(folder), "--only", "list", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {
        "answer": "sheets",
        "format": 1,
        "folder": folder.as_posix(),
        "files": ["build-list.txt"],
        "page": "A4",
        "notes": [],
    }


@pytest.mark.parametrize(
    ("only", "said"),
    [
        ("workbok", "no sheet 'workbok'; did you mean \"workbook\"?"),
        (
            "list,zzz",
            "no sheet 'zzz'; there are: " + ", ".join(sheet.name for sheet in all_sheets.SHEETS),
        ),
        (" , ", "names no sheet"),
    ],
)
def test_unknown_sheets_are_told(
    folder: Path, capsys: pytest.CaptureFixture[str], only: str, said: str
) -> None:
    """The nearest spelling, or what there is; nothing is written."""
    before = contents(folder)
    assert run(["sheets", str(folder), "--only", only]) == 2
    assert said in " ".join(capsys.readouterr().err.split())
    assert contents(folder) == before


def papers_made(monkeypatch: pytest.MonkeyPatch) -> list[Paper]:
    """Let one sheet stand for all, and keep the paper it was asked for."""
    asked: list[Paper] = []

    def keep(plan: Plan, sheets: tuple[Sheet, ...], paper: Paper) -> dict[str, bytes]:
        asked.append(paper)
        return {"build-list.txt": b""}

    monkeypatch.setattr(cmd_sheets, "files_of", keep)
    return asked


def test_measured_rulers_become_the_correction(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A ruler of 100 mm that came out 99.2 mm asks for 100/99.2, exactly."""
    asked = papers_made(monkeypatch)
    assert run(["sheets", str(folder), "--print-scale", "99.2", "100.4mm"]) == 0
    assert asked == [Paper("A4", Fraction(1000, 992), Fraction(1000, 1004))]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("99,2", "'99,2' is not a length in mm such as 99.2"),
        ("1e2", "is not a length in mm"),
        ("1/2", "is not a length in mm"),
        ("-99", "is not a length in mm"),
        ("nan", "is not a length in mm"),
        ("٩٩", "is not a length in mm"),
        ("", "is not a length in mm"),
        (".", "is not a length in mm"),
        ("0", "Print at 100 %"),
        ("89.9", "Print at 100 %"),
        ("111", "Print at 100 %"),
    ],
)
def test_a_ruler_nobody_can_have_measured_is_refused(
    folder: Path, capsys: pytest.CaptureFixture[str], text: str, said: str
) -> None:
    """A slip of the keyboard never bends a template."""
    assert run(["sheets", str(folder), "--print-scale", "100", text]) == 2
    assert said in " ".join(capsys.readouterr().err.split())


def test_a_plan_that_does_not_hang_together_is_refused(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A jumper renamed in plan.json is missed at its crimps; no sheet is made from that."""
    text = (folder / "plan.json").read_text(encoding="utf-8")
    renamed = text.replace('"label": "ground 1"', '"label": "ground 9"')
    data = json.loads(renamed)
    del data["seal"]
    sealed = json.dumps({**data, "seal": digest_of(data)})
    (folder / "plan.json").write_text(sealed, encoding="utf-8")
    before = contents(folder)
    assert run(["sheets", str(folder)]) == 2
    assert "names the wire 'ground 1', which is not in the plan (it was edited" in (
        capsys.readouterr().err
    )
    assert contents(folder) == before


@pytest.mark.parametrize("text", ["{}", "[]", "{", '{"format": 99}', "panel = 1"])
def test_what_is_no_plan_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str
) -> None:
    """One message, no trace, no file."""
    (tmp_path / "plan.json").write_text(text, encoding="utf-8")
    assert run(["sheets", str(tmp_path / "plan.json")]) == 2
    assert "plan.json" in capsys.readouterr().err
    assert [file.name for file in tmp_path.iterdir()] == ["plan.json"]


def test_another_version_is_told(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Sheets are made, and the reader is told what they stand on."""
    older = plan_text(small_plan(made_with="lugwright 0.0.9"))
    (folder / "plan.json").write_text(older, encoding="utf-8")
    assert run(["sheets", str(folder), "--only", "list"]) == 0
    told = capsys.readouterr().err
    assert "made with lugwright 0.0.9" in told


def test_a_strangers_folder_is_refused(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Sheets are never strewn among other files."""
    place = tmp_path / "photos"
    place.mkdir()
    (place / "boat.jpg").write_bytes(b"")
    assert run(["sheets", str(folder), "--out", str(place)]) == 2
    assert "not a plan's" in capsys.readouterr().err
    assert set(contents(place)) == {"boat.jpg"}


def test_every_sheet_is_named_on_the_help_page(capsys: pytest.CaptureFixture[str]) -> None:
    """A person finds there what --only takes."""
    assert run(["sheets", "--help"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert [sheet.name for sheet in all_sheets.SHEETS if f"{sheet.name} (" not in told] == []


SCENARIOS = Path(__file__).parents[2] / "scenarios"
BEFORE = {"drill-template.pdf", "measuring-sheet.pdf", "rear-view.svg"}


def test_a_scenario_gives_what_needs_no_plan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """To measure, drill and look at before planning; the drilled plate is the planned one's."""
    monkeypatch.chdir(tmp_path)
    assert run(["sheets", str(SCENARIOS / "sandbar-skiff.toml")]) == 0
    assert set(contents(tmp_path / "sheets" / "sandbar-skiff")) == BEFORE
    for file in contents(tmp_path / "sheets" / "sandbar-skiff").values():
        assert file
    svg = (tmp_path / "sheets" / "sandbar-skiff" / "rear-view.svg").read_text(encoding="utf-8")
    for said in ("Not planned yet", "Posts fed by senders never take", "speed.ignition"):
        assert said in svg


def test_a_sheet_that_needs_a_plan_is_refused_before_planning(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It says what there is; nothing is written."""
    call = ["sheets", str(SCENARIOS / "sandbar-skiff.toml"), "--only", "drill,board"]
    assert run([*call, "--out", str(tmp_path / "out")]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "the sheet 'board' needs a plan" in told
    assert "there are: measuring, drill, rear-view" in told
    assert not (tmp_path / "out").exists()


def test_a_faulty_scenario_is_told_with_its_place(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """As ``plan`` tells it; nothing is written."""
    scenario = tmp_path / "boat.toml"
    scenario.write_text('title = "x"\n[panel]\nwdth = "1 mm"\n', encoding="utf-8")
    assert run(["sheets", str(scenario), "--out", str(tmp_path / "out")]) == 2
    assert "boat.toml:3" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
