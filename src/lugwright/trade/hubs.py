"""Which circuits have no hub: their pigtails land on any of their posts. Rules R7, R34."""

from __future__ import annotations

NO_HUB = ("stop", "signal")
"""Sides of circuits that land wherever is best, a lead too."""
