"""The test sheet as a page: every line in the order of work, with room to write."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from lugwright.outputs.drawing.panel import panel_view
from lugwright.outputs.pages.render import render_page
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.test_sheet.csv_form import FORM_FILE, plan_mark
from lugwright.outputs.test_sheet.words import (
    band_at_nominal,
    band_text,
    limits_behind,
    nominal_text,
    number_text,
    supply_place,
)
from lugwright.plan.schema import Plan
from lugwright.readings.bands import TOLERANCES
from lugwright.readings.lines import Line, Part, Sheet

PAGE_FILE = "test-sheet.html"
_SCRIPTS = ("pages/keep.js", "test_sheet/save.js")


@dataclass(frozen=True)
class Row:
    """One line as it stands in a table; ``about`` names its box for who cannot see the table."""

    id: str
    cells: tuple[str, ...]
    band: str
    nominal: str
    about: str
    typed: str


@dataclass(frozen=True)
class Table:
    """Lines that are measured in the same way; ``columns`` head their cells."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]


def page_text(sheet: Sheet, paper: Paper) -> str:
    """The page of a test sheet."""
    plan = sheet.plan
    facts = {
        "view": panel_view(plan),
        "before": _before(sheet),
        "first": _tables(sheet, "first current", "First current", ("where",)),
        "supply": _tables(sheet, "supply", "Supply, everything on", ("from", "to")),
        "volts": _by_circuit(sheet, "volts", "Volts"),
        "does": _does(sheet),
        "most": _first_limits(sheet),
        "supply_place": supply_place(plan),
        "nominal": nominal_text(plan),
        "fuses": plan.fuses,
        "tolerances": [*TOLERANCES, *limits_behind(plan)],
        "mark": plan_mark(plan),
        "form": FORM_FILE,
    }
    return render_page(
        plan,
        paper,
        "test_sheet/test.html.j2",
        facts,
        sheet="Test sheet",
        side="seen from the back",
        scripts=_SCRIPTS,
    )


def _before(sheet: Sheet) -> list[Table]:
    """All that is measured before power."""
    far = _tables(sheet, "far end", "Wires from outside, end to end, ohm", ("from", "to"))
    shorts = _tables(
        sheet, "feed to ground", "Feed to ground, ohm: no short", ("from", "to", "first")
    )
    signals = _tables(
        sheet, "signal to feed", "Signal to feed, ohm: no feed on a sender's post",
        ("from", "to", "first"),
    )  # fmt: skip
    return [*_by_circuit(sheet, "continuity", "Continuity"), *far, *shorts, *signals]


def _tables(sheet: Sheet, part: Part, caption: str, columns: tuple[str, ...]) -> list[Table]:
    """One table of a part, or none where the sheet has no line of it."""
    lines = list(_of(sheet.lines, part))
    rows = tuple(
        _row(sheet.plan, line, *(line.start_words, line.at_words, line.what)[: len(columns)])
        for line in lines
    )
    return [Table(caption, columns, rows)] if rows else []


def _by_circuit(sheet: Sheet, part: Part, caption: str) -> list[Table]:
    """A table for each circuit: every line of it starts at the same place."""
    made: dict[str, list[Line]] = {}
    for line in sheet.lines:
        if line.part == part:
            made.setdefault(line.circuit, []).append(line)
    unit = {"continuity": "ohm", "volts": "V"}[part]
    return [
        Table(
            f"{caption}, {circuit}, {unit}: from {lines[0].start_words} to",
            ("to",),
            tuple(_row(sheet.plan, line, _to(line)) for line in lines),
        )
        for circuit, lines in made.items()
    ]


def _to(line: Line) -> str:
    """Where a line ends, with what must be on for it."""
    return f"{line.at_words}, {line.what}" if line.what else line.at_words


def _row(plan: Plan, line: Line, *cells: str) -> Row:
    about = f"{line.id}, {line.part}, {line.at_words or line.start_words}"
    typed = "text" if line.unit == "yes or no" else "decimal"
    nominal = band_at_nominal(plan, line)
    return Row(line.id, cells, band_text(line), nominal, about, typed)


def _does(sheet: Sheet) -> list[Table]:
    """What each instrument, sender and consumer must be seen to do."""
    rows = tuple(
        _row(sheet.plan, line, line.at_words, line.what) for line in _of(sheet.lines, "does")
    )
    return [Table("Seen with the key on: yes or no", ("at", "what it does"), rows)] if rows else []


def _first_limits(sheet: Sheet) -> list[str]:
    """How first power is held back: the most each feed may draw."""
    return [
        f"{line.circuit}: {number_text(line.high or 0, 'A')} A"
        for line in _of(sheet.lines, "first current")
    ]


def _of(lines: Sequence[Line], part: Part) -> Iterable[Line]:
    return (line for line in lines if line.part == part)
