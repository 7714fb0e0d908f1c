"""Measuring sheets: they ask for what a scenario takes, and show what the file says."""

from __future__ import annotations

import io
from functools import cache

import pdfplumber
import pytest
from pdfplumber.page import Page
from support.made_plan import small_panel, small_plan

from lugwright.outputs.measuring import fields
from lugwright.outputs.measuring.dials import dials_of, known_body, known_place, known_post
from lugwright.outputs.measuring.measuring_sheet import (
    FILE,
    blank_measuring_sheet,
    measuring_sheet,
    sheet_files,
)
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.panel import Panel
from lugwright.scenario.pattern_schema import (
    LeadPart,
    LoadPart,
    PatternPart,
    PostPart,
    RingPart,
    ScrewPart,
)
from lugwright.scenario.schema import HarnessPart, HolePart, InstrumentPart, PanelPart, PigtailPart

PLAN = small_plan()
PANEL = PLAN.panel
MM = 72 / 25.4


@cache
def pages(page: str = "A4") -> tuple[Page, ...]:
    """The pages of the small plan's measuring sheet."""
    return opened(sheet_files(ShownPlan(PLAN), Paper(page))[FILE])


def opened(pdf: bytes) -> tuple[Page, ...]:
    """The pages of a PDF."""
    return tuple(pdfplumber.open(io.BytesIO(pdf)).pages)


def text_of(some: tuple[Page, ...]) -> str:
    """All text of some pages, white space made single."""
    return " ".join(" ".join((page.extract_text() or "").split()) for page in some)


def keys_of(asked: tuple[fields.Field, ...]) -> set[str]:
    """Keys of a scenario: ``at x`` and ``at y`` are both of ``at``."""
    return {field.key.split(" ")[0] for field in asked}


@pytest.mark.parametrize(
    ("asked", "part"),
    [
        (fields.BODY, PatternPart),
        (fields.RIM, PatternPart),
        (fields.SCREW, ScrewPart),
        (fields.LOAD, LoadPart),
        (fields.HOLE, HolePart),
        (fields.POST, PostPart),
        (fields.RING, RingPart),
        (fields.PLACE, InstrumentPart),
        (fields.PLATE, PanelPart),
    ],
)
def test_every_key_is_one_a_scenario_takes(
    asked: tuple[fields.Field, ...], part: type[PatternPart]
) -> None:
    """No box is headed by a key that no scenario knows."""
    assert keys_of(asked) <= set(part.model_fields)


def test_every_measure_of_a_harness_wire_is_one_a_scenario_takes() -> None:
    """Reach, size, colour and fuse are of the pigtail, entry and its height of the harness."""
    known = set(PigtailPart.model_fields) | set(HarnessPart.model_fields)
    assert {"reach", "entry", "wire_size", "fuse"} <= keys_of(fields.PIGTAIL) <= known


def test_every_measure_a_scenario_takes_is_asked_for() -> None:
    """Of a pattern only what no callipers tell is left out: words, currents, wishes."""
    words = {"about", "key_on", "hub_candidate", "posts", "loads", "screws"}
    device = {"positions", "lanyard", "ways", "carries_in", "ignition_protected"}
    asked = keys_of(fields.BODY) | keys_of(fields.RIM)
    assert asked == set(PatternPart.model_fields) - words - device
    assert keys_of(fields.SCREW) == set(ScrewPart.model_fields)
    assert keys_of(fields.HOLE) == set(HolePart.model_fields)
    known = {"link", "optional", "carries", "live"}
    assert keys_of(fields.POST) == set(PostPart.model_fields) - known
    assert keys_of(fields.RING) == set(RingPart.model_fields) - {"angle", "wires"}
    assert keys_of(fields.PLATE) == set(PanelPart.model_fields) - {"petrol_behind", "holes"}
    lead = next(field for field in fields.POST if field.key == "lead")
    assert {"wire_size", "colour"} <= set(LeadPart.model_fields)
    assert "wire_size" in lead.how and "colour" in lead.how


def test_dials_that_are_alike_share_a_page() -> None:
    """Three dials of one pattern, one of them with a tab more: each kind once, no dial lost."""
    dials = dials_of(PANEL)
    assert sorted(one.name for one in PANEL.instruments) == sorted(
        name for dial in dials for name in dial.names
    )
    assert len(dials) == 3  # depth has studs only, fuel a lamp tab, revs no lamp
    same = PANEL.instruments[0].model_copy(update={"name": "again", "x_dmm": 100})
    posts = [post for post in PANEL.posts if post.instrument == "depth"]
    moved = [post.model_copy(update={"instrument": "again", "x_dmm": 90}) for post in posts]
    more = PANEL.model_copy(
        update={"instruments": (*PANEL.instruments, same), "posts": (*PANEL.posts, *moved)}
    )
    assert dials_of(more)[0].names == ("depth", "again")


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_what_the_file_says_is_shown(page: str) -> None:
    """Every known measure of every dial stands on its page, and each key heads a box."""
    for dial in dials_of(PANEL):
        (found,) = [one for one in pages(page) if dial.title in (one.extract_text() or "")]
        said = text_of((found,))
        values = [known_body(dial.example), *(known_post(dial, post) for post in dial.posts)]
        for value in (value for known in values for value in known.values() if value):
            assert value in said
        for field in (*fields.BODY, *fields.POST):
            assert f"{field.key}: {field.how}." in said
    for one in PANEL.instruments:
        assert all(value in text_of(pages(page)[:2]) for value in known_place(PANEL, one).values())


def test_each_page_says_which_side_it_shows() -> None:
    """The plate is told from the front, every dial from the back."""
    sides = [
        ["plate from the FRONT" in text, "dials from the BACK" in text]
        for text in (text_of((page,)) for page in pages())
    ]
    front = sum(is_front for is_front, _ in sides)
    assert 0 < front < len(sides)
    assert sides == [*[[True, False]] * front, *[[False, True]] * (len(sides) - front)]


def test_centres_are_told_from_the_front() -> None:
    """The panel counts from the back; a sheet for the driller counts from the front."""
    first = PANEL.instruments[0]
    assert first.x_dmm == 700 and PANEL.width_dmm == 4000
    assert known_place(PANEL, first)["centre x"] == "330 mm"


def mark_places(page: Page) -> list[tuple[float, float]]:
    """Middles of the post marks on a dial's page, mm, y up: the small filled circles of studs."""
    return [
        ((c["x0"] + c["x1"]) / 2 / MM, -(c["top"] + c["bottom"]) / 2 / MM)
        for c in page.curves
        if c["fill"] and (c["x1"] - c["x0"]) / MM < 1
    ]


def test_posts_are_drawn_as_seen_from_the_back() -> None:
    """A mirrored dial is caught: the triangle of studs has the shape and sense of the panel's."""
    dial = dials_of(PANEL)[0]
    (page,) = [one for one in pages() if dial.title in (one.extract_text() or "")]
    drawn = mark_places(page)
    wanted = [dial.offset_dmm(post) for post in dial.posts]
    assert len(wanted) == len(drawn) == 3
    scale = (drawn[1][1] - drawn[0][1]) / (wanted[1][1] - wanted[0][1])
    assert scale > 0
    for (x, y), (x_dmm, y_dmm) in zip(drawn, wanted, strict=True):
        assert x - drawn[0][0] == pytest.approx(scale * (x_dmm - wanted[0][0]), abs=0.02)
        assert y - drawn[0][1] == pytest.approx(scale * (y_dmm - wanted[0][1]), abs=0.02)


def test_before_planning_the_sheet_says_so() -> None:
    """The same pages without a plan: title, cautions and rule set are there, no digest."""
    cautions = ("Disconnect the battery.",)
    pdf = measuring_sheet(small_panel(), "New boat", Paper(), cautions, "strict")
    said = text_of(opened(pdf))
    assert "New boat" in said and "Disconnect the battery." in said
    assert "not planned yet" in said and "rule set strict" in said
    assert len(opened(pdf)) == len(pages())


@pytest.mark.parametrize("count", [15, 16, 17])
def test_no_heading_is_left_alone_on_a_page(count: int) -> None:
    """However many dials there are, the rings' heading stands over a box to write in."""
    one = PANEL.instruments[0]
    dials = tuple(one.model_copy(update={"name": f"dial {n}"}) for n in range(count))
    panel = PANEL.model_copy(update={"instruments": dials, "posts": ()})
    for page in opened(measuring_sheet(panel, "Many", Paper(), ("Mind the fuel.",), "usual")):
        said = page.extract_text() or ""
        assert ("Rings already crimped" in said) == ("thickness of its flat part" in said)
        if "Rings already crimped" in said:
            assert "fuel sender: black" in said.partition("Rings already crimped")[2]


def test_a_blank_sheet_asks_for_everything() -> None:
    """Without any file all keys are there, with room for eight posts, and nothing filled in."""
    said = text_of(opened(blank_measuring_sheet(Paper("Letter"), ("Mind the fuel.",))))
    for field in (*fields.BODY, *fields.POST, *fields.RING):
        assert f"{field.key}: {field.how}." in said
    assert "Mind the fuel." in said and "dials from the BACK" in said


HOSTILE = ("<script>alert('x')</script>", '"=1+1" & <b>', "W" * 200, "bell \x07 and\ttab", "計器")


@pytest.mark.parametrize("name", HOSTILE)
def test_no_letter_leaves_the_page(name: str) -> None:
    """Whatever a dial and its posts are called, all letters stay inside the margins."""
    one = PANEL.instruments[0].model_copy(update={"name": name, "pattern": name})
    post = PANEL.posts[0].model_copy(
        update={"instrument": name, "name": name, "function": name, "thread": name}
    )
    panel = Panel.model_validate(
        PANEL.model_dump() | {"instruments": [one.model_dump()], "posts": [post.model_dump()]}
    )
    pdf = measuring_sheet(panel, name, Paper(), (), "usual")
    for page in opened(pdf):
        assert all(c["x0"] >= 8 * MM - 0.1 and c["x1"] <= page.width - 8 * MM + 0.1
                   for c in page.chars)  # fmt: skip


def test_same_plan_same_bytes() -> None:
    """The file holds no clock."""
    assert sheet_files(ShownPlan(PLAN), Paper()) == sheet_files(ShownPlan(small_plan()), Paper())
