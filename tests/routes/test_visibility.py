"""Paths over the open back: straight where free, the shortest way round where not."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from itertools import combinations, pairwise
from math import acos, dist, hypot, sqrt

import networkx
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from support.consoles import place, tiny_console
from support.limits import plain_limits
from support.routes import build_routes

from lugwright.routes.errors import NoPath
from lugwright.routes.geometry import Box
from lugwright.routes.obstacles import Joint, Layers, Obstacle
from lugwright.routes.schema import Path, Routes
from lugwright.routes.visibility import Open
from lugwright.scenario.console import Console, KeepOut

ROW = ((60, 60), (160, 60), (260, 60))


def deep_middle() -> Console:
    """Two flat dials (posts at 20 mm) and a deep one (body of 60 mm) right between them."""
    return tiny_console(ROW, heights_mm={1: 20, 2: 65, 3: 20}, depths_mm={1: 15, 2: 60, 3: 15})


def round_body(x_mm: float, y_mm: float, radius_dmm: int, name: str) -> Obstacle:
    """A tall round body with no margin."""
    x, y = round(x_mm * 10), round(y_mm * 10)
    return Obstacle(name, "body", name, 900, Box(x, y, x, y), radius_dmm, 0)


def samples(path: Path) -> list[tuple[float, float]]:
    """Places every 0.05 mm or so along a path."""
    found = []
    for one, other in pairwise(path.corners):
        a, b = one.at, other.at
        steps = 2 * max(abs(a.x_dmm - b.x_dmm), abs(a.y_dmm - b.y_dmm)) + 1
        for step in range(steps + 1):
            part = step / steps
            x = a.x_dmm + part * (b.x_dmm - a.x_dmm)
            y = a.y_dmm + part * (b.y_dmm - a.y_dmm)
            found.append((x, y))
    return found


def assert_symmetric(routes: Routes, a: str, b: str) -> None:
    """The path of (b, a) is the reverse of (a, b)."""
    there, back = routes.between(a, b), routes.between(b, a)
    assert there.corners == back.corners[::-1]
    assert there.path_dmm == back.path_dmm
    assert there.loom_legs == back.loom_legs


def test_a_free_leg_is_plain_distance_rounded_up() -> None:
    """100 mm along, 0 across; and 80 mm by 17 mm: sqrt(800² + 170²) = 817.86, so 818."""
    routes = build_routes(tiny_console(), plain_limits())
    assert routes.between("dial1.ground", "dial2.ground").path_dmm == 1000
    crossing = routes.between("dial1.ground", "dial2.ignition")
    assert crossing.path_dmm == 800
    assert routes.between("dial1.ignition", "dial1.lamp").path_dmm == 198  # sqrt(100² + 170²)


def test_height_difference_is_added_to_the_leg() -> None:
    """100 mm along and 30 mm up are 130 mm of wire, not the slant."""
    console = tiny_console(ROW[:2], heights_mm={2: 80})
    path = build_routes(console, plain_limits()).between("dial1.ground", "dial2.ground")
    assert path.path_dmm == 1000 + 300
    assert len(path.corners) == 2


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.integers(0, 400), st.integers(0, 200)), min_size=3, max_size=3),
)
def test_with_nothing_in_the_way_it_is_euclid(centres: list[tuple[float, float]]) -> None:
    """Equal heights and no obstacle: plain distance rounded up, symmetric, and no detour pays."""
    routes = build_routes(tiny_console(centres, lamps=False), plain_limits())
    posts = [f"dial{number}.ground" for number in (1, 2, 3)]
    lengths = {}
    for (i, a), (j, b) in combinations(enumerate(posts), 2):
        length_dmm = routes.between(a, b).path_dmm
        true_dmm = 10 * dist(centres[i], centres[j])
        assert true_dmm - 1e-6 <= length_dmm < true_dmm + 1
        assert_symmetric(routes, a, b)
        lengths[i, j] = length_dmm
    assert lengths[0, 2] <= lengths[0, 1] + lengths[1, 2]


def test_a_deep_body_is_gone_round_with_the_clearance() -> None:
    """Every place of the path keeps body radius and clearance from the body's middle."""
    limits = plain_limits(clearance_dmm=100)
    routes = build_routes(deep_middle(), limits)
    path = routes.between("dial1.ground", "dial3.ignition")
    assert len(path.corners) > 2
    assert all(hypot(x - 1600, y - 600) >= 260 + 100 - 1e-6 for x, y in samples(path))
    assert {corner.at.z_dmm for corner in path.corners} == {200}
    assert_symmetric(routes, "dial1.ground", "dial3.ignition")


def test_what_is_not_higher_than_both_ends_is_crossed() -> None:
    """From a flat dial up to the deep one's own post nothing is in the way."""
    routes = build_routes(deep_middle(), plain_limits(clearance_dmm=100))
    path = routes.between("dial1.ground", "dial2.ignition")
    assert len(path.corners) == 2
    assert path.path_dmm == 800 + 450


def test_one_circle_in_the_way_is_a_taut_string_round_it() -> None:
    """Two tangents and an arc: 2 sqrt(d² - R²) + R (pi - 2 acos(R / d)), any geometry text.

    Posts 80 mm to either side of the middle, 5 mm off the axis; R = 36 mm. The 16-gon lies
    outside the circle, by at most 1 / cos(11.25°) - 1 = 2 %.
    """
    routes = build_routes(deep_middle(), plain_limits(clearance_dmm=100))
    path = routes.between("dial1.ground", "dial3.ignition")
    distance, radius = hypot(900, 50), 360.0
    # The angle at the middle between the two posts, on the side the posts are on.
    between = 2 * acos(50 / distance)
    string = 2 * sqrt(distance**2 - radius**2) + radius * (between - 2 * acos(radius / distance))
    assert string <= path.path_dmm <= string * 1.02 + len(path.corners)


def test_a_stud_higher_than_both_ends_needs_room_for_its_driver() -> None:
    """A foreign stud on the straight leg is passed at nut radius + room + clearance."""
    console = tiny_console(
        ROW, body_mm=0, heights_mm={1: 20, 2: 65, 3: 20}, depths_mm={1: 0, 2: 0, 3: 0}, lamps=False
    )
    limits = plain_limits(clearance_dmm=30, nut_driver_room_dmm=40)
    path = build_routes(console, limits).between("dial1.ground", "dial3.ground")
    nut = 0.34375 * 254 / sqrt(3)
    studs = [(1500, 550), (1700, 550)]
    assert len(path.corners) > 2
    assert all(dist(spot, stud) >= nut + 70 - 1e-6 for spot in samples(path) for stud in studs)
    no_room = build_routes(console, plain_limits())
    assert no_room.between("dial1.ground", "dial3.ground").path_dmm < path.path_dmm


def test_a_keep_out_is_an_obstacle_below_its_height_only() -> None:
    """A rib across the straight leg, open above: round it when higher, over it when not."""
    rib = KeepOut("rib", 1100, 0, 1150, 800, 600)
    around = build_routes(tiny_console(keep_outs=[rib]), plain_limits(clearance_dmm=20))
    path = around.between("dial1.ground", "dial2.ignition")
    # Up to (1080, 820), rounded corner over the rib, and down again.
    assert all(y >= 800 for x, y in samples(path) if 1100 < x < 1150)
    assert path.path_dmm > 800
    low = replace(rib, height_dmm=500)
    over = build_routes(tiny_console(keep_outs=[low]), plain_limits(clearance_dmm=20))
    assert over.between("dial1.ground", "dial2.ignition").path_dmm == 800


def test_a_joint_shut_in_has_no_path_and_says_what_blocks() -> None:
    """A post right inside a taller keep-out; the error names both joints and the keep-out."""
    box = KeepOut("battery box", 500, 400, 900, 800, 900)
    routes = build_routes(tiny_console(keep_outs=[box]), plain_limits())
    with pytest.raises(NoPath) as caught:
        routes.between("dial1.ground", "dial2.ground")
    assert {caught.value.a, caught.value.b} == {"dial1.ground", "dial2.ground"}
    assert caught.value.blocks == ("the keep-out battery box",)


def test_equally_short_ways_are_settled_by_the_corners() -> None:
    """Over or under a body in the very middle: the way with the lesser corners, both ways round."""
    open_back = Open(Layers((round_body(0, 0, 300, "deep"),)))
    a, b = Joint(place(-90, 0), "a"), Joint(place(90, 0), "b")
    path = open_back.path(a, b)
    assert all(corner.at.y_dmm <= 0 for corner in path.corners)
    assert open_back.path(b, a).corners == path.corners[::-1]
    over = open_back.path(Joint(place(-90, 1), "a"), Joint(place(90, 1), "b"))
    assert all(corner.at.y_dmm >= 0 for corner in over.corners)


@pytest.mark.parametrize("side_mm", [27, 30, 34])
def test_a_crowded_joint_goes_round_the_body_beside_it(side_mm: int) -> None:
    """A foreign joint in the clearance of a body of 26 mm radius, its target right behind it.

    The first stretch keeps what room there is, the rest the whole clearance.
    """
    body = Obstacle("the body of deep", "body", "deep", 900, Box(0, 0, 0, 0), 260, 100)
    near, far = Joint(place(-side_mm, 1), "near"), Joint(place(90, 3), "far")
    path = Open(Layers((body,))).path(near, far)
    first, *rest = pairwise(path.corners)
    assert all(hypot(*spot) >= 260 - 1e-6 for spot in samples(Path(first, 0)))
    assert len(rest) > 1
    assert all(hypot(*spot) >= 360 - 1e-6 for leg in rest for spot in samples(Path(leg, 0)))


def test_a_recessed_joint_leaves_its_own_body_straight() -> None:
    """A tab below the rim of its own body goes straight; what else is in the way is gone round."""
    own = Obstacle("the body of deep", "body", "deep", 900, Box(0, 0, 0, 0), 260, 100)
    tab, goal = Joint(place(20, 0, 10), "deep.tab", "deep"), Joint(place(-150, 0, 10), "goal")
    assert len(Open(Layers((own,))).path(tab, goal).corners) == 2
    other = round_body(-90, 5, 200, "other")
    bent = Open(Layers((own, other))).path(tab, goal)
    assert len(bent.corners) > 2
    assert all(dist(spot, (-900, 50)) >= 200 - 1e-6 for spot in samples(bent))


def shortest_by_brute_force(
    a: Joint, b: Joint, layer_bodies: tuple[Obstacle, ...]
) -> tuple[float, int]:
    """Shortest way through every pair of corners that shapely finds free: true length, legs."""
    layer = Layers(layer_bodies).above(0)
    shapes = [shapely.Polygon(outline.corners) for outline in layer.outlines]
    nodes = sorted({a.place, b.place, *(c for o in layer.outlines for c in o.corners)})
    graph: networkx.Graph[tuple[int, int]] = networkx.Graph()
    lines = list(combinations(nodes, 2))
    drawn = shapely.linestrings(lines)
    shut = [shapely.relate_pattern(drawn, shape, "T********") for shape in shapes]
    for number, (one, other) in enumerate(lines):
        if not any(cut[number] for cut in shut):
            graph.add_edge(one, other, weight=dist(one, other))
    way = networkx.dijkstra_path(graph, a.place, b.place)
    return sum(dist(one, other) for one, other in pairwise(way)), len(way) - 1


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(20, 180), st.integers(-60, 60), st.integers(50, 350)),
        min_size=1,
        max_size=4,
    ),
    st.integers(-50, 50),
)
def test_the_way_round_is_as_short_as_brute_force_finds(
    circles: list[tuple[int, int, int]], end_y: int
) -> None:
    """Against a full visibility graph made with shapely's own predicates, overlaps included.

    Each leg is counted rounded up, so our count is less than 0.1 mm a leg above theirs.
    """
    bodies = tuple(round_body(x, y, r, f"body{i}") for i, (x, y, r) in enumerate(circles))
    a, b = Joint(place(-60, 0), "a"), Joint(place(260, end_y), "b")
    shortest, legs = shortest_by_brute_force(a, b, bodies)
    path = Open(Layers(bodies)).path(a, b)
    assert shortest - 1e-6 <= path.path_dmm < shortest + legs + 1e-6
    counted = sum(
        dist((p.at.x_dmm, p.at.y_dmm), (q.at.x_dmm, q.at.y_dmm)) for p, q in pairwise(path.corners)
    )
    assert counted <= path.path_dmm < counted + len(path.corners)
    assert all(
        dist(spot, (10 * x, 10 * y)) >= r - 1e-6 for spot in samples(path) for x, y, r in circles
    )


def test_routes_never_load_the_graph_libraries() -> None:
    """Shapely and networkx are for tests alone."""
    program = (
        "import sys\n"
        "from support.consoles import tiny_console\n"
        "from support.limits import plain_limits\n"
        "from support.routes import build_routes\n"
        "routes = build_routes(tiny_console(), plain_limits(splices=True, dress_height_dmm=500))\n"
        "routes.between('dial1.ground', 'dial3.ground')\n"
        "print(sorted({'shapely', 'networkx'} & set(sys.modules)))\n"
    )
    paths = {"PYTHONPATH": ":".join(sys.path)}
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, env=paths
    )
    assert done.stdout.strip() == "[]"
