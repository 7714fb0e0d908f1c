"""What the ``lugwright catalogue`` commands ask, and what they answer."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.catalogue.job import Done
from lugwright.catalogue.run import Power
from lugwright.catalogue.schema import End, Settings
from lugwright.catalogue.store import write_whole
from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.talk import say
from lugwright.outputs.overview.book import overview_book
from lugwright.outputs.overview.content import Overview
from lugwright.outputs.overview.page import overview_page
from lugwright.outputs.overview.text import overview_data, overview_text
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.words import one_line

ANSWER_FORMAT = 1


def settings_of(asked: dict[str, Any]) -> Settings:
    """The settings of a call."""
    return Settings(
        limits_file=asked["limits_file"],
        rule_set=asked["rule_set"],
        settings=options.with_objective(asked["settings"], asked["objective"]),
        stock_folder=asked["stock_folder"],
        seconds=asked["seconds"],
    )


def words_of(settings: Settings) -> str:
    """The settings as a person wrote them."""
    said = [
        f"limits {settings.limits_file.as_posix()}" if settings.limits_file else "",
        f"rule set {settings.rule_set}" if settings.rule_set else "",
        *settings.settings,
        f"stock {settings.stock_folder.as_posix()}" if settings.stock_folder else "",
    ]
    return "; ".join(filter(None, said)) or "the limits and the stock that come with the program"


def power_of(asked: dict[str, Any]) -> Power:
    """The engine of a call."""
    if asked["cluster"] and asked["engine"] != "dask":
        raise click.UsageError("--cluster goes with --engine dask")
    return Power(asked["engine"], asked["workers"], asked["cluster"])


def run(place: Path, work: Callable[[], tuple[Done, ...]]) -> tuple[Done, ...]:
    """Do the work. Raises BadInput where the store cannot be written or a library is missing."""
    try:
        return work()
    except ImportError as missing:
        hint = 'pip install "lugwright[cluster]"'
        fault = Complaint("--engine dask", 0, 0, "", "the cluster's library is missing", hint)
        raise BadInput(fault) from missing
    except OSError as error:
        text = f"cannot be used: {error.strerror or error}"
        raise BadInput(Complaint(str(error.filename or place), 0, 0, "", text)) from error


def teller(quiet: bool) -> Callable[[Done, int, int], None] | None:
    """Word of every model as it ends, on standard error."""
    if quiet:
        return None

    def tell(done: Done, ended: int, of: int) -> None:
        name = one_line(done.name)
        click.echo(f"{ended} of {of}: {name}: {done.end.value} ({done.how})", err=True)

    return tell


def answer(
    name: str, overview: Overview, place: Path, done: tuple[Done, ...], *, as_json: bool
) -> None:
    """Write the overview as workbook and page into the store, and print it."""
    files = {
        f"{name}.xlsx": overview_book(overview, Paper()),
        f"{name}.html": overview_page(overview, Paper()).encode(),
    }
    for file, data in files.items():
        write_whole(place / file, data)
    if as_json:
        content = {"store": place.as_posix(), "files": sorted(files), **overview_data(overview)}
        say(options.json_text(name, ANSWER_FORMAT, content))
    else:
        say(overview_text(overview))
        click.echo(f"{', '.join(sorted(files))} in {one_line(place.as_posix())}", err=True)


def exit_of(done: tuple[Done, ...]) -> Exit:
    """The code of the worst end."""
    worst = (
        (End.FAILED, Exit.OUR_FAULT),
        (End.REJECTED, Exit.REJECTED),
        (End.FAULTY, Exit.BAD_INPUT),
        (End.NO_ANSWER, Exit.NO_ANSWER),
        (End.IMPOSSIBLE, Exit.NO_PLAN),
        (End.WITHIN_BOUND, Exit.NOT_PROVED),
    )
    ends = {one.end for one in done}
    return next((code for end, code in worst if end in ends), Exit.DONE)
