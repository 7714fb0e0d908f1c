"""What steps of facts have in common: where they are, and how one is put together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from lugwright.scenario.console import Post
from lugwright.studies.easing import Easing, Places
from lugwright.studies.question import Question

CURRENT_STEP_MA = 500
MOST_CURRENT_STEPS = 100


def with_posts(question: Question, places: Places, change: Callable[[Post], Post]) -> Question:
    """The question with some posts changed."""
    posts = tuple(change(p) if p.id in places else p for p in question.console.posts)
    return replace(question, console=replace(question.console, posts=posts))


def current_steps() -> tuple[int, ...]:
    """Steps of a current limit, mA."""
    return tuple(CURRENT_STEP_MA * n for n in range(1, MOST_CURRENT_STEPS + 1))


def fact(
    name: str,
    places: tuple[str, ...],
    values: tuple[Any, ...],
    at: Callable[[Question, Any, Places], Question],
    say: Callable[[Question, Any, str], str],
    *,
    off: Callable[[Question], Question] | None = None,
    climbs: bool = True,
    single: bool = False,
) -> Easing | None:
    """A fact's easing; None where there is no such place. Without ``off`` its last step is."""
    if not places:
        return None

    def last(question: Question) -> Question:
        return at(question, values[-1], frozenset(places))

    return Easing(name, "scenario", off or last, values, at, say, places, climbs, single)
