"""Every wire whose path the plan states: cut wires, and given wires from their entry."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lugwright.checker.facts import Facts
from lugwright.plans.schema import Jumper, Waypoint
from lugwright.scenario.console import Point


@dataclass(frozen=True)
class Routed:
    """A path with what it is judged by.

    ``start`` and ``end`` are where it must begin and end (None: not known). ``joints`` are their
    names, "" for an entry; they are never in the wire's way. ``direct``: it joins posts of one
    instrument, so no tie point is asked of it. ``either_way``: it may be written from its end to
    its start.
    """

    name: str
    path: tuple[Waypoint, ...]
    start: Point | None
    end: Point | None
    joints: tuple[str, str]
    direct: bool
    either_way: bool


def routed_wires(facts: Facts) -> Iterator[Routed]:
    """Jumpers and extensions, then pigtails and boat wires whose entry is stated.

    A wire for which the plan states no path comes with an empty one, except an extension: its
    path is that of the wire it lengthens.
    """
    for wire in facts.plan.jumpers:
        if wire.role == "jumper":
            yield _jumper(facts, wire)
        elif wire.path:
            yield _extension(facts, wire)
    for given in facts.panel_wires.values():
        row = facts.given.get(given.name)
        if row and given.sort != "lead" and (given.entry or row.path):
            end = facts.at(given.post)
            yield Routed(given.name, row.path, given.entry, end, ("", given.post), False, False)


def _jumper(facts: Facts, wire: Jumper) -> Routed:
    joints = (wire.from_joint, wire.to_joint)
    instruments = {
        facts.posts[joint].instrument if joint in facts.posts else f"at {joint}" for joint in joints
    }
    start, end = facts.at(wire.from_joint), facts.at(wire.to_joint)
    return Routed(wire.label, wire.path, start, end, joints, len(instruments) == 1, False)


def _extension(facts: Facts, wire: Jumper) -> Routed:
    """An extension's path is the whole way of the wire it lengthens."""
    given = facts.panel_wires.get(facts.lengthened_by(wire.label))
    start, end = (given.entry, facts.at(given.post)) if given else (None, None)
    return Routed(wire.label, wire.path, start, end, (wire.from_joint, wire.to_joint), False, True)
