"""What steps of facts have in common: where they are, and how one is put together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Post
from lugwright.studies.easing import Easing, Places

CURRENT_STEP_MA = 500
MOST_CURRENT_STEPS = 100


def with_posts(brief: Brief, places: Places, change: Callable[[Post], Post]) -> Brief:
    """The question with some posts changed."""
    posts = tuple(change(p) if p.id in places else p for p in brief.console.posts)
    return replace(brief, console=replace(brief.console, posts=posts))


def current_steps() -> tuple[int, ...]:
    """Steps of a current limit, mA."""
    return tuple(CURRENT_STEP_MA * n for n in range(1, MOST_CURRENT_STEPS + 1))


def fact(
    name: str,
    places: tuple[str, ...],
    values: tuple[Any, ...],
    at: Callable[[Brief, Any, Places], Brief],
    say: Callable[[Brief, Any, str], str],
    *,
    off: Callable[[Brief], Brief] | None = None,
    climbs: bool = True,
    single: bool = False,
) -> Easing | None:
    """A fact's easing; None where there is no such place. Without ``off`` its last step is."""
    if not places:
        return None

    def last(brief: Brief) -> Brief:
        return at(brief, values[-1], frozenset(places))

    return Easing(name, "scenario", off or last, values, at, say, places, climbs, single)
