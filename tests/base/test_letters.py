"""Letters that can be printed, names that look the same, and the table held to the font files."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.faces import table_text

import lugwright.base.letters as letters
from lugwright.base.errors import BadInput
from lugwright.base.letters import letters_fault, look
from lugwright.scenario.load import load_scenario
from lugwright.scenario.new import starter

ROOT = Path(__file__).resolve().parents[2]


def test_the_table_is_that_of_the_font_files() -> None:
    """Every letter both shipped faces draw by itself, and every set of letters of one outline."""
    kept = Path(letters.__file__).with_name("printed_letters.txt").read_text("ascii")
    assert kept == table_text()


@pytest.mark.parametrize(
    "text", ["fuel", "Öltank Nr. 2", "Топливо", "καύσιμο", "1 ½ °C Ω →", "a\n"]
)
def test_what_the_faces_have_passes(text: str) -> None:
    """Latin with accents, Cyrillic, Greek and signs; a line's end is for others to refuse."""
    assert letters_fault(text) == ""


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("計器", '"計" (U+8A08) is not in the printed face; "器" (U+5668)'),
        ("fu\u200bel", "U+200B cannot be seen: take it out"),
        ("fu\u00a0el", "U+00A0 cannot be seen"),
        ("\u202etfel", "U+202E cannot be seen"),
        ("bell\x07", "U+0007 cannot be seen"),
        ("fu\u2800el", "U+2800 cannot be seen"),
        ("e\u0301", "U+0301 is an accent by itself"),
        ("\u05d3\u05dc\u05e7", "U+05D3 is written from right to left"),
        ("\U0001f6a4", "is not in the printed face"),
        ("".join(map(chr, range(0x4E00, 0x4E08))), "and 3 more"),
    ],
)
def test_what_cannot_be_printed_is_named(text: str, said: str) -> None:
    """Each letter with its number, and what is allowed; nothing that would repaint a terminal."""
    fault = letters_fault(text)
    assert said in fault and fault.endswith("Cyrillic alphabets can be printed")
    assert fault.isprintable()


@pytest.mark.parametrize(
    ("one", "other"),
    [("fuel", "Fuel"), ("fuel", "fu\u0435l"), ("PM", "\u0420\u041c"),
     ("fuel", "\uff46uel"), ("a  b", "a b"), ("K", "\u212a")],
)  # fmt: skip
def test_names_that_look_the_same(one: str, other: str) -> None:
    """Capitals, Cyrillic letters of a Latin shape, width, blanks, the sign for kelvin."""
    assert one != other and look(one) == look(other)


def test_names_that_do_not_look_the_same() -> None:
    """Accents and digits tell names apart."""
    assert len({look(name) for name in ("fuel", "fuel 2", "füel", "oil", "топливо")}) == 5


def skiff_with(tmp_path: Path, *changes: tuple[str, str]) -> Path:
    """The skiff's file with some words in other words."""
    text = (ROOT / "scenarios/sandbar-skiff.toml").read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / "skiff.toml"
    path.write_text(text, "utf-8")
    return path


def test_two_dials_never_print_as_one(tmp_path: Path) -> None:
    """Each name is refused at its own line and field, with its letters."""
    path = skiff_with(
        tmp_path, ('name = "volts"', 'name = "計計"'), ('name = "depth"', 'name = "器器"')
    )
    with pytest.raises(BadInput) as refused:
        load_scenario(path)
    told = [(one.field, one.message) for one in refused.value.complaints]
    assert any(field.endswith("name") and "U+8A08" in message for field, message in told)
    assert any(field.endswith("name") and "U+5668" in message for field, message in told)


def test_names_that_look_the_same_are_refused(tmp_path: Path) -> None:
    """A Cyrillic e in the name of a second dial."""
    path = skiff_with(tmp_path, ('name = "volts"', 'name = "fu\u0435l"'))
    with pytest.raises(BadInput, match="looks like"):
        load_scenario(path)


def test_a_starter_is_refused_too() -> None:
    """Titles and names given to ``new``."""
    with pytest.raises(BadInput, match="U\\+8A08"):
        starter("計")
    with pytest.raises(BadInput, match="look the same"):
        starter("Console", ("fuel", "Fuel"))
