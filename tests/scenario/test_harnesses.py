"""Several harnesses: each with circuits of its own, which never meet."""

from __future__ import annotations

from pathlib import Path

import pytest

from lugwright.base.errors import BadInput
from lugwright.base.toml import parse_toml
from lugwright.scenario.console import Console
from lugwright.scenario.load import load_toml

TWIN = Path(__file__).parents[2] / "scenarios" / "twin-outboard.toml"
TEXT = TWIN.read_text(encoding="utf-8")


def read(*edits: tuple[str, str]) -> Console:
    """The two outboards after replacements, each of what is there. Raises BadInput."""
    text = TEXT
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new, 1)
    return load_toml(parse_toml(text.encode(), "twin.toml")).console


def refused(*edits: tuple[str, str]) -> list[str]:
    """What is said of the changed file."""
    with pytest.raises(BadInput) as caught:
        read(*edits)
    return [str(one) for one in caught.value.complaints]


def test_every_circuit_is_of_the_harness_it_is_fed_from() -> None:
    """By its pigtail, through its way, through what it is taken from, by its instruments' feed."""
    console = read()
    assert console.harnesses == ("port", "stbd", "house")
    of = {circuit.name: circuit.harness for circuit in console.circuits}
    assert (of["port battery"], of["port ignition"], of["port lamps"]) == ("port",) * 3
    assert (of["stbd ignition"], of["stbd temp signal"]) == ("stbd", "stbd")
    assert (of["house"], of["horn feed"], of["house ground"]) == ("house",) * 3


def test_a_pigtail_comes_in_where_its_harness_does() -> None:
    """At the entry of its own harness, seen from the back."""
    console = read()
    for name in ("port battery", "stbd battery", "house"):
        pigtail = console.circuit(name).pigtail
        assert pigtail is not None and pigtail.entry is not None
        wanted = {"port": 1500, "stbd": 4500, "house": 3000}[pigtail.harness]
        assert pigtail.entry.x_dmm == console.width_dmm - wanted


def test_two_pigtails_of_one_circuit_are_refused_whatever_their_harness() -> None:
    """Two grounds meet nowhere here; named apart, as the advice says, the file is read."""
    to_port = ('circuit = "stbd ground", colour', 'circuit = "port ground", colour')
    (told,) = [one for one in refused(to_port) if "two supplies" in one]
    assert 'harness "stbd", pigtail "port ground", circuit' in told
    assert "two grounds meet here no more" in told
    assert read((to_port[1].replace("port", "stbd"), to_port[0])).circuits


def test_harnesses_have_names_of_their_own() -> None:
    """Two of one name cannot be told apart; named, the file is read."""
    (told, *_) = refused(('[[harness]]\nname = "stbd"', '[[harness]]\nname = "port"'))
    assert "each [[harness]] has a name of its own" in told


def test_a_fault_in_the_second_harness_is_told_at_its_place() -> None:
    """By harness and pigtail, at its line."""
    line = next(
        number
        for number, text in enumerate(TEXT.splitlines(), 1)
        if 'circuit = "stbd battery"' in text
    )
    old = 'circuit = "stbd battery", colour = "red", wire_size = "12 AWG"'
    (told,) = refused((old, old.replace("12 AWG", "13 AWG")))
    assert told.startswith(f"twin.toml:{line}:")
    assert 'harness "stbd", pigtail "stbd battery", wire_size' in told


def test_an_unreadable_pigtail_of_one_harness_leaves_the_others() -> None:
    """No fault but its own is told."""
    old = 'circuit = "house", colour = "red"'
    (told,) = refused((old, 'circuit = "house", colour = "infrared"'))
    assert 'harness "house", pigtail "house", colour' in told


@pytest.mark.parametrize("key", ['source = "bank"', 'negatives = "joined aboard"'])
def test_what_cannot_be_said_yet_is_refused(key: str) -> None:
    """Batteries of their own, grounds that meet: with place and words."""
    edit = ('name = "port"\nentry', f'name = "port"\n{key}\nentry')
    if key.startswith("negatives"):
        edit = ('title = "Twin', f'{key}\ntitle = "Twin')
    (told,) = refused(edit)
    assert "leave it out of this plan" in told
