"""The rule sets that come with the program, read from ``practice/*.toml``.

A rule set may stand on another (``practice = "usual"`` in its file) and then holds only what
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

PRACTICES = ("usual", "strict")
DEFAULT_PRACTICE = "usual"
BUILT_IN = "built-in practice"
_FOLDER = Path(__file__).with_name("practice")


@cache
def practice_file(name: str) -> TomlFile:
    """The TOML file of a built-in practice. Raises KeyError for a name that is not one."""
    if name not in PRACTICES:
        raise KeyError(name)
    file = f"{name}.toml"
    return parse_toml((_FOLDER / file).read_bytes(), file)


@cache
def practice_settings(name: str) -> Mapping[str, Setting]:
    """Every limit of a built-in practice, by plain name.

    Raises KeyError for a name that is not a built-in practice.
    """
    toml = practice_file(name)
    below = toml.values.get("practice")
    in_force = dict(practice_settings(below)) if below else {}
    layer = read_table(toml.values, toml, BUILT_IN)
    if layer.complaints:
        raise BadInput(*layer.complaints)
    for key, setting in layer.settings.items():
        in_force[key] = setting.over(in_force.get(key))
    return MappingProxyType(in_force)
