"""What is told to developers: rules cited where they stand, files that are there, rooms as held."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from test_house import MAY_IMPORT

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "lugwright"
RULES = (SOURCE / "trade" / "RULES.md").read_text(encoding="utf-8")
PROOF = (SOURCE / "model" / "PROOF.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
ROWS = [
    [cell.strip() for cell in line.strip("|").split("|")]
    for line in RULES.splitlines()
    if re.match(r"\| R\d", line)
]


def named(cell: str) -> list[str]:
    """What stands between backquotes, blocks of code left out."""
    return re.findall(r"`([^`]+)`", re.sub(r"^```.*?^```$", "", cell, flags=re.M | re.S))


def test_every_rule_has_a_row_and_every_row_a_rule() -> None:
    """In one order, each once; all are posed and checked."""
    told = re.findall(r"^- \*\*(R\d+a?)\.\*\*", RULES, re.M)
    assert len(told) >= 34
    assert [row[0] for row in ROWS] == told
    assert [row[0] for row in ROWS if not (named(row[2]) and named(row[3]))] == []


@pytest.mark.parametrize("row", ROWS, ids=[row[0] for row in ROWS])
def test_a_rule_is_cited_where_it_stands(row: list[str]) -> None:
    """By its number, in every file that poses, checks or tries it; its tests are there."""
    files = [SOURCE / name for name in named(row[2]) + named(row[3])]
    files += [ROOT / "tests" / "brute" / name for name in named(row[4])]
    cited = re.compile(rf"\b[Rr]ules? (?:R\d+a?, )*{row[0]}\b")
    assert [str(path) for path in files if not cited.search(path.read_text("utf-8"))] == []
    tests = named(row[5])
    assert tests
    assert [name for name in tests if len(list((ROOT / "tests").rglob(f"{name}.py"))) != 1] == []


def test_no_citation_leads_nowhere() -> None:
    """Every rule that code cites is one of the page's."""
    known = {row[0] for row in ROWS}
    cited = {
        rule
        for folder in (SOURCE, ROOT / "tests" / "brute")
        for path in folder.rglob("*.py")
        for run in re.findall(r"\b[Rr]ules? ((?:R\d+a?(?:, )?)+)", path.read_text("utf-8"))
        for rule in re.findall(r"R\d+a?", run)
    }
    assert len(cited) >= 34
    assert cited <= known


@pytest.mark.parametrize("text", [PROOF, DEVELOPERS], ids=["PROOF", "DEVELOPERS"])
def test_files_named_are_there(text: str) -> None:
    """From this room, from the source, or from the top; tests also by their name alone."""
    names = [one for one in named(text) if re.fullmatch(r"[\w./]+\.(py|md|json|j2)", one)]
    assert len(names) > 15
    places = (SOURCE / "model", SOURCE, ROOT)
    assert [
        name
        for name in names
        if not any((place / name).exists() for place in places)
        and not list((ROOT / "tests").rglob(name))
        and name not in ("RULES.md", "plan.json", "guide/NAME.md")
    ] == []
    links = re.findall(r"\]\(([^)]+)\)", text)
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_the_rooms_told_are_the_rooms_held() -> None:
    """Each with the rooms it may import, and the page is short."""
    rows = re.findall(r"^\| `(\w+)` \| [^|]+ \| ([^|]+) \|$", DEVELOPERS, re.M)
    told = {room: set(re.findall(r"\w+", cell)) for room, cell in rows}
    assert told == MAY_IMPORT
    assert len(DEVELOPERS.encode()) <= 8 * 1024
