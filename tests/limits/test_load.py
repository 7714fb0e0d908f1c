"""From files and options to limits in force."""

from __future__ import annotations

from pathlib import Path

import pytest

from lugwright.base.errors import BadInput
from lugwright.base.toml import TomlFile, read_toml
from lugwright.limits.load import load_limits


def write(folder: Path, name: str, text: str) -> TomlFile:
    """A TOML file of that text, read."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return read_toml(path)


def test_nothing_named_is_usual_practice() -> None:
    """Without scenario, file and options the usual rule set holds."""
    limits, file = load_limits()
    assert (limits.rule_set, file) == ("usual", None)


def test_a_scenario_names_its_practice_and_its_own_limits(tmp_path: Path) -> None:
    """The scenario's rule set is the base, its table lies over it."""
    text = "rule_set = 'strict'\n[limits]\nlugs_per_stud = 2"
    limits, _ = load_limits(write(tmp_path, "skiff.toml", text))
    assert (limits.rule_set, limits.lugs_per_stud) == ("strict", 2)
    assert limits.origin("rule_set") == "scenario, skiff.toml:1"
    assert limits.origin("lugs_per_stud") == "scenario, skiff.toml:3"


def test_limits_do_not_depend_on_the_folder(tmp_path: Path) -> None:
    """The same files in another folder give equal limits, origins included."""
    found = []
    for name in ("one", "two"):
        folder = tmp_path / name
        folder.mkdir()
        write(folder, "shop.toml", "slack = '4 %'")
        text = "rule_set = 'shop.toml'\n[limits]\ncut_step = '1 mm'"
        found.append(load_limits(write(folder, "skiff.toml", text))[0])
    assert found[0] == found[1]


def test_a_scenario_may_name_the_shops_file(tmp_path: Path) -> None:
    """The file is looked for beside the scenario and may stand on a built-in rule set."""
    write(tmp_path, "shop.toml", "rule_set = 'strict'\nslack = '4 %'")
    limits, file = load_limits(write(tmp_path, "skiff.toml", "rule_set = 'shop.toml'"))
    assert file is not None
    assert (limits.rule_set, limits.slack_permille) == ("strict", 40)


def test_the_call_outweighs_the_scenario(tmp_path: Path) -> None:
    """A limits file and a rule set named in the call replace those the scenario names."""
    write(tmp_path, "shop.toml", "slack = '4 %'")
    other = tmp_path / "other.toml"
    other.write_text("slack = '6 %'", encoding="utf-8")
    skiff = write(tmp_path, "skiff.toml", "rule_set = 'shop.toml'")
    limits, _ = load_limits(skiff, other, "strict")
    assert (limits.rule_set, limits.slack_permille) == ("strict", 60)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("rule_set = 'shopp.toml'", "there is no such file"),
        ("rule_set = 'usuall'", r"skiff\.toml:1:12: rule_set: .*did you mean \"usual"),
        ("limits = 3", r"skiff\.toml:1:10: limits: this is a table of limits"),
    ],
)
def test_what_a_scenario_may_not_name(tmp_path: Path, text: str, message: str) -> None:
    """A missing file, an unknown rule set and limits that are no table are told."""
    with pytest.raises(BadInput, match=message):
        load_limits(write(tmp_path, "skiff.toml", text))
