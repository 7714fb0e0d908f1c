"""The whole of it: a console moved as a whole keeps every length; unknown joints are refused."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from support.console_moves import MOVES, Move, moved, shifted
from support.consoles import place, tiny_console
from support.limits import plain_limits
from support.routes import build_routes, list_splice_points

from lugwright.routes.schema import Routes
from lugwright.scenario.console import Console, KeepOut, Point, TiePoint

LIMITS = plain_limits(splices=True, clearance_dmm=37, nut_driver_room_dmm=21, dress_height_dmm=300)


def lengths(console: Console) -> dict[tuple[str, str], int]:
    """Path lengths between all posts of each circuit, and from each pigtail's entry."""
    routes = build_routes(console, LIMITS)
    found = {}
    for circuit in console.circuits:
        for a, b in combinations(circuit.posts, 2):
            found[a, b] = routes.between(a, b).path_dmm
        if circuit.pigtail:
            for post in circuit.posts:
                path = routes.from_entry(circuit.pigtail.entry, post)
                found["entry", post] = path.path_dmm
    return found


def mixed_console(heights: list[int], *, loom: bool = False) -> Console:
    """Six dials of different depth, close together, with a keep-out and perhaps a loom."""
    centres = [(60 + 80 * (i % 3), 60 + 85 * (i // 3)) for i in range(6)]
    ties = (
        TiePoint("west", place(100, 100, 40), ("east",)),
        TiePoint("east", place(180, 100, 40), ()),
    )
    return tiny_console(
        centres,
        heights_mm={i + 1: height for i, height in enumerate(heights)},
        depths_mm={i + 1: height - 5 for i, height in enumerate(heights)},
        keep_outs=[KeepOut("rib", 980, 0, 1020, 1000, 700)],
        tie_points=ties if loom else (),
    )


@pytest.mark.parametrize("move", MOVES.values(), ids=MOVES)
@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.lists(st.sampled_from([20, 40, 60, 80]), min_size=6, max_size=6),
    st.booleans(),
)
def test_moving_the_panel_changes_no_length(move: Move, heights: list[int], loom: bool) -> None:
    """Shifted by whole 0.1 mm, turned by quarters or mirrored: every length stays."""
    console = mixed_console(heights, loom=loom)
    assert lengths(moved(console, move)) == lengths(console)


@pytest.mark.parametrize("move", MOVES.values(), ids=MOVES)
def test_moving_the_panel_moves_the_meeting_points_with_it(move: Move) -> None:
    """Bodies out of the way: the candidates of the moved panel are the moved candidates."""
    console = tiny_console(((60, 60), (141, 67), (103, 150), (207, 139)))
    limits = plain_limits(splices=True, dress_height_dmm=500)
    before = {(p.circuit, shifted(p.at, move)) for p in list_splice_points(console, limits)}
    after = {(p.circuit, p.at) for p in list_splice_points(moved(console, move), limits)}
    assert len(before) > 3
    assert after == before


def test_the_same_console_gives_the_same_routes() -> None:
    """Two builds agree corner by corner, splice points included."""
    console = mixed_console([20, 40, 60, 80, 20, 40])
    one, other = build_routes(console, LIMITS), build_routes(console, LIMITS)
    assert one.splices == other.splices
    for circuit in console.circuits:
        joints = [*circuit.posts, *(p.id for p in one.splice_points(circuit.name))]
        for a, b in combinations(joints, 2):
            assert one.between(a, b) == other.between(a, b)


def test_order_of_asking_changes_nothing() -> None:
    """Paths asked for backwards, in another order, are the same paths."""
    console = mixed_console([20, 80, 20, 40, 60, 20])
    one, other = build_routes(console, LIMITS), build_routes(console, LIMITS)
    pairs = list(combinations(console.circuit("ground").posts, 2))
    first = {pair: one.between(*pair) for pair in pairs}
    for a, b in reversed(pairs):
        assert other.between(b, a).corners == first[a, b].corners[::-1]


def all_pairs(console: Console, routes: Routes) -> list[tuple[str, str]]:
    """Every pair of posts and splice points of a console."""
    splices = [p.id for points in routes.splices.values() for p in points]
    return list(combinations([*(post.id for post in console.posts), *splices], 2))


@settings(max_examples=20, deadline=None)
@given(
    st.lists(st.sampled_from([20, 40, 60, 80]), min_size=6, max_size=6),
    st.booleans(),
    st.booleans(),
)
def test_ways_of_many_pairs_are_their_paths(heights: list[int], loom: bool, shut: bool) -> None:
    """Length and loom legs of every pair asked for at once, or one by one; some have no path."""
    console = mixed_console(heights, loom=loom)
    if shut:
        box = KeepOut("battery box", 400, 400, 800, 800, 900)
        console = replace(console, keep_outs=(*console.keep_outs, box))
    routes = build_routes(console, LIMITS)
    pairs = all_pairs(console, routes)
    ways = build_routes(console, LIMITS).ways(pairs)
    assert replace(routes, find_ways=None).ways(pairs) == ways
    assert (None in ways) == shut


@pytest.mark.parametrize("loom", [False, True])
def test_what_was_asked_for_before_changes_no_path(loom: bool) -> None:
    """Paths found after the ways of many pairs are the paths found alone, ties included."""
    console = mixed_console([20, 80, 20, 40, 60, 20], loom=loom)
    one, other = build_routes(console, LIMITS), build_routes(console, LIMITS)
    pairs = all_pairs(console, one)
    one.ways(pairs)
    assert [one.between(*pair) for pair in pairs] == [other.between(*pair) for pair in pairs]


def test_corners_add_up_to_the_path() -> None:
    """From one end to the other; only the way in the middle may turn."""
    console = mixed_console([20, 80, 20, 40, 60, 20], loom=True)
    routes = build_routes(console, LIMITS)
    for circuit in console.circuits:
        for a, b in combinations(circuit.posts, 2):
            path = routes.between(a, b)
            assert path.corners[0].at == console.post(a).at
            assert path.corners[-1].at == console.post(b).at


def test_unknown_joints_and_a_joint_with_itself_are_refused() -> None:
    """A wrong id is a KeyError, a path to oneself a ValueError."""
    routes = build_routes(tiny_console(), plain_limits())
    with pytest.raises(KeyError, match="dial9"):
        routes.between("dial1.ground", "dial9.ground")
    with pytest.raises(ValueError, match=r"dial1\.ground"):
        routes.between("dial1.ground", "dial1.ground")


def test_entries_are_joints_of_no_instrument() -> None:
    """From the lower left corner to the stud at (70, 55, 50): sqrt(700² + 550²) = 890.2, + 500."""
    routes = build_routes(tiny_console(body_depth_mm=0), plain_limits())
    path = routes.from_entry(Point(0, 0, 0), "dial1.ground")
    assert path.path_dmm == 891 + 500
    assert path.corners[0].at == Point(0, 0, 0)
