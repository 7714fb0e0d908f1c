"""Streams that are closed, full, or read by nobody take nothing from a command but its talk."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

CALL = "import sys; from lugwright.cli.main import main; main(sys.argv[1:])"
FULL = Path("/dev/full")
needs_full = pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full")
needs_shell = pytest.mark.skipif(not Path("/bin/sh").exists(), reason="this system has no shell")


def shell(arguments: str, redirection: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """One call with its streams redirected by the shell."""
    return subprocess.run(
        ["/bin/sh", "-c", f'"$0" -c "$1" {arguments} {redirection}', sys.executable, CALL],
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=60,
    )


@needs_shell
@pytest.mark.parametrize("closed", [">&-", "2>&-", "<&-", ">&- 2>&-", "<&- >&- 2>&-"])
@pytest.mark.parametrize(
    ("arguments", "code"), [("limits", 0), ("--help", 0), ("limits --set x=1", 2), ("new", 0)]
)
def test_a_closed_stream_changes_no_exit_code(
    closed: str, arguments: str, code: int, tmp_path: Path
) -> None:
    """What cannot be told is not told; the command does its work and ends as it has earned."""
    done = shell(arguments, closed, tmp_path)
    assert done.returncode == code
    assert "our fault, not" not in done.stderr + done.stdout
    assert (tmp_path / "console.toml").exists() == (arguments == "new")


@needs_full
@pytest.mark.parametrize("arguments", [["limits"], ["limits", "--json"], ["--help"]])
def test_a_full_disk_under_standard_output_is_said(arguments: list[str], tmp_path: Path) -> None:
    """The answer is lost, so the call has failed; but not through a fault of the program."""
    with FULL.open("w") as full:
        done = subprocess.run(
            [sys.executable, "-c", CALL, *arguments],
            cwd=tmp_path,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            timeout=60,
        )
    assert done.returncode == 2
    assert done.stderr.splitlines() == [
        "standard output: cannot be written: No space left on device",
        "1 fault",
    ]


@needs_full
@pytest.mark.parametrize(("arguments", "code"), [(["new"], 0), (["limits", "nope.toml"], 2)])
def test_talk_that_cannot_be_written_is_no_fault(
    arguments: list[str], code: int, tmp_path: Path
) -> None:
    """A log on a full disk does not cost the work its talk is about."""
    with FULL.open("w") as full:
        done = subprocess.run(
            [sys.executable, "-c", CALL, *arguments], cwd=tmp_path, stderr=full, timeout=60
        )
    assert done.returncode == code


def test_nobody_reads_the_talk(tmp_path: Path) -> None:
    """``2>&1 | head -1`` must not stop the work: the files are written all the same."""
    read_end, write_end = os.pipe()
    os.close(read_end)
    try:
        done = subprocess.run(
            [sys.executable, "-c", CALL, "new"],
            cwd=tmp_path,
            stdout=write_end,
            stderr=write_end,
            timeout=60,
        )
    finally:
        os.close(write_end)
    assert done.returncode == 0
    assert (tmp_path / "console.toml").exists()


@pytest.mark.skipif(os.name != "posix", reason="only there a folder goes away under one's feet")
@pytest.mark.parametrize("arguments", [["limits"], ["new"]])
def test_the_folder_one_stands_in_is_gone(arguments: list[str], tmp_path: Path) -> None:
    """What needs no folder works; what needs one says so."""
    gone = tmp_path / "gone"
    gone.mkdir()
    code = f"import os, sys; os.chdir({str(gone)!r}); os.rmdir({str(gone)!r}); {CALL}"
    done = subprocess.run(
        [sys.executable, "-c", code, *arguments], capture_output=True, text=True, timeout=60
    )
    assert done.returncode == (0 if arguments == ["limits"] else 2)
    assert "our fault" not in done.stderr
