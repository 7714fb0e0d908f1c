"""What is written on the build board: at posts, on wires and at their ends, at splices, outside.

The words of each label, one string a line; where they stand is ``board_labels``' matter.
"""

from __future__ import annotations

from lugwright.base.scale import mm_text
from lugwright.outputs.paper.lettering import clipped
from lugwright.outputs.paper.pegs import peg_text
from lugwright.outputs.words import colour_text
from lugwright.plans.panel import (
    PanelEntry,
    PanelInstrument,
    PanelKeepOut,
    PanelPost,
    PanelTiePoint,
)
from lugwright.plans.schema import Given, Jumper, Plan, Splice
from lugwright.trade.names import end_label

LETTER_MM = 2.2
LONGEST_MM = 52.0  # no line on the board is longer
_ABOARD = "aboard"


def short(text: str) -> str:
    """A line no longer than a label may be; the tables have the whole of it."""
    return clipped(text, LETTER_MM, LONGEST_MM)


def post_lines(post: PanelPost) -> tuple[str, ...]:
    """A post's name, what to drill for it."""
    kind = post.thread if post.kind == "stud" else post.kind
    return short(post.id), short(f"{kind}, {peg_text(post)}")


def wire_lines(jumper: Jumper) -> tuple[str, ...]:
    """A jumper in full: name, colour with code, size, cut length, both strips."""
    strips = f"{mm_text(jumper.strip_a_dmm)} / {mm_text(jumper.strip_b_dmm)}"
    when = f", {_ABOARD}" if jumper.stage == _ABOARD else ""
    return (
        short(f"{jumper.label}: {colour_text(jumper.colour, jumper.colour_code)}"),
        f"{jumper.wire_size}, cut {mm_text(jumper.length_dmm)} mm, strip {strips}{when}",
    )


def end_line(jumper: Jumper, end: str) -> str:
    """The tag at one end of a jumper."""
    return end_label(short(jumper.label), end)


def given_lines(given: Given) -> tuple[str, ...]:
    """A wire that comes as it is, and when."""
    colour = colour_text(given.colour, given.colour_code)
    ring = ", own ring" if given.ready_ring else ""
    return short(given.wire), short(f"{colour} {given.wire_size}, {given.stage}{ring}")


def unused_lines(entry: PanelEntry) -> tuple[str, ...]:
    """A pigtail that is capped off."""
    colour = colour_text(entry.colour, entry.colour_code)
    return short(f"{entry.wire}: cap off"), short(f"{colour} {entry.wire_size}")


def splice_lines(plan: Plan, splice: Splice) -> tuple[str, ...]:
    """A splice and its fitting."""
    item = next((crimp.item for crimp in plan.crimps if crimp.number == splice.crimp), "")
    return short(splice.label), short(f"crimp {splice.crimp}: {item}")


def name_lines(instrument: PanelInstrument) -> tuple[str, ...]:
    """An instrument's name."""
    return (short(instrument.name),)


def tie_lines(plan: Plan, tie: PanelTiePoint) -> tuple[str, ...]:
    """A tie point and how many ties it gets."""
    count = sum(one.count for one in plan.ties if one.where == tie.name)
    return (short(f"tie point {tie.name}: {count} × tie" if count else f"tie point {tie.name}"),)


def keep_out_lines(area: PanelKeepOut) -> tuple[str, ...]:
    """A place wires keep clear of, and how high it is."""
    return short(area.name), f"keep clear, {mm_text(area.height_dmm)} mm high"
