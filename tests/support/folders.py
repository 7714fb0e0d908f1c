"""Names of files that only some plan folders hold."""

from __future__ import annotations

OF_DEVICES = frozenset({"live.csv", "ways.csv"})
"""The tables of a panel that has devices."""
