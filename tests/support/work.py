"""Work that other processes do for tests: they import it from here."""

from __future__ import annotations

import os
from pathlib import Path


def double(number: int) -> int:
    """Work."""
    return 2 * number


def die_at_three(number: int) -> int:
    """Work that ends its process at one job."""
    if number == 3:
        os._exit(9)
    return 2 * number


def die_once(job: tuple[int, str]) -> int:
    """Work that ends its process the first time it meets job 5."""
    number, mark = job
    if number == 5 and not Path(mark).exists():
        Path(mark).write_text("was here", encoding="utf-8")
        os._exit(9)
    return 2 * number
