"""An overview as text, workbook and page: the same facts and rows in each."""

import io
import xml.etree.ElementTree as ET
from dataclasses import dataclass

import html5lib
import openpyxl

from lugwright.outputs.overview.bars import bars_drawn
from lugwright.outputs.overview.book import overview_book
from lugwright.outputs.overview.content import Bar, Bars, Fact, Overview, Part
from lugwright.outputs.overview.page import overview_page
from lugwright.outputs.overview.text import overview_data, overview_text
from lugwright.outputs.paper_size import Paper

HOSTILE = '"><script>alert(1)</script>=1+1 &amp;\x1b[2J'
CLEAN = '"><script>alert(1)</script>=1+1 &amp; [2J'


@dataclass(frozen=True)
class Row:
    """A row of a test."""

    model: str
    wire_mm: str
    remark: str


OVERVIEW = Overview(
    title=f"Boats {HOSTILE}",
    facts=(Fact("models", f"2 {HOSTILE}"),),
    parts=(
        Part("models", "Every model", Row, (Row(HOSTILE, "1.5", "dear"), Row("b", "-2", "")),
             ("model", "wire_mm")),
        Part("none", "Nothing", Row, ()),
        Part("more", "Only on file", Row, (Row("c", "3", "hidden"),), told=False),
    ),
    drawings=(Bars("Money", (Bar(HOSTILE, 10, "10"), Bar("b", -5, "-5"), Bar("c", 0, "0"))),),
)  # fmt: skip


def test_the_terminal_shows_what_is_brief() -> None:
    """Facts, the brief columns of told tables, and what is empty; no control characters."""
    text = overview_text(OVERVIEW)
    assert "\x1b" not in text
    assert "wire, mm" in text and "remark" not in text
    assert "== Nothing: none ==" in text
    assert "Only on file" not in text
    assert max(map(len, text.splitlines())) <= 100


def test_the_workbook_has_every_row_as_text_or_number() -> None:
    """Numbers are numbers; nothing of the user's can run."""
    book = openpyxl.load_workbook(io.BytesIO(overview_book(OVERVIEW, Paper())))
    assert book.sheetnames == ["front", "models", "none", "more"]
    assert [cell.value for cell in book["models"][2]] == [CLEAN, 1.5, "dear"]
    assert book["more"]["A2"].value == "c"
    every = [cell.data_type for sheet in book for line in sheet.iter_rows() for cell in line]
    assert set(every) <= {"s", "n"}
    assert overview_book(OVERVIEW, Paper()) == overview_book(OVERVIEW, Paper())


def test_the_page_is_whole_and_nothing_in_it_runs() -> None:
    """Valid to a strict reader; one title, every row, no script, no outside address."""
    page = overview_page(OVERVIEW, Paper())
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    tree = parser.parse(page)
    assert next(node.text for node in tree.iter("title")) == f"Boats {CLEAN}"
    assert list(tree.iter("script")) == []
    cells = [node.text for node in [*tree.iter("td"), *tree.iter("th")]]
    assert {CLEAN, "1.5", "b", "-2.0", "c", "3", "hidden"} <= set(cells)
    assert "http" not in page.replace("http-equiv", "").replace("http://www.w3.org/2000/svg", "")


def test_data_holds_all_of_it() -> None:
    """Facts by name and every row of every table."""
    data = overview_data(OVERVIEW)
    assert data["tables"]["models"][1] == {"model": "b", "wire_mm": "-2", "remark": ""}
    assert data["facts"] == {"models": f"2 {HOSTILE}"}


def test_bars_are_as_long_as_their_numbers() -> None:
    """From the line of nought to either side, in one scale; the number stands beside its bar."""
    svg = ET.fromstring(bars_drawn(OVERVIEW.drawings[0]).file())  # noqa: S314 (our own drawing)
    boxes = [
        (int(box.get("x", "")), int(box.get("width", "")))
        for box in svg.iter()
        if box.tag.endswith("rect")
    ]
    zero = boxes[0][0]
    assert boxes[1][0] + boxes[1][1] == zero == boxes[2][0]
    assert abs(boxes[0][1] - 2 * boxes[1][1]) <= 2  # whole points
    assert boxes[2][1] == 0
    words = [node.text for node in svg.iter() if node.tag.endswith("text")]
    assert {"10", "-5", "0"} <= set(words)


def test_no_bars_at_all_is_a_drawing_still() -> None:
    """Nothing changed: nothing to draw, and no fault."""
    assert ET.fromstring(bars_drawn(Bars("Money", ())).file()).tag.endswith("svg")  # noqa: S314
