"""The nearest known spelling of a word that is not one of those known, and how it is offered."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from lugwright.base.old_words import todays_word

NEAR = 0.6
"""How alike two words must be, 0 to 1, for one to be offered for the other (no source)."""


def nearest(word: str, known: Iterable[str], *, alike: float = NEAR) -> str:
    """The known word nearest to a written one, capitals or not; "" where none is near.

    For a word files used to be written in that is what it is called now.
    """
    known = list(known)
    if today := todays_word(word, known):
        return today
    lowered = {one.lower(): one for one in known}
    found = get_close_matches(word.strip().lower(), list(lowered), n=1, cutoff=alike)
    return lowered[found[0]] if found else ""


def did_you_mean(word: str, known: Iterable[str], otherwise: str = "") -> str:
    """A hint with the nearest known word; ``otherwise`` where none is near."""
    near = nearest(word, known)
    return f'did you mean "{near}"?' if near else otherwise


def near_or_all(word: str, known: Iterable[str], most: int = 24) -> str:
    """A hint with the nearest known word, or else with those there are, at most so many."""
    names = list(known)
    listed = ", ".join(names[:most]) + (" and others" if len(names) > most else "")
    return did_you_mean(word, names, f"there are: {listed}" if names else "")
