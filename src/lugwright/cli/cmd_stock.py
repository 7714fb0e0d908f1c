"""``lugwright stock``: what lies in stock, each row with its source."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.scale import amps_text, mm_text, money_text
from lugwright.cli import options
from lugwright.cli.talk import say

if TYPE_CHECKING:
    from lugwright.stock.schema import Barrel, FittingType, FuseType, Hardware, Spool, Stock

ANSWER_FORMAT = 1


@dataclass(frozen=True)
class _Table:
    """One table of the stock: its head, one line per row, and the columns flush right."""

    head: tuple[str, ...]
    rows: Callable[[Stock], list[tuple[str, ...]]]
    records: Callable[[Stock], tuple[Any, ...]]
    right: tuple[int, ...]


@click.command("stock", short_help="Show the stock, or copy its tables to edit.")
@options.stock_option
@click.option(
    "--kind",
    "kinds",
    multiple=True,
    type=click.Choice(["wire", "fittings", "hardware", "fuses"]),
    help="Only this part of the stock. May be repeated.",
)
@click.option(
    "--copy-to",
    "target",
    type=click.Path(file_okay=False, path_type=Path),
    metavar="FOLDER",
    help="Copy the tables there to edit, for --stock. Nothing that stands there is replaced.",
)
@options.json_option
@options.ends_well
def command(
    stock_folder: Path | None, kinds: tuple[str, ...], target: Path | None, as_json: bool
) -> None:
    """Show the stock: wire, fittings, hardware and fuses, each row with its source.

    Without --stock these are the tables that come with the program; their prices are invented.
    """
    from lugwright.stock.read import read_stock

    stock = read_stock(stock_folder)
    if target is not None:
        _copy(stock_folder, target)
        return
    tables = {kind: each for kind, each in _TABLES.items() if not kinds or kind in kinds}
    say(_answer(stock, tables) if as_json else _page(stock, tables))


def _copy(stock_folder: Path | None, target: Path) -> None:
    """Copy the four tables in force. Raises BadInput where one stands there already."""
    from lugwright.base.files import refuse_lost_link
    from lugwright.stock.read import FILES, TABLES

    refuse_lost_link(target)
    standing = [name for name in FILES if (target / name).exists()]
    if standing:
        raise BadInput(
            *(
                Complaint(
                    (target / name).as_posix(), 0, 0, "", "stands there already", "not copied"
                )
                for name in standing
            )
        )
    try:
        target.mkdir(parents=True, exist_ok=True)
        for name in FILES:
            own = stock_folder / name if stock_folder is not None else TABLES / name
            content = (own if own.exists() else TABLES / name).read_bytes()
            with (target / name).open("xb") as stream:
                stream.write(content)
    except OSError as error:
        message = f"cannot be written: {error.strerror}"
        raise BadInput(Complaint(target.as_posix(), 0, 0, "", message)) from None
    click.echo(f"{len(FILES)} tables in {target.as_posix()}", err=True)


def _answer(stock: Stock, tables: Mapping[str, _Table]) -> str:
    """The rows as data; keys carry their unit."""
    content: dict[str, Any] = {"files": list(stock.files), "digest": stock.digest}
    for kind, each in tables.items():
        content[kind] = [asdict(record) for record in each.records(stock)]
    return options.json_text("stock", ANSWER_FORMAT, content)


def _page(stock: Stock, tables: Mapping[str, _Table]) -> str:
    """One table per part of the each."""
    from lugwright.cli.table import table

    parts = [f"stock: {', '.join(stock.files)}"] if stock.files else []
    parts += [table(each.head, each.rows(stock), right=each.right) for each in tables.values()]
    return "\n\n".join(parts)


def _wire_row(spool: Spool) -> tuple[str, ...]:
    return (
        spool.name,
        spool.wire_size,
        spool.colour,
        spool.size_standard,
        _area(spool.area_um2),
        f"{spool.insulation_um / 1000:.2f}",
        f"{spool.insulation_temp_c} C",
        spool.ampacity_size,
        money_text(spool.price_micro_per_m),
        mm_text(spool.spool_length_dmm // 1000),
        spool.source,
    )


def _fitting_row(fitting: FittingType) -> tuple[str, ...]:
    return (
        fitting.name,
        fitting.kind,
        fitting.colour,
        _both(fitting.barrels, _barrel_area),
        _both(fitting.barrels, lambda barrel: f"{barrel.sleeve_um / 1000:.2f}"),
        _both(fitting.barrels, lambda barrel: mm_text(barrel.length_dmm)),
        "yes" if fitting.lined else "no",
        ", ".join(fitting.stud_threads) or fitting.tab_size or "-",
        mm_text(fitting.tongue_dmm) if fitting.stud_threads else "-",
        f"{fitting.barrel_angle_deg}" if fitting.stud_threads else "-",
        amps_text(fitting.carries_ma) if fitting.carries_ma else "-",
        fitting.die,
        money_text(fitting.price_micro),
        str(fitting.pack),
        fitting.source,
    )


def _hardware_row(row: Hardware) -> tuple[str, ...]:
    return (
        row.thread,
        mm_text(row.nut_dmm),
        mm_text(row.lock_washer_dmm),
        f"{row.pitch_um / 1000:.3f}",
        f"{row.across_flats_um / 1000:.2f}",
        row.driver,
        money_text(row.price_micro),
        str(row.pack),
        row.source,
    )


def _fuse_row(fuse: FuseType) -> tuple[str, ...]:
    return (
        fuse.name,
        amps_text(fuse.rating_ma),
        fuse.colour,
        money_text(fuse.price_micro),
        str(fuse.pack),
    )


def _both(barrels: tuple[Barrel, ...], words: Callable[[Barrel], str]) -> str:
    """What is said of a fitting's barrels, once where both halves are alike."""
    return " / ".join(dict.fromkeys(words(barrel) for barrel in barrels)) or "-"


def _barrel_area(barrel: Barrel) -> str:
    return f"{_area(barrel.area_min_um2)} to {_area(barrel.area_max_um2)}"


def _area(area_um2: int) -> str:
    return f"{area_um2 / 1_000_000:.3f}"


_TABLES = {
    "wire": _Table(
        (
            *("wire", "size", "colour", "size standard", "area mm2", "over insulation mm"),
            *("insulation", "ampacity row", "price per m", "spool m", "source"),
        ),
        lambda stock: [_wire_row(spool) for spool in stock.spools],
        lambda stock: stock.spools,
        (4, 5, 8, 9),
    ),
    "fittings": _Table(
        (
            *("fitting", "kind", "colour", "wire area mm2", "sleeve mm", "barrel mm", "lined"),
            *("fits", "tongue mm", "angle deg", "limit, amps", "die", "price", "pack", "source"),
        ),
        lambda stock: [_fitting_row(fitting) for fitting in stock.fittings],
        lambda stock: stock.fittings,
        (8, 9, 10, 12, 13),
    ),
    "hardware": _Table(
        (
            *("thread", "nut mm", "lock washer mm", "pitch mm", "across flats mm", "driver"),
            *("price", "pack", "source"),
        ),
        lambda stock: [_hardware_row(row) for row in stock.hardware],
        lambda stock: stock.hardware,
        (1, 2, 3, 4, 6, 7),
    ),
    "fuses": _Table(
        ("fuse", "amps", "colour", "price", "pack"),
        lambda stock: [_fuse_row(fuse) for fuse in stock.fuses],
        lambda stock: stock.fuses,
        (1, 3, 4),
    ),
}
