"""Which limits can be waived at a place, what the places are, and how one waiver reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from lugwright.base.origin import Origin
from lugwright.limits.spec import LimitSpec, SizeValue, Value
from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.values import value_text

PlaceKind = Literal[
    "stud",
    "stud or tab",
    "critical load",
    "other load",
    "sender",
    "circuit behind a fuse",
    "circuit",
]

WAIVABLE: Mapping[str, PlaceKind] = MappingProxyType(
    {
        "wires_per_barrel": "stud or tab",
        "lugs_per_stud": "stud",
        "showing_thread": "stud",
        "drop_critical": "critical load",
        "drop_other": "other load",
        "ground_shift": "sender",
        "fuse_share": "circuit behind a fuse",
        "load_share": "circuit behind a fuse",
        "fuse_distance": "circuit behind a fuse",
        "minimum_size": "circuit",
    }
)
"""Limits that mean something at one place alone, and the kind of place. A loading or a distance
is of the circuit whose pigtail the fuse is in; a minimum size of the circuit that is cut."""

MINIMUM_AREA = "minimum_area_um2"


@dataclass(frozen=True)
class Waiver:
    """One limit loosened for one place: ``initials`` and ``date`` (ISO) say by whom and when."""

    limit: str
    place: str
    value: Value
    reason: str
    initials: str
    date: str
    origin: Origin

    @property
    def spec(self) -> LimitSpec:
        """The row of its limit."""
        return SPEC_BY_NAME[self.limit]

    @property
    def field(self) -> str:
        """The field of ``Limits`` that holds the number it loosens."""
        return MINIMUM_AREA if self.limit == "minimum_size" else self.spec.field

    @property
    def text(self) -> str:
        """Its value in the limit's own unit."""
        return value_text(self.spec, self.value)

    @property
    def number(self) -> int:
        """Its value as an integer (``base.scale``); of a wire size the area."""
        value = self.value.area_um2 if isinstance(self.value, SizeValue) else self.value
        if not isinstance(value, int):
            raise TypeError(f"{self.limit} is no number")
        return value

    def __str__(self) -> str:
        return f"waiver of {self.limit} at {self.place} to {self.text}"
