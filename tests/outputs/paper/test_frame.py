"""The frame of printed sheets: what stands on every page, whatever a plan calls itself."""

from __future__ import annotations

import io

import pdfplumber
import pytest
from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.paper.cautions import cautions_height, cautions_pages, draw_cautions
from lugwright.outputs.paper.fonts import NO_GLYPH, writable
from lugwright.outputs.paper.frame import Area, Head, Page, page_area, page_mm, sheet_pdf
from lugwright.outputs.paper.lettering import clipped, wrapped_to
from lugwright.outputs.paper_size import Paper

MM = 72 / 25.4
HOSTILE = '<script>alert("x")</script> & =1+1 \x1b[2J\u202e \U0001f6a4 ' + "w" * 200
CAUTIONS = tuple(f"Caution number {n}: " + "keep clear of it. " * 6 for n in range(1, 120))
HEAD = Head("Sandbar skiff", "Drill template", "usual", "0123456789ab", CAUTIONS[:3])


def nothing(canvas: Canvas, area: Area) -> None:
    """A page with nothing of its own."""


def texts(pdf: bytes) -> list[str]:
    """The text of every page."""
    with pdfplumber.open(io.BytesIO(pdf)) as file:
        return [page.extract_text() for page in file.pages]


def test_a_file_says_what_it_is_and_names_nobody() -> None:
    """Title and subject are the plan's and the sheet's; no author, machine or clock slips in."""
    with pdfplumber.open(io.BytesIO(sheet_pdf(HEAD, Paper(), [Page(nothing)]))) as file:
        said = {key: value for key, value in file.metadata.items() if "Date" not in key}
    assert said.pop("Trapped", "False")
    assert said == {
        "Title": "Sandbar skiff: Drill template",
        "Subject": "Drill template, plan 0123456789ab",
        "Author": "Lugwright",
        "Creator": "Lugwright",
        "Producer": "Lugwright",
        "Keywords": "",
    }


@pytest.mark.parametrize(("page", "size"), [("A4", (210, 297)), ("Letter", (215.9, 279.4))])
def test_pages_have_the_size_of_the_paper(page: str, size: tuple[float, float]) -> None:
    """ISO 216 A4 and 8.5 × 11 in, upright and lying."""
    pages = [Page(nothing), Page(nothing, landscape=True)]
    with pdfplumber.open(io.BytesIO(sheet_pdf(HEAD, Paper(page), pages))) as file:
        upright, lying = file.pages
        assert (upright.width / MM, upright.height / MM) == pytest.approx(size, abs=0.01)
        assert (lying.width / MM, lying.height / MM) == pytest.approx(size[::-1], abs=0.01)


def test_every_page_says_what_it_is() -> None:
    """Title, sheet, side, note, rule set, digest and page n of m, on each page."""
    pages = [Page(nothing, side="seen from the FRONT", note=f"tile {n}") for n in (1, 2)]
    for number, text in enumerate(texts(sheet_pdf(HEAD, Paper(), pages)), start=1):
        for words in (
            *("Sandbar skiff", "Drill template: seen from the FRONT", f"tile {number}"),
            *("plan 0123456789ab", "rule set usual", f"page {number} of 2", "Cautions: see page 1"),
        ):
            assert words in text


def test_same_input_same_bytes_and_only_shipped_faces() -> None:
    """No clock, no random identifier; every face is embedded; the reader is asked not to scale."""
    first, second = (sheet_pdf(HEAD, Paper(), [Page(nothing)]) for _ in range(2))
    assert first == second
    assert b"Helvetica" not in first
    assert b"/PrintScaling /None" in first


def test_hostile_title_stays_inside_the_page() -> None:
    """Long, broken and strange text moves nothing off the paper and hides no page number."""
    head = Head(HOSTILE, "Build board", HOSTILE, "0123456789ab", CAUTIONS, (HOSTILE,))
    pages = [Page(nothing, note=HOSTILE), *cautions_pages(head, Paper())]
    with pdfplumber.open(io.BytesIO(sheet_pdf(head, Paper(), pages))) as file:
        for number, page in enumerate(file.pages, start=1):
            assert f"page {number} of {len(pages)}" in page.extract_text()
            assert all(char["x0"] > 0 and char["x1"] < page.width for char in page.chars)
            assert all(char["top"] > 0 and char["bottom"] < page.height for char in page.chars)


@pytest.mark.parametrize("landscape", [False, True])
def test_no_caution_is_left_out(landscape: bool) -> None:
    """However many cautions and waivers there are, all stand on the pages, in order."""
    waivers = ("Waived: lugs_per_stud at fuel.ground, 5.",)
    head = Head("T", "S", "usual", "", CAUTIONS, waivers)
    pages = cautions_pages(head, Paper(), landscape)
    assert len(pages) > 1
    found = " ".join(" ".join(texts(sheet_pdf(head, Paper(), pages))).split())
    for number in range(1, len(CAUTIONS) + 1):
        assert f"Caution number {number}:" in found
    assert waivers[0] in found
    assert "not planned yet" in found


def test_a_block_that_does_not_fit_is_refused() -> None:
    """Cautions are never cut short to save room."""
    height = cautions_height(HEAD, 100)
    canvas = Canvas(io.BytesIO())
    left = draw_cautions(canvas, HEAD, Area(0, 0, 100, height))
    assert left == pytest.approx(0, abs=1e-9)
    with pytest.raises(ValueError, match="do not fit"):
        draw_cautions(canvas, HEAD, Area(0, 0, 100, height - 1))


def test_the_frame_leaves_the_pages_own_area_alone() -> None:
    """No letter of the frame stands inside the area a page may draw in."""
    area = page_area(Paper())
    height = page_mm(Paper())[1]
    with pdfplumber.open(io.BytesIO(sheet_pdf(HEAD, Paper(), [Page(nothing, note="n")]))) as file:
        for char in file.pages[0].chars:
            low, high = height - char["bottom"] / MM, height - char["top"] / MM
            assert high <= area.y or low >= area.top


def test_text_is_cut_or_wrapped_to_its_box() -> None:
    """Shortening and wrapping keep to the width; wrapping loses nothing."""
    assert clipped("fuel", 3, 50) == "fuel"
    assert clipped("w" * 100, 3, 30).endswith("…")
    lines = wrapped_to(f"one two {'w' * 80} three", 3, 30)
    assert len(lines) > 2
    assert "".join(lines).replace(" ", "") == f"onetwo{'w' * 80}three"


def test_a_character_without_a_glyph_is_marked() -> None:
    """A box nobody can read is not printed in silence: the mark stands for it."""
    assert writable("é → ✓ ⌀") == "é → ✓ ⌀"
    assert writable("a\U0001f6a4") == f"a{NO_GLYPH}"
