"""Where each label of the build board stands: none over another, none over a peg.

Places are tried by the drawings' own placing, near ones first; on paper at 1:1 there is room, so
a label may go far from what it names before it may cover anything, and a thin line leads back.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from lugwright.base.scale import DMM_PER_MM
from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import Box, Point, box_at
from lugwright.outputs.drawing.parts import strap_line
from lugwright.outputs.drawing.placing import CheapFirst, Label, Placed, Spot, placed
from lugwright.outputs.drawing.scene import Scene
from lugwright.outputs.paper.board_places import (
    Spots,
    Stubs,
    around,
    in_body,
    near_end,
    near_middle,
    on_or_around,
)
from lugwright.outputs.paper.board_words import (
    LETTER_MM,
    end_line,
    given_lines,
    keep_out_lines,
    name_lines,
    post_lines,
    splice_lines,
    tie_lines,
    unused_lines,
    wire_lines,
)
from lugwright.outputs.paper.fonts import text_width
from lugwright.outputs.paper.lettering import LEADING
from lugwright.outputs.paper.pegs import PIN_DMM, peg_dmm
from lugwright.plans.schema import Jumper
from lugwright.trade.names import strap_name

PAD_MM = 0.5
_NEAR_MM = (2.5, 4.5, 7.0)
_FAR_MM = (*_NEAR_MM, 10.0, 14.0, 20.0, 28.0, 40.0, 56.0)
# Rings tried, and the price above which the next ones are: a dear place is better than none.
_TRIES = ((_NEAR_MM, 5.0), (_FAR_MM, 60.0))
_CELL_MM = 20.0
_EDGE_MM = 1.0  # from the plate's edge to a label
_MARK_MM = 10.0
_UNIT_MM = 1.5


@dataclass(frozen=True)
class _Wanted:
    """Words that want a place. ``owner`` is the wire on whose line they may stand."""

    key: tuple[str, ...]
    lines: tuple[str, ...]
    spots: Spots
    owner: str = ""

    def label(self, rings: Sequence[float], plate: Box) -> Label:
        """The label with its places on the plate: what hangs over would be cut off."""
        wide, high = label_size(self.lines)
        spots = CheapFirst(partial(self._on_plate, wide, high, rings, plate))
        return Label(self.key, self.lines, wide, high, spots, owner=self.owner)

    def _on_plate(
        self, wide: float, high: float, rings: Sequence[float], plate: Box
    ) -> Iterator[Spot]:
        x0, x1 = plate.x0 + wide / 2, plate.x1 - wide / 2
        y0, y1 = plate.y0 + high / 2, plate.y1 - high / 2
        for spot in self.spots(wide, high, rings):
            if x0 <= spot.centre[0] <= x1 and y0 <= spot.centre[1] <= y1:
                yield spot


def label_size(lines: Sequence[str]) -> tuple[float, float]:
    """Width and height of a label with its white edge, mm."""
    wide = max(text_width(line, LETTER_MM) for line in lines) + 2 * PAD_MM
    return wide, LETTER_MM * (1 + LEADING * (len(lines) - 1)) + 2 * PAD_MM


def placed_labels(
    scene: Scene, stubs: Stubs, marks: Sequence[Point] = ()
) -> tuple[list[Placed], list[Label]]:
    """Every label with its place, and those for which the plate has no room left.

    ``marks`` are places that stay free (register crosses), mm.
    """
    frame = scene.frame
    crowd = _crowd(scene, marks, stubs)
    plate = Box(_EDGE_MM, _EDGE_MM, frame.width_mm - _EDGE_MM, frame.height_mm - _EDGE_MM)
    found, left = list[Placed](), list[Label]()
    for wanted in _wanted(scene, stubs):
        for rings, worst in _TRIES:
            label = wanted.label(rings, plate)
            done, _ = placed([label], crowd, plate, _UNIT_MM, worst)
            if done:
                break
        found += done
        left += [] if done else [label]
    return found, left


def _crowd(scene: Scene, marks: Sequence[Point], stubs: Stubs) -> Crowd:
    """What stands on the board before any label: pegs, crosses, wires."""
    crowd = Crowd(_CELL_MM)
    for post in scene.plan.panel.posts:
        size = (peg_dmm(post) or PIN_DMM) / DMM_PER_MM + 1.0
        crowd.add_box(box_at(scene.places[post.id], size, size))
    for mark in marks:
        crowd.add_box(box_at(mark, _MARK_MM, _MARK_MM))
    for run, line in zip(scene.runs, scene.lines, strict=True):
        crowd.add_line(line, run.wire)
    for wire, stub in stubs.items():
        crowd.add_line(stub, wire)
    return crowd


def _wanted(scene: Scene, stubs: Stubs) -> Iterator[_Wanted]:
    """Ends first, since they must stand at their ends; what can go further comes later."""
    yield from _at_ends(scene)
    for post in scene.plan.panel.posts:
        yield _Wanted(("post", post.id), post_lines(post), around(scene.places[post.id]))
    yield from _at_joints(scene)
    yield from _at_names(scene)
    yield from _on_wires(scene)
    yield from _from_outside(scene, stubs)


def _at_ends(scene: Scene) -> Iterator[_Wanted]:
    """A tag at each end of each jumper, on its own line as near to the end as may be."""
    jumpers: dict[str, Jumper] = {jumper.label: jumper for jumper in scene.plan.jumpers}
    for run, line in zip(scene.runs, scene.lines, strict=True):
        if run.wire in jumpers:
            for end, away in (("a", line), ("b", line[::-1])):
                words = (end_line(jumpers[run.wire], end),)
                yield _Wanted(("end", run.wire, end), words, near_end(away), run.wire)


def _on_wires(scene: Scene) -> Iterator[_Wanted]:
    """Each jumper in full, on or near the middle of its line."""
    jumpers: dict[str, Jumper] = {jumper.label: jumper for jumper in scene.plan.jumpers}
    for run, line in zip(scene.runs, scene.lines, strict=True):
        if run.wire in jumpers:
            words = wire_lines(jumpers[run.wire])
            yield _Wanted(("wire", run.wire), words, near_middle(line), run.wire)


def _at_joints(scene: Scene) -> Iterator[_Wanted]:
    """Splices, and the butts of extensions."""
    named = [(splice.label, splice_lines(scene.plan, splice)) for splice in scene.plan.splices]
    named += [
        (jumper.from_joint, (f"butt of {end_line(jumper, 'a')}",))
        for jumper in scene.plan.jumpers
        if jumper.role == "extension"
    ]
    for joint, words in named:
        yield _Wanted(("joint", joint), words, around(scene.places[joint]))


def _at_names(scene: Scene) -> Iterator[_Wanted]:
    """Instruments in or at their bodies, tie points and keep-outs at theirs."""
    panel, at = scene.plan.panel, scene.frame.at
    for one in panel.instruments:
        spots = in_body(at(one.x_dmm, one.y_dmm), one)
        yield _Wanted(("name", one.name), name_lines(one), spots)
    for strap in panel.straps:
        line = strap_line(strap, scene.places)
        (ax, ay), (bx, by) = line[(len(line) - 1) // 2 :][:2]
        spots = on_or_around(((ax + bx) / 2, (ay + by) / 2))
        yield _Wanted(("strap", strap.name), (strap_name(strap.name),), spots)
    for tie in panel.tie_points:
        spots = around(at(tie.x_dmm, tie.y_dmm))
        yield _Wanted(("tie", tie.name), tie_lines(scene.plan, tie), spots)
    for area in panel.keep_outs:
        middle = at((area.x0_dmm + area.x1_dmm) // 2, (area.y0_dmm + area.y1_dmm) // 2)
        yield _Wanted(("keep-out", area.name), keep_out_lines(area), on_or_around(middle))


def _from_outside(scene: Scene, stubs: Stubs) -> Iterator[_Wanted]:
    """Given wires at their entry, or at their post where no entry is stated; unused pigtails."""
    for given in scene.plan.given:
        at = stubs[given.wire][-1] if given.wire in stubs else scene.entries.get(given.wire)
        if at:
            yield _Wanted(("given", given.wire), given_lines(given), around(at), given.wire)
    used = {given.wire for given in scene.plan.given}
    for entry in scene.plan.panel.entries:
        if entry.wire not in used:
            spots = around(scene.entries[entry.wire])
            yield _Wanted(("given", entry.wire), unused_lines(entry), spots)
