"""A drawing larger than the page, made smaller: as large as fits, or to a round scale."""

from __future__ import annotations

from lugwright.outputs.paper.frame import Area

# Reduction scales of ISO 5455:1979, table 1 (from memory).
_SCALES = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)


def reduced(width: float, height: float, room: Area, *, to_scale: bool) -> float:
    """Drawn length over true length for a drawing of that size (mm) to fit the room.

    ``to_scale`` takes the largest standard scale that fits, so that lengths can be taken off with
    a scale rule.
    """
    most = min(1.0, room.width / width, room.height / height)
    if not to_scale:
        return most
    return next((1 / one for one in _SCALES if 1 / one <= most), most)


def side_words(side: str, factor: float, to_scale: bool) -> str:
    """What is said of a reduced drawing: the side shown, and its scale where it has one."""
    return f"{side}, scale 1:{round(1 / factor)}" if to_scale else f"{side}, not to scale"
