"""Routes for tests that ask for no stock of their own: nuts are those of the packaged one."""

from __future__ import annotations

from functools import cache

from lugwright.limits.schema import Limits
from lugwright.routes import build
from lugwright.routes.schema import Routes, SplicePoint
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console
from lugwright.stock.read import read_stock
from lugwright.stock.schema import Stock


@cache
def packaged_stock() -> Stock:
    """The stock that comes with the program."""
    return read_stock(None)


def build_routes(console: Console, limits: Limits, stock: Stock | None = None) -> Routes:
    """Routes of a console."""
    return build.build_routes(Brief(console, limits, stock or packaged_stock()))


def list_splice_points(console: Console, limits: Limits) -> tuple[SplicePoint, ...]:
    """Candidate splice points of a console."""
    return build.list_splice_points(Brief(console, limits, packaged_stock()))
