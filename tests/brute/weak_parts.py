"""Random consoles in which fittings, studs and tabs carry little: their current limits bind."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from random import Random

from brute.case import Case
from brute.random_consoles import random_case
from lugwright.scenario.console import Console, Post

SHARES = (15, 25, 35, 50, 70, 100)  # per cent of the largest current on the panel
WEAK_FITTING, WEAK_POST = 0.85, 0.15


@cache
def weak_case(seed: int) -> Case:
    """A random console, its current limits drawn round what its circuits carry."""
    rng, case = Random(f"weak {seed}"), random_case(seed)
    most = _largest_ma(case.console)
    fittings = tuple(
        replace(row, carries_ma=_drawn(rng, most) if rng.random() < WEAK_FITTING else 0)
        for row in case.stock.fittings
    )
    posts = tuple(_weak_post(rng, post, most) for post in case.console.posts)
    return replace(
        case,
        console=replace(case.console, posts=posts),
        stock=replace(case.stock, fittings=fittings),
    )


def strong(case: Case, *, fittings: bool = True, posts: bool = True) -> Case:
    """The case without the current limits of its fittings, of its posts, or of both."""
    rows, console = case.stock.fittings, case.console
    if fittings:
        rows = tuple(replace(row, carries_ma=0) for row in rows)
    if posts:
        free = tuple(replace(post, carries_ma=0) for post in console.posts)
        console = replace(console, posts=free)
    return replace(case, console=console, stock=replace(case.stock, fittings=rows))


def _largest_ma(console: Console) -> int:
    """The current of the busiest circuit, all loads and blocks of boat wires counted."""
    total = sum(load.current_ma for load in console.loads)
    return max(100, total + sum(boat_block.current_ma for boat_block in console.boat_blocks))


def _drawn(rng: Random, most_ma: int) -> int:
    return max(1, most_ma * rng.choice(SHARES) // 100)


def _weak_post(rng: Random, post: Post, most_ma: int) -> Post:
    weak = post.kind != "lead" and rng.random() < WEAK_POST
    return replace(post, carries_ma=_drawn(rng, most_ma) if weak else 0)
