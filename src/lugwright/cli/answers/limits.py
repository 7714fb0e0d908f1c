"""What ``lugwright limits`` answers: the limits in force, as data and as tables."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

from lugwright.base.errors import Complaint
from lugwright.base.toml import TomlFile
from lugwright.cli import options
from lugwright.cli.table import table
from lugwright.limits.explain import LimitRow, waiver_rows
from lugwright.limits.load import load_limits
from lugwright.limits.refused import LoosenedTooFar
from lugwright.limits.schema import Limits

ANSWER_FORMAT = 1
Settings = tuple[str, ...]


def in_force(
    scenario: TomlFile | None, limits_file: Path | None, rule_set: str | None, settings: Settings
) -> tuple[Limits, tuple[Complaint, ...]]:
    """The limits in force, and what the shop refused: that much is left out of them."""
    try:
        return load_limits(scenario, limits_file, rule_set, settings)[0], ()
    except LoosenedTooFar as too_far:
        return too_far.limits, too_far.complaints


def json_of(limits: Limits, rows: list[LimitRow], refused: tuple[Complaint, ...]) -> str:
    """The rows as data, with the rule set they stand on."""
    content = {
        "rule_set": limits.rule_set,
        "rule_set_from": limits.origin("rule_set"),
        "limits": [vars(row) for row in rows],
        "waivers": [vars(row) for row in waiver_rows(limits)],
        "refused": [vars(one) for one in refused],
    }
    return options.json_text("limits", ANSWER_FORMAT, content)


def as_page(limits: Limits, rows: list[LimitRow]) -> str:
    """One table per group of limits."""
    parts = [f"rule_set: {limits.rule_set} ({limits.origin('rule_set')})"]
    for group, members in groupby(rows, key=lambda row: row.group):
        parts.append(_group_table(group, list(members)))
    if limits.waivers:
        parts.append(_waiver_table(limits))
    return "\n\n".join(parts)


def _group_table(group: str, rows: list[LimitRow]) -> str:
    """One group; what was replaced and what the shop holds only where there is something."""
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
    head = ["waivers", "place", "value", "instead of", "reason", "by", "date", "from"]
    return table(head, [list(vars(row).values()) for row in waiver_rows(limits)])
