"""What makes the search fast, each to be switched off: none of it changes a cost."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Speed:
    """Which short ways a search takes.

    ``sizes``: wire sizes are left out where tables prove that others do as well.
    ``bounds``: landings are ruled out by the bound of a linear relaxation.
    ``early``: on large consoles a first plan over near jumpers comes before all bounds.
    ``narrow``: each part is first solved over the jumpers that such a bound leaves open.
    """

    sizes: bool = True
    bounds: bool = True
    narrow: bool = True
    early: bool = True


FAST = Speed()
PLAIN = Speed(sizes=False, bounds=False, narrow=False, early=False)
