"""Every field that takes a wire size takes every size, or says at its place what is allowed.

Sizes go from below the thinnest of the tables to beyond the thickest, by each size standard. What
no table holds is a fault of the file, never of the program.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from support.scenario_text import own_dial

from lugwright.base.errors import BadInput
from lugwright.base.units import AWG_SIZES
from lugwright.pipeline import pose, read_inputs
from lugwright.scenario.given_wires import SIZES_ALLOWED

METRIC = (
    *("0.01", "0.2", "0.25", "0.5", "0.75", "0.81", "0.82", "1", "1.5", "2.5", "6", "25"),
    *("107", "107.3", "120", "1000"),
)
SIZES = (
    *((f"{size} AWG", "AWG") for size in AWG_SIZES),
    *((f"{size} AWG", "SAE") for size in ("24", "18", "16", "3", "4/0")),
    *((f"{size} mm2", "metric") for size in METRIC),
    *((f"{size} mm2", "AWG") for size in ("0.5", "1.5")),
)
USUAL = 'wire_size = "16 AWG"'

CONSOLE = """\
title = "Every wire"

[panel]
width = "420 mm"
height = "180 mm"
thickness = "6 mm"

[[instrument]]
name = "fuel"
pattern = "dial-52"
centre = ["60 mm", "90 mm"]

[[instrument]]
name = "pump switch"
pattern = "rocker-20"
centre = ["160 mm", "90 mm"]

{dial}

[[harness]]
entry = ["210 mm", "0 mm"]
pigtails = [
  {{ circuit = "ignition", colour = "purple", {feed}, reach = "450 mm", fuse = "5 A", \
to_source = {{ one_way = "2 m", {run} }} }},
  {{ circuit = "ground", colour = "black", {ground}, reach = "450 mm" }},
  {{ label = "spare", colour = "gray", {capped}, cap_off = true, live = true }},
]

[[boat_wires]]
name = "fuel sender"
wires = [
  {{ lands_on = "fuel.signal", {signal}, colour = "pink" }},
  {{ lands_on = "fuel.ground", {back}, colour = "black" }},
]

[[boat_wires]]
name = "bilge pump"
role = "load"
current = "2 A"
wires = [{{ lands_on = "pump switch.load", {load}, colour = "brown" }}]
{after}
"""
WIRES = ("feed", "run", "ground", "capped", "signal", "back", "load")
LEADS = ("lead on a feed", "lead on a ground", "lead of a signal", "spare lead")
FIELDS = (*WIRES, *LEADS, "minimum of a circuit", "minimum of all", "held")


def lead_dial(field: str, size: str) -> str:
    """An own dial, one of whose posts is a lead of the size."""
    names = {"lead on a feed": "other", "lead on a ground": "ground"}
    post = names.get(field, "flying")
    text = own_dial('feeds = { flying = "spare" }' if field == "spare lead" else "", "other")
    text = text.replace('function = "other"', 'function = "ignition"')
    if post == "flying":
        text += '\nflying = { kind = "stud", function = "signal", at = ["0 mm", "18 mm"], '
        text += 'height = "50 mm", thread = "M4", free_thread = "12 mm" }'
    lines = text.splitlines()
    for number, line in enumerate(lines):
        if line.startswith(f"{post} = "):
            stud = 'thread = "M4", free_thread = "12 mm"'
            lead = line.replace('kind = "stud"', 'kind = "lead"')
            lines[number] = lead.replace(stud, f'lead = {{ colour = "red", {size} }}')
    return "\n".join(lines)


def console_text(field: str, size: str, standard: str) -> str:
    """A console with the size in that field, everything else of 16 AWG."""
    stated = f'wire_size = "{size}", size_standard = "{standard}"'
    wires = dict.fromkeys(WIRES, USUAL)
    after = ""
    if field in WIRES:
        wires[field] = stated
    dial = lead_dial(field, stated) if field in LEADS else ""
    if field == "minimum of a circuit":
        after = f'[[circuit]]\nname = "lamps"\nminimum_size = "{size}"'
    elif field == "minimum of all":
        after = f'[limits]\nminimum_size = "{size}"'
    elif field == "held":
        after = f'[[hold]]\ncircuit = "ground"\nsize = "{size}"'
    return CONSOLE.format(dial=dial, after=after, **wires)


def outcome(path: Path) -> str:
    """What comes of a file: "" where a problem is posed, else what is said of it."""
    try:
        inputs = read_inputs(path)
        pose(inputs)
    except BadInput as error:
        (complaint, *_) = error.complaints
        assert complaint.line > 0
        return str(complaint)
    return ""


@pytest.mark.parametrize("field", FIELDS)
def test_every_size_is_taken_or_refused_at_its_place(field: str, tmp_path: Path) -> None:
    """No size in no field is the program's fault; 16 AWG and 1.5 mm2 are always taken."""
    file = tmp_path / "console.toml"
    said = {}
    for size, standard in SIZES:
        file.write_text(console_text(field, size, standard), encoding="utf-8")
        said[size, standard] = outcome(file)
    for taken in (("16 AWG", "AWG"), ("1.5 mm2", "AWG"), ("2.5 mm2", "metric")):
        assert field == "held" or said[taken] == ""
    for text in filter(None, said.values()):
        if field in (*WIRES, *LEADS):
            assert "wire_size" in text
            assert '"4/0 AWG"' in text


@pytest.mark.parametrize("field", [*(w for w in WIRES if w != "capped"), *LEADS])
@pytest.mark.parametrize("size", [("20 AWG", "AWG"), ("0.5 mm2", "metric"), ("24 AWG", "AWG")])
def test_thin_wire_is_refused_where_it_would_carry(
    field: str, size: tuple[str, str], tmp_path: Path
) -> None:
    """33 CFR 183.425 Table 5 begins at 18 AWG: no number of ours stands in for its row."""
    file = tmp_path / "console.toml"
    file.write_text(console_text(field, *size), encoding="utf-8")
    told = outcome(file)
    assert "33 CFR 183.425 Table 5 has no row" in told
    assert "leave it out of this plan" in told
    assert '"18 AWG"' in told


@pytest.mark.parametrize("size", [("20 AWG", "AWG"), ("0.5 mm2", "metric"), ("24 AWG", "AWG")])
def test_a_thin_pigtail_that_is_capped_off_carries_nothing(
    size: tuple[str, str], tmp_path: Path
) -> None:
    """It is insulated and tied back like any other."""
    file = tmp_path / "console.toml"
    file.write_text(console_text("capped", *size), encoding="utf-8")
    assert outcome(file) == ""


@pytest.mark.parametrize("size", re.findall(r'"([^"]+)"', SIZES_ALLOWED))
@pytest.mark.parametrize("field", ["feed", "load", "lead on a feed"])
def test_what_the_message_allows_is_taken(field: str, size: str, tmp_path: Path) -> None:
    """The ends of the range it names are within it."""
    file = tmp_path / "console.toml"
    file.write_text(console_text(field, size, "AWG"), encoding="utf-8")
    assert outcome(file) == ""
