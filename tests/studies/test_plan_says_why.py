"""``lugwright plan`` on a console without a plan: the reason is printed, or left out on demand."""

import json
from pathlib import Path

import pytest
from support.explaining import SCENARIOS

from lugwright.cli.main import run

RINGS = str(SCENARIOS / "too-many-rings.toml")


@pytest.fixture(autouse=True)
def _aside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Commands run in an empty folder."""
    monkeypatch.chdir(tmp_path)


def test_the_reason_goes_to_standard_error(capsys: pytest.CaptureFixture[str]) -> None:
    """Even when quiet: exit 3, nothing on standard output, the reason with its way out."""
    assert run(["plan", RINGS, "--quiet"]) == 3
    told = capsys.readouterr()
    assert told.out == ""
    assert "oil.ground: 5 lugs wanted, 4 allowed" in told.err
    assert "possible with 5 lugs on a stud" in told.err


def test_the_reason_as_data(capsys: pytest.CaptureFixture[str]) -> None:
    """With --json a ``why_not`` object: members, suggestions, number of solves."""
    assert run(["plan", RINGS, "--quiet", "--json"]) == 3
    why = json.loads(capsys.readouterr().out)["why_not"]
    (member,) = why["conflicts"][0]["members"]
    assert (member["name"], member["value"], member["without"]) == (
        "lugs_per_stud",
        "4",
        "possible",
    )
    assert member["suggestion"]["value"] == "5" and member["suggestion"]["least"] is True
    assert why["probes"] > 0 and why["complete"] is True


def test_no_why_leaves_it_out(capsys: pytest.CaptureFixture[str]) -> None:
    """With --no-why no reason is searched for."""
    assert run(["plan", RINGS, "--no-why", "--json", "--quiet"]) == 3
    told = capsys.readouterr()
    assert json.loads(told.out)["why_not"] is None
    assert "possible with" not in told.err


def test_a_held_hub_says_that_it_may_not_be(capsys: pytest.CaptureFixture[str]) -> None:
    """``--hold`` of an instrument without studs names it and what it lacks."""
    leads = str(SCENARIOS / "flying-leads.toml")
    assert run(["plan", leads, "--hold", "hub=depth", "--quiet"]) == 3
    assert "depth may not be the hub: no stud or tab" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("name", "fault"),
    [
        pytest.param(
            *("impossible/two-faults", "the fuse sits too far from the source"),
            marks=pytest.mark.slow,
        ),
        ("impossible/fuse-too-big", "the fuse is too big for 18 AWG"),
    ],
)
def test_a_fault_is_told_once(name: str, fault: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Where the reason is searched for, faults stand in it, with their ways out, and only there."""
    path = str(SCENARIOS / f"{name}.toml")
    assert run(["plan", path, "--quiet"]) == 3
    lines = capsys.readouterr().err.splitlines()
    assert lines[0] == "No plan exists."
    about = [line for line in lines if fault in line]
    assert about and all("[" in line and ("possible" in line or "enough" in line) for line in about)
    assert run(["plan", path, "--quiet", "--no-why"]) == 3
    lines = capsys.readouterr().err.splitlines()
    assert lines[0] == "No plan exists. Whatever is chosen, this stands in the way:"
    assert any(fault in line for line in lines)


def test_faults_are_told_where_the_reason_was_not_settled(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """With no time left for the reason, what stands in the way is said all the same."""
    path = str(SCENARIOS / "impossible" / "fuse-too-big.toml")
    assert run(["plan", path, "--quiet", "--time", "0.000001"]) == 3
    told = capsys.readouterr().err
    assert "Whatever is chosen, this stands in the way:" in told
    assert "the fuse is too big for 18 AWG" in told


def test_holds_are_members_of_what_cannot_hold_together(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A hub held, and nothing may go on from its ground: letting go of either lets a plan exist."""
    call = ["plan", str(SCENARIOS / "one-wire-per-barrel.toml"), "--set", "wires_per_barrel=2"]
    call += ["--hold", "hub=fuel", "--hold", "last=fuel.ground", "--quiet", "--json"]
    assert run(call) == 3
    (conflict,) = json.loads(capsys.readouterr().out)["why_not"]["conflicts"]
    ways = {one["name"]: one["suggestion"]["text"] for one in conflict["members"]}
    assert ways == {
        "held hub fuel": "hub fuel not held",
        "held last fuel.ground": "last fuel.ground not held",
    }
