"""Cutting pieces of wire from spools and offcuts: the question, and what an answer is.

One-dimensional cutting stock: every piece is cut whole from one length of wire. What is left of a
length, and when it is scrap, says ``kerf_and_scrap``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from lugwright.packing.kerf_and_scrap import cut_off_dmm

Least = Literal["spools", "scrap"]


@dataclass(frozen=True)
class PackingQuestion:
    """Lengths in 0.1 mm. ``pieces`` maps a length to how many are wanted.

    ``on_hand`` are offcuts and begun spools, each once; ``spool_dmm`` a new spool, as many as
    wanted. A rest of ``keep_dmm`` or more is kept, a shorter one is scrap. ``least`` says what
    counts first: new spools (then scrap), or scrap (then new spools).
    """

    pieces: Mapping[int, int]
    on_hand: tuple[int, ...]
    spool_dmm: int
    keep_dmm: int
    least: Least = "spools"

    def __post_init__(self) -> None:
        """Raises ValueError for a length or number that is not positive, or a piece too long."""
        lengths = (*self.pieces, *self.on_hand, self.spool_dmm)
        if min(lengths, default=1) <= 0 or min(self.pieces.values(), default=1) <= 0:
            raise ValueError("lengths and numbers of pieces must be above 0")
        if max(self.pieces, default=0) > max((self.spool_dmm, *self.on_hand)):
            raise ValueError("a piece is longer than any spool")

    @property
    def total_dmm(self) -> int:
        """All wire that is wanted."""
        return cut_off_dmm(self.pieces.items())


@dataclass(frozen=True, order=True)
class Filled:
    """One length of wire and what is cut from it: (length, how many), longest first."""

    stock_dmm: int
    new: bool
    cuts: tuple[tuple[int, int], ...]

    @property
    def rest_dmm(self) -> int:
        """What is left."""
        return self.stock_dmm - cut_off_dmm(self.cuts)


@dataclass(frozen=True)
class Packing:
    """An answer: every length that is cut into, and what is known about how good it is."""

    filled: tuple[Filled, ...]
    spools: int
    scrap_dmm: int
    spools_bound: int
    scrap_bound_dmm: int

    def cost(self, least: Least) -> tuple[int, int]:
        """What is compared, the more important first."""
        both = (self.spools, self.scrap_dmm)
        return both if least == "spools" else both[::-1]

    def bound(self, least: Least) -> tuple[int, int]:
        """The proved bound of ``cost``."""
        both = (self.spools_bound, self.scrap_bound_dmm)
        return both if least == "spools" else both[::-1]

    def proved(self, least: Least) -> bool:
        """True when no answer is better."""
        return self.cost(least) == self.bound(least)
