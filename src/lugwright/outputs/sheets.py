"""Every sheet of a plan folder: its name, its files, and the module that makes it.

A module that makes a sheet has one door, ``sheet_files(shown, paper)``: file name to bytes. It is
imported only when its sheet is asked for, so that nobody waits for a library they do not use.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING

from lugwright.outputs.paper_size import Paper
from lugwright.outputs.table_files import TABLE_FILES

if TYPE_CHECKING:
    from lugwright.outputs.before import Before
    from lugwright.outputs.shown import ShownPlan


@dataclass(frozen=True)
class Sheet:
    """One sheet: what a person calls it, the files it writes, and the module behind it.

    A sheet that needs no plan has a second door, ``panel_files(before, paper)``.
    """

    name: str
    files: tuple[str, ...]
    module: str
    about: str
    needs_plan: bool = True


SHEETS: tuple[Sheet, ...] = (
    Sheet("list", ("build-list.txt",), "lugwright.outputs.list_sheet", "the build list as text"),
    Sheet(
        "labels",
        ("wire-labels.pdf", "wire-labels.csv"),
        "lugwright.outputs.labels.label_sheet",
        "wrap-around wire labels, and a tag with a QR code for each wire",
    ),
    Sheet(
        "stacks",
        ("stacks.html",),
        "lugwright.outputs.stacks.stacks_sheet",
        "every stud in section with its lugs, every tab and splice",
    ),
    Sheet(
        "measuring",
        ("measuring-sheet.pdf",),
        "lugwright.outputs.measuring.measuring_sheet",
        "boxes to write in what callipers say of each dial, and a blank one",
        needs_plan=False,
    ),
    Sheet(
        "job",
        ("job-sheet.html",),
        "lugwright.outputs.job.job_sheet",
        "the job sheet: lists, step cards and drawings, for tablet and printer",
    ),
    Sheet(
        "tables",
        tuple(TABLE_FILES),
        "lugwright.outputs.csv_tables",
        "every table as CSV",
    ),
    Sheet(
        "workbook",
        ("workbook.xlsx",),
        "lugwright.outputs.workbook.plan_workbook",
        "every table in one workbook",
    ),
    Sheet(
        "drill",
        ("drill-template.pdf",),
        "lugwright.outputs.paper.drill_template",
        "the drilling template at 1:1, seen from the front",
        needs_plan=False,
    ),
    Sheet(
        "board",
        ("build-board.pdf",),
        "lugwright.outputs.paper.build_board",
        "the build board at 1:1, seen from the back",
    ),
    Sheet(
        "test",
        ("test-sheet.html", "test-readings.csv"),
        "lugwright.outputs.test_sheet.test_sheet_files",
        "the tests, with room for what the meter shows",
    ),
    Sheet(
        "rear-view",
        ("rear-view.svg",),
        "lugwright.outputs.drawing.rear_view",
        "the whole plan on one drawing of the panel, seen from the back",
        needs_plan=False,
    ),
)
SHEET_FILES = frozenset(name for sheet in SHEETS for name in sheet.files)


def sheets_named(names: Iterable[str]) -> tuple[Sheet, ...]:
    """The sheets of those names, in the order of SHEETS; KeyError names one that is not there."""
    wanted = set(names)
    for name in sorted(wanted - {sheet.name for sheet in SHEETS}):
        raise KeyError(name)
    return tuple(sheet for sheet in SHEETS if sheet.name in wanted)


def files_of(
    shown: ShownPlan, sheets: Iterable[Sheet] = SHEETS, paper: Paper | None = None
) -> dict[str, bytes]:
    """File name to content, for the sheets asked for.

    Raises RuntimeError when a sheet writes other files than it says: then a folder could be taken
    for somebody else's.
    """
    return _gathered("sheet_files", shown, sheets, paper or Paper())


def files_before(
    before: Before, sheets: Iterable[Sheet], paper: Paper | None = None
) -> dict[str, bytes]:
    """File name to content, of a console that is not planned yet.

    Raises ValueError for a sheet that needs a plan, RuntimeError as ``files_of`` does.
    """
    asked = tuple(sheets)
    for sheet in asked:
        if sheet.needs_plan:
            raise ValueError(f"sheet {sheet.name} needs a plan")
    return _gathered("panel_files", before, asked, paper or Paper())


def _gathered(
    door: str, of: ShownPlan | Before, sheets: Iterable[Sheet], paper: Paper
) -> dict[str, bytes]:
    """The files of every sheet, made by that door of its module."""
    files = dict[str, bytes]()
    for sheet in sheets:
        made: dict[str, bytes] = getattr(import_module(sheet.module), door)(of, paper)
        if made.keys() != set(sheet.files):
            raise RuntimeError(f"sheet {sheet.name} wrote {sorted(made)}, not {sheet.files}")
        files |= made
    return files
