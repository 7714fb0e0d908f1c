"""The crimp list: which die for which fitting, then one line for each crimp."""

from __future__ import annotations

from lugwright.outputs.layout import short_heading, table, wrapped
from lugwright.outputs.rows import Rows
from lugwright.outputs.rows_bench import CrimpRow, crimp_margin_um2
from lugwright.outputs.words import area_margin_text, number_ranges
from lugwright.plans.schema import Plan


def crimp_section(rows: Rows) -> list[str]:
    """Dies and ranges of the fittings in use, then every crimp with its wire ends and area."""
    title = "Crimp list (a slash stands between the halves of a butt)"
    if not rows.crimps:
        return [*short_heading(title), "Nothing is crimped."]
    return [
        *short_heading(title),
        *_fitting_lines(rows),
        *table(
            ("", ">no", "fitting", "at", "wire ends", ">mm²", ">spare"),
            (("[ ]", x.number, x.fitting, x.joint, _ends(x), x.area_mm2, _spare(x))
             for x in rows.crimps),
        ),
        *_aboard_line(rows),
    ]  # fmt: skip


def _fitting_lines(rows: Rows) -> list[str]:
    """Fittings by what they are crimped with, so that the die is set once for each."""
    groups: dict[tuple[str, str, str], dict[str, None]] = {}
    for x in rows.crimps:
        groups.setdefault((x.barrel_colour, x.die, x.range_mm2), {})[x.fitting] = None
    return [
        line
        for (colour, die, span), names in groups.items()
        for line in wrapped(
            f"{colour} barrel, die {die}, takes {span} mm²: {', '.join(names)}", first="- "
        )
    ]


def _ends(x: CrimpRow) -> str:
    return f"{x.wires}, {x.folded}" if x.folded else x.wires


def _spare(x: CrimpRow) -> str:
    """Margin to the nearer end of the range, mm²."""
    return "none" if float(x.margin_mm2) == 0 else x.margin_mm2


def _aboard_line(rows: Rows) -> list[str]:
    """Which crimps wait until the panel is in the boat."""
    late = [x.number for x in rows.crimps if x.stage == "aboard"]
    return wrapped(f"Made aboard: {number_ranges(late)}. All others at the bench.") if late else []


def tightest_barrel_sentence(plan: Plan) -> str:
    """The crimp whose filled area lies nearest to an end of its range."""
    if not plan.crimps:
        return "Tightest barrel: nothing is crimped."
    crimp = min(plan.crimps, key=lambda crimp: (crimp_margin_um2(crimp), crimp.number))
    margin = area_margin_text(crimp_margin_um2(crimp))
    room = "" if float(margin) == 0 else f"{margin} mm² from the end of its range"
    return (
        f"Tightest barrel: crimp {crimp.number} at {crimp.joint}, "
        f"{room or 'at the end of its range'}."
    )
