"""A starter scenario: commented text that loads as it stands and can be planned."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.letters import letters_fault, look
from lugwright.base.units import length_text
from lugwright.electrics.colours import colour_of_sender
from lugwright.scenario.complaints import nearest
from lugwright.scenario.fields import MAX_NAME
from lugwright.scenario.library import find_pattern, pattern_names
from lugwright.scenario.pattern_schema import PatternPart

# What a dial's everyday name stands for in the library; anything else is a small dial.
NAMED_DIALS = {
    "speed": "electronic-dial-86",
    "tachometer": "tachometer-86",
    "depth": "depth-dial-86",
    "hours": "hour-meter-52",
    "volts": "voltmeter-52",
}
USUAL_DIALS = ("tachometer", "fuel", "volts", "water", "oil", "trim", "hours", "speed")
SMALL_DIAL = "dial-52"
MOST_DIALS = 40
NO_COLOUR = "white"  # of a sender for which the colour table has no row
VOLTAGES = ("12 V", "24 V")

_EDGE_MM = Fraction(20)
_GAP_MM = Fraction(14)
_ROW = 6


def starter(
    title: str,
    dials: int | Sequence[str] = 4,
    voltage: str = "12 V",
    rule_set: str = "usual",
) -> str:
    """The text of a starter scenario.

    ``dials`` is a number, or names, each optionally with its pattern: ``"fuel"``,
    ``"port fuel=dial-52-short"``. Raises BadInput for what cannot be used.
    """
    if not title.strip() or not title.isprintable() or len(title) > 120:
        raise _refused("a title is one line of 1 to 120 characters", field="title")
    if fault := letters_fault(title):
        raise _refused(fault, field="title")
    if voltage not in VOLTAGES:
        raise _refused(f"voltage must be {' or '.join(VOLTAGES)}", field="voltage")
    named = _named(dials)
    patterns = [(name, pattern, _pattern(name, pattern)) for name, pattern in named]
    places, width, height = _layout([found for _, _, found in patterns])
    blocks = [_head(title, voltage, rule_set, width, height)]
    for (name, pattern, _), place in zip(patterns, places, strict=True):
        blocks.append(_instrument(name, pattern, place))
    blocks.append(_harness(width))
    blocks += [_sender(name) for name, _, found in patterns if _wants_sender(name, found)]
    blocks.append(_TAIL)
    return "\n".join(blocks)


def _refused(message: str, hint: str = "", field: str = "dials") -> BadInput:
    return BadInput(Complaint("command line", 0, 0, field, message, hint))


def _named(dials: int | Sequence[str]) -> list[tuple[str, str]]:
    if isinstance(dials, int):
        if not 1 <= dials <= MOST_DIALS:
            raise _refused(f"1 to {MOST_DIALS} dials can be laid out (got {dials})")
        names = list(USUAL_DIALS[:dials])
        names += [f"dial {number}" for number in range(len(names) + 1, dials + 1)]
    else:
        names = list(dials)
    found = []
    for text in names:
        name, _, pattern = (part.strip() for part in text.partition("="))
        found.append((name, pattern or NAMED_DIALS.get(name, SMALL_DIAL)))
    plain = [name for name, _ in found]
    if not 1 <= len(found) <= MOST_DIALS:
        raise _refused(f"1 to {MOST_DIALS} dials can be laid out (got {len(found)})")
    if len(set(map(look, plain))) < len(plain):
        raise _refused("two dials have the same name, or names that look the same on paper")
    for name in plain:
        if fault := letters_fault(name):
            raise _refused(fault)
        if not name or len(name) > MAX_NAME or not name.replace(" ", "").isalnum():
            raise _refused(f'"{name}" is not a name for a dial', "use letters, digits and spaces")
    if all(pattern == "depth-dial-86" for _, pattern in found):
        raise _refused("a panel of depth dials has no stud for the supply to land on")
    return found


def _pattern(name: str, pattern: str) -> PatternPart:
    found = find_pattern(pattern)
    if found is None:
        message = f'"{name}": the instrument library has no pattern "{pattern}"'
        raise _refused(message, nearest(pattern, pattern_names()))
    if found.bezel is None or not any(post.function == "ignition" for post in found.posts.values()):
        raise _refused(f'"{name}": "{pattern}" is not a dial that runs on ignition')
    return found


def _layout(
    patterns: Sequence[PatternPart],
) -> tuple[list[tuple[Fraction, Fraction]], Fraction, Fraction]:
    """Centres in rows from the upper left, and the plate that holds them (mm)."""
    pitch = max(pattern.bezel or Fraction(0) for pattern in patterns) + _GAP_MM
    rows = -(-len(patterns) // _ROW)
    columns = min(len(patterns), _ROW)
    width = 2 * _EDGE_MM + pitch * columns
    height = 2 * _EDGE_MM + pitch * rows
    places = []
    for number in range(len(patterns)):
        row, column = divmod(number, _ROW)
        x = _EDGE_MM + pitch * column + pitch / 2
        y = height - _EDGE_MM - pitch * row - pitch / 2
        places.append((x, y))
    return places, width, height


def _wants_sender(name: str, pattern: PatternPart) -> bool:
    has_signal = any(post.function == "signal" for post in pattern.posts.values())
    return has_signal and name not in ("speed", "tachometer")


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _head(title: str, voltage: str, rule_set: str, width: Fraction, height: Fraction) -> str:
    return f"""\
#:schema ./scenario.schema.json
# Lengths: "52 mm", "2-1/16 in", "6 m". Currents: "0.25 A", "120 mA". Wire: "16 AWG", "1.5 mm2".
title = {_quoted(title)}
rule_set = {_quoted(rule_set)}        # a built-in rule set, or your own limits file
voltage = {_quoted(voltage)}

[panel]                   # seen from the front; places are x, y from its lower left corner
width = "{length_text(width)}"
height = "{length_text(height)}"
thickness = "6 mm"
"""


def _instrument(name: str, pattern: str, place: tuple[Fraction, Fraction]) -> str:
    x, y = (length_text(part) for part in place)
    feeds = 'feeds = { second = "spare" }  # "ignition" if it wants key-on power there\n'
    return f"""\
[[instrument]]
name = {_quoted(name)}
pattern = "{pattern}"
centre = ["{x}", "{y}"]
{feeds if pattern == "electronic-dial-86" else ""}"""


def _harness(width: Fraction) -> str:
    run = '{ one_way = "6 m", wire_size = "14 AWG" }'
    return f"""\
[[harness]]               # measure reach from where it comes in; to_source is the run behind it
entry = ["{length_text(width / 2)}", "0 mm"]
pigtails = [
  {{ circuit = "ignition", colour = "purple", wire_size = "16 AWG", reach = "1.2 m", \
fuse = "10 A", to_source = {run} }},
  {{ circuit = "ground", colour = "black", wire_size = "16 AWG", reach = "1.2 m", \
to_source = {run} }},
  {{ label = "spare", colour = "gray", cap_off = true, live = false }},   # true: always live
]
"""


def _sender(name: str) -> str:
    colour = colour_of_sender(name)
    note = "" if colour else "   # no standard colour: write the one it has"
    return f"""\
[[boat_wires]]            # landed when the panel is in the boat
name = {_quoted(f"{name} sender")}
wires = [
  {{ lands_on = "{name}.signal", wire_size = "18 AWG", colour = "{colour or NO_COLOUR}" }},{note}
  {{ lands_on = "{name}.ground", wire_size = "18 AWG", colour = "black" }},
]
"""


_TAIL = """\
# [service]
# travel = "100 mm"       # how far the panel is pulled out for service
#
# [[keep_out]]            # a place wires go round
# name = "bracket"
# corners = [["10 mm", "10 mm"], ["40 mm", "30 mm"]]
# height = "80 mm"
#
# [limits]                # what differs from the rule set for this console alone
# slack = "10 %"
"""
