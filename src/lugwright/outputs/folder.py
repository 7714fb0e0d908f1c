"""A plan folder, written whole or not at all.

A folder is written beside its place under a hidden name, flushed to the disk, and put in place
by renaming. Whatever goes wrong on the way, the folder that stood there before still stands.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

from lugwright.base.errors import BadInput, Complaint
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.plan_json import PLAN_FILE, plan_text
from lugwright.outputs.plot import TRADES, plot_file
from lugwright.outputs.sheets import SHEET_FILES, SHEETS, files_of
from lugwright.plan.schema import Plan

# Every name a plan folder may hold. A folder with any other name in it is somebody else's.
NAMES = frozenset({PLAN_FILE, *SHEET_FILES})
# What studies put beside a plan, or alone where the plan is to come.
STUDY_NAMES = frozenset({"hubs.html", *map(plot_file, TRADES)})
_NEW, _OLD = "lugwright-new", "lugwright-old"


def folder_files(plan: Plan, paper: Paper | None = None) -> dict[str, bytes]:
    """File name to content, for everything a plan folder holds."""
    return {PLAN_FILE: plan_text(plan).encode(), **files_of(plan, SHEETS, paper)}


def write_folder(plan: Plan, target: Path, paper: Paper | None = None) -> tuple[str, ...]:
    """Write the plan folder ``target``, replacing a plan folder that stands there.

    Returns the names of its files, sorted. Raises BadInput when ``target`` is a file, cannot be
    written, or holds anything that is not a plan's; then nothing has changed.
    """
    place = check_target(target)
    files = folder_files(plan, paper)
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        _clean_leftovers(place)
        new = _sibling(place, _NEW)
        try:
            _write_all(new, files)
            _swap_in(new, place)
        finally:
            shutil.rmtree(new, ignore_errors=True)
    except OSError as error:
        raise _refusal(target, f"cannot be written: {error.strerror or error}") from error
    return tuple(sorted(files))


def check_target(target: Path) -> Path:
    """The real place of a plan folder, if a plan may be written there.

    Raises BadInput as ``write_folder`` does; asked before a long search, it saves the wait.
    """
    place = target.resolve()
    if place.exists() and not place.is_dir():
        raise _refusal(target, "is a file, not a folder")
    for parent in place.parents:
        if parent.exists() and not parent.is_dir():
            raise _refusal(target, f"lies under {parent}, which is a file")
    if place == Path.cwd() or place in Path.cwd().parents:
        raise _refusal(target, "is the folder you stand in, or one above it")
    if place.is_dir() and not _is_empty(place) and not is_plan_folder(place):
        raise _refusal(target, "holds files that are not a plan's")
    return place


def is_plan_folder(folder: Path) -> bool:
    """True when the folder holds a plan's own files and studies of it, and nothing else."""
    try:
        names = {entry.name for entry in folder.iterdir() if entry.is_file()}
        count = sum(1 for _ in folder.iterdir())
        if count == len(names) and names <= STUDY_NAMES:
            return True
        data = json.loads((folder / PLAN_FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return False
    ours = isinstance(data, dict) and {"format", "made_with", "proof"} <= data.keys()
    return ours and names <= NAMES | STUDY_NAMES and count == len(names)


def write_beside(target: Path, files: dict[str, str]) -> tuple[str, ...]:
    """Put studies into a plan folder, or into a new one; each file is written whole or not at all.

    Returns the names, sorted. Raises BadInput as ``write_folder`` does, and ValueError for a name
    that is not one of STUDY_NAMES.
    """
    if not files.keys() <= STUDY_NAMES:
        raise ValueError(f"not the names of studies: {sorted(files)}")
    check_target(target)
    return _put_into(target, {name: text.encode() for name, text in files.items()})


def write_sheets(target: Path, files: dict[str, bytes]) -> tuple[str, ...]:
    """Put sheets into a plan folder, into one that holds nothing but sheets, or into a new one.

    Each file is written whole or not at all, and no other file is touched. Returns the names,
    sorted. Raises BadInput as ``write_folder`` does, and ValueError for a name that no sheet has.
    """
    if not files.keys() <= SHEET_FILES | STUDY_NAMES:
        raise ValueError(f"not the names of sheets: {sorted(files)}")
    check_sheet_target(target)
    return _put_into(target, files)


def check_sheet_target(target: Path) -> None:
    """Raise BadInput, as ``write_sheets`` would, where sheets may not be put."""
    if not (target.is_dir() and _only_ours(target)):
        check_target(target)


def _only_ours(folder: Path) -> bool:
    """True when every name in the folder is one a plan folder may hold."""
    return all(
        entry.is_file() and entry.name in SHEET_FILES | STUDY_NAMES for entry in folder.iterdir()
    )


def _put_into(target: Path, files: dict[str, bytes]) -> tuple[str, ...]:
    """Write files into a folder, each under a hidden name first; the names, sorted."""
    place = target.resolve()
    try:
        place.mkdir(parents=True, exist_ok=True)
        for name in sorted(files):
            new = place / f".{name}.{_NEW}-{os.getpid()}"
            try:
                new.write_bytes(files[name])
                new.replace(place / name)
            finally:
                new.unlink(missing_ok=True)
    except OSError as error:
        raise _refusal(target, f"cannot be written: {error.strerror or error}") from error
    return tuple(sorted(files))


def _refusal(target: Path, message: str) -> BadInput:
    """The complaint about a place a plan cannot be written to."""
    return BadInput(Complaint(str(target), 0, 0, "", message, "name another folder with --out"))


def _is_empty(folder: Path) -> bool:
    """True when the folder holds nothing."""
    return next(folder.iterdir(), None) is None


def _sibling(place: Path, mark: str) -> Path:
    """A hidden name beside the place, this process's own."""
    return place.with_name(f".{place.name}.{mark}-{os.getpid()}")


def _siblings(place: Path, mark: str) -> Iterator[Path]:
    """What earlier runs left under such names, in order."""
    prefix = f".{place.name}.{mark}-"
    found = (x for x in place.parent.iterdir() if x.name.startswith(prefix) and x.is_dir())
    return iter(sorted(x for x in found if x.name.removeprefix(prefix).isdigit()))


def _clean_leftovers(place: Path) -> None:
    """Undo what an interrupted run left behind.

    A run killed between the two renames leaves the earlier folder under its hidden name and
    nothing in its place: it is put back.
    """
    for old in _siblings(place, _OLD):
        if place.exists():
            shutil.rmtree(old)
        else:
            old.rename(place)
    for new in _siblings(place, _NEW):
        shutil.rmtree(new)


def _write_all(folder: Path, files: dict[str, bytes]) -> None:
    """Write every file of a new folder and see it on the disk."""
    folder.mkdir()
    for name in sorted(files):
        with (folder / name).open("wb") as out:
            out.write(files[name])
            out.flush()
            os.fsync(out.fileno())
    _flush_folder(folder)


def _flush_folder(folder: Path) -> None:
    """See a folder's entries on the disk, where the system can do that for folders."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _swap_in(new: Path, place: Path) -> None:
    """Put the new folder in its place; when that fails, the earlier one is put back."""
    if not place.exists():
        new.rename(place)
        _flush_folder(place.parent)
        return
    old = _sibling(place, _OLD)
    place.rename(old)
    try:
        new.rename(place)
    except BaseException:
        old.rename(place)
        raise
    _flush_folder(place.parent)
    shutil.rmtree(old, ignore_errors=True)
