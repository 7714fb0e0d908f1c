"""The shop's limits files laid over each other: what they set, and how they hold it.

A file that extends another stands below it: it may tighten, and loosen only what the other one
leaves open; whatever one of them closes stays closed for all that comes after.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from lugwright.base.errors import Complaint
from lugwright.base.origin import Origin
from lugwright.base.spelling import did_you_mean
from lugwright.base.toml import TomlFile
from lugwright.limits.built_in import BUILT_IN, DEFAULT_RULE_SET, RULE_SETS, rule_set_settings
from lugwright.limits.locks import Lock, Span
from lugwright.limits.read import Layer, Setting, origin_in, read_table
from lugwright.limits.shop import LIMITS_FILE, ShopRules, read_rules
from lugwright.limits.spec import LimitSpec
from lugwright.limits.spec_rows import SPECS
from lugwright.limits.values import value_text
from lugwright.limits.waivable import WAIVABLE

ASK = "ask the shop"


@dataclass
class Shop:
    """The limits at the end of the shop's files.

    ``fixed`` is where the shop says that no other rule set may be chosen. ``waivable`` are the
    limits it lets a scenario waive, ``waivers_origin`` where it says so. ``complaints`` are the
    faults of its files.
    """

    rule_set: str = DEFAULT_RULE_SET
    rule_set_origin: Origin = field(default_factory=lambda: Origin(BUILT_IN))
    fixed: Origin | None = None
    layers: list[Layer] = field(default_factory=list)
    in_force: dict[str, Setting] = field(default_factory=dict)
    locks: dict[str, Lock] = field(default_factory=dict)
    waivable: frozenset[str] = frozenset(WAIVABLE)
    waivers_origin: Origin | None = None
    complaints: list[Complaint] = field(default_factory=list)

    @property
    def closes(self) -> bool:
        """Whether the shop forbids anything at all."""
        return bool(self.locks or self.fixed or self.waivable != frozenset(WAIVABLE))

    def standing_on(self, rule_set: str) -> dict[str, Setting]:
        """The shop's own limits over another rule set."""
        in_force = dict(rule_set_settings(rule_set))
        for layer in self.layers:
            lay_over(in_force, layer.settings)
        return in_force

    def take(self, setting: Setting, in_force: dict[str, Setting]) -> Complaint | None:
        """Lay one setting over what is in force; the complaint where the shop refuses it."""
        lock = self.locks.get(setting.spec.name)
        refusal = lock.refusal(setting.value) if lock else ""
        if refusal:
            return setting.complaint(refusal, self._advice(setting.spec.name))
        lay_over(in_force, {setting.spec.name: setting})
        return None

    def rule_set_refusals(self, rule_set: str, at: Complaint) -> list[Complaint]:
        """Why what stands below may not choose a rule set; none where it may."""
        if rule_set == self.rule_set:
            return []
        if self.fixed:
            message = f'the shop plans by "{self.rule_set}" ({self.fixed})'
            return [replace(at, message=message, hint="leave the rule set to the shop")]
        found = []
        for name, setting in self.standing_on(rule_set).items():
            lock = self.locks.get(name)
            refusal = lock.refusal(setting.value) if lock else ""
            if refusal:
                value = value_text(setting.spec, setting.value)
                message = f'"{rule_set}" would set {name} to {value}: {refusal}'
                found.append(replace(at, message=message, hint=ASK))
        return found

    def _advice(self, name: str) -> str:
        lock = self.locks[name]
        if name in self.waivable and not lock.locked:
            return "a waiver may loosen it at one place"
        return ASK


def lay_over(in_force: dict[str, Setting], settings: Mapping[str, Setting]) -> None:
    """Lay settings over those in force; each remembers what it takes the place of."""
    for name, setting in settings.items():
        in_force[name] = setting.over(in_force.get(name))


def shop_of(files: tuple[TomlFile, ...]) -> Shop:
    """The shop's files, the one all others stand on first, made into one."""
    shop = Shop(in_force=dict(rule_set_settings(DEFAULT_RULE_SET)))
    for toml in files:
        _add(shop, toml)
    return shop


def _add(shop: Shop, toml: TomlFile) -> None:
    rules = read_rules(toml)
    shop.complaints += rules.complaints
    _choose_rule_set(shop, toml, rules)
    layer = read_table(toml.values, toml, LIMITS_FILE)
    shop.complaints += layer.complaints
    taken: dict[str, Setting] = {}
    for name, setting in layer.settings.items():
        refused = shop.take(setting, shop.in_force)
        if refused:
            shop.complaints.append(refused)
        else:
            taken[name] = setting
    shop.layers.append(Layer(taken, ()))
    for spec in SPECS:
        _close(shop, toml, rules, spec)
    _waivers(shop, toml, rules)


def _choose_rule_set(shop: Shop, toml: TomlFile, rules: ShopRules) -> None:
    """The rule set a file stands on, by its top key or by what its shop lays down."""
    named = toml.values.get("rule_set")
    path = ("rule_set",) if named is not None else ("shop", "rule_set")
    if named is None:
        named = rules.rule_set or None
    elif rules.rule_set and rules.rule_set != named:
        message = f'the file stands on "{named}", and its [shop] lays down "{rules.rule_set}"'
        shop.complaints.append(toml.complaint(path, "rule_set", message, "name one of them"))
    if named is None:
        return
    if named not in RULE_SETS:
        shop.complaints.append(unknown_rule_set(named, toml.complaint(path, "rule_set", "")))
        return
    chosen = str(named)
    refused = shop.rule_set_refusals(chosen, toml.complaint(path, "rule_set", ""))
    shop.complaints += refused
    if not refused:
        shop.in_force = shop.standing_on(chosen)
        shop.rule_set, shop.rule_set_origin = chosen, origin_in(toml, LIMITS_FILE, path)
    shop.fixed = shop.fixed or rules.rule_set_origin


def unknown_rule_set(named: object, at: Complaint) -> Complaint:
    """The complaint about a rule set nobody knows."""
    allowed = f"built-in: {', '.join(RULE_SETS)}"
    close = did_you_mean(str(named), RULE_SETS)
    hint = f"{close} {allowed}" if close else allowed
    return replace(at, message=f'"{named}" is not a built-in rule set', hint=hint)


def _close(shop: Shop, toml: TomlFile, rules: ShopRules, spec: LimitSpec) -> None:
    """Close one limit as far as this file or one below it says so."""
    name, setting = spec.name, shop.in_force[spec.name]
    earlier = shop.locks.get(name)
    opened = rules.open.get(name)
    if earlier and opened and (earlier.locked or earlier.tighten_only):
        message = f"{name} is closed by {earlier.origin}"
        shop.complaints.append(toml.complaint(("shop", "open"), "shop, open", message, ASK))
    lock = Lock(
        spec,
        setting.value,
        setting.origin,
        (earlier.locked if earlier else None) or rules.locked.get(name),
        (earlier.tighten_only if earlier else None) or rules.tightener(name),
        _span(shop, toml, rules, setting),
    )
    if lock.locked or lock.tighten_only or lock.span:
        shop.locks[name] = lock


def _span(shop: Shop, toml: TomlFile, rules: ShopRules, setting: Setting) -> Span | None:
    """The range a limit is kept in: never wider than that of a file this one extends."""
    name = setting.spec.name
    earlier = shop.locks[name].span if name in shop.locks else None
    span = rules.spans.get(name)
    if span is None:
        return earlier
    path = ("shop", "range", *name.split("."))
    words = ", ".join(path)
    if earlier and not (earlier.holds(span.least) and earlier.holds(span.most)):
        message = f"wider than the range it stands on, {earlier.text(setting.spec)}"
        shop.complaints.append(toml.complaint(path, words, f"{message} ({earlier.origin})", ASK))
        return earlier
    if not span.holds(setting.value):
        message = f"the shop's own value, {setting.text} ({setting.origin}), lies outside it"
        shop.complaints.append(toml.complaint(path, words, message, "widen it, or set the limit"))
    return span


def _waivers(shop: Shop, toml: TomlFile, rules: ShopRules) -> None:
    """Which limits may still be waived: an extending file may only narrow that."""
    if rules.waivers is None:
        return
    wider = sorted(rules.waivers - shop.waivable)
    if wider:
        message = f"{', '.join(wider)} may not be waived, by {shop.waivers_origin}"
        shop.complaints.append(toml.complaint(("shop", "waivers"), "shop, waivers", message, ASK))
    shop.waivable &= rules.waivers
    shop.waivers_origin = rules.waivers_origin
