"""Limits out of short texts: the shop's files, a scenario, settings."""

from __future__ import annotations

import pytest

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.toml import parse_toml
from lugwright.limits.resolve import resolve_limits
from lugwright.limits.schema import Limits


def layered(
    shop: str | tuple[str, ...] = (),
    scenario: str = "",
    settings: tuple[str, ...] = (),
    rule_set: str = "",
) -> Limits:
    """The limits in force. ``shop`` is one file's text, or several, each extending the one before.

    Files are called ``shop.toml``, or ``company.toml`` and ``shop.toml``.
    """
    texts = (shop,) if isinstance(shop, str) else shop
    names = ("company.toml", "shop.toml")[-len(texts) :] if texts else ()
    files = [parse_toml(t.encode(), n) for t, n in zip(texts, names, strict=True)]
    table = None
    if scenario:
        toml = parse_toml(scenario.encode(), "skiff.toml")
        table = (toml.values.get("limits", {}), toml)
    last = files[-1] if files else None
    return resolve_limits(rule_set, last, table, settings, tuple(files[:-1]))


def refusals(
    shop: str | tuple[str, ...] = (),
    scenario: str = "",
    settings: tuple[str, ...] = (),
    rule_set: str = "",
) -> tuple[Complaint, ...]:
    """The complaints these layers end in."""
    with pytest.raises(BadInput) as bad:
        layered(shop, scenario, settings, rule_set)
    return bad.value.complaints
