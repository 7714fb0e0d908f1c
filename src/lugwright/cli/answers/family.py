"""What ``lugwright family`` writes and answers."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lugwright.base.scale import money_text
from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.table import table
from lugwright.outputs.folder import check_target, write_folder
from lugwright.outputs.one_file import check_one, put_one
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import currency, one_line
from lugwright.production.family import Family, shared_rows
from lugwright.production.family_file import FamilyFile


def write_folders(family: FamilyFile, found: Family, out: Path) -> tuple[str, ...]:
    """A plan folder for every variant, and the scenario of one with something left out."""
    texts = {
        out / variant.scenario.file: variant.scenario.text.encode()
        for variant in family.variants
        if variant.scenario.file == f"{variant.name}.toml"
    }
    fresh = {file: data for file, data in texts.items() if not _holds(file, data)}
    for member in found.members:
        check_target(out / member.name)
    for file in fresh if out.is_dir() else ():
        check_one(file, "--out", (), overwrite=False)
    for member in found.members:
        write_folder(ShownPlan(member.plan), out / member.name, tell=options.tell)
    for file, data in fresh.items():
        put_one(file, data, "--out", overwrite=False)
    return tuple(member.name for member in found.members)


def _holds(file: Path, data: bytes) -> bool:
    """Whether a file holds just that already."""
    return file.is_file() and file.read_bytes() == data


def as_data(found: Family, code: Exit, written: tuple[str, ...]) -> dict[str, Any]:
    """The family as data."""
    return {
        "exit": int(code),
        "ending": found.ending.value,
        "hub": found.hub,
        "cost_micro": found.cost_micro,
        "bound_micro": found.bound_micro,
        "distinct_jumpers": found.parts,
        "part_price_micro": found.part_micro,
        "alone_cost_micro": found.alone_micro,
        "alone_distinct_jumpers": found.alone_parts,
        "variants": [
            {
                "name": member.name,
                "boats": member.boats,
                "money_micro": member.money_micro,
                "alone_money_micro": member.alone_micro,
                "alone_hub": member.alone_hub,
                "jumpers": [piece.label for piece in member.plan.jumpers],
            }
            for member in found.members
        ],
        "folders": list(written),
    }


def as_lines(found: Family) -> list[str]:
    """The family in sentences and tables."""
    coin = currency(found.members[0].plan)
    best = (
        "proved: no common hub and jumpers cost less"
        if found.cost_micro == found.bound_micro
        else f"not proved; no family costs less than {money_text(found.bound_micro)}"
    )
    return [
        f"{one_line(found.title)}: hub {one_line(found.hub)}, {found.parts} distinct jumpers.",
        f"Cost of the mix {money_text(found.cost_micro)} {coin}; {best}.",
        f"Each variant by itself: {money_text(found.alone_micro)} {coin} with "
        f"{found.alone_parts} distinct jumpers.",
        *("", _variants(found)),
        *("", _parts(found)),
    ]


def _variants(found: Family) -> str:
    """The variants side by side, each as it is and as it would be by itself."""
    rows = [
        (
            member.name,
            str(member.boats),
            money_text(member.money_micro),
            money_text(member.alone_micro),
            one_line(member.alone_hub),
            str(len(member.plan.jumpers)),
        )
        for member in found.members
    ]
    head = ("variant", "boats", "money", "by itself", "hub by itself", "jumpers")
    return table(head, rows, right=(1, 2, 3, 5))


def _parts(found: Family) -> str:
    """The jumpers, and which variants share each."""
    rows = [
        (row.label, row.what, row.length, ", ".join(row.variants)) for row in shared_rows(found)
    ]
    return table(("part", "from, to and wire", "length mm", "in"), rows, right=(2,))
