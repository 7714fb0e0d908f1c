"""What an objective compares, level by level: the names a plan tells them by.

``LEVELS`` has them in order for each objective of the limits, the first counting most.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from lugwright.limits.schema import ObjectiveName

WIRE, STACKED, FITTINGS = "wire length, 0.1 mm", "stacked lugs", "fittings"
TALLEST, MONEY, WEIGHTED = "tallest stack", "money, millionths", "weighted sum"
WORTH = "wire length + worth of stacked lugs and fittings, 0.1 mm"

LEVELS: Mapping[ObjectiveName, tuple[str, ...]] = MappingProxyType(
    {
        "default": (WORTH,),
        "shortest": (WIRE, STACKED, FITTINGS),
        "lowest-stacks": (STACKED, TALLEST, WIRE, FITTINGS),
        "cheapest": (MONEY,),
        "weights": (WEIGHTED,),
    }
)
