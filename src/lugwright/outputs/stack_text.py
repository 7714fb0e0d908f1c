"""The stacks as a table: nut on top, base at the bottom, as they stand on the stud."""

from __future__ import annotations

from lugwright.base.scale import mm_text
from lugwright.outputs.layout import table
from lugwright.outputs.rows import Rows
from lugwright.outputs.rows_bench import StackRow, StudRow
from lugwright.plans.schema import Plan

_NUT_WORDS = {
    "snug": "snug",
    "loose": "LOOSE",
    "none yet": "not yet",
}


def tightest_sentence(plan: Plan) -> str:
    """The stud with the least thread left, or that no stud carries a lug."""
    if not plan.stacks:
        return "Tightest stack: no stud carries a lug."
    stack = min(plan.stacks, key=lambda stack: (stack.free_dmm - stack.used_dmm, stack.post))
    return (
        f"Tightest stack: {stack.post}, {mm_text(stack.used_dmm)} mm used of "
        f"{mm_text(stack.free_dmm)} mm free thread, "
        f"{mm_text(stack.free_dmm - stack.used_dmm)} mm left."
    )


def stack_table(rows: Rows) -> list[str]:
    """Every stud from its nut down to its base, one line for each lug; none where no stud has one.

    What lies on a stud above its lugs, a boot or room that is kept, has a line of its own.
    """
    lines = [line for stud in rows.studs for line in _stud_lines(rows, stud)]
    if not lines:
        return []
    columns = (
        *("stud", "thread", "driver", "nut", ">mm used", ">of"),
        *(">lug", "", ">amps", ">o'clock"),
    )
    return table(columns, lines)


def _stud_lines(rows: Rows, stud: StudRow) -> list[tuple[str, ...]]:
    """One stud; what it is stands in its first line."""
    own: tuple[str, ...] = (
        stud.post,
        stud.thread,
        stud.driver.removesuffix(" nut driver"),
        _NUT_WORDS[stud.nut_at_bench],
        stud.used_mm,
        stud.free_mm,
    )
    above = ["boot over it, live"] * bool(stud.boot)
    above += [f"room kept for {stud.reserved}"] * bool(stud.reserved)
    lugs = [lug for lug in rows.stacks if lug.post == stud.post]
    first = next((lug.order for lug in lugs if lug.stage == "aboard"), len(lugs) + 1)
    cells = [("", words, "", "") for words in above]
    cells += [_lug_cells(lug, waits=lug.order > first) for lug in reversed(lugs)]
    lines = []
    for line in cells:
        lines.append(own + line)
        own = ("",) * len(own)
    return lines


def _lug_cells(lug: StackRow, *, waits: bool) -> tuple[str, str, str, str]:
    """One lug: its place from the base, what it is, its current, where its barrel points.

    ``waits``: it lies above one that comes aboard.
    """
    late = "aboard" if lug.stage == "aboard" else "waits" if waits else ""
    what = f"{lug.lug}, {late}" if late else lug.lug
    return (str(lug.order), what, lug.amps, str(lug.clock))
