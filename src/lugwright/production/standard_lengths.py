"""Standard lengths: which K stock lengths waste the least wire, exactly.

Every piece is cut from the shortest standard length that is long enough; what is beyond its need
is wasted. Which lengths to stock is a partition of the sorted needs into K runs, solved by a
dynamic program over the candidates. The step from K − 1 to K lengths takes the least of a set of
lines (slope: pieces already covered), whose slopes fall while the lengths asked for rise, so the
lower hull is walked once: K passes over the candidates, in exact integers.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from lugwright.base.scale import DMM_PER_MM

# Preferred numbers, ISO 3:1973 (Renard series): basic series of one decade, in hundredths.
PREFERRED: Mapping[str, tuple[int, ...]] = {
    "R5": (100, 160, 250, 400, 630),
    "R10": (100, 125, 160, 200, 250, 315, 400, 500, 630, 800),
    "R20": (
        *(100, 112, 125, 140, 160, 180, 200, 224, 250, 280),
        *(315, 355, 400, 450, 500, 560, 630, 710, 800, 900),
    ),
    "R40": (
        *(100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236),
        *(250, 265, 280, 300, 315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600),
        *(630, 670, 710, 750, 800, 850, 900, 950),
    ),
}


@dataclass(frozen=True)
class LengthSet:
    """The best ``len(lengths_dmm)`` standard lengths, ascending, and the wire they waste.

    ``pieces`` says how many pieces each length serves. ``waste_dmm`` is proved least for that
    number of lengths, ``need_dmm`` the wire that is needed whatever is stocked.
    """

    lengths_dmm: tuple[int, ...]
    pieces: tuple[int, ...]
    need_dmm: int
    waste_dmm: int


def series_dmm(name: str, longest_dmm: int) -> tuple[int, ...]:
    """The lengths of a preferred series from 10 mm up to the first that is ``longest_dmm`` or more.

    Rounded to 0.1 mm as the standard writes them. Raises KeyError for a series that is not in
    PREFERRED.
    """
    found: list[int] = []
    decade = DMM_PER_MM // 10  # the hundredths of one decade, read as 0.1 mm from 10 mm up
    while True:
        for step in PREFERRED[name]:
            found.append(step * decade)
            if found[-1] >= longest_dmm:
                return tuple(found)
        decade *= 10


def best_lengths(
    needs: Mapping[int, int], most: int, candidates: Iterable[int] | None = None
) -> tuple[LengthSet, ...]:
    """The best sets of 1, 2, … ``most`` standard lengths (0.1 mm).

    ``needs`` maps a cut length to how many pieces of it are wanted. ``candidates`` are the
    lengths to choose from; without them any length, of which only the needed ones can be best.
    Sets stop early where more lengths than there are useful candidates are asked for. Among sets
    of equal waste the one found first by ascending length stands. Raises ValueError when nothing
    is needed, a number is not positive, or no candidate is as long as the longest need.
    """
    if not needs or min(needs) <= 0 or min(needs.values()) <= 0 or most < 1:
        raise ValueError("lengths and numbers of pieces must be above 0")
    offered = sorted(needs if candidates is None else _useful(candidates, needs))
    if not offered or offered[-1] < max(needs):
        raise ValueError("no length offered is as long as the longest piece")
    covered, sums = _running(offered, needs)
    before = [0, *[None] * len(offered)]
    back: list[list[int]] = []
    for _ in range(min(most, len(offered))):
        before, chosen = _one_more(before, [0, *offered], covered, sums)
        back.append(chosen)
        if before[-1] is None:
            raise RuntimeError("a set of lengths was lost")
    return tuple(_set_of(back[: number + 1], offered, covered, sums) for number in range(len(back)))


def _useful(candidates: Iterable[int], needs: Mapping[int, int]) -> set[int]:
    """Candidates that some need could be cut from with none shorter between them."""
    found, ordered = set(), sorted(set(candidates))
    at = 0
    for need in sorted(needs):
        while at < len(ordered) and ordered[at] < need:
            at += 1
        if at < len(ordered):
            found.add(ordered[at])
    return found


def _running(offered: Sequence[int], needs: Mapping[int, int]) -> tuple[list[int], list[int]]:
    """Pieces no longer than each candidate, and their summed length; a nought in front."""
    covered, sums = [0], [0]
    ordered = sorted(needs.items())
    at = pieces = total = 0
    for length in offered:
        while at < len(ordered) and ordered[at][0] <= length:
            pieces += ordered[at][1]
            total += ordered[at][0] * ordered[at][1]
            at += 1
        covered.append(pieces)
        sums.append(total)
    return covered, sums


def _one_more(
    before: Sequence[int | None],
    lengths: Sequence[int],
    covered: Sequence[int],
    sums: Sequence[int],
) -> tuple[list[int | None], list[int]]:
    """Least waste with one more length, the longest of which is ``lengths[j]``, for every j.

    waste[j] = min over i < j of
    before[i] + lengths[j]·(covered[j] − covered[i]) − (sums[j] − sums[i]).
    ``chosen[j]`` is that i.
    """
    hull: list[tuple[int, int, int]] = []  # slope, height, i; slopes fall, only the lower hull
    first = 0
    after: list[int | None] = [None]
    chosen = [-1]
    for j in range(1, len(lengths)):
        known = before[j - 1]
        if known is not None:
            _lay(hull, (-covered[j - 1], known + sums[j - 1], j - 1))
        first = min(first, max(0, len(hull) - 1))
        x = lengths[j]
        while first + 1 < len(hull) and _at(hull[first + 1], x) < _at(hull[first], x):
            first += 1
        if not hull:
            after.append(None)
            chosen.append(-1)
            continue
        after.append(_at(hull[first], x) + x * covered[j] - sums[j])
        chosen.append(hull[first][2])
    return after, chosen


def _at(line: tuple[int, int, int], x: int) -> int:
    return line[0] * x + line[1]


def _lay(hull: list[tuple[int, int, int]], line: tuple[int, int, int]) -> None:
    """Put a line of a slope not above any before it onto the lower hull."""
    if hull and hull[-1][0] == line[0]:
        if hull[-1][1] <= line[1]:
            return
        hull.pop()
    while len(hull) >= 2 and _hidden(hull[-2], hull[-1], line):
        hull.pop()
    hull.append(line)


def _hidden(a: tuple[int, int, int], b: tuple[int, int, int], c: tuple[int, int, int]) -> bool:
    """True when b is nowhere below both a and c (slopes a > b > c)."""
    return (c[1] - a[1]) * (a[0] - b[0]) <= (b[1] - a[1]) * (a[0] - c[0])


def _set_of(
    back: Sequence[Sequence[int]],
    offered: Sequence[int],
    covered: Sequence[int],
    sums: Sequence[int],
) -> LengthSet:
    """The set that ends in the longest candidate, read back through the choices."""
    lengths: list[int] = []
    pieces: list[int] = []
    j, waste = len(offered), 0
    for chosen in reversed(back):
        i = chosen[j]
        count = covered[j] - covered[i]
        lengths.append(offered[j - 1])
        pieces.append(count)
        waste += offered[j - 1] * count - (sums[j] - sums[i])
        j = i
    return LengthSet(tuple(reversed(lengths)), tuple(reversed(pieces)), sums[-1], waste)
