"""What is joined without a nut: a push-on on its tab, a fitting in mid-air, a lengthened wire."""

from __future__ import annotations

from collections.abc import Iterable

from lugwright.base.scale import amps_text, mm_text
from lugwright.outputs.drawing.svg import Drawing
from lugwright.outputs.stacks.barrel import (
    BARREL_X,
    WireEnd,
    barrel_fill,
    draw_barrel,
    draw_wires,
    wire_text,
)
from lugwright.outputs.stacks.book import Book, crimp_title, crimp_words
from lugwright.outputs.stacks.sketch import EDGE, LINE, WIDTH, Sketch, text_lines
from lugwright.plans.schema import Crimp

_BLADE_X = 12.0
_SLEEVE_X, _SLEEVE_HEIGHT = 36.0, 20.0
_BUTT_X, _BUTT_WIDTH, _BUTT_HEIGHT = 34.0, 20.0, 46.0
_WORDS_X = 62.0


def draw_tab(book: Book, post: str) -> Drawing:
    """A tab with its push-on as SVG. Raises KeyError when there is none on that post."""
    (crimp,) = book.at_joint[post]
    size = book.posts[post].tab_size
    sketch = Sketch(f"Tab {post} with its push-on", data_post=post)
    blade = f"tab {size} mm" if size else "tab, size not stated"
    _draw_head(sketch, post, (blade, _when(crimp, "push on")))
    _draw_crimp_words(sketch, crimp)
    with sketch.group(data_crimp=str(crimp.number)):
        dashed = crimp.stage == "aboard"
        top = sketch.y + 4
        sketch.y = top
        axis = draw_barrel(sketch, crimp.colour, _all_ends(book, crimp), dashed, _SLEEVE_X)
        half = _SLEEVE_HEIGHT / 2
        width = BARREL_X - 4 - _SLEEVE_X
        sketch.box(_BLADE_X, axis - 3, _SLEEVE_X - _BLADE_X + 12, 6, fill="#bdbdbd")
        sketch.box(_SLEEVE_X, axis - half, width, _SLEEVE_HEIGHT, dashed=dashed, corner=2)
        sketch.y = max(sketch.y, axis + half)
    return sketch.finished()


def draw_joint(book: Book, joint: str) -> Drawing:
    """A splice, a lead's joint or the butt of an extension as SVG.

    Raises KeyError when the plan crimps nothing at that joint.
    """
    (crimp,) = book.at_joint[joint]
    sketch = Sketch(f"Joint {joint}: {crimp.item}", data_joint=joint)
    _draw_head(sketch, joint, (*_place(book, joint), _when(crimp, "crimped")))
    with sketch.group(data_crimp=str(crimp.number)):
        if len(crimp.barrels) == 2:
            _draw_butt(sketch, book, crimp)
        else:
            _draw_crimp_words(sketch, crimp)
            _draw_closed_end(sketch, book, crimp)
    return sketch.finished()


def _draw_head(sketch: Sketch, name: str, lines: Iterable[str]) -> None:
    """The joint's name and what it is."""
    room = WIDTH - 2 * EDGE
    sketch.text(EDGE, text_lines(name, room, bold=True), bold=True)
    for words in lines:
        sketch.text(EDGE, text_lines(words, room))
    sketch.y += 4


def _when(crimp: Crimp, verb: str) -> str:
    """At which stage it is done."""
    return f"{verb} at the bench" if crimp.stage == "bench" else f"{verb} ABOARD"


def _place(book: Book, joint: str) -> tuple[str, ...]:
    """Where a joint without a post is; at a lead, whose lead it is."""
    if joint in book.splices:
        at = book.splices[joint].at
        tied = f", at tie point {at.tie}" if at.tie else ""
        return (
            f"seen from the back: {mm_text(at.x_dmm)} mm from the left edge, "
            f"{mm_text(at.y_dmm)} mm up, {mm_text(at.z_dmm)} mm off the panel{tied}",
        )
    if joint in book.posts:
        return (f"at the end of the lead of {book.posts[joint].instrument}",)
    return ("lengthens a wire that is too short",)


def _all_ends(book: Book, crimp: Crimp) -> tuple[WireEnd, ...]:
    """All wire ends of a fitting with one mouth."""
    return book.ends(end for barrel in crimp.barrels for end in barrel)


def _draw_crimp_words(sketch: Sketch, crimp: Crimp) -> None:
    """What the fitting is and how it is made."""
    room = WIDTH - EDGE - _WORDS_X
    sketch.text(_WORDS_X, text_lines(crimp_title(crimp), room, bold=True), bold=True)
    words = f"{crimp_words(crimp)}; {amps_text(crimp.current_ma)} A"
    sketch.text(_WORDS_X, text_lines(words, room))


def _draw_closed_end(sketch: Sketch, book: Book, crimp: Crimp) -> None:
    """All wires from one side; the other is closed and rounded."""
    dashed = crimp.stage == "aboard"
    axis = draw_barrel(sketch, crimp.colour, _all_ends(book, crimp), dashed, BARREL_X)
    sketch.box(
        BARREL_X - 14, axis - 9, 22, 18, fill=barrel_fill(crimp.colour), dashed=dashed, corner=8
    )


def _draw_butt(sketch: Sketch, book: Book, crimp: Crimp) -> None:
    """A butt stood upright: the wires of one half leave above, those of the other below."""
    above, below = (book.ends(barrel) for barrel in crimp.barrels)
    dashed = crimp.stage == "aboard"
    top = sketch.y
    middle = _BUTT_X + _BUTT_WIDTH / 2
    body = top + LINE * 0.5 + _height(above)
    with sketch.group(data_barrel="1"):
        draw_wires(sketch, above, middle, body + 2, dashed, upright=True)
    sketch.y = body + 8
    _draw_crimp_words(sketch, crimp)
    end = max(sketch.y + 2, body + _BUTT_HEIGHT)
    sketch.box(
        _BUTT_X, body, _BUTT_WIDTH, end - body,
        fill=barrel_fill(crimp.colour), dashed=dashed, corner=3,
    )  # fmt: skip
    stop = (body + end) / 2
    sketch.line([(_BUTT_X, stop), (_BUTT_X + _BUTT_WIDTH, stop)], thin=True)
    sketch.y = end + LINE * 0.5
    with sketch.group(data_barrel="2"):
        draw_wires(sketch, below, middle, end - 2, dashed, upright=True)


def _height(ends: Iterable[WireEnd]) -> float:
    """Height the names of those wires take."""
    return sum(wire_text(end).height for end in ends)
