"""Shared stretches and lanes, on paths small enough to see."""

from math import dist

import pytest

from lugwright.outputs.drawing.frame import Point
from lugwright.outputs.drawing.lanes import lanes_of, tracks_of
from lugwright.outputs.drawing.lines import drawn_lines
from lugwright.outputs.drawing.passing_posts import CLEAR, LANE, asides
from lugwright.outputs.drawing.runs import Run

LOOM = ((0.0, 0.0), (50.0, 0.0), (150.0, 0.0))


def _run(name: str, *path: Point) -> Run:
    return Run(
        wire=name, kind="jumper", aboard=False, circuit="ground", colour="black", code="BK",
        size="16 AWG", from_joint="a", to_joint="b", path=path, start=path[0], end=path[-1],
        length_dmm=1,
    )  # fmt: skip


def test_wires_alone_lie_in_the_middle() -> None:
    """Two wires that only cross share nothing."""
    tracks = tracks_of([[(0, 0), (100, 100)], [(0, 100), (100, 0)]], [], 3)
    assert lanes_of(tracks) == [[0.0], [0.0]]


def test_a_wire_that_turns_off_to_the_left_lies_on_the_left() -> None:
    """Up is left for a wire that runs to the right with y down; both ways round the same."""
    up = [*LOOM, (150.0, -40.0)]
    down = [*LOOM, (150.0, 40.0)]
    for paths in ([up, down], [down, up]):
        lanes = lanes_of(tracks_of(paths, [], 3))
        upper = lanes[paths.index(up)]
        lower = lanes[paths.index(down)]
        assert upper[:2] == [0.5, 0.5]
        assert lower[:2] == [-0.5, -0.5]


def test_a_wire_the_other_way_keeps_its_side_of_the_sheet() -> None:
    """Left of its own way is the other side of the sheet."""
    up = [*LOOM, (150.0, -40.0)]
    back = [(150.0, 40.0), *LOOM[::-1]]
    assert lanes_of(tracks_of([up, back], [], 3)) == [[0.5, 0.5, 0.0], [0.0, 0.5, 0.5]]


def test_wires_over_each_other_s_posts_share_the_stretch_between() -> None:
    """Two dials in a row: each wire passes one foreign post, and they run side by side between."""
    a, b, c, d = (0.0, 0.0), (24.0, 0.0), (95.0, 0.0), (119.0, 0.0)
    runs = [_run("ignition", a, c), _run("ground", b, d)]
    first, second = drawn_lines(runs, [a, b, c, d], 1.0)
    assert (first[0], first[-1], second[0], second[-1]) == (a, c, b, d)
    sides = [{y > 0 for _, y in line if abs(y) > 0.1} for line in (first, second)]
    assert len(sides[0]) == len(sides[1]) == 1
    assert sides[0] != sides[1]
    assert min(dist(b, point) for point in first) >= CLEAR - 0.01
    assert min(dist(c, point) for point in second) >= CLEAR - 0.01


def test_between_two_posts_close_together_a_wire_keeps_to_the_middle() -> None:
    """A post's clearance never pushes a wire onto the next post."""
    passed, other = (50.0, 0.5), (50.0, 3.5)
    tracks = tracks_of([[(0.0, 1.0), (100.0, 1.0)]], [passed, other], CLEAR)
    [found] = asides(tracks, lanes_of(tracks), [passed, other], 1.0).values()
    assert abs(found[passed]) == pytest.approx(1.5, abs=0.001)


def test_corners_that_several_wires_go_round_nest() -> None:
    """Two wires round one corner, sharing no stretch, do not touch there."""
    runs = [
        _run("one", (0.0, 0.0), (50.0, 50.0), (100.0, 0.0)),
        _run("two", (20.0, 0.0), (50.0, 50.0), (80.0, 0.0)),
    ]
    first, second = drawn_lines(runs, [], 1.0)
    assert dist(first[1], second[1]) >= LANE - 0.01
