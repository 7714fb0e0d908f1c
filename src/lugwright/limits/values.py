"""Reading one limit's value as written, and printing it back.

``parse_value`` takes what stands in a TOML file (text, number, yes or no, list) or on the
command line (text only) and gives the integer of ``base.scale``. ``value_text`` prints that
integer so that reading it again gives the same one.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction

from lugwright.base import units
from lugwright.base.scale import mm_text
from lugwright.base.spelling import did_you_mean
from lugwright.electrics.sizes import PRINTED_ROUNDING_PERMILLE, nominal_area_um2
from lugwright.limits.spec import LimitSpec, SizeValue, Unit, Value

OFF = "off"
NO_SIZE = "none"
MOST_LENGTHS = 60
_YES = ("yes", "true", "on")
_NO = ("no", "false", "off")
_WHOLE = re.compile(r"[+-]?[0-9]{1,12}")
_DECIMAL = re.compile(r"[+-]?(?:[0-9]{1,9}(?:\.[0-9]{1,9})?|\.[0-9]{1,9})")
_CELSIUS = re.compile(r"([+-]?[0-9]{1,6})\s*(?:°\s*)?C")
# What may stand behind a number that has no unit of its own; printed, and not asked for.
_TAILS = {
    Unit.RATIO: re.compile(r"\s*(?:to|:)\s*1$"),
    Unit.PITCHES: re.compile(r"\s*pitch(?:es)?$"),
    Unit.MONEY_PER_HOUR: re.compile(r"\s*per hour$"),
}
_CURRENCY = re.compile(r"[^\W\d_]{1,8}|[$€£¥]")

HOW_TO_WRITE = {
    Unit.LENGTH: '"12 mm" or "1/2 in"',
    Unit.LENGTHS: '["120 mm", "200 mm"] or "none"',
    Unit.SHARE: '"5 %"',
    Unit.RATIO: "4",
    Unit.PITCHES: "1",
    Unit.COUNT: "3",
    Unit.FLAG: "true or false",
    Unit.CHOICE: "one of the words",
    Unit.KINDS: '["ring", "captive spade"]',
    Unit.TEMPERATURE: '"50 C"',
    Unit.RESISTANCE: '"0.0005 ohm"',
    Unit.VOLTS_OR_OFF: '"0.05 V" or "off"',
    Unit.WIRE_SIZE: '"16 AWG", "1.5 mm2" or "none"',
    Unit.CURRENCY: '"EUR"',
    Unit.MONEY_PER_HOUR: '"60.00"',
    Unit.MINUTES: '"0.8 min"',
}


class NotAllowed(ValueError):
    """A value that a limit cannot have: why, and a hint towards one that it can."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


def parse_value(spec: LimitSpec, written: object) -> Value:
    """The value of a limit from what a person wrote.

    Raises NotAllowed for a wrong type or unit, a value outside the limit's range, a word that
    is not a choice, something that is not a number.
    """
    if isinstance(written, float) and not math.isfinite(written):
        raise NotAllowed(f"{written} is not a number", f"write it like {HOW_TO_WRITE[spec.unit]}")
    value = _PARSERS[spec.unit](spec, written)
    _check_range(spec, value)
    return value


def value_text(spec: LimitSpec, value: Value) -> str:
    """A limit's value as a person reads and writes it, in the limit's own unit."""
    if isinstance(value, SizeValue):
        return value.text
    if value is None:
        return OFF
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        if spec.unit is Unit.LENGTHS:
            return ", ".join(f"{mm_text(int(one))} mm" for one in value) or NO_SIZE
        return ", ".join(map(str, value))
    if isinstance(value, str):
        return value
    return _NUMBER_TEXT[spec.unit](value)


def range_text(spec: LimitSpec) -> str:
    """What a limit may be: its words, or its least and most value."""
    if spec.choices:
        return ", ".join(spec.choices)
    if spec.unit is Unit.FLAG:
        return "yes, no"
    if spec.unit is Unit.CURRENCY:
        return "up to eight letters"
    if spec.unit is Unit.WIRE_SIZE:
        return f"any wire size, or {NO_SIZE}"
    if spec.unit is Unit.LENGTHS:
        span = f"{mm_text(spec.least)} mm to {mm_text(spec.most)} mm"
        return f"{NO_SIZE}, or lengths of {span}"
    span = f"{value_text(spec, spec.least)} to {value_text(spec, spec.most)}"
    return f"{OFF}, or {span}" if spec.unit is Unit.VOLTS_OR_OFF else span


def _check_range(spec: LimitSpec, value: Value) -> None:
    if isinstance(value, bool) or not isinstance(value, int):
        return
    if not spec.least <= value <= spec.most:
        raise NotAllowed(
            f"{value_text(spec, value)} is outside what is allowed", f"allowed: {range_text(spec)}"
        )


def _wrong(spec: LimitSpec, written: object, what: str) -> NotAllowed:
    hint = f"write it like {HOW_TO_WRITE[spec.unit]}"
    if spec.least < spec.most and spec.unit is not Unit.FLAG:
        hint += f"; allowed: {range_text(spec)}"
    return NotAllowed(f"{_shown(written)} is not {what}", hint)


def _shown(written: object) -> str:
    if isinstance(written, bool):
        return "true" if written else "false"
    if isinstance(written, str):
        short = written if len(written) <= 40 else written[:37] + "..."
        return f'"{short}"'
    if isinstance(written, list):
        return "a list"
    return "a table" if isinstance(written, dict) else str(written)[:40]


def _from_text(what: str, parse: Callable[[str], int]) -> Callable[[LimitSpec, object], Value]:
    """A parser of a quantity that is text with a unit; a bare number says nothing."""

    def parser(spec: LimitSpec, written: object) -> Value:
        if isinstance(written, (int, float)) and not isinstance(written, bool):
            raise NotAllowed(f"{written} has no unit", f"write it like {HOW_TO_WRITE[spec.unit]}")
        if not isinstance(written, str):
            raise _wrong(spec, written, what)
        try:
            return parse(written)
        except ValueError as error:
            hint = f'or "{OFF}"' if spec.unit is Unit.VOLTS_OR_OFF else ""
            raise NotAllowed(str(error), hint) from None

    return parser


def _length(text: str) -> int:
    return units.to_dmm(units.parse_length_mm(text))


def _money_per_hour(text: str) -> int:
    return units.parse_money_micro(_TAILS[Unit.MONEY_PER_HOUR].sub("", text.strip()))


def _pitches_text(value: int) -> str:
    number = units.decimal_text(Fraction(value, 1000))
    return f"{number} pitch" if value == 1000 else f"{number} pitches"


def _celsius(text: str) -> int:
    found = _CELSIUS.fullmatch(text.strip())
    if not found:
        raise ValueError(f'temperature: not whole degrees Celsius (got "{text}"); write "50 C"')
    return int(found[1])


def _volts_or_off(spec: LimitSpec, written: object) -> Value:
    if written is False or (isinstance(written, str) and written.strip().lower() == OFF):
        return None
    return _from_text("a voltage", units.parse_volts_mv)(spec, written)


def _count(spec: LimitSpec, written: object) -> Value:
    if isinstance(written, int) and not isinstance(written, bool):
        return written
    if isinstance(written, str) and _WHOLE.fullmatch(written.strip()):
        return int(written)
    raise _wrong(spec, written, "a whole number")


def _thousandths(spec: LimitSpec, written: object) -> Value:
    """A plain number, exactly, in thousandths; decimals finer than that are refused."""
    text = str(written).strip() if isinstance(written, (int, float, str)) else ""
    text = _TAILS[spec.unit].sub("", text)
    if isinstance(written, bool) or not _DECIMAL.fullmatch(text):
        raise _wrong(spec, written, "a plain number")
    scaled = Fraction(text) * 1000
    if scaled.denominator != 1:
        raise NotAllowed(f"{text} has more than three decimals")
    return int(scaled)


def _flag(spec: LimitSpec, written: object) -> Value:
    if isinstance(written, bool):
        return written
    word = written.strip().lower() if isinstance(written, str) else ""
    if word in _YES or word in _NO:
        return word in _YES
    raise _wrong(spec, written, "yes or no")


def _choice(spec: LimitSpec, written: object) -> Value:
    if not isinstance(written, str):
        raise _wrong(spec, written, f"one of {', '.join(spec.choices)}")
    return _one_of(spec, written)


def _one_of(spec: LimitSpec, written: str) -> str:
    word = written.strip().lower()
    if word in spec.choices:
        return word
    allowed = f"allowed: {', '.join(spec.choices)}"
    close = did_you_mean(word, spec.choices)
    raise NotAllowed(
        f"{_shown(written)} is not one of them", f"{close} {allowed}" if close else allowed
    )


def _kinds(spec: LimitSpec, written: object) -> Value:
    words = written.split(",") if isinstance(written, str) else written
    if not isinstance(words, list) or not all(isinstance(word, str) for word in words):
        raise _wrong(spec, written, "a list of kinds")
    chosen = {_one_of(spec, word) for word in words}
    if not chosen:
        raise NotAllowed("an empty list leaves no kind", f"allowed: {', '.join(spec.choices)}")
    # the order of the choices, so that the same kinds are the same limit however listed
    return tuple(kind for kind in spec.choices if kind in chosen)


def _lengths(spec: LimitSpec, written: object) -> Value:
    """Lengths each once, the shortest first; "none" is no length."""
    if isinstance(written, str) and written.strip().lower() == NO_SIZE:
        return ()
    words = written.split(",") if isinstance(written, str) else written
    if not isinstance(words, list) or not words:
        raise _wrong(spec, written, "a list of lengths")
    one_length = _PARSERS[Unit.LENGTH]
    found = {one_length(spec, word) for word in words}
    lengths = sorted(length for length in found if isinstance(length, int))
    if len(lengths) > MOST_LENGTHS:
        raise NotAllowed(f"{len(lengths)} lengths are too many", f"at most {MOST_LENGTHS}")
    for length in lengths:
        if not spec.least <= length <= spec.most:
            raise NotAllowed(
                f"{mm_text(length)} mm is outside what is allowed", f"allowed: {range_text(spec)}"
            )
    return tuple(lengths)


def _wire_size(spec: LimitSpec, written: object) -> Value:
    if isinstance(written, str) and written.strip().lower() == NO_SIZE:
        return SizeValue(NO_SIZE, 0)
    if not isinstance(written, str):
        raise _wrong(spec, written, "a wire size")
    try:
        size = units.parse_wire_size(written)
    except ValueError as error:
        raise NotAllowed(str(error), f'or "{NO_SIZE}"') from None
    return SizeValue(size, smallest_area_um2(size))


def smallest_area_um2(wire_size: str) -> int:
    """The least strand area that counts as a size, from its one spelling (``base.units``).

    The nominal area (ASTM B258 for AWG), less what printed areas are rounded by
    (``electrics.sizes``), so that a spool whose maker prints 2580 circular mils is 16 AWG.
    """
    nominal_um2 = nominal_area_um2(wire_size)
    if wire_size.endswith("mm2"):
        return nominal_um2
    return nominal_um2 * (1000 - PRINTED_ROUNDING_PERMILLE) // 1000


def _currency(spec: LimitSpec, written: object) -> Value:
    if not isinstance(written, str) or not _CURRENCY.fullmatch(written.strip()):
        raise _wrong(spec, written, "a currency")
    return written.strip()


_PARSERS: dict[Unit, Callable[[LimitSpec, object], Value]] = {
    Unit.LENGTH: _from_text("a length", _length),
    Unit.SHARE: _from_text("a share", units.parse_share_permille),
    Unit.RATIO: _thousandths,
    Unit.PITCHES: _thousandths,
    Unit.COUNT: _count,
    Unit.FLAG: _flag,
    Unit.CHOICE: _choice,
    Unit.KINDS: _kinds,
    Unit.LENGTHS: _lengths,
    Unit.TEMPERATURE: _from_text("a temperature", _celsius),
    Unit.RESISTANCE: _from_text("a resistance", units.parse_ohms_uohm),
    Unit.VOLTS_OR_OFF: _volts_or_off,
    Unit.WIRE_SIZE: _wire_size,
    Unit.CURRENCY: _currency,
    Unit.MONEY_PER_HOUR: _from_text("an amount of money", _money_per_hour),
    Unit.MINUTES: _from_text("minutes", units.parse_minutes_cmin),
}

_NUMBER_TEXT: dict[Unit, Callable[[int], str]] = {
    Unit.LENGTH: lambda value: f"{mm_text(value)} mm",
    Unit.SHARE: units.share_text,
    Unit.RATIO: lambda value: f"{units.decimal_text(Fraction(value, 1000))}:1",
    Unit.PITCHES: _pitches_text,
    Unit.COUNT: str,
    Unit.TEMPERATURE: lambda value: f"{value} C",
    Unit.RESISTANCE: units.ohms_text,
    Unit.VOLTS_OR_OFF: units.volts_text,
    Unit.MONEY_PER_HOUR: lambda value: f"{units.amount_text(value)} per hour",
    Unit.MINUTES: units.minutes_text,
}
