"""``lugwright sheets``: write some of a plan's sheets again, on other paper if need be."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.base.spelling import near_or_all
from lugwright.cli import options
from lugwright.cli.talk import say
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.sheets import SHEETS, Sheet, files_of, sheets_named

if TYPE_CHECKING:
    pass

ANSWER_FORMAT = 1
SHEETS_FOLDER = Path("sheets")  # where sheets go that no plan stands behind
RULER_MM = 100  # length of the rulers printed on every 1:1 sheet
# A printer that is further off than this prints at another scale: no correction mends that.
LEAST_MM, MOST_MM = 90, 110


@click.command(
    "sheets",
    short_help="Write some of a plan's sheets again.",
    epilog=f"Sheets: {'; '.join(f'{sheet.name} ({sheet.about})' for sheet in SHEETS)}.",
)
@click.argument(
    "plan_path", metavar="PLAN", type=click.Path(exists=True, readable=True, path_type=Path)
)
@click.option(
    "--only",
    multiple=True,
    metavar="NAME,NAME…",
    help="Only these sheets, of those named below. May be repeated.",
)
@options.page_option
@options.full_size_option
@click.option(
    "--print-scale",
    "rulers",
    nargs=2,
    metavar="X Y",
    help=f"What the two rulers of {RULER_MM} mm measured on your print, in mm, across and up: "
    "1:1 sheets are drawn so that they come out right.",
)
@options.out_option
@options.json_option
@options.ends_well
def command(
    plan_path: Path,
    only: tuple[str, ...],
    page: str,
    full_size: bool,
    rulers: tuple[str, str] | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Write sheets of PLAN, a plan folder or a plan.json, again: all of them, or some.

    They go into the plan's own folder, or into --out. Each file is written whole or not at all,
    and no other file is touched. Nothing is planned again: the same plan gives the same sheets.

    PLAN may be a scenario (a .toml file) that is not planned yet: then the sheets that need no
    plan are written, to measure, drill and look at, into sheets/NAME-OF-THE-SCENARIO or --out.
    """
    from lugwright.cli.answers.sheets import before, read_plan, write

    paper, notes = _paper(page, rulers, full_size), list[str]()
    if plan_path.suffix.lower() == ".toml":
        sheets = _without_plan(_asked(only), only)
        target = out or SHEETS_FOLDER / plan_path.stem
        written = write(target, lambda: before(plan_path, sheets, paper))
    else:
        sheets = _asked(only)
        shown, notes = read_plan(plan_path)
        target = out or _folder_of(plan_path)
        written = write(target, lambda: files_of(shown, sheets, paper))
    for note in notes:
        click.echo(f"note: {note}", err=True)
    if as_json:
        content = {
            "folder": target.as_posix(),
            "files": list(written),
            "page": paper.page,
            "notes": notes,
        }
        say(options.json_text("sheets", ANSWER_FORMAT, content))
    else:
        say("\n".join((target / name).as_posix() for name in written))


def _asked(only: tuple[str, ...]) -> tuple[Sheet, ...]:
    """The sheets asked for; all of them where none is named."""
    wanted = [name.strip() for text in only for name in text.split(",") if name.strip()]
    if only and not wanted:
        raise click.BadParameter("names no sheet", param_hint="--only")
    known = [sheet.name for sheet in SHEETS]
    for name in wanted:
        if name not in known:
            hint = near_or_all(name, known)
            raise click.BadParameter(f"no sheet {name!r}; {hint}", param_hint="--only")
    return sheets_named(wanted) if wanted else SHEETS


def _without_plan(sheets: tuple[Sheet, ...], only: tuple[str, ...]) -> tuple[Sheet, ...]:
    """Those that need no plan; a sheet that was named and needs one is refused."""
    free = tuple(sheet for sheet in SHEETS if not sheet.needs_plan)
    if not only:
        return free
    for sheet in sheets:
        if sheet.needs_plan:
            message = (
                f"the sheet {sheet.name!r} needs a plan: run `lugwright plan` first. Before that "
                f"there are: {', '.join(sheet.name for sheet in free)}"
            )
            raise click.BadParameter(message, param_hint="--only")
    return sheets


def _paper(page: str, rulers: tuple[str, str] | None, full_size: bool) -> Paper:
    """The paper, corrected by what its rulers measured."""
    if rulers is None:
        return Paper(page, full_size=full_size)
    across, up = (Fraction(RULER_MM) / _measured_mm(text) for text in rulers)
    return Paper(page, across, up, full_size)


def _measured_mm(text: str) -> Fraction:
    """A measured length in mm, written with a point."""
    bare = text.strip().removesuffix("mm").strip()
    digits = bare.replace(".", "", 1)
    if not (digits.isascii() and digits.isdigit()):
        message = f"{text!r} is not a length in mm such as 99.2"
        raise click.BadParameter(message, param_hint="--print-scale")
    measured = Fraction(bare)
    if not LEAST_MM <= measured <= MOST_MM:
        message = (
            f"a ruler of {RULER_MM} mm that measures {text} mm: the printer scales the page. "
            "Print at 100 % without fitting to the page, and measure again"
        )
        raise click.BadParameter(message, param_hint="--print-scale")
    return measured


def _folder_of(path: Path) -> Path:
    """The plan's own folder."""
    return path if path.is_dir() else path.parent
