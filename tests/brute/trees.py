"""Every labelled tree on n points, with the degree of each point held between two bounds.

Each tree on n >= 2 labelled points is one sequence of n - 2 labels, and the other way round; a
point of degree d stands d - 1 times in it. Hence n^(n-2) trees (A. Cayley, "A theorem on trees",
Quarterly Journal of Mathematics 23, 1889; the sequence: H. Prüfer, "Neuer Beweis eines Satzes
über Permutationen", Archiv der Mathematik und Physik 27, 1918).
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

Edges = tuple[tuple[int, int], ...]


def _sequences(length: int, least: list[int], most: list[int]) -> Iterator[tuple[int, ...]]:
    """Every sequence in which label i stands ``least[i]`` to ``most[i]`` times."""
    if sum(count for count in least if count > 0) > length:
        return
    if length == 0:
        yield ()
        return
    for label in range(len(least)):
        if most[label] < 1:
            continue
        least[label] -= 1
        most[label] -= 1
        for rest in _sequences(length - 1, least, most):
            yield (label, *rest)
        least[label] += 1
        most[label] += 1


def _edges(sequence: tuple[int, ...], points: int) -> list[tuple[int, int]]:
    """The tree of a sequence: join the smallest leaf to the next label, again and again."""
    degree = [1 + sequence.count(point) for point in range(points)]
    edges = []
    for label in sequence:
        leaf = degree.index(1)
        edges.append((leaf, label))
        degree[leaf] = 0
        degree[label] -= 1
    first, second = (point for point in range(points) if degree[point] == 1)
    edges.append((first, second))
    return edges


def _from_root(edges: list[tuple[int, int]]) -> Edges:
    """The same edges as (nearer point 0, farther), nearest first."""
    ordered: list[tuple[int, int]] = []
    reached = [0]
    for point in reached:
        for a, b in edges:
            other = b if a == point else a if b == point else None
            if other is not None and other not in reached:
                ordered.append((point, other))
                reached.append(other)
    return tuple(ordered)


@cache
def rooted_trees(least_degree: tuple[int, ...], most_degree: tuple[int, ...]) -> tuple[Edges, ...]:
    """Every tree on the points 0..n-1 with these degrees, directed away from point 0."""
    points = len(least_degree)
    if points == 1:
        return ((),)
    least = [degree - 1 for degree in least_degree]
    most = [degree - 1 for degree in most_degree]
    if min(most) < 0:
        return ()
    found = _sequences(points - 2, least, most)
    return tuple(_from_root(_edges(sequence, points)) for sequence in found)
