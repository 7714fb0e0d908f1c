"""``lugwright limits``: what is in force and where it comes from."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from lugwright.cli.cmd_limits import command
from lugwright.limits.spec_rows import SPECS


def call(*arguments: str) -> Result:
    """Run the command; standard output and standard error apart."""
    return CliRunner().invoke(command, arguments)


def test_every_limit_is_shown_with_value_and_origin() -> None:
    """One line for each limit, with the file and line that set it."""
    result = call()
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert lines[0] == "rule_set: usual (built-in rule set)"
    for spec in SPECS:
        assert any(line.startswith(f"{spec.name}  ") and "usual.toml:" in line for line in lines)


def test_columns_line_up_and_carry_no_colour_codes() -> None:
    """In a pipe the table is plain text, its columns under their heads."""
    lines = call("--name", "studs").stdout.splitlines()[2:]
    assert "\x1b" not in "".join(lines)
    at = lines[0].index("from")
    assert all(line[at:].startswith("built-in rule set") for line in lines[1:])
    assert all(line[at - 2 : at] == "  " for line in lines)


def test_scenario_file_and_setting_lie_over_the_practice(tmp_path: Path) -> None:
    """The whole chain is shown: command line over scenario over shop over rule set."""
    (tmp_path / "shop.toml").write_text("lugs_per_stud = 3", encoding="utf-8")
    skiff = tmp_path / "skiff.toml"
    skiff.write_text("[limits]\nlugs_per_stud = 2", encoding="utf-8")
    shop = str(tmp_path / "shop.toml")
    result = call(str(skiff), "--limits", shop, "--set", "lugs_per_stud=5", "--name", "lugs_per")
    row = result.stdout.splitlines()[-1]
    assert row.startswith("lugs_per_stud  5      command line  2 (scenario, ")
    assert row.index("skiff.toml:2") < row.index("shop.toml:1") < row.index("usual.toml:")


def test_what_was_replaced_has_a_column_only_where_something_was() -> None:
    """A group with nothing replaced is not widened by an empty column."""
    heads = [line for line in call("--set", "slack=3 %").stdout.splitlines() if " value " in line]
    assert ["instead of" in head for head in heads] == [True, *[False] * 6]


def test_as_json() -> None:
    """A versioned answer, one record for each limit with value, origin and source."""
    answer = json.loads(call("--json", "--rule-set", "strict").stdout)
    assert (answer["answer"], answer["format"], answer["rule_set"]) == ("limits", 1, "strict")
    by_name = {row["name"]: row for row in answer["limits"]}
    assert list(by_name) == [spec.name for spec in SPECS]
    assert by_name["fuse_share"]["value"] == "100 %"
    assert "ISO 13297" in by_name["fuse_share"]["source"]
    assert by_name["fuse_share"]["replaced"].startswith("150 % (built-in rule set, usual.toml:")


SHOP = """lugs_per_stud = 4
[shop]
locked = ["lugs_per_stud"]
tighten_only = ["drop_other"]
[shop.range]
wires_per_barrel = [1, 3]
"""
WAIVER = """[limits]
lugs_per_stud = 5
[[waiver]]
limit = "drop_other"
place = "fuel.lamp"
value = "12 %"
reason = "=1+1 <script>"
initials = "AB"
date = 2026-11-25
"""


@pytest.fixture
def held(tmp_path: Path) -> tuple[str, ...]:
    """A scenario that asks for more than its shop allows: the arguments of the call."""
    (tmp_path / "shop.toml").write_text(SHOP, encoding="utf-8")
    (tmp_path / "skiff.toml").write_text(WAIVER, encoding="utf-8")
    return (str(tmp_path / "skiff.toml"), "--limits", str(tmp_path / "shop.toml"))


def test_how_the_shop_holds_a_limit_has_a_column(held: tuple[str, ...]) -> None:
    """Locked, held and kept in a range, each with file and line."""
    lines = call(*held).stdout.splitlines()
    row = {name: next(x for x in lines if x.startswith(f"{name} ")) for name in (
        "lugs_per_stud", "drop_other", "wires_per_barrel", "slack",
    )}  # fmt: skip
    assert "locked (limits file, shop.toml:3)" in row["lugs_per_stud"]
    assert "may only be tightened (limits file, shop.toml:4)" in row["drop_other"]
    assert "1 to 3 (limits file, shop.toml:6)" in row["wires_per_barrel"]
    assert "shop.toml" not in row["slack"]


def test_a_refused_loosening_is_told_and_left_out(held: tuple[str, ...]) -> None:
    """The table shows what stays in force; the reason goes to standard error; the call ends
    with 2."""
    result = call(*held)
    assert result.exit_code == 2
    assert "skiff.toml:2:17: limits, lugs_per_stud: the shop has locked it at 4" in result.stderr
    row = next(x for x in result.stdout.splitlines() if x.startswith("lugs_per_stud "))
    assert row.split()[:4] == ["lugs_per_stud", "4", "limits", "file,"]


def test_waivers_are_listed(held: tuple[str, ...]) -> None:
    """Limit, place, value, what counts elsewhere, reason, by whom, when, and where it stands."""
    last = call(*held).stdout.splitlines()[-1]
    for word in ("drop_other", "fuel.lamp", "12 %", "10 %", "=1+1 <script>", "AB", "2026-11-25"):
        assert word in last
    assert last.endswith("scenario, skiff.toml:3")


def test_held_limits_and_waivers_as_json(held: tuple[str, ...]) -> None:
    """The same as data: how the shop holds each limit, the waivers, and what was refused."""
    result = call(*held, "--json")
    assert result.exit_code == 2
    answer = json.loads(result.stdout)
    by_name = {row["name"]: row for row in answer["limits"]}
    assert by_name["lugs_per_stud"]["shop"] == "locked (limits file, shop.toml:3)"
    assert by_name["slack"]["shop"] == ""
    assert [row["place"] for row in answer["waivers"]] == ["fuel.lamp"]
    assert [row["field"] for row in answer["refused"]] == ["limits, lugs_per_stud"]


def test_schema_of_a_limits_file() -> None:
    """The layout is printed as it is, without an envelope, for an editor to read."""
    schema = json.loads(call("--schema").stdout)
    assert schema["properties"]["lengths"]["properties"]["slack"]


def test_every_fault_is_told_and_nothing_else() -> None:
    """Faults go to standard error, all of them, and the call ends with 2."""
    result = call("--set", "slak=3 %", "--set", "cut_step=0 mm", "--rule-set", "nobody")
    assert result.exit_code == 2
    assert result.stdout == ""
    told = result.stderr.splitlines()
    assert [line.split(": ")[1] for line in told[:-1]] == ["cut_step", "rule_set", "slak"]
    assert told[-1] == "3 faults"


def test_faults_as_json(tmp_path: Path) -> None:
    """With --json the same faults are records on standard output, with their places."""
    shop = tmp_path / "shop.toml"
    shop.write_text("[studs]\nlugs_per_stud = nan", encoding="utf-8")
    result = call("--json", "--limits", str(shop))
    assert result.exit_code == 2
    (fault,) = json.loads(result.stdout)["faults"]
    assert (fault["file"], fault["line"], fault["column"]) == (str(shop), 2, 17)
    assert fault["field"] == "studs, lugs_per_stud"


def test_text_from_a_file_cannot_repaint_the_terminal(tmp_path: Path) -> None:
    """Control characters in a file's own words are not passed on."""
    shop = tmp_path / "shop.toml"
    shop.write_text('slack = { value = "4 %", source = "\\u001b[2Jgone" }', encoding="utf-8")
    assert "\x1b" not in call("--limits", str(shop)).stdout
    shop.write_text('slack = "\\u001b[2J"', encoding="utf-8")
    assert "\x1b" not in call("--limits", str(shop)).stderr


@pytest.mark.parametrize("option", ["--limits", "--rule-set", "--set", "--name", "--json"])
def test_help_names_every_option(option: str) -> None:
    """The help page tells what can be asked."""
    assert option in call("--help").stdout
