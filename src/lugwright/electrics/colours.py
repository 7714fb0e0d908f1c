"""Conductor colours: the closed list, what each stands for, and the short code on paper.

Functions are those of the ABYC E-11 DC colour table. Codes are the letters of IEC 60757 where it
has one (purple is its violet, VT); dark blue, light blue and tan are not in it, so DBU, LBU and
TN are ours. A code never stands alone on paper: the colour is written out beside it.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

from lugwright.base.spelling import did_you_mean
from lugwright.electrics.tables import (
    STRIPED,
    ColourUse,
    colour_codes,
    colour_uses,
    listed_colour_codes,
    striped_colour,
)

_OTHER_NAMES = {"grey": "gray", "violet": "purple"}


# Which row of the table is whose, by how one of its functions begins. A feed that is none of
# these takes the accessory feed's colour; every ground, under whatever name, the negative's.
_ROW_OF = {
    "ignition": "ignition switch",
    "lamps": "cabin lights and instrument lights",
    "navigation lights": "navigation lights feed",
    "blower": "bilge blower",
    "pumps": "pumps",
    "unswitched": "DC positive main",
}
CircuitSide = Literal["feed", "ground", "signal", "stop"]
USES = ("instruments", "lights", "navigation", "pumps", "blower", "start", "accessories")
"""What a circuit may be said to serve."""
_ROW_OF_USE = {
    "instruments": "ignition switch",
    "lights": "cabin lights and instrument lights",
    "navigation": "navigation lights feed",
    "pumps": "pumps",
    "blower": "bilge blower",
    "start": "starting circuit",
    "accessories": "accessory feed",
}
STOP_COLOUR = "black with yellow stripe"
"""Of a stop circuit: engine-trade practice, no source; the table has no row for it."""
# Which row is a dial's sender's, by a word of the dial's name.
_SENDER_ROW = {
    "fuel": "fuel level sender",
    "water": "water temperature sender",
    "temperature": "water temperature sender",
    "oil": "oil pressure sender",
    "tachometer": "tachometer sender",
    "trim": "trim position sender",
}
_OTHER_FEED, _NEGATIVE = "accessory feed", "DC negative"


@cache
def standard_colours() -> tuple[str, ...]:
    """Every colour the table lists, in its order; a wire may have a stripe it does not list."""
    return tuple(listed_colour_codes())


def canonical_colour(text: str) -> str:
    """A colour in its one spelling: lower case, ``gray`` for grey, ``purple`` for violet.

    A stripe is written ``purple with white stripe`` or ``purple/white``. Raises ValueError naming
    the closed list and the nearest name.
    """
    words = " ".join(text.replace("-", " ").split()).lower()
    base, is_striped, stripe = words.partition("/" if "/" in words else STRIPED)
    name = _OTHER_NAMES.get(base.strip(), base.strip())
    if is_striped:
        stripe = stripe.removesuffix(" stripe").strip()
        name = striped_colour(name, _OTHER_NAMES.get(stripe, stripe))
    if name in colour_codes():
        return name
    hint = did_you_mean(name, standard_colours())
    shown = text if text.isprintable() else repr(text)
    told = (
        f"colour must be one of {', '.join(standard_colours())}, or one of its plain colours with "
        f'another as its stripe, "purple with white stripe" (got "{shown[:40]}")'
    )
    raise ValueError(f"{told}; {hint}" if hint else told)


def colour_of_circuit(name: str, side: CircuitSide, use: str = "") -> str:
    """The colour of a circuit's jumpers by the table, for what the circuit is, or is used for."""
    if side == "stop":
        return STOP_COLOUR
    named = _ROW_OF_USE.get(use) or _ROW_OF.get(name, _OTHER_FEED)
    return _colour_in_row(_NEGATIVE if side == "ground" else named)


def colour_of_sender(name: str) -> str | None:
    """The colour of a sender's wire to its dial by the table, by what the dial is called.

    None where the table has no row for such a sender: its colour has to be seen on the wire.
    """
    words = name.lower().split()
    row = next((row for word, row in _SENDER_ROW.items() if word in words), None)
    return None if row is None else _colour_in_row(row)


def _colour_in_row(row: str) -> str:
    return next(
        use.colour
        for use in colour_uses()
        if any(part.strip().startswith(row) for part in use.function.split(";"))
    )


def colour_code(colour: str) -> str:
    """Short code of a colour, ``VT`` for purple. Raises ValueError for a colour that is none."""
    return colour_codes()[canonical_colour(colour)]


def uses_of(colour: str) -> tuple[ColourUse, ...]:
    """What a colour stands for by the standard, its own uses before alternatives.

    One colour can have two uses (gray: tachometer sender, navigation lights), so a use is never
    read off a colour alone. Raises ValueError for a colour that is none.
    """
    name = canonical_colour(colour)
    own = [use for use in colour_uses() if use.colour == name]
    other = [use for use in colour_uses() if use.alternative == name]
    return tuple(own + other)
