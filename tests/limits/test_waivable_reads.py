"""Whoever judges by a limit that can be waived asks for its value at the place."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import lugwright
from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.waivable import MINIMUM_AREA, WAIVABLE

SOURCE = Path(lugwright.__file__).parent
ROOMS = ("problem", "model", "checker", "assemble", "routes")
FIELDS = {SPEC_BY_NAME[name].field for name in WAIVABLE} - {"minimum_size"} | {MINIMUM_AREA}
# read as it counts everywhere, and rightly so
EVERYWHERE = {
    ("problem/judged_paths.py", "ground_shift_mv"),  # whether it is judged at all
    ("checker/network.py", "ground_shift_mv"),
}


def plain_reads(path: Path) -> Iterator[tuple[str, str]]:
    """File and field of every ``limits.field`` in a file."""
    name = path.relative_to(SOURCE).as_posix()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Attribute) and node.attr in FIELDS:
            owner = ast.unparse(node.value)
            if owner == "limits" or owner.endswith(".limits"):
                yield name, node.attr


@pytest.mark.parametrize("room", ROOMS)
def test_no_room_reads_past_a_waiver(room: str) -> None:
    """A waiver counts in the model, in the checker and in what is printed, or in none of them."""
    found = {read for path in sorted((SOURCE / room).rglob("*.py")) for read in plain_reads(path)}
    assert found - EVERYWHERE == set()


def test_the_exceptions_are_still_there() -> None:
    """A list of exceptions that nothing needs hides the next one."""
    found = {
        read for room in ROOMS for p in (SOURCE / room).rglob("*.py") for read in plain_reads(p)
    }
    assert found == EVERYWHERE
