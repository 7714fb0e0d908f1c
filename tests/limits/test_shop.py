"""The ``[shop]`` table of a limits file, and files that extend one another."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.layers import layered, refusals

from lugwright.base.errors import BadInput
from lugwright.base.toml import read_toml
from lugwright.limits.load import load_limits

FAULTS = [
    # file, place, field, part of the message, part of the hint
    ("shop = 3", 1, "shop", "this is a table", "[shop]"),
    ("[shop]\nlok = []", 2, "shop, lok", "there is no such key", 'did you mean "locked"?'),
    ('[shop]\nlocked = "slack"', 2, "shop, locked", "this is a list of limits", ""),
    (
        '[shop]\nlocked = ["slak"]',
        2,
        "shop, locked",
        "there is no such limit",
        'did you mean "slack"?',
    ),
    ("[shop]\ntighten_only = [3]", 2, "shop, tighten_only", "there is no such limit", ""),
    (
        '[shop]\ntighten_only = "hold"',
        2,
        "shop, tighten_only",
        '"hold" is not "all"',
        "list of limits",
    ),
    ("[shop]\nwaivers = 3", 2, "shop, waivers", "this is a list of limits", ""),
    ('[shop]\nwaivers = ["slack"]', 2, "shop, waivers", "slack cannot be waived", "lugs_per_stud"),
    ('[shop]\nrule_set = "strickt"', 2, "rule_set", '"strickt" is not a built-in', '"strict"?'),
    ("[shop]\nextends = 3", 2, "shop, extends", "this is the name of a limits file", ""),
    ("[shop]\nrange = 3", 2, "shop, range", "this is a table of ranges", ""),
    ("[shop.range]\nlugs_per_stud = 3", 2, "shop, range, lugs_per_stud", "its least and its", ""),
    ("[shop.range]\nlugs_per_stud = [5, 4]", 2, "shop, range, lugs_per_stud", "more than", ""),
    ("[shop.range]\nlugs_per_stud = [0, 4]", 2, "shop, range, lugs_per_stud", "outside", "1 to 20"),
    ('[shop.range]\nslack = [1, "5 %"]', 2, "shop, range, slack", "1 has no unit", ""),
    ("[shop.range]\nsplices = [true, true]", 2, "shop, range, splices", "no scale", "under locked"),
    ("[shop.range]\nlugs = [1, 2]", 2, "shop, range, lugs", "there is no such limit", ""),
    (
        "lugs_per_stud = 6\n[shop.range]\nlugs_per_stud = [2, 5]",
        3,
        "shop, range, lugs_per_stud",
        "the shop's own value, 6 (limits file, shop.toml:1), lies outside it",
        "",
    ),
    (
        '[shop]\nlocked = ["slack"]\nopen = ["slack"]',
        3,
        "shop, open",
        "slack stands under locked too",
        "keep one",
    ),
    (
        '[shop]\nlocked = ["lugs_per_stud"]\nwaivers = ["lugs_per_stud"]',
        3,
        "shop, waivers",
        "lugs_per_stud is locked, and cannot be waived",
        "",
    ),
    (
        'rule_set = "usual"\n[shop]\nrule_set = "strict"',
        1,
        "rule_set",
        'the file stands on "usual", and its [shop] lays down "strict"',
        "",
    ),
]


@pytest.mark.parametrize(("text", "line", "field", "message", "hint"), FAULTS)
def test_a_fault_of_the_table(text: str, line: int, field: str, message: str, hint: str) -> None:
    """Each is told once, at its place, with what is allowed."""
    (told,) = refusals(text)
    assert (told.file, told.line, told.field) == ("shop.toml", line, field)
    assert message in told.message
    assert hint in told.hint


def test_a_scenario_has_no_shop_table() -> None:
    """What may be changed is said by the shop's file, not by what stands below it."""
    (told,) = refusals((), "[limits.shop]\nopen = []")
    assert (told.line, told.message) == (1, "there is no such limit")


def test_names_of_groups_and_of_limits_with_parts() -> None:
    """A list may name a whole group, or all parts of a limit."""
    limits = layered('[shop]\nlocked = ["money"]\ntighten_only = ["weights"]')
    assert {"rate", "minutes_landing.ring.bench", "weights.money"} <= set(limits.locks)
    assert "slack" not in limits.locks


COMPANY = (
    'lugs_per_stud = 4\n[shop]\ntighten_only = ["lugs_per_stud"]\n'
    "[shop.range]\nwires_per_barrel=[1,3]"
)
BELOW = [
    # an extending file, message (None: it stands)
    ("lugs_per_stud = 3", None),
    ("lugs_per_stud = 5", "5 is looser than the shop's 4 (limits file, company.toml:1)"),
    ('[shop]\nopen = ["lugs_per_stud"]', "lugs_per_stud is closed by limits file, company.toml:3"),
    ("wires_per_barrel = 4", "4 lies outside the shop's range, 1 to 3"),
    ("[shop.range]\nwires_per_barrel = [2, 3]", None),
    ("[shop.range]\nwires_per_barrel = [1, 4]", "wider than the range it stands on, 1 to 3"),
]


@pytest.mark.parametrize(("text", "message"), BELOW)
def test_an_extending_file_stands_below(text: str, message: str | None) -> None:
    """It may tighten, and opens nothing that the file it extends has closed."""
    if message is None:
        assert layered((COMPANY, text)).lugs_per_stud <= 4
        return
    (told,) = refusals((COMPANY, text))
    assert told.file == "shop.toml"
    assert told.message.startswith(message)


def test_what_an_extending_file_tightens_is_held_there() -> None:
    """A scenario may not go back to the looser value of the file below."""
    (told,) = refusals((COMPANY, "lugs_per_stud = 3"), "", ("lugs_per_stud=4",))
    assert "4 is looser than the shop's 3 (limits file, shop.toml:1)" in told.message
    assert "may only be tightened (limits file, company.toml:3)" in told.message


def test_waivers_are_only_narrowed() -> None:
    """A file that extends another lets no more be waived than that one does."""
    company = '[shop]\nwaivers = ["lugs_per_stud"]'
    (told,) = refusals((company, "[shop]\nwaivers = true"))
    assert "may not be waived, by limits file, company.toml:2" in told.message


def written(folder: Path, **files: str) -> None:
    """Write files of these names into a folder."""
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")


def test_a_chain_of_files(tmp_path: Path) -> None:
    """Each file is looked for beside the one that names it; the last one counts most."""
    written(
        tmp_path,
        company='slack = "3 %"\ncut_step = "1 mm"',
        yard='slack = "4 %"\n[shop]\nextends = "company.toml"',
        shop='[shop]\nextends = "yard.toml"\nlocked = ["slack"]',
    )
    limits, toml = load_limits(limits_file=tmp_path / "shop.toml")
    assert (limits.slack_permille, limits.cut_step_dmm) == (40, 10)
    assert limits.origins["slack"].replaced.startswith("3 % (limits file, company.toml:1)")
    assert toml is not None and Path(toml.file).name == "shop.toml"


def test_the_digest_covers_every_file_of_the_chain(tmp_path: Path) -> None:
    """A plan made under a chain is not that of another file at its foot."""
    written(tmp_path, company="lugs_per_stud = 3", shop='[shop]\nextends = "company.toml"')
    _, first = load_limits(limits_file=tmp_path / "shop.toml")
    written(tmp_path, company="lugs_per_stud = 2")
    _, second = load_limits(limits_file=tmp_path / "shop.toml")
    assert first is not None and second is not None
    assert first.digest != second.digest


RINGS = [
    ({"shop": '[shop]\nextends = "shop.toml"'}, "in a ring: shop.toml > shop.toml"),
    (
        {"shop": '[shop]\nextends = "a.toml"', "a": '[shop]\nextends = "shop.toml"'},
        "in a ring: shop.toml > a.toml > shop.toml",
    ),
    ({"shop": '[shop]\nextends = "compny.toml"'}, 'there is no limits file "compny.toml"'),
]


@pytest.mark.parametrize(("files", "message"), RINGS)
def test_a_chain_that_does_not_end(tmp_path: Path, files: dict[str, str], message: str) -> None:
    """Rings and misspelt names are told where they stand, with line and column."""
    written(tmp_path, **files)
    with pytest.raises(BadInput, match=r"toml:2:11: shop, extends: ") as bad:
        load_limits(limits_file=tmp_path / "shop.toml")
    assert message in str(bad.value)


def test_no_endless_chain(tmp_path: Path) -> None:
    """More files than anybody keeps are refused, not followed."""
    for number in range(12):
        text = f'[shop]\nextends = "f{number + 1}.toml"'
        written(tmp_path, **{f"f{number}": text})
    with pytest.raises(BadInput, match="more than 8 limits files"):
        load_limits(limits_file=tmp_path / "f0.toml")


def test_a_scenario_brings_no_limits_of_its_own(tmp_path: Path) -> None:
    """Where the call's file closes anything, a scenario may name that file and no other."""
    written(
        tmp_path,
        shop='[shop]\nlocked = ["slack"]',
        mine='slack = "1 %"',
        copy='[shop]\nlocked = ["slack"]',
        open='slack = "6 %"',
        skiff='rule_set = "mine.toml"',
    )
    skiff = read_toml(tmp_path / "skiff.toml")
    with pytest.raises(BadInput, match=r'skiff.toml:1:12: rule_set: the shop plans by "shop.toml"'):
        load_limits(skiff, tmp_path / "shop.toml")
    assert load_limits(skiff, tmp_path / "open.toml")[0].slack_permille == 60
    for same in ("shop.toml", "copy.toml"):
        written(tmp_path, skiff=f'rule_set = "{same}"')
        limits, _ = load_limits(read_toml(tmp_path / "skiff.toml"), tmp_path / "shop.toml")
        assert limits.slack_permille == 50
