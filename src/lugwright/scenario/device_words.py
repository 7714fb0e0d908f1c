"""Words of an own drawing that say that it switches, protects, sets or stops something."""

from __future__ import annotations

import re

from lugwright.scenario.devices import is_device
from lugwright.scenario.fitting_out import Fitted

# Words for what stands between two posts. An own drawing that has one in its name, its line or
# the names of its posts is taken at its word, whatever else is written there.
_DEVICE = re.compile(
    r"\b(keys?|key ?switch|switch(es)?|fuse(s|d|block|holder)?|breakers?|dimmers?|relays?"
    r"|solenoids?|contactors?|isolators?|selectors?|rheostats?|potentiometers?|diodes?|resistors?"
    r"|lanyards?|kill|toggles?|rockers?|(push ?)?buttons?|disconnects?|cut[ -]?offs?|mcbs?|elcbs?"
    r"|thermostats?|change-?overs?|combiners?|splitters?|floats?|on[ -]off|ignition lock"
    r"|starter)\b",
    re.IGNORECASE,
)

_STOP = re.compile(r"\b(kill|lanyards?)\b", re.IGNORECASE)


def named_as_device(instrument: Fitted) -> bool:
    """True for an own drawing whose words say that something stands between its posts.

    Where its ways are stated, they say what stands where.
    """
    if instrument.part.geometry is None or is_device(instrument):
        return False
    posts = (text for post in instrument.posts.values() for text in (post.name, post.part.function))
    return any(map(says_device, (instrument.name, instrument.pattern.about, *posts)))


def says_device(text: str) -> bool:
    """True for a text that has a word for a device."""
    return _DEVICE.search(re.sub(r"[_\d]", " ", text)) is not None


def says_lanyard(text: str) -> bool:
    """True for a text that speaks of a lanyard or of killing an engine."""
    return _STOP.search(re.sub(r"[_\d]", " ", text)) is not None
