"""Whether the place a waiver names is there, and one its limit means something at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from lugwright.base.errors import Complaint
from lugwright.base.spelling import did_you_mean
from lugwright.base.toml import TomlFile
from lugwright.limits.schema import Limits
from lugwright.limits.waivable import WAIVABLE, PlaceKind
from lugwright.limits.waivers import TABLE
from lugwright.scenario.console import Circuit, Console

_SHOWN = 24


def waiver_faults(console: Console, limits: Limits, toml: TomlFile) -> Iterator[Complaint]:
    """A complaint for every waiver whose place the console does not have."""
    places = _places(console)
    standing = {(waiver.limit, waiver.place) for waiver in limits.waivers}
    for index, table in enumerate(toml.values.get(TABLE, ())):
        name, place = table.get("limit"), str(table.get("place", "")).strip()
        if (name, place) not in standing:
            continue
        kind = WAIVABLE[name]
        if place in places[kind]:
            continue
        message = f'{name} is waived at a {kind}, and "{place}" is none'
        path = (TABLE, index, "place")
        yield toml.complaint(
            path, f"waiver {index + 1}, place", message, _hint(place, places[kind])
        )


def _hint(place: str, there: list[str]) -> str:
    near = did_you_mean(place, there)
    shown = ", ".join(there[:_SHOWN]) + (" and others" if len(there) > _SHOWN else "")
    return f"{near} there is: {shown}".strip() if there else "this console has none"


def _is_behind_a_fuse(console: Console, circuit: Circuit) -> bool:
    """True for a circuit that starts at a fuse: its pigtail's, or that of a way."""
    if circuit.pigtail is not None:
        return circuit.pigtail.fuse_ma > 0
    return bool(circuit.supplied_by) and console.way_to(circuit.supplied_by).is_fused


def _places(console: Console) -> Mapping[PlaceKind, list[str]]:
    """Every place of each kind, by name."""
    by_class: dict[str, list[str]] = {"critical": [], "other": []}
    for load in console.loads:
        by_class[load.drop_class].append(load.name)
    for boat_block in console.boat_blocks:
        if not boat_block.is_sender and boat_block.drawn_from and boat_block.current_ma:
            by_class[boat_block.drop_class].append(boat_block.name)
    kinds = {post.id: post.kind for post in console.posts}
    fused = [c.name for c in console.circuits if _is_behind_a_fuse(console, c)]
    senders = [one.name for one in console.boat_blocks if one.is_sender and one.current_ma]
    return {
        "stud": [post for post, kind in kinds.items() if kind == "stud"],
        "stud or tab": [post for post, kind in kinds.items() if kind in ("stud", "tab")],
        "critical load": sorted(by_class["critical"]),
        "other load": sorted(by_class["other"]),
        "sender": senders,
        "circuit behind a fuse": fused,
        "circuit": [circuit.name for circuit in console.circuits],
    }
