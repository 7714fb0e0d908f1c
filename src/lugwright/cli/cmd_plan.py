"""``lugwright plan``: plan a console, check the plan, write its folder."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.base import stop
from lugwright.cli import options
from lugwright.cli.progress_line import telling
from lugwright.outputs.paper_size import Paper
from lugwright.plans.outcome import Ending

if TYPE_CHECKING:
    pass

WHY_SECONDS = 30.0
PLANS_FOLDER = Path("plans")


@click.command("plan", short_help="Plan a console, check the plan, write its folder.")
@options.scenario_argument
@options.out_option
@options.limits_options
@options.stock_option
@options.objective_option
@options.hold_option
@options.time_option
@options.page_option
@options.full_size_option
@click.option(
    "--no-why",
    is_flag=True,
    help=f"Where no plan exists, do not search for the reason (up to {WHY_SECONDS:.0f} seconds, "
    "or what is left of --time).",
)
@options.json_option
@click.option("--quiet", "-q", is_flag=True, help="Say nothing of how the search goes.")
@click.pass_context
@options.ends_well
def command(
    ctx: click.Context,
    /,
    *,
    scenario: Path,
    out: Path | None,
    limits_file: Path | None,
    rule_set: str | None,
    settings: tuple[str, ...],
    stock_folder: Path | None,
    objective: str | None,
    holds: tuple[tuple[str, str], ...],
    seconds: float | None,
    page: str,
    full_size: bool,
    no_why: bool,
    as_json: bool,
    quiet: bool,
) -> None:
    """Plan the console of SCENARIO, check the plan and write its folder.

    The build list goes to standard output, talk of the search to standard error. Without --out
    the folder is plans/NAME-OF-THE-SCENARIO under the folder you stand in; a plan folder that
    stands there is replaced, any other folder is left alone and refused.
    """
    from lugwright import pipeline
    from lugwright.cli.answers.plan import conclude
    from lugwright.outputs.folder import check_target

    target = out or PLANS_FOLDER / scenario.stem
    check_target(target)
    brief = pipeline.read_inputs(
        scenario,
        limits_file,
        stock_folder,
        rule_set,
        options.with_objective(settings, objective),
    )
    brief = pipeline.holding(brief, holds)
    held = {"hub": brief.holds.hub} if brief.holds.hub else {}
    started, why = time.monotonic(), None
    with stop.keeping():
        with telling(quiet=quiet) as listener:
            run = pipeline.make_plan(brief, time_limit_s=seconds, progress=listener)
            impossible = run.outcome.ending is Ending.IMPOSSIBLE and not run.outcome.interrupted
            if impossible and not no_why:
                with stop.raised():
                    why = pipeline.why_no_plan(
                        brief, time_limit_s=_left(seconds, started), progress=listener
                    )
        paper = Paper(page, full_size=full_size)
        code = conclude(run, target, paper, held, why, as_json=as_json, quiet=quiet)
    ctx.exit(code)


def _left(seconds: float | None, started: float) -> float:
    """Seconds for the reason why no plan exists: what is left of the time given, if it was."""
    return WHY_SECONDS if seconds is None else max(0.0, seconds - time.monotonic() + started)
