"""What the file has no words for yet: it is refused with its place, never worked round."""

from __future__ import annotations

# What to do with a part that the file has no words for: never a way to wire it all the same.
LEFT_OUT = "wire this part by its maker's diagram; leave it out of this plan"
LATER_KINDS = ("relay", "diode", "resistor", "excite")
"""Kinds of way, and of sender, that cannot be said yet."""
LATER_KEYS = {
    "momentary": "a position that springs back",
    "aboard": "a part in the boat with posts of its own",
    "source": "a battery of its own",
    "negatives": "grounds of two harnesses that meet",
    "goes_to": "a part in the boat with posts of its own",
}
"""Keys that cannot be written yet, and what each would say."""


def cannot_be_said(what: str) -> str:
    """The sentence that refuses it."""
    return f"{what} cannot be said here: {LEFT_OUT}"
