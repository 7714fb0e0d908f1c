"""``lugwright limits``: the limits in force, each with where it comes from."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

import click

from lugwright.base.toml import read_toml
from lugwright.cli import options
from lugwright.cli.talk import say
from lugwright.limits.explain import LimitRow, limit_rows, limits_json_schema
from lugwright.limits.load import load_limits
from lugwright.limits.schema import Limits

ANSWER_FORMAT = 1


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
@options.ends_well
def command(
    scenario: Path | None,
    limits_file: Path | None,
    practice: str | None,
    settings: tuple[str, ...],
    names: tuple[str, ...],
    schema: bool,
    as_json: bool,
) -> None:
    """Show the limits in force, for SCENARIO or in general.

    Each has its value, where that was set (file and line), its published source, and what it
    took the place of. From the weakest to the strongest: built-in practice, limits file,
    the scenario's own [limits], --set.
    """
    if schema:
        say(options.json_document(limits_json_schema()))
        return
    file = read_toml(scenario) if scenario is not None else None
    limits, _ = load_limits(file, limits_file, practice, settings)
    rows = [row for row in limit_rows(limits) if _wanted(row, names)]
    say(_answer(limits, rows) if as_json else _page(limits, rows))


def _wanted(row: LimitRow, names: tuple[str, ...]) -> bool:
    return not names or any(name.lower() in (f"{row.group} {row.name}") for name in names)


def _answer(limits: Limits, rows: list[LimitRow]) -> str:
    """The rows as data, with the practice they stand on."""
    content = {
        "practice": limits.practice,
        "practice_from": limits.origin("practice"),
        "limits": [vars(row) for row in rows],
    }
    return options.json_text("limits", ANSWER_FORMAT, content)


def _page(limits: Limits, rows: list[LimitRow]) -> str:
    """One table per group of limits."""
    parts = [f"practice: {limits.practice} ({limits.origin('practice')})"]
    for group, members in groupby(rows, key=lambda row: row.group):
        parts.append(_group_table(group, list(members)))
    return "\n\n".join(parts)


def _group_table(group: str, rows: list[LimitRow]) -> str:
    """One group; the column of what was replaced only where something was."""
    from lugwright.cli.table import table

    head = [group, "value", "from", "source"]
    lines = [[row.name, row.value, row.origin, row.source] for row in rows]
    if any(row.replaced for row in rows):
        head.insert(3, "instead of")
        for line, row in zip(lines, rows, strict=True):
            line.insert(3, row.replaced)
    return table(head, lines)
