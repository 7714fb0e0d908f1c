"""Faults of stop circuits: what stops an engine by going to ground, and the lanyards that do.

A stop wire never meets a feed or another circuit; it may hold over 100 V while the engine turns,
and broken, the engine does not stop. So its posts are the near ends of stop ways and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from lugwright.base.errors import Complaint
from lugwright.base.positions import LANYARD
from lugwright.scenario.device_words import says_lanyard
from lugwright.scenario.devices import FittedWay, has_bad_ends, is_device, ways_of, ways_path
from lugwright.scenario.draft import PIGTAILS, Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted
from lugwright.scenario.purposes import post_path
from lugwright.scenario.supplies import Supply

_NEVER = "a stop circuit never meets a feed or another circuit"


def stop_faults(
    draft: Draft, fitted: list[Fitted], supplies: Mapping[str, Supply]
) -> list[Complaint]:
    """Every fault of stop ways, stop circuits and lanyards."""
    complaints: list[Complaint] = []
    stopped: set[str] = set()
    for instrument in fitted:
        complaints += _lanyard_faults(draft, instrument)
        for way in ways_of(instrument):
            if way.is_stop:
                complaints += _way_faults(draft, way, supplies)
                stopped.add(instrument.posts[way.near].circuit)
        complaints += _post_faults(draft, instrument, supplies)
    is_whole = not any(map(has_bad_ends, fitted))
    if is_whole and not (draft.lost.instruments or draft.lost.unnamed_instrument):
        complaints += _never_stopped(draft, supplies, stopped)
    return complaints


def _way_faults(
    draft: Draft, way: FittedWay, supplies: Mapping[str, Supply]
) -> Iterator[Complaint]:
    near, far = way.instrument.posts[way.near], way.instrument.posts[way.far]
    side = supplies[near.circuit].side if near.circuit in supplies else ""
    path = post_path(draft, way.instrument, near.name)
    if side in ("feed", "ground"):
        message = f'post "{near.name}" is the near side of a stop way, and on a {side}'
        yield draft.complain(path, message, f'{_NEVER}: a pigtail with role = "stop" has its own')
    elif not near.circuit and not near.spare:
        message = f'which stop circuit is post "{near.name}" on?'
        hint = f'feeds = {{ {near.name} = "stop" }}, with a pigtail of role = "stop" for it'
        yield draft.complain(path, message, hint)
    ground = supplies[far.circuit].side if far.circuit in supplies else ""
    if not near.spare and ground != "ground" and not draft.lost.supplies:
        message = f'a stop way goes to ground, and post "{far.name}" is on none'
        yield draft.complain(post_path(draft, way.instrument, far.name), message)


def _post_faults(
    draft: Draft, instrument: Fitted, supplies: Mapping[str, Supply]
) -> Iterator[Complaint]:
    """Posts of a stop circuit that are anything but the near end of a stop way."""
    stops = {way.near for way in ways_of(instrument) if way.is_stop}
    loaded = {end for load in instrument.pattern.loads for end in (load.feed, load.ground)}
    for post in instrument.posts.values():
        supply = supplies.get(post.circuit)
        if supply is None or supply.side != "stop":
            continue
        path = post_path(draft, instrument, post.name)
        if post.name in loaded:
            message = f'post "{post.name}" is on a stop circuit, and a load has its end there'
            yield draft.complain(path, message, _NEVER)
        if post.name not in stops and not post.metal and not has_bad_ends(instrument):
            message = f'what is post "{post.name}" for? It is on stop circuit "{supply.name}"'
            hint = (
                'a way of kind = "stop" begins at it, or link (a lone junction stud); '
                f'feeds = {{ {post.name} = "spare" }} where no wire goes to it'
            )
            yield draft.complain(path, message, hint)


def _never_stopped(
    draft: Draft, supplies: Mapping[str, Supply], stopped: set[str]
) -> Iterator[Complaint]:
    """A stop circuit that no way puts to ground."""
    for name, supply in supplies.items():
        if supply.side == "stop" and supply.pigtail is not None and name not in stopped:
            path = draft.path(PIGTAILS, supply.pigtail, "circuit")
            message = f'nothing puts stop circuit "{name}" to ground: the engine would not stop'
            hint = 'a key or lanyard switch does, by a way of kind = "stop" from its post to ground'
            yield draft.complain(path, message, hint)


def _lanyard_faults(draft: Draft, instrument: Fitted) -> Iterator[Complaint]:
    """A lanyard that says which kind it is, and a stop way that stops when it is out."""
    if not is_device(instrument):
        return
    stops = [way for way in ways_of(instrument) if way.is_stop]
    for way in stops:
        if LANYARD[0] in (way.part.closed or ()):
            message = "with the lanyard in, this stop way would be closed: the engine never runs"
            yield draft.complain(way.path(draft, "closed"), message, f'"{LANYARD[1]}" stops it')
    if instrument.pattern.lanyard:
        if not has_bad_ends(instrument) and not any(
            LANYARD[1] in (way.part.closed or ()) for way in stops
        ):
            path = draft.path(INSTRUMENTS, instrument.index, "geometry", "lanyard")
            message = 'no way of kind = "stop" is closed in "lanyard out"'
            yield draft.complain(path, message, "pulled out, this lanyard puts a stop to ground")
    elif _called_lanyard(instrument) and not set(LANYARD) & set(instrument.pattern.positions):
        message = f'which kind of lanyard is "{instrument.name}"? Nothing in the file says so'
        hint = (
            'one that puts a stop circuit to ground: lanyard = "grounds", with a way of kind = '
            '"stop"; one that opens a feed: positions = ["lanyard in", "lanyard out"], with a '
            'switch closed in "lanyard in"'
        )
        yield draft.complain(ways_path(draft, instrument), message, hint)


def _called_lanyard(instrument: Fitted) -> bool:
    words = (instrument.name, instrument.pattern.about, *instrument.posts)
    return any(map(says_lanyard, words))
