"""A written jumper list: the wiring of a panel that is already built, as a person puts it down.

A CSV with the columns ``circuit,from,to,wire_size`` and, where known, ``length``, ``lug_from``,
``lug_to``; cells are parted by commas, or by semicolons or tabs, and then numbers may have a
decimal comma. Posts are written ``instrument.post``. ``supply`` as ``from`` says where a circuit's
pigtail lands; with a wire size and a length in that row, the pigtail is lengthened by such a
piece. Wires with one lug name at one post share a barrel. Blank lines and lines that begin with
``#`` are passed over.
"""

from __future__ import annotations

import csv
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from io import StringIO
from pathlib import Path
from typing import TypeVar

from lugwright.assemble.currents import flow
from lugwright.assemble.ends import barrel_wires, ends_by_joint, given, given_ends
from lugwright.assemble.grouping import FittingStock, group_ends
from lugwright.base.csv_marks import mark_of, with_point
from lugwright.base.errors import BadInput, Complaint
from lugwright.base.files import read_text
from lugwright.base.identity import NO_JOINT, JointId
from lugwright.base.spelling import did_you_mean
from lugwright.base.units import parse_length_mm, parse_wire_size, to_dmm
from lugwright.plans.choice import Choice, ChosenExtension, ChosenJumper, WireKey
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Circuit
from lugwright.trade.names import pigtail_wire

NEEDED = ("circuit", "from", "to", "wire_size")
OPTIONAL = ("length", "lug_from", "lug_to")
SUPPLY = "supply"
MOST_BYTES = 1_000_000
MOST_ROWS = 10_000
FEW = 4  # so many rows of strange names, and most of the list: it is another console's


@dataclass(frozen=True)
class JumperList:
    """What a written list says: the choice, and the lengths written for its wires (0.1 mm)."""

    choice: Choice
    lengths_dmm: tuple[tuple[WireKey, int], ...]


@dataclass(frozen=True)
class _Row:
    """One row as it stands, with its line in the file."""

    line: int
    cells: Mapping[str, str]

    def __getitem__(self, column: str) -> str:
        return self.cells.get(column, "")


Name = TypeVar("Name", bound=str)


@dataclass
class _Reading:
    """What has been read so far, and everything found wrong."""

    file: str
    columns: list[str]
    brief: Brief
    complaints: list[Complaint] = field(default_factory=list)
    landings: dict[str, JointId] = field(default_factory=dict)
    jumpers: dict[tuple[str, frozenset[str]], ChosenJumper] = field(default_factory=dict)
    extensions: list[ChosenExtension] = field(default_factory=list)
    lengths: dict[WireKey, int] = field(default_factory=dict)
    lugs: dict[tuple[JointId, WireKey], str] = field(default_factory=dict)

    def fault(self, line: int, column: str, message: str, hint: str = "") -> None:
        """Note one fault; ``column`` "" is the whole row."""
        number = self.columns.index(column) + 1 if column in self.columns else 1
        field_name = f"column {column}" if column else ""
        self.complaints.append(
            Complaint(self.file, line, number if line else 0, field_name, message, hint)
        )

    def one_of(
        self, row: _Row, column: str, allowed: Iterable[Name], what: str, also: str = ""
    ) -> Name | None:
        """Which of the allowed ones the cell names, else a fault with the nearest.

        ``also`` is allowed too, where another kind of row has it.
        """
        known = {str(name): name for name in allowed}
        names = sorted([*known, also] if also else known)
        value = row[column]
        if value in known:
            return known[value]
        got = f'"{value[:60]}" is not a {what}' if value else f"no {what} is written"
        message = f"{got}; allowed: {', '.join(names) or 'none'}"
        self.fault(row.line, column, message, did_you_mean(value, names))
        return None


def read_jumper_list(path: Path, brief: Brief) -> JumperList:
    """Read a jumper list against its console.

    What the list leaves open (lugs not named, fittings) is filled in as a rigger would. A panel
    that breaks limits is read all the same, so that it can be judged. Raises BadInput with every
    fault: file, row, column, what is allowed and the nearest spelling.
    """
    columns, rows = _rows(path)
    reading = _Reading(path.name, columns, brief)
    _of_this_console(reading, rows)
    for row in rows:
        _read_row(reading, row)
    _missing_supplies(reading)
    if reading.complaints:
        raise BadInput(*sorted(reading.complaints))
    return _fitted(reading)


def _of_this_console(reading: _Reading, rows: Sequence[_Row]) -> None:
    """Raise BadInput, in one line, for a list of which most rows name what is not here."""
    circuits = {circuit.name for circuit in reading.brief.console.circuits}
    posts = {post.id for post in reading.brief.console.posts} | {SUPPLY}
    strange = [(row, word) for row in rows if (word := _strange_word(row, circuits, posts))]
    if len(strange) >= FEW and 2 * len(strange) > len(rows):
        row, word = strange[0]
        message = (
            f"is of another console: {len(strange)} of its {len(rows)} rows name circuits or posts "
            f'that "{reading.brief.console.title}" does not have, the first "{word[:60]}"'
        )
        hint = "name the scenario of the panel that was listed"
        raise BadInput(Complaint(reading.file, row.line, 0, "", message, hint))


def _strange_word(row: _Row, circuits: Container[str], posts: Container[str]) -> str:
    """The first name of a row that this console does not have, "" where it has all."""
    if row["circuit"] and row["circuit"] not in circuits:
        return row["circuit"]
    ends = (row["from"], row["to"])
    return next((end for end in ends if end and end not in posts), "")


def _rows(path: Path) -> tuple[list[str], list[_Row]]:
    """Column names and rows of the file. Raises BadInput where it is no such list."""
    text = read_text(path, MOST_BYTES)
    mark = mark_of(text)
    reader = csv.reader(StringIO(text, newline=""), delimiter=mark, strict=True)
    columns: list[str] | None = None
    rows: list[_Row] = []
    try:
        for cells in reader:
            stripped = [with_point(cell.strip(), mark) for cell in cells]
            if not any(stripped) or stripped[0].startswith("#"):
                continue
            if columns is None:
                columns = stripped
                _check_columns(path.name, reader.line_num, columns)
            else:
                rows.append(_row(path.name, reader.line_num, columns, stripped))
    except csv.Error as error:
        line = reader.line_num
        raise BadInput(Complaint(path.name, line, 1, "", f"is not CSV: {error}")) from error
    if columns is None or not rows:
        message = f"holds no rows; the first line is {','.join((*NEEDED, *OPTIONAL))}"
        raise BadInput(Complaint(path.name, 0, 0, "", message))
    if len(rows) > MOST_ROWS:
        raise BadInput(Complaint(path.name, 0, 0, "", f"holds more than {MOST_ROWS} rows"))
    return columns, rows


def _check_columns(file: str, line: int, columns: list[str]) -> None:
    """Raise BadInput for every column that is missing, unknown or written twice."""
    allowed = (*NEEDED, *OPTIONAL)
    found = []
    for number, name in enumerate(columns, 1):
        if name not in allowed:
            hint = did_you_mean(name, allowed)
            message = f'"{name[:60]}" is not a column; allowed: {", ".join(allowed)}'
            found.append(Complaint(file, line, number, f"column {name[:60]}", message, hint))
        elif name in columns[: number - 1]:
            message = "this column is written twice"
            found.append(Complaint(file, line, number, f"column {name}", message))
    for name in NEEDED:
        if name not in columns:
            found.append(Complaint(file, line, 1, f"column {name}", "this column is missing"))
    if found:
        raise BadInput(*sorted(found))


def _row(file: str, line: int, columns: list[str], cells: list[str]) -> _Row:
    if len(cells) > len(columns):
        message = f"has {len(cells)} cells where the first line names {len(columns)} columns"
        raise BadInput(Complaint(file, line, len(columns) + 1, "", message))
    return _Row(line, dict(zip(columns, cells, strict=False)))


def _read_row(reading: _Reading, row: _Row) -> None:
    """One row: a supply that lands, or a jumper."""
    names = [circuit.name for circuit in reading.brief.console.circuits]
    name = reading.one_of(row, "circuit", names, "circuit of this console")
    length = _length(reading, row)
    if name is None:
        return
    circuit = reading.brief.console.circuit(name)
    to = reading.one_of(row, "to", circuit.posts, f"post of {name}")
    if row["from"] == SUPPLY:
        _read_supply(reading, row, circuit, to, length)
    else:
        _read_jumper(reading, row, circuit, to, length)


def _length(reading: _Reading, row: _Row) -> int | None:
    """The written length, 0.1 mm; None where none is written (or a fault was noted)."""
    if not row["length"]:
        return None
    try:
        length = to_dmm(parse_length_mm(row["length"]))
    except ValueError as error:
        reading.fault(row.line, "length", str(error))
        return None
    if length <= 0:
        reading.fault(row.line, "length", "a piece of wire is longer than nothing")
        return None
    return length


def _wire_size(reading: _Reading, row: _Row, circuit: Circuit) -> str | None:
    """The written wire size when stock has it in the circuit's colour."""
    sizes = [spool.wire_size for spool in reading.brief.stock.spools_of_colour(circuit.colour)]
    try:
        written = parse_wire_size(row["wire_size"])
    except ValueError:
        written = row["wire_size"]
    what = f"wire size that stock has in {circuit.colour}"
    spelled = _Row(row.line, {**row.cells, "wire_size": written})
    return reading.one_of(spelled, "wire_size", sizes, what)


def _read_supply(
    reading: _Reading, row: _Row, circuit: Circuit, to: JointId | None, length: int | None
) -> None:
    """Where a circuit's pigtail lands; with size and length, the extension it has."""
    if circuit.pigtail is None:
        if circuit.supplied_by:
            taker = f"{circuit.name} is supplied by {circuit.supplied_by} and has no pigtail"
            hint = f"write {circuit.supplied_by} as the post it comes from"
        else:
            taker = f"{circuit.name} is taken from {circuit.taken_from} and has no pigtail"
            hint = f"write the post of {circuit.taken_from} it is taken from"
        reading.fault(row.line, "from", taker, hint)
        return
    if circuit.name in reading.landings:
        reading.fault(row.line, "from", f"the supply of {circuit.name} lands twice")
        return
    reading.landings[circuit.name] = to or NO_JOINT
    wire = pigtail_wire(circuit.name)
    key = given(wire)
    if row["length"] or row["wire_size"]:
        if not (row["length"] and row["wire_size"]):
            message = "an extension of the pigtail needs both a wire size and a length"
            column = "length" if not row["length"] else "wire_size"
            reading.fault(row.line, column, message, "leave both empty where there is none")
            return
        size = _wire_size(reading, row, circuit)
        if size is not None and length is not None:
            extension = ChosenExtension(wire, size, circuit.colour)
            reading.extensions.append(extension)
            reading.lengths[extension.key] = length
            key = extension.key
    if row["lug_from"]:
        reading.fault(row.line, "lug_from", "a supply has no lug at its own end")
    if row["lug_to"] and to:
        reading.lugs[to, key] = row["lug_to"]


def _read_jumper(
    reading: _Reading, row: _Row, circuit: Circuit, to: JointId | None, length: int | None
) -> None:
    """One jumper; a taken circuit may start at a post of the circuit it is taken from."""
    starts = set(circuit.posts)
    what, also = f"post of {circuit.name}", ""
    if circuit.taken_from:
        starts |= set(reading.brief.console.circuit(circuit.taken_from).posts)
        what += f" or {circuit.taken_from}"
    elif circuit.pigtail is not None:
        also = SUPPLY
    start = reading.one_of(row, "from", starts, what, also)
    size = _wire_size(reading, row, circuit)
    if start is None or to is None or size is None:
        return
    if start == to:
        reading.fault(row.line, "to", f"both ends are at {to}")
        return
    pair = (circuit.name, frozenset((start, to)))
    if pair in reading.jumpers:
        reading.fault(row.line, "to", f"{start} and {to} are joined by an earlier row already")
        return
    jumper = ChosenJumper(circuit.name, start, to, size)
    reading.jumpers[pair] = jumper
    if length is not None:
        reading.lengths[jumper.key] = length
    for column, post in (("lug_from", start), ("lug_to", to)):
        if row[column]:
            reading.lugs[post, jumper.key] = row[column]


def _missing_supplies(reading: _Reading) -> None:
    for circuit in sorted(reading.brief.console.circuits, key=lambda item: item.name):
        if circuit.pigtail is not None and circuit.name not in reading.landings:
            message = f"no row says where the supply of {circuit.name} lands"
            hint = f"write {circuit.name},{SUPPLY},INSTRUMENT.POST"
            reading.fault(0, "", message, hint)


def _fitted(reading: _Reading) -> JumperList:
    """Turn every jumper's end a to the supply, and put a fitting on every wire end."""
    brief, console = reading.brief, reading.brief.console
    turned: dict[WireKey, ChosenJumper] = {}
    for key, run in flow(console, reading.landings, reading.jumpers.values()).runs.items():
        turned[key] = ChosenJumper(run.circuit, run.a, run.b, run.wire_size)
        if run.a == console.circuit(run.circuit).supplied_by:
            reading.landings.setdefault(run.circuit, run.b)
    new_key = {key: jumper.key for key, jumper in turned.items()}
    jumpers = tuple(sorted(turned.values()))
    extensions = tuple(sorted(reading.extensions))
    currents = flow(console, reading.landings, jumpers)
    ends = given_ends(brief, reading.landings, currents)
    wires = barrel_wires(brief, currents, ends, extensions)
    named = {(post, new_key.get(key, key)): name for (post, key), name in reading.lugs.items()}
    offered = FittingStock(brief.limits, brief.stock, as_built=True)
    posts = {post.id: post for post in console.posts}
    grouped = group_ends(posts, offered, wires, ends_by_joint(jumpers, extensions, ends), named)
    if grouped.unfit:
        nothing = "stock has no fitting of a kind that goes on this post"
        raise BadInput(*(Complaint(reading.file, 0, 0, joint, nothing) for joint in grouped.unfit))
    landings = tuple(sorted(reading.landings.items()))
    lengths = tuple(sorted((new_key.get(key, key), cut) for key, cut in reading.lengths.items()))
    return JumperList(Choice(landings, jumpers, extensions, grouped.fittings), lengths)
