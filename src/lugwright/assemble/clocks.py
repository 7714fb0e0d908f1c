"""Clock positions of the lugs on a stud: each barrel towards where its wire leaves.

It never changes cost or what is allowed; it only says how to turn each lug, seen from the back.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import atan2, degrees

from lugwright.base.scale import ceil_div

HOURS = 12
HOUR_DEG = 30


def heading_deg(direction: tuple[int, int]) -> int | None:
    """Whole degrees clockwise from twelve o'clock, back view; None without a direction.

    No rational slope has an angle of exactly half a degree, so the rounding is the same on
    every machine.
    """
    dx, dy = direction
    if direction == (0, 0):
        return None
    return round(degrees(atan2(dx, dy))) % 360


def clock_positions(
    directions: Sequence[tuple[int, int]], widest_deg: int, reserved: int
) -> tuple[int, ...]:
    """The hour (1..12) of each lug, nearest to its direction with room between barrels.

    ``widest_deg`` is the room one barrel needs, ``reserved`` lugs keep free hours. Where whole
    hours are too coarse for that room, the lugs are spread evenly. Ties: the earliest hours.
    """
    lugs = len(directions)
    if lugs == 0:
        return ()
    apart = max(1, min(ceil_div(widest_deg, HOUR_DEG), HOURS // (lugs + reserved)))
    headings = [heading_deg(direction) for direction in directions]
    # Lugs keep the order of their headings round the stud, so only turns of it are tried.
    around = sorted(range(lugs), key=lambda lug: (headings[lug] or 0, lug))
    best: tuple[int, tuple[int, ...]] | None = None
    for hours in combinations(range(1, HOURS + 1), lugs):
        if not _room(hours, apart, reserved):
            continue
        for turn in range(lugs):
            placed = [0] * lugs
            for step, lug in enumerate(around):
                placed[lug] = hours[(step + turn) % lugs]
            off = sum(_off_deg(headings[lug], placed[lug]) for lug in range(lugs))
            if best is None or (off, tuple(placed)) < best:
                best = (off, tuple(placed))
    # More lugs than hours: no clock tells them apart, they go round in order.
    return best[1] if best else tuple(lug % HOURS + 1 for lug in range(lugs))


def _room(hours: Sequence[int], apart: int, reserved: int) -> bool:
    """Whether neighbours round the clock are far enough apart, reserved lugs included."""
    turned = [*hours[1:], hours[0] + HOURS]
    gaps = [after - before for before, after in zip(hours, turned, strict=True)]
    return min(gaps) >= apart and sum(gap // apart - 1 for gap in gaps) >= reserved


def _off_deg(heading: int | None, hour: int) -> int:
    """How far an hour is off a heading, degrees; 0 where there is none."""
    if heading is None:
        return 0
    off = abs(heading - hour * HOUR_DEG) % 360
    return min(off, 360 - off)
