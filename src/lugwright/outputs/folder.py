"""A plan folder and what may be in it; written whole or not at all (``whole_folder``)."""

from __future__ import annotations

import json
from pathlib import Path

from lugwright.base import stop
from lugwright.base.errors import BadInput
from lugwright.base.files import read_text
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.plan_json import MOST_BYTES, PLAN_FILE, plan_text
from lugwright.outputs.plot import TRADES, plot_file
from lugwright.outputs.sheets import SHEET_FILES, SHEETS, files_of, sheets_named
from lugwright.outputs.whole_folder import check_place, put_file, put_folder, refusal
from lugwright.plans.schema import Plan

# Every name a plan folder may hold. A folder with any other name in it is somebody else's.
NAMES = frozenset({PLAN_FILE, *SHEET_FILES})
QUICK = ("list", "tables")  # the sheets a stop still leaves time for
# What studies put beside a plan, or alone where the plan is to come.
STUDY_NAMES = frozenset({"hubs.html", *map(plot_file, TRADES)})


def folder_files(plan: Plan, paper: Paper | None = None) -> dict[str, bytes]:
    """File name to content, for everything a plan folder holds."""
    return {PLAN_FILE: plan_text(plan).encode(), **files_of(plan, SHEETS, paper)}


def files_in_time(plan: Plan, paper: Paper | None = None) -> dict[str, bytes]:
    """As ``folder_files``; after a stop no more than what is quickly made and keeps the plan."""
    try:
        with stop.raised():
            return folder_files(plan, paper)
    except (Exception, KeyboardInterrupt):  # an import that is interrupted fails in its own way
        if not stop.asked():
            raise
    return {PLAN_FILE: plan_text(plan).encode(), **files_of(plan, sheets_named(QUICK), paper)}


def write_folder(plan: Plan, target: Path, paper: Paper | None = None) -> tuple[str, ...]:
    """Write the plan folder ``target``, replacing a plan folder that stands there.

    After a stop only the quick sheets are in it. Returns the names of its files, sorted. Raises
    BadInput when ``target`` is a file, cannot be written, or holds anything that is not a plan's;
    then nothing has changed.
    """
    place = check_target(target)
    return put_folder(place, target, files_in_time(plan, paper))


def check_target(target: Path) -> Path:
    """The real place of a plan folder, if a plan may be written there.

    Raises BadInput as ``write_folder`` does; asked before a long search, it saves the wait.
    """
    return check_place(target, is_plan_folder, "a plan's")


def is_plan_folder(folder: Path) -> bool:
    """True when the folder holds a plan's own files and studies of it, and nothing else."""
    try:
        names = {entry.name for entry in folder.iterdir() if entry.is_file()}
        count = sum(1 for _ in folder.iterdir())
        if count == len(names) and names <= STUDY_NAMES:
            return True
        data = json.loads(read_text(folder / PLAN_FILE, MOST_BYTES))
    except (BadInput, OSError, ValueError, RecursionError):
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
            put_file(place, name, files[name])
    except OSError as error:
        raise refusal(target, f"cannot be written: {error.strerror or error}") from error
    return tuple(sorted(files))
