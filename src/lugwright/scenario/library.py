"""The instrument library: the patterns that come with the program.

Patterns are invented, with the dimensions usual in the trade. Each is a file
``patterns/NAME.toml``; its name is the pattern's name.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from pydantic import ValidationError

from lugwright.base.errors import BadInput
from lugwright.base.toml import read_toml
from lugwright.scenario.complaints import from_validation
from lugwright.scenario.pattern_schema import PatternPart

_FOLDER = Path(__file__).with_name("patterns")


@cache
def pattern_names() -> tuple[str, ...]:
    """Names of the patterns, sorted."""
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


@cache
def find_pattern(name: str) -> PatternPart | None:
    """The pattern of that name, or None when the library has none.

    Raises BadInput when the pattern's file cannot be used.
    """
    if name not in pattern_names():
        return None
    toml = read_toml(_FOLDER / f"{name}.toml")
    try:
        return PatternPart.model_validate(toml.values)
    except ValidationError as error:
        raise BadInput(*from_validation(error, toml, PatternPart)) from None
