"""What ``lugwright rework`` answers: the work to do, and what it was asked at."""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

from lugwright.base.cautions import ALWAYS
from lugwright.base.errors import BadInput, Complaint
from lugwright.base.units import parse_length_mm, parse_money_micro, to_dmm
from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.limits.schema import Limits
from lugwright.outputs.folder import write_folder
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import one_line
from lugwright.production.rework import Rework


class Made(NamedTuple):
    """Files of the plan's folder by name, and the sheet as PDF (None: none is to be written)."""

    files: tuple[str, ...]
    sheet: bytes | None


def worth_of(text: str | None, limits: Limits) -> int:
    """The worth of a change in units of the objective. Raises BadInput where it has none."""
    if limits.objective not in ("default", "cheapest"):
        message = f"the objective is {limits.objective}, which has no worth of a change"
        hint = "use --objective default or --objective cheapest"
        raise BadInput(Complaint("--change-worth", 0, 0, "", message, hint))
    try:
        if limits.objective == "cheapest":
            return parse_money_micro(text or "2.00")
        return to_dmm(parse_length_mm(text or "100 mm"))
    except ValueError as error:
        raise BadInput(Complaint("--change-worth", 0, 0, "", str(error))) from error


def files_of(found: Rework, out: Path | None, wants_sheet: bool, page: str) -> Made:
    """The new plan's folder written where one is wanted, the sheet made; nothing without a plan."""
    passed = found.report is not None and found.report.passed
    if found.plan is None or not passed:
        return Made((), None)
    shown = ShownPlan(found.plan)
    written = write_folder(shown, out, tell=options.tell) if out else ()
    if not wants_sheet or found.told is None:
        return Made(written, None)
    from lugwright.production.rework_sheet import rework_pdf  # reportlab

    return Made(written, rework_pdf(shown, found.told.work, Paper(page)))


def as_data(found: Rework, code: Exit, written: tuple[str, ...]) -> dict[str, Any]:
    """The rework as data."""
    return {
        "exit": int(code),
        "ending": found.ending.value,
        "kept": found.kept,
        "moved": found.moved,
        "removed": found.removed,
        "new": found.new,
        "relanded": found.relanded,
        "cost": found.cost,
        "bound": found.bound,
        "work": list(found.told.work) if found.told else [],
        "files": list(written),
    }


def as_lines(found: Rework) -> list[str]:
    """What becomes of the harness, the cautions, and the work to do."""
    best = "proved least" if found.cost == found.bound else "not proved least"
    plan = found.plan
    head = (
        f"{found.kept} jumpers kept, {found.moved} moved or shortened, {found.removed} taken out, "
        f"{found.new} new, {found.relanded} pigtails land elsewhere; {best}."
    )
    cautions = [one_line(caution) for caution in (plan.cautions if plan else ALWAYS)]
    if found.told is None or not found.told.work:
        nothing = "Nothing to do: the harness is as planned."
        return [head, "", "Before any work:", *cautions, "", nothing]
    work = [f"{n}. {one_line(text)}" for n, text in enumerate(found.told.work, 1)]
    return [head, "", "Before any work:", *cautions, "", "Work to do:", *work]
