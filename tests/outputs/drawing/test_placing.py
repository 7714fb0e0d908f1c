"""Widths of text, and places for labels."""

from collections.abc import Iterator

import pytest

from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import Box, box_at
from lugwright.outputs.drawing.letters import filled, shortened, text_wide
from lugwright.outputs.drawing.placing import CheapFirst, Label, Spot, placed
from lugwright.outputs.paper.fonts import text_width

SHEET = Box(0, 0, 100, 100)


def _label(*spots: Spot, owner: str = "") -> Label:
    return Label(("post", "a"), ("a",), 10, 4, spots, owner=owner)


def test_widths_are_those_of_the_shipped_face() -> None:
    """Measured by the PDF library in the face itself, for every printable ASCII character."""
    text = "".join(map(chr, range(32, 127)))
    assert abs(text_wide(text, 10) - text_width(text, 10)) < 0.1


def test_a_long_text_keeps_its_beginning_and_its_end() -> None:
    """Names of one family differ at either end."""
    assert shortened("starboard engine cooling water", 20) == "starboard eng…water"
    assert shortened("fuel") == "fuel"
    assert len(shortened("x" * 200)) <= 26


def test_lines_are_no_wider_than_asked() -> None:
    """Words are kept together, one that is too long is broken, and nothing is lost."""
    text = "mind the compass " + "w" * 60
    lines = filled(text, 2.0, 40.0)
    assert all(text_wide(line, 2.0) <= 40.0 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_a_label_never_covers_another() -> None:
    """The dearer free place is taken before the cheaper taken one; none is left over in silence."""
    crowd = Crowd(8)
    crowd.add_box(box_at((50, 50), 10, 10))
    cheap, dear = Spot((52, 52), 0), Spot((80, 50), 5)
    found, left = placed([_label(cheap, dear), _label(cheap)], crowd, SHEET, 1.0)
    assert [each.box.centre for each in found] == [(80, 50)]
    assert len(left) == 1


def test_a_tag_may_stand_on_its_own_wire_only() -> None:
    """Covering a foreign wire costs, covering its own does not."""
    crowd = Crowd(8)
    crowd.add_line([(0, 50), (100, 50)], "ground 1")
    on_it, beside = Spot((50, 50), 0), Spot((50, 60), 2)
    for owner, expected in (("ground 1", (50, 50)), ("ground 2", (50, 60))):
        [each], _ = placed([_label(on_it, beside, owner=owner)], crowd, SHEET, 1.0)
        assert each.box.centre == expected
        crowd = Crowd(8)
        crowd.add_line([(0, 50), (100, 50)], "ground 1")


def test_places_are_made_when_they_are_asked_for() -> None:
    """Runs are woven by price, the earlier run first where they ask the same; a taken place is
    followed by as many as it takes and no more."""
    made: list[Spot] = []

    def run(x: float, *prices: float) -> Iterator[Spot]:
        for price in prices:
            made.append(Spot((x, 10 + 20 * price), price))
            yield made[-1]

    spots = CheapFirst(lambda: run(20, 0, 2), lambda: run(60, 1, 2, 3))
    assert [spot.price for spot in spots] == [0, 1, 2, 2, 3]
    assert [spot.centre[0] for spot in spots] == [20, 60, 20, 60, 60]
    crowd = Crowd(8)
    crowd.add_box(box_at((20, 10), 10, 4))
    made.clear()
    label = Label(("post", "a"), ("a",), 10, 4, spots)
    [each], _ = placed([label], crowd, SHEET, 1.0)
    assert each.box.centre == (60, 30)
    assert max(spot.price for spot in made) == 2


def test_all_or_none_ends_at_the_first_without_a_place() -> None:
    """What stands behind it is not tried: neither placed nor left."""
    crowd = Crowd(8)
    crowd.add_box(box_at((50, 50), 10, 10))
    labels = [_label(Spot((20, 20), 0)), _label(Spot((50, 50), 0)), _label(Spot((80, 80), 0))]
    found, left = placed(labels, crowd, SHEET, 1.0, all_or_none=True)
    assert ([each.box.centre for each in found], left) == ([(20, 20)], [labels[1]])


def test_a_leader_does_not_run_under_a_label() -> None:
    """A place whose leader would be hidden is no place."""
    crowd = Crowd(8)
    crowd.add_box(box_at((50, 50), 10, 10))
    behind, aside = Spot((70, 50), 1, (30, 50)), Spot((30, 70), 4, (30, 50))
    [each], _ = placed([_label(behind, aside)], crowd, SHEET, 1.0)
    assert each.box.centre == (30, 70)
    assert each.leader == ((30, 68), (30, 50))


def test_what_a_box_covers_is_measured() -> None:
    """A line through the middle of a box of 10 mm covers 10 mm, one beside it nothing."""
    crowd = Crowd(8)
    crowd.add_line([(0, 50), (100, 50)], "w")
    assert crowd.covered_mm(box_at((50, 50), 10, 4), "") == pytest.approx(10)
    assert crowd.covered_mm(box_at((50, 60), 10, 4), "") == 0
    assert crowd.crossings((50, 40), (50, 60), "") == 1
    assert crowd.crossings((50, 40), (50, 60), "w") == 0
