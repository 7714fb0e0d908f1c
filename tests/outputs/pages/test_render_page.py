"""The frame of every page: what it carries, what it escapes, what it lets run."""

from __future__ import annotations

import re

import html5lib
import pytest
from support.made_plan import small_plan

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.pages.inline import css_text
from lugwright.outputs.pages.render import _environment, render_page
from lugwright.outputs.paper_size import PAGES_DMM, Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import program_text
from lugwright.plans.schema import Plan, WaiverUsed

HOSTILE = "\"></title></style><script>alert(1)</script>&'=1+1\x07\u202e" + "w" * 200
FRAME = "pages/base.html.j2"


def page(plan: Plan, paper: str = "A4", scripts: tuple[str, ...] = ()) -> str:
    """The bare frame of a plan."""
    shown, side = ShownPlan(plan), "seen from the back"
    return render_page(shown, Paper(paper), FRAME, {}, sheet="Trial", side=side, scripts=scripts)


def text_of(html: str) -> str:
    """All text of a page that the strict parser accepts, white space made single."""
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)
    return " ".join("".join(tree.find("body").itertext()).split())


def test_the_frame_carries_what_every_sheet_must() -> None:
    """Title, side, cautions, rule set, digest, who made it."""
    plan = small_plan()
    text = text_of(page(plan))
    facts = (plan.title, "seen from the back", plan.rule_set, plan_digest(plan), program_text(plan))
    assert [fact for fact in (*facts, *plan.cautions) if fact not in text] == []


def test_waivers_stand_in_the_frame_where_there_are_any() -> None:
    """A waiver with its place, reason, initials and date; no heading where there is none."""
    waiver = WaiverUsed(
        limit="lugs_per_stud",
        place="fuel.ground",
        value="5",
        reason="longer stud fitted",
        initials="AB",
        date="2026-03-01",
        origin="skiff.toml:12",
    )
    told = text_of(page(small_plan(waivers=(waiver,))))
    assert [x for x in waiver.model_dump().values() if x not in told] == []
    assert "waived" not in text_of(page(small_plan()))


@pytest.mark.parametrize("paper", sorted(PAGES_DMM))
def test_the_printed_page_has_the_size_of_the_paper(paper: str) -> None:
    """``@page`` names the paper in millimetres."""
    wide, high = (x / 10 for x in PAGES_DMM[paper])
    assert f"size: {wide}mm {high}mm;" in page(small_plan(), paper)


def test_a_hostile_title_stays_text() -> None:
    """It ends no attribute, no style and no title, and no control character comes through."""
    html = page(small_plan(title=HOSTILE))
    assert html.count("<script") == 0
    assert html.count("</style>") == html.count("</title>") == 1
    assert "<script>alert(1)</script>" in text_of(html)
    assert re.findall("[\x07\u202e]", html) == []


def test_only_our_script_may_run() -> None:
    """The policy names the script by its hash and allows nothing else from anywhere."""
    without, with_keep = page(small_plan()), page(small_plan(), scripts=("pages/keep.js",))
    assert "default-src &#39;none&#39;" in without
    assert "script-src &#39;none&#39;" in without
    assert re.search(r"script-src &#39;sha256-[A-Za-z0-9+/=]+&#39;;", with_keep) is not None
    assert re.findall(r"\b(?:src|href)=", with_keep) == []


def test_same_bytes_twice() -> None:
    """One plan, one page."""
    assert page(small_plan()) == page(small_plan())


def test_css_text_cannot_leave_its_string() -> None:
    """Quotes, backslashes, angle brackets and line ends become code points."""
    assert css_text('a"\\</style>\n9') == '"a\\22 \\5c \\3c \\2f style\\3e \\20 9"'


def test_only_a_drawing_goes_in_unescaped() -> None:
    """A text in the place of a drawing is refused, whatever it says."""
    page = _environment().from_string("{{ drawing|picture }}")
    with pytest.raises(AttributeError, match="in_page"):
        page.render(drawing="<svg></svg>")
