"""Rows of boxes to write in: a heading with the keys, then a row for each thing measured."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.measuring.fields import Field
from lugwright.outputs.paper.flow import Block, together
from lugwright.outputs.paper.fonts import BOLD, SANS
from lugwright.outputs.paper.frame import Area
from lugwright.outputs.paper.lettering import LEADING, SMALL_MM, clipped, wrapped_to, write

_ROW_MM = 9.0  # room for handwriting above the small letters
_KNOWN_MM, _KEY_MM = 1.9, 2.3
_PAD_MM = 0.7
_NAME_SHARE = 0.15  # of the width: the name of what a row is about


def box_rows(
    about: str,
    fields: Sequence[Field],
    rows: Sequence[tuple[str, Mapping[str, str]]],
    width: float,
    above: Sequence[Block] = (),
) -> list[Block]:
    """A heading and one row of boxes for each of ``rows``: its name, and what is known by key.

    What is known stands small in its box; the rest of the box is to write in. What stands
    ``above`` and the heading stay with the first row; the heading is drawn again where the rows
    go on to another page.
    """
    heading = Block(
        SMALL_MM * LEADING + 2 * _PAD_MM, partial(_draw_heading, about=about, fields=fields)
    )
    boxes = [
        Block(
            _height(name, known, fields, width),
            partial(_draw_row, fields=fields, name=name, known=known),
            heading,
        )
        for name, known in rows
    ]
    return [together([*above, heading, *boxes[:1]]), *boxes[1:]]


def _name_lines(name: str, width: float) -> list[str]:
    """A row's name in its column."""
    return wrapped_to(name, SMALL_MM, width * _NAME_SHARE - 2 * _PAD_MM, BOLD)


def _height(name: str, known: Mapping[str, str], fields: Sequence[Field], width: float) -> float:
    """Height of a row: room to write, more where its name or what is known is long."""
    room = width * (1 - _NAME_SHARE) / len(fields) - 2 * _PAD_MM
    said = max(len(wrapped_to(known.get(field.key, ""), _KNOWN_MM, room)) for field in fields)
    return max(
        _ROW_MM + (said - 1) * _KNOWN_MM * LEADING,
        len(_name_lines(name, width)) * SMALL_MM * LEADING + 2 * _PAD_MM,
    )


def _columns(area: Area, count: int) -> list[tuple[float, float]]:
    """Left edge and width of each box, in a row of ``count``."""
    first = area.width * _NAME_SHARE
    each = (area.width - first) / count
    return [(area.x + first + index * each, each) for index in range(count)]


def _draw_heading(canvas: Canvas, area: Area, about: str, fields: Sequence[Field]) -> None:
    """What the rows are about, and the keys."""
    y = area.y + _PAD_MM + SMALL_MM * 0.2
    room = area.width * _NAME_SHARE - 2 * _PAD_MM
    write(canvas, area.x + _PAD_MM, y, clipped(about, SMALL_MM, room, BOLD), SMALL_MM, BOLD)
    for (x, width), field in zip(_columns(area, len(fields)), fields, strict=True):
        key = clipped(field.key, _KEY_MM, width - _PAD_MM, BOLD)
        write(canvas, x + _PAD_MM, y, key, _KEY_MM, BOLD)


def _draw_row(
    canvas: Canvas, area: Area, fields: Sequence[Field], name: str, known: Mapping[str, str]
) -> None:
    """A row's name and its boxes."""
    canvas.saveState()
    canvas.setLineWidth(0.2)
    canvas.rect(area.x, area.y, area.width * _NAME_SHARE, area.height)
    for index, line in enumerate(_name_lines(name, area.width)):
        y = area.top - _PAD_MM - SMALL_MM * (1 + LEADING * index)
        write(canvas, area.x + _PAD_MM, y, line, SMALL_MM, BOLD)
    for (x, width), field in zip(_columns(area, len(fields)), fields, strict=True):
        canvas.rect(x, area.y, width, area.height)
        said = wrapped_to(known.get(field.key, ""), _KNOWN_MM, width - 2 * _PAD_MM)
        for index, line in enumerate(reversed(said)):
            y = area.y + _PAD_MM + index * _KNOWN_MM * LEADING
            write(canvas, x + _PAD_MM, y, line, _KNOWN_MM, SANS)
    canvas.restoreState()
