"""Sources say which text a value stands in and how sure it is, in one set of words."""

from __future__ import annotations

import csv
import re
from importlib.resources import files
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = Path(str(files("lugwright")))
TABLES = sorted(
    (
        *PACKAGE.glob("electrics/tables/*.csv"),
        *PACKAGE.glob("stock/tables/*.csv"),
        ROOT / "tests/published/conflicts.csv",
    )
)
TEXTS = sorted([*TABLES, *PACKAGE.rglob("*.toml"), *(ROOT / "tests/published").glob("*.py")])
# Where a text was come by is no part of a source: a text was read, or the source is secondary.
WAYS = re.compile(
    r"forum|magazine|\barticle|reprint|preview|lesson page|public (copy|copies|posts?|list)|"
    r"data sheet|maker's (table|page)|trade pages|summar(y|ies)|chandler|boat owner",
    re.IGNORECASE,
)


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.name)
def test_no_source_tells_how_it_was_come_by(path: Path) -> None:
    """``secondary source``, ``from memory`` or ``common practice, no source`` say all there is."""
    assert [found[0] for found in WAYS.finditer(path.read_text("utf-8"))] == []


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.name)
def test_every_row_has_every_column(path: Path) -> None:
    """A comma in a source never makes another column."""
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    assert {len(row) for row in rows} == {len(rows[0])}
