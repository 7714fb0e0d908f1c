"""Words for what is no post: wires that enter, boat wires, ties, keep-outs."""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import replace
from functools import partial

from lugwright.outputs.drawing.frame import Point
from lugwright.outputs.drawing.labels import Lettering, around, spoken
from lugwright.outputs.drawing.letters import shortened
from lugwright.outputs.drawing.placing import CheapFirst, Label, Spot
from lugwright.outputs.drawing.scene import Scene
from lugwright.plans.panel import PanelEntry
from lugwright.plans.schema import Given


def aboard_words(wire: Given) -> str:
    """The tag of what comes aboard."""
    return f"{shortened(wire.wire)} {wire.colour_code}".rstrip()


def aboard_labels(
    scene: Scene,
    letters: Lettering,
    wires: Container[str] | None = None,
    joints: Container[str] | None = None,
) -> Iterator[Label]:
    """What comes aboard without a stated way: its tag at the end of a dashed line.

    ``wires``, ``joints``: of these only.
    """
    known = {run.wire for run in scene.runs}
    for wire in scene.plan.given:
        chosen = wires is None or wire.wire in wires
        if wire.wire in known or wire.joint not in scene.places or not chosen:
            continue
        if joints is not None and wire.joint not in joints:
            continue
        wide, high = letters.room([aboard_words(wire)])
        at = scene.places[wire.joint]
        yield Label(
            key=("aboard", wire.wire),
            lines=(aboard_words(wire),),
            wide_mm=wide,
            high_mm=high,
            spots=CheapFirst(
                partial(around, at, wide, high, letters, (6.0, 9.0, 12.0, 16.0, 21.0))
            ),
            look="aboard",
            owner=wire.wire,
            colour=wire.colour,
            joints=(wire.joint,),
        )


def place_labels(scene: Scene, letters: Lettering) -> Iterator[Label]:
    """Names of tie points and keep-outs: faint, the only words that may be left out."""
    panel, frame = scene.panel, scene.frame
    named = [(f"tie {tie.name}", frame.at(tie.x_dmm, tie.y_dmm)) for tie in panel.tie_points]
    for keep_out in panel.keep_outs:
        middle = (keep_out.x0_dmm + keep_out.x1_dmm) // 2, (keep_out.y0_dmm + keep_out.y1_dmm) // 2
        named.append((f"keep-out {keep_out.name}", frame.at(*middle)))
    for words, at in named:
        label = spoken(words, (words,), at, letters)
        yield replace(label, key=("place", words), look="faint", joints=())


def entry_labels(scene: Scene, letters: Lettering) -> Iterator[Label]:
    """One block of words per place where wires enter, a line per wire in the order they lie."""
    shared: dict[tuple[int, int], list[PanelEntry]] = {}
    for entry in scene.plan.panel.entries:
        shared.setdefault((entry.x_dmm, entry.y_dmm), []).append(entry)
    for place, entries in shared.items():
        entries.sort(key=lambda entry: scene.entries[entry.wire])
        lines = ("ENTRY", *(entry_words(entry) for entry in entries))
        wide, high = letters.room(lines)
        yield Label(
            key=("entry", *(entry.wire for entry in entries)),
            lines=lines,
            wide_mm=wide,
            high_mm=high,
            spots=list(_near_entry(scene.frame.at(*place), wide, high, letters, scene)),
            look="faint",
        )


def entry_words(entry: PanelEntry) -> str:
    """A wire that enters: its name, colour code and size; one without a post is capped off."""
    words = f"{shortened(entry.wire)} {entry.colour_code} {entry.wire_size}"
    return words if entry.circuit or entry.stage == "aboard" else f"{words}: cap off"


def _near_entry(
    at: Point, wide: float, high: float, letters: Lettering, scene: Scene
) -> Iterator[Spot]:
    """Outside the plate where the entry is at its edge, else round it."""
    x, y = at
    edge = 5 * letters.unit_mm
    for index, aside in enumerate((0.0, 0.5, -0.5, 1.0, -1.0)):
        if y > scene.frame.height_mm - edge:
            centre = (x + aside * wide, scene.frame.height_mm + high / 2 + 2 * letters.unit_mm)
            yield Spot(centre, index * 0.3, at)
        if y < edge:
            yield Spot((x + aside * wide, -high / 2 - 2 * letters.unit_mm), index * 0.3, at)
        if x < edge:
            yield Spot((-wide / 2 - 2 * letters.unit_mm, y + aside * high), index * 0.3, at)
        if x > scene.frame.width_mm - edge:
            centre = (scene.frame.width_mm + wide / 2 + 2 * letters.unit_mm, y + aside * high)
            yield Spot(centre, index * 0.3, at)
    yield from around(at, wide, high, letters, (4.0, 7.0, 11.0, 16.0, 24.0))
