"""What was decided, and nothing else: the bare answer before it is worked up into a plan.

A choice comes from the model, from the hand plan, or from a written jumper list. ``assemble``
turns it into a ``Plan`` (labels, order on the studs, steps, totals).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lugwright.base.identity import JointId, WireId


@dataclass(frozen=True, order=True)
class WireKey:
    """One wire, named by what it is.

    ``jumper``: ``name`` is the circuit, ``a`` and ``b`` its joints (``a`` on the supply side).
    ``extension``: ``name`` is the given wire it lengthens. ``given``: ``name`` is the wire's id
    (``pigtail CIRCUIT``, ``lead POST``, or a boat wire's id).
    """

    sort: Literal["jumper", "extension", "given"]
    name: str
    a: str = ""
    b: str = ""


@dataclass(frozen=True, order=True)
class ChosenJumper:
    """A jumper of a circuit from joint ``a`` (supply side) to ``b``: post or splice ids."""

    circuit: str
    a: JointId
    b: JointId
    wire_size: str

    @property
    def key(self) -> WireKey:
        """The name of this wire."""
        return WireKey("jumper", self.circuit, self.a, self.b)


@dataclass(frozen=True, order=True)
class ChosenExtension:
    """An extension of a given wire (``pigtail ignition``), in a size and colour of the stock."""

    wire: WireId
    wire_size: str
    colour: str

    @property
    def key(self) -> WireKey:
        """The name of this wire."""
        return WireKey("extension", self.wire)


@dataclass(frozen=True, order=True)
class ChosenFitting:
    """A fitting at a joint: lug or push-on on a post, lead joint, splice, or extension butt.

    ``joint`` is a post id, a splice id, or ``join WIRE`` for the butt of an extension.
    ``barrels`` names the wires in each barrel; which end of the wire follows from the joint.
    """

    joint: JointId
    item: str
    barrels: tuple[tuple[WireKey, ...], ...]
    folded: bool = False


@dataclass(frozen=True)
class Choice:
    """Everything that was decided. ``landings``: each circuit with a pigtail and its post.

    ``ends``: each lead with a length that is joined, and the place of its end.
    """

    landings: tuple[tuple[str, JointId], ...]
    jumpers: tuple[ChosenJumper, ...]
    extensions: tuple[ChosenExtension, ...]
    fittings: tuple[ChosenFitting, ...]
    ends: tuple[tuple[JointId, JointId], ...] = ()
