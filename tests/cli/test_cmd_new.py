"""``lugwright new``: a starter that loads, and nothing overwritten."""

import json
from pathlib import Path

import pytest

from lugwright.cli.main import run
from lugwright.scenario.json_schema import SCHEMA_FILE, schema_text
from lugwright.scenario.load import load_scenario


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder, which is where the command runs, with nobody at the keyboard."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("sys.stdin.isatty", lambda: False, raising=False)
    return tmp_path


def test_starter_and_layout_are_written(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Both files, named on standard output; the starter loads with four dials."""
    assert run(["new", "sandbar-skiff.toml"]) == 0
    assert capsys.readouterr().out.split() == ["sandbar-skiff.toml", SCHEMA_FILE]
    console = load_scenario(folder / "sandbar-skiff.toml").console
    assert (console.title, len(console.instruments)) == ("sandbar skiff", 4)
    assert (folder / SCHEMA_FILE).read_text(encoding="utf-8") == schema_text()
    assert sorted(file.name for file in folder.iterdir()) == ["sandbar-skiff.toml", SCHEMA_FILE]


def test_options_are_obeyed(folder: Path) -> None:
    """Title, dials with patterns and voltage stand in the file."""
    call = ["new", "--title", "Tender", "--dial", "fuel=dial-52-short", "--dial", "volts"]
    assert run([*call, "--voltage", "24 V", "--yes"]) == 0
    console = load_scenario(folder / "console.toml").console
    assert (console.title, console.nominal_mv) == ("Tender", 24_000)
    assert {(one.name, one.pattern) for one in console.instruments} == {
        ("fuel", "dial-52-short"),
        ("volts", "voltmeter-52"),
    }


def test_an_existing_scenario_is_never_overwritten(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without --overwrite the file stays as it was, and no layout is written either."""
    (folder / "console.toml").write_text("mine", encoding="utf-8")
    assert run(["new"]) == 2
    assert "is there already (name another file, or add --overwrite)" in capsys.readouterr().err
    assert (folder / "console.toml").read_text(encoding="utf-8") == "mine"
    assert not (folder / SCHEMA_FILE).exists()


def test_an_existing_layout_that_differs_is_kept(folder: Path) -> None:
    """A layout of somebody else's is as good as a scenario of theirs; our own is no hindrance."""
    (folder / SCHEMA_FILE).write_text("mine", encoding="utf-8")
    assert run(["new"]) == 2
    assert not (folder / "console.toml").exists()
    (folder / SCHEMA_FILE).write_text(schema_text(), encoding="utf-8", newline="\n")
    assert run(["new"]) == 0


def test_force_overwrites(folder: Path) -> None:
    """With --overwrite both files are renewed."""
    (folder / "console.toml").write_text("mine", encoding="utf-8")
    (folder / SCHEMA_FILE).write_text("mine", encoding="utf-8")
    assert run(["new", "--overwrite"]) == 0
    assert load_scenario(folder / "console.toml").console.title == "console"
    assert (folder / SCHEMA_FILE).read_text(encoding="utf-8") == schema_text()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--dial", "fuel=nonsense"], 'no pattern "nonsense"'),
        (["--dial", "fuel", "--dial", "fuel"], "two dials have the same name"),
        (["--voltage", "48 V"], "48 V"),
        (["there/console.toml"], "there: is not a folder"),
        (["."], "is a folder"),
        (["two\nlines.toml"], "is not a name for a file"),
        (["n" * 300], "cannot be used: File name too long"),
        ([SCHEMA_FILE], "is the name of the layout"),
    ],
)
def test_what_cannot_be_used_is_refused(
    arguments: list[str], said: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A faulty call writes nothing."""
    assert run(["new", *arguments]) == 2
    assert said in capsys.readouterr().err
    assert list(folder.iterdir()) == []


def test_it_asks_at_the_keyboard(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """On a terminal only what was not given is asked, and the answers stand in the file."""
    answers = iter(("Tender", "fuel=dial-52-short, revs = tachometer-86"))
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("click.termui.visible_prompt_func", lambda _question: next(answers))
    assert run(["new", "--voltage", "12 V"]) == 0
    console = load_scenario(folder / "console.toml").console
    assert console.title == "Tender"
    assert [(one.name, one.pattern) for one in console.instruments] == [
        ("fuel", "dial-52-short"),
        ("revs", "tachometer-86"),
    ]
    assert "Dials, parted by commas" not in capsys.readouterr().out


def test_a_keyboard_that_goes_away_interrupts(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl-C or Ctrl-D at a question writes nothing and ends with 130."""

    def gone(_question: str) -> str:
        raise EOFError

    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("click.termui.visible_prompt_func", gone)
    assert run(["new"]) == 130
    assert list(folder.iterdir()) == []


def test_json_names_the_files(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As JSON the answer has its kind, a format number and the files written."""
    assert run(["new", "tender.toml", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    files = ["tender.toml", SCHEMA_FILE]
    assert answer == {"answer": "new", "format": 1, "files": files}
