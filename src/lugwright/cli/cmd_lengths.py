"""``lugwright lengths``: which standard jumper lengths to stock."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.production_options import BOATS, PATH
from lugwright.cli.table import table
from lugwright.cli.talk import say

if TYPE_CHECKING:
    from lugwright.plans.schema import Plan
    from lugwright.production.lengths import LengthSet

ANSWER_FORMAT = 1


@click.command("lengths", short_help="Choose the standard jumper lengths that waste least wire.")
@click.argument("plans", metavar="PLAN...", type=PATH, nargs=-1, required=True)
@click.option(
    "--boats",
    multiple=True,
    type=BOATS,
    metavar="N",
    help="Boats of each plan: once for all, or once for each in order (default 1).",
)
@click.option(
    "--most",
    type=click.IntRange(1, 1000),
    default=12,
    show_default=True,
    help="Show the best sets of 1 to so many lengths.",
)
@click.option(
    "--series",
    type=click.Choice(["R5", "R10", "R20", "R40"]),
    help="Choose only from a series of preferred numbers (ISO 3).",
)
@click.option(
    "--plot",
    type=click.Path(dir_okay=False, writable=True, path_type=Path),
    metavar="SVG",
    help="Write the curve of waste over the number of lengths.",
)
@options.overwrite_option
@options.json_option
@click.pass_context
@options.ends_well
def command(
    ctx: click.Context,
    /,
    *,
    plans: tuple[Path, ...],
    boats: tuple[int, ...],
    most: int,
    series: str | None,
    plot: Path | None,
    overwrite: bool,
    as_json: bool,
) -> None:
    """Choose K standard jumper lengths over all PLANs, exactly, for every K up to --most.

    A PLAN is a plan folder, a plan.json, a folder of plan folders, or where a planned catalogue
    is kept (catalogues/NAME). A line of the answer put
    under [limits] as standard_lengths = [...] makes plans that are cut to them.
    """
    from lugwright.outputs.one_file import check_one, put_one
    from lugwright.production.lengths import best_lengths, series_dmm

    inputs = options.inputs_of(ctx, "plot")
    if plot is not None:
        check_one(plot, "--plot", inputs, overwrite=overwrite)

    needs = needed_lengths(plans, boats)
    offered = series_dmm(series, max(needs)) if series else None
    sets = best_lengths(needs, most, offered)
    if as_json:
        say(options.json_text("lengths", ANSWER_FORMAT, {"sets": [asdict(one) for one in sets]}))
    else:
        say("\n".join(_lines(sets, sum(needs.values()))))
    if plot is not None:
        put_one(plot, _curve(sets).encode(), "--plot", inputs, overwrite=overwrite)
    ctx.exit(Exit.DONE)


def needed_lengths(plans: tuple[Path, ...], boats: tuple[int, ...]) -> Counter[int]:
    """Cut lengths (0.1 mm) of every jumper, times its boats.

    Raises BadInput for a file that is no plan, a folder without one, numbers that do not match.
    """
    given = boats or (1,)
    if len(given) not in (1, len(plans)):
        message = f"given {len(given)} times for {len(plans)} plans"
        raise BadInput(Complaint("--boats", 0, 0, "", message, "give it once, or once for each"))
    needs: Counter[int] = Counter()
    for at, path in enumerate(plans):
        for plan in _plans(path):
            for piece in plan.jumpers:
                needs[piece.length_dmm] += given[at if len(given) > 1 else 0]
    if not needs:
        raise BadInput(Complaint(str(plans[0]), 0, 0, "", "no plan given cuts a jumper"))
    return needs


def _plans(path: Path) -> Iterator[Plan]:
    """The plan itself; or every plan of a folder of plan folders, or of a planned catalogue.

    Raises BadInput for a folder that holds none.
    """
    from lugwright.catalogue.store import MODELS, results_in
    from lugwright.outputs.plan_json import PLAN_FILE, read_unedited

    if not path.is_dir() or (path / PLAN_FILE).is_file():
        yield read_unedited(path)
        return
    folders = sorted(one.parent for one in path.glob(f"*/{PLAN_FILE}"))
    names = sorted(one.stem for one in path.glob(f"{MODELS}/*.json"))
    if not folders and not names:
        raise BadInput(Complaint(str(path), 0, 0, "", "holds no plan", "name a plan folder"))
    yield from map(read_unedited, folders)
    yield from (result.plan for result in results_in(path, names) if result.plan is not None)


def _lines(sets: tuple[LengthSet, ...], pieces: int) -> list[str]:
    from lugwright.base.scale import mm_text

    rows = [
        (
            str(len(one.lengths_dmm)),
            mm_text(one.waste_dmm),
            f"{one.waste_dmm * 100 / one.need_dmm:.1f}",
            ", ".join(map(mm_text, one.lengths_dmm)),
        )
        for one in sets
    ]
    head = ("lengths", "waste mm", "% of need", "which, mm")
    need = mm_text(sets[0].need_dmm)
    return [
        f"{pieces} jumpers need {need} mm of wire. Least waste, proved for each number:",
        table(head, rows, right=(0, 1, 2)),
    ]


def _curve(sets: tuple[LengthSet, ...]) -> str:
    from lugwright.base.scale import mm_text
    from lugwright.outputs.plot import Axes, PlotPoint, frontier_svg

    points = [PlotPoint(len(one.lengths_dmm), one.waste_dmm, "") for one in sets]
    axes = Axes(
        "Wire wasted by standard lengths",
        "number of standard lengths",
        "wire wasted, mm",
        str,
        mm_text,
        True,
    )
    return frontier_svg(points, None, axes)
