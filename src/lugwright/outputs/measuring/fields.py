"""What a measuring sheet asks for. The keys are those of a scenario; see ``lugwright new``."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Field:
    """One thing to measure: its key in a scenario, and how to measure it."""

    key: str
    how: str


BODY: tuple[Field, ...] = (
    Field("cut_out", "diameter of the hole in the plate, across the middle"),
    Field("bezel", "diameter of the rim in front, over its widest part"),
    Field("body", "diameter of a round body, behind the plate"),
    Field("body_width", "of a body that is not round: side to side, as it stands upright"),
    Field("body_height", "of a body that is not round: top to bottom, as it stands upright"),
    Field("body_depth", "from the BACK of the plate to the end of the body, posts left out"),
)
RIM: tuple[Field, ...] = (
    Field("cut_out_width", "of a hole that is not round: side to side, as the part stands upright"),
    Field("cut_out_height", "of a hole that is not round: top to bottom"),
    Field("cut_out_radius", "of its corners: the drill that lies in them, halved"),
    Field("bezel_width", "of a rim that is not round, over its widest part"),
    Field("bezel_height", "of a rim that is not round"),
    Field("mounted_from", "front, or back where the flange (body) stays behind the plate"),
)
SCREW: tuple[Field, ...] = (
    Field("at x", "of the screw, from the part's centre to the right, seen from the BACK"),
    Field("at y", "the same, up"),
    Field("diameter", "of the hole for the screw, in the plate"),
)
LOAD: tuple[Field, ...] = (
    Field("current", "the most it takes, from its maker's plate or a meter in series, in A"),
)
HOLE: tuple[Field, ...] = (
    Field("at x", "of the hole, from the plate's LEFT edge, seen from the FRONT"),
    Field("at y", "from the plate's LOWER edge up"),
    Field("diameter", "of the hole, across the middle"),
    Field("what", "grommet, mounting screw ..."),
)
PIGTAIL: tuple[Field, ...] = (
    Field("colour", "of the wire, with its stripe"),
    Field("wire_size", "as printed on the wire, or by a stripper that just does not nick it"),
    Field("reach", "from where it comes in to its end, pulled straight"),
    Field("entry x", "where it comes in, from the plate's LEFT edge, seen from the FRONT"),
    Field("entry y", "from the plate's LOWER edge up"),
    Field("entry_height", "of that place, from the BACK of the plate"),
    Field("fuse", "read from the fuse itself, in A"),
)
POST: tuple[Field, ...] = (
    Field("kind", "stud (threaded), tab (flat male blade) or lead (a wire that hangs out)"),
    Field("function", "ignition, ground, lamp, signal, second ...: what is marked beside it"),
    Field("at x", "from the dial's centre to the post's centre, to the right, seen from the BACK; "
          "left is minus"),
    Field("at y", "the same, up; down is minus. The dial upright, as it will be read"),
    Field("height", "from the BACK of the plate to where the first lug will lie (a stud: top of "
          "the instrument's own nut; a tab: its middle; a lead: its end as it hangs)"),
    Field("thread", "of a stud, as #10-32 UNF or M5 x 0.8; try a known nut"),
    Field("free_thread", "of a stud: from the instrument's own nut to the stud's tip"),
    Field("tab", "width and thickness of a blade, as 6.3 x 0.8"),
    Field("lead", "wire_size and colour of the wire that hangs out"),
)  # fmt: skip
RING: tuple[Field, ...] = (
    Field("thread", "the largest stud it goes over"),
    Field("tongue", "thickness of its flat part, where the nut presses"),
)
PLACE: tuple[Field, ...] = (
    Field("centre x", "from the plate's LEFT edge, seen from the FRONT, to the dial's centre"),
    Field("centre y", "from the plate's LOWER edge up to the dial's centre"),
    Field("turn", "how far the dial is turned, clockwise seen from the FRONT, in deg"),
)
PLATE: tuple[Field, ...] = (
    Field("width", "of the plate, edge to edge, seen from the FRONT"),
    Field("height", "of the plate"),
    Field("thickness", "of the plate, with callipers at a hole"),
)
UNITS = (
    "Write the unit with every measure: 52.4 mm, 2 1/16 in or 2-1/16 in. Nothing is taken for "
    "granted. 0.1 mm is fine enough; a steel rule will do for places, callipers for thickness and "
    "thread."
)
SIDES = (
    "Posts are measured from the BACK, as they are read; holes from the FRONT, as they are "
    "drilled. Do not mirror anything: the program does."
)
OUT_OF_THE_PLATE = (
    "Dial not in a plate yet? Measure body_depth and height from the back of the rim, then take "
    "off the plate's thickness."
)
