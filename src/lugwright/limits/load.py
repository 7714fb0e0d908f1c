"""From what a person named (scenario, limits file, practice, settings) to limits in force."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lugwright.base.errors import BadInput
from lugwright.base.toml import TomlFile, read_toml
from lugwright.limits.built_in import PRACTICES
from lugwright.limits.resolve import SCENARIO_TABLE, resolve_limits
from lugwright.limits.schema import Limits


def load_limits(
    scenario: TomlFile | None = None,
    limits_file: Path | None = None,
    practice: str | None = None,
    settings: tuple[str, ...] = (),
) -> tuple[Limits, TomlFile | None]:
    """The limits in force, and the limits file that was read (None without one).

    What the call names outweighs what the scenario names: ``limits_file`` a shop's file given
    as the scenario's ``practice``, ``practice`` a built-in rule set named there.
    Raises BadInput with every fault found.
    """
    named = str(scenario.values.get("practice", "")) if scenario else ""
    beside = None if scenario is None else shop_file(named, Path(scenario.file).parent)
    path = limits_file or beside
    toml = read_toml(path) if path is not None else None
    start = practice or ("" if beside is not None else named)
    return resolve_limits(start, toml, _own_table(scenario), settings), toml


def shop_file(practice: str, folder: Path) -> Path | None:
    """The shop's limits file a scenario names as its practice, or None for a rule set's name.

    A name that ends in ``.toml`` is a file, looked for from the scenario's folder.
    """
    if practice in PRACTICES or not practice.endswith(".toml"):
        return None
    return folder / practice


def _own_table(scenario: TomlFile | None) -> tuple[dict[str, Any], TomlFile] | None:
    """The scenario's ``[limits]`` table. Raises BadInput where it is not a table."""
    if scenario is None:
        return None
    table = scenario.values.get(SCENARIO_TABLE, {})
    if not isinstance(table, dict):
        raise BadInput(
            scenario.complaint(
                (SCENARIO_TABLE,), "limits", "this is a table of limits", "write [limits]"
            )
        )
    return table, scenario
