"""Candidate splice points of each circuit: a finite, stated set.

A circuit may have a splice at

1. every tie point,
2. every corner of the routed paths between its posts,
3. the meeting point of each triple of its posts that are mutually near: each one of the
   ``splice_neighbours`` nearest of both others by plane distance, equally near ones by id.

Posts that are one piece of metal are never in one triple, nor is a path between them looked at.
A splice hangs at its tie point's height, else at the dress height. Left out is a place that

- lies within the margin of an obstacle higher than the dress height (a tie point: within a solid
  body or a keep-out itself),
- cannot hold three wire ends: fewer than three joints (nodes of its circuit, the circuit it
  is taken from, other splice points of the circuit) can be reached at an allowed distance.

Places found twice are one. Points are numbered by place (x, y, z).
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

import numpy as np

from lugwright.base.identity import JointId
from lugwright.limits.schema import Limits
from lugwright.routes.arrays import each_with_each
from lugwright.routes.finder import Finder
from lugwright.routes.geometry import Place
from lugwright.routes.meeting_point import meeting_point
from lugwright.routes.obstacles import Joint, Layers
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.console import Circuit, Console, Point, Post


class SplicePlaces:
    """Finds the candidate splice points of a console's circuits. Rule R6."""

    def __init__(self, console: Console, limits: Limits, layers: Layers, finder: Finder) -> None:
        self._console = console
        self._limits = limits
        self._layers = layers
        self._finder = finder
        self._posts: dict[str, Post] = {post.id: post for post in console.posts}

    def of(self, circuit: Circuit) -> tuple[SplicePoint, ...]:
        """The candidates of one circuit, in order of their numbers."""
        posts = [self._posts[name] for name in sorted(circuit.posts)]
        dress_dmm = self._limits.dress_height_dmm
        found = {Point(x, y, dress_dmm): "" for x, y in self._free_places(posts)}
        for tie in sorted(self._console.tie_points, key=lambda tie: tie.name, reverse=True):
            place = (tie.at.x_dmm, tie.at.y_dmm)
            if not self._layers.above(tie.at.z_dmm).is_walled_in(place):
                found[tie.at] = tie.name
        joints = [
            Joint(at, f"a splice of {circuit.name}", "", tie) for at, tie in sorted(found.items())
        ]
        kept = self._that_can_hold_three(circuit, posts, joints)
        return tuple(
            SplicePoint(
                JointId(f"splice-point {circuit.name} {number}"), circuit.name, joint.at, joint.tie
            )
            for number, joint in enumerate(kept, start=1)
        )

    def _free_places(self, posts: list[Post]) -> set[Place]:
        """Corners and meeting points that are clear of everything above the dress height."""
        places = {*self._path_corners(posts), *self._meeting_points(posts)}
        layer = self._layers.above(self._limits.dress_height_dmm)
        return {place for place in places if not layer.is_crowded(place)}

    def _path_corners(self, posts: list[Post]) -> set[Place]:
        apart = [
            (one, other)
            for (one, a), (other, b) in combinations(enumerate(posts), 2)
            if a.node != b.node
        ]
        pairs = np.array(apart, dtype=np.intp).reshape(-1, 2)
        return self._finder.turns([joint_of(post) for post in posts], pairs)

    def _meeting_points(self, posts: list[Post]) -> Iterator[Place]:
        if not posts:
            return
        mean = (
            Fraction(sum(post.at.x_dmm for post in posts), len(posts)),
            Fraction(sum(post.at.y_dmm for post in posts), len(posts)),
        )
        for triple in near_triples(posts, self._limits.splice_neighbours):
            a, b, c = (joint_of(post).place for post in triple)
            place = meeting_point(a, b, c, mean)
            if place is not None:
                yield place

    def _that_can_hold_three(
        self, circuit: Circuit, posts: list[Post], joints: list[Joint]
    ) -> list[Joint]:
        """The places from which three joints can be reached; each one dropped counts no more.

        No used splice is lost: all its ends go to such joints, one at most to each node, and at
        most one to the circuit it is taken from.
        """
        feeders = [self._posts[name] for name in self._feeder_posts(circuit)]
        lengths = self._lengths_dmm(joints, [*posts, *feeders])
        ends: dict[Joint, int] = {}
        for joint, lengths_dmm in zip(joints, lengths, strict=True):
            if all(path_dmm is None for path_dmm in lengths_dmm[: len(posts)]):
                continue
            is_long = [self._is_long(path_dmm) for path_dmm in lengths_dmm]
            nodes = {post.node for post, long in zip(posts, is_long, strict=False) if long}
            ends[joint] = len(nodes) + any(is_long[len(posts) :])
        kept = list(ends)
        while True:
            left = [joint for joint in kept if ends[joint] + len(kept) - 1 >= 3]
            if left == kept:
                return kept
            kept = left

    def _feeder_posts(self, circuit: Circuit) -> tuple[str, ...]:
        return self._console.circuit(circuit.taken_from).posts if circuit.taken_from else ()

    def _lengths_dmm(self, joints: list[Joint], posts: list[Post]) -> list[list[int | None]]:
        """Path lengths between splices (rows) and posts (columns); None where there is no path."""
        pairs = each_with_each(len(joints), len(posts))
        ways = self._finder.ways([*joints, *map(joint_of, posts)], pairs)
        lengths = iter(way.path_dmm if way else None for way in ways)
        return [[next(lengths) for _ in posts] for _ in joints]

    def _is_long(self, path_dmm: int | None) -> bool:
        """Whether a jumper between a splice and a post may have that path."""
        return path_dmm is not None and path_dmm >= self._limits.splice_to_post_dmm


def lead_tip(lead: Post, number: int, at: Point) -> SplicePoint:
    """A place for a lead's end alone, hung in mid-air as a splice would be."""
    return SplicePoint(JointId(f"lead-tip {lead.id} {number}"), lead.circuit, at)


def joint_of(post: Post) -> Joint:
    """The post as a joint."""
    return Joint(post.at, post.id, post.instrument)


def near_triples(posts: list[Post], neighbours: int) -> Iterator[tuple[Post, Post, Post]]:
    """Triples of posts of which each is among the nearest of both others."""
    near = {post.id: _nearest(post, posts, neighbours) for post in posts}

    def are_near(one: Post, other: Post) -> bool:
        return one.id in near[other.id] and other.id in near[one.id]

    for index, a in enumerate(posts):
        beside = [post for post in posts[index + 1 :] if are_near(a, post)]
        for b, c in combinations(beside, 2):
            if are_near(b, c):
                yield a, b, c


def _nearest(post: Post, posts: list[Post], neighbours: int) -> set[str]:
    others = [other for other in posts if other.node != post.node]
    others.sort(
        key=lambda other: (
            (other.at.x_dmm - post.at.x_dmm) ** 2 + (other.at.y_dmm - post.at.y_dmm) ** 2,
            other.id,
        )
    )
    return {other.id for other in others[:neighbours]}
