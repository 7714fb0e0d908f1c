"""Which random consoles of a test stand in the default run, and which with ``-m slow`` only."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Any

import pytest

# consoles with so many ways that trying everything takes seconds each time
MANY_WAYS = frozenset({4, 7, 17, 22, 33, 34, 45, 47, 53})


def every(step: int, numbers: Iterable[int], keep: Collection[int] = ()) -> list[Any]:
    """Every so-manieth to parametrize by, and those to ``keep``; the others are marked slow."""
    return [
        n if place % step == 0 or n in keep else pytest.param(n, marks=pytest.mark.slow)
        for place, n in enumerate(numbers)
    ]


def seeds(numbers: Iterable[int], long: Collection[int] = MANY_WAYS) -> list[Any]:
    """All of them to parametrize by; those in ``long`` are marked slow."""
    return [pytest.param(n, marks=pytest.mark.slow) if n in long else n for n in numbers]
