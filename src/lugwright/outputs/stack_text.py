"""The stacks drawn as small columns: nut on top, base at the bottom, as they stand on the stud."""

from __future__ import annotations

from collections.abc import Iterable

from lugwright.base.scale import mm_text
from lugwright.outputs.layout import wrapped
from lugwright.outputs.rows import Rows
from lugwright.outputs.rows_bench import StackRow, StudRow
from lugwright.plan.schema import Plan

_NUT_WORDS = {
    "snug": "snug at the bench",
    "loose": "LOOSE at the bench, snug aboard",
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


def stack_columns(rows: Rows) -> list[str]:
    """Every stud with its column, an empty line between two."""
    lines: list[str] = []
    for stud in rows.studs:
        lugs = [lug for lug in rows.stacks if lug.post == stud.post]
        lines += ["", *_column(stud, lugs)]
    return lines[1:]


def _column(stud: StudRow, lugs: Iterable[StackRow]) -> list[str]:
    """One stud: what it is, then its column from the nut down to the base."""
    lines = wrapped(
        f"{stud.post}: thread {stud.thread}, {stud.driver}; thread used {stud.used_mm} mm "
        f"of {stud.free_mm} mm free, {stud.left_mm} mm left"
    )
    if stud.boot:
        lines.append("    boot   over it all, the stud is live")
    lines.append(f"    nut    {_NUT_WORDS[stud.nut_at_bench]}")
    if stud.washer != "none":
        lines.append(f"    washer {stud.washer}")
    if stud.reserved:
        lines.append(f"    room   kept for {stud.reserved} more")
    for lug in reversed(tuple(lugs)):
        lines += _lug_lines(lug)
    lines.append("    base")
    return lines


def _lug_lines(lug: StackRow) -> list[str]:
    """One lug of a column; further lines stand under its words."""
    wires = f": {lug.wires}" if lug.lug.startswith("crimp ") else ""
    return wrapped(
        f"{lug.lug}{wires}; {lug.circuit or 'no circuit'}, {lug.current_a} A, "
        f"at {lug.clock} o'clock, tongue {lug.tongue_mm} mm",
        first=f"    {lug.order:>2}  {lug.stage:<6}  ",
    )
