"""A console moved as a whole: shifted, turned by quarters or mirrored."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from lugwright.scenario.console import Console, Pigtail, Point

Move = Callable[[int, int], tuple[int, int]]

MOVES: dict[str, Move] = {
    "shifted": lambda x, y: (x + 1237, y - 391),
    "quarter turn": lambda x, y: (-y, x),
    "half turn": lambda x, y: (-x, -y),
    "mirrored left to right": lambda x, y: (-x, y),
    "mirrored upside down": lambda x, y: (x, -y),
    "mirrored about the diagonal": lambda x, y: (y, x),
}


def shifted(point: Point, move: Move) -> Point:
    """One point moved in the plane; its height stays."""
    x, y = move(point.x_dmm, point.y_dmm)
    return Point(x, y, point.z_dmm)


def moved(console: Console, move: Move) -> Console:
    """The console with every place moved; round bodies only (a turned rectangle would swap)."""

    def at(point: Point) -> Point:
        return shifted(point, move)

    def pigtail(one: Pigtail | None) -> Pigtail | None:
        return replace(one, entry=at(one.entry)) if one else None

    keep_outs = []
    for keep_out in console.keep_outs:
        x0, y0 = move(keep_out.x0_dmm, keep_out.y0_dmm)
        x1, y1 = move(keep_out.x1_dmm, keep_out.y1_dmm)
        keep_outs.append(replace(keep_out, x0_dmm=x0, y0_dmm=y0, x1_dmm=x1, y1_dmm=y1))
    return replace(
        console,
        instruments=tuple(replace(i, centre=at(i.centre)) for i in console.instruments),
        posts=tuple(replace(p, at=at(p.at)) for p in console.posts),
        circuits=tuple(replace(c, pigtail=pigtail(c.pigtail)) for c in console.circuits),
        tie_points=tuple(replace(t, at=at(t.at)) for t in console.tie_points),
        keep_outs=tuple(keep_outs),
    )
