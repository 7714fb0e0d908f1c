"""``lugwright limits``: the limits in force, each with where it comes from."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.talk import say

if TYPE_CHECKING:
    from lugwright.limits.explain import LimitRow


@click.command("limits", short_help="Show the limits in force and where they come from.")
@options.optional_scenario_argument
@options.limits_options
@click.option(
    "--name",
    "names",
    multiple=True,
    metavar="TEXT",
    help="Only limits with TEXT in their name or group. May be repeated.",
)
@click.option("--schema", is_flag=True, help="Print the layout of a limits file as JSON Schema.")
@options.json_option
@click.pass_context
@options.ends_well
def command(
    ctx: click.Context,
    /,
    *,
    scenario: Path | None,
    limits_file: Path | None,
    rule_set: str | None,
    settings: tuple[str, ...],
    names: tuple[str, ...],
    schema: bool,
    as_json: bool,
) -> None:
    """Show the limits in force, for SCENARIO or in general.

    Each has its value, where that was set (file and line), its published source, and what it
    took the place of. From the weakest to the strongest: built-in rule set, limits file,
    the scenario's own [limits], --set. A limits file may hold limits against all that comes
    after it; what asks for more is left out, told with its reason, and the call ends with 2.
    """
    from lugwright.base.toml import read_toml
    from lugwright.cli.answers.limits import as_page, in_force, json_of
    from lugwright.limits.explain import limit_rows, limits_json_schema

    if schema:
        say(options.json_document(limits_json_schema()))
        return
    file = read_toml(scenario) if scenario is not None else None
    limits, refused = in_force(file, limits_file, rule_set, settings)
    rows = [row for row in limit_rows(limits) if _wanted(row, names)]
    if as_json:
        say(json_of(limits, rows, refused))
    else:
        say(as_page(limits, rows))
        if refused:
            options.tell_faults(refused, as_json=False)
    ctx.exit(Exit.BAD_INPUT if refused else Exit.DONE)


def _wanted(row: LimitRow, names: tuple[str, ...]) -> bool:
    return not names or any(name.lower() in (f"{row.group} {row.name}") for name in names)
