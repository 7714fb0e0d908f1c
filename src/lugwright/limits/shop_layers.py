"""The shop's limits files laid over each other: what they set, and how they hold it.

A file that extends another stands below it: it may tighten, and loosen only what the other one
leaves open; whatever one of them closes stays closed for all that comes after.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from lugwright.base.errors import Complaint
from lugwright.base.origin import Origin
from lugwright.base.toml import TomlFile
from lugwright.limits.built_in import BUILT_IN, DEFAULT_PRACTICE, PRACTICES, practice_settings
from lugwright.limits.locks import Lock, Span
from lugwright.limits.read import Layer, Setting, origin_in, read_table
from lugwright.limits.shop import LIMITS_FILE, ShopRules, read_rules
from lugwright.limits.spec import LimitSpec
from lugwright.limits.spec_rows import SPECS
from lugwright.limits.values import nearest, value_text
from lugwright.limits.waivable import WAIVABLE

ASK = "ask the shop"


@dataclass
class Shop:
    """The limits at the end of the shop's files.

    ``fixed`` is where the shop says that no other rule set may be chosen. ``waivable`` are the
    limits it lets a scenario waive, ``waivers_origin`` where it says so. ``complaints`` are the
    faults of its files.
    """

    practice: str = DEFAULT_PRACTICE
    practice_origin: Origin = field(default_factory=lambda: Origin(BUILT_IN))
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

    def standing_on(self, practice: str) -> dict[str, Setting]:
        """The shop's own limits over another rule set."""
        in_force = dict(practice_settings(practice))
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

    def practice_refusals(self, practice: str, at: Complaint) -> list[Complaint]:
        """Why what stands below may not choose a rule set; none where it may."""
        if practice == self.practice:
            return []
        if self.fixed:
            message = f'the shop plans by "{self.practice}" ({self.fixed})'
            return [replace(at, message=message, hint="leave the rule set to the shop")]
        found = []
        for name, setting in self.standing_on(practice).items():
            lock = self.locks.get(name)
            refusal = lock.refusal(setting.value) if lock else ""
            if refusal:
                value = value_text(setting.spec, setting.value)
                message = f'"{practice}" would set {name} to {value}: {refusal}'
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
    shop = Shop(in_force=dict(practice_settings(DEFAULT_PRACTICE)))
    for toml in files:
        _add(shop, toml)
    return shop


def _add(shop: Shop, toml: TomlFile) -> None:
    rules = read_rules(toml)
    shop.complaints += rules.complaints
    _choose_practice(shop, toml, rules)
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


def _choose_practice(shop: Shop, toml: TomlFile, rules: ShopRules) -> None:
    """The rule set a file stands on, by its top key or by what its shop lays down."""
    named = toml.values.get("practice")
    path = ("practice",) if named is not None else ("shop", "practice")
    if named is None:
        named = rules.practice or None
    elif rules.practice and rules.practice != named:
        message = f'the file stands on "{named}", and its [shop] lays down "{rules.practice}"'
        shop.complaints.append(toml.complaint(path, "practice", message, "name one of them"))
    if named is None:
        return
    if named not in PRACTICES:
        shop.complaints.append(unknown_practice(named, toml.complaint(path, "practice", "")))
        return
    chosen = str(named)
    refused = shop.practice_refusals(chosen, toml.complaint(path, "practice", ""))
    shop.complaints += refused
    if not refused:
        shop.in_force = shop.standing_on(chosen)
        shop.practice, shop.practice_origin = chosen, origin_in(toml, LIMITS_FILE, path)
    shop.fixed = shop.fixed or rules.practice_origin


def unknown_practice(named: object, at: Complaint) -> Complaint:
    """The complaint about a rule set nobody knows."""
    allowed = f"built-in: {', '.join(PRACTICES)}"
    close = nearest(str(named), PRACTICES)
    hint = f"{close} {allowed}" if close else allowed
    return replace(at, message=f'"{named}" is not a built-in practice', hint=hint)


def _close(shop: Shop, toml: TomlFile, rules: ShopRules, spec: LimitSpec) -> None:
    """Close one limit as far as this file or one below it says so."""
    name, setting = spec.name, shop.in_force[spec.name]
    earlier = shop.locks.get(name)
    opened = rules.open.get(name)
    if earlier and opened and (earlier.locked or earlier.held):
        message = f"{name} is closed by {earlier.origin}"
        shop.complaints.append(toml.complaint(("shop", "open"), "shop, open", message, ASK))
    lock = Lock(
        spec,
        setting.value,
        setting.origin,
        (earlier.locked if earlier else None) or rules.lock.get(name),
        (earlier.held if earlier else None) or rules.holder(name),
        _span(shop, toml, rules, setting),
    )
    if lock.locked or lock.held or lock.span:
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
