"""A plan folder and what may be in it; written whole or not at all (``whole_folder``)."""

from __future__ import annotations

import json
from pathlib import Path

from lugwright.base import stop
from lugwright.base.errors import BadInput
from lugwright.base.files import read_text
from lugwright.outputs.kept import SUMS_FILE, read_sums
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.plan_json import MOST_BYTES, PLAN_FILE
from lugwright.outputs.plot import TRADES, plot_file
from lugwright.outputs.sheets import SHEET_FILES, SHEETS, files_of, sheets_named
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.whole_folder import Tell, check_place, put_folder

# Every name this program puts into a plan folder, beside the list of what it wrote.
NAMES = frozenset({PLAN_FILE, *SHEET_FILES})
QUICK = ("list", "tables")  # the sheets a stop still leaves time for
# What studies put beside a plan, or alone where the plan is to come.
STUDY_NAMES = frozenset({"hubs.html", *map(plot_file, TRADES)})


def folder_files(shown: ShownPlan, paper: Paper | None = None) -> dict[str, bytes]:
    """File name to content, for everything a plan folder holds."""
    return {PLAN_FILE: shown.text.encode(), **files_of(shown, SHEETS, paper)}


def files_in_time(shown: ShownPlan, paper: Paper | None = None) -> dict[str, bytes]:
    """As ``folder_files``; after a stop no more than what is quickly made and keeps the plan."""
    try:
        with stop.raised():
            return folder_files(shown, paper)
    except (Exception, KeyboardInterrupt):  # an import that is interrupted fails in its own way
        if not stop.asked():
            raise
    return {PLAN_FILE: shown.text.encode(), **files_of(shown, sheets_named(QUICK), paper)}


def write_folder(
    shown: ShownPlan, target: Path, paper: Paper | None = None, tell: Tell | None = None
) -> tuple[str, ...]:
    """Write the plan folder ``target``, replacing a plan folder that stands there.

    After a stop only the quick sheets are in it. What a person filled in or put there stays, and
    ``tell`` hears of it. Returns the names of its files, sorted. Raises BadInput when ``target``
    is a file, cannot be written, or is a folder that is not a plan's; then nothing has changed.
    """
    place = check_target(target)
    return put_folder(place, target, files_in_time(shown, paper), tell=tell)


def check_target(target: Path) -> Path:
    """The real place of a plan folder, if a plan may be written there.

    Raises BadInput as ``write_folder`` does; asked before a long search, it saves the wait.
    """
    return check_place(target, is_plan_folder, "a plan's")


def is_plan_folder(folder: Path) -> bool:
    """True when this program wrote a plan there, or studies that wait for one.

    A folder without the list of what was written is only ours when nothing else is in it.
    """
    entries = {entry.name: entry.is_file() for entry in folder.iterdir()}
    listed = bool(read_sums(folder))
    names = NAMES | STUDY_NAMES | {SUMS_FILE}
    known = listed or (all(entries.values()) and entries.keys() <= names)
    if PLAN_FILE not in entries:
        return known and entries.keys() <= STUDY_NAMES | {SUMS_FILE}
    try:
        data = json.loads(read_text(folder / PLAN_FILE, MOST_BYTES))
    except (BadInput, OSError, ValueError, RecursionError):
        return False
    return known and isinstance(data, dict) and {"format", "made_with", "proof"} <= data.keys()


def write_beside(target: Path, files: dict[str, str], tell: Tell | None = None) -> tuple[str, ...]:
    """Put studies into a plan folder, or into a new one, all of them or none.

    Returns the names, sorted. Raises BadInput as ``write_folder`` does, and ValueError for a name
    that is not one of STUDY_NAMES.
    """
    if not files.keys() <= STUDY_NAMES:
        raise ValueError(f"not the names of studies: {sorted(files)}")
    data = {name: text.encode() for name, text in files.items()}
    return put_folder(check_target(target), target, data, whole=False, tell=tell)


def write_sheets(
    target: Path, files: dict[str, bytes], tell: Tell | None = None
) -> tuple[str, ...]:
    """Put sheets into a plan folder, into one that holds nothing but sheets, or into a new one.

    All of them or none, and no other file is touched; what a person filled in is kept beside.
    Returns the names, sorted. Raises BadInput as ``write_folder`` does, and ValueError for a name
    that no sheet has.
    """
    if not files.keys() <= SHEET_FILES | STUDY_NAMES:
        raise ValueError(f"not the names of sheets: {sorted(files)}")
    check_sheet_target(target)
    return put_folder(target.resolve(), target, files, whole=False, tell=tell)


def check_sheet_target(target: Path) -> None:
    """Raise BadInput, as ``write_sheets`` would, where sheets may not be put."""
    if not (target.is_dir() and _only_sheets(target)):
        check_target(target)


def _only_sheets(folder: Path) -> bool:
    """True when sheets were written there before, or every name in it is that of one."""
    return bool(read_sums(folder)) or all(
        entry.is_file() and entry.name in SHEET_FILES | STUDY_NAMES for entry in folder.iterdir()
    )
