"""Faults inside one device: its ways, its positions, its ratings, and petrol behind it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from lugwright.base.errors import Complaint
from lugwright.base.positions import LANYARD
from lugwright.scenario.complaints import nearest
from lugwright.scenario.devices import is_device, positions_of, ways_of, ways_path
from lugwright.scenario.dimmer_checks import LAMPS
from lugwright.scenario.draft import Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted
from lugwright.scenario.left_out import cannot_be_said
from lugwright.scenario.way_schema import ALWAYS, WayPart

# Keys that mean something at these kinds of way only.
_ONLY_AT = {
    "amperes": ("fuse", "breaker"),
    "trip_free": ("breaker",),
    "as_switch": ("breaker",),
    "suits": ("dimmer",),
    "rated_for": ("switch", "breaker", "dimmer"),
}
# States of load, one position of each device, that figures are worked out for.
MOST_STATES = 64
_SWITCHED = ("switch", "stop")


def device_faults(draft: Draft, fitted: list[Fitted]) -> list[Complaint]:
    """Every fault of a device that its own drawing, or what is set in it, shows."""
    complaints: list[Complaint] = []
    for instrument in fitted:
        complaints += _rating_faults(draft, instrument)
        complaints += _position_faults(draft, instrument)
        if not is_device(instrument):
            complaints += _no_device(draft, instrument)
            continue
        complaints += _end_faults(draft, instrument)
        for index, part in enumerate(instrument.pattern.ways):
            complaints += _closed_faults(draft, instrument, index, part)
            complaints += _key_faults(draft, instrument, index, part)
        complaints += _petrol_faults(draft, instrument)
    complaints += _state_faults(draft, fitted)
    return complaints


def _state_faults(draft: Draft, fitted: list[Fitted]) -> Iterator[Complaint]:
    """More states of load than are planned: told at the device that makes them too many."""
    states = 1
    for instrument in fitted:
        states *= len(_states(instrument))
        if states > MOST_STATES:
            message = (
                f"the devices up to this one have {states} states of load between them, at most "
                f"{MOST_STATES} are planned"
            )
            path = draft.path(INSTRUMENTS, instrument.index, "name")
            yield draft.complain(path, message, "plan part of the panel at a time")
            return


def _states(instrument: Fitted) -> set[frozenset[str]]:
    """Far posts that may be live together, as sets of which none is part of another."""
    ways = [way for way in ways_of(instrument) if not (way.is_stop or way.is_empty)]
    own = instrument.pattern.positions or ("",)
    lanyard = LANYARD if instrument.pattern.lanyard else ("",)
    sets = {
        frozenset(
            way.far
            for way in ways
            if way.part.is_always or {one, other} & set(way.part.closed or ())
        )
        for one in own
        for other in lanyard
    }
    return {each for each in sets if not any(each < other for other in sets)}


def _no_device(draft: Draft, instrument: Fitted) -> Iterator[Complaint]:
    """Keys of a device where no way is stated."""
    for key in ("positions", "lanyard", "carries_in"):
        if getattr(instrument.pattern, key):
            path = draft.path(INSTRUMENTS, instrument.index, "geometry", key)
            hint = 'say under ways what it passes on: from, to, kind, and closed = ["on"]'
            yield draft.complain(path, f"{key} is said of a device, and no ways are stated", hint)


def _end_faults(draft: Draft, instrument: Fitted) -> Iterator[Complaint]:
    """Ends that are no posts, far posts of two ways, and ends that one metal joins."""
    posts = instrument.posts
    seen: set[str] = set()
    for index, part in enumerate(instrument.pattern.ways):
        ends = [(("from",), part.near), *((("to", n), far) for n, far in enumerate(part.to))]
        for keys, post in ends:
            if post not in posts:
                path = ways_path(draft, instrument, index, *keys)
                message = f'the instrument has no post "{post}"'
                yield draft.complain(path, message, nearest(post, posts))
        for number, far in enumerate(part.to):
            path = ways_path(draft, instrument, index, "to", number)
            message = _end_fault(instrument, part, far, seen)
            if message:
                yield draft.complain(path, message)
            seen |= {far, _metal(instrument, far)}


def _end_fault(instrument: Fitted, part: WayPart, far: str, seen: set[str]) -> str:
    if far == part.near:
        return "a way leads from one post to another"
    if far in seen or _metal(instrument, far) in seen:
        return cannot_be_said(f'post "{far}" as the far side of two ways')
    if _metal(instrument, far) == _metal(instrument, part.near):
        return (
            f'posts "{part.near}" and "{far}" are one piece of metal: it would pass round the '
            f"{part.kind}"
        )
    return ""


def _metal(instrument: Fitted, post: str) -> str:
    """A post's piece of metal; apart from every name of a post."""
    spec = instrument.pattern.posts.get(post)
    return f"link {spec.link}" if spec is not None and spec.link else f"post {post}"


def _position_faults(draft: Draft, instrument: Fitted) -> Iterator[Complaint]:
    positions = instrument.pattern.positions
    path = draft.path(INSTRUMENTS, instrument.index, "geometry", "positions")
    twice = [name for name, count in Counter(positions).items() if count > 1]
    if twice:
        yield draft.complain(path, f'two positions are named "{twice[0]}"')
    elif len(positions) == 1:
        yield draft.complain(path, "a device has two positions or more, or none")
    if ALWAYS in positions:
        yield draft.complain(path, f'no position is named "{ALWAYS}"', "give it another name")
    if instrument.pattern.lanyard and set(LANYARD) & set(positions):
        message = 'lanyard = "grounds" adds the positions "lanyard in" and "lanyard out" itself'
        yield draft.complain(path, message, "leave them out here")


def _closed_faults(
    draft: Draft, instrument: Fitted, index: int, part: WayPart
) -> Iterator[Complaint]:
    path = ways_path(draft, instrument, index)
    positions = positions_of(instrument)
    known = nearest("", positions) or 'none is stated: positions = ["off", "on"], first at rest'
    if part.closed is None:
        if part.kind in _SWITCHED:
            message = f'"closed" is missing: in which positions does this {part.kind} conduct?'
            yield draft.complain(path, message, known)
        return
    path = (*path, "closed") if instrument.part.geometry is not None else path
    if part.is_always:
        if part.kind in _SWITCHED:
            message = f"a {part.kind} that is closed in every position switches nothing"
            yield draft.complain(path, message, f"list the positions it conducts in; {known}")
        return
    if part.kind == "fuse":
        yield draft.complain(path, "a fuse is always closed", f'write "{ALWAYS}", or leave it out')
    if part.kind == "breaker" and not part.as_switch:
        message = "a breaker is switched only where its maker rates it as a switch"
        hint = "as_switch = true where its maker says so; else leave closed out"
        yield draft.complain(path, message, hint)
    if not positions:
        yield draft.complain(path, "it is closed in positions the device does not have", known)
        return
    for name in part.closed:
        if name not in positions:
            hint = nearest(name, positions) or known
            yield draft.complain(path, f'there is no position "{name}"', hint)
    own = instrument.pattern.positions
    if (own and set(own) <= set(part.closed)) or set(LANYARD) <= set(part.closed):
        message = f"a {part.kind} that is closed in every position switches nothing"
        yield draft.complain(path, message, "list the positions it conducts in")


def _key_faults(draft: Draft, instrument: Fitted, index: int, part: WayPart) -> Iterator[Complaint]:
    """Keys that mean nothing at this kind of way, and a dimmer that does not say what it suits."""
    for key, kinds in _ONLY_AT.items():
        if getattr(part, key) and part.kind not in kinds:
            message = f"{key} is said of a {' or '.join(kinds)}, not of a {part.kind}"
            yield draft.complain(ways_path(draft, instrument, index, key), message)
    if part.kind != "dimmer":
        return
    if not part.suits:
        message = '"suits" is missing: which lamps is this dimmer made for?'
        hint = 'suits = ["bulb"], suits = ["led"] or both, as its maker says'
        yield draft.complain(ways_path(draft, instrument, index), message, hint)
    elif not set(part.suits) <= LAMPS:
        path = ways_path(draft, instrument, index, "suits")
        yield draft.complain(path, "a dimmer suits lamps: bulb or led")


def _rating_faults(draft: Draft, instrument: Fitted) -> Iterator[Complaint]:
    """Ratings under ``amperes`` at posts that no fuse or breaker feeds."""
    holders = [w.far for w in ways_of(instrument) if w.part.kind in ("fuse", "breaker")]
    for post in instrument.part.amperes:
        if post in instrument.posts and post not in holders:
            path = draft.path(INSTRUMENTS, instrument.index, "amperes", post)
            message = f'post "{post}" is not behind a fuse or breaker of this instrument'
            yield draft.complain(path, message, nearest(post, holders) if holders else "")


def _petrol_faults(draft: Draft, instrument: Fitted) -> Iterator[Complaint]:
    """33 CFR 183.410: what can spark where petrol vapour can be is ignition protected."""
    if draft.lost.panel or instrument.pattern.ignition_protected:
        return
    if draft.part.panel.petrol_behind:
        message = (
            f'"{instrument.name}" is not ignition protected, and petrol may be behind this panel'
        )
        hint = (
            "ignition_protected = true where its maker says so; petrol_behind = false under "
            "[panel] where a bulkhead, a deck or 2 ft of open space parts this panel from every "
            "petrol engine, tank and line (33 CFR 183.410)"
        )
        keys = ("geometry",) if instrument.part.geometry is not None else ("name",)
        yield draft.complain(draft.path(INSTRUMENTS, instrument.index, *keys), message, hint)
