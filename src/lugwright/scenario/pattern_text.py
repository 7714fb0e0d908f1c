"""A pattern of the library as text: hole, body, posts, loads, and a drawing of its back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from math import cos, pi, sin

from lugwright.base.scale import amps_text
from lugwright.scenario.pattern_schema import PatternPart, PostPart

INVENTED = (
    "Invented, with dimensions usual in the trade: measure the instrument in your hand "
    "before you cut or drill."
)
_ACROSS = 41  # letters for the widest part of a drawing
_LETTER_SHAPE = 2  # a letter in a terminal is about twice as high as wide


def hole_text(pattern: PatternPart) -> str:
    """The hole: its diameter, its width and height, or that there is none."""
    if pattern.cut_out_width is None:
        return f"{_mm(pattern.cut_out)} mm" if pattern.cut_out is not None else "standoffs"
    return f"{_mm(pattern.cut_out_width)} x {_mm(pattern.cut_out_height)} mm"


def _bezel_text(pattern: PatternPart) -> str:
    if pattern.bezel_width is None:
        return f"{_mm(pattern.bezel)} mm"
    return f"{_mm(pattern.bezel_width)} x {_mm(pattern.bezel_height)} mm"


def post_counts(pattern: PatternPart) -> str:
    """``3 studs, 1 tab``."""
    counts = Counter(post.kind for post in pattern.posts.values())
    return ", ".join(
        f"{counts[kind]} {kind}{'s' if counts[kind] > 1 else ''}"
        for kind in ("stud", "tab", "lead")
        if counts[kind]
    )


def body_lines(pattern: PatternPart) -> Iterator[str]:
    """Hole, rim, body and whether the supply may land here, a line each."""
    if pattern.cut_out is not None or pattern.cut_out_width is not None:
        corners = f", corners r {_mm(pattern.cut_out_radius)} mm" * bool(pattern.cut_out_radius)
        yield f"hole {hole_text(pattern)}{corners}, bezel {_bezel_text(pattern)}"
    else:
        yield "stands on standoffs, no hole"
    for screw in pattern.screws:
        x, y = map(_mm, screw.at)
        yield f"screw hole {_mm(screw.diameter)} mm at {x}, {y} seen from the back"
    if pattern.mounted_from == "back":
        yield "mounted from the back: the bezel goes through the hole, the body is the flange"
    across = (
        f"{_mm(pattern.body)} mm across"
        if pattern.body is not None
        else f"{_mm(pattern.body_width)} x {_mm(pattern.body_height)} mm"
    )
    yield f"body {across}, {_mm(pattern.body_depth)} mm deep behind the panel"
    if pattern.positions:
        yield f"positions: {', '.join(pattern.positions)}; at rest {pattern.positions[0]}"
    if pattern.carries_in:
        yield f"takes in {amps_text(pattern.carries_in)} A at most"
    if pattern.ways:
        yield "ignition protected" if pattern.ignition_protected else "not ignition protected"
    yield "may be the hub" if pattern.hub_candidate else "not a hub candidate"
    if pattern.key_on:
        yield f"at key-on: {pattern.key_on}"


def post_rows(pattern: PatternPart) -> list[tuple[str, ...]]:
    """A row for each post: number and name, kind, function, place, height, size, own limit."""
    return [
        (
            f"{number} {name}",
            post.kind,
            post.function + (", joined inside" if post.link else ""),
            f"{_mm(post.at[0])}, {_mm(post.at[1])}",
            _mm(post.height),
            _size(post),
            f"{amps_text(post.carries)} A" if post.carries else "",
        )
        for number, (name, post) in enumerate(pattern.posts.items(), 1)
    ]


def load_rows(pattern: PatternPart) -> list[tuple[str, ...]]:
    """A row for each load."""
    return [
        (load.name, load.feed, load.ground, amps_text(load.current), load.drop_class)
        for load in pattern.loads
    ]


def way_rows(pattern: PatternPart) -> list[tuple[str, ...]]:
    """A row for each way: kind, near post, far post, when it conducts, what it may carry."""
    return [
        (
            way.kind,
            way.near,
            far,
            "always" if way.is_always else ", ".join(way.closed or ()),
            f"{amps_text(way.carries)} A" if way.carries else "",
        )
        for way in pattern.ways
        for far in way.to
    ]


def drawing(pattern: PatternPart) -> list[str]:
    """The back as a drawing of letters: the body's outline in dots, each post its number."""
    half_x, half_y = _half_size(pattern)
    marks = [
        (float(post.at[0]), float(post.at[1]), str(number))
        for number, post in enumerate(pattern.posts.values(), 1)
    ]
    reach_x = max([half_x, *(abs(x) for x, _, _ in marks)])
    reach_y = max([half_y, *(abs(y) for _, y, _ in marks)])
    step = 2 * reach_x / (_ACROSS - 1)
    rows = int(2 * reach_y / (step * _LETTER_SHAPE)) + 1
    grid = [[" "] * (_ACROSS + 2) for _ in range(rows + 1)]

    def put(x: float, y: float, word: str) -> None:
        column = round((x + reach_x) / step)
        row = round((reach_y - y) / (step * _LETTER_SHAPE))
        for offset, letter in enumerate(word):
            grid[row][min(column + offset, _ACROSS + 1)] = letter

    for x, y in _outline(pattern, half_x, half_y):
        put(x, y, ".")
    for x, y, word in marks:
        put(x, y, word)
    return ["Seen from the back:", *("".join(row).rstrip() for row in grid)]


def _half_size(pattern: PatternPart) -> tuple[float, float]:
    """Half of the body's width and height, mm."""
    if pattern.body is not None:
        return float(pattern.body) / 2, float(pattern.body) / 2
    return float(pattern.body_width or 0) / 2, float(pattern.body_height or 0) / 2


def _outline(pattern: PatternPart, half_x: float, half_y: float) -> Iterator[tuple[float, float]]:
    """Places along the body's outline, mm from its centre."""
    for number in range(120):
        share = number / 120
        if pattern.body is not None:
            yield half_x * cos(2 * pi * share), half_y * sin(2 * pi * share)
            continue
        side, along = divmod(share * 4, 1)
        across, up = (2 * along - 1) * half_x, (2 * along - 1) * half_y
        yield ((across, half_y), (half_x, up), (across, -half_y), (-half_x, up))[int(side)]


def _size(post: PostPart) -> str:
    """Thread and free thread, tab, or the lead's wire."""
    if post.kind == "stud":
        return f"{post.thread}, {_mm(post.free_thread)} mm free"
    if post.lead is not None:
        return f"{post.lead.wire_size} {post.lead.colour}"
    return str(post.tab)


def _mm(length: Fraction | None) -> str:
    """Millimetres to a tenth, as a plain decimal."""
    return "" if length is None else f"{float(length):.1f}".removesuffix(".0")
