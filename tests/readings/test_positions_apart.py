"""Loads on exclusive positions: each is read in its own, and no band fails a sound panel."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from lugwright.pipeline import make_plan, read_inputs
from lugwright.readings.lines import sheet_of
from lugwright.readings.schema import Line, Sheet

CONSOLE = Path(__file__).parents[1] / "scenario" / "consoles" / "anchor-light.toml"


@cache
def sheet() -> Sheet:
    """The test sheet of a console with one switch for side lights and anchor light."""
    plan = make_plan(read_inputs(CONSOLE)).plan
    assert plan is not None
    return sheet_of(plan)


def volts_at(post: str) -> Line:
    """The volts line of a post."""
    (line,) = (one for one in sheet().lines if one.part == "volts" and one.at == f"post {post}")
    return line


def test_each_light_is_read_in_its_own_position() -> None:
    """The anchor light's post is dead while the side lights are on: its line says so."""
    assert (volts_at("nav.navigation").what, volts_at("nav.anchor").what) == ("", "nav anchor")
    assert "nav.anchor" not in volts_at("nav.navigation").closed
    assert "nav.navigation" not in volts_at("nav.anchor").closed
    assert {"nav.anchor", "fuses.f2"} <= volts_at("nav.anchor").closed


def test_what_runs_in_a_position_is_asked_in_it() -> None:
    """By its name in the file, with the position before what is seen."""
    told = {line.at_words: line.what for line in sheet().lines if line.part == "does"}
    assert told["all round light"] == "nav anchor: it runs as it should"
    assert told["side lights"] == "it runs as it should"
