"""``lugwright limits``: the limits in force, each with where it comes from."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.base.errors import Complaint
from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.talk import say

if TYPE_CHECKING:
    from lugwright.base.toml import TomlFile
    from lugwright.limits.explain import LimitRow
    from lugwright.limits.schema import Limits

ANSWER_FORMAT = 1

Settings = tuple[str, ...]


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
    from lugwright.limits.explain import limit_rows, limits_json_schema

    if schema:
        say(options.json_document(limits_json_schema()))
        return
    file = read_toml(scenario) if scenario is not None else None
    limits, refused = _in_force(file, limits_file, rule_set, settings)
    rows = [row for row in limit_rows(limits) if _wanted(row, names)]
    if as_json:
        say(_answer(limits, rows, refused))
    else:
        say(_page(limits, rows))
        if refused:
            options.tell_faults(refused, as_json=False)
    ctx.exit(Exit.BAD_INPUT if refused else Exit.DONE)


def _in_force(
    scenario: TomlFile | None, limits_file: Path | None, rule_set: str | None, settings: Settings
) -> tuple[Limits, tuple[Complaint, ...]]:
    """The limits in force, and what the shop refused: that much is left out of them."""
    from lugwright.limits.load import load_limits
    from lugwright.limits.refused import LoosenedTooFar

    try:
        return load_limits(scenario, limits_file, rule_set, settings)[0], ()
    except LoosenedTooFar as too_far:
        return too_far.limits, too_far.complaints


def _wanted(row: LimitRow, names: tuple[str, ...]) -> bool:
    return not names or any(name.lower() in (f"{row.group} {row.name}") for name in names)


def _answer(limits: Limits, rows: list[LimitRow], refused: tuple[Complaint, ...]) -> str:
    """The rows as data, with the rule set they stand on."""
    from lugwright.limits.explain import waiver_rows

    content = {
        "rule_set": limits.rule_set,
        "rule_set_from": limits.origin("rule_set"),
        "limits": [vars(row) for row in rows],
        "waivers": [vars(row) for row in waiver_rows(limits)],
        "refused": [vars(one) for one in refused],
    }
    return options.json_text("limits", ANSWER_FORMAT, content)


def _page(limits: Limits, rows: list[LimitRow]) -> str:
    """One table per group of limits."""
    parts = [f"rule_set: {limits.rule_set} ({limits.origin('rule_set')})"]
    for group, members in groupby(rows, key=lambda row: row.group):
        parts.append(_group_table(group, list(members)))
    if limits.waivers:
        parts.append(_waiver_table(limits))
    return "\n\n".join(parts)


def _group_table(group: str, rows: list[LimitRow]) -> str:
    """One group; what was replaced and what the shop holds only where there is something."""
    from lugwright.cli.table import table

    columns = [
        (group, [row.name for row in rows]),
        ("value", [row.value for row in rows]),
        ("from", [row.origin for row in rows]),
        ("instead of", [row.replaced for row in rows]),
        ("the shop", [row.shop for row in rows]),
        ("source", [row.source for row in rows]),
    ]
    shown = [one for one in columns if any(one[1]) or one[0] not in ("instead of", "the shop")]
    lines = zip(*(cells for _, cells in shown), strict=True)
    return table([head for head, _ in shown], [list(line) for line in lines])


def _waiver_table(limits: Limits) -> str:
    """What is loosened for one place each, on the record."""
    from lugwright.cli.table import table
    from lugwright.limits.explain import waiver_rows

    head = ["waivers", "place", "value", "instead of", "reason", "by", "date", "from"]
    return table(head, [list(vars(row).values()) for row in waiver_rows(limits)])
