"""Scenarios as text, for the tests of this room."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lugwright.base.toml import TomlFile, parse_toml
from lugwright.scenario.console import Console
from lugwright.scenario.load import load_toml

SCENARIOS = Path(__file__).parents[2] / "scenarios"

SKETCH = """\
#:schema ./scenario.schema.json
title = "Sandbar skiff, four dials"
rule_set = "usual"                                # a built-in rule set, or the shop's file

[panel]
width = "420 mm"
height = "7 in"
thickness = "6 mm"

[[instrument]]
name = "speed"
pattern = "electronic-dial-86"                    # from the instrument library
centre = ["110 mm", "3-1/2 in"]
feeds = { second = "ignition" }                   # this one wants key-on power on its second post

[[instrument]]
name = "fuel"
pattern = "dial-52"
centre = ["230 mm", "90 mm"]

[[harness]]
entry = ["210 mm", "0 mm"]
pigtails = [
  { circuit = "ignition", colour = "purple", wire_size = "16 AWG", reach = "450 mm", \
fuse = "10 A", to_source = { one_way = "6 m", wire_size = "14 AWG" } },
  { circuit = "ground", colour = "black", wire_size = "16 AWG", reach = "450 mm", \
to_source = { one_way = "6 m", wire_size = "14 AWG" } },
  { label = "tachometer", colour = "gray", cap_off = true, live = false },
]

[[boat_wires]]
name = "fuel sender"
wires = [ { lands_on = "fuel.signal", wire_size = "18 AWG", colour = "pink" }, \
{ lands_on = "fuel.ground", wire_size = "18 AWG", colour = "black" } ]
"""


def own_dial(feeds: str, power: str) -> str:
    """A dial drawn in the file, named trim, that takes power at two posts."""
    post = '{{ kind = "stud", function = "{0}", at = ["{1} mm", "0 mm"], height = "50 mm", \
thread = "M4", free_thread = "12 mm" }}'
    posts = (("ignition", -14), (power, 0), ("ground", 14))
    return "\n".join(
        [
            '[[instrument]]\nname = "trim"\ncentre = ["340 mm", "90 mm"]',
            feeds,
            '[instrument.geometry]\ncut_out = "52 mm"\nbezel = "60 mm"\nbody = "51 mm"',
            'body_depth = "45 mm"\nloads = [',
            '  { name = "movement", feed = "ignition", ground = "ground", current = "0.1 A" },',
            f'  {{ name = "display", feed = "{power}", ground = "ground", current = "0.2 A" }},',
            "]\n[instrument.geometry.posts]",
            *(f"{name} = {post.format(name, x)}" for name, x in posts),
        ]
    )


def toml_of(text: str) -> TomlFile:
    """A TOML file read from text."""
    return parse_toml(text.encode(), "test.toml")


def console_of(text: str) -> Console:
    """The console of a scenario's text."""
    return load_toml(toml_of(text)).console


def with_values(values: dict[str, Any]) -> TomlFile:
    """A TOML file of values made by a test; it has no text, so no places."""
    return TomlFile("test.toml", "", "", values)
