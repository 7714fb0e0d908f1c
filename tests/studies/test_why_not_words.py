"""The words of an explanation, on made-up answers."""

import pytest

from lugwright.studies.question import Verdict
from lugwright.studies.schema import Conflict, Finding, Member, Way, WhyNot
from lugwright.studies.words import why_lines

LUGS = Member(
    name="lugs_per_stud",
    kind="limit",
    value="4",
    origin="limits file, shop.toml:4",
    findings=(Finding("depth.ground", "5 lugs wanted", "4 allowed"),),
    without=Verdict.POSSIBLE,
    alone=Verdict.POSSIBLE,
    way=Way("lugs_per_stud", "5 lugs on a stud", "5", (), True),
)
THREAD = Member(
    name="free thread",
    kind="scenario",
    value="",
    origin="scenario",
    findings=tuple(Finding(f"d{n}.ground", "9 mm wanted", "8 mm free") for n in range(4)),
    without=Verdict.POSSIBLE,
    alone=Verdict.IMPOSSIBLE,
    way=None,
)
SLOW = Member("splices", "limit", "no", "x", (), Verdict.UNDECIDED, Verdict.UNDECIDED, None, True)


def told(*members: Member) -> list[str]:
    """The lines of one conflict of these members."""
    return why_lines(WhyNot((Conflict(members),), (), (), (), 1, True))


def test_a_line_holds_place_numbers_origin_and_way() -> None:
    """Everything a person needs of one member stands on its line."""
    assert told(LUGS) == [
        "This cannot hold; without it a plan exists:",
        "  depth.ground: 5 lugs wanted, 4 allowed "
        "[lugs_per_stud = 4, from limits file, shop.toml:4]; possible with 5 lugs on a stud",
    ]


def test_places_that_want_the_same_stand_together() -> None:
    """Two places are named, the others counted; a member that is not enough says so."""
    lines = told(LUGS, THREAD)
    assert lines[0] == "These cannot hold together, even with everything else out of the way:"
    assert lines[2] == (
        "  d0.ground, d1.ground and 2 more: 9 mm wanted, 8 mm free [free thread, from scenario]; "
        "not enough by itself while everything else stays"
    )


def test_what_was_not_settled_is_not_claimed() -> None:
    """A member without an answer in time is called undecided, and so is the whole."""
    lines = told(LUGS, SLOW)
    assert lines[0].startswith("Among these is what cannot hold together; time ended")
    assert lines[-1] == "  undecided in the time given: splices"


@pytest.mark.parametrize(
    ("names", "lead"),
    [
        (("drop_other",), "This cannot hold, even with everything else out of the way:"),
        (
            ("drop_other", "drop_critical"),
            "These cannot hold together, even with everything else out of the way:",
        ),
    ],
)
def test_what_was_not_asked_with_all_else_in_force(names: tuple[str, ...], lead: str) -> None:
    """One member or several, each the right way; nothing is said of the rest."""
    members = tuple(
        Member(name, "limit", "3 %", "x", (), Verdict.POSSIBLE, Verdict.UNDECIDED, None)
        for name in names
    )
    why = WhyNot((Conflict(members),), (), (), names, 1, True)
    assert why_lines(why)[0] == lead
