"""The test sheet as a page: on paper, on a tablet, for people who cannot see it."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import html5lib
import pytest
from axe_playwright_python.sync_playwright import Axe
from support.made_plan import small_plan

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.test_sheet.csv_form import plan_mark
from lugwright.outputs.test_sheet.test_sheet_files import sheet_files
from lugwright.outputs.test_sheet.words import band_text
from lugwright.plans.schema import Plan
from lugwright.readings.bands import TOLERANCES
from lugwright.readings.lines import Line, sheet_of
from lugwright.readings.read_csv import read_readings

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

HOSTILE = "\"></title></style><script>alert(1)</script>&'=1+1\x07\u202e" + "w" * 200


def html_of(plan: Plan, paper: str = "A4") -> str:
    """The page of a plan."""
    return sheet_files(ShownPlan(plan), Paper(paper))["test-sheet.html"].decode()


def hostile_plan() -> Plan:
    """The small plan with a title and instruments named to do harm."""
    plan = small_plan(title=HOSTILE)
    dials = tuple(
        one.model_copy(update={"name": HOSTILE, "key_on": HOSTILE}) if n == 0 else one
        for n, one in enumerate(plan.panel.instruments)
    )
    return plan.model_copy(update={"panel": plan.panel.model_copy(update={"instruments": dials})})


def told_of(line: Line) -> list[str]:
    """The facts of a line that a reader must find."""
    return [line.id, line.at_words, band_text(line), *([line.what] if line.what else [])]


def squeezed(text: str) -> str:
    """Text without any white space: print breaks lines where it likes."""
    return re.sub(r"\s+", "", text)


def test_every_line_stands_on_the_page_with_its_band() -> None:
    """Strict HTML with every line, its band, every tolerance and what all sheets carry."""
    plan = small_plan()
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    text = " ".join("".join(parser.parse(html_of(plan)).find("body").itertext()).split())
    wanted = [fact for line in sheet_of(plan).lines for fact in told_of(line)]
    wanted += [plan.title, plan.rule_set, plan_digest(plan), *plan.cautions]
    wanted += [text for row in TOLERANCES for text in row]
    assert [fact for fact in wanted if fact not in text] == []


def test_no_torque_stands_on_the_page() -> None:
    """The instrument maker's torque governs; none is printed."""
    assert re.findall(r"\d\s*(?:N\s?m|in-?lb|ft-?lb)\b", html_of(small_plan())) == []


def test_a_hostile_name_stays_text() -> None:
    """Nothing of it becomes a tag or an attribute, and only our two scripts run."""
    html = html_of(hostile_plan())
    assert html.count("<script") == 1
    assert "<script>alert" not in html
    assert re.findall("[\x07\u202e]", html) == []


def test_the_same_plan_gives_the_same_bytes() -> None:
    """No clock, no chance."""
    one, other = (sheet_files(ShownPlan(small_plan()), Paper()) for _ in range(2))
    assert one == other


@pytest.fixture
def page(chromium: Browser, tmp_path: Path) -> Iterator[Page]:
    """The page of the small plan in a browser, at a tablet's width."""
    file = tmp_path / "test-sheet.html"
    file.write_text(html_of(small_plan()), encoding="utf-8")
    context = chromium.new_context(viewport={"width": 768, "height": 1024})
    opened = context.new_page()
    opened.goto(file.as_uri())
    yield opened
    context.close()


@pytest.mark.browser
@pytest.mark.parametrize("width", [360, 768, 794])
def test_no_sideways_scroll(chromium: Browser, tmp_path: Path, width: int) -> None:
    """Phone, tablet and A4 at 96 dpi, with a name 200 letters long."""
    file = tmp_path / "test-sheet.html"
    file.write_text(html_of(hostile_plan()), encoding="utf-8")
    opened = chromium.new_page(viewport={"width": width, "height": 900})
    opened.goto(file.as_uri())
    assert opened.evaluate("document.documentElement.scrollWidth") == width
    opened.close()


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_for_an_accessibility_check_to_find(page: Page, scheme: str) -> None:
    """By day and by night."""
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    found = Axe().run(page).response["violations"]
    assert [(one["id"], one["nodes"][0]["html"]) for one in found] == []


@pytest.mark.browser
def test_typed_readings_survive_a_reload_and_are_read_back(page: Page, tmp_path: Path) -> None:
    """What is typed on a tablet is kept, saved as CSV, and taken by ``readings``."""
    for name, text in {"volts 2": "12,40", "ohms 1": "OL", "seen 1": "no"}.items():
        page.locator(f'input[data-keep="{name}"]').fill(text)
    page.locator('input[data-keep="seen 1"]').blur()
    page.reload()
    assert page.locator('input[data-keep="volts 2"]').input_value() == "12,40"
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save the readings as CSV").click()
    saved = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(saved)
    assert saved.name == "test-readings.csv"
    plan = small_plan()
    found = read_readings(saved, sheet_of(plan).lines, plan_mark(plan_digest(plan)))
    assert (found["volts 2"].thousandths, found["ohms 1"].is_open) == (12400, True)
    assert not found["seen 1"].seen
    assert len(found) == 3


@pytest.mark.browser
def test_without_script_everything_is_there(chromium: Browser, tmp_path: Path) -> None:
    """Every line and its box; only the button that needs a script is hidden."""
    file = tmp_path / "test-sheet.html"
    file.write_text(html_of(small_plan()), encoding="utf-8")
    context = chromium.new_context(java_script_enabled=False)
    opened = context.new_page()
    opened.goto(file.as_uri())
    boxes = opened.locator("input.reading")
    assert boxes.count() == len(sheet_of(small_plan()).lines)
    assert not opened.locator("#save").is_visible()
    context.close()


@pytest.mark.browser
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_line_is_on_paper(chromium: Browser, tmp_path: Path, paper: str) -> None:
    """Printed, every fact of every line can be read, and nothing is asked of a network."""
    file = tmp_path / "test-sheet.html"
    file.write_text(html_of(small_plan(), paper), encoding="utf-8")
    opened = chromium.new_page()
    asked: list[str] = []
    opened.on("request", lambda request: asked.append(request.url))
    opened.goto(file.as_uri())
    printed = tmp_path / "sheet.pdf"
    opened.pdf(path=str(printed), prefer_css_page_size=True)
    opened.close()
    text = subprocess.run(
        ["pdftotext", "-layout", str(printed), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert asked == [file.as_uri()]
    wanted = [line.id for line in sheet_of(small_plan()).lines]
    wanted += [line.at_words for line in sheet_of(small_plan()).lines]
    assert [fact for fact in wanted if squeezed(fact) not in squeezed(text)] == []
