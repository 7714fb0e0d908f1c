"""The rule sets that come with the program, read from ``rule_sets/*.toml``.

A rule set may stand on another (``rule_set = "usual"`` in its file) and then holds only what
differs; the value it takes the place of stays visible in each origin.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from lugwright.base.errors import BadInput
from lugwright.base.toml import TomlFile, parse_toml
from lugwright.limits.read import Setting, read_table

RULE_SETS = ("usual", "strict")
DEFAULT_RULE_SET = "usual"
BUILT_IN = "built-in rule set"
_FOLDER = Path(__file__).with_name("rule_sets")


@cache
def rule_set_file(name: str) -> TomlFile:
    """The TOML file of a built-in rule set. Raises KeyError for a name that is not one."""
    if name not in RULE_SETS:
        raise KeyError(name)
    file = f"{name}.toml"
    return parse_toml((_FOLDER / file).read_bytes(), file)


@cache
def rule_set_settings(name: str) -> Mapping[str, Setting]:
    """Every limit of a built-in rule set, by plain name.

    Raises KeyError for a name that is not a built-in rule set.
    """
    toml = rule_set_file(name)
    below = toml.values.get("rule_set")
    in_force = dict(rule_set_settings(below)) if below else {}
    layer = read_table(toml.values, toml, BUILT_IN)
    if layer.complaints:
        raise BadInput(*layer.complaints)
    for key, setting in layer.settings.items():
        in_force[key] = setting.over(in_force.get(key))
    return MappingProxyType(in_force)
