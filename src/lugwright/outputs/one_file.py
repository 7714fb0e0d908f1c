"""One file a person named to be written: never over an input, nor unasked over another file."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from lugwright.base.errors import BadInput, Complaint

OVERWRITE = "--overwrite"


def check_one(file: Path, option: str, inputs: Iterable[Path], *, overwrite: bool) -> None:
    """Raise BadInput where ``put_one`` would; asked before a long search, it saves the wait.

    ``option`` is what named the file, ``inputs`` what the same call reads: files, or folders whose
    files are read. An input is never written over, whatever was asked.
    """
    if not file.name or file.is_dir():
        raise _fault(file, option, "is a folder, not a file", "name a file")
    if not file.parent.is_dir():
        raise _fault(file, option, f"lies in {file.parent}, which is not a folder", "make it first")
    if any(_is_or_holds(each, file) for each in inputs):
        raise _fault(file, option, "is read by this very call", "name another file")
    if os.path.lexists(file) and not file.is_file():
        raise _fault(file, option, "is not a plain file", "name another file")
    if file.is_file() and not overwrite:
        raise _fault(file, option, "is there already", f"name another file, or add {OVERWRITE}")


def put_one(
    file: Path, data: bytes, option: str, inputs: Iterable[Path] = (), *, overwrite: bool
) -> None:
    """Write the file, whole or not at all. Raises BadInput as ``check_one``, or if it cannot."""
    check_one(file, option, inputs, overwrite=overwrite)
    new = file.with_name(f".{file.name}.lugwright-new-{os.getpid()}")
    try:
        try:
            new.write_bytes(data)
            new.replace(file)
        finally:
            new.unlink(missing_ok=True)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _fault(file, option, f"cannot be written: {reason}", "name another file") from error


def _is_or_holds(given: Path, file: Path) -> bool:
    """Whether a given file is that one, or a given folder holds it."""
    try:
        real = file.resolve()
        return real == given.resolve() or (given.is_dir() and given.resolve() == real.parent)
    except (OSError, RuntimeError, ValueError):
        return False


def _fault(file: Path, option: str, message: str, hint: str) -> BadInput:
    return BadInput(Complaint(file.as_posix(), 0, 0, option, message, hint))
