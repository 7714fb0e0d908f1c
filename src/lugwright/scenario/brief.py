"""What a harness is planned from, in one value that every room hands on whole."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from lugwright.limits.schema import Limits
from lugwright.scenario.console import Console
from lugwright.scenario.holds import Held
from lugwright.stock.schema import Stock


@dataclass(frozen=True)
class Brief:
    """A console under limits, from a stock: facts alone, no rule.

    ``holds`` is what the scenario holds, and a call. ``digests`` are those of the files that all
    this was read from, by what they are; empty where it was put together otherwise.
    """

    console: Console
    limits: Limits
    stock: Stock
    holds: Held = field(default_factory=Held)
    digests: Mapping[str, str] = field(default_factory=dict)
