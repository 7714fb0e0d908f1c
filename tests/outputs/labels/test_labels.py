"""Wire labels: what is printed on each, where, and that nothing leaves its label."""

from __future__ import annotations

import csv
import io
from functools import cache

import pdfplumber
import pytest
import segno
from pdfplumber.page import Page
from support.made_plan import jumper, small_plan

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.labels import tag, wrap
from lugwright.outputs.labels.fitting import LEAST_MM, fitted
from lugwright.outputs.labels.label_sheet import CSV_FILE, PDF_FILE, sheet_files
from lugwright.outputs.labels.label_text import wire_labels
from lugwright.outputs.paper.fonts import BOLD, text_width
from lugwright.outputs.paper.frame import page_area
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan

PLAN = small_plan()
MM = 72 / 25.4
NEAR = 0.02  # mm; a PDF rounds to a thousandth of a point or so


@cache
def pages_of(page: str) -> list[Page]:
    """The pages of the small plan's label sheet."""
    return pages(PLAN, page)


def pages(plan: Plan, page: str = "A4") -> list[Page]:
    """The pages of a plan's label sheet."""
    return pdfplumber.open(io.BytesIO(sheet_files(ShownPlan(plan), Paper(page))[PDF_FILE])).pages


def cell(index: int, size: tuple[float, float], page: str) -> tuple[int, float, float]:
    """Page (0 the first of its kind), left and top edge in mm of one label of a grid."""
    area = page_area(Paper(page))
    columns = int((area.width + 1) // (size[0] + 1))
    rows = int((area.height + 1) // (size[1] + 1))
    sheet, place = divmod(index, columns * rows)
    row, column = divmod(place, columns)
    height = Paper(page).height_dmm / 10
    return sheet, area.x + column * (size[0] + 1), height - area.top + row * (size[1] + 1)


def words_in(page: Page, x: float, top: float, wide: float, high: float) -> list[str]:
    """Lines of text whose letters lie in a box given in mm from the page's upper left corner."""
    box = page.crop((x * MM, top * MM, (x + wide) * MM, (top + high) * MM))
    return [line for line in (box.extract_text() or "").splitlines() if line.strip()]


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_each_end_has_its_label(page: str) -> None:
    """Name three times, route whole and details in the printed zone; the tail is blank."""
    labels = wire_labels(PLAN, plan_digest(PLAN))
    for index, label in enumerate(labels):
        sheet, x, top = cell(index, (wrap.WIDTH_MM, wrap.HEIGHT_MM), page)
        found = pages_of(page)[1 + sheet]
        name = f"{label.wire}-{label.end}".strip("-")
        route = label.note or "→".join(j for j in (label.from_joint, label.to_joint) if j)
        said = words_in(found, x, top, wrap.WIDTH_MM, wrap.ZONE_MM)
        lines = [name, route, name, label.details, name, route]
        if said[2].startswith("→"):  # a route too long for one line
            here, there = route.split("→")
            lines = [name, here, f"→{there}", name, label.details, name]
        assert [line.replace(" ", "") for line in lines] == [line.replace(" ", "") for line in said]
        tail = words_in(found, x, top + wrap.ZONE_MM, wrap.WIDTH_MM, wrap.TAIL_MM)
        assert tail == []


def test_labels_are_those_of_the_plan() -> None:
    """Both ends of every piece, the panel end of every given wire, every capped pigtail."""
    labels = wire_labels(PLAN, plan_digest(PLAN))
    expected = [(piece.label, end) for piece in PLAN.jumpers for end in "ab"]
    expected += [(given.wire, "") for given in PLAN.given]
    expected += [(f"pigtail {cap.pigtail}", "") for cap in PLAN.caps]
    assert expected == [(label.wire, label.end) for label in labels]
    by_end = {(label.wire, label.end): label for label in labels}
    for piece in PLAN.jumpers:
        assert piece.from_joint == by_end[piece.label, "a"].here
        assert piece.to_joint == by_end[piece.label, "b"].here
        assert f"{piece.length_dmm / 10:g}" == by_end[piece.label, "a"].length_mm
    assert by_end["pigtail trim sender", ""].note == "LIVE, capped off"


def test_this_ends_joint_is_in_bold() -> None:
    """Of the two joints of a route the one this end goes to is set in bold."""
    labels = wire_labels(PLAN, plan_digest(PLAN))
    index = [(label.wire, label.end) for label in labels].index(("ground 1", "b"))
    sheet, x, top = cell(index, (wrap.WIDTH_MM, wrap.HEIGHT_MM), "A4")
    crop = pages_of("A4")[1 + sheet].crop(
        (x * MM, (top + 2.4) * MM, (x + wrap.WIDTH_MM) * MM, (top + 4.5) * MM)
    )
    bold = "".join(
        char["text"]
        for char in crop.chars
        if "Bold" in char["fontname"] and char["size"] < 1.8 * MM
    )
    assert bold.strip() == "fuel.ground"


def test_the_zone_goes_round_the_wire_it_is_said_to_fit() -> None:
    """Circumference of the thickest wire stated is no more than the printed zone."""
    assert 3.1416 * wrap.FITS_MM <= wrap.ZONE_MM < 3.1416 * (wrap.FITS_MM + 0.1)


def test_the_code_says_wire_and_plan() -> None:
    """Each tag's dark boxes are the modules of the QR code of its wire and the plan's digest."""
    both = wire_labels(PLAN, plan_digest(PLAN))
    labels = [label for label in both if label.end != "b"]
    first = 1 + cell(len(both) - 1, (wrap.WIDTH_MM, wrap.HEIGHT_MM), "A4")[0] + 1
    for index, label in enumerate(labels):
        sheet, x, top = cell(index, (tag.WIDTH_MM, tag.HEIGHT_MM), "A4")
        page = pages_of("A4")[first + sheet]
        wanted = segno.make(
            f"{label.wire} #{plan_digest(PLAN)}", error="m", micro=False, boost_error=False
        )
        expected = [[bool(module) for module in row] for row in wanted.matrix]
        assert expected == modules_in(page, x, top, len(expected))
        said = words_in(page, x + 17, top, tag.WIDTH_MM - 17, tag.HEIGHT_MM)
        assert [label.wire, label.details] == said[:2]


def modules_in(page: Page, x: float, top: float, count: int) -> list[list[bool]]:
    """Which modules of a tag's code are dark: read from the middle of each."""
    module = 17.0 / (count + 8)
    boxes = [
        (r["x0"] / MM, r["x1"] / MM, r["top"] / MM, r["bottom"] / MM)
        for r in page.rects
        if r["fill"] and x - NEAR <= r["x0"] / MM <= x + 18 and top <= r["top"] / MM <= top + 18
    ]
    found = []
    for row in range(count):
        y = top + 0.5 + (row + 4.5) * module
        middles = [x + 0.5 + (column + 4.5) * module for column in range(count)]
        found.append(
            [any(x0 < m < x1 and y0 < y < y1 for x0, x1, y0, y1 in boxes) for m in middles]
        )
    return found


def test_csv_holds_every_fact_and_no_formula() -> None:
    """One row for each label; what a spreadsheet would compute is quoted."""
    plan = small_plan(jumpers=(jumper("ground 1", "=1+1", "fuel.ground", 2050),))
    text = sheet_files(ShownPlan(plan), Paper())[CSV_FILE].decode()
    rows = list(csv.DictReader(io.StringIO(text)))
    assert [row["from_joint"] for row in rows[:2]] == ["'=1+1", "'=1+1"]
    labels = wire_labels(plan, plan_digest(plan))
    assert [label.code for label in labels] == [row["code"] for row in rows]


HOSTILE = ("<script>alert('x')</script>", '"=1+1" & <b>', "W" * 200, "bell \x07 and\ttab", "計器")


@pytest.mark.parametrize("name", HOSTILE)
def test_no_letter_leaves_its_label(name: str) -> None:
    """Whatever the names, every letter lies inside a label, and numbers are never lost."""
    piece = jumper("ground 12", f"{name}.ground", f"{name}.other", 2050)
    long = piece.model_copy(update={"label": f"{name} 12", "circuit": name})
    plan = small_plan(jumpers=(long,), given=(), caps=())
    page = pages(plan)[1]
    _, x, top = cell(0, (wrap.WIDTH_MM, wrap.HEIGHT_MM), "A4")
    _, other_x, _ = cell(1, (wrap.WIDTH_MM, wrap.HEIGHT_MM), "A4")
    inside = [
        any(left <= char["x0"] / MM and char["x1"] / MM <= left + wrap.WIDTH_MM
            for left in (x, other_x))
        for char in page.chars
        if top <= char["top"] / MM <= top + wrap.ZONE_MM
    ]  # fmt: skip
    assert inside and all(inside)
    first, second = (
        words_in(page, left, top, wrap.WIDTH_MM, wrap.ZONE_MM)[0] for left in (x, other_x)
    )
    assert first.endswith("12-a") and second.endswith("12-b")


def test_letters_the_face_lacks_are_told() -> None:
    """A name in other letters is never printed as if it were whole."""
    plan = small_plan(jumpers=(jumper("ground 1", "計器.ground", "fuel.ground", 2050),))
    assert "stands for a letter the printed face lacks" in pages(plan)[0].extract_text()
    assert "lacks" not in pages_of("A4")[0].extract_text()


def test_text_is_set_smaller_before_it_is_shortened() -> None:
    """A line fits at any length; letters shrink to the least size, then the tail is kept."""
    wide = fitted("fuel.ground", 1.9, 100.0)
    assert (wide.text, wide.size) == ("fuel.ground", 1.9)
    small = fitted("m" * 20, 1.9, 28.0, BOLD, keep=" 3-a")
    assert LEAST_MM <= small.size < 1.9 and small.text.endswith("m 3-a")
    short = fitted("m" * 200, 1.9, 28.0, BOLD, keep=" 3-a")
    assert short.size == LEAST_MM and short.text.endswith("… 3-a")
    for one in (small, short):
        assert text_width(one.text, one.size, BOLD) <= 28.0


def test_same_plan_same_bytes() -> None:
    """Neither file holds a clock."""
    assert sheet_files(ShownPlan(PLAN), Paper()) == sheet_files(ShownPlan(small_plan()), Paper())


def test_a_name_comes_in_two_parts() -> None:
    """Of a cut piece number and end, of a boat wire its colour, are kept whatever is cut."""
    names = {label.name for label in wire_labels(PLAN, plan_digest(PLAN))}
    assert ("ground", " 1-a") in names
    assert ("fuel sender", ": black") in names
    assert ("pigtail ground", "") in names
    assert {"".join(parts) for parts in names} >= {"ignition 3-b", "fuel sender: black"}
