"""The stock, read from the built-in tables or from a shop's folder of the same file names."""

from __future__ import annotations

import os
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Generic, TypeVar

from lugwright.base.canonical import digest_of
from lugwright.base.errors import BadInput, Complaint
from lugwright.base.spelling import nearest
from lugwright.stock import rows
from lugwright.stock.cells import Cells
from lugwright.stock.schema import FittingType, FuseType, Hardware, Spool, Stock
from lugwright.stock.table import Columns, parse_table, read_bytes

TABLES = Path(__file__).with_name("tables")

# The order in which files are read and complained of.
FILES = ("conductors.csv", "fittings.csv", "hardware.csv", "fuses.csv")

T = TypeVar("T")


@dataclass(frozen=True)
class _Source:
    """One file of the stock: its name in a complaint, its name in a plan, and its bytes.

    A plan names the folder alone: where it lies on one machine is nobody else's business.
    """

    shown: str
    listed: str
    content: bytes


@dataclass(frozen=True)
class _Key(Generic[T]):
    """What no two rows of a table may share, and the column that is complained of."""

    column: str
    of: Callable[[T], Hashable]


_SPOOL_KEYS = (
    _Key[Spool]("name", lambda spool: spool.name),
    _Key[Spool]("wire_size", lambda spool: (spool.wire_size, spool.colour)),
)
_FITTING_KEYS = (_Key[FittingType]("name", lambda fitting: fitting.name),)
_HARDWARE_KEYS = (_Key[Hardware]("thread", lambda row: row.thread),)
_FUSE_KEYS = (
    _Key[FuseType]("name", lambda fuse: fuse.name),
    _Key[FuseType]("rating", lambda fuse: fuse.rating_ma),
)


def read_stock(folder: Path | None = None) -> Stock:
    """The stock of a shop's folder; a table it does not hold, and None, is the built-in one.

    The digest is the SHA-256 of every row's values in one form, so that a table saved by another
    program is the same stock. Raises BadInput with every fault of every file.
    """
    return _built_in() if folder is None else _read(folder)


@cache
def _built_in() -> Stock:
    return _read(None)


def _read(folder: Path | None) -> Stock:
    complaints = _folder_faults(folder) if folder is not None else []
    sources = {name: _source(folder, name, complaints) for name in FILES}
    spools = _table(
        *(sources["conductors.csv"], rows.CONDUCTOR_COLUMNS, rows.spool, _SPOOL_KEYS), complaints
    )
    fittings = _table(
        *(sources["fittings.csv"], rows.FITTING_COLUMNS, rows.fitting, _FITTING_KEYS), complaints
    )
    hardware = _table(
        *(sources["hardware.csv"], rows.HARDWARE_COLUMNS, rows.hardware, _HARDWARE_KEYS), complaints
    )
    fuses = _table(*(sources["fuses.csv"], rows.FUSE_COLUMNS, rows.fuse, _FUSE_KEYS), complaints)
    if complaints:
        raise BadInput(*complaints)
    digest = digest_of([spools, fittings, hardware, fuses])
    listed = tuple(source.listed for source in sources.values() if source)
    return Stock(spools, fittings, hardware, fuses, digest, listed)


def _folder_faults(folder: Path) -> list[Complaint]:
    """Why a folder cannot be a stock, and files in it whose names are nearly right."""
    shown = folder.as_posix()
    if not folder.is_dir():
        return [Complaint(shown, 0, 0, "", "is not a folder", f"with any of {', '.join(FILES)}")]
    present = sorted(path.name for path in folder.iterdir() if path.suffix.lower() == ".csv")
    if not present:
        return [Complaint(shown, 0, 0, "", "holds no stock table", f"any of {', '.join(FILES)}")]
    absent = [name for name in FILES if name not in present]
    faults = []
    for name in present:
        close = nearest(name, absent, alike=0.75)
        if name not in FILES and close:
            hint = f'did you mean "{close}"?'
            faults.append(Complaint(f"{shown}/{name}", 0, 0, "", "is not a stock table", hint))
    if len(absent) == len(FILES) and not faults:
        names = ", ".join(FILES)
        faults.append(Complaint(shown, 0, 0, "", "holds no stock table", f"any of {names}"))
    return faults


def _source(folder: Path | None, name: str, into: list[Complaint]) -> _Source | None:
    if folder is not None and os.path.lexists(folder / name):  # a broken link is no table left out
        path, shown = folder / name, f"{folder.as_posix()}/{name}"
        listed = f"{folder.resolve().name}/{name}"
    else:
        path = TABLES / name
        shown = listed = f"built-in {name}"
    content = read_bytes(path, shown)
    if isinstance(content, Complaint):
        into.append(content)
        return None
    return _Source(shown, listed, content)


def _table(
    source: _Source | None,
    columns: Columns,
    read_row: Callable[[Cells], T],
    keys: tuple[_Key[T], ...],
    into: list[Complaint],
) -> tuple[T, ...]:
    """The sound rows of one table; every fault goes ``into`` the list."""
    if source is None:
        return ()
    found: list[T] = []
    first_line: dict[tuple[str, Hashable], int] = {}
    for row in parse_table(source.content, source.shown, columns, into):
        cells = Cells(row, columns.required[0])
        value = read_row(cells)
        if not cells.complaints:
            for key in keys:
                line = first_line.setdefault((key.column, key.of(value)), row.line)
                if line != row.line:
                    cells.complain(key.column, f"already stands in line {line}")
        into.extend(cells.complaints)
        found.append(value)
    return tuple(found)
