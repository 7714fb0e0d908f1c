"""The program's version, as plans, pages and stored results state it."""

from __future__ import annotations

__version__ = "0.1.0"
