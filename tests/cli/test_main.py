"""The group of commands, and what becomes of an error."""

import subprocess
import sys
from difflib import get_close_matches
from pathlib import Path

import click
import pytest
from support.fake_pipeline import FakePipeline, planned, put_in

from lugwright.base.errors import BadInput, Complaint, OutsideTable
from lugwright.cli import talk
from lugwright.cli.main import COMMANDS, cli, run

HEAVY = ("ortools", "networkx", "shapely", "pandas", "numpy", "rich", "tree_sitter")


def loaded_by(arguments: list[str]) -> set[str]:
    """Top-level packages a call of the program has imported when it ends."""
    code = (
        "import sys\n"
        "from lugwright.cli.main import run\n"
        f"code = run({arguments!r})\n"
        "print('|' + ' '.join({name.split('.')[0] for name in sys.modules}))\n"
        "sys.exit(code)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    return set(done.stdout.rsplit("|", 1)[1].split())


@pytest.fixture
def scenario(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty scenario file in an empty folder, which is where the command runs."""
    monkeypatch.chdir(tmp_path)
    file = tmp_path / "skiff.toml"
    file.write_text("", encoding="utf-8")
    return file


@pytest.mark.parametrize("arguments", [["--help"], ["--version"]])
def test_help_of_the_program_imports_no_command(arguments: list[str]) -> None:
    """The names and one-line helps are known without any heavy library, pydantic included."""
    assert loaded_by(arguments) & {*HEAVY, "pydantic", "tomlkit"} == set()


@pytest.mark.parametrize("name", COMMANDS)
def test_help_of_a_command_imports_no_heavy_library(name: str) -> None:
    """A command's help page needs no solver, no graphs and no geometry."""
    assert loaded_by([name, "--help"]) & set(HEAVY) == set()


def test_every_command_is_on_the_help_page(capsys: pytest.CaptureFixture[str]) -> None:
    """Each command has its line."""
    assert run(["--help"]) == 0
    page = " ".join(capsys.readouterr().out.split())
    for name, (_, line) in COMMANDS.items():
        assert f"{name} {line}" in page


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_and_so_has_every_option(name: str) -> None:
    """The command's text is there, its short line is the one the group shows."""
    command = cli.get_command(click.Context(cli), name)
    assert command is not None and command.help
    parts = command.commands.values() if isinstance(command, click.Group) else (command,)
    for part in parts:
        helps = [one.help for one in part.params if isinstance(one, click.Option)]
        assert part.help and helps and all(helps)


@pytest.mark.parametrize("name", COMMANDS)
def test_the_short_line_is_said_once(name: str) -> None:
    """The line on the group's page and the command's own are the same."""
    command = cli.get_command(click.Context(cli), name)
    assert command is not None
    assert command.short_help == COMMANDS[name][1]


def test_unknown_command_suggests_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    """A slip of the finger is answered with the command that was meant."""
    assert get_close_matches("chek", COMMANDS) == ["check"]
    assert run(["chek"]) == 2
    assert "no command 'chek'; did you mean \"check\"?" in capsys.readouterr().err


def test_unknown_command_unlike_any_lists_them(capsys: pytest.CaptureFixture[str]) -> None:
    """What is like no command is answered with all of them."""
    assert run(["zzz"]) == 2
    assert f"there are: {', '.join(COMMANDS)}" in capsys.readouterr().err


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["--nonsense"],
        ["plan"],
        ["plan", "nowhere.toml"],
        ["plan", "skiff.toml", "--nonsense"],
        ["plan", "skiff.toml", "--objective", "fastest"],
        ["plan", "skiff.toml", "--time", "0"],
        ["plan", "skiff.toml", "--time", "nan"],
        ["plan", "skiff.toml", "--time", "inf"],
        ["plan", "skiff.toml", "--hold", "hub"],
        ["check", "skiff.toml"],
        ["check", "skiff.toml", "nowhere.json"],
    ],
)
@pytest.mark.usefixtures("scenario")
def test_a_faulty_call_ends_with_2(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    """A faulty call is told on standard error, and standard output stays empty."""
    assert run(arguments) == 2
    told = capsys.readouterr()
    assert told.err != "" and told.out == ""


def test_bad_input_is_told_line_by_line(
    scenario: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every complaint has a line of its own, in the order of the file."""
    fault = BadInput(
        Complaint("skiff.toml", 9, 1, "panel", "has no width"),
        Complaint("skiff.toml", 2, 5, "title", "is empty"),
    )
    put_in(monkeypatch, FakePipeline(planned(), fault=fault))
    assert run(["plan", str(scenario)]) == 2
    assert capsys.readouterr().err.splitlines()[:2] == [
        "skiff.toml:2:5: title: is empty",
        "skiff.toml:9:1: panel: has no width",
    ]


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        (OutsideTable("no row"), "our fault, not yours: no row"),
        (ZeroDivisionError("by zero"), "our fault, not yours."),
        (KeyError(("WireKey", 3)), "our fault, not yours."),
    ],
)
def test_a_fault_of_ours_is_owned_up_to(
    fault: Exception,
    said: str,
    scenario: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """No trace in the user's face, nor what the language says of it, and exit code 1."""
    put_in(monkeypatch, FakePipeline(planned(), fault=fault))
    assert run(["plan", str(scenario)]) == 1
    told = capsys.readouterr().err
    assert said in told and "--traceback" in told
    assert not any(word in told for word in ("Traceback", "Error", "WireKey", "by zero"))


def test_traceback_shows_where(
    scenario: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Asked for, the whole trace is shown."""
    put_in(monkeypatch, FakePipeline(planned(), fault=ZeroDivisionError("by zero")))
    assert run(["--traceback", "plan", str(scenario)]) == 1
    told = capsys.readouterr().err
    assert "Traceback" in told and "ZeroDivisionError: by zero" in told


def test_interruption_ends_with_130(
    scenario: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ctrl-C is no fault and leaves no trace."""
    put_in(monkeypatch, FakePipeline(planned(), fault=KeyboardInterrupt()))
    assert run(["plan", str(scenario)]) == 130
    assert capsys.readouterr().err.strip() == "interrupted"


def test_a_reader_who_has_gone_is_no_fault(tmp_path: Path) -> None:
    """A closed pipe ends the talk, not the program: no trace, and the code that was earned."""
    code = (
        "import os, sys\n"
        "from lugwright.cli import talk\n"
        "talk.say('x' * 100_000)\n"
        "talk.say('y')\n"
        "sys.exit(4)\n"
    )
    read_end, write_end = talk.os.pipe()
    talk.os.close(read_end)
    try:
        done = subprocess.run(
            [sys.executable, "-c", code], stdout=write_end, stderr=subprocess.PIPE, timeout=60
        )
    finally:
        talk.os.close(write_end)
    assert (done.returncode, done.stderr) == (4, b"")


def test_help_into_a_closed_pipe_ends_quietly() -> None:
    """The last words of a call are lost without a trace."""
    read_end, write_end = talk.os.pipe()
    talk.os.close(read_end)
    try:
        done = subprocess.run(
            [sys.executable, "-c", "from lugwright.cli.main import main; main(['--help'])"],
            stdout=write_end,
            stderr=subprocess.PIPE,
            timeout=60,
        )
    finally:
        talk.os.close(write_end)
    assert (done.returncode, done.stderr) == (0, b"")
