"""A drawing in a page is the drawing of the file: looks as rules, nothing lost, nothing changed."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Iterator

import pytest
from support.made_plan import small_plan

from lugwright.outputs.drawing.small import small_blank
from lugwright.outputs.drawing.svg import Drawing
from lugwright.outputs.looks import Looks, plain
from lugwright.outputs.overview.bars import bars_drawn
from lugwright.outputs.overview.content import Bar, Bars
from lugwright.outputs.plot import Axes, PlotPoint, frontier_plot
from lugwright.outputs.sheets import files_of, sheets_named
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.svg_parts import Built

NASTY = '<b>&"x"\'</b>'
AXES = Axes(NASTY, "lugs", "wire, mm", str, str, True)
Told = tuple[str, dict[str, str], str]


def drawings() -> list[Drawing | Built]:
    """One of each kind, with words that must be escaped."""
    plan = small_plan(title=NASTY)
    drawn = ShownPlan(plan).drawn
    return [
        drawn.view, drawn.small, drawn.step(joints=[plan.stacks[0].post]),
        drawn.joints.of(plan.stacks[0].post), small_blank(plan.panel, NASTY, NASTY),
        frontier_plot([PlotPoint(2, 9, NASTY), PlotPoint(3, 8, "")], PlotPoint(4, 9, "eye"), AXES),
        bars_drawn(Bars(NASTY, (Bar(NASTY, 3, "3 mm"), Bar("b", -2, "")))),
    ]  # fmt: skip


def told(svg: str, rules: dict[str, dict[str, str]]) -> Iterator[Told]:
    """Every element in order: its name, its attributes and looks, its words."""
    for each in ET.fromstring(svg).iter():  # noqa: S314 (our own drawing)
        facts = {name: value for name, value in each.attrib.items() if name != "class"}
        facts |= rules[each.attrib["class"]] if "class" in each.attrib else {}
        tag = each.tag.rpartition("}")[2]
        if tag != "defs":
            yield tag, facts, (each.text or "").strip()


def rules_of(looks: Looks) -> dict[str, dict[str, str]]:
    """The rules read back: class to looks."""
    found = {}
    for line in looks.rules().splitlines():
        name, _, rest = line.removeprefix(".").removesuffix("}").partition("{")
        pairs = (each.partition(":") for each in rest.split(";"))
        found[name] = {look: value.removesuffix("px") for look, _, value in pairs}
    return found


def test_a_page_shows_what_the_file_shows() -> None:
    """Read by another parser: the same elements, attributes, looks and words."""
    looks = Looks()
    pictures = [(each.file(), each.in_page(looks.attributes)) for each in drawings()]
    rules = rules_of(looks)
    assert len(rules) > 10
    for file, inside in pictures:
        assert list(told(inside, rules)) == list(told(file, {}))
        assert "\n" not in inside
        assert "xmlns" not in inside


def test_without_a_page_each_element_keeps_its_looks() -> None:
    """Written plainly, nothing stands in a rule."""
    for each in drawings():
        inside = each.in_page(plain)
        assert "class=" not in inside
        assert list(told(inside, {})) == list(told(each.file(), {}))


def test_equal_looks_are_said_once() -> None:
    """Rules stand in the order in which they are met; a font's size gets its unit there."""
    looks = Looks()
    assert looks.attributes({"x": "1", "fill": "none", "stroke": "#fff"}) == ' x="1" class="k0"'
    assert looks.attributes({"fill": "none", "stroke": "#fff"}) == ' class="k0"'
    assert looks.attributes({"font-size": "3", "x": "1"}) == ' class="k1" x="1"'
    assert looks.attributes({"data-wire": "ground 1"}) == ' data-wire="ground 1"'
    assert looks.rules() == ".k0{fill:none;stroke:#fff}\n.k1{font-size:3px}\n"


@pytest.mark.parametrize("name", ["job", "stacks", "test"])
def test_every_class_of_a_page_has_its_rule(name: str) -> None:
    """A page's drawings use just the rules its head holds."""
    files = files_of(ShownPlan(small_plan()), sheets_named([name]))
    [page] = [data.decode() for file, data in files.items() if file.endswith(".html")]
    head, _, body = page.partition("</style>")
    used = {part.partition('"')[0] for part in body.split('class="k')[1:]}
    said = {line.partition("{")[0] for line in head.split("\n.k")[1:]}
    assert {each for each in used if each.isdigit()} == said
