"""Facts of instruments and of the call that a person can change, and how far."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from lugwright.base.scale import amps_text, mm_text
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console
from lugwright.scenario.holds import Hold
from lugwright.studies.easing import Easing, Places
from lugwright.studies.facts import current_steps, fact, with_posts

AMPLE = 10**6
LONGEST_THREAD_DMM = 300

HELD, ONE_MORE_HUB = "held", "hub candidates"
THREAD, RESERVED = "free thread", "reserved lugs"
POST_CURRENT, LEAST_SIZE = "current limit of a post", "circuit minimum size"


def fact_steps(brief: Brief) -> tuple[Easing, ...]:
    """Every fact that stands in anybody's way at all."""
    console = brief.console
    found = (
        _post_current(console),
        _least_size(console),
        _reserved(console),
        _candidates(console),
        _thread(console),
    )
    return (*(one for one in found if one is not None), *_holds(brief))


# -- posts -------------------------------------------------------------------------------------


def _thread(console: Console) -> Easing | None:
    studs = tuple(post.id for post in console.posts if post.kind == "stud")

    def at(brief: Brief, more_dmm: int, places: Places) -> Brief:
        return with_posts(
            brief,
            places,
            lambda post: replace(post, free_thread_dmm=post.free_thread_dmm + more_dmm),
        )

    return fact(
        THREAD,
        studs,
        tuple(range(1, LONGEST_THREAD_DMM + 1)),
        at,
        lambda brief, more_dmm, post: (
            f"{mm_text(brief.console.post(post).free_thread_dmm + more_dmm)} mm "
            f"of free thread on {post}"
        ),
        off=lambda brief: at(brief, AMPLE, frozenset(studs)),
    )


def _reserved(console: Console) -> Easing | None:
    places = tuple(post.id for post in console.posts if post.reserved)
    most = max((post.reserved for post in console.posts), default=0)

    def at(brief: Brief, fewer: int, places: Places) -> Brief:
        return with_posts(
            brief, places, lambda post: replace(post, reserved=max(0, post.reserved - fewer))
        )

    def say(brief: Brief, fewer: int, post: str) -> str:
        left = max(0, brief.console.post(post).reserved - fewer)
        return f"{left or 'no'} lug{'' if left == 1 else 's'} reserved on {post}"

    return fact(RESERVED, places, tuple(range(1, most + 1)), at, say)


def _post_current(console: Console) -> Easing | None:
    places = tuple(post.id for post in console.posts if post.carries_ma)

    def at(brief: Brief, more_ma: int, places: Places) -> Brief:
        return with_posts(
            brief,
            places,
            lambda post: replace(post, carries_ma=post.carries_ma + more_ma),
        )

    def off(brief: Brief) -> Brief:
        return with_posts(brief, frozenset(places), lambda post: replace(post, carries_ma=0))

    def say(brief: Brief, more_ma: int, post: str) -> str:
        return f"{amps_text(brief.console.post(post).carries_ma + more_ma)} A at {post}"

    return fact(POST_CURRENT, places, current_steps(), at, say, off=off)


# -- hub ---------------------------------------------------------------------------------------


def _holds(brief: Brief) -> tuple[Easing, ...]:
    """Each thing that is held, let go."""
    return tuple(_let_go(hold) for hold in brief.holds.holds)


def _let_go(hold: Hold) -> Easing:
    def free(brief: Brief) -> Brief:
        return replace(brief, holds=brief.holds.without(hold))

    return Easing(
        f"{HELD} {hold}",
        "hold",
        free,
        ("free",),
        lambda brief, _value, _places: free(brief),
        lambda _brief, _value, _place: f"{hold} not held",
    )


def _candidates(console: Console) -> Easing | None:
    places = tuple(one.name for one in console.instruments if not one.hub_candidate)

    def at(brief: Brief, _value: Any, places: Places) -> Brief:
        changed = tuple(
            replace(one, hub_candidate=True) if one.name in places else one
            for one in brief.console.instruments
        )
        return replace(brief, console=replace(brief.console, instruments=changed))

    return fact(ONE_MORE_HUB, places, (True,), at, lambda _brief, _value, name: f"{name} as hub")


def _least_size(console: Console) -> Easing | None:
    """A circuit's own smallest size, taken away."""
    places = tuple(c.name for c in console.circuits if c.minimum_area_um2)

    def at(brief: Brief, _value: Any, places: Places) -> Brief:
        circuits = tuple(
            replace(circuit, minimum_area_um2=0) if circuit.name in places else circuit
            for circuit in brief.console.circuits
        )
        return replace(brief, console=replace(brief.console, circuits=circuits))

    return fact(
        LEAST_SIZE,
        places,
        (0,),
        at,
        lambda _brief, _value, circuit: f"no smallest size of its own for {circuit}",
    )
