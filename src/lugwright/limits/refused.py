"""The ending of a reading in which something asks for more than the shop allows."""

from __future__ import annotations

from lugwright.base.errors import BadInput, Complaint
from lugwright.limits.schema import Limits


class LoosenedTooFar(BadInput):
    """Something below the shop's file asks for more than it leaves open; nothing else is wrong.

    ``limits`` are those in force without it.
    """

    def __init__(self, limits: Limits, *complaints: Complaint) -> None:
        super().__init__(*complaints)
        self.limits = limits
