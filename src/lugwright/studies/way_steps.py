"""Facts of devices that a person can change: what their ways carry, their contacts, their fuses.

A device itself is never taken away or passed round: no step joins its two sides, closes a way for
good or leaves a fuse out. Where jumpers may leave a far post (``way_take_off``) is no step either:
it moves where lamps are taken off and which instruments may be the hub, so it loosens nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

from lugwright.base.scale import amps_text
from lugwright.base.units import decimal_text
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, Strap, Way
from lugwright.studies.easing import Easing, Places
from lugwright.studies.facts import current_steps, fact
from lugwright.trade.names import strap_name

WAY_CURRENT, NEAR_CURRENT = "current limit of a way", "current limit of near posts"
CONTACT = "contact of a way"
STRAP_CURRENT, STRAP_CONTACT = "current limit of a strap", "contact of a strap"
PERCENT_STEP, LEAST_PERCENT = 5, 5  # no contact has no resistance at all


def way_steps(brief: Brief) -> tuple[Easing, ...]:
    """Every fact of a device that stands in anybody's way at all."""
    console = brief.console
    found = (
        *(_carried(console), _carried_in(console), _contact(console)),
        *(_strap_carried(console), _strap_contact(console)),
    )
    return tuple(one for one in found if one is not None)


def supplying(console: Console, wanted: Callable[[Way], bool]) -> tuple[str, ...]:
    """The far posts of ways that supply a circuit and are as wanted."""
    supplies = {circuit.supplied_by for circuit in console.circuits if circuit.supplied_by}
    return tuple(way.far for way in console.ways if way.far in supplies and wanted(way))


def with_ways(brief: Brief, places: Places, change: Callable[[Way], Way]) -> Brief:
    """The question with some ways changed, named by their far posts."""
    ways = tuple(change(way) if way.far in places else way for way in brief.console.ways)
    return replace(brief, console=replace(brief.console, ways=ways))


def largest_fuse_ma(console: Console, far: str) -> int | None:
    """The largest fuse that the makers of the loads beyond a way allow; None: none says so."""
    beyond = _beyond(console, far)
    own = [
        block.maker_fuse_ma
        for block in console.boat_blocks
        if block.maker_fuse_ma and block.drawn_from in beyond
    ]
    return min(own, default=None)


def _beyond(console: Console, far: str) -> frozenset[str]:
    """All posts that hang on a far post, those beyond further ways too."""
    circuit = next((c for c in console.circuits if c.supplied_by == far), None)
    if circuit is None:
        return frozenset()
    posts: set[str] = set(circuit.posts)
    for taker in console.circuits:
        if taker.taken_from == circuit.name:
            posts |= set(taker.posts)
    for way in console.ways:
        if way.near in circuit.posts:
            posts |= _beyond(console, way.far)
    return frozenset(posts)


def _carried(console: Console) -> Easing | None:
    """A switch, fuse holder, breaker or dimmer that carries more."""
    places = supplying(console, lambda way: way.carries_ma > 0)

    def at(brief: Brief, more_ma: int, places: Places) -> Brief:
        return with_ways(brief, places, lambda w: replace(w, carries_ma=w.carries_ma + more_ma))

    def off(brief: Brief) -> Brief:
        return with_ways(brief, frozenset(places), lambda way: replace(way, carries_ma=0))

    def say(brief: Brief, more_ma: int, place: str) -> str:
        way = brief.console.way_to(place)
        return f"a {way.kind} at {place} that carries {amps_text(way.carries_ma + more_ma)} A"

    return fact(WAY_CURRENT, places, current_steps(), at, say, off=off)


def _carried_in(console: Console) -> Easing | None:
    """A device that takes in more."""
    places = tuple(one.name for one in console.instruments if one.carries_in_ma)

    def changed(brief: Brief, places: Places, more_ma: int | None) -> Brief:
        instruments = tuple(
            replace(one, carries_in_ma=0 if more_ma is None else one.carries_in_ma + more_ma)
            if one.name in places
            else one
            for one in brief.console.instruments
        )
        return replace(brief, console=replace(brief.console, instruments=instruments))

    def say(brief: Brief, more_ma: int, place: str) -> str:
        carries_ma = brief.console.instrument(place).carries_in_ma + more_ma
        return f"a {place} whose near posts carry {amps_text(carries_ma)} A"

    return fact(
        NEAR_CURRENT,
        places,
        current_steps(),
        lambda brief, more_ma, places: changed(brief, places, more_ma),
        say,
        off=lambda brief: changed(brief, frozenset(places), None),
    )


def _contact(console: Console) -> Easing | None:
    """A better contact: some per cent of its resistance are left."""
    places = supplying(console, lambda way: way.contact_uohm > 0)

    def at(brief: Brief, percent: int, places: Places) -> Brief:
        def better(way: Way) -> Way:
            return replace(way, contact_uohm=way.contact_uohm * percent // 100)

        return with_ways(brief, places, better)

    def say(brief: Brief, percent: int, place: str) -> str:
        way = brief.console.way_to(place)
        ohms = decimal_text(Fraction(way.contact_uohm * percent // 100, 10**6))
        return f"a {way.kind} at {place} with a contact of {ohms} ohm"

    return fact(
        CONTACT,
        places,
        tuple(range(100 - PERCENT_STEP, LEAST_PERCENT - 1, -PERCENT_STEP)),
        at,
        say,
        off=lambda brief: at(brief, 0, frozenset(places)),
    )


def _with_straps(brief: Brief, places: Places, change: Callable[[Strap], Strap]) -> Brief:
    """The question with some straps changed, named as they are on a stud."""
    straps = tuple(change(x) if strap_name(x.name) in places else x for x in brief.console.straps)
    return replace(brief, console=replace(brief.console, straps=straps))


def _strap_carried(console: Console) -> Easing | None:
    """A strap that carries more."""
    places = tuple(strap_name(strap.name) for strap in console.straps if strap.carries_ma)

    def at(brief: Brief, more_ma: int, places: Places) -> Brief:
        return _with_straps(
            brief, places, lambda strap: replace(strap, carries_ma=strap.carries_ma + more_ma)
        )

    def say(brief: Brief, more_ma: int, place: str) -> str:
        strap = next(one for one in brief.console.straps if strap_name(one.name) == place)
        return f"a {place} that carries {amps_text(strap.carries_ma + more_ma)} A"

    def off(brief: Brief) -> Brief:
        return _with_straps(brief, frozenset(places), lambda strap: replace(strap, carries_ma=0))

    return fact(STRAP_CURRENT, places, current_steps(), at, say, off=off)


def _strap_contact(console: Console) -> Easing | None:
    """A strap with better contacts: some per cent of their resistance are left."""
    places = tuple(strap_name(strap.name) for strap in console.straps if strap.contact_uohm)

    def at(brief: Brief, percent: int, places: Places) -> Brief:
        def better(strap: Strap) -> Strap:
            return replace(strap, contact_uohm=strap.contact_uohm * percent // 100)

        return _with_straps(brief, places, better)

    def say(brief: Brief, percent: int, place: str) -> str:
        strap = next(one for one in brief.console.straps if strap_name(one.name) == place)
        ohms = decimal_text(Fraction(strap.contact_uohm * percent // 100, 10**6))
        return f"a {place} with contacts of {ohms} ohm"

    return fact(
        STRAP_CONTACT,
        places,
        tuple(range(100 - PERCENT_STEP, LEAST_PERCENT - 1, -PERCENT_STEP)),
        at,
        say,
        off=lambda brief: at(brief, 0, frozenset(places)),
    )


def fused_ways(console: Console) -> Iterator[tuple[str, int]]:
    """Far post and rating, mA, of every fuse or breaker that protects what it supplies."""
    for far in supplying(console, lambda way: way.is_fused):
        yield far, console.way_to(far).amperes_ma
