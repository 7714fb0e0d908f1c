"""Which words a drawing carries, and where each of them may stand.

Every post its name and function, every splice its label, every instrument its name; the tags of
wires are in ``tags``.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import cos, pi, sin

from lugwright.outputs.drawing.frame import Point
from lugwright.outputs.drawing.letters import BOLDER, shortened, text_wide
from lugwright.outputs.drawing.parts import strap_line
from lugwright.outputs.drawing.passing_posts import POST
from lugwright.outputs.drawing.pen import TEXT
from lugwright.outputs.drawing.placing import CheapFirst, Label, Spot
from lugwright.outputs.drawing.scene import Ground, Scene
from lugwright.outputs.words import post_use
from lugwright.plans.panel import PanelInstrument, PanelPost
from lugwright.trade.names import strap_name, wire_of_join

_ALL_ROUND = [(cos(k * pi / 8), sin(k * pi / 8)) for k in range(16)]
PITCH = 1.25  # pitch of lines over letter size
_PAD = 0.45  # units between letters and the edge of a tag


@dataclass(frozen=True)
class Lettering:
    """How large letters are: ``unit_mm`` drawing mm per unit, ``size`` in units."""

    unit_mm: float
    size: float = TEXT

    def room(self, lines: Sequence[str], bold: bool = False) -> tuple[float, float]:
        """Width and height of a label, mm, its own edge included."""
        size = self.size * self.unit_mm
        wide = max(text_wide(line, size) for line in lines) * (BOLDER if bold else 1)
        pad = 2 * _PAD * self.unit_mm
        return wide + pad, size * (1 + PITCH * (len(lines) - 1)) * 1.05 + pad * 0.6


def post_words(post: PanelPost) -> tuple[str, ...]:
    """A post's name, and what it is here where the name does not say it."""
    name, use = shortened(post.name, 18), post_use(post)
    words = name if use in post.name else f"{name}: {use}"
    return (f"{words}, lead {post.lead_colour_code}" if post.kind == "lead" else words,)


def post_labels(
    ground: Ground,
    letters: Lettering,
    words: Callable[[PanelPost], tuple[str, ...]] = post_words,
    joints: Container[str] | None = None,
) -> Iterator[Label]:
    """One label per post, close beside its mark or a little further off with a leader.

    ``joints``: only the posts among these.
    """
    for post in ground.panel.posts:
        if joints is not None and post.id not in joints:
            continue
        lines = tuple(shortened(line, 34) for line in words(post))
        wide, high = letters.room(lines)
        at = ground.places[post.id]
        yield Label(
            key=("post", post.id),
            lines=lines,
            wide_mm=wide,
            high_mm=high,
            spots=CheapFirst(
                partial(beside, at, wide, high, letters.unit_mm),
                partial(around, at, wide, high, letters),
            ),
            joints=(post.id,),
        )


def name_labels(
    ground: Ground,
    letters: Lettering,
    hubs: Mapping[str, str],
    names: Container[str] | None = None,
) -> Iterator[Label]:
    """Every instrument's name, in its body where there is room; the hub says so.

    ``names``: only the instruments among these.
    """
    posts_of: dict[str, tuple[str, ...]] = {}
    for post in ground.panel.posts:
        posts_of[post.instrument] = (*posts_of.get(post.instrument, ()), post.id)
    for instrument in ground.panel.instruments:
        if names is not None and instrument.name not in names:
            continue
        lines = [shortened(instrument.name, 22)]
        if instrument.name in hubs:
            lines.append(hubs[instrument.name])
        wide, high = letters.room(lines, bold=True)
        at = ground.frame.at(instrument.x_dmm, instrument.y_dmm)
        half = body_half_mm(instrument)
        spots = list(_over_body(at, half, wide, high, letters.unit_mm))
        yield Label(
            key=("name", instrument.name),
            lines=tuple(lines),
            wide_mm=wide,
            high_mm=high,
            spots=spots,
            look="name",
            joints=posts_of.get(instrument.name, ()),
        )


def body_half_mm(instrument: PanelInstrument) -> tuple[float, float]:
    """Half the width and height of what is drawn of an instrument, mm."""
    if instrument.body_dmm:
        return instrument.body_dmm / 20, instrument.body_dmm / 20
    return instrument.body_width_dmm / 20, instrument.body_height_dmm / 20


def _over_body(
    at: Point, half: tuple[float, float], wide: float, high: float, unit: float
) -> Iterator[Spot]:
    """Inside a body, its middle first; then above and below it, then round it."""
    x, y = at
    for row in range(-4, 5):
        for column in (-1.0, 0.0, 1.0):
            px, py = x + column * half[0] * 0.45, y + row * half[1] * 0.22
            yield Spot((px, py), 0.3 * abs(row) + 0.4 * abs(column))
    for up in (1, -1):
        for column in (-1.0, -0.5, 0.0, 0.5, 1.0):
            px, py = x + column * half[0], y - up * (half[1] + high / 2 + 0.8 * unit)
            yield Spot((px, py), 1.5 + 0.4 * abs(column) + (0.2 if up < 0 else 0))
    for far in (3.0, 6.0, 9.0, 13.0, 18.0):
        for k in range(12):
            px = x + (half[0] + wide / 2 + far * unit) * cos(k * pi / 6)
            py = y + (half[1] + high / 2 + far * unit) * sin(k * pi / 6)
            yield Spot((px, py), 4 + far / 3, (x, y))


def joint_labels(
    scene: Scene, letters: Lettering, joints: Container[str] | None = None
) -> Iterator[Label]:
    """Splices, and the butts of extensions; of ``joints`` only those among them."""
    for joint, at in scene.places.items():
        if joint not in scene.posts and (joints is None or joint in joints):
            yield spoken(joint, joint_words(scene, joint), at, letters)


def strap_labels(
    ground: Ground, letters: Lettering, names: Container[str] | None = None
) -> Iterator[Label]:
    """Each strap's name, beside the middle of it; of ``names`` only those among them."""
    for strap in ground.panel.straps:
        name = strap_name(strap.name)
        if names is None or name in names:
            line = strap_line(strap, ground.places)
            (ax, ay), (bx, by) = line[(len(line) - 1) // 2 :][:2]
            yield replace(
                spoken(name, (name,), ((ax + bx) / 2, (ay + by) / 2), letters), joints=strap.posts
            )


def joint_words(scene: Scene, joint: str) -> tuple[str, ...]:
    """A joint in words: a post by id and what it is here, a splice by label, a butt by wire."""
    post = scene.posts.get(joint)
    if post:
        use = post_use(post)
        return (joint if use in post.name else f"{joint}: {use}",)
    butt = wire_of_join(joint)
    return (joint if butt == joint else f"butt {butt}",)


def spoken(joint: str, words: Sequence[str], at: Point, letters: Lettering) -> Label:
    """A label for any place, beside its mark or round it."""
    lines = tuple(shortened(line, 34) for line in words)
    wide, high = letters.room(lines)
    return Label(
        key=("joint", joint),
        lines=lines,
        wide_mm=wide,
        high_mm=high,
        spots=CheapFirst(
            partial(beside, at, wide, high, letters.unit_mm * 1.3),
            partial(around, at, wide, high, letters),
        ),
        joints=(joint,),
    )


def beside(at: Point, wide: float, high: float, unit: float) -> Iterator[Spot]:
    """Eight places that touch a post's mark: beside it first, then above and below, then askew."""
    x, y = at
    near = POST * unit + 0.25 * unit
    for dx, dy, price in (
        (1, 0, 0.0), (-1, 0, 0.1), (0, -1, 0.3), (0, 1, 0.3),
        (1, -1, 0.5), (-1, -1, 0.5), (1, 1, 0.5), (-1, 1, 0.5),
    ):  # fmt: skip
        off_x = near + wide / 2 if not dy else near * 0.5 + wide / 2
        off_y = near + high / 2 if not dx else near * 0.5 + high / 2
        yield Spot((x + dx * off_x, y + (dy * off_y if dy else 0)), price)


def around(
    at: Point,
    wide: float,
    high: float,
    letters: Lettering,
    rings: Sequence[float] = (3.5, 6.0, 9.0, 13.0),
    dearer: float = 0.0,
) -> Iterator[Spot]:
    """Places on rings round a place, each with a leader back to it; further is dearer."""
    x, y = at
    for ring in rings:
        far = ring * letters.unit_mm
        off_x, off_y, price = far + wide / 2, far + high / 2, 0.8 + ring * 0.22 + dearer
        for dx, dy in _ALL_ROUND:
            yield Spot((x + dx * off_x, y + dy * off_y), price, at)
