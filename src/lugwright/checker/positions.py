"""Positions of devices as the second opinion sees them: what conducts, what has supply then.

``worst_positions`` are the settings that any figure can be largest in; ``reached`` says which
circuits current comes to through given ways.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from itertools import product

from lugwright.base.positions import LANYARD
from lugwright.scenario.console import Console, Instrument, Way

Closed = frozenset[str]
"""Far posts of the ways that conduct."""

MOST_SETTINGS = 4096


def feed_ways(console: Console) -> tuple[Way, ...]:
    """Ways on the feed side; stop ways lead to ground."""
    return tuple(way for way in console.ways if way.kind != "stop")


def is_fitted(way: Way) -> bool:
    """False for a holder without its fuse."""
    return way.amperes_ma > 0 if way.kind in ("fuse", "breaker") else True


def settings_of(device: Instrument) -> tuple[frozenset[str], ...]:
    """Every setting of one device: a position of its own, and one of its lanyard."""
    own = device.positions or ("",)
    cord = LANYARD if device.lanyard else ("",)
    return tuple(frozenset({one, other} - {""}) for one, other in product(own, cord))


def closed_by(ways: Iterable[Way], setting: frozenset[str]) -> Closed:
    """What conducts of some ways of a device in a setting, its fuses in and breakers closed."""
    return frozenset(
        way.far
        for way in ways
        if is_fitted(way) and (not way.closed or not setting.isdisjoint(way.closed))
    )


def worst_positions(console: Console) -> tuple[Closed, ...]:
    """What conducts in each setting of all devices together, at least one.

    A setting of a device that closes less than another of its own makes no figure larger: loads
    draw what they draw, and fewer are on. Raises ValueError where there are too many to look at.
    """
    choices: list[list[Closed]] = []
    many = 1
    for device in console.instruments:
        own = [way for way in feed_ways(console) if way.instrument == device.name]
        found = {closed_by(own, setting) for setting in settings_of(device)}
        largest = [one for one in found if not any(one < other for other in found)]
        choices.append(sorted(largest, key=sorted))
        many *= len(largest)
    if many > MOST_SETTINGS:
        raise ValueError(f"the devices have {many} settings to look at")
    return tuple(frozenset().union(*chosen) for chosen in product(*choices))


def reached(console: Console, closed: Collection[str], fed: Iterable[str]) -> frozenset[str]:
    """Circuits that current comes to from those fed, through the ways that conduct."""
    seen = set(fed)
    before = -1
    while before != len(seen):
        before = len(seen)
        ends = {post for row in console.circuits if row.name in seen for post in row.posts}
        far = {way.far for way in console.ways if way.near in ends and way.far in closed}
        seen |= {
            row.name
            for row in console.circuits
            if row.taken_from in seen or (row.supplied_by and row.supplied_by in far)
        }
    return frozenset(seen)


def pigtail_feeds(console: Console) -> frozenset[str]:
    """Feed circuits with a pigtail of their own."""
    return frozenset(row.name for row in console.circuits if row.pigtail and row.side == "feed")


def rest_setting(device: Instrument) -> frozenset[str]:
    """A device left alone: its first position, the lanyard in."""
    return settings_of(device)[0]


def closed_at(console: Console, positions: dict[str, frozenset[str]]) -> Closed:
    """What conducts with some devices in given settings and the others at rest."""
    found: set[str] = set()
    for device in console.instruments:
        own = [way for way in feed_ways(console) if way.instrument == device.name]
        found |= closed_by(own, positions.get(device.name, rest_setting(device)))
    return frozenset(found)
