"""The tags of wires: circuit, number and colour code at each end, on the wire itself.

A wire too short for two tags has one in its middle. A tag that finds no room on its wire stands
beside it with a leader.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from functools import partial

from lugwright.outputs.drawing.frame import Point, line_length, point_along
from lugwright.outputs.drawing.labels import Lettering, around
from lugwright.outputs.drawing.letters import shortened
from lugwright.outputs.drawing.passing_posts import POST
from lugwright.outputs.drawing.placing import CheapFirst, Label, Spot
from lugwright.outputs.drawing.runs import Run
from lugwright.outputs.drawing.scene import Scene

_SHORT = 2.6  # times its tag's width: a shorter wire has one tag, in its middle
FAR = 34.0  # units: no tag is further from its end
_ALONG, _ASIDE = 0.09, 3.0  # prices: per unit from the end, and for standing beside the wire


def tag_words(run: Run) -> str:
    """A wire's tag: its label and its colour code."""
    return f"{shortened(run.wire)} {run.code}".rstrip()


def tag_labels(
    scene: Scene,
    letters: Lettering,
    wires: Container[str] | None = None,
    joints: Container[str] | None = None,
) -> Iterator[Label]:
    """The tags of wires along a path, short wires first.

    ``wires``: of these only. ``joints``: only the tags of ends at these; a wire has one tag in
    its middle only where both its joints are among them.
    """
    chosen = [
        (line_length(line), index, run, line)
        for index, (run, line) in enumerate(zip(scene.runs, scene.lines, strict=True))
        if wires is None or run.wire in wires
        if joints is None or run.from_joint in joints or run.to_joint in joints
    ]
    for whole, _, run, line in sorted(chosen, key=lambda each: each[:2]):
        yield from _tags(run, line, whole, letters, joints)


def _tags(
    run: Run,
    line: tuple[Point, ...],
    whole: float,
    letters: Lettering,
    joints: Container[str] | None,
) -> Iterator[Label]:
    ends = [(run.from_joint, line), (run.to_joint, line[::-1])]
    if joints is not None:
        ends = [(joint, away) for joint, away in ends if joint in joints]
    wide, high = letters.room([tag_words(run)])
    if len(ends) == 2 and run.from_joint and whole < _SHORT * wide:
        yield _tag(run, ("", line), (wide, high), _from_middle(line, whole, letters), letters)
        return
    for joint, away in ends:
        if joint:
            most = min(whole * (0.48 if len(ends) == 2 else 0.9), FAR * letters.unit_mm)
            yield _tag(run, (joint, away), (wide, high), _from_end(most, high, letters), letters)


def _from_middle(line: Sequence[Point], whole: float, letters: Lettering) -> list[float]:
    """How far along a short wire its one tag may stand: its middle first."""
    steps = int(whole * 0.4 / letters.unit_mm)
    return [whole / 2 + aside * letters.unit_mm for k in range(steps + 1) for aside in {k, -k}]


def _from_end(most: float, high: float, letters: Lettering) -> list[float]:
    """How far from its joint a tag may stand: close by first."""
    first = POST * letters.unit_mm + high / 2
    steps = max(0, int((most - first) / letters.unit_mm))
    return [first + k * letters.unit_mm for k in range(steps + 1)]


def _tag(
    run: Run,
    end: tuple[str, Sequence[Point]],
    room: tuple[float, float],
    ways: Sequence[float],
    letters: Lettering,
) -> Label:
    joint, away = end
    anchors = ways[:1] if not joint else ways[4:16:5] or ways[-1:]
    runs: list[Callable[[], Iterable[Spot]]] = [partial(_on_wire, away, ways)]
    runs += [
        partial(_aside, away, way, room, letters, _ASIDE + rank) for rank, way in enumerate(anchors)
    ]
    return Label(
        key=("tag", run.wire, joint),
        lines=(tag_words(run),),
        wide_mm=room[0],
        high_mm=room[1],
        spots=CheapFirst(*runs),
        look="tag",
        owner=run.wire,
        colour=run.colour,
        joints=(joint,) if joint else (run.from_joint, run.to_joint),
    )


def _on_wire(away: Sequence[Point], ways: Sequence[float]) -> Iterator[Spot]:
    """Places on the wire itself."""
    for rank, way in enumerate(ways):
        yield Spot(point_along(away, way), rank * _ALONG)


def _aside(
    away: Sequence[Point],
    way: float,
    room: tuple[float, float],
    letters: Lettering,
    dearer: float,
) -> Iterator[Spot]:
    """Places beside the wire, each with a leader back to it."""
    return around(point_along(away, way), *room, letters, dearer=dearer)
