"""Reading lengths, wire sizes, currents and shares as a person writes them, and writing them.

Every ``parse_`` function takes what stood in the file and raises ValueError with a one-line
message that says what was got and what is accepted. No unit is ever assumed and nothing is
guessed: a decimal comma, a bare number, a unit in the wrong case are refused. At most 40
characters are looked at, so no text can keep the parser busy.

The ``_text`` functions write a value so that the parser gives the same value back.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from math import ceil, floor

from lugwright.base.scale import DMM_PER_MM, MICRO
from lugwright.base.spelling import did_you_mean

TEXT_CAP = 40

LENGTH_FORMS = (
    'write "52 mm", "5.2 cm", "6 m", "2 1/16 in", "3-3/8 in", "3/8 in", "2.5 in", '
    '"40 ft" or "2 ft 3 in"'
)
CURRENT_FORMS = 'write "0.15 A" or "150 mA"'
SHARE_FORMS = 'write "3 %" or "2.5 %"'
VOLTS_FORMS = 'write "12 V" or "300 mV"'
OHMS_FORMS = 'write "0.5 mohm", "500 uohm" or "0.1 ohm"'
MONEY_FORMS = 'write a plain amount, such as "0.35", with at most six decimals and no currency'
MINUTES_FORMS = 'write "1.5 min", "20 s" or "1 h"'
DEGREES_FORMS = 'write "90 deg"'

# Sizes of ASTM B258 from 24 AWG up, as far as the strand-area table of `electrics` goes.
AWG_SIZES = (
    *("24", "22", "20", "18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1"),
    *("1/0", "2/0", "3/0", "4/0"),
)
WIRE_SIZE_FORMS = f'write "16 AWG" ({", ".join(AWG_SIZES)}) or "1.5 mm2"'

# Unified threads (ASME B1.1) and metric coarse threads (ISO 261) found on instrument studs.
THREADS = (
    "#6-32 UNC",
    "#8-32 UNC",
    "#10-24 UNC",
    "#10-32 UNF",
    "1/4-20 UNC",
    "M3.5 x 0.6",
    "M4 x 0.7",
    "M5 x 0.8",
    "M6 x 1.0",
)

# Tab sizes of IEC 61210, with the inch names of UL 310; width x thickness.
TAB_SIZES: Mapping[str, str] = {
    "2.8 x 0.5": "0.110 x 0.020",
    "2.8 x 0.8": "0.110 x 0.032",
    "4.8 x 0.5": "0.187 x 0.020",
    "4.8 x 0.8": "0.187 x 0.032",
    "6.3 x 0.8": "0.250 x 0.032",
    "9.5 x 1.2": "0.375 x 0.048",
}

_MM_PER_UNIT = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}
_DECIMAL = r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+"
_LENGTH_PIECE = re.compile(
    r"(?:(?:(?P<whole>[0-9]+)(?:-| ))?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)"
    rf"|(?P<decimal>{_DECIMAL})) ?(?P<unit>mm|cm|m|in|ft)(?![A-Za-z]) ?"
)
_QUANTITY = re.compile(rf"(?P<number>{_DECIMAL}) ?(?P<unit>[^0-9 .].*)?")
_BARE_NUMBER = re.compile(rf"(?:[0-9]+[- ])?[0-9]+/[0-9]+|{_DECIMAL}")


def _refuse(what: str, got: object, reason: str, forms: str) -> ValueError:
    shown = f'"{got}"' if isinstance(got, str) and got.isprintable() else repr(got)
    if len(shown) > TEXT_CAP + 2:
        shown = f"{shown[:TEXT_CAP]}..."
    return ValueError(f"{what}: {reason} (got {shown}); {forms}")


def _clean(text: object, what: str, forms: str) -> str:
    """The text with single spaces, once everything no form can hold has been refused."""
    if not isinstance(text, str):
        raise _refuse(what, text, "must be text, in quotes", forms)
    if len(text) > TEXT_CAP:
        raise _refuse(what, text, f"at most {TEXT_CAP} characters", forms)
    cleaned = " ".join(text.split())
    if not cleaned:
        raise _refuse(what, text, "nothing is written", forms)
    if "," in cleaned:
        raise _refuse(what, text, "write a decimal point, not a comma", forms)
    return cleaned


def _split_sign(
    cleaned: str, text: object, what: str, forms: str, allow_negative: bool
) -> tuple[int, str]:
    if not cleaned.startswith(("-", "\N{MINUS SIGN}")):
        return 1, cleaned
    if not allow_negative:
        raise _refuse(what, text, "must not be negative", forms)
    return -1, cleaned[1:].lstrip()


def _quantity(
    text: object,
    what: str,
    units: Mapping[str, Fraction],
    forms: str,
    *,
    allow_negative: bool = False,
) -> Fraction:
    """Decimal number and unit, as an exact multiple of the unit whose factor is 1."""
    cleaned = _clean(text, what, forms)
    sign, unsigned = _split_sign(cleaned, text, what, forms, allow_negative)
    match = _QUANTITY.fullmatch(unsigned)
    if match is None:
        reason = "not a number" if "" in units else "not a number with its unit"
        raise _refuse(what, text, reason, forms)
    unit = match["unit"] or ""
    if unit not in units:
        reason = f'unit "{unit}" is not known here' if unit else "a number needs its unit"
        raise _refuse(what, text, reason, forms)
    return sign * Fraction(match["number"]) * units[unit]


def _half_away(value: Fraction) -> int:
    return floor(value + Fraction(1, 2)) if value >= 0 else ceil(value - Fraction(1, 2))


def parse_length_mm(text: object, *, allow_negative: bool = False) -> Fraction:
    """A length as an exact number of millimetres (inch = 25.4 mm, foot = 304.8 mm, exactly).

    ``allow_negative`` is for coordinates. Raises ValueError naming the accepted forms.
    """
    what = "length"
    cleaned = _clean(text, what, LENGTH_FORMS)
    sign, unsigned = _split_sign(cleaned, text, what, LENGTH_FORMS, allow_negative)
    if _BARE_NUMBER.fullmatch(unsigned):
        raise _refuse(what, text, "a number needs its unit", LENGTH_FORMS)
    total, units, at = Fraction(0), [], 0
    while at < len(unsigned):
        piece = _LENGTH_PIECE.match(unsigned, at)
        if piece is None:
            raise _refuse(what, text, "not a length", LENGTH_FORMS)
        total += _piece_number(piece, text) * _MM_PER_UNIT[piece["unit"]]
        units.append(piece["unit"])
        at = piece.end()
    if len(units) != 1 and units != ["ft", "in"]:
        raise _refuse(what, text, "not a length", LENGTH_FORMS)
    return sign * total


def _piece_number(piece: re.Match[str], text: object) -> Fraction:
    if piece["decimal"]:
        return Fraction(piece["decimal"])
    top, bottom = int(piece["top"]), int(piece["bottom"])
    if bottom == 0:
        raise _refuse("length", text, "a fraction over zero", LENGTH_FORMS)
    if piece["whole"] and top >= bottom:
        reason = "the fraction after a whole number must be less than one"
        raise _refuse("length", text, reason, LENGTH_FORMS)
    return int(piece["whole"] or 0) + Fraction(top, bottom)


def to_dmm(length_mm: Fraction) -> int:
    """Millimetres to 0.1 mm, half away from zero: the one rounding at the model's edge."""
    return _half_away(length_mm * DMM_PER_MM)


def to_dmm_up(length_mm: Fraction) -> int:
    """Millimetres to 0.1 mm, rounded up: for a thickness that has to find room."""
    return ceil(length_mm * DMM_PER_MM)


def parse_wire_size(text: object) -> str:
    """A wire size in its one spelling: ``16 AWG``, ``1/0 AWG``, ``1.5 mm2``.

    AWG is a closed set; square millimetres are any positive decimal. Raises ValueError.
    """
    what = "wire size"
    cleaned = _clean(text, what, WIRE_SIZE_FORMS)
    if match := re.fullmatch(r"([0-9]+(?:/0)?) ?AWG", cleaned, re.IGNORECASE):
        if match[1] in AWG_SIZES:
            return f"{match[1]} AWG"
        raise _refuse(what, text, "not an AWG size", WIRE_SIZE_FORMS)
    if match := re.fullmatch(rf"({_DECIMAL}) ?mm(?:2|²|\^2)", cleaned):
        area_mm2 = Fraction(match[1])
        if area_mm2 > 0:
            return f"{decimal_text(area_mm2)} mm2"
        raise _refuse(what, text, "must be more than zero", WIRE_SIZE_FORMS)
    if re.fullmatch(rf"{_DECIMAL}|[1-4]/0", cleaned):
        raise _refuse(what, text, "a size needs its system", WIRE_SIZE_FORMS)
    raise _refuse(what, text, "not a wire size", WIRE_SIZE_FORMS)


def _spelling(text: str) -> str:
    return text.replace("\N{MULTIPLICATION SIGN}", "x").replace(" ", "").lower()


def _thread_spellings() -> dict[str, str]:
    known: dict[str, str] = {}
    for thread in THREADS:
        names = [thread, thread.split(" ")[0]]
        if thread.startswith("#"):
            names += [name.lstrip("#") for name in names]
        if thread.endswith(".0"):
            names.append(thread.removesuffix(".0"))
        known.update((_spelling(name), thread) for name in names)
    return known


_THREAD_SPELLINGS = _thread_spellings()
_TAB_SPELLINGS = {_spelling(mm): mm for mm in TAB_SIZES} | {
    _spelling(f"{mm}mm"): mm for mm in TAB_SIZES
}
_TAB_SPELLINGS |= {_spelling(f"{inch}in"): mm for mm, inch in TAB_SIZES.items()}


def _nearest(got: str, allowed: Iterable[str]) -> str:
    hint = did_you_mean(got, allowed)
    return f"; {hint}" if hint else ""


def parse_thread(text: object) -> str:
    """A stud thread in its one spelling, ``#10-32 UNF`` or ``M5 x 0.8``.

    Accepts the full name, ``#10-32`` and ``M5``. Raises ValueError naming the closed set.
    """
    forms = f"known threads: {', '.join(THREADS)}"
    cleaned = _clean(text, "thread", forms)
    thread = _THREAD_SPELLINGS.get(_spelling(cleaned))
    if thread is None:
        raise _refuse("thread", text, "not a known thread", forms + _nearest(cleaned, THREADS))
    return thread


def parse_tab_size(text: object) -> str:
    """A tab's width x thickness in millimetres, ``6.3 x 0.8``; inch names end in ``in``.

    Raises ValueError naming the closed set.
    """
    forms = f"known tabs: {', '.join(TAB_SIZES)}"
    cleaned = _clean(text, "tab size", forms)
    tab = _TAB_SPELLINGS.get(_spelling(cleaned))
    if tab is None:
        raise _refuse("tab size", text, "not a known tab", forms + _nearest(cleaned, TAB_SIZES))
    return tab


def parse_current_ma(text: object, *, round_up: bool = True) -> int:
    """A current in mA: a load rounded up, a limit (``round_up`` False) down. ValueError."""
    units = {"A": Fraction(1000), "mA": Fraction(1)}
    current = _quantity(text, "current", units, CURRENT_FORMS)
    return ceil(current) if round_up else floor(current)


def parse_share_permille(text: object) -> int:
    """A share in thousandths, to the nearest. Raises ValueError."""
    return _half_away(_quantity(text, "share", {"%": Fraction(10)}, SHARE_FORMS))


def parse_volts_mv(text: object) -> int:
    """A voltage in whole mV. Raises ValueError, also for anything finer than 1 mV."""
    volts = _quantity(text, "voltage", {"V": Fraction(1000), "mV": Fraction(1)}, VOLTS_FORMS)
    if volts.denominator != 1:
        raise _refuse("voltage", text, "finer than 1 mV", VOLTS_FORMS)
    return int(volts)


def parse_ohms_uohm(text: object) -> int:
    """A resistance in micro-ohm, rounded up. Raises ValueError."""
    units = {"ohm": Fraction(1_000_000), "mohm": Fraction(1000), "uohm": Fraction(1)}
    # The ohm sign and the Greek letter, the micro sign and the Greek letter: all are typed.
    symbols = {
        "": "ohm",
        "m": "mohm",
        "\N{MICRO SIGN}": "uohm",
        "\N{GREEK SMALL LETTER MU}": "uohm",
    }
    for prefix, unit in symbols.items():
        for omega in ("\N{OHM SIGN}", "\N{GREEK CAPITAL LETTER OMEGA}"):
            units[prefix + omega] = units[unit]
    return ceil(_quantity(text, "resistance", units, OHMS_FORMS))


def parse_money_micro(text: object) -> int:
    """An amount of money in millionths. The currency is stated elsewhere. Raises ValueError."""
    amount = _quantity(text, "amount", {"": Fraction(MICRO)}, MONEY_FORMS)
    if amount.denominator != 1:
        raise _refuse("amount", text, "more than six decimals", MONEY_FORMS)
    return int(amount)


def parse_decimal(text: object, what: str) -> Fraction:
    """A number of zero or more with no unit, for a table column whose name carries the unit.

    Raises ValueError.
    """
    return _quantity(text, what, {"": Fraction(1)}, 'write a plain number, such as "2582.7"')


def parse_minutes_cmin(text: object) -> int:
    """A working time in hundredths of a minute, to the nearest. Raises ValueError."""
    units = {"min": Fraction(100), "s": Fraction(100, 60), "h": Fraction(6000)}
    return _half_away(_quantity(text, "working time", units, MINUTES_FORMS))


def parse_degrees(text: object, *, allow_negative: bool = False) -> Fraction:
    """An angle in degrees, exact. Raises ValueError."""
    units = {"deg": Fraction(1), "°": Fraction(1), "degrees": Fraction(1)}
    return _quantity(text, "angle", units, DEGREES_FORMS, allow_negative=allow_negative)


def decimal_text(value: Fraction) -> str:
    """A fraction that ends as a decimal, written out. Raises ValueError for one that does not."""
    rest, digits = value.denominator, 0
    while rest % 10 == 0:
        rest, digits = rest // 10, digits + 1
    while rest % 2 == 0 or rest % 5 == 0:
        rest, digits = rest // (2 if rest % 2 == 0 else 5), digits + 1
    if rest != 1:
        raise ValueError(f"{value} does not end as a decimal")
    whole, part = divmod(abs(value.numerator) * 10**digits // value.denominator, 10**digits)
    sign = "-" if value < 0 else ""
    written = f"{whole}.{part:0{digits}}".rstrip("0").rstrip(".") if digits else str(whole)
    return sign + written


def length_text(length_mm: Fraction) -> str:
    """A length in millimetres, exactly; in inches where the millimetres do not end."""
    try:
        return f"{decimal_text(length_mm)} mm"
    except ValueError:
        return inch_text(length_mm)


def inch_text(length_mm: Fraction) -> str:
    """A length in inches as a rule is read, exactly: ``3-3/8 in``."""
    inches = length_mm / _MM_PER_UNIT["in"]
    whole, part = divmod(abs(inches), 1)
    sign = "-" if inches < 0 else ""
    if part == 0:
        return f"{sign}{whole} in"
    return f"{sign}{whole}-{part} in" if whole else f"{sign}{part} in"


def current_text(current_ma: int) -> str:
    """A current in amperes: ``0.15 A``."""
    return f"{decimal_text(Fraction(current_ma, 1000))} A"


def share_text(share_permille: int) -> str:
    """A share in percent: ``2.5 %``."""
    return f"{decimal_text(Fraction(share_permille, 10))} %"


def volts_text(voltage_mv: int) -> str:
    """A voltage in volts: ``0.36 V``."""
    return f"{decimal_text(Fraction(voltage_mv, 1000))} V"


def ohms_text(resistance_uohm: int) -> str:
    """A resistance in milliohm: ``0.5 mohm``."""
    return f"{decimal_text(Fraction(resistance_uohm, 1000))} mohm"


def amount_text(amount_micro: int) -> str:
    """Money with every decimal it has: ``0.125``."""
    return decimal_text(Fraction(amount_micro, MICRO))


def minutes_text(time_cmin: int) -> str:
    """A working time in minutes: ``1.5 min``."""
    return f"{decimal_text(Fraction(time_cmin, 100))} min"


def degrees_text(angle_deg: Fraction) -> str:
    """An angle in degrees: ``22.5 deg``."""
    return f"{decimal_text(angle_deg)} deg"
