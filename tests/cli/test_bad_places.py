"""Every place a call names may be no file at all, or one that no program should read."""

from __future__ import annotations

import os
import shutil
import signal
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from lugwright.cli.main import run

ROOT = Path(__file__).parents[2]
SECONDS = 60  # a call that waits for a pipe waits for ever; none of these takes a second
HERE = "@"
PLAN, READINGS = "plans/skiff", "plans/skiff/test-readings.csv"
LIMITED = ["--time", "2", "-q"]
# Every place a command reads from, one a row.
CALLS = [
    ["plan", HERE, *LIMITED],
    ["plan", "skiff.toml", "--limits", HERE, *LIMITED],
    ["plan", "skiff.toml", "--stock", HERE, *LIMITED],
    ["hubs", HERE, *LIMITED],
    ["sheets", HERE, "--out", "sheets"],
    ["check", HERE, PLAN],
    ["check", "skiff.toml", HERE],
    ["readings", HERE, READINGS],
    ["readings", PLAN, HERE],
    ["catalogue", "plan", HERE, "--engine", "serial", *LIMITED],
    ["catalogue", "impact", HERE, "--engine", "serial", "--set", "slack=6 %", *LIMITED],
    ["catalogue", "stock", HERE],
    ["family", HERE, *LIMITED],
    ["kits", HERE, "--boats", "1"],
    ["kits", PLAN, "--boats", "1", "--on-hand", HERE],
    ["kits", PLAN, "--boats", "1", "--times", HERE],
    ["spools", HERE, "--boats", "1"],
    ["spools", PLAN, "--boats", "1", "--on-hand", HERE],
    ["lengths", HERE],
    ["rework", HERE, PLAN, *LIMITED],
    ["rework", "skiff.toml", HERE, *LIMITED],
    ["changes", HERE, PLAN],
    ["changes", PLAN, HERE],
    ["limits", HERE],
    ["limits", "--limits", HERE],
    ["stock", "--stock", HERE],
]


# Every folder a command writes, one a row.
WRITES = [
    ["plan", "skiff.toml", "--out", HERE, *LIMITED],
    ["hubs", "skiff.toml", "--out", HERE, *LIMITED],
    ["rework", "skiff.toml", PLAN, "--out", HERE, *LIMITED],
    ["kits", PLAN, "--boats", "1", "--out", HERE],
]


def giga(path: Path) -> None:
    """A file of a thousand million zeros that takes no room on the disk."""
    with path.open("wb") as file:
        file.truncate(10**9)


# name: what makes it. Each is one thing that no scenario, plan, list or table is.
MADE: dict[str, Callable[[Path], None]] = {
    "pipe": lambda path: os.mkfifo(path),
    "loop": lambda path: path.symlink_to(path.name),
    "to nothing": lambda path: path.symlink_to("gone"),
    "device": lambda path: path.symlink_to("/dev/zero"),
    "empty device": lambda path: path.symlink_to("/dev/null"),
    "empty folder": lambda path: path.mkdir(),
    "1 GB": giga,
    "empty": lambda path: path.write_bytes(b"") and None,
    "noise": lambda path: path.write_bytes(bytes(range(256)) * 20) and None,
    "Latin-1": lambda path: path.write_bytes("title = 'Bjørn'".encode("latin-1")) and None,
    "UTF-16": lambda path: path.write_bytes("title = 'x'\n".encode("utf-16")) and None,
    "nested": lambda path: path.write_bytes(b"a = " + b"[" * 200_000 + b"]" * 200_000) and None,
    "tables in tables": lambda path: path.write_bytes(b"a = " + b"{a=" * 30_000) and None,
    "nested JSON": lambda path: path.write_bytes(b'{"format":2,"a":' + b"[" * 300_000) and None,
    "a million digits": lambda path: path.write_bytes(b"a = " + b"9" * 990_000) and None,
    "digits in JSON": lambda path: path.write_bytes(b'{"format": ' + b"9" * 99_000 + b"}") and None,
    "powers": lambda path: path.write_bytes(b"a = 9e999999999\nb = 9**9\n") and None,
    "keys": lambda path: path.write_bytes(b"".join(b"k%d=1\n" % n for n in range(90_000))) and None,
    "keys in JSON": lambda path: (
        path.write_bytes(b'{"format":2' + b"".join(b',"k%d":1' % n for n in range(400_000)) + b"}")
        and None
    ),
    "one wide row": lambda path: path.write_bytes(b"spool,length\n" + b"a," * 450_000) and None,
    "an open quote": lambda path: path.write_bytes(b'spool,length\n"' + b"a" * 500_000) and None,
    "null": lambda path: path.write_bytes(b"null") and None,
}
NAMED = ["gone.toml", "skiff.toml/below", "x" * 300, "a/" * 3000 + "x", "no\0zero", "\udcff", ""]
SOME = ("pipe", "loop", "device", "empty folder", "nested JSON")  # in the default run


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a planned console."""
    folder = tmp_path_factory.mktemp("bench")
    shutil.copy(ROOT / "scenarios" / "sandbar-skiff.toml", folder / "skiff.toml")
    assert run(["plan", str(folder / "skiff.toml"), "-q", "--out", str(folder / PLAN)]) == 0
    return folder


@pytest.fixture(autouse=True)
def never_for_ever() -> Iterator[None]:
    """A call that does not come back ends the test."""

    def late(_signal: int, _frame: object) -> None:
        raise SystemExit("this call waits for ever")

    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(SECONDS)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


def refused(call: list[str], place: str, capsys: pytest.CaptureFixture[str]) -> None:
    """One call at that place: exit code 2, and few words of which the last count the faults."""
    code = run([place if word == HERE else word for word in call])
    told = capsys.readouterr().err
    assert (code, "Traceback" in told, "our fault" in told) == (2, False, False), told[-500:]
    assert 0 < len(told.splitlines()) <= 8


@pytest.mark.parametrize("call", CALLS, ids=" ".join)
def test_no_file_there(
    bench: Path,
    call: list[str],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Names of nothing: missing, under a file, too long, with a zero byte, not in UTF-8, empty."""
    monkeypatch.chdir(bench)
    capsys.readouterr()
    for place in NAMED:
        refused(call, place, capsys)


MARKED = [pytest.param(one, marks=() if one in SOME else pytest.mark.slow) for one in MADE]


@pytest.mark.parametrize("what", MARKED)
def test_no_such_file(
    bench: Path, what: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is there is refused by every command: not waited for, not swallowed whole."""
    monkeypatch.chdir(bench)
    place = bench / what
    MADE[what](place)
    capsys.readouterr()
    for call in CALLS:
        refused(call, str(place), capsys)


@pytest.mark.parametrize("what", ["pipe", "loop", "device", "1 GB", "nested JSON"])
def test_what_lies_in_a_folder(
    bench: Path,
    tmp_path: Path,
    what: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A plan folder's plan, a stock folder's table, a jumper list by its ending."""
    monkeypatch.chdir(bench)
    capsys.readouterr()
    for name in ("plan.json", "conductors.csv"):
        MADE[what](tmp_path / name)
    refused(["check", "skiff.toml", HERE], str(tmp_path), capsys)
    refused(["sheets", HERE], str(tmp_path), capsys)
    refused(["stock", "--stock", HERE], str(tmp_path), capsys)
    refused(["check", "skiff.toml", HERE], str(tmp_path / "conductors.csv"), capsys)
    refused(["plan", "skiff.toml", "--out", HERE, *LIMITED], str(tmp_path), capsys)


@pytest.mark.parametrize("call", WRITES, ids=" ".join)
def test_no_folder_can_stand_there(
    bench: Path,
    tmp_path: Path,
    call: list[str],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A link to itself, a place under it, a pipe, a device; a name too long or of no file."""
    monkeypatch.chdir(bench)
    loop, pipe = tmp_path / "loop", tmp_path / "pipe"
    loop.symlink_to(loop.name)
    os.mkfifo(pipe)
    places = (loop, loop / "below", pipe, pipe / "below", "/dev/full", "x" * 300, "no\0zero")
    capsys.readouterr()
    for place in places:
        refused(call, str(place), capsys)


MORE_WRITES = [
    ["sheets", PLAN, "--out", HERE],
    ["catalogue", "plan", ".", "--store", HERE, "--engine", "serial", *LIMITED],
    ["stock", "--copy-to", HERE],
]


@pytest.mark.parametrize("call", [*WRITES, *MORE_WRITES], ids=" ".join)
@pytest.mark.parametrize("below", ["", "below"])
def test_a_link_that_leads_nowhere_is_not_followed(
    bench: Path,
    tmp_path: Path,
    call: list[str],
    below: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """What a link names is not made through it: nobody sees from the call where it would lie."""
    monkeypatch.chdir(bench)
    (tmp_path / "link").symlink_to(tmp_path / "gone")
    capsys.readouterr()
    refused(call, str(tmp_path / "link" / below), capsys)
    assert not (tmp_path / "gone").exists()
