"""Ties: at every tie point in use, and one per support distance along what is longer."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from lugwright.assemble.wires import Wires
from lugwright.base.scale import ceil_hypot
from lugwright.limits.schema import Limits
from lugwright.plans.schema import Stage, Tie
from lugwright.routes.schema import Corner, Path
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console


@dataclass(frozen=True)
class TieList:
    """Ties, and which of them wait until the panel is aboard."""

    ties: tuple[Tie, ...]
    aboard: frozenset[str]


def between(length_dmm: int, support_dmm: int) -> int:
    """Supports a run needs: one per support distance where it is longer than one."""
    if support_dmm <= 0 or length_dmm <= support_dmm:
        return 0
    return length_dmm // support_dmm


def build_ties(brief: Brief, cut: Wires) -> TieList:
    """Ties of the plan. A place that only aboard wires use is tied aboard."""
    console, limits = brief.console, brief.limits
    stages: dict[str, Stage] = {jumper.label: jumper.stage for jumper in cut.jumpers}
    stages |= {item.wire: item.stage for item in cut.given}
    # An extension lies on the way of the wire it lengthens, which is counted already.
    skipped = {jumper.label for jumper in cut.jumpers if jumper.role == "extension"}
    paths = {name: path for name, path in cut.paths.items() if name not in skipped}
    counts: dict[str, int] = {}
    used_at: dict[str, set[Stage]] = {}
    for name in sorted(paths):
        places = _places(name, paths[name], limits, bool(console.tie_points))
        for where, count in places.items():
            counts[where] = max(counts.get(where, 0), count)
            used_at.setdefault(where, set()).add(stages[name])
    ties = tuple(Tie(where=where, count=counts[where]) for where in _sorted(counts, console))
    aboard = frozenset(where for where in counts if used_at[where] == {"aboard"})
    return TieList(ties, aboard)


def _places(name: str, path: Path, limits: Limits, loom: bool) -> dict[str, int]:
    """Where one wire is tied, and how often."""
    support = limits.support_distance_dmm
    if not loom:
        count = between(path.path_dmm, support)
        return {f"along {name}": count} if count else {}
    found = {corner.tie: 1 for corner in path.corners if corner.tie}
    spur = 0
    for before, after in zip(path.corners, path.corners[1:], strict=False):
        count = between(_leg_dmm(before, after), support)
        if before.tie and after.tie:
            one, other = sorted((before.tie, after.tie))
            if count:
                found[f"between {one} and {other}"] = count
        else:
            spur += count
    if spur:
        found[f"along {name}"] = spur
    return found


def _leg_dmm(before: Corner, after: Corner) -> int:
    dx = after.at.x_dmm - before.at.x_dmm
    dy = after.at.y_dmm - before.at.y_dmm
    return ceil_hypot(dx, dy) + abs(after.at.z_dmm - before.at.z_dmm)


def _sorted(counts: Mapping[str, int], console: Console) -> Iterable[str]:
    """Tie points first, then the runs between and along; each by name."""
    points = {point.name for point in console.tie_points}
    return sorted(counts, key=lambda where: (where not in points, where))
