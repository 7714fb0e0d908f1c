"""One stud in section: its lugs from base to nut, with washer, nut and the thread they take."""

from __future__ import annotations

from collections.abc import Sequence

from lugwright.base.scale import amps_text, mm_text
from lugwright.outputs.drawing.svg import Drawing
from lugwright.outputs.rows_bench import StudRow, lug_name
from lugwright.outputs.stacks.barrel import draw_barrel
from lugwright.outputs.stacks.book import Book, crimp_title, crimp_words
from lugwright.outputs.stacks.clock import SIDE, Bearing, draw_clock
from lugwright.outputs.stacks.sketch import EDGE, LINE, WIDTH, Sketch, text_lines
from lugwright.plans.panel import PanelStrap
from lugwright.plans.schema import Stack, StackedLug

_STUD_X, _STUD_WIDTH = 27.0, 14.0
_NUT_X, _NUT_WIDTH, _NUT_HEIGHT = 13.0, 42.0, 16.0
_WASHER_HEIGHT = 5.0
_GAP = 7.0  # under a loose nut
_TONGUE_X = 16.0
_WORDS_X = 62.0
_SHOWING = 9.0  # thread drawn above the nut
_PITCH = 2.5  # between two turns of the drawn thread
_BAR_HEIGHT = 9.0
_NUT_WORDS = {
    "snug": "snug at the bench",
    "loose": "LOOSE at the bench: more comes aboard",
    "none yet": "not at the bench: stays in the bag until aboard",
}


def draw_stud(book: Book, post: str) -> Drawing:
    """The stud as SVG. Raises KeyError when no lug lies on that post."""
    stack, row = book.stacks[post], book.studs[post]
    sketch = Sketch(f"Stud {post} in section, {len(stack.lugs)} on it", data_post=post)
    _draw_head(sketch, stack)
    top = sketch.y
    sketch.y += _SHOWING
    _draw_boot(sketch, stack)
    _draw_nut(sketch, stack, row)
    _draw_reserved(sketch, stack)
    for order in range(len(stack.lugs), 0, -1):
        _draw_lug(sketch, book, stack, order)
    _draw_base(sketch)
    _draw_thread(sketch, top, sketch.y - LINE)
    _draw_thread_bar(sketch, stack)
    return sketch.finished()


def goes_on(stack: Stack, order: int) -> bool:
    """Whether the lug at that place (1 at the base) is put on at the bench."""
    return stack.lugs[order - 1].stage == "bench"


def _draw_head(sketch: Sketch, stack: Stack) -> None:
    """The post's name, its thread and nut driver, and the clock beside them."""
    room = WIDTH - 2 * EDGE - SIDE
    top = sketch.y
    bearings = [
        Bearing(order, lug.clock, not goes_on(stack, order))
        for order, lug in enumerate(stack.lugs, start=1)
    ]
    draw_clock(sketch, (WIDTH - EDGE - SIDE / 2, top + SIDE / 2), bearings)
    sketch.text(EDGE, text_lines(stack.post, room, bold=True), bold=True)
    sketch.text(EDGE, text_lines(f"stud {stack.thread}, {stack.driver}", room))
    sketch.text(EDGE, text_lines(_thread_words(stack), room))
    sketch.text(EDGE, text_lines("clock seen from the back", room))
    sketch.y = max(sketch.y, top + SIDE - LINE) + 4


def _words(sketch: Sketch, text: str, least: float, bold: bool = False) -> None:
    """A sentence beside what was drawn; the drawing is filled at least ``least`` further."""
    top = sketch.y
    sketch.text(_WORDS_X, text_lines(text, WIDTH - EDGE - _WORDS_X, bold), bold)
    sketch.y = max(sketch.y, top + least)


def _draw_boot(sketch: Sketch, stack: Stack) -> None:
    """The boot over a stud that is live."""
    if stack.boot:
        sketch.box(_NUT_X - 4, sketch.y - 4, _NUT_WIDTH + 8, LINE, corner=6, fill="#ffffff")
        _words(sketch, "boot over it all: this stud is live", LINE + 2, bold=True)


def _draw_nut(sketch: Sketch, stack: Stack, row: StudRow) -> None:
    """Nut and lock washer; a nut that waits for what comes aboard is dashed."""
    waits = row.nut_at_bench == "none yet"
    sketch.box(_NUT_X, sketch.y, _NUT_WIDTH, _NUT_HEIGHT, fill="#e8e8e8", dashed=waits)
    words = f"nut, {stack.driver}: {_NUT_WORDS[row.nut_at_bench]}"
    _words(sketch, words, _NUT_HEIGHT, bold=row.nut_at_bench != "snug")
    sketch.y += _GAP if row.nut_at_bench == "loose" else 0
    if stack.lock_washer:
        sketch.y += 3
        sketch.box(_NUT_X + 3, sketch.y + 3, _NUT_WIDTH - 6, _WASHER_HEIGHT, dashed=waits)
        _words(sketch, "lock washer", _WASHER_HEIGHT)
    sketch.y += 4


def _draw_reserved(sketch: Sketch, stack: Stack) -> None:
    """Room that is kept for lugs of later: an empty outline."""
    if stack.reserved:
        sketch.box(_TONGUE_X, sketch.y + 5, _NUT_X + _NUT_WIDTH - _TONGUE_X, 5, thin=True)
        lugs = "1 more lug" if stack.reserved == 1 else f"{stack.reserved} more lugs"
        _words(sketch, f"room kept for {lugs}", LINE)
        sketch.y += 4


def _draw_lug(sketch: Sketch, book: Book, stack: Stack, order: int) -> None:
    """One lug with its tongue on the stud, its barrel and its wires."""
    lug, bench = stack.lugs[order - 1], goes_on(stack, order)
    with sketch.group(data_lug=str(order), data_clock=str(lug.clock), data_crimp=str(lug.crimp)):
        crimp = book.crimps[lug.crimp] if lug.crimp else None
        title = crimp_title(crimp) if crimp else lug_name(lug)
        _words(sketch, f"lug {order}: {title}", LINE, bold=True)
        for words in _lug_words(book, lug, bench, lug in stack.waiting):
            _words(sketch, words, LINE)
        strap = book.strap(lug)
        if strap:
            _draw_strap(sketch, strap, stack.post)
            return
        colour = crimp.colour if crimp else ""
        draw_barrel(sketch, colour, book.lug_ends(lug), not bench, _TONGUE_X)
    sketch.y += 8


def _draw_strap(sketch: Sketch, strap: PanelStrap, post: str) -> None:
    """A strap's flat metal on the stud, and the studs it leads to."""
    others = [other for other in strap.posts if other != post]
    sketch.box(_TONGUE_X, sketch.y + 4, WIDTH - EDGE - _TONGUE_X, 5, fill="#dcdcdc")
    sketch.y += 12
    _words(sketch, f"on to {', '.join(others)}", LINE)
    sketch.y += 8


def _lug_words(book: Book, lug: StackedLug, bench: bool, waits: bool) -> Sequence[str]:
    """What to know of a lug: barrel and die, bearing, tongue, current, when it goes on."""
    crimp = book.crimps[lug.crimp] if lug.crimp else None
    when = "bench" if bench else "ABOARD"
    if waits:
        when = "bench, labelled: WAITS loose, more goes under it"
    place = (
        f"to {lug.clock} o'clock, tongue {mm_text(lug.tongue_dmm)} mm, "
        f"{amps_text(lug.current_ma)} A, {when}"
    )
    return (crimp_words(crimp), place) if crimp else (place,)


def _draw_base(sketch: Sketch) -> None:
    """The instrument's own nut, from which free thread is counted."""
    sketch.box(_NUT_X - 5, sketch.y, _NUT_WIDTH + 8, LINE, fill="#bdbdbd")
    _words(sketch, "base: the instrument's own nut", LINE)


def _draw_thread(sketch: Sketch, top: float, bottom: float) -> None:
    """The stud itself, over all it goes through."""
    sketch.box(_STUD_X, top, _STUD_WIDTH, bottom - top, fill="#f7f7f7")
    strokes = int((bottom - top) / _PITCH)
    sides = (_STUD_X, _STUD_X + _STUD_WIDTH)
    turns = [(sides[index % 2], top + index * _PITCH) for index in range(1, strokes)]
    sketch.line(turns, thin=True)


def _draw_thread_bar(sketch: Sketch, stack: Stack) -> None:
    """Thread used, as a bar over the free thread; only this bar is to scale."""
    used, free = stack.used_dmm, stack.free_dmm
    whole = WIDTH - 2 * EDGE
    filled = whole * min(max(used, 0), free) / free if free > 0 else whole
    sketch.box(EDGE, sketch.y + 6, whole, _BAR_HEIGHT, thin=True)
    sketch.box(EDGE, sketch.y + 6, filled, _BAR_HEIGHT, fill="#9a9a9a", thin=True)
    sketch.y += _BAR_HEIGHT + 6


def _thread_words(stack: Stack) -> str:
    """Thread used and left, in words."""
    used, free = stack.used_dmm, stack.free_dmm
    return f"thread used {mm_text(used)} of {mm_text(free)} mm, left {mm_text(free - used)} mm"
