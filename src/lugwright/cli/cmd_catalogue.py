"""``lugwright catalogue``: a folder of consoles planned, and what a change does to all of them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.nearest_group import NearestGroup
from lugwright.cli.talk import say
from lugwright.outputs.words import one_line

if TYPE_CHECKING:
    from lugwright.catalogue.job import Done
    from lugwright.catalogue.run import Power
    from lugwright.catalogue.schema import Settings
    from lugwright.outputs.overview.content import Overview

ANSWER_FORMAT = 1
STORES = Path("catalogues")
ENGINES = ("local", "serial", "dask")  # as in catalogue.engine, which a test holds
Command = TypeVar("Command", bound=Callable[..., Any])
_FOLDER = click.Path(exists=True, file_okay=False, readable=True, path_type=Path)


@click.group(
    "catalogue",
    cls=NearestGroup,
    short_help="Plan a folder of consoles; weigh a change over all of them.",
)
def group() -> None:
    """Plan a folder of consoles, weigh a changed limit over all of them, choose the stock.

    Results go into a store, one file for each model, as soon as they are known: a run that was
    stopped is simply started again and goes on.
    """


def folder_argument(command: Command) -> Command:
    """The folder of scenario files."""
    return click.argument("folder", type=_FOLDER)(command)


def store_option(command: Command) -> Command:
    """The store of the planned catalogue."""
    return click.option(
        "--store",
        type=click.Path(file_okay=False, path_type=Path),
        metavar="FOLDER",
        help="Where the planned catalogue is kept (default: catalogues/NAME).",
    )(command)


def power_options(command: Command) -> Command:
    """What runs the jobs."""
    command = click.option(
        "--cluster",
        metavar="ADDRESS",
        default="",
        help="Address of a running Dask scheduler (with --engine dask; default: start one here). "
        "Its workers must see the same files.",
    )(command)
    command = click.option(
        "--workers",
        type=click.IntRange(1, 1024),
        metavar="N",
        help="Models planned at once (default: one for each core).",
    )(command)
    return click.option(
        "--engine",
        type=click.Choice(ENGINES),
        default=ENGINES[0],
        show_default=True,
        help="All cores of this machine, one model after the other, or a Dask cluster.",
    )(command)


@group.command("plan", short_help="Plan every model of a folder.")
@folder_argument
@store_option
@options.limits_options
@options.stock_option
@options.objective_option
@options.time_option
@power_options
@options.json_option
@click.option("--quiet", "-q", is_flag=True, help="Say nothing of how it goes.")
@click.pass_context
@options.ends_well
def plan(ctx: click.Context, /, *, folder: Path, store: Path | None, **asked: Any) -> None:
    """Plan every scenario (NAME.toml) of FOLDER.

    One bad file never stops the rest. Ends with 0 when every model is planned, else with the
    code of the worst: 1 our fault, 6 rejected, 2 a file at fault, 5, 3, 4.
    """
    from lugwright.catalogue.run import plan_catalogue
    from lugwright.catalogue.store import results_in
    from lugwright.catalogue.summary import summary

    place = store or store_of(folder)
    settings, power = _settings(asked), _power(asked)
    done = _run(
        place, lambda: plan_catalogue(folder, place, settings, power, _tell(asked["quiet"]))
    )
    overview = summary(folder.resolve().name, results_in(place, [one.name for one in done]))
    _answer("catalogue", overview, place, done, as_json=asked["as_json"])
    ctx.exit(_exit_of(done))


@group.command("impact", short_help="What other limits or other stock do to every model.")
@folder_argument
@store_option
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    metavar="FOLDER",
    help="Where the other results go (default: the store's name with -impact).",
)
@options.limits_options
@options.stock_option
@options.objective_option
@options.time_option
@power_options
@options.json_option
@click.option("--quiet", "-q", is_flag=True, help="Say nothing of how it goes.")
@options.ends_well
def impact(*, folder: Path, store: Path | None, out: Path | None, **asked: Any) -> None:
    """What these limits and this stock do to the planned catalogue of FOLDER.

    Everything that --limits, --rule-set, --set and --stock say here stands in the place of what
    the catalogue was planned with. A model whose stored proof still holds is not searched again.
    """
    from lugwright.catalogue.impact import impact as overview_of
    from lugwright.catalogue.run import look_at_change
    from lugwright.catalogue.store import results_in

    before = store or store_of(folder)
    after = out or before.with_name(f"{before.name}-impact")
    settings, power = _settings(asked), _power(asked)
    done = _run(
        after,
        lambda: look_at_change(folder, before, after, settings, power, _tell(asked["quiet"])),
    )
    names = [one.name for one in done]
    pairs = zip(results_in(before, names), results_in(after, names), strict=True)
    overview = overview_of(folder.resolve().name, _words(settings), pairs)
    _answer("impact", overview, after, done, as_json=asked["as_json"])


@group.command("stock", short_help="What to keep in stock for a month, and what nobody needs.")
@folder_argument
@store_option
@click.option(
    "--mix",
    "mix_file",
    type=click.Path(exists=True, dir_okay=False, readable=True, path_type=Path),
    metavar="CSV",
    help="How many of each model a month: columns model, a_month (default: one of each).",
)
@options.json_option
@options.ends_well
def month(*, folder: Path, store: Path | None, mix_file: Path | None, as_json: bool) -> None:
    """What a month takes of the stock when the models of FOLDER are built at a given mix.

    Also tells which items in stock no model of the planned catalogue needs.
    """
    from lugwright.catalogue.mix import even_mix, read_mix
    from lugwright.catalogue.month import stock_overview
    from lugwright.catalogue.run import planned_models
    from lugwright.catalogue.store import results_in
    from lugwright.catalogue.whatif import read_kept_stock

    place = store or store_of(folder)
    names = planned_models(folder, place)
    mix = even_mix(names) if mix_file is None else read_mix(mix_file, names)
    overview = stock_overview(
        folder.resolve().name, results_in(place, names), mix, read_kept_stock(place)
    )
    _answer("stock", overview, place, (), as_json=as_json)


def store_of(folder: Path) -> Path:
    """The default store of a catalogue: by the folder's name, under the folder one stands in."""
    return STORES / folder.resolve().name


def _settings(asked: dict[str, Any]) -> Settings:
    """The settings of a call."""
    from lugwright.catalogue.schema import Settings

    return Settings(
        limits_file=asked["limits_file"],
        rule_set=asked["rule_set"],
        settings=options.with_objective(asked["settings"], asked["objective"]),
        stock_folder=asked["stock_folder"],
        seconds=asked["seconds"],
    )


def _words(settings: Settings) -> str:
    """The settings as a person wrote them."""
    said = [
        f"limits {settings.limits_file.as_posix()}" if settings.limits_file else "",
        f"rule set {settings.rule_set}" if settings.rule_set else "",
        *settings.settings,
        f"stock {settings.stock_folder.as_posix()}" if settings.stock_folder else "",
    ]
    return "; ".join(filter(None, said)) or "the limits and the stock that come with the program"


def _power(asked: dict[str, Any]) -> Power:
    """The engine of a call."""
    from lugwright.catalogue.run import Power

    if asked["cluster"] and asked["engine"] != "dask":
        raise click.UsageError("--cluster goes with --engine dask")
    return Power(asked["engine"], asked["workers"], asked["cluster"])


def _run(place: Path, work: Callable[[], tuple[Done, ...]]) -> tuple[Done, ...]:
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


def _tell(quiet: bool) -> Callable[[Done, int, int], None] | None:
    """Word of every model as it ends, on standard error."""
    if quiet:
        return None

    def tell(done: Done, ended: int, of: int) -> None:
        name = one_line(done.name)
        click.echo(f"{ended} of {of}: {name}: {done.end.value} ({done.how})", err=True)

    return tell


def _answer(
    name: str, overview: Overview, place: Path, done: tuple[Done, ...], *, as_json: bool
) -> None:
    """Write the overview as workbook and page into the store, and print it."""
    from lugwright.catalogue.store import write_whole
    from lugwright.outputs.overview.book import overview_book
    from lugwright.outputs.overview.page import overview_page
    from lugwright.outputs.overview.text import overview_data, overview_text
    from lugwright.outputs.paper_size import Paper

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


def _exit_of(done: tuple[Done, ...]) -> Exit:
    """The code of the worst end."""
    from lugwright.catalogue.schema import End

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
