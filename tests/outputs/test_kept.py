"""What a person filled in or put into a folder of ours outlives every later writing."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest
from support.made_plan import small_plan

from lugwright.base.errors import BadInput
from lugwright.outputs import whole_folder
from lugwright.outputs.folder import NAMES, write_beside, write_folder, write_sheets
from lugwright.outputs.kept import SUMS_FILE
from lugwright.outputs.one_file import check_one, put_one
from lugwright.outputs.plan_json import read_plan
from lugwright.outputs.sheets import SHEETS, files_of
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.whole_folder import put_folder

READINGS = "test-readings.csv"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A plan folder as this program writes it."""
    write_folder(ShownPlan(small_plan()), tmp_path / "skiff")
    return tmp_path / "skiff"


def fill_in(folder: Path) -> bytes:
    """What a person types into the form."""
    file = folder / READINGS
    file.write_bytes(file.read_bytes() + b"0.1\n")
    return file.read_bytes()


def test_the_list_is_one_that_sha256sum_reads(folder: Path) -> None:
    """Digest, two blanks, name; every file but the list itself."""
    rows = (folder / SUMS_FILE).read_text(encoding="utf-8").splitlines()
    told = {row[66:]: row[:64] for row in rows}
    there = {x.name: sha256(x.read_bytes()).hexdigest() for x in folder.iterdir()}
    assert told == {name: digest for name, digest in there.items() if name != SUMS_FILE}


@pytest.mark.parametrize(
    "write",
    [
        lambda place, tell: write_folder(ShownPlan(small_plan()), place, tell=tell),
        lambda place, tell: write_sheets(
            place, files_of(ShownPlan(small_plan()), [x for x in SHEETS if x.name == "test"]), tell
        ),
    ],
    ids=["plan", "sheets"],
)
def test_filled_in_readings_are_kept_beside(
    folder: Path, write: Callable[[Path, Callable[[str], None]], object]
) -> None:
    """Twice over: each is kept under the next free number, and told."""
    told: list[str] = []
    first = fill_in(folder)
    write(folder, told.append)
    assert (folder / "test-readings.kept-1.csv").read_bytes() == first
    assert len(told) == 1
    assert "test-readings.kept-1.csv" in told[0]
    second = fill_in(folder) + b""
    (folder / READINGS).write_bytes(second + b"0.2\n")
    write(folder, told.append)
    assert (folder / "test-readings.kept-1.csv").read_bytes() == first
    assert (folder / "test-readings.kept-2.csv").read_bytes() == second + b"0.2\n"
    assert {x.name for x in folder.iterdir()} > NAMES


def test_what_a_person_put_there_stays(folder: Path) -> None:
    """Notes, a folder of photographs and a link, word for word."""
    (folder / "notes.txt").write_text("ring at the depth dial was tight", encoding="utf-8")
    (folder / "photos").mkdir()
    (folder / "photos" / "1.jpg").write_bytes(b"\xff\xd8")
    (folder / "link").symlink_to("nowhere")
    told: list[str] = []
    write_folder(ShownPlan(small_plan(title="after")), folder, tell=told.append)
    assert (folder / "notes.txt").read_text(encoding="utf-8").startswith("ring")
    assert (folder / "photos" / "1.jpg").read_bytes() == b"\xff\xd8"
    assert os.readlink(folder / "link") == "nowhere"
    assert len(told) == 3


def test_untouched_files_are_replaced_without_a_word(folder: Path) -> None:
    """Nothing is kept of what is as it was written, studies of the old plan included."""
    write_beside(folder, {"hubs.html": "<p>old</p>"})
    told: list[str] = []
    write_folder(ShownPlan(small_plan(title="after")), folder, tell=told.append)
    assert ({x.name for x in folder.iterdir()}, told) == ({*NAMES, SUMS_FILE}, [])


def test_sheets_are_swapped_as_one(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A failure half-way leaves every sheet as it was, and other files are never touched."""
    before = {x.name: x.read_bytes() for x in folder.iterdir()}
    after = ShownPlan(small_plan(title="after"))
    files = files_of(after, [x for x in SHEETS if x.name == "tables"])
    calls = []
    flush = os.fsync

    def full(handle: int) -> None:
        calls.append(handle)
        if len(calls) == 4:
            raise OSError(28, "No space left on device")
        flush(handle)

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        with pytest.raises(BadInput, match="No space left"):
            write_sheets(folder, files)
    assert {x.name: x.read_bytes() for x in folder.iterdir()} == before
    write_sheets(folder, files)
    after = {x.name: x.read_bytes() for x in folder.iterdir()}
    assert {name for name in before if before[name] != after[name]} <= {*files, SUMS_FILE}


def test_two_runs_into_one_folder_lose_nothing(tmp_path: Path) -> None:
    """Four processes at once, twenty times each: whole in the end, and nothing lies about."""
    code = (
        "import sys; from pathlib import Path; "
        "from lugwright.outputs.whole_folder import put_folder; place = Path(sys.argv[1]); "
        "[put_folder(place, place, {'a': sys.argv[2].encode() * 9999, 'b': b'b'}) "
        "for _ in range(20)]"
    )
    place = tmp_path / "run"
    calls = [
        subprocess.Popen([sys.executable, "-c", code, str(place), str(number)])
        for number in range(4)
    ]
    assert [call.wait(timeout=120) for call in calls] == [0, 0, 0, 0]
    content = (place / "a").read_bytes()
    assert content in {str(number).encode() * 9999 for number in range(4)}
    assert sorted(x.name for x in tmp_path.iterdir()) == ["run"]
    assert sorted(x.name for x in place.iterdir()) == [SUMS_FILE, "a", "b"]


def test_another_runs_work_is_not_cleaned_away(tmp_path: Path) -> None:
    """A hidden name of a process that is gone is; the folder a killed run left is put back."""
    (tmp_path / ".run.lugwright-old-999999999").mkdir()
    (tmp_path / ".run.lugwright-old-999999999" / "mine").write_text("mine", encoding="utf-8")
    told: list[str] = []
    put_folder(tmp_path / "run", tmp_path / "run", {"a": b"a"}, tell=told.append)
    assert (tmp_path / "run" / "mine").read_text(encoding="utf-8") == "mine"
    assert sorted(x.name for x in tmp_path.iterdir()) == ["run"]


def test_one_file_is_never_written_over_unasked(tmp_path: Path) -> None:
    """Neither another's file, nor an input even when told to."""
    file, given = tmp_path / "rest.csv", tmp_path / "offcuts.csv"
    given.write_text("mine", encoding="utf-8")
    put_one(file, b"1", "--rest", [given], overwrite=False)
    with pytest.raises(BadInput, match=r"is there already .* add --overwrite"):
        put_one(file, b"2", "--rest", [given], overwrite=False)
    put_one(file, b"2", "--rest", [given], overwrite=True)
    assert file.read_bytes() == b"2"
    (tmp_path / "other-name.csv").symlink_to(given)
    for same in (given, tmp_path / "." / "offcuts.csv", tmp_path / "other-name.csv"):
        with pytest.raises(BadInput, match="is read by this very call"):
            put_one(same, b"3", "--rest", [given], overwrite=True)
    with pytest.raises(BadInput, match="is read by this very call"):
        check_one(tmp_path / "plan.json", "--rest", [tmp_path], overwrite=True)
    assert given.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("kind", ["pipe", "broken link", "folder", "missing folder"])
def test_places_that_hold_no_file_are_refused(tmp_path: Path, kind: str) -> None:
    """One line, and nothing is written."""
    file = tmp_path / "out.csv"
    if kind == "pipe":
        os.mkfifo(file)
    elif kind == "broken link":
        file.symlink_to(tmp_path / "nowhere")
    elif kind == "folder":
        file.mkdir()
    else:
        file = tmp_path / "no" / "out.csv"
    with pytest.raises(BadInput):
        put_one(file, b"1", "--csv", overwrite=True)
    assert not (tmp_path / "nowhere").exists()


def test_the_folder_one_stands_in_stays_the_one_it_is(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Sheets are put into it; the shell does not end up in a folder that is gone."""
    monkeypatch.chdir(folder)
    number, filled = folder.stat().st_ino, fill_in(folder)
    told: list[str] = []
    files = files_of(ShownPlan(small_plan()), [sheet for sheet in SHEETS if sheet.name == "test"])
    write_sheets(Path("."), files, told.append)
    assert folder.stat().st_ino == number
    assert {name: (folder / name).read_bytes() for name in files} == files
    assert (folder / "test-readings.kept-1.csv").read_bytes() == filled
    assert len(told) == 1
    write_sheets(Path("."), files, told.append)
    assert len(told) == 1
    assert {entry.name for entry in folder.iterdir()} == {
        *(NAMES | {SUMS_FILE, "test-readings.kept-1.csv"})
    }


class Ended(BaseException):
    """Stands for the end of the process: nothing of the program runs after it."""


@pytest.mark.parametrize("sheets", [True, False])
@pytest.mark.parametrize("renames", range(4))
def test_ended_at_any_rename_nothing_is_lost(
    folder: Path, monkeypatch: pytest.MonkeyPatch, renames: int, sheets: bool
) -> None:
    """Ended after so many renames, then run again: readings, notes and a whole plan are there."""
    filled = fill_in(folder)
    (folder / "notes.txt").write_text("mine", encoding="utf-8")
    rename, done = Path.rename, []

    def ending(self: Path, to: Path) -> Path:
        if len(done) == renames:
            raise Ended
        done.append(self)
        return rename(self, to)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "rename", ending)
        patch.setattr(whole_folder.shutil, "rmtree", lambda *_, **__: None)
        try:
            if sheets:
                write_sheets(folder, {READINGS: b"empty"})
            else:
                write_folder(ShownPlan(small_plan(title="after")), folder)
        except Ended:
            pass
    write_folder(ShownPlan(small_plan(title="again")), folder)
    kept = [file.read_bytes() for file in folder.glob("test-readings.kept-*.csv")]
    assert filled in kept
    assert (folder / "notes.txt").read_text(encoding="utf-8") == "mine"
    assert read_plan(folder).title == "again"
    assert {entry.name for entry in folder.iterdir()} >= NAMES
    assert [entry.name for entry in folder.parent.iterdir()] == ["skiff"]
