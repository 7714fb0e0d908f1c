"""What ``lugwright plan`` writes and answers, and the end of the story."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from lugwright.base import stop
from lugwright.cli import options
from lugwright.cli.exits import Exit, exit_for
from lugwright.cli.talk import clean_line, say
from lugwright.outputs.folder import NAMES, write_folder
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import one_line
from lugwright.pipeline import Run
from lugwright.plans.outcome import Ending, Outcome, Reason
from lugwright.studies.schema import WhyNot
from lugwright.studies.words import why_data, why_lines

ANSWER_FORMAT = 1


def conclude(
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
    shown = ShownPlan(run.plan) if run.plan and not rejected else None
    written = _write(shown, target, paper) if shown else ()
    stopped = run.outcome.interrupted or stop.asked()
    code = exit_for(run.outcome.ending, interrupted=stopped, rejected=rejected)
    if as_json:
        say(options.json_text("plan", ANSWER_FORMAT, _answer(run, code, target, written, why)))
    elif shown:
        say(shown.build_list)
    _tell_end(run, target, written, held, why, code, quiet=quiet)
    if why is not None:
        for line in why_lines(why):
            click.echo(clean_line(line), err=True)
    return code


def _write(shown: ShownPlan, target: Path, paper: Paper) -> tuple[str, ...]:
    """Write the plan's folder, its sheets for that paper; the names of its files."""
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
        "why_not": None if why is None else why_data(why),
        "findings": [vars(finding) for finding in run.report.findings] if run.report else [],
        "notes": list(run.report.notes) if run.report else [],
        "folder": target.as_posix() if written else None,
        "files": list(written),
        "plan": run.plan.model_dump(mode="json") if written and run.plan else None,
    }


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
