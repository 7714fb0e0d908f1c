"""Faults of leads: the flying wires of instruments."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from lugwright.base.errors import Complaint
from lugwright.base.toml import KeyPath
from lugwright.scenario.draft import Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted, FittedPost
from lugwright.scenario.given_wires import checked_wire, wire_or_reason
from lugwright.scenario.supplies import Supply


def lead_faults(
    draft: Draft, fitted: list[Fitted], supplies: Mapping[str, Supply]
) -> Iterator[Complaint]:
    """Leads of a size without a row in the ampacity table, and fuses in ground leads."""
    for instrument in fitted:
        for post in instrument.posts.values():
            lead = post.part.lead
            if lead is None:
                continue
            wire = wire_or_reason(lead.wire_size, lead.colour, lead.size_standard, lead.insulation)
            path = _path(draft, instrument, post, "wire_size")
            yield from checked_wire(draft, path, wire, draft.part.engine_space)
            supply = supplies.get(post.circuit)
            if lead.fuse is not None and supply is not None and supply.side == "ground":
                message = "a ground has no fuse: it belongs in the feed"
                path = _path(draft, instrument, post, "fuse")
                yield draft.complain(path, message, "leave the key out")


def _path(draft: Draft, instrument: Fitted, post: FittedPost, key: str) -> KeyPath:
    """Where the file says it: in the instrument's own drawing, else at its name."""
    if instrument.part.geometry is None:
        return draft.path(INSTRUMENTS, instrument.index, "name")
    keys = ("geometry", "posts", post.name, "lead", key)
    return draft.path(INSTRUMENTS, instrument.index, *keys)
