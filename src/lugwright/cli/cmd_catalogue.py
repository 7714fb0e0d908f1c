"""``lugwright catalogue``: a folder of consoles planned, and what a change does to all of them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from lugwright.cli import options
from lugwright.cli.nearest_group import NearestGroup

if TYPE_CHECKING:
    pass

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
    from lugwright.cli.answers.catalogue import answer, exit_of, power_of, run, settings_of, teller

    place = store or store_of(folder)
    settings, power = settings_of(asked), power_of(asked)
    done = run(
        place, lambda: plan_catalogue(folder, place, settings, power, teller(asked["quiet"]))
    )
    overview = summary(folder.resolve().name, results_in(place, [one.name for one in done]))
    answer("catalogue", overview, place, done, as_json=asked["as_json"])
    ctx.exit(exit_of(done))


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
    from lugwright.cli.answers.catalogue import answer, power_of, run, settings_of, teller, words_of

    before = store or store_of(folder)
    after = out or before.with_name(f"{before.name}-impact")
    settings, power = settings_of(asked), power_of(asked)
    done = run(
        after,
        lambda: look_at_change(folder, before, after, settings, power, teller(asked["quiet"])),
    )
    names = [one.name for one in done]
    pairs = zip(results_in(before, names), results_in(after, names), strict=True)
    overview = overview_of(folder.resolve().name, words_of(settings), pairs)
    answer("impact", overview, after, done, as_json=asked["as_json"])


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
    from lugwright.cli.answers.catalogue import answer

    place = store or store_of(folder)
    names = planned_models(folder, place)
    mix = even_mix(names) if mix_file is None else read_mix(mix_file, names)
    overview = stock_overview(
        folder.resolve().name, results_in(place, names), mix, read_kept_stock(place)
    )
    answer("stock", overview, place, (), as_json=as_json)


def store_of(folder: Path) -> Path:
    """The default store of a catalogue: by the folder's name, under the folder one stands in."""
    return STORES / folder.resolve().name
