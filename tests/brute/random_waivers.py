"""A random case with limits tightened, and waived again at some of the places they bind.

Half the waivers give a place back what counted before, so that they are worth something; the
others give a little more or a little less.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from random import Random

from brute.case import Case
from brute.random_consoles import random_case
from lugwright.base.origin import Origin
from lugwright.limits.schema import Limits
from lugwright.limits.spec import SizeValue
from lugwright.limits.waivable import Waiver

ORIGIN = Origin("scenario", "case.toml", 1)
Draw = tuple[str, list[str], int, int]
"""A limit, the places it means something at, its tightened value and the value before."""


def waived_case(seed: int) -> Case:
    """A small random case with waivers; the same seed gives the same case."""
    case = random_case(seed)
    rng = Random(seed + 77_000_003)
    draws = [draw for draw in _draws(case, rng) if draw[1]]
    chosen = rng.sample(draws, min(len(draws), rng.randint(1, 3)))
    limits, waivers = case.limits, []
    for name, places, tight, before in chosen:
        limits = _set(limits, name, tight)
        few = rng.randint(1, max(1, len(places) * 2 // 3))
        for place in rng.sample(places, few):
            waivers.append(
                _waiver(name, place, rng.choice((before, before, (tight + before) // 2)))
            )
    kept = tuple(w for w in waivers if w.number != _number(limits, w.limit))
    return replace(case, limits=replace(limits, waivers=kept))


def without_waivers(case: Case) -> Case:
    """The same with no waiver."""
    return replace(case, limits=replace(case.limits, waivers=()))


def _draws(case: Case, rng: Random) -> Iterator[Draw]:
    console, limits = case.console, case.limits
    studs = [post.id for post in console.posts if post.kind == "stud"]
    posts = [post.id for post in console.posts if post.kind in ("stud", "tab")]
    fused = [c.name for c in console.circuits if c.pigtail and c.pigtail.fuse_ma]
    yield "lugs_per_stud", studs, max(1, limits.lugs_per_stud - 1), limits.lugs_per_stud
    barrel = limits.wires_per_barrel
    yield "wires_per_barrel", posts, 1, max(2, barrel)
    yield "showing_thread", studs, limits.showing_thread_permille + 1500, rng.choice((0, 1000))
    for name in ("critical", "other"):
        loads = [load.name for load in console.loads if load.drop_class == name]
        loads += [
            one.name
            for one in console.boat_blocks
            if not one.is_sender and one.drawn_from and one.current_ma and one.drop_class == name
        ]
        share = limits.drop_critical_permille if name == "critical" else limits.drop_other_permille
        yield f"drop_{name}", loads, max(1, share * rng.choice((6, 8, 9)) // 10), share
    yield "fuse_share", fused, 700, limits.fuse_permille
    yield "load_share", fused, 400, limits.load_permille
    yield "fuse_distance", fused, 500, limits.fuse_distance_dmm
    thick = max(limits.minimum_area_um2, rng.choice((2_000_000, 3_200_000)))
    yield "minimum_size", [c.name for c in console.circuits], thick, limits.minimum_area_um2
    if limits.ground_shift_mv is not None:
        senders = [one.name for one in console.boat_blocks if one.is_sender and one.current_ma]
        yield "ground_shift", senders, max(1, limits.ground_shift_mv // 3), limits.ground_shift_mv


def _waiver(name: str, place: str, number: int) -> Waiver:
    value = SizeValue("none", number) if name == "minimum_size" else number
    return Waiver(name, place, value, "tried out", "AB", "2026-01-31", ORIGIN)


FIELDS = {
    "lugs_per_stud": "lugs_per_stud",
    "wires_per_barrel": "wires_per_barrel",
    "showing_thread": "showing_thread_permille",
    "drop_critical": "drop_critical_permille",
    "drop_other": "drop_other_permille",
    "fuse_share": "fuse_permille",
    "load_share": "load_permille",
    "fuse_distance": "fuse_distance_dmm",
    "minimum_size": "minimum_area_um2",
    "ground_shift": "ground_shift_mv",
}


def _set(limits: Limits, name: str, number: int) -> Limits:
    changes: dict[str, int] = {FIELDS[name]: number}
    return replace(limits, **changes)  # type: ignore[arg-type]


def _number(limits: Limits, name: str) -> int:
    number: int = getattr(limits, FIELDS[name])
    return number
