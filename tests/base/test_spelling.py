"""The nearest known spelling, and the words it is offered with."""

from __future__ import annotations

from lugwright.base.spelling import did_you_mean, near_or_all, nearest

CIRCUITS = ("ground", "ignition", "lamps")


def test_the_nearest_is_offered_and_nothing_far() -> None:
    """A slip of the pen is met, capitals or not; a word like none gets none."""
    assert nearest("grond", CIRCUITS) == "ground"
    assert nearest(" IGNITON", ("Ignition", "ground")) == "Ignition"
    assert nearest("bilge", CIRCUITS) == ""


def test_what_is_alike_behind_the_dot_alone_is_not_near() -> None:
    """A post of a part that is not there is no post of another part."""
    posts = ("fuel.ground", "fuel.ignition", "volts.ground")
    assert nearest("key.ground", posts) == ""
    assert nearest("feul.ground", posts) == "fuel.ground"
    assert nearest("fuel.ign", posts) == "fuel.ignition"


def test_a_hint_quotes_the_word_or_tells_what_there_is() -> None:
    """One wording everywhere; where none is near the words there are, at most so many."""
    assert did_you_mean("lamp", CIRCUITS) == 'did you mean "lamps"?'
    assert did_you_mean("bilge", CIRCUITS, "ask the rigger") == "ask the rigger"
    assert near_or_all("bilge", CIRCUITS, most=2) == "there are: ground, ignition and others"
    assert near_or_all("bilge", ()) == ""
