"""What cutting takes from a length of wire, and what is left: no kerf, a rest to keep, or scrap.

Wire is sheared and not sawn: a cut takes no kerf, so the pieces are all that goes. What is left is
an *offcut* when it is long enough to keep, else scrap. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable


def cut_off_dmm(cuts: Iterable[tuple[int, int]]) -> int:
    """Wire taken by pieces, each a length and how many, 0.1 mm; the cuts take none of it.

    >>> cut_off_dmm([(1000, 3), (400, 1)])
    3400
    """
    return sum(length * count for length, count in cuts)


def scrap_dmm(rest_dmm: int, keep_dmm: int) -> int:
    """What of a rest is scrap: all of it, unless it is long enough to keep.

    >>> scrap_dmm(299, 300), scrap_dmm(300, 300)
    (299, 0)
    """
    return 0 if rest_dmm >= keep_dmm else rest_dmm
