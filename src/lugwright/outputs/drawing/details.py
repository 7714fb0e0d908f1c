"""Details: what is too crowded for its words is drawn again, larger, with a number.

A label without a place sends its joints into a detail. A detail shows a window of the plate; the
posts and wire ends in that window are told there and no longer in the main view.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise

from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import Box, Point, box_around, box_at
from lugwright.outputs.drawing.given_labels import aboard_labels
from lugwright.outputs.drawing.labels import Lettering, joint_labels, name_labels, post_labels
from lugwright.outputs.drawing.layers import hubs_of
from lugwright.outputs.drawing.passing_posts import POST
from lugwright.outputs.drawing.placing import Label, Placed, placed
from lugwright.outputs.drawing.scene import Scene
from lugwright.outputs.drawing.tags import FAR, tag_labels

_AROUND = 3.5  # units round the joints of a window
_SIDE, _UPPER = 22.0, 10.0  # units beside and above a window where its labels may stand
_TRIM = 1.2  # units left round the window and its labels once they have their places
_ENLARGED = (1.7, 2.2, 2.8, 3.6)  # a detail is tried at these scales, over that of the plate
_ROUNDS = 6  # windows grow in number by each round; then what is left is told in words


@dataclass(frozen=True)
class Detail:
    """A window of the plate drawn larger. ``view`` is the window with its labels.

    ``scale``: sheet mm per plate mm. ``left`` are labels that found no place even here.
    """

    number: int
    window: Box
    view: Box
    scale: float
    labels: tuple[Placed, ...]
    left: tuple[Label, ...]
    joints: frozenset[str]


@dataclass(frozen=True)
class Arranged:
    """Every label of a sheet: on the plate, in details, and those only told in words."""

    labels: tuple[Placed, ...]
    windows: tuple[Box, ...]
    details: tuple[Detail, ...]
    left: tuple[Label, ...]
    crowd: Crowd


def crowd_of(scene: Scene, unit_mm: float, near: Box | None = None) -> Crowd:
    """What stands on the sheet before any label: posts, joints, wires, the plate's edge.

    ``near``: only what reaches into that box.
    """
    crowd = Crowd(8 * unit_mm)
    for place in (*scene.places.values(), *scene.entries.values()):
        box = box_at(place, 2 * POST * unit_mm, 2 * POST * unit_mm)
        if near is None or near.meets(box):
            crowd.add_box(box)
    for owner, line in _owned_lines(scene):
        if near is None:
            crowd.add_line(line, owner)
            continue
        for leg in pairwise(line):
            if near.touches(box_around(leg)):
                crowd.add_line(leg, owner)
    return crowd


def _owned_lines(scene: Scene) -> Iterator[tuple[str, Sequence[Point]]]:
    """Every line of a sheet before its words, with whose it is."""
    for run, line in zip(scene.runs, scene.lines, strict=True):
        yield run.wire, line
    yield "plate", _outline(Box(0, 0, scene.frame.width_mm, scene.frame.height_mm))
    for keep_out in scene.panel.keep_outs:
        x0, y1 = scene.frame.at(keep_out.x0_dmm, keep_out.y0_dmm)
        x1, y0 = scene.frame.at(keep_out.x1_dmm, keep_out.y1_dmm)
        yield "keep-out", _outline(Box(x0, y0, x1, y1))


def arranged(scene: Scene, wanted: Sequence[Label], within: Box) -> Arranged:
    """The labels on the plate where they fit, the others in as many details as that takes."""
    unit, windows = scene.frame.unit_mm, list[Box]()
    for _ in range(_ROUNDS):
        crowd = crowd_of(scene, unit)
        inside = _inside(scene, windows)
        here = [label for label in wanted if not _told(label, inside)]
        for window in windows:
            crowd.add_line(_outline(window), "window")
        found, left = placed(here, crowd, within, unit)
        joints = {joint for label in left for joint in label.joints} - inside
        if not joints:
            break
        windows = _merged([*windows, *(_window(scene, joint) for joint in sorted(joints))])
    details = tuple(_detail(scene, number, window) for number, window in enumerate(windows, 1))
    inside = _inside(scene, windows)
    rest = [label for label in left if inside.isdisjoint(label.joints)]
    return Arranged(tuple(found), tuple(windows), details, tuple(rest), crowd)


def _told(label: Label, inside: frozenset[str]) -> bool:
    """Whether a label stands in a detail only: all its joints are there, and it is no name."""
    return label.look != "name" and bool(label.joints) and inside.issuperset(label.joints)


def _inside(scene: Scene, windows: Iterable[Box]) -> frozenset[str]:
    return frozenset(
        joint for joint, at in scene.places.items() if any(w.holds(at) for w in windows)
    )


def _window(scene: Scene, joint: str) -> Box:
    """The part of the plate a crowded joint is shown in: its instrument, or all that is near."""
    at, unit = scene.places[joint], scene.frame.unit_mm
    post = scene.posts.get(joint)
    points: list[Point] = [at]
    if post:
        points += [
            scene.places[other.id]
            for other in scene.panel.posts
            if other.instrument == post.instrument
        ]
    else:
        near = box_at(at, 24 * unit, 24 * unit)
        points += [p for name, p in scene.places.items() if near.holds(p)]
    return box_around(points).grown(_AROUND * unit)


def _merged(windows: Iterable[Box]) -> list[Box]:
    """Windows that meet become one."""
    found: list[Box] = []
    for window in windows:
        whole = window
        while meeting := [other for other in found if other.meets(whole)]:
            for other in meeting:
                found.remove(other)
                whole = whole.joined(other)
        found.append(whole)
    return sorted(found, key=lambda box: (round(box.x0), round(box.y0)))


def _detail(scene: Scene, number: int, window: Box) -> Detail:
    """A window at the smallest scale at which all its words find a place."""
    joints = _inside(scene, [window])
    homes = {post.instrument for post in scene.panel.posts if post.id in joints}
    hubs = hubs_of(scene.plan)
    for scale in _ENLARGED:
        unit = scene.frame.unit_mm / scale
        view = Box(
            window.x0 - _SIDE * unit,
            window.y0 - _UPPER * unit,
            window.x1 + _SIDE * unit,
            window.y1 + _UPPER * unit,
        )
        letters = Lettering(unit)
        wanted = chain(
            joint_labels(scene, letters, joints),
            post_labels(scene, letters, joints=joints),
            aboard_labels(scene, letters, joints=joints),
            tag_labels(scene, letters, joints=joints),
            name_labels(scene, letters, hubs, homes),
        )
        # no label and no leader of this window reaches further
        crowd = crowd_of(scene, unit, view.grown((FAR + _UPPER) * unit))
        last = scale == _ENLARGED[-1]
        found, left = placed(wanted, crowd, view, unit, outside=float("inf"), all_or_none=not last)
        if not left:
            break
    used = window.grown(_TRIM * unit)
    for each in found:
        used = used.joined(each.box.grown(_TRIM * unit))
    return Detail(number, window, used, scale, tuple(found), tuple(left), joints)


def _outline(box: Box) -> list[Point]:
    return [
        (box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1), (box.x0, box.y0),
    ]  # fmt: skip
