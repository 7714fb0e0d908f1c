"""Options that several commands share."""

from __future__ import annotations

import json

import click
import pytest
from click.testing import CliRunner, Result

from lugwright.base.errors import BadInput, Complaint
from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.options import MOST_TOLD


@click.command()
@options.hold_option
@options.objective_option
@options.limits_options
@options.json_option
@options.ends_well
def asked(
    holds: tuple[tuple[str, str], ...],
    objective: str | None,
    limits_file: object,
    rule_set: str | None,
    settings: tuple[str, ...],
    as_json: bool,
) -> None:
    """Print what was asked; with the rule set ``faulty`` refuse three times, once doubly."""
    if rule_set == "faulty":
        late = Complaint("b.toml", 10, 2, "x", "wrong")
        early = Complaint("b.toml", 9, 1, "y", "wrong\x1b[2J", "mend it")
        raise BadInput(late, early, late, Complaint("a.toml", 0, 0, "", "no such file"))
    click.echo(json.dumps([holds, options.with_objective(settings, objective)]))


def call(*arguments: str) -> Result:
    """Run the command above."""
    return CliRunner().invoke(asked, arguments)


def test_holds_and_settings_are_taken_apart() -> None:
    """Pairs keep their order, blanks around the sign go, the objective is one more setting."""
    result = call(
        *("--hold", "hub=depth", "--hold", "a = b=c"),
        *("--set", "slack=3 %", "--objective", "shortest"),
    )
    assert json.loads(result.stdout) == [
        [["hub", "depth"], ["a", "b=c"]],
        ["slack=3 %", "objective=shortest"],
    ]


def test_without_an_objective_the_limits_decide() -> None:
    """No setting is made up."""
    assert json.loads(call().stdout) == [[], []]


@pytest.mark.parametrize("text", ["hub", "=depth", "hub=", " = "])
def test_a_hold_needs_what_and_name(text: str) -> None:
    """Half a hold is refused with the form it should have."""
    result = call("--hold", text)
    assert result.exit_code == Exit.BAD_INPUT
    assert "is not WHAT=NAME" in result.stderr


def test_faults_are_told_once_in_the_order_of_the_files() -> None:
    """Line 9 before line 10, no fault twice, no character that repaints the terminal."""
    result = call("--rule-set", "faulty")
    assert result.exit_code == Exit.BAD_INPUT
    assert result.stdout == ""
    assert result.stderr.splitlines() == [
        "a.toml: no such file",
        "b.toml:9:1: y: wrong [2J (mend it)",
        "b.toml:10:2: x: wrong",
        "3 faults",
    ]


def test_faults_as_json_keep_their_places() -> None:
    """The same faults as records, in the same order, and the same exit code."""
    result = call("--rule-set", "faulty", "--json")
    assert result.exit_code == Exit.BAD_INPUT
    answer = json.loads(result.stdout)
    assert (answer["answer"], answer["format"]) == ("faults", 1)
    assert [(one["file"], one["line"], one["column"]) for one in answer["faults"]] == [
        ("a.toml", 0, 0),
        ("b.toml", 9, 1),
        ("b.toml", 10, 2),
    ]


def test_very_many_faults_are_counted_and_not_all_told(capsys: pytest.CaptureFixture[str]) -> None:
    """A file of nothing but faults does not fill the screen; JSON still has every one."""
    faults = tuple(Complaint("a.toml", line, 1, "x", "wrong") for line in range(1, MOST_TOLD + 4))
    options.tell_faults(faults, as_json=False)
    lines = capsys.readouterr().err.splitlines()
    assert lines[MOST_TOLD - 1 :] == [
        f"a.toml:{MOST_TOLD}:1: x: wrong",
        "... and 3 more",
        f"{MOST_TOLD + 3} faults",
    ]
    options.tell_faults(faults, as_json=True)
    assert len(json.loads(capsys.readouterr().out)["faults"]) == MOST_TOLD + 3
