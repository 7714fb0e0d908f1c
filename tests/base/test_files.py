"""A file somebody named is read, or refused in one line; nothing is waited for."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from lugwright.base.errors import BadInput
from lugwright.base.files import read_file


def refusal(path: Path, most_bytes: int = 10) -> str:
    """The one message a file is refused with."""
    with pytest.raises(BadInput) as caught:
        read_file(path, most_bytes)
    (complaint,) = caught.value.complaints
    assert complaint.file == str(path)
    return complaint.message


def test_a_file_up_to_its_size_is_read(tmp_path: Path) -> None:
    """As many bytes as are allowed, and one too many."""
    file = tmp_path / "a"
    file.write_bytes(b"0123456789")
    assert read_file(file, 10) == b"0123456789"
    assert refusal(file, 9) == "the file is too large: at most 9 bytes is read"
    file.write_bytes(b"x" * 2_000_001)
    assert refusal(file, 2_000_000) == "the file is too large: at most 2 MB is read"


def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    """Missing, a folder, below a file, a name too long for the system, a name with a zero."""
    assert refusal(tmp_path / "none") == "there is no such file"
    assert refusal(tmp_path) == "this is a folder, not a file"
    (tmp_path / "a").write_bytes(b"")
    assert refusal(tmp_path / "a" / "b").startswith("the file cannot be read: ")
    assert refusal(tmp_path / ("x" * 5000)).startswith("the file cannot be read: ")
    assert refusal(Path("a\0b")).startswith("the file cannot be read: ")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_nobody_writes_into_is_not_waited_for(tmp_path: Path) -> None:
    """The call comes back at once."""
    os.mkfifo(tmp_path / "pipe")
    assert refusal(tmp_path / "pipe") == "this is a pipe or a device, not a file"


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="this system has no /dev/zero")
def test_a_device_without_end_is_not_read() -> None:
    """It has no size to go by."""
    assert refusal(Path("/dev/zero")) == "this is a pipe or a device, not a file"
