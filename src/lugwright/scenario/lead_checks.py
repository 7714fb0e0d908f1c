"""Faults of leads: the flying wires of instruments."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from lugwright.base.errors import Complaint
from lugwright.base.toml import KeyPath
from lugwright.scenario.devices import ends_of
from lugwright.scenario.draft import Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted, FittedPost
from lugwright.scenario.given_wires import checked_supplied
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
            supply = supplies.get(post.circuit)
            side = supply.side if supply else ""
            yield from checked_supplied(draft, _path(draft, instrument, post), lead, side)
            if lead.fuse is not None and supply is not None and supply.side == "ground":
                message = "a ground has no fuse: it belongs in the feed"
                path = _path(draft, instrument, post)
                yield draft.complain((*path, "fuse"), message, "leave the key out")
            if lead.length is not None and supply is not None and not post.spare:
                yield from _length_faults(draft, instrument, post, supply)


def _length_faults(
    draft: Draft, instrument: Fitted, post: FittedPost, supply: Supply
) -> Iterator[Complaint]:
    """Leads whose end cannot be left to the plan: over a loom, of a way, on a signal or stop
    circuit."""
    if draft.part.tie_point:
        why = "how many wires lie in each leg of the loom would hang on where it goes"
    elif post.name in ends_of(instrument):
        why = "a way begins or ends at it"
    elif supply.side in ("signal", "stop"):
        why = f"on a {supply.side} circuit a wire from outside may land on it"
    else:
        return
    path = (*_path(draft, instrument, post), "length")
    hint = "say where its end is to be, as the post's place (at, height), and leave length out"
    yield draft.complain(path, f"the end of this lead has to be stated: {why}", hint)


def _path(draft: Draft, instrument: Fitted, post: FittedPost) -> KeyPath:
    """Where the file says it: in the instrument's own drawing, else at its name."""
    if instrument.part.geometry is None:
        return draft.path(INSTRUMENTS, instrument.index)
    keys = ("geometry", "posts", post.name, "lead")
    return draft.path(INSTRUMENTS, instrument.index, *keys)
