"""Which splice points there are, and which are left out."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, permutations
from math import dist
from random import Random

from hypothesis import given
from hypothesis import strategies as st
from support.consoles import place, tiny_console
from support.limits import plain_limits
from support.routes import build_routes, list_splice_points

from lugwright.routes.geometry import Box, is_inside, rounded_outline
from lugwright.routes.schema import SplicePoint
from lugwright.routes.splice_points import near_triples
from lugwright.scenario.console import Circuit, Console, Point, TiePoint

# An upright triangle of dials: no ground stud sees the others at 120 degrees or more.
TRIANGLE = ((60, 60), (160, 60), (110, 150))


def points_of(console: Console, circuit: str, **limits: object) -> tuple[SplicePoint, ...]:
    """The candidates of one circuit."""
    chosen = plain_limits(**{"splices": True, "dress_height_dmm": 500, **limits})
    return build_routes(console, chosen).splice_points(circuit)


def test_without_splices_there_are_none() -> None:
    """The limit forbids them, and the list is empty."""
    assert list_splice_points(tiny_console(TRIANGLE), plain_limits(dress_height_dmm=500)) == ()


def test_three_dials_have_one_meeting_point_a_circuit() -> None:
    """Isosceles, base 100 mm: the point lies 50 / sqrt(3) = 28.87 mm above the base's middle.

    Ground studs at (70, 55), (170, 55), (120, 145): so (120, 83.9).
    """
    points = list_splice_points(
        tiny_console(TRIANGLE), plain_limits(splices=True, dress_height_dmm=500)
    )
    assert [point.id for point in points] == [
        "splice-point ignition 1",
        "splice-point ground 1",
        "splice-point lamps 1",
    ]
    assert points[1] == SplicePoint("splice-point ground 1", "ground", Point(1200, 839, 500))


def test_splice_points_are_numbered_by_place() -> None:
    """Left to right, whatever order they were found in; ids do not repeat over circuits."""
    console = tiny_console(((60, 60), (160, 60), (110, 150), (210, 150), (310, 60)))
    points = list_splice_points(console, plain_limits(splices=True, dress_height_dmm=500))
    assert len({point.id for point in points}) == len(points)
    for circuit in ("ignition", "ground", "lamps"):
        mine = [point for point in points if point.circuit == circuit]
        assert len(mine) > 1
        assert [point.at for point in mine] == sorted(point.at for point in mine)
        assert [int(point.id.rsplit(" ", 1)[1]) for point in mine] == [*range(1, len(mine) + 1)]


def test_a_tie_point_is_one_at_its_own_height() -> None:
    """Dials in a row meet at no point, so the tie point is all there is."""
    tie = TiePoint("middle", place(160, 120, 70), ())
    console = tiny_console(tie_points=(tie,))
    (point,) = points_of(console, "ground")
    assert (point.at, point.tie) == (tie.at, "middle")


def test_corners_of_routed_paths_are_candidates() -> None:
    """A deep dial between two flat ones: the corners of the way round it, at the dress height."""
    console = tiny_console(
        heights_mm={1: 20, 2: 65, 3: 20}, depths_mm={1: 15, 2: 60, 3: 15}, lamps=False
    )
    limits = {"clearance_dmm": 100, "dress_height_dmm": 200}
    points = points_of(console, "ground", **limits)
    routes = build_routes(console, plain_limits(splices=True, **limits))
    way = routes.between("dial1.ground", "dial3.ground").corners[1:-1]
    assert len(way) > 1
    assert {corner.at for corner in way} == {point.at for point in points}


def test_a_place_inside_a_body_above_the_dress_height_is_dropped() -> None:
    """The meeting point of three dials under a fourth dial's body; above it, it stands."""
    console = tiny_console((*TRIANGLE, (120, 84)))
    kept = Circuit("ground", "ground", "black", "", "", (), None, 0)
    three = replace(kept, posts=("dial1.ground", "dial2.ground", "dial3.ground"))
    console = replace(console, circuits=(three,))
    assert [p.at for p in points_of(console, "ground")] == [Point(1200, 839, 500)]
    low = points_of(console, "ground", dress_height_dmm=300)
    body = rounded_outline(Box(1200, 840, 1200, 840), 260)
    assert body is not None
    assert not any(is_inside((point.at.x_dmm, point.at.y_dmm), body) for point in low)


def test_a_place_too_near_to_hold_three_ends_is_dropped() -> None:
    """From the meeting point the base studs are 577.4 away, the top one 611."""
    console = tiny_console(TRIANGLE, lamps=False)
    assert len(points_of(console, "ground", splice_to_post_dmm=577)) == 1
    assert points_of(console, "ground", splice_to_post_dmm=579) == ()


def test_another_splice_point_or_the_feeding_circuit_counts_as_an_end() -> None:
    """Two lamps only: a tie point needs the take-off from ignition as its third end."""
    tie = TiePoint("middle", place(110, 200, 50), ())
    console = tiny_console(((60, 60), (160, 60)), tie_points=(tie,))
    assert len(points_of(console, "lamps")) == 1
    assert points_of(console, "ground") == ()
    other = TiePoint("other", place(110, 220, 50), ("middle",))
    two = replace(console, tie_points=(tie, other))
    assert len(points_of(two, "ground")) == 2


def test_near_means_near_to_both_others() -> None:
    """With two neighbours a far fourth dial is in no triple: nobody counts it as near."""
    console = tiny_console((*TRIANGLE, (900, 60)), lamps=False)
    posts = [post for post in console.posts if post.circuit == "ground"]
    triples = [tuple(p.instrument for p in triple) for triple in near_triples(posts, 2)]
    assert triples == [("dial1", "dial2", "dial3")]
    assert len(list(near_triples(posts, 3))) == 4


def test_near_triples_are_all_triples_that_are_near() -> None:
    """Against trying every three of twelve, in their order."""
    random = Random(3)
    centres = [(60 + 60 * (i % 4) + random.randint(0, 40), 60 + 70 * (i // 4)) for i in range(12)]
    posts = [post for post in tiny_console(centres).posts if post.circuit == "ground"]
    counts = []
    for neighbours in (3, 5, 7):
        near = {}
        for post in posts:
            others = sorted(
                (dist((post.at.x_dmm, post.at.y_dmm), (p.at.x_dmm, p.at.y_dmm)), p.id)
                for p in posts
                if p != post
            )
            near[post.id] = {name for _, name in others[:neighbours]}
        tried = [
            triple
            for triple in combinations(posts, 3)
            if all(a.id in near[b.id] for a, b in permutations(triple, 2))
        ]
        assert list(near_triples(posts, neighbours)) == tried
        counts.append(len(tried))
    assert counts == sorted(set(counts))


def test_posts_of_one_piece_of_metal_make_no_triple() -> None:
    """Three linked studs are one node and meet at no splice."""
    console = tiny_console(TRIANGLE, lamps=False)
    linked = tuple(replace(post, instrument="bar", link="bar") for post in console.posts)
    grounds = [post for post in linked if post.circuit == "ground"]
    assert list(near_triples(grounds, 3)) == []


@given(st.lists(st.tuples(st.integers(0, 90), st.integers(0, 40)), min_size=3, max_size=6))
def test_every_kept_point_can_be_reached_from_three_joints(
    spots: list[tuple[int, int]],
) -> None:
    """Counted anew from the finished routes: nodes at the allowed distance and other splices."""
    centres = [(60 + 5 * x, 60 + 5 * y) for x, y in spots]
    console = tiny_console(centres, lamps=False, body_mm=0)
    limits = plain_limits(splices=True, dress_height_dmm=500, splice_to_post_dmm=300)
    routes = build_routes(console, limits)
    for circuit in console.circuits:
        points = routes.splice_points(circuit.name)
        for point in points:
            far = [post for post in circuit.posts if routes.between(point.id, post).path_dmm >= 300]
            assert len(far) + len(points) - 1 >= 3
        places = [point.at for point in points]
        assert all(a != b for a, b in combinations(places, 2))
