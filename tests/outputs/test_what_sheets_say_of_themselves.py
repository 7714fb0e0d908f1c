"""Every sheet of a plan folder: what it is called, and nothing of what the search ran on."""

from __future__ import annotations

import io
import re
import zipfile
from functools import cache

import pdfplumber
import pytest
from support.plans import plan_of

from lugwright.outputs.sheets import SHEET_FILES, files_of
from lugwright.outputs.shown import ShownPlan

# The words of plan.json's own line on how a plan was searched for.
SEARCH = re.compile(r"ortools|cp-sat|highs|solver|worker a solve|\bseed\b", re.IGNORECASE)


@cache
def written() -> dict[str, bytes]:
    """Every sheet of the skiff's plan."""
    return files_of(ShownPlan(plan_of("sandbar-skiff")))


def said(name: str) -> str:
    """All the text of a file, its properties included."""
    data = written()[name]
    if name.endswith(".pdf"):
        with pdfplumber.open(io.BytesIO(data)) as pdf:
            return " ".join([*(page.extract_text() for page in pdf.pages), str(pdf.metadata)])
    if name.endswith(".xlsx"):
        with zipfile.ZipFile(io.BytesIO(data)) as book:
            return " ".join(book.read(part).decode() for part in book.namelist())
    return data.decode()


@pytest.mark.parametrize("name", sorted(SHEET_FILES))
def test_no_sheet_names_what_searched(name: str) -> None:
    """Solver and seed are for ``plan.json``: they say nothing to whoever builds."""
    assert "solve, seed" in plan_of("sandbar-skiff").made_with
    assert [found[0] for found in SEARCH.finditer(said(name))] == []


@pytest.mark.parametrize("name", sorted(n for n in SHEET_FILES if n.endswith(".pdf")))
def test_every_pdf_has_a_title_and_no_stranger_as_author(name: str) -> None:
    """The plan's title stands in the file's own; author and creator are the program."""
    with pdfplumber.open(io.BytesIO(written()[name])) as pdf:
        facts = pdf.metadata
    assert facts["Title"].startswith(f"{plan_of('sandbar-skiff').title}: ")
    assert {facts[key] for key in ("Author", "Creator", "Producer")} == {"Lugwright"}
    assert "anonymous" not in str(facts).lower()
