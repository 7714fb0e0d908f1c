"""Four layers of limits made into one, each value with where it came from."""

from __future__ import annotations

import pytest

from lugwright.base.errors import BadInput
from lugwright.base.toml import TomlFile, parse_toml
from lugwright.limits.defaults import built_in
from lugwright.limits.resolve import ScenarioLimits, resolve_limits
from lugwright.limits.schema import Limits


def shop(text: str) -> TomlFile:
    """A limits file of that text."""
    return parse_toml(text.encode(), "shop.toml")


def scenario(text: str) -> ScenarioLimits:
    """The ``[limits]`` table of a scenario of that text."""
    toml = parse_toml(text.encode(), "skiff.toml")
    return toml.values.get("limits", {}), toml


FILE = '[lengths]\nslack = "4 %"\n'
TABLE = 'title = "skiff"\n[limits]\nslack = "3 %"\n'

LAYERS = [
    # file, scenario, settings, thousandths, origin, replaced
    (None, None, (), 50, "built-in rule set, usual.toml:8", ""),
    (FILE, None, (), 40, "limits file, shop.toml:2", "5 % (built-in rule set, usual.toml:8)"),
    (None, TABLE, (), 30, "scenario, skiff.toml:3", "5 % (built-in rule set, usual.toml:8)"),
    (None, None, ("slack=2 %",), 20, "command line", "5 % (built-in rule set, usual.toml:8)"),
    (
        FILE,
        TABLE,
        (),
        30,
        "scenario, skiff.toml:3",
        "4 % (limits file, shop.toml:2), 5 % (built-in rule set, usual.toml:8)",
    ),
    (
        FILE,
        TABLE,
        ("slack = 2 %",),
        20,
        "command line",
        "3 % (scenario, skiff.toml:3), 4 % (limits file, shop.toml:2), "
        "5 % (built-in rule set, usual.toml:8)",
    ),
]


@pytest.mark.parametrize(("file", "table", "settings", "value", "origin", "replaced"), LAYERS)
def test_the_later_layer_wins_and_remembers(
    file: str | None,
    table: str | None,
    settings: tuple[str, ...],
    value: int,
    origin: str,
    replaced: str,
) -> None:
    """Built-in < limits file < scenario < command line, and each keeps what it replaced."""
    limits = resolve_limits(
        "", shop(file) if file else None, scenario(table) if table else None, settings
    )
    assert limits.slack_permille == value
    assert limits.origin("slack") == origin
    assert limits.origins["slack"].replaced == replaced


def test_an_origin_is_found_by_limit_name_and_by_field_name() -> None:
    """Whoever holds a field of Limits finds its origin without knowing the file's name for it."""
    limits = resolve_limits("", shop(FILE), None, ())
    assert limits.origin("slack_permille") == limits.origin("slack")
    assert limits.origin("minimum_area_um2") == limits.origin("minimum_size")


@pytest.mark.parametrize(
    "text",
    [
        "[studs]\nlugs_per_stud = 5",
        "lugs_per_stud = 5",
        "studs.lugs_per_stud = 5",
        'lugs_per_stud = { value = 5, source = "shop rule" }',
    ],
)
def test_the_ways_to_write_one_limit_mean_the_same(text: str) -> None:
    """Under its group, plainly, dotted, or with a source: one limit."""
    assert resolve_limits("", shop(text), None, ()).lugs_per_stud == 5


def test_a_limits_file_may_give_its_own_source() -> None:
    """The shop's source stands beside its value; without one that is said."""
    text = 'slack = { value = "4 %", source = "shop rule 12" }\ncut_step = "1 mm"'
    limits = resolve_limits("", shop(text), None, ())
    assert limits.origins["slack"].source == "shop rule 12"
    assert limits.origins["cut_step"].source == "no source given"


@pytest.mark.parametrize("setting", ["objective = 'shortest'", "[objective]\nobjective='shortest'"])
def test_objective_is_a_limit_and_a_group(setting: str) -> None:
    """The one word that names both is read as what stands there."""
    assert resolve_limits("", shop(setting), None, ()).objective == "shortest"


def test_parts_of_a_limit_are_set_one_by_one() -> None:
    """A part that is not named keeps its value."""
    text = '[money.minutes_landing."captive spade"]\naboard = "1.5 min"'
    limits = resolve_limits("", shop(text), None, ("minutes_fitting.closed end=2 min",))
    assert limits.minutes_landing_cmin["captive spade"] == {"bench": 80, "aboard": 150}
    assert limits.minutes_fitting_cmin["closed end"] == 200
    assert limits.minutes_fitting_cmin["butt"] == 120


RULE_SETS = [
    # rule set, file, scenario, lugs per stud, origin of the rule set
    ("", None, None, 4, "built-in rule set"),
    ("strict", None, None, 3, "command line"),
    ("", 'rule_set = "strict"', None, 3, "limits file, shop.toml:1"),
    ("usual", 'rule_set = "strict"', None, 4, "command line"),
    ("strict", None, 'title = "a"\nrule_set = "strict"', 3, "scenario, skiff.toml:2"),
]


@pytest.mark.parametrize(("rule_set", "file", "table", "lugs", "origin"), RULE_SETS)
def test_the_practice_to_start_from(
    rule_set: str, file: str | None, table: str | None, lugs: int, origin: str
) -> None:
    """The call's rule set outweighs the limits file's; without any it is the usual one."""
    limits = resolve_limits(
        rule_set, shop(file) if file else None, scenario(table) if table else None, ()
    )
    assert limits.lugs_per_stud == lugs
    assert limits.origin("rule_set") == origin


def test_the_same_layers_give_equal_limits() -> None:
    """Two readings of the same input are equal in every value and origin."""
    first: Limits = resolve_limits("", shop(FILE), scenario(TABLE), ("cut_step=1 mm",))
    again = resolve_limits("", shop(FILE), scenario(TABLE), ("cut_step=1 mm",))
    assert first == again
    assert first != built_in()


def test_weights_of_nothing_are_refused() -> None:
    """Every weight 0 under the objective that uses them is refused where it was asked for."""
    settings = tuple(f"weights.{name}=0" for name in ("length", "stacked", "fittings"))
    with pytest.raises(BadInput, match=r"shop\.toml:1:1: objective: every weight is 0"):
        resolve_limits("", shop("objective = 'weights'"), None, settings)


@pytest.mark.parametrize("source", ["", "  ", "\u202ehandbook"])
def test_a_source_that_cannot_stand_on_paper_is_refused(source: str) -> None:
    """A value's source is printed beside it: it says something, in letters that are printed."""
    text = f'[lengths]\nslack = {{ value = "6 %", source = "{source}" }}\n'
    with pytest.raises(BadInput, match="source"):
        resolve_limits("usual", parse_toml(text.encode(), "shop.toml"), None, ())
