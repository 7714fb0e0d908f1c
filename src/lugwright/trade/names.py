"""Names of wires, joints and wire ends: the one place that spells them and reads them back.

=============================  =====================================================
``pigtail ignition``           the pigtail of a circuit
``lead depth.ignition``        the lead of an instrument, by its post
``fuel sender: pink``          a boat wire: its block and its conductor
``ground 3``                   a cut wire: its circuit, or the series it is numbered in
``join pigtail ignition``      the butt that lengthens a given wire
``splice ground 1``            a splice in mid-air
``ground 3-a``                 an end of a cut wire
``ready fuel sender: pink``    the ready-made ring of a given wire, as a part of a step
``boat wires fuel sender``     what a block puts on a post, as a group of wire ends
``end of fuel sender: pink``   the bare end of a boat wire, as a type of wire end
``fuel.ground: end at …``      the free end of a lead, by the splice point where it may go
``strap main bar``             a strap, by the lug it has on each of its studs
=============================  =====================================================

A post is a joint by its own id. Where a name is read back, a name of another sort comes back as
it is: ``circuit_of_pigtail("ground")`` is ``ground``, so that it may be asked of the group of a
circuit and of its pigtail alike.
"""

from __future__ import annotations

from lugwright.base.identity import JointId, WireId

_PIGTAIL, _LEAD, _JOIN = "pigtail ", "lead ", "join "
_SPLICE, _READY, _BOAT_WIRES, _BARE = "splice ", "ready ", "boat wires ", "end of "
_STRAP = "strap "
_END_AT = ": end at "


def pigtail_wire(circuit: str) -> WireId:
    """The pigtail of a circuit.

    >>> pigtail_wire("ignition")
    'pigtail ignition'
    """
    return WireId(_PIGTAIL + circuit)


def is_pigtail(name: str) -> bool:
    """Whether a wire is a pigtail."""
    return name.startswith(_PIGTAIL)


def circuit_of_pigtail(name: str) -> str:
    """Whose pigtail a wire is; any other name as it is.

    >>> circuit_of_pigtail("pigtail ignition"), circuit_of_pigtail("ground")
    ('ignition', 'ground')
    """
    return name.removeprefix(_PIGTAIL)


def lead_wire(post: str) -> WireId:
    """The lead an instrument has in place of a stud or tab."""
    return WireId(_LEAD + post)


def is_lead(name: str) -> bool:
    """Whether a wire is the lead of an instrument."""
    return name.startswith(_LEAD)


def post_of_lead(name: str) -> str:
    """Which post a lead is; any other name as it is."""
    return name.removeprefix(_LEAD)


def jumper_label(series: str, number: int) -> WireId:
    """A cut wire: its circuit or series, and its number there.

    >>> jumper_label("ground", 3)
    'ground 3'
    """
    return WireId(f"{series} {number}")


def join_of(wire: str) -> JointId:
    """The butt between a given wire and its extension."""
    return JointId(_JOIN + wire)


def is_join(joint: str) -> bool:
    """Whether a joint is the butt of an extension."""
    return joint.startswith(_JOIN)


def wire_of_join(joint: str) -> WireId:
    """Which wire a butt lengthens; any other name as it is."""
    return WireId(joint.removeprefix(_JOIN))


def splice_label(circuit: str, number: int) -> JointId:
    """A splice of a circuit, by its number there.

    >>> splice_label("ground", 1)
    'splice ground 1'
    """
    return JointId(f"{_SPLICE}{circuit} {number}")


def end_label(wire: str, end: str) -> str:
    """One end of a cut wire, ``a`` or ``b``, as it stands on its label.

    >>> end_label("ground 3", "a")
    'ground 3-a'
    """
    return f"{wire}-{end}"


def ready_part(wire: str) -> str:
    """The ready-made ring of a wire, as a part that a step lands."""
    return _READY + wire


def is_ready(part: str) -> bool:
    """Whether a part of a step is a ready-made ring."""
    return part.startswith(_READY)


def ready_words(ready: str) -> str:
    """A lug that is there ready-made, in words: a wire's own ring, or a strap's on a stud."""
    return f"lug of {ready}" if is_strap(ready) else f"ready-made ring of {ready}"


def wire_of_ready(part: str) -> WireId:
    """Which wire's ready-made ring a part is; any other name as it is."""
    return WireId(part.removeprefix(_READY))


def strap_name(strap: str) -> WireId:
    """A strap, as the ready-made lug it has on each of its studs."""
    return WireId(_STRAP + strap)


def is_strap(wire: str) -> bool:
    """Whether what is on a stud ready-made is a strap's lug, and no wire's ring."""
    return wire.startswith(_STRAP) and ": " not in wire


def boat_group(boat_block: str) -> str:
    """What a block of boat wires puts on a post, as a group of wire ends."""
    return _BOAT_WIRES + boat_block


def extension_end(wire: str) -> str:
    """The end of a wire's extension, as a type of wire end."""
    return f"{_BARE}extension of {wire}"


def end_of_lead(lead: str, point: str) -> JointId:
    """The free end of a lead at a place where it may go, as a joint."""
    return JointId(f"{lead}{_END_AT}{point}")


def point_of_end(end: str) -> JointId:
    """The splice point at which a lead's free end lies."""
    return JointId(end.partition(_END_AT)[2])


def bare_end(wire: str) -> str:
    """The bare end of a boat wire, as a type of wire end."""
    return _BARE + wire


def wire_of_bare_end(end: str) -> WireId:
    """Which boat wire a bare end is of; any other name as it is."""
    return WireId(end.removeprefix(_BARE))


def extension_name(wire: str) -> str:
    """The extension of a boat wire, as it is told on a leg of the loom."""
    return f"extension of {wire}"


def is_boat_group(group: str) -> bool:
    """Whether a group of wire ends is that of a block of boat wires."""
    return group.startswith(_BOAT_WIRES)
