"""Hubs compared, as a value that shows itself as a table."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

from lugwright.door.view import PlanView
from lugwright.outputs.hubs_table import HubLine, best_row, line_of, why_best
from lugwright.studies.hubs import HubTable

if TYPE_CHECKING:
    from pandas import DataFrame


@dataclass(frozen=True)
class Hubs:
    """Every hub candidate solved to its own best. ``record`` holds the rows in full."""

    record: HubTable

    @property
    def best(self) -> str:
        """The best hub; "" where no hub has a plan."""
        best = best_row(self.record.rows)
        return best.hub if best else ""

    @property
    def why(self) -> str:
        """Why it is best, in words; no more than is proved."""
        return why_best(self.record.rows)

    @property
    def plans(self) -> dict[str, PlanView]:
        """The plan of each hub that has one."""
        return {row.hub: PlanView(row.plan) for row in self.record.rows if row.plan is not None}

    @property
    def table(self) -> DataFrame:
        """A row for each hub: cost, wire, lugs, thread, drop, money. Figures are numbers."""
        import pandas

        best = best_row(self.record.rows)
        names = [field.name for field in fields(HubLine)]
        lines = [line_of(row, best) for row in self.record.rows]
        cells = [[getattr(line, name) for name in names] for line in lines]
        frame = pandas.DataFrame(cells, columns=names)
        for name in names:
            if name.endswith(("_mm", "_mv", "cost", "minutes", "jumpers", "fittings", "splices")):
                frame[name] = pandas.to_numeric(frame[name].replace("", None))
        return frame.set_index("hub")

    def __repr__(self) -> str:
        return self.why or "no hub has a plan"

    def _repr_html_(self) -> str:
        return str(self.table.to_html())
