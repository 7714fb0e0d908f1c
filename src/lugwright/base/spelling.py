"""The nearest known spelling of a word that is not one of those known, and how it is offered."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from lugwright.base.old_words import todays_word

NEAR = 0.6
"""How alike two words must be, 0 to 1, for one to be offered for the other (no source)."""


def nearest(word: str, known: Iterable[str], *, alike: float = NEAR) -> str:
    """The known word nearest to a written one, capitals or not; "" where none is near.

    For a word files used to be written in that is what it is called now. A post of a part
    (``fuel.ground``) is near only where the part is: all parts have a ground.
    """
    known = list(known)
    if today := todays_word(word, known):
        return today
    written = word.strip().lower()
    lowered = {one.lower(): one for one in known if _part_is_near(written, one.lower(), alike)}
    found = get_close_matches(written, list(lowered), n=1, cutoff=alike)
    return lowered[found[0]] if found else ""


def _part_is_near(written: str, known: str, alike: float) -> bool:
    """Whether what stands before the dot is alike; True where either has none."""
    part, dot, _ = written.partition(".")
    own, own_dot, _ = known.partition(".")
    return not (dot and own_dot) or bool(get_close_matches(part, [own], n=1, cutoff=alike))


def did_you_mean(word: str, known: Iterable[str], otherwise: str = "") -> str:
    """A hint with the nearest known word; ``otherwise`` where none is near."""
    near = nearest(word, known)
    return f'did you mean "{near}"?' if near else otherwise


def near_or_all(word: str, known: Iterable[str], most: int = 24) -> str:
    """A hint with the nearest known word, or else with those there are, at most so many."""
    names = list(known)
    listed = ", ".join(names[:most]) + (" and others" if len(names) > most else "")
    return did_you_mean(word, names, f"there are: {listed}" if names else "")
