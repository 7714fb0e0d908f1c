"""No mains behind this panel: a shore charger, an inverter, anything AC is refused by its name."""

from __future__ import annotations

import re
from collections.abc import Iterator

from lugwright.base.errors import Complaint
from lugwright.base.toml import KeyPath
from lugwright.scenario.draft import PIGTAILS, Draft
from lugwright.scenario.left_out import LEFT_OUT
from lugwright.scenario.pigtail_checks import label_of

_MAINS = re.compile(
    r"\b(AC|VAC)\b"
    r"|\b(?i:shore (power|charger|line|inlet)|battery charger|mains|inverters?)\b"
    r"|\b(1[012]\d|2[234]\d) ?[Vv]\b"
)


def mains_faults(draft: Draft) -> Iterator[Complaint]:
    """Every part of the file whose name or line says that it is AC."""
    for path, text in _named(draft):
        said = _MAINS.search(text.replace("_", " "))
        if said:
            message = f'"{said[0]}": AC never stands behind this panel'
            yield draft.complain(path, message, LEFT_OUT)


def _named(draft: Draft) -> Iterator[tuple[KeyPath, str]]:
    part = draft.part
    for index, instrument in enumerate(part.instrument):
        yield draft.path(("instrument",), index, "name"), instrument.name
        if instrument.geometry is not None:
            path = draft.path(("instrument",), index, "geometry", "about")
            yield path, instrument.geometry.about
    for index, block in enumerate(part.boat_wires):
        yield draft.path(("boat_wires",), index, "name"), block.name
    for index, circuit in enumerate(part.circuit):
        yield draft.path(("circuit",), index, "name"), circuit.name
    for index, pigtail in enumerate(draft.pigtails):
        yield draft.path(PIGTAILS, index), label_of(pigtail)
