"""Rules over several records: names used twice, names that lead nowhere, loads between circuits.

Gathers the rules of layout (``geometry_checks``) and those that need limits and stock
(``panel_checks``) as well.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Protocol

from lugwright.base.errors import Complaint
from lugwright.base.letters import look
from lugwright.base.toml import TomlFile
from lugwright.scenario.brief import Brief
from lugwright.scenario.complaints import nearest
from lugwright.scenario.draft import Draft
from lugwright.scenario.fields import Place
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted
from lugwright.scenario.geometry_checks import layout_faults
from lugwright.scenario.lead_checks import lead_faults
from lugwright.scenario.left_out import LEFT_OUT
from lugwright.scenario.metal_checks import metal_faults
from lugwright.scenario.panel_checks import (
    edge_faults,
    nut_driver_faults,
    post_faults,
    wire_faults,
)
from lugwright.scenario.supplies import Supply

TIE_POINTS = ("tie_point",)
KEEP_OUTS = ("keep_out",)
_NO_WAY_BACK = (
    "a ground of this plan takes it back, or the wire of a switch in the boat, which lands there: "
    f'[[boat_wires]] with sender = "switch"; a charge lamp or alternator: {LEFT_OUT}'
)
ALIKE = "names have to differ in more than capitals, blanks or letters of one shape"


class NamedPart(Protocol):
    """A record with a name of its own."""

    @property
    def name(self) -> str:
        """What it is called."""


def cross_faults(
    draft: Draft, fitted: list[Fitted], supplies: Mapping[str, Supply]
) -> list[Complaint]:
    """Every fault over several records that needs neither limits nor stock."""
    complaints = [*_tie_point_faults(draft), *_keep_out_faults(draft), *_alike_faults(draft)]
    complaints += _load_faults(draft, fitted, supplies)
    complaints += layout_faults(draft, fitted)
    complaints += metal_faults(draft, fitted)
    complaints += lead_faults(draft, fitted, supplies)
    return complaints


def panel_complaints(brief: Brief, toml: TomlFile) -> list[Complaint]:
    """Every fault of the panel under these limits and with this stock, in the file's order."""
    found = [
        *edge_faults(brief, toml),
        *nut_driver_faults(brief, toml),
        *post_faults(brief, toml),
        *wire_faults(brief, toml),
    ]
    return sorted(set(found))


def _alike_faults(draft: Draft) -> Iterator[Complaint]:
    """Names of one kind that nobody can tell apart on paper; equal ones are told elsewhere."""
    part = draft.part
    kinds: tuple[tuple[str, Sequence[NamedPart]], ...] = (
        *(("instrument", part.instrument), ("boat_wires", part.boat_wires)),
        *(("circuit", part.circuit), ("keep_out", part.keep_out), ("tie_point", part.tie_point)),
    )
    for section, records in kinds:
        first: dict[str, str] = {}
        for index, record in enumerate(records):
            other = first.setdefault(look(record.name), record.name)
            if other != record.name:
                path = draft.path((section,), index, "name")
                yield draft.complain(path, f'on paper "{record.name}" looks like "{other}"', ALIKE)


def _tie_point_faults(draft: Draft) -> list[Complaint]:
    complaints = []
    known = {tie.name for tie in draft.part.tie_point} | draft.lost.tie_points
    seen: set[str] = set()
    first_at: dict[tuple[Place, Fraction], str] = {}
    for index, tie in enumerate(draft.part.tie_point):
        first = first_at.setdefault((tie.at, tie.height), tie.name)
        if first != tie.name:
            path = draft.path(TIE_POINTS, index, "at")
            message = f'it lies where tie point "{first}" lies'
            complaints.append(draft.complain(path, message, "one of them is enough"))
        if tie.name in seen:
            path = draft.path(TIE_POINTS, index, "name")
            complaints.append(draft.complain(path, f'two tie points are named "{tie.name}"'))
        seen.add(tie.name)
        for number, link in enumerate(tie.links):
            path = draft.path(TIE_POINTS, index, "links", number)
            if link == tie.name:
                complaints.append(draft.complain(path, "a tie point does not lead to itself"))
            elif link not in known and not draft.lost.unnamed_tie_point:
                message = f'there is no tie point "{link}"'
                complaints.append(draft.complain(path, message, nearest(link, known - {tie.name})))
    return complaints or _unlinked_tie_points(draft)


def _unlinked_tie_points(draft: Draft) -> list[Complaint]:
    """Every wire runs from tie point to tie point, so links must lead from each to all others.

    Judged only where every tie point could be read and is named once; the group of the first
    tie point is taken to be the loom.
    """
    points = draft.part.tie_point
    if not points or draft.lost.tie_points or draft.lost.unnamed_tie_point:
        return []
    links: dict[str, set[str]] = {tie.name: set() for tie in points}
    for tie in points:
        for link in tie.links:
            links[tie.name].add(link)
            links[link].add(tie.name)
    loom, waiting = set(), [points[0].name]
    while waiting:
        name = waiting.pop()
        if name not in loom:
            loom.add(name)
            waiting.extend(links[name])
    message = "every tie point must be linked to the loom"
    return [
        draft.complain(
            draft.path(TIE_POINTS, index, "name"),
            message,
            f'no links lead from "{tie.name}" to "{points[0].name}"',
        )
        for index, tie in enumerate(points)
        if tie.name not in loom
    ]


def _keep_out_faults(draft: Draft) -> list[Complaint]:
    complaints = []
    seen: set[str] = set()
    for index, keep_out in enumerate(draft.part.keep_out):
        if keep_out.name in seen:
            path = draft.path(KEEP_OUTS, index, "name")
            complaints.append(draft.complain(path, f'two keep-outs are named "{keep_out.name}"'))
        seen.add(keep_out.name)
        first, second = keep_out.corners
        if first[0] == second[0] or first[1] == second[1]:
            path = draft.path(KEEP_OUTS, index, "corners")
            message = "the two corners must differ in both x and y"
            complaints.append(draft.complain(path, message))
    return complaints


def _load_faults(
    draft: Draft, fitted: list[Fitted], supplies: Mapping[str, Supply]
) -> list[Complaint]:
    """A powered load must come in at a feed and go out to a ground."""
    complaints = []
    for instrument in fitted:
        for load in instrument.pattern.loads:
            feed = supplies.get(instrument.posts[load.feed].circuit)
            ground = supplies.get(instrument.posts[load.ground].circuit)
            path = draft.path(INSTRUMENTS, instrument.index, "name")
            if feed is not None and feed.side == "signal":
                continue  # said at the signal
            if feed is not None and feed.side == "ground":
                message = f'load "{load.name}" takes current from post "{load.feed}", a ground'
                complaints.append(draft.complain(path, message))
            elif ground is not None and ground.side == "feed":
                message = f'load "{load.name}" returns by post "{load.ground}", a feed'
                hint = "a load does not insulate and would join two feeds: it returns by a ground"
                complaints.append(draft.complain(path, message, hint))
            elif feed is not None and not instrument.posts[load.ground].circuit:
                message = (
                    f'load "{load.name}" has no way back: no circuit reaches post "{load.ground}"'
                )
                complaints.append(draft.complain(path, message, _NO_WAY_BACK))
    return complaints
