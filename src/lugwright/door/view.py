"""A plan that shows itself: its tables, its wiring as a graph, its drawing in a notebook."""

from __future__ import annotations

from base64 import b64encode
from dataclasses import dataclass
from functools import cached_property
from html import escape
from typing import TYPE_CHECKING

from lugwright.base.scale import mm_text
from lugwright.door.graph import wiring
from lugwright.door.tables import Tables
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan

if TYPE_CHECKING:
    from networkx import MultiGraph


@dataclass(frozen=True)
class PlanView:
    """One plan. ``record`` is the whole answer, field by field, as ``plan.json`` holds it."""

    record: Plan

    @property
    def title(self) -> str:
        """The console's title."""
        return self.record.title

    @property
    def hub(self) -> str:
        """The hub instrument; several where each circuit has its own."""
        return self.record.hub

    @cached_property
    def shown(self) -> ShownPlan:
        """The plan as its sheets show it."""
        return ShownPlan(self.record)

    @cached_property
    def tables(self) -> Tables:
        """Every table as a pandas frame: ``plan.tables["cut"]``."""
        return Tables(self.shown.rows)

    def graph(self) -> MultiGraph[str]:
        """The wiring as a networkx multigraph, edges keyed by the jumper's label."""

        return wiring(self.record)

    def drawing(self) -> str:
        """The panel seen from the back with every wire, small, as SVG text."""
        return self.shown.drawn.small.file()

    @property
    def line(self) -> str:
        """The plan in one line."""
        totals = self.record.totals
        return (
            f"{self.title}: hub {self.hub}, {mm_text(totals.wire_dmm)} mm of wire, "
            f"{totals.stacked_lugs} stacked lugs, {totals.fittings} fittings"
        )

    def __repr__(self) -> str:
        return self.line

    def _repr_html_(self) -> str:
        """What a notebook shows: the line, the drawing as a picture, and where the cautions are."""
        picture = b64encode(self.drawing().encode()).decode()
        cautions = " ".join(self.record.cautions)
        return (
            f"<p>{escape(self.line)}</p>"
            f'<img alt="{escape(self.title)}: the panel seen from the back" '
            f'style="max-width: 40em; width: 100%; background: white" '
            f'src="data:image/svg+xml;base64,{picture}">'
            f"<p><small>{escape(cautions)}</small></p>"
        )
