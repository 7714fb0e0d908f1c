"""What a result is made from, as one digest: the same key, the same result."""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from importlib.metadata import version
from typing import Any

from lugwright.assemble.stated import limits_used
from lugwright.base.canonical import digest_of, plain
from lugwright.base.version import __version__
from lugwright.catalogue.schema import FORMAT
from lugwright.limits.schema import Limits
from lugwright.scenario.brief import Brief
from lugwright.stock.schema import Stock


@cache
def solved_with() -> str:
    """The solver behind the search, with its version."""
    return f"ortools {version('ortools')}"


def limit_values(limits: Limits) -> dict[str, Any]:
    """The value of every limit by its field, waivers too, without where it came from."""
    values = {
        field.name: plain(getattr(limits, field.name))
        for field in fields(limits)
        if field.name not in ("origins", "locks", "waivers")
    }
    values["waivers"] = [[one.field, one.place, one.number] for one in limits.waivers]
    return values


def stock_rows(stock: Stock) -> dict[str, Any]:
    """The rows of the stock, without the files they were read from."""
    rows: dict[str, Any] = plain(stock)
    return {name: rows[name] for name in ("spools", "fittings", "hardware", "fuses")}


def key_of(brief: Brief, seconds: float | None) -> str:
    """The key of one model's result: console, limits, stock, holds, versions, search settings."""
    return digest_of(
        {
            "format": FORMAT,
            "program": __version__,
            "solver": solved_with(),
            "console": brief.console,
            "limits": limit_values(brief.limits),
            "waivers": [[str(x), x.reason, x.origin.on_paper] for x in brief.limits.waivers],
            "stock": brief.stock,
            "rows": [row.model_dump() for row in limits_used(brief.limits)],
            "files": brief.digests,
            "holds": brief.holds,
            "seconds": None if seconds is None else str(seconds),
        }
    )
