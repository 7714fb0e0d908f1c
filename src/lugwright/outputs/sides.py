"""What a name says of its side, against where it lies on the side of the panel that is shown.

A panel turned over has its left on the right. A tie point called ``right`` that was named from the
front is drawn at the left of every sheet seen from the back: such a sheet says so. The panel faces
whoever steers, who looks forward: port is left seen from the front (common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

from lugwright.plans.panel import Panel

Shown = Literal["back", "front"]
_LEFT, _RIGHT = frozenset(("left", "port")), frozenset(("right", "starboard"))
_WORD = re.compile(r"[^\W\d_]+")


def side_notes(panel: Panel, shown: Shown = "back") -> tuple[str, ...]:
    """One sentence for each half of the panel on which names say the other side.

    A thing lies on the half its centre is in, seen from the side shown; in the very middle it lies
    on neither.
    """
    astray: dict[str, list[str]] = {"left": [], "right": []}
    for name, offset_dmm in _places(panel):
        said = _said(name)
        here = "right" if (offset_dmm > 0) is (shown == "back") else "left"
        if said and offset_dmm and said != here:
            astray[here].append(name)
    return tuple(
        f"Seen from the {shown}: what is called {_listed(names)} lies at the {here} here."
        for here, names in astray.items()
        if names
    )


def _places(panel: Panel) -> Iterator[tuple[str, int]]:
    """Every named thing with a place, and how far right of the middle it lies from the back.

    A post's own name is judged by the middle of its instrument, all else by the plate's.
    Twice the distance, in 0.1 mm, so that halves are whole.
    """
    wide = panel.width_dmm
    middles = {one.name: one.x_dmm for one in panel.instruments}
    for one in panel.instruments:
        yield one.name, 2 * one.x_dmm - wide
    for post in panel.posts:
        if _said(post.name):
            yield f"{post.instrument}.{post.name}", 2 * (post.x_dmm - middles[post.instrument])
    for tie in panel.tie_points:
        yield tie.name, 2 * tie.x_dmm - wide
    for place in panel.keep_outs:
        yield place.name, place.x0_dmm + place.x1_dmm - wide
    for entry in panel.entries:
        yield entry.wire, 2 * entry.x_dmm - wide


def _said(name: str) -> str:
    """The side a name speaks of: ``left``, ``right``, or "" for none or both.

    Of ``dial.left stud`` only what follows the dot counts.
    """
    words = set(_WORD.findall(name.rpartition(".")[2].casefold()))
    left, right = words & _LEFT, words & _RIGHT
    return "" if bool(left) is bool(right) else ("left" if left else "right")


def _listed(names: list[str]) -> str:
    quoted = [f'"{name}"' for name in dict.fromkeys(names)]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"
