"""What is known while a search runs: best plan so far and the bound under it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Progress:
    """One report of a running search. ``best_cost`` and ``bound`` are vectors over ``levels``."""

    text: str
    levels: tuple[str, ...] = ()
    best_cost: tuple[int, ...] | None = None
    bound: tuple[int, ...] | None = None


Listener = Callable[[Progress], None]
