"""A way as it is written: what stands inside a device between one post and others."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, WithJsonSchema

from lugwright.scenario.console import LoadKind, WayKind
from lugwright.scenario.fields import Name, Part, PositiveCurrent, Resistance, YesNo
from lugwright.scenario.left_out import LATER_KINDS, cannot_be_said

ALWAYS = "always"
"""Written for ``closed`` where a way conducts in every position."""


def _kind(value: Any) -> Any:
    if value in LATER_KINDS:
        raise ValueError(cannot_be_said(f'a way of kind "{value}"'))
    return value


def _closed(value: Any) -> Any:
    if isinstance(value, str):
        if value.strip() == ALWAYS:
            return (ALWAYS,)
        raise ValueError(
            f'write a list of positions, closed = ["{value.strip()[:40] or "on"}"], or "{ALWAYS}"'
        )
    return value


Closed = Annotated[
    tuple[Name, ...],
    BeforeValidator(_closed),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "array", "items": {"type": "string"}, "minItems": 1},
                {"const": ALWAYS},
            ]
        }
    ),
]
"""The positions in which a way conducts, or "always"."""


class WayPart(Part):
    """A path inside a device, from one post to each of others."""

    near: Name = Field(alias="from")
    """The near post: where what passes comes in."""
    to: Annotated[tuple[Name, ...], Field(min_length=1, max_length=40)]
    """The far posts; each is a way of its own, named by it."""
    kind: Annotated[WayKind, BeforeValidator(_kind)]
    """switch, fuse, breaker, dimmer, or stop (stops an engine by going to ground)."""
    closed: Closed | None = Field(default=None, min_length=1, max_length=12)
    """The positions in which it conducts, or "always"; always at a fuse, breaker or dimmer where
    not stated."""
    carries: PositiveCurrent | None = None
    """The most current it may carry."""
    amperes: PositiveCurrent | None = None
    """Rating of its fuse or breaker; a holder without one is empty."""
    contact: Resistance = 0
    """Resistance of its contacts; 0 when not stated."""
    rated_for: tuple[LoadKind, ...] = Field(default=(), max_length=5)
    """Kinds of load its maker rates it for in full: bulb, led, relay, motor, resistive."""
    trip_free: YesNo = False
    """True for a breaker that is reset by hand and cannot be held in against a fault."""
    as_switch: YesNo = False
    """True for a breaker its maker rates for use as a switch."""
    suits: tuple[LoadKind, ...] = Field(default=(), max_length=2)
    """Lamps a dimmer is made for: bulb, led."""

    @property
    def is_always(self) -> bool:
        """True where it conducts in every position."""
        return self.closed in (None, (ALWAYS,))
