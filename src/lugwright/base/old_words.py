"""Words that files used to be written in, and what each is called now.

For messages only: nothing written in an old word is read. A word is offered where it is allowed.
"""

from __future__ import annotations

from collections.abc import Iterable

OLD_WORDS = {
    "practice": ("rule_set",),
    "--practice": ("--rule-set",),
    "engine_harness": ("harness",),
    "arrives": ("boat_wires",),
    "rides_on": ("taken_from",),
    "current_limit": ("carries",),
    "kind": ("role",),
    "consumer": ("load",),
    "sender": ("signal",),
    "none": ("spare",),
    "lock": ("locked",),
    "held": ("tighten_only",),
    "loosening": ("tighten_only",),
    "shelf": ("stock",),
}
"""Each old word with the words of today that may stand in its place."""


def todays_word(word: str, known: Iterable[str]) -> str:
    """The word of today for an old one, if it is among those known here; "" where none is."""
    allowed = set(known)
    return next((new for new in OLD_WORDS.get(word.strip().lower(), ()) if new in allowed), "")
