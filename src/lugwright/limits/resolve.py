"""One set of limits out of four layers, each value with where it came from.

From the weakest to the strongest: built-in rule set, limits file of the shop, the scenario's
own table, the command line. A later layer replaces single values; each keeps what it took the
place of. What the shop's file closes (``shop``) stays closed for the layers over it, however
they try: by a value, by a rule set, by a waiver.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Any

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.origin import Origin
from lugwright.base.toml import TomlFile
from lugwright.limits.built_in import RULE_SETS
from lugwright.limits.read import COMMAND_LINE, Layer, Setting, origin_in, read_settings, read_table
from lugwright.limits.refused import LoosenedTooFar
from lugwright.limits.schema import Limits
from lugwright.limits.shop_layers import Shop, shop_of, unknown_rule_set
from lugwright.limits.spec import SizeValue
from lugwright.limits.waivable import MINIMUM_AREA, Waiver
from lugwright.limits.waivers import read_waivers

SCENARIO = "scenario"
SCENARIO_TABLE = "limits"

ScenarioLimits = tuple[dict[str, Any], TomlFile]


def resolve_limits(
    rule_set: str,
    limits_file: TomlFile | None,
    scenario_limits: ScenarioLimits | None,
    settings: tuple[str, ...],
    stands_on: tuple[TomlFile, ...] = (),
) -> Limits:
    """The limits in force, each with its Origin.

    ``rule_set`` names a built-in rule set; "" leaves it to the limits file, and without one to
    ``usual``. ``stands_on`` are the files the limits file extends, the lowest first.
    ``scenario_limits`` is the scenario's ``[limits]`` table with the file it stands in; its
    waivers are read from there too. ``settings`` are ``NAME=VALUE`` from the command line.
    ``Limits.origins`` is keyed by a limit's plain name and by its field name.

    Raises BadInput with every fault of every layer; LoosenedTooFar, with the limits in force
    without it, where all that is wrong is that something asks for more than the shop allows.
    """
    shop = shop_of((*stands_on, limits_file) if limits_file else ())
    complaints: list[Complaint] = []
    chosen, origin, refused = _rule_set(rule_set, shop, scenario_limits, complaints)
    complaints += shop.complaints
    in_force = shop.standing_on(chosen)
    for layer in _layers(scenario_limits, settings):
        complaints += layer.complaints
        found = (shop.take(setting, in_force) for setting in layer.settings.values())
        refused += [complaint for complaint in found if complaint]
    complaints += _between_limits(in_force)
    waivers: tuple[Waiver, ...] = ()
    if scenario_limits:
        read = read_waivers(scenario_limits[1], shop, in_force)
        complaints += read.complaints
        refused += read.refused
        waivers = tuple(sorted(read.waivers, key=lambda one: (one.limit, one.place)))
    if complaints:
        raise BadInput(*complaints, *refused)
    limits = _assemble(chosen, origin, in_force, shop, waivers)
    if refused:
        raise LoosenedTooFar(limits, *refused)
    return limits


def _layers(scenario_limits: ScenarioLimits | None, settings: tuple[str, ...]) -> Iterable[Layer]:
    """What stands below the shop."""
    if scenario_limits is not None:
        table, toml = scenario_limits
        yield read_table(table, toml, SCENARIO, (SCENARIO_TABLE,))
    yield read_settings(settings)


def _rule_set(
    rule_set: str,
    shop: Shop,
    scenario_limits: ScenarioLimits | None,
    complaints: list[Complaint],
) -> tuple[str, Origin, list[Complaint]]:
    """The rule set to start from, where it was named, and why the shop refuses one."""
    if not rule_set:
        return shop.rule_set, shop.rule_set_origin, []
    at, origin = Complaint(COMMAND_LINE, 0, 0, "rule_set", ""), Origin(COMMAND_LINE)
    if scenario_limits and scenario_limits[1].values.get("rule_set") == rule_set:
        toml = scenario_limits[1]
        at = toml.complaint(("rule_set",), "rule_set", "")
        origin = origin_in(toml, SCENARIO, ("rule_set",))
    if rule_set not in RULE_SETS:
        complaints.append(unknown_rule_set(rule_set, at))
        return shop.rule_set, shop.rule_set_origin, []
    refused = shop.rule_set_refusals(rule_set, at)
    if refused:
        return shop.rule_set, shop.rule_set_origin, refused
    return rule_set, origin, []


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


def _assemble(
    rule_set: str,
    origin: Origin,
    in_force: Mapping[str, Setting],
    shop: Shop,
    waivers: tuple[Waiver, ...],
) -> Limits:
    fields: dict[str, Any] = {"rule_set": rule_set}
    origins: dict[str, Origin] = {"rule_set": origin}
    for name, setting in in_force.items():
        spec, value = setting.spec, setting.value
        origins[name] = setting.origin
        origins.setdefault(spec.field, setting.origin)
        if isinstance(value, SizeValue):
            fields["minimum_size"], fields[MINIMUM_AREA] = value.text, value.area_um2
            origins[MINIMUM_AREA] = setting.origin
        elif spec.keys:
            _put(fields.setdefault(spec.field, {}), spec.keys, value)
        else:
            fields[spec.field] = value
    frozen: dict[str, Any] = {name: _frozen(value) for name, value in fields.items()}
    return Limits(
        **frozen,
        origins=MappingProxyType(origins),
        locks=MappingProxyType(dict(shop.locks)),
        waivers=waivers,
    )


def _put(table: dict[str, Any], keys: tuple[str, ...], value: object) -> None:
    for key in keys[:-1]:
        table = table.setdefault(key, {})
    table[keys[-1]] = value


def _frozen(value: object) -> object:
    if isinstance(value, dict):
        return MappingProxyType({key: _frozen(inner) for key, inner in value.items()})
    return value
