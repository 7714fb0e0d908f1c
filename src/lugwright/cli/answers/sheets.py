"""What ``lugwright sheets`` reads and writes."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from lugwright.base.version import __version__
from lugwright.cli import options
from lugwright.outputs.folder import check_sheet_target, write_sheets
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.plan_json import read_unedited
from lugwright.outputs.sheets import Sheet, files_before
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import program_text


def read_plan(path: Path) -> tuple[ShownPlan, list[str]]:
    """The plan, and what a reader should know of it.

    Raises BadInput for a file that is no plan, was edited, or does not hang together.
    """
    plan, notes = read_unedited(path), []
    if program_text(plan) != f"lugwright {__version__}":
        notes.append(
            f"this plan was made with {program_text(plan)}, these sheets with {__version__}"
        )
    return ShownPlan(plan), notes


def before(scenario: Path, sheets: tuple[Sheet, ...], paper: Paper) -> dict[str, bytes]:
    """The sheets of a console that is not planned yet."""
    from lugwright.pipeline import before_planning, read_inputs  # scenario, limits, stock

    return files_before(before_planning(read_inputs(scenario)), sheets, paper)


def write(target: Path, made: Callable[[], dict[str, bytes]]) -> tuple[str, ...]:
    """Make the sheets, then write them; the names of the files."""
    check_sheet_target(target)
    return write_sheets(target, made(), options.tell)
