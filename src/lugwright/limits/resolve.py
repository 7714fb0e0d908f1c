"""One set of limits out of four layers, each value with where it came from.

From the weakest to the strongest: built-in practice, limits file, the scenario's own table,
the command line. A later layer replaces single values; each keeps what it took the place of.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Any

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.origin import Origin
from lugwright.base.toml import TomlFile
from lugwright.limits.built_in import BUILT_IN, DEFAULT_PRACTICE, PRACTICES, practice_settings
from lugwright.limits.read import COMMAND_LINE, Layer, Setting, origin_in, read_settings, read_table
from lugwright.limits.schema import Limits
from lugwright.limits.spec import SizeValue
from lugwright.limits.values import nearest

LIMITS_FILE = "limits file"
SCENARIO = "scenario"
SCENARIO_TABLE = "limits"

ScenarioLimits = tuple[dict[str, Any], TomlFile]


def resolve_limits(
    practice: str,
    limits_file: TomlFile | None,
    scenario_limits: ScenarioLimits | None,
    settings: tuple[str, ...],
) -> Limits:
    """The limits in force, each with its Origin.

    ``practice`` names a built-in rule set; "" leaves it to the limits file's ``practice`` key,
    and without one to ``usual``. ``scenario_limits`` is the scenario's ``[limits]`` table with
    the file it stands in. ``settings`` are ``NAME=VALUE`` from the command line.
    ``Limits.origins`` is keyed by a limit's plain name and by its field name.

    Raises BadInput with every fault of every layer.
    """
    chosen, origin, complaints = _choose_practice(practice, limits_file, scenario_limits)
    in_force = dict(practice_settings(chosen))
    for layer in _layers(limits_file, scenario_limits, settings):
        complaints.extend(layer.complaints)
        for name, setting in layer.settings.items():
            in_force[name] = setting.over(in_force.get(name))
    complaints.extend(_between_limits(in_force))
    if complaints:
        raise BadInput(*complaints)
    return _assemble(chosen, origin, in_force)


def _layers(
    limits_file: TomlFile | None,
    scenario_limits: ScenarioLimits | None,
    settings: tuple[str, ...],
) -> Iterable[Layer]:
    if limits_file is not None:
        yield read_table(limits_file.values, limits_file, LIMITS_FILE)
    if scenario_limits is not None:
        table, toml = scenario_limits
        yield read_table(table, toml, SCENARIO, (SCENARIO_TABLE,))
    yield read_settings(settings)


def _choose_practice(
    practice: str, limits_file: TomlFile | None, scenario_limits: ScenarioLimits | None
) -> tuple[str, Origin, list[Complaint]]:
    """The practice to start from, where it was named, and what is wrong with the name."""
    named: object = practice
    toml: TomlFile | None = None
    layer = COMMAND_LINE
    if practice and scenario_limits and scenario_limits[1].values.get("practice") == practice:
        layer, toml = SCENARIO, scenario_limits[1]
    elif not practice and limits_file and "practice" in limits_file.values:
        layer, toml, named = LIMITS_FILE, limits_file, limits_file.values["practice"]
    elif not practice:
        layer, named = BUILT_IN, DEFAULT_PRACTICE
    if isinstance(named, str) and named in PRACTICES:
        return named, origin_in(toml, layer, ("practice",)) if toml else Origin(layer), []
    return DEFAULT_PRACTICE, Origin(layer), [_unknown_practice(named, toml)]


def _unknown_practice(named: object, toml: TomlFile | None) -> Complaint:
    message = f'"{named}" is not a built-in practice'
    allowed = f"built-in: {', '.join(PRACTICES)}"
    close = nearest(str(named), PRACTICES)
    hint = f"{close} {allowed}" if close else allowed
    if toml is None:
        return Complaint(COMMAND_LINE, 0, 0, "practice", message, hint)
    return toml.complaint(("practice",), "practice", message, hint)


def _between_limits(in_force: Mapping[str, Setting]) -> Iterable[Complaint]:
    """What is wrong between limits that are each allowed by themselves."""
    aim = in_force["objective"]
    weights = [setting.value for setting in in_force.values() if setting.spec.field == "weights"]
    if aim.value == "weights" and not any(weights):
        yield Complaint(
            aim.origin.file or aim.origin.layer,
            aim.origin.line,
            1 if aim.origin.line else 0,
            "objective",
            "every weight is 0, so nothing is minimised",
            "give one of weights.length, weights.stacked, weights.fittings, weights.money",
        )


def _assemble(practice: str, origin: Origin, in_force: Mapping[str, Setting]) -> Limits:
    fields: dict[str, Any] = {"practice": practice}
    origins: dict[str, Origin] = {"practice": origin}
    for name, setting in in_force.items():
        spec, value = setting.spec, setting.value
        origins[name] = setting.origin
        origins.setdefault(spec.field, setting.origin)
        if isinstance(value, SizeValue):
            fields["minimum_size"], fields["minimum_area_um2"] = value.text, value.area_um2
            origins["minimum_area_um2"] = setting.origin
        elif spec.keys:
            _put(fields.setdefault(spec.field, {}), spec.keys, value)
        else:
            fields[spec.field] = value
    frozen: dict[str, Any] = {name: _frozen(value) for name, value in fields.items()}
    return Limits(**frozen, origins=MappingProxyType(origins))


def _put(table: dict[str, Any], keys: tuple[str, ...], value: object) -> None:
    for key in keys[:-1]:
        table = table.setdefault(key, {})
    table[keys[-1]] = value


def _frozen(value: object) -> object:
    if isinstance(value, dict):
        return MappingProxyType({key: _frozen(inner) for key, inner in value.items()})
    return value
