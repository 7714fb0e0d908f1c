"""What tells one wire from another, and one joint from another: their names, as types of their own.

A name is made where its thing is first known: posts and boat wires when the scenario is read,
splice points with the routes, all others in the room of shared rules. Elsewhere a name is only
handed on, which a type checker holds.
"""

from __future__ import annotations

from typing import NewType

WireId = NewType("WireId", str)
"""A wire by name: cut, pigtail, lead or boat wire."""
JointId = NewType("JointId", str)
"""A joint by name: a post, a splice point or splice, or the butt of an extension."""

NO_WIRE, NO_JOINT = WireId(""), JointId("")
