"""From what a person named (scenario, limits file, rule set, settings) to limits in force."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from pathlib import Path
from typing import Any

from lugwright.base.errors import BadInput
from lugwright.base.toml import TomlFile, read_toml
from lugwright.limits.built_in import RULE_SETS
from lugwright.limits.resolve import SCENARIO_TABLE, resolve_limits
from lugwright.limits.schema import Limits
from lugwright.limits.shop import TABLE as SHOP_TABLE
from lugwright.limits.shop_layers import ASK, shop_of

MOST_FILES = 8
EXTENDS = (SHOP_TABLE, "extends")


def load_limits(
    scenario: TomlFile | None = None,
    limits_file: Path | None = None,
    rule_set: str | None = None,
    settings: tuple[str, ...] = (),
) -> tuple[Limits, TomlFile | None]:
    """The limits in force, and the limits file that was read (None without one).

    What the call names outweighs what the scenario names: ``limits_file`` a shop's file given
    as the scenario's ``rule_set``, ``rule_set`` a built-in rule set named there. Where the
    file of the call closes anything, a scenario may not name another one.
    The digest of a file that extends others covers them all.
    Raises BadInput with every fault found, and LoosenedTooFar as ``resolve_limits`` does.
    """
    named = str(scenario.values.get("rule_set", "")) if scenario else ""
    beside = None if scenario is None else shop_file(named, Path(scenario.file).parent)
    path = limits_file or beside
    files = read_chain(path) if path is not None else ()
    if scenario and limits_file and beside:
        _refuse_another(scenario, beside, limits_file, files)
    start = rule_set or ("" if beside is not None else named)
    toml = files[-1] if files else None
    limits = resolve_limits(start, toml, _own_table(scenario), settings, files[:-1])
    return limits, _with_digest(files)


def shop_file(rule_set: str, folder: Path) -> Path | None:
    """The shop's limits file a scenario names as its rule set, or None for a rule set's name.

    A name that ends in ``.toml`` is a file, looked for from the scenario's folder.
    """
    if rule_set in RULE_SETS or not rule_set.endswith(".toml"):
        return None
    return folder / rule_set


def read_chain(path: Path) -> tuple[TomlFile, ...]:
    """A limits file after all those it extends, the lowest first; names are looked for from the
    folder of the file that gives them.

    Raises BadInput where one is missing or cannot be read, or where they run in a ring.
    """
    files = [read_toml(path)]
    seen = [path.resolve()]
    while (name := _extended(files[0])) is not None:
        below = Path(files[0].file).parent / name
        if below.resolve() in seen:
            ring = " > ".join(one.name for one in (*seen, below))
            raise _at_extends(files[0], f"the limits files extend each other in a ring: {ring}")
        if len(files) == MOST_FILES:
            raise _at_extends(files[0], f"more than {MOST_FILES} limits files extend one another")
        if not below.is_file():
            raise _at_extends(files[0], f'there is no limits file "{name}"', _near(below))
        files.insert(0, read_toml(below))
        seen.append(below.resolve())
    return tuple(files)


def _extended(toml: TomlFile) -> str | None:
    """The file a limits file says it extends; what is no name is complained of elsewhere."""
    shop = toml.values.get(SHOP_TABLE)
    name = shop.get("extends") if isinstance(shop, dict) else None
    return name.strip() or None if isinstance(name, str) else None


def _at_extends(toml: TomlFile, message: str, hint: str = "") -> BadInput:
    return BadInput(toml.complaint(EXTENDS, "shop, extends", message, hint))


def _near(missing: Path) -> str:
    """A hint at the TOML files that stand where one is missing."""
    there = sorted(one.name for one in missing.parent.glob("*.toml"))[:6]
    return f"there: {', '.join(there)}" if there else f"looked for in {missing.parent.name or '.'}"


def _refuse_another(
    scenario: TomlFile, beside: Path, given: Path, files: tuple[TomlFile, ...]
) -> None:
    """Raises BadInput where a scenario names another limits file than a shop that closes some."""
    if not shop_of(files).closes or beside.resolve() == given.resolve():
        return
    if beside.is_file() and read_toml(beside).digest == files[-1].digest:
        return
    message = f'the shop plans by "{given.name}", and lets no scenario bring limits of its own'
    raise BadInput(scenario.complaint(("rule_set",), "rule_set", message, ASK))


def _with_digest(files: tuple[TomlFile, ...]) -> TomlFile | None:
    """The limits file, with a digest over all it stands on."""
    if len(files) < 2:
        return files[0] if files else None
    digests = "".join(toml.digest for toml in files)
    return replace(files[-1], digest=hashlib.sha256(digests.encode()).hexdigest())


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
