"""What a shop's file holds, case by case, with the message each attempt ends in."""

from __future__ import annotations

import pytest
from support.layers import layered, refusals

from lugwright.limits.refused import LoosenedTooFar
from lugwright.limits.spec import Value

LOCKED = 'lugs_per_stud = 4\n[shop]\nlocked = ["lugs_per_stud"]'
HELD = 'drop_other = "5 %"\nslack = "4 %"\n[shop]\ntighten_only = "all"\nopen = ["cut_step"]'
RANGED = '[shop.range]\nlugs_per_stud = [2, 5]\ndrop_other = ["3 %", "10 %"]'

REFUSED = [
    # shop, scenario, settings, rule set, place, message
    (
        LOCKED,
        "[limits]\nlugs_per_stud = 5",
        (),
        "",
        "skiff.toml:2",
        "the shop has locked it at 4 (limits file, shop.toml:1); "
        "locked by limits file, shop.toml:3",
    ),
    (
        LOCKED,
        "[limits]\nlugs_per_stud = 3",
        (),
        "",
        "skiff.toml:2",
        "the shop has locked it at 4 (limits file, shop.toml:1); "
        "locked by limits file, shop.toml:3",
    ),
    (LOCKED, "", ("lugs_per_stud=5",), "", "command line:0", "the shop has locked it at 4"),
    (LOCKED, "", ("lugs_per_stud = 3",), "", "command line:0", "the shop has locked it at 4"),
    (
        '[shop]\nlocked = ["drop_other"]',
        "",
        (),
        "strict",
        "command line:0",
        '"strict" would set drop_other to 3 %: the shop has locked it at 10 % '
        "(built-in rule set, usual.toml:",
    ),
    (
        HELD,
        '[limits]\ndrop_other = "6 %"',
        (),
        "",
        "skiff.toml:2",
        "6 % is looser than the shop's 5 % (limits file, shop.toml:1); "
        "it may only be tightened (limits file, shop.toml:4)",
    ),
    (
        HELD,
        '[limits]\nslack = "5 %"',
        (),
        "",
        "skiff.toml:2",
        "the shop has it at 4 % (limits file, shop.toml:2), only to be tightened, and no value of "
        "it is the safer one",
    ),
    (HELD, "", ("wires_per_barrel=3",), "", "command line:0", "3 is looser than the shop's 2"),
    (
        'rule_set = "strict"\n[shop]\ntighten_only = ["electricity"]',
        'title = "a"\nrule_set = "usual"',
        (),
        "usual",
        "skiff.toml:2",
        '"usual" would set drop_other to 10 %: 10 % is looser than the shop\'s 3 %',
    ),
    (
        RANGED,
        "[limits]\nlugs_per_stud = 6",
        (),
        "",
        "skiff.toml:2",
        "6 lies outside the shop's range, 2 to 5 (limits file, shop.toml:2)",
    ),
    (RANGED, "", ("lugs_per_stud=1",), "", "command line:0", "1 lies outside the shop's range"),
    (
        '[shop]\nrule_set = "strict"',
        'title = "a"\nrule_set = "usual"',
        (),
        "usual",
        "skiff.toml:2",
        'the shop plans by "strict" (limits file, shop.toml:2)',
    ),
    (
        '[shop]\nrule_set = "strict"',
        "",
        (),
        "usual",
        "command line:0",
        'the shop plans by "strict"',
    ),
    (
        (LOCKED, '[shop]\nextends = "company.toml"'),
        "[limits]\nlugs_per_stud = 5",
        (),
        "",
        "skiff.toml:2",
        "the shop has locked it at 4 (limits file, company.toml:1)",
    ),
]


@pytest.mark.parametrize(("shop", "scenario", "settings", "rule_set", "place", "message"), REFUSED)
def test_refused(
    shop: str,
    scenario: str,
    settings: tuple[str, ...],
    rule_set: str,
    place: str,
    message: str,
) -> None:
    """Each is refused at its own place, with the shop's value and where the shop says so."""
    complaints = refusals(shop, scenario, settings, rule_set)
    told = [f"{one.file}:{one.line}: {one.message}" for one in complaints]
    assert any(line.startswith(f"{place}: {message}") for line in told), told


ALLOWED = [
    # shop, scenario, settings, field, value
    (LOCKED, "[limits]\nlugs_per_stud = 4", (), "lugs_per_stud", 4),
    (HELD, '[limits]\ndrop_other = "4 %"', (), "drop_other_permille", 40),
    (HELD, '[limits]\ncut_step = "1 mm"', (), "cut_step_dmm", 10),
    (HELD, '[limits]\ndrop_other = "3 %"', ("drop_other=5 %",), "drop_other_permille", 50),
    (RANGED, "[limits]\nlugs_per_stud = 5", (), "lugs_per_stud", 5),
    (RANGED, "", ("drop_other=3 %",), "drop_other_permille", 30),
    ("", "[limits]\nlugs_per_stud = 20", (), "lugs_per_stud", 20),
    ('[shop]\nopen = ["lugs_per_stud"]', "[limits]\nlugs_per_stud = 20", (), "lugs_per_stud", 20),
    (
        '[shop]\ntighten_only = ["drop_other"]',
        "[limits]\nlugs_per_stud = 9",
        (),
        "lugs_per_stud",
        9,
    ),
]


@pytest.mark.parametrize(("shop", "scenario", "settings", "field", "value"), ALLOWED)
def test_allowed(
    shop: str, scenario: str, settings: tuple[str, ...], field: str, value: int
) -> None:
    """What the shop leaves open may be loosened; what it holds may be tightened, down to the
    shop's own value and no further from it."""
    assert getattr(layered(shop or (), scenario, settings), field) == value


def test_the_rest_stays_in_force() -> None:
    """Where the shop refuses one setting, the limits without it are at hand, to be printed."""
    with pytest.raises(LoosenedTooFar) as bad:
        layered(LOCKED, '[limits]\nlugs_per_stud = 5\nslack = "2 %"')
    assert bad.value.limits.lugs_per_stud == 4
    assert bad.value.limits.slack_permille == 20


def test_another_fault_beside_a_refusal_is_told_with_it() -> None:
    """All that is to be mended is told at once."""
    fields = [one.field for one in refusals(LOCKED, "[limits]\nlugs_per_stud = 5\nslak = 1")]
    assert sorted(fields) == ["limits, lugs_per_stud", "limits, slak"]


ASKED = [
    # shop, limit, value, whether a scenario may set it
    (LOCKED, "lugs_per_stud", 4, True),
    (LOCKED, "lugs_per_stud", 3, False),
    (LOCKED, "wires_per_barrel", 9, True),
    (HELD, "drop_other", 50, True),
    (HELD, "drop_other", 51, False),
    (HELD, "cut_step", 1, True),
    (RANGED, "lugs_per_stud", 5, True),
    (RANGED, "lugs_per_stud", 6, False),
]


@pytest.mark.parametrize(("shop", "name", "value", "may"), ASKED)
def test_what_a_scenario_may_set(shop: str, name: str, value: Value, may: bool) -> None:
    """The question other rooms ask before they suggest a change."""
    assert layered(shop).allows(name, value) is may


def test_who_holds_a_limit() -> None:
    """Where the shop says so; nothing where it leaves a limit open, or where there is no shop."""
    assert str(layered(LOCKED).held_by("lugs_per_stud")) == "limits file, shop.toml:3"
    assert str(layered(HELD).held_by("fold_back")) == "limits file, shop.toml:4"
    assert str(layered(RANGED).held_by("lugs_per_stud")) == "limits file, shop.toml:2"
    assert layered(HELD).held_by("cut_step") is None
    assert layered().held_by("lugs_per_stud") is None
