"""Routes of a console: the path between any two joints, and the candidate splice points."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress

import numpy as np

from lugwright.routes.errors import NoPath
from lugwright.routes.finder import Finder
from lugwright.routes.free_ends import MOST_TIPS, farthest_along, free_leads
from lugwright.routes.obstacles import Joint, Layers, obstacles_of
from lugwright.routes.schema import Path, Routes, SplicePoint, Way
from lugwright.routes.splice_points import SplicePlaces, joint_of, lead_tip
from lugwright.routes.visibility import reverse
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Point, Post


def build_routes(brief: Brief) -> Routes:
    """Paths (found when asked for, then kept) and splice points of a console.

    ``Routes.between`` raises KeyError for an unknown joint, ValueError for a joint with itself,
    and ``routes.errors.NoPath`` where every way is shut. The path of (b, a) is the reverse of
    (a, b). The stock says how large the nuts are that a wire goes round.
    """
    router = _Router(brief)
    return Routes(router.splices, router.between, router.from_entry, router.ways, router.tips)


def list_splice_points(brief: Brief) -> tuple[SplicePoint, ...]:
    """Every candidate splice point, circuit by circuit, in order of their numbers."""
    splices = build_routes(brief).splices
    names = [circuit.name for circuit in brief.console.circuits if brief.limits.splices]
    return tuple(point for name in names for point in splices[name])


class _Router:
    """Holds the joints of a console and the paths found so far."""

    def __init__(self, brief: Brief) -> None:
        console, layers = brief.console, Layers(obstacles_of(brief))
        self._finder = Finder(console.tie_points, layers)
        self._joints: dict[str, Joint] = {post.id: joint_of(post) for post in console.posts}
        self._paths: dict[tuple[str, str], Path] = {}
        self._entries: dict[tuple[Point, str], Path] = {}
        places = SplicePlaces(console, brief.limits, layers, self._finder)
        free = {post.circuit for post in console.posts if post.lead_length_dmm}
        self.splices = {
            circuit.name: places.of(circuit)
            for circuit in console.circuits
            if brief.limits.splices or circuit.name in free
        }
        for points in self.splices.values():
            for point in points:
                self._joints[point.id] = Joint(point.at, point.id, "", point.tie)
        self.tips: dict[str, tuple[SplicePoint, ...]] = {
            lead.id: self._tips(brief, layers, lead) for lead in free_leads(console)
        }

    def _tips(self, brief: Brief, layers: Layers, lead: Post) -> tuple[SplicePoint, ...]:
        """As far as a lead goes towards each of the nearest others of its circuit, if it is clear
        there. Rule R36."""
        limits, console = brief.limits, brief.console
        others = [console.post(post) for post in console.circuit(lead.circuit).posts]
        ways = []
        for other in others:
            if other.node != lead.node:
                with suppress(NoPath):
                    path = self.between(lead.id, other.id)
                    ways.append((path.path_dmm, other.id, path))
        layer = layers.above(limits.dress_height_dmm)
        found: dict[Point, None] = {}
        for _, _, path in sorted(ways)[:MOST_TIPS]:
            at = farthest_along(path, lead, limits)
            if at is not None and not layer.is_crowded((at.x_dmm, at.y_dmm)):
                found[at] = None
        tips = tuple(lead_tip(lead, number, at) for number, at in enumerate(sorted(found), start=1))
        for tip in tips:
            self._joints[tip.id] = Joint(tip.at, tip.id, "")
        return tips

    def between(self, a: str, b: str) -> Path:
        """The path between two joints, from ``a`` to ``b``."""
        if a == b:
            raise ValueError(f"no path leads from {a} to itself")
        if (a, b) not in self._paths:
            path = self._finder.path(self._joints[a], self._joints[b])
            self._paths[a, b], self._paths[b, a] = path, reverse(path)
        return self._paths[a, b]

    def ways(self, pairs: Sequence[tuple[str, str]]) -> list[Way | None]:
        """The ways of many pairs of joints, without their corners."""
        number = {name: at for at, name in enumerate(dict.fromkeys(n for ab in pairs for n in ab))}
        joints = [self._joints[name] for name in number]
        numbers = np.array([(number[a], number[b]) for a, b in pairs], dtype=np.intp)
        return self._finder.ways(joints, numbers.reshape(-1, 2))

    def from_entry(self, entry: Point, post: str) -> Path:
        """The path of a pigtail or boat wire from its entry to a post."""
        if (entry, post) not in self._entries:
            joint = Joint(entry, f"the entry at {entry.x_dmm}, {entry.y_dmm} (0.1 mm)")
            self._entries[entry, post] = self._finder.path(joint, self._joints[post])
        return self._entries[entry, post]
