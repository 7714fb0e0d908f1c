"""Circuits taken from another: lamps from ignition unless the file says otherwise."""

from __future__ import annotations

from collections.abc import Container, Iterable

from lugwright.base.errors import Complaint
from lugwright.scenario.complaints import DID_YOU_MEAN, NOT_SAYABLE, nearest
from lugwright.scenario.console import Side
from lugwright.scenario.draft import Draft
from lugwright.scenario.schema import CircuitPart

CIRCUITS = ("circuit",)
LAMPS = "lamps"
IGNITION = "ignition"
GROUND = "ground"


def host_of(name: str, part: CircuitPart | None, supplied: Container[str]) -> str:
    """The circuit that one without a supply of its own is taken from, "" where there is none.

    As stated; lamps of which nothing is said are taken from ignition, where that is ``supplied``
    by a pigtail or a way.
    """
    stated = (part.taken_from if part else None) or ""
    return IGNITION if not stated and name == LAMPS and IGNITION in supplied else stated


def taken_from_fault(
    draft: Draft, name: str, side: Side, host: str, supplied: Iterable[str]
) -> Complaint | None:
    """What is wrong with taking a circuit from ``host``: only a feed with a supply is one."""
    if draft.lost.supplies:
        return None  # what it is taken from may have been left out
    if host not in supplied:
        message = f'it is taken from "{host}", which has no pigtail'
        hint = nearest(host, supplied)
        if not hint.startswith(DID_YOU_MEAN):
            hint = f"nothing is taken from a circuit past a switch, fuse or dimmer; {NOT_SAYABLE}"
        return of_circuit(draft, name, "taken_from", message, hint)
    if side == "ground" or host == GROUND or _is_stop(draft, host):
        return of_circuit(draft, name, "taken_from", "only a feed is taken from a feed")
    return None


def _is_stop(draft: Draft, name: str) -> bool:
    """True for a circuit that a pigtail stops an engine by."""
    return any(
        pigtail.circuit == name and pigtail.role == "stop" for pigtail in draft.pigtails
    )


def of_circuit(draft: Draft, name: str, key: str, message: str, hint: str = "") -> Complaint:
    """A complaint at a key of a ``[[circuit]]`` table."""
    index = next(i for i, part in enumerate(draft.part.circuit) if part.name == name)
    return draft.complain(draft.path(CIRCUITS, index, key), message, hint)
