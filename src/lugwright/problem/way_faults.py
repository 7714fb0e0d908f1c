"""What is wrong with a console's ways whatever is chosen: ratings, fuses, sums at near posts."""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.base.scale import amps_text
from lugwright.limits.schema import Limits
from lugwright.plans.outcome import Reason
from lugwright.scenario.console import Circuit, Console
from lugwright.trade.demand import continuous_totals
from lugwright.trade.fuses import fuse_ahead
from lugwright.trade.names import strap_name
from lugwright.trade.ratings import WayLoad, factors_of, near_loads, way_loads

GIVEN = "scenario"


def way_faults(console: Console, limits: Limits) -> Iterator[Reason]:
    """Ways that carry more than they may, fuses loaded too far, near posts that bring too much."""
    continuous = continuous_totals(console) if console.ways else {}
    for load in way_loads(console, limits):
        yield from _rating(console, limits, load)
        if load.way.amperes_ma:  # a breaker that protects nothing may trip all the same
            yield from loaded_too_far(
                limits,
                load.way.far,
                load.circuit,
                load.way.amperes_ma,
                (load.current_ma, continuous[load.circuit]),
            )
    yield from _near_posts(console)
    yield from _straps(console)


def _rating(console: Console, limits: Limits, load: WayLoad) -> Iterator[Reason]:
    """What flows, times the kind of load in a switch, against what a way carries. Rule R33."""
    way = load.way
    if not way.carries_ma or load.factored_ma <= way.carries_ma:
        return
    origin, text = GIVEN, f"the {way.kind} carries more than it may"
    if load.factored_ma != load.current_ma:
        origin = limits.origin(factors_of(console))
        text += f", {amps_text(load.current_ma)} A times the kinds of its loads"
    yield _over("current limit", way.far, text, load.factored_ma, way.carries_ma, origin)


def loaded_too_far(
    limits: Limits, place: str, circuit: str, fuse_ma: int, loads_ma: tuple[int, int]
) -> Iterator[Reason]:
    """The load of a fuse over its share: ``loads_ma`` is all of it, and what is on for long.

    Momentary loads count only against the fuse itself. Rule R16.
    """
    total, continuous = loads_ma
    limit = fuse_ma * limits.at("load_permille", circuit) // 1000
    if continuous > limit:
        origin = limits.origin_at("load_permille", circuit)
        yield _over("fuse", place, "loads its fuse too far", continuous, limit, origin)
    elif continuous < total > fuse_ma:
        text = "loads its fuse too far, momentary loads counted"
        yield _over("fuse", place, text, total, fuse_ma, GIVEN)


def _near_posts(console: Console) -> Iterator[Reason]:
    """All ways of a near post together; and for a block of fuses the fuse ahead of it (ABYC E-11,
    from memory: a fuse ahead of a bus is at most what the bus carries)."""
    circuit_of: dict[str, Circuit] = {p: c for c in console.circuits for p in c.posts}
    for post, current in sorted(near_loads(console).items()):
        limit = console.instrument(console.post(post).instrument).carries_in_ma
        if not limit or post not in circuit_of:
            continue
        if current > limit:
            text = "its ways together carry more than may come in here"
            yield _over("current limit", post, text, current, limit, GIVEN)
        ahead = fuse_ahead(console, circuit_of[post])
        fused = any(way.near == post and way.kind in ("fuse", "breaker") for way in console.ways)
        if fused and ahead.ma > limit:
            text = "the fuse ahead of it is larger than what may come in here"
            yield _over("fuse", post, text, ahead.ma, limit, GIVEN)


def _straps(console: Console) -> Iterator[Reason]:
    """The fuse ahead of a strap, which is a bus: at most what it carries (ABYC E-11, from memory).

    Rule R35.
    """
    for strap in console.straps:
        circuit = console.circuit(console.post(strap.posts[0]).circuit)
        ahead = fuse_ahead(console, circuit)
        if 0 < strap.carries_ma < ahead.ma:
            text = "the fuse ahead of it is larger than what it carries"
            yield _over("fuse", strap_name(strap.name), text, ahead.ma, strap.carries_ma, GIVEN)


def _over(rule: str, place: str, text: str, measured: int, limit: int, origin: str) -> Reason:
    return Reason(rule, place, text, f"{amps_text(measured)} A", f"{amps_text(limit)} A", origin)
