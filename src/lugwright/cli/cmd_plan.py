"""``lugwright plan``: plan a console, check the plan, write its folder."""

from __future__ import annotations

import time
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from lugwright.base import stop
from lugwright.cli import options
from lugwright.cli.exits import Exit, exit_for
from lugwright.cli.progress_line import telling
from lugwright.cli.talk import clean_line, say
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.words import one_line
from lugwright.plans.outcome import Ending, Outcome, Reason

if TYPE_CHECKING:
    from lugwright.outputs.shown import ShownPlan
    from lugwright.pipeline import Run
    from lugwright.studies.schema import WhyNot

ANSWER_FORMAT = 1
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
    from lugwright.outputs.folder import check_target

    target = out or PLANS_FOLDER / scenario.stem
    check_target(target)
    inputs = pipeline.read_inputs(
        scenario,
        limits_file,
        stock_folder,
        rule_set,
        options.with_objective(settings, objective),
    )
    inputs = pipeline.holding(inputs, holds)
    held = {"hub": inputs.holds.hub} if inputs.holds.hub else {}
    started, why = time.monotonic(), None
    with stop.keeping():
        with telling(quiet=quiet) as listener:
            run = pipeline.make_plan(inputs, time_limit_s=seconds, progress=listener)
            impossible = run.outcome.ending is Ending.IMPOSSIBLE and not run.outcome.interrupted
            if impossible and not no_why:
                with stop.raised():
                    why = pipeline.why_no_plan(
                        inputs, time_limit_s=_left(seconds, started), progress=listener
                    )
        paper = Paper(page, full_size=full_size)
        code = _conclude(run, target, paper, held, why, as_json=as_json, quiet=quiet)
    ctx.exit(code)


def _left(seconds: float | None, started: float) -> float:
    """Seconds for the reason why no plan exists: what is left of the time given, if it was."""
    return WHY_SECONDS if seconds is None else max(0.0, seconds - time.monotonic() + started)


def _conclude(
    run: Run,
    target: Path,
    paper: Paper,
    held: Mapping[str, str],
    why: WhyNot | None,
    *,
    as_json: bool,
    quiet: bool,
) -> Exit:
    """Write the folder, print the answer, and say how it ended.

    A plan that was never checked must not leave the program: that is a fault of ours
    (RuntimeError). One the checker rejects is not written either.
    """
    if run.plan is not None and run.report is None:
        raise RuntimeError("a plan came without its check")
    rejected = run.report is not None and not run.report.passed
    shown = None if rejected else _shown(run)
    written = _write(shown, target, paper) if shown else ()
    stopped = run.outcome.interrupted or stop.asked()
    code = exit_for(run.outcome.ending, interrupted=stopped, rejected=rejected)
    if as_json:
        say(options.json_text("plan", ANSWER_FORMAT, _answer(run, code, target, written, why)))
    elif shown:
        say(shown.build_list)
    _tell_end(run, target, written, held, why, code, quiet=quiet)
    if why is not None:
        from lugwright.studies.words import why_lines

        for line in why_lines(why):
            click.echo(clean_line(line), err=True)
    return code


def _shown(run: Run) -> ShownPlan | None:
    """The plan as sheets and terminal show it; None where there is none."""
    from lugwright.outputs.shown import ShownPlan

    return ShownPlan(run.plan) if run.plan else None


def _write(shown: ShownPlan, target: Path, paper: Paper) -> tuple[str, ...]:
    """Write the plan's folder, its sheets for that paper; the names of its files."""
    from lugwright.outputs.folder import write_folder

    written = write_folder(shown, target, paper, options.tell)
    stop.tell(f"interrupted; the plan is in {one_line(target.as_posix())}")
    return written


def _answer(
    run: Run, code: Exit, target: Path, written: tuple[str, ...], why: WhyNot | None
) -> dict[str, Any]:
    """The answer as data. ``plan`` is null when there is none, or none that passed its check."""
    return {
        "ending": run.outcome.ending.value,
        "exit": int(code),
        "interrupted": code is Exit.INTERRUPTED,
        "note": run.outcome.note,
        "reasons": [vars(reason) for reason in run.outcome.reasons],
        "why_not": None if why is None else _why_data(why),
        "findings": [vars(finding) for finding in run.report.findings] if run.report else [],
        "notes": list(run.report.notes) if run.report else [],
        "folder": target.as_posix() if written else None,
        "files": list(written),
        "plan": run.plan.model_dump(mode="json") if written and run.plan else None,
    }


def _why_data(why: WhyNot) -> dict[str, Any]:
    from lugwright.studies.words import why_data

    return why_data(why)


def _tell_end(
    run: Run,
    target: Path,
    written: tuple[str, ...],
    held: Mapping[str, str],
    why: WhyNot | None,
    code: Exit,
    *,
    quiet: bool,
) -> None:
    """The end of the story on standard error; bad news even when quiet."""
    outcome = run.outcome
    if code is Exit.REJECTED and run.report is not None:
        click.echo("The checker rejects this plan; it was not written:", err=True)
        for finding in run.report.findings:
            click.echo(f"  {one_line(str(finding))}", err=True)
        return
    if run.plan is None:
        for line in _no_plan_lines(outcome, held, why):
            click.echo(line, err=True)
    if outcome.note and (run.plan is None or not quiet):
        click.echo(one_line(outcome.note), err=True)
    for note in run.report.notes if run.report else ():
        click.echo(one_line(note), err=True)
    if code is Exit.INTERRUPTED:
        for line in _stopped_lines(outcome, target, written):
            click.echo(line, err=True)
    if written and not quiet:
        checks = run.report.checks if run.report else 0
        click.echo(
            f"{outcome.ending.value}; passed {checks} checks; "
            f"{len(written)} files in {target.as_posix()}",
            err=True,
        )


def _stopped_lines(outcome: Outcome, target: Path, written: tuple[str, ...]) -> list[str]:
    """What was kept of a search that was stopped, and what a folder lacks for it."""
    from lugwright.outputs.folder import NAMES

    if not written:
        return ["Interrupted before there was a plan; nothing was written."]
    proved = outcome.ending is Ending.PROVED
    kind = "the plan, proved best" if proved else "the best plan so far, not proved best"
    place = one_line(target.as_posix())
    lines = [f"Interrupted; {place} holds {kind}."]
    if not NAMES.issubset(written):
        lines.append(f"Not all sheets were made: `lugwright sheets {place}` makes them.")
    return lines


def _no_plan_lines(outcome: Outcome, held: Mapping[str, str], why: WhyNot | None) -> list[str]:
    """Why there is no plan: faults that stand whatever is chosen, or what was tried.

    Reasons stand each by itself. Without one the search itself has found that no choice will do.
    Where ``why`` goes on to explain everything, the faults are left to it: none is told twice.
    """
    words = f"{outcome.ending.value[0].upper()}{outcome.ending.value[1:]}"
    if outcome.ending is not Ending.IMPOSSIBLE:
        return [f"{words}."]
    if outcome.reasons and why is not None and why.complete:
        left = [reason for reason in outcome.reasons if reason not in why.missing]
        return [f"{words}.", *map(_reason_line, left if why.missing else ())]
    if outcome.reasons:
        lead = f"{words}. Whatever is chosen, this stands in the way:"
        return [lead, *map(_reason_line, outcome.reasons)]
    tried = f"{held['hub']} was tried as the hub" if "hub" in held else "every hub was tried"
    return [f"{words}: {tried}, and a second, different solve agrees."]


def _reason_line(reason: Reason) -> str:
    """One thing that stands in the way, with its numbers."""
    numbers = ", ".join(
        f"{word} {value}"
        for word, value in (("wanted", reason.measured), ("allowed", reason.limit))
        if value
    )
    return "  " + one_line(f"{reason}{f' ({numbers})' if numbers else ''}")
