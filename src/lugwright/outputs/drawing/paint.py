"""What the published wire colours look like on screen and paper.

The names are those of the closed list every conductor colour is taken from. How they are painted
is common practice, no source: dark enough to be told apart on white paper, and pale colours get
a dark border. A colour never stands alone: its name or code is written beside it.
"""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.base.errors import OutsideTable

INK, PALE, PAPER = "#1a1a1a", "#8a8a8a", "#ffffff"


@dataclass(frozen=True)
class Paint:
    """A colour as it is drawn, each part ``#rrggbb``.

    ``stripe`` is the tracer along the wire, "" for none; ``border`` the edge that keeps a pale
    colour from melting into the paper, "" where none is needed.
    """

    fill: str
    stripe: str = ""
    border: str = ""


_FILLS = {
    "black": "#111111",
    "brown": "#7a4a1e",
    "red": "#c81e1e",
    "orange": "#d9730d",
    "yellow": "#f2cf1d",
    "green": "#1f7a36",
    "blue": "#2060c0",
    "purple": "#7a2a9a",
    "gray": "#7d7d7d",
    "white": "#ffffff",
    "pink": "#ef8fb4",
    "dark blue": "#10307a",
    "light blue": "#6fb9e8",
    "tan": "#cfae7e",
}
_BORDER = "#4a4a4a"
_PALE_NAMES = frozenset({"yellow", "white", "pink", "light blue", "tan"})
_WITH, _STRIPE = " with ", " stripe"
# a plan may hold a given wire whose colour nobody stated
_UNSTATED = Paint(fill=PALE)


def paint_of(colour_name: str) -> Paint:
    """The paint of a published colour name, ``green with yellow stripe`` among them.

    "" (not stated) is a plain grey line. Raises OutsideTable for a name that is none.
    """
    if not colour_name:
        return _UNSTATED
    base, _, rest = colour_name.partition(_WITH)
    stripe = rest.removesuffix(_STRIPE)
    if base not in _FILLS or (rest and (stripe == rest or stripe not in _FILLS)):
        raise OutsideTable(f"no paint for wire colour {colour_name[:40]!r}")
    return Paint(
        fill=_FILLS[base],
        stripe=_FILLS[stripe] if rest else "",
        border=_BORDER if base in _PALE_NAMES else "",
    )
