"""Finding a place for every label: candidates are tried in the order of their own worth.

A label may never cover another label or a post; it may cover foreign wires where nothing better
is left, at a price per unit covered. One that stands away from what it names gets a leader.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from heapq import merge
from operator import attrgetter
from typing import Literal, NamedTuple

from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import Box, Point

_COVERED, _CROSSED, _OUTSIDE = 1.2, 0.6, 4.0  # prices: per unit covered, per line crossed, beyond
WORST = 16.0  # a dearer place is no place: the label goes into a detail


class Spot(NamedTuple):
    """A candidate: the middle of the label, its own price, where a leader would point."""

    centre: Point
    price: float
    to: Point | None = None


PRICE = attrgetter("price")


class CheapFirst:
    """Places made one by one, cheapest first: most labels take one of the first they are offered.

    Each run goes from cheap to dear; of equal prices an earlier run's come first.
    """

    def __init__(self, *runs: Callable[[], Iterable[Spot]]) -> None:
        self._runs = runs

    def __iter__(self) -> Iterator[Spot]:
        if len(self._runs) == 1:
            return iter(self._runs[0]())
        return merge(*(run() for run in self._runs), key=PRICE)


@dataclass(frozen=True)
class Label:
    """Words that want a place. ``owner`` is the wire whose line it may stand on.

    ``spots`` are in any order, or made cheapest first. ``key`` tells what it names:
    ``("post", id)``, ``("tag", wire, joint)`` and so on; ``joints`` are those it stands for.
    ``colour`` is that of the wire.
    """

    key: tuple[str, ...]
    lines: tuple[str, ...]
    wide_mm: float
    high_mm: float
    spots: Sequence[Spot] | CheapFirst
    look: Literal["tag", "plain", "name", "aboard", "faint"] = "plain"
    owner: str = ""
    joints: tuple[str, ...] = ()
    colour: str = ""


@dataclass(frozen=True)
class Placed:
    """A label with its place; ``leader`` from the box to what it names."""

    label: Label
    box: Box
    leader: tuple[Point, Point] | None


def placed(
    labels: Iterable[Label],
    crowd: Crowd,
    within: Box,
    unit_mm: float,
    worst: float = WORST,
    outside: float = _OUTSIDE,
    *,
    all_or_none: bool = False,
) -> tuple[list[Placed], list[Label]]:
    """Every label with its place, and those for which there is none cheaper than ``worst``.

    ``outside`` is the price of a place that is not all ``within``. With ``all_or_none`` the first
    label without a place ends it: the others are not tried.
    """
    found, left = list[Placed](), list[Label]()
    for label in labels:
        best = _best(label, crowd, within, unit_mm, (worst, outside))
        if best is None:
            left.append(label)
            if all_or_none:
                break
            continue
        crowd.add_box(best.box)
        if best.leader:
            crowd.add_line(best.leader)
        found.append(best)
    return found, left


def _best(
    label: Label, crowd: Crowd, within: Box, unit_mm: float, prices: tuple[float, float]
) -> Placed | None:
    best, (cost, outside) = None, prices
    spots, half_wide, half_high = label.spots, label.wide_mm / 2, label.high_mm / 2
    left, upper, right, lower = within
    for centre, own, to in spots if isinstance(spots, CheapFirst) else sorted(spots, key=PRICE):
        if own >= cost:
            break
        x, y = centre
        x0, y0, x1, y1 = x - half_wide, y - half_high, x + half_wide, y + half_high
        inside = x0 >= left and x1 <= right and y0 >= upper and y1 <= lower
        price = own + (0.0 if inside else outside)
        if price >= cost:
            continue
        box = Box(x0, y0, x1, y1)
        if crowd.is_taken(box):
            continue
        price += crowd.covered_mm(box, label.owner) * _COVERED / unit_mm
        if price >= cost:
            continue
        leader = leader_of(box, to) if to else None
        if leader:
            if crowd.blocks(*shrunk(leader)):
                continue
            price += _CROSSED * crowd.crossings(*leader, label.owner)
        if price < cost:
            best, cost = Placed(label, box, leader), price
    return best


def leader_of(box: Box, to: Point) -> tuple[Point, Point] | None:
    """From the nearest point of a box to what it names; none where the box stands on it."""
    x = min(max(to[0], box.x0), box.x1)
    y = min(max(to[1], box.y0), box.y1)
    return None if (x, y) == to else ((x, y), to)


def shrunk(leader: tuple[Point, Point]) -> tuple[Point, Point]:
    """The leader without its two ends, which touch a box and a post by right."""
    (ax, ay), (bx, by) = leader
    return (
        (ax + (bx - ax) * 0.02, ay + (by - ay) * 0.02),
        (ax + (bx - ax) * 0.7, ay + (by - ay) * 0.7),
    )
