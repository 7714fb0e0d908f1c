"""Everything worked up so far, as the steps are written from it."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.assemble.cable_ties import TieList
from lugwright.assemble.crimps import CrimpSheet
from lugwright.assemble.wires import Wires
from lugwright.plans.schema import Cap, Landing, LoadDrop, Splice, Stack, WayRow
from lugwright.scenario.brief import Brief


@dataclass(frozen=True)
class WorkedUp:
    """The parts of a plan that its steps tell."""

    brief: Brief
    landings: tuple[Landing, ...]
    cut: Wires
    sheet: CrimpSheet
    splices: tuple[Splice, ...]
    stacks: tuple[Stack, ...]
    caps: tuple[Cap, ...]
    ties: TieList
    drops: tuple[LoadDrop, ...]
    ways: tuple[WayRow, ...]
