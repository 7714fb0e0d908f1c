"""The job sheet in a real browser: lights, ticks, widths, no script, no network, no barrier."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from support.pages import HOSTILE, page_of, renamed, written
from support.plans import plan_of

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser
SKIFF = "sandbar-skiff"
WIRE = "ground 2"
# where a wire of a drawing can be touched: a point of its line, in the window
_TOUCH = """([wire, within]) => {
  const group = [...document.querySelectorAll(within + " svg [data-wire]")]
    .find((one) => one.dataset.wire === wire);
  const line = group.querySelector("path, polyline");
  line.scrollIntoView({block: "center"});
  const spot = line.getPointAtLength(line.getTotalLength() * 0.37);
  const place = new DOMPoint(spot.x, spot.y).matrixTransform(line.getScreenCTM());
  return [place.x, place.y];
}"""
# names of wires lit in tags and in drawings, numbers of lit cards
_LIT = """() => ({
  tags: [...new Set([...document.querySelectorAll("button.lit")].map((x) => x.dataset.wire))],
  drawn: [...new Set([...document.querySelectorAll("svg .lit")].map((x) => x.dataset.wire))],
  cards: [...document.querySelectorAll(".card.lit")].map((x) => x.id),
})"""
_CARDS = """(wire) => [...document.querySelectorAll(".card")].filter((card) =>
  [...card.querySelectorAll("[data-wire]")].some((x) => x.dataset.wire === wire)
).map((x) => x.id)"""


@pytest.fixture
def sheet(chromium: Browser, tmp_path: Path) -> Iterator[Page]:
    """The skiff's job sheet in a window of a tablet's size."""
    tab = chromium.new_page(viewport={"width": 820, "height": 1180})
    tab.goto(written(plan_of(SKIFF), tmp_path))
    yield tab
    tab.close()


def test_touching_a_tag_lights_the_wire_in_drawings_and_cards(sheet: Page) -> None:
    """From the cut list to everywhere; touched again it is put out."""
    tag = sheet.locator(f'#cut ~ table button[data-wire="{WIRE}"]')
    tag.click()
    lit = sheet.evaluate(_LIT)
    cards = sheet.evaluate(_CARDS, WIRE)
    assert lit == {"tags": [WIRE], "drawn": [WIRE], "cards": cards}
    assert len(cards) >= 4
    assert "ground 2: 16 AWG black (BK), 110 mm" in sheet.locator(".lit-bar").inner_text()
    tag.click()
    assert sheet.evaluate(_LIT) == {"tags": [], "drawn": [], "cards": []}
    assert sheet.locator(".lit-bar").is_hidden()


@pytest.mark.parametrize("within", [".whole", ".card"])
def test_touching_a_wire_in_a_drawing_lights_its_tags_and_cards(sheet: Page, within: str) -> None:
    """And back: a finger on the line itself, in the whole view or on a card."""
    wire = "ignition 2"
    sheet.mouse.click(*sheet.evaluate(_TOUCH, [wire, within]))
    lit = sheet.evaluate(_LIT)
    assert lit == {"tags": [wire], "drawn": [wire], "cards": sheet.evaluate(_CARDS, wire)}


def test_keyboard_focus_lights_and_escape_puts_out(sheet: Page) -> None:
    """The same without a pointer."""
    sheet.locator(f'.card button[data-wire="{WIRE}"]').first.focus()
    assert sheet.evaluate(_LIT)["drawn"] == [WIRE]
    sheet.keyboard.press("Escape")
    assert sheet.evaluate(_LIT)["drawn"] == []


def test_the_bar_leads_to_the_cards(sheet: Page) -> None:
    """Its links are the cards the wire is on, and they go there."""
    sheet.locator(f'#cut ~ table button[data-wire="{WIRE}"]').click()
    links = sheet.locator('.lit-bar a[href^="#card-"]')
    assert [f"card-{text}" for text in links.all_inner_texts()] == sheet.evaluate(_CARDS, WIRE)
    links.last.click()
    assert sheet.url.endswith("#" + sheet.evaluate(_CARDS, WIRE)[-1])


def test_ticks_survive_a_reload_and_are_ticked_together(sheet: Page) -> None:
    """A cut ticked in the list is ticked on its card; both are still so after a reload."""
    boxes = sheet.locator('input[aria-label^="cut: ground 2"], #cut ~ table input')
    assert boxes.count() == len(plan_of(SKIFF).jumpers)
    key = sheet.locator(f'tr[data-wire="{WIRE}"] input').get_attribute("data-keep")
    sheet.locator(f'tr[data-wire="{WIRE}"] input').check()
    same = sheet.locator(f'input[data-keep="{key}"]')
    for _ in range(2):
        assert same.evaluate_all("(all) => all.map((one) => one.checked)") == [True, True]
        assert sheet.locator('[role="status"]').inner_text().startswith("1 of ")
        sheet.reload()


def test_another_plan_has_its_own_ticks(sheet: Page, tmp_path: Path) -> None:
    """A changed plan starts with empty boxes: what was cut may be wrong now."""
    sheet.locator(f'tr[data-wire="{WIRE}"] input').check()
    other = plan_of(SKIFF).model_copy(update={"title": "Sandbar skiff, second"})
    sheet.goto(written(other, tmp_path))
    assert sheet.locator("input:checked").count() == 0


def test_where_nothing_can_be_kept_the_sheet_still_works(chromium: Browser, tmp_path: Path) -> None:
    """A tablet's preview may refuse storage: boxes tick, wires light, nothing fails."""
    tab = chromium.new_page()
    faults: list[str] = []
    tab.on("pageerror", lambda error: faults.append(str(error)))
    tab.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new Error('no'); }})"
    )
    tab.goto(written(plan_of(SKIFF), tmp_path))
    tab.locator(f'tr[data-wire="{WIRE}"] input').check()
    tab.locator(f'.card button[data-wire="{WIRE}"]').first.click()
    assert (tab.locator('[role="status"]').inner_text()[:5], tab.evaluate(_LIT)["drawn"]) == (
        "1 of ",
        [WIRE],
    )
    assert faults == []
    tab.close()


def test_without_script_every_fact_and_box_is_there(chromium: Browser, tmp_path: Path) -> None:
    """The same words with and without script, and a box to tick for every step."""
    address = written(plan_of(SKIFF), tmp_path)
    told = {}
    for script in (True, False):
        context = chromium.new_context(java_script_enabled=script)
        tab = context.new_page()
        tab.goto(address)
        status = tab.locator('[role="status"]').inner_text()
        told[script] = tab.locator("main").inner_text().replace(status, "", 1).split()
        keys = {one.get_attribute("data-keep") for one in tab.locator("input").all()}
        context.close()
    steps = [step for step in plan_of(SKIFF).steps if step.verb != "washer"]
    assert told[True] == told[False]
    assert keys == {f"step {step.number}" for step in steps}


def test_nothing_is_asked_of_the_network(chromium: Browser, tmp_path: Path) -> None:
    """The file itself is the only thing that is fetched, and no policy is broken."""
    tab = chromium.new_page()
    asked: list[str] = []
    said: list[str] = []
    tab.on("request", lambda request: asked.append(request.url))
    tab.on("console", lambda message: said.append(message.text))
    address = written(plan_of(SKIFF), tmp_path)
    tab.goto(address)
    tab.locator(f'.card button[data-wire="{WIRE}"]').first.click()
    tab.wait_for_load_state("networkidle")
    assert (asked, said) == ([address], [])
    tab.close()


def test_a_hostile_name_runs_nothing(chromium: Browser, tmp_path: Path) -> None:
    """Wires of a dial with a hostile name light like any other; no dialogue opens."""
    tab = chromium.new_page()
    opened: list[str] = []
    tab.on("dialog", lambda dialog: opened.append(dialog.message))
    tab.goto(written(renamed(plan_of(SKIFF), "fuel", HOSTILE), tmp_path))
    wire = f"{HOSTILE} sender: pink"
    tab.locator("button.wire").filter(has_text="sender: pink").first.click()
    assert (tab.evaluate(_LIT)["tags"], opened) == ([" ".join(wire.split())], [])
    tab.close()


@pytest.mark.parametrize("scheme", ["light", pytest.param("dark", marks=pytest.mark.slow)])
def test_no_accessibility_finding(chromium: Browser, tmp_path: Path, scheme: str) -> None:
    """axe finds nothing to mend by day, nor in the colours by night, with a wire lit."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    tab = chromium.new_page(color_scheme=scheme)  # type: ignore[arg-type]
    tab.goto(written(plan_of(SKIFF), tmp_path))
    tab.locator(f'.card button[data-wire="{WIRE}"]').first.click()
    rules = None if scheme == "light" else {"runOnly": ["cat.color"]}
    found = axe.Axe().run(tab, options=rules).response["violations"]
    assert [(x["id"], x["nodes"][0]["html"][:120]) for x in found] == []
    tab.close()


# phone, tablet, desk, and A4 and Letter between their margins (96 px an inch)
WIDTHS = ((360, "screen"), (768, "screen"), (1280, "screen"), (703, "print"), (725, "print"))


@pytest.mark.parametrize("name", ["fuel", HOSTILE])
def test_nothing_scrolls_sideways(chromium: Browser, tmp_path: Path, name: str) -> None:
    """At no width, on screen or on paper, however long a name is."""
    tab = chromium.new_page()
    tab.goto(written(renamed(plan_of(SKIFF), "fuel", name), tmp_path))
    found = []
    for width, media in WIDTHS:
        tab.set_viewport_size({"width": width, "height": 900})
        tab.emulate_media(media=media)  # type: ignore[arg-type]
        if tab.evaluate("document.documentElement.scrollWidth") > width:
            found.append((width, media))
    assert found == []
    tab.close()


def test_what_is_touched_is_large_enough(chromium: Browser, tmp_path: Path) -> None:
    """Boxes, tags and links are 44 px high for a gloved or greasy finger (WCAG 2.2, 2.5.5)."""
    tab = chromium.new_page(viewport={"width": 360, "height": 800})
    tab.goto(written(plan_of(SKIFF), tmp_path))
    low = tab.evaluate(
        "[...document.querySelectorAll('label.box, button, nav a')].filter((one) => "
        "one.getClientRects().length && one.getBoundingClientRect().height < 44)"
        ".map((one) => one.outerHTML)"
    )
    assert low == []
    assert page_of(plan_of(SKIFF)).count('class="box"') > 50
    tab.close()
