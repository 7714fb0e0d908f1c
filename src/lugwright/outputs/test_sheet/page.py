"""The test sheet as a page: every line in the order of work, with room to write."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lugwright.outputs.pages.render import render_page
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.rows_ways import (
    DEVICES_HEADS,
    DEVICES_TITLE,
    LIVE_HEADS,
    LIVE_TITLE,
    device_cells,
    live_cells,
)
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.test_sheet.csv_form import FORM_FILE, plan_mark
from lugwright.outputs.test_sheet.words import limits_behind
from lugwright.plans.schema import Plan
from lugwright.readings.bands import TOLERANCES
from lugwright.readings.procedure import sections
from lugwright.readings.schema import Line, Sheet
from lugwright.readings.words import band_at_nominal, band_text, nominal_text

PAGE_FILE = "test-sheet.html"
_WAY, _LIVE = "Ways of devices, ohm", "What is live in each position, V"
_POWER, _DEAD = "One feed at a time, A and V", "Each fuse pulled by itself, and the key"
_HEADS: dict[str, str] = {
    "far end": "Wires from outside, end to end, ohm",
    "way closed": _WAY,
    "way open": _WAY,
    "stop apart": "Stop to each feed, ohm",
    "live": _LIVE,
    "not live": _LIVE,
    "alone": "Each switch by itself",
    "feed to ground": "Feed to ground, ohm: no short",
    "signal to feed": "Signal to feed, ohm: no feed on a sender's post",
    "first current": _POWER,
    "powered feed": _POWER,
    "feeds apart": _POWER,
    "fuse": "Fuses, read aloud",
    "setting": "Settings",
    "supply": "Supply, everything on",
    "does": "What each one does, key on",
    "pulled": _DEAD,
    "key off": _DEAD,
    "engine": "By a qualified person",
}
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


def page_text(shown: ShownPlan, sheet: Sheet, paper: Paper) -> str:
    """The page of a test sheet."""
    plan = shown.plan
    facts = {
        "view": shown.drawn.view,
        "parts_of": [(part, _tables(plan, part.lines)) for part in sections(sheet)],
        "of_devices": [
            (DEVICES_TITLE, DEVICES_HEADS, device_cells(shown.rows.ways)),
            (LIVE_TITLE, LIVE_HEADS, live_cells(shown.rows.live)),
        ]
        if shown.rows.ways
        else [],
        "nominal": nominal_text(plan),
        "tolerances": [*TOLERANCES, *limits_behind(plan)],
        "mark": plan_mark(shown.digest),
        "form": FORM_FILE,
    }
    return render_page(
        shown,
        paper,
        "test_sheet/test.html.j2",
        facts,
        sheet="Test sheet",
        side="seen from the back",
        scripts=_SCRIPTS,
    )


def _tables(plan: Plan, lines: Sequence[Line]) -> list[Table]:
    """A table for all lines that are measured in the same way, in their order."""
    made: dict[tuple[str, str], list[Line]] = {}
    for line in lines:
        made.setdefault(_kind(line), []).append(line)
    return [_table(plan, kind, mine) for (kind, _), mine in made.items()]


def _kind(line: Line) -> tuple[str, str]:
    """What heads the table of a line; continuity and volts begin at one place a circuit."""
    if line.part in ("continuity", "volts"):
        return line.part, line.circuit
    return _HEADS.get(line.part, line.part), ""


def _table(plan: Plan, kind: str, lines: Sequence[Line]) -> Table:
    first = lines[0]
    if first.part in ("continuity", "volts"):
        unit = {"continuity": "ohm", "volts": "V"}[first.part]
        caption = f"{kind.capitalize()}, {first.circuit}, {unit}: from {first.start_words} to"
        return Table(caption, ("to",), tuple(_row(plan, line, _to(line)) for line in lines))
    if first.unit == "yes or no":
        rows = tuple(_row(plan, line, line.at_words, line.what) for line in lines)
        return Table(f"{kind}: yes or no", ("at", "what is seen"), rows)
    columns = ("from", "to", "first") if any(line.what for line in lines) else ("from", "to")
    rows = tuple(
        _row(plan, line, *(line.start_words, line.at_words, line.what)[: len(columns)])
        for line in lines
    )
    return Table(kind, columns, rows)


def _to(line: Line) -> str:
    """Where a line ends, with what must be on for it."""
    return f"{line.at_words}, {line.what}" if line.what else line.at_words


def _row(plan: Plan, line: Line, *cells: str) -> Row:
    about = f"{line.id}, {line.part}, {line.at_words or line.start_words}"
    typed = "text" if line.unit == "yes or no" else "decimal"
    nominal = band_at_nominal(plan, line)
    return Row(line.id, cells, band_text(line), nominal, about, typed)
