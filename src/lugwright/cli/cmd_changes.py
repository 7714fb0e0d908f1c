"""``lugwright changes``: what differs between two revisions of a plan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.talk import clean_line, say

if TYPE_CHECKING:
    from lugwright.production.revisions import Changes

ANSWER_FORMAT = 1
_PLAN = click.Path(exists=True, readable=True, path_type=Path)


@click.command("changes", short_help="Say what changed between two plans, and what to rework.")
@click.argument("old", type=_PLAN, metavar="OLD")
@click.argument("new", type=_PLAN, metavar="NEW")
@options.json_option
@click.pass_context
@options.ends_well
def command(ctx: click.Context, /, *, old: Path, new: Path, as_json: bool) -> None:
    """Compare the plan folder (or plan.json) OLD with NEW.

    Jumpers are compared by what they are, not by their numbers. After the differences come, in
    working order, the things that bring a harness built to OLD up to NEW.
    """
    from lugwright.outputs.plan_json import read_unedited
    from lugwright.production.revisions import changes_between

    after = read_unedited(new)
    found = changes_between(read_unedited(old), after)
    if as_json:
        say(options.json_text("changes", ANSWER_FORMAT, asdict(found)))
    else:
        cautions = ("Before any work:", *after.cautions, "")
        say("\n".join(map(clean_line, (*cautions, *_lines(found)))))
    ctx.exit(Exit.DONE)


def _lines(found: Changes) -> Iterator[str]:
    yield from (f"note: {warning}" for warning in found.warnings)
    if found.none:
        yield f"Nothing has changed; {found.same_jumpers} jumpers are the same."
        return
    for change in found.changes:
        place = f" {change.place}" if change.place else ""
        yield f"{change.part}{place}: {change.kind}"
        if change.before:
            yield f"  was  {change.before}"
        if change.after:
            yield f"  now  {change.after}"
    yield f"{found.same_jumpers} jumpers are the same."
    if found.work:
        yield ""
        yield "To bring a harness built to the old plan up to the new one:"
        yield from (f"  {number}. {text}" for number, text in enumerate(found.work, 1))
