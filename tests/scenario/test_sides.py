"""Feed or ground: known by name or fuse, else asked; the colour follows by the published table."""

from __future__ import annotations

import pytest
from support.scenario_text import SKETCH, console_of

from lugwright.assemble.cautions import cautions_before
from lugwright.base.errors import BadInput

# ABYC E-11 DC colour table (reference/conductor_colours.csv): negative black, accessory orange.
NEGATIVE, ACCESSORY = "black", "orange"
OWN = (
    '[[instrument]]\nname = "rocker"\npattern = "dial-52"\ncentre = ["330 mm", "90 mm"]\n'
    'feeds = {{ ignition = "{feed}", lamp = "spare", ground = "{ground}" }}\n\n[[harness]]'
)
PIGTAIL = (
    '  {{ circuit = "{name}", colour = "{colour}", wire_size = "16 AWG", reach = "450 mm"{fuse} }},'
    "\n  {{ label"
)


def with_own(
    *, feed: str = "ignition", ground: str = "ground", name: str, colour: str, fuse: str = "",
    more: str = "",
) -> str:  # fmt: skip
    """The sketch with one more instrument, on a circuit of its own."""
    text = SKETCH.replace("[[harness]]", OWN.format(feed=feed, ground=ground))
    pigtail = PIGTAIL.format(name=name, colour=colour, fuse=fuse).replace("{{", "{")
    return text.replace("  { label", pigtail) + more


def ground_text(more: str = "", fuse: str = "") -> str:
    """The sketch with a ground circuit under another name."""
    return with_own(ground="dial return", name="dial return", colour="black", fuse=fuse, more=more)


def test_a_circuit_that_may_be_either_is_asked_for() -> None:
    """No fuse, no known name: the file must say which, and the answer tells how to say it."""
    with pytest.raises(BadInput) as caught:
        console_of(ground_text())
    told = str(caught.value)
    assert 'is circuit "dial return" a feed or a ground?' in told
    assert 'side = "feed" or side = "ground"' in told


def test_a_ground_under_another_name_is_cut_in_the_negatives_colour() -> None:
    """Not in the accessory feed's."""
    console = console_of(ground_text('[[circuit]]\nname = "dial return"\nside = "ground"\n'))
    circuit = console.circuit("dial return")
    assert (circuit.side, circuit.colour) == ("ground", NEGATIVE)


def test_a_fused_pigtail_is_a_feed() -> None:
    """It need not be said; its colour is the accessory feed's."""
    text = with_own(feed="radio", name="radio", colour="red", fuse=', fuse = "5 A"')
    circuit = console_of(text).circuit("radio")
    assert (circuit.side, circuit.colour) == ("feed", ACCESSORY)


@pytest.mark.parametrize(("name", "side"), [("ignition", "ground"), ("ground", "feed")])
def test_a_known_name_is_never_the_other_side(name: str, side: str) -> None:
    """Ignition is no ground."""
    with pytest.raises(BadInput) as caught:
        console_of(f'{SKETCH}\n[[circuit]]\nname = "{name}"\nside = "{side}"\n')
    assert f'the circuit named "{name}" is a' in str(caught.value)


def test_two_feeds_of_one_colour_are_told() -> None:
    """A caution names both; one feed and what is taken from it is no such pair."""
    same = 'circuit = [{ name = "radio", colour = "purple" }]\n'
    text = with_own(feed="radio", name="radio", colour="red", fuse=', fuse = "5 A"')
    told = [line for line in cautions_before(console_of(same + text)) if "one colour" in line]
    assert told == [
        "Feeds of one colour (purple): ignition and radio. Go by label and test, not by colour."
    ]
    assert [line for line in cautions_before(console_of(text)) if "one colour" in line] == []
