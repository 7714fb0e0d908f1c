"""Values as a person writes them in a scenario: text with its unit, read once, exactly.

Each type here is used as the annotation of a field: it reads the text, refuses what it cannot
read with the accepted forms, and describes itself in the JSON Schema.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Strict, WithJsonSchema

from lugwright.base import units
from lugwright.base.letters import letters_fault
from lugwright.electrics.colours import canonical_colour

MAX_NAME = 40
MAX_LINE = 200
MAX_AMPERES = 1000  # far above any panel; catches milliampere written as ampere
MOST_UOHM = 1_000_000  # a contact of an ohm is no contact
NO_FUSE = "none"
ELSEWHERE = ("engine", "boat")
"""Where the current of a load may come back, if not to a post of this panel."""
LONGEST_MM = 100_000  # 100 m
HIGHEST_MM = 1000  # above any panel's back, or through any plate

# A dot parts instrument and post in ``fuel.signal``; a colon parts block and wire in labels.
_NAME = re.compile(r"[^\W_][\w \-+/()&']*")

SizeStandard = Literal["AWG", "SAE", "metric"]

INSULATION_TEMPERATURES_C = (60, 75, 80, 90, 105, 125, 200)
"""The insulation columns of 33 CFR 183.425 Table 5."""


class Part(BaseModel):
    """Base of every part of a scenario: frozen, and no unknown keys.

    The note under a field is its description (``field_notes``). A model is made ready when it is
    first used: a scenario is read by one of them, which holds all others.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


def _text(value: Any, example: str) -> str:
    if not isinstance(value, str):
        raise ValueError(f'write it as text in quotes, such as "{example}"')
    return value.strip()


def _printed(text: str) -> str:
    fault = letters_fault(text)
    if fault:
        raise ValueError(fault)
    return text


def _offset(value: Any) -> Fraction:
    return _bounded(units.parse_length_mm(value, allow_negative=True))


def _length(value: Any) -> Fraction:
    return _bounded(units.parse_length_mm(value))


def _bounded(length_mm: Fraction) -> Fraction:
    if abs(length_mm) > LONGEST_MM:
        raise ValueError(f"a length is at most {LONGEST_MM // 1000} m here")
    return length_mm


def _positive_length(value: Any) -> Fraction:
    length_mm = _length(value)
    if length_mm == 0:
        raise ValueError("length: must be more than zero")
    return length_mm


def _height(value: Any) -> Fraction:
    height_mm = _length(value)
    if height_mm > HIGHEST_MM:
        raise ValueError(f"at most {HIGHEST_MM // 1000} m is taken here")
    return height_mm


def _positive_height(value: Any) -> Fraction:
    return _height(value) or _positive_length(value)


def _current(value: Any) -> int:
    current_ma = units.parse_current_ma(value)
    if current_ma > MAX_AMPERES * 1000:
        raise ValueError(f"a current is at most {MAX_AMPERES} A here")
    return current_ma


def _positive_current(value: Any) -> int:
    current_ma = _current(value)
    if current_ma == 0:
        raise ValueError("current: must be more than zero")
    return current_ma


def _fuse(value: Any) -> int:
    return 0 if isinstance(value, str) and value.strip() == NO_FUSE else _positive_current(value)


def _name(value: Any) -> str:
    text = _text(value, "fuel")
    if not text:
        raise ValueError("a name is wanted here, not empty text")
    if len(text) > MAX_NAME:
        raise ValueError(f"a name has at most {MAX_NAME} characters, this one has {len(text)}")
    _printed(text)
    if not _NAME.fullmatch(text):
        raise ValueError(
            "a name starts with a letter or digit and holds letters, digits, spaces and - _ + / &, "
            "no dot, colon or quotation mark"
        )
    return text


def _title(value: Any) -> str:
    text = _printed(_text(value, "Sandbar skiff, four dials"))
    if not text or len(text) > 120 or not text.isprintable():
        raise ValueError("a title is one line of 1 to 120 characters")
    return text


def _line(value: Any) -> str:
    text = _printed(_text(value, "rises when the key is on"))
    if len(text) > MAX_LINE or not text.isprintable():
        raise ValueError(f"this is one line of at most {MAX_LINE} printable characters")
    return text


def _landing(value: Any) -> str:
    text = _text(value, "fuel.signal")
    instrument, dot, post = text.partition(".")
    if not (dot and instrument.strip() and post.strip()) or "." in post:
        raise ValueError(
            f'"{text}" does not name a post; write instrument, dot, post, as in "fuel.signal"'
        )
    return f"{instrument.strip()}.{post.strip()}"


def _lands_on(value: Any) -> str:
    text = _text(value, "fuel.signal")
    return _landing(text) if "." in text else _name(text)


def _range(value: Any) -> str:
    text = _text(value, "240-33 ohm")
    found = re.fullmatch(r"(\d{1,4}(?:\.\d)?) ?(?:-|to) ?(\d{1,4}(?:\.\d)?) ?(?:ohms?|Ω)", text)
    if not found or found[1] == found[2]:
        raise ValueError(
            f'"{text}" is not the range of a sender; write both ends, as in "240-33 ohm"'
        )
    return f"{found[1]}-{found[2]} ohm"


def _returns_to(value: Any) -> str:
    text = _text(value, "engine")
    return text if text in ELSEWHERE else _landing(text)


def _colour(value: Any) -> str:
    return canonical_colour(_text(value, "purple"))


def _temperature(value: Any) -> int:
    text = _text(value, "105 C")
    found = re.fullmatch(r"(\d{1,3}) ?°?C", text)
    if not found or int(found[1]) not in INSULATION_TEMPERATURES_C:
        allowed = ", ".join(f'"{value_c} C"' for value_c in INSULATION_TEMPERATURES_C)
        raise ValueError(f'"{text}" is not an insulation rating of the ampacity table: {allowed}')
    return int(found[1])


def _field(read: Callable[[Any], Any], *examples: str) -> tuple[BeforeValidator, WithJsonSchema]:
    return BeforeValidator(read), WithJsonSchema({"type": "string", "examples": list(examples)})


def _resistance(value: Any) -> int:
    resistance_uohm = units.parse_ohms_uohm(value)
    if resistance_uohm > MOST_UOHM:
        raise ValueError("a contact has at most 1 ohm here")
    return resistance_uohm


_LENGTHS = ("52 mm", "2-1/16 in", "6 m")

Length = Annotated[Fraction, *_field(_length, *_LENGTHS)]
"""Millimetres, exact, not negative."""
PositiveLength = Annotated[Fraction, *_field(_positive_length, *_LENGTHS)]
"""Millimetres, exact, more than zero."""
Height = Annotated[Fraction, *_field(_height, "12 mm", "1/2 in")]
"""Millimetres, exact, not negative and not far above a panel's back."""
PositiveHeight = Annotated[Fraction, *_field(_positive_height, "12 mm", "1/2 in")]
"""The same, more than zero."""
Offset = Annotated[Fraction, *_field(_offset, "12 mm", "-1/2 in")]
"""Millimetres, exact, either sign."""
Place = tuple[Offset, Offset]
"""x and y in millimetres."""
Current = Annotated[int, *_field(_current, "0.25 A", "120 mA")]
"""Milliampere, not negative."""
PositiveCurrent = Annotated[int, *_field(_positive_current, "0.25 A", "120 mA")]
"""Milliampere, more than zero."""
Fuse = Annotated[int, *_field(_fuse, "10 A", "none")]
"""Rating of a fuse in milliampere; 0 where the file says that there is none."""
WireSize = Annotated[str, *_field(units.parse_wire_size, "16 AWG", "1.5 mm2")]
"""A wire size in its usual writing."""
Thread = Annotated[str, *_field(units.parse_thread, "M4", "#8-32")]
"""A stud's thread in its usual writing."""
Resistance = Annotated[int, *_field(_resistance, "2 mohm", "0.005 ohm")]
"""Micro-ohm, not negative."""
TabSize = Annotated[str, *_field(units.parse_tab_size, "6.3 x 0.8", "0.250 x 0.032 in")]
"""A tab's width and thickness in its usual writing."""
YesNo = Annotated[bool, Strict()]
"""true or false, nothing else."""
Count = Annotated[int, Strict()]
"""A whole number."""
Degrees = Annotated[Fraction, *_field(units.parse_degrees, "90 deg")]
"""Degrees, exact."""
Name = Annotated[str, *_field(_name, "fuel")]
"""A name of the rigger's own: an instrument, a circuit, a tie point."""
Title = Annotated[str, *_field(_title, "Sandbar skiff, four dials")]
"""One line of text."""
Line = Annotated[str, *_field(_line, "rises when the key is on")]
"""One line of text, or none."""
Landing = Annotated[str, *_field(_landing, "fuel.signal")]
"""A post: instrument, dot, post."""
LandsOn = Annotated[str, *_field(_lands_on, "fuel.signal", "temperature")]
"""A post; or a signal circuit, on any post of which it may land."""
SenderRange = Annotated[str, *_field(_range, "240-33 ohm", "10-180 ohm")]
"""What a sender's resistance goes from and to: at empty and full, at cold and hot."""
ReturnsTo = Annotated[str, *_field(_returns_to, "engine", "boat", "fuel.ground")]
"""Where the current of a load comes back: a post here, or elsewhere."""
Colour = Annotated[str, *_field(_colour, "purple", "dark blue")]
"""A conductor colour of the published standard."""
Temperature = Annotated[int, *_field(_temperature, "105 C")]
"""An insulation rating in degrees Celsius."""
