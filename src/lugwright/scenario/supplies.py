"""Circuits: which there are, where each gets its current, and what their posts are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from lugwright.base.errors import Complaint
from lugwright.electrics.colours import colour_of_circuit
from lugwright.scenario.complaints import DID_YOU_MEAN, NOT_SAYABLE, nearest
from lugwright.scenario.console import Side
from lugwright.scenario.draft import PIGTAILS, Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import SENDER_FUNCTIONS, Fitted, FittedPost, far_posts
from lugwright.scenario.pattern_schema import SPARE
from lugwright.scenario.pigtail_checks import fuse_faults, is_used, pigtail_faults
from lugwright.scenario.schema import CircuitPart
from lugwright.scenario.signals import Signal
from lugwright.scenario.taken_from import (
    CIRCUITS,
    GROUND,
    IGNITION,
    LAMPS,
    host_of,
    of_circuit,
    taken_from_fault,
)

_SIDE_OF: Mapping[str, Side] = {IGNITION: "feed", LAMPS: "feed", GROUND: "ground"}


@dataclass(frozen=True)
class Supply:
    """One circuit. ``pigtail`` is its index in the draft, None where it has none.

    ``taken_from`` names the circuit it is taken from, ``supplied_by`` the far post of a way.
    ``signal`` is there for a signal circuit, which has no supply.
    """

    name: str
    side: Side
    colour: str
    taken_from: str
    pigtail: int | None
    part: CircuitPart | None
    supplied_by: str = ""
    signal: Signal | None = None


def stands_alone(
    supplies: Mapping[str, Supply], fitted: Iterable[Fitted], post: FittedPost
) -> bool:
    """True for a far post that no wire of this plan goes to.

    Its circuit has no other post, and none with posts is taken from it.
    """
    supply = supplies.get(post.circuit)
    if supply is None or not supply.supplied_by:
        return False
    posts = Counter(one.circuit for instrument in fitted for one in instrument.posts.values())
    given = (one.name for one in supplies.values() if one.taken_from == supply.name)
    return posts[supply.name] == 1 and not any(posts[name] for name in given)


def find_supplies(
    draft: Draft, fitted: list[Fitted], signals: Mapping[str, Signal]
) -> tuple[dict[str, Supply], list[Complaint]]:
    """Circuits by name, sorted, and every fault of pigtails, circuits and posts without supply."""
    complaints = pigtail_faults(draft)
    pigtails = _pigtails_by_circuit(draft, complaints)
    parts = _circuits_by_name(draft, complaints)
    supplied = {*pigtails, *(name for name, part in parts.items() if part.supplied_by)}
    supplies: dict[str, Supply] = {}
    for name in sorted({*pigtails, *parts, *signals, LAMPS}):
        if name in signals:
            supply: Supply | None = _signal(draft, signals[name], parts.get(name), complaints)
        else:
            supply = _supply(draft, name, pigtails, supplied, parts.get(name), complaints)
        if supply is not None:
            supplies[name] = supply
    if not draft.lost.supplies:
        complaints += _posts_without_supply(draft, fitted, supplies)
    if not draft.lost.instruments and not draft.lost.unnamed_instrument:
        complaints += _supplies_without_posts(draft, fitted, supplies)
    return supplies, complaints


def _signal(
    draft: Draft, signal: Signal, part: CircuitPart | None, complaints: list[Complaint]
) -> Supply:
    """A signal circuit; its jumpers have the colour of its sender's wire."""
    if signal.wire.pigtail is not None:
        complaints += fuse_faults(draft, signal.wire.pigtail, "signal")
    return Supply(signal.name, "signal", signal.wire.part.colour, "", None, part, "", signal)


def _pigtails_by_circuit(draft: Draft, complaints: list[Complaint]) -> dict[str, int]:
    found: dict[str, int] = {}
    for index, pigtail in enumerate(draft.pigtails):
        if pigtail.circuit is None or not is_used(pigtail) or pigtail.role in ("load", "signal"):
            continue
        if pigtail.circuit in found:
            message = f'circuit "{pigtail.circuit}" has two supplies: another pigtail feeds it too'
            path = draft.path(PIGTAILS, index, "circuit")
            hint = (
                "two feeds are never joined, and two grounds meet here no more: give each a "
                'circuit of its own name ("port ground") and say in feeds which posts are on it; '
                "what nothing is joined to has cap_off = true, with live = true or false"
            )
            complaints.append(draft.complain(path, message, hint))
        found.setdefault(pigtail.circuit, index)
    return found


def _circuits_by_name(draft: Draft, complaints: list[Complaint]) -> dict[str, CircuitPart]:
    found: dict[str, CircuitPart] = {}
    for index, part in enumerate(draft.part.circuit):
        if part.name in found:
            path = draft.path(CIRCUITS, index, "name")
            message = f'there are two circuits named "{part.name}"'
            complaints.append(draft.complain(path, message))
        found.setdefault(part.name, part)
    return found


def _supply(
    draft: Draft,
    name: str,
    pigtails: Mapping[str, int],
    supplied: set[str],
    part: CircuitPart | None,
    complaints: list[Complaint],
) -> Supply | None:
    side = _side(draft, name, pigtails, part, complaints)
    use = (part.use if part else None) or ""
    colour = (part.colour if part else None) or colour_of_circuit(name, side, use)
    if name in pigtails:
        if not _is_asked(draft, name, pigtails, part):
            complaints += fuse_faults(draft, pigtails[name], side)
        if part and part.taken_from:
            message = f'it has two supplies: a pigtail, and it is taken from "{part.taken_from}"'
            hint = "leave taken_from out: the pigtail supplies it"
            complaints.append(of_circuit(draft, name, "taken_from", message, hint))
        return Supply(name, side, colour, "", pigtails[name], part)
    if part and part.supplied_by:
        return Supply(name, side, colour, "", None, part, part.supplied_by)
    host = host_of(name, part, supplied)
    fault = taken_from_fault(draft, name, side, host, supplied) if host else None
    complaints += [fault] if fault else []
    return Supply(name, side, colour, host, None, part) if host and not fault else None


def _side(
    draft: Draft,
    name: str,
    pigtails: Mapping[str, int],
    part: CircuitPart | None,
    complaints: list[Complaint],
) -> Side:
    """As stated, else by name or fuse, or since it is taken from a feed; asked where none tells."""
    stated, known = part.side if part else None, _SIDE_OF.get(name)
    if name in pigtails and draft.pigtails[pigtails[name]].role == "stop":
        if known is None:
            return "stop"
        message = f'the circuit named "{name}" is a {known}, never a stop'
        path = draft.path(PIGTAILS, pigtails[name], "circuit")
        complaints.append(draft.complain(path, message, "give it another name"))
        return known
    if stated and known and stated != known:
        message = f'the circuit named "{name}" is a {known}, never a {stated}'
        complaints.append(of_circuit(draft, name, "side", message, "give it another name"))
    if _is_asked(draft, name, pigtails, part):
        path = draft.path(PIGTAILS, pigtails[name], "circuit")
        message = f'is circuit "{name}" a feed or a ground? Nothing in the file says so'
        hint = f'write [[circuit]] name = "{name}", side = "feed" or side = "ground"'
        complaints.append(draft.complain(path, message, hint))
    return known or stated or "feed"


def _is_asked(
    draft: Draft, name: str, pigtails: Mapping[str, int], part: CircuitPart | None
) -> bool:
    """True where nothing tells which side a pigtail's circuit is on."""
    if name in _SIDE_OF or (part and part.side) or name not in pigtails:
        return False
    pigtail = draft.pigtails[pigtails[name]]
    return pigtail.role == "supply" and pigtail.fuse is None


def _posts_without_supply(
    draft: Draft, fitted: list[Fitted], supplies: Mapping[str, Supply]
) -> list[Complaint]:
    """One complaint per circuit without supply: at its post, or for several at the harness."""
    unfed: dict[str, list[tuple[Fitted, FittedPost]]] = {}
    for instrument in fitted:
        for post in instrument.posts.values():
            if not post.circuit or post.circuit in supplies:
                continue
            if post.part.optional and post.name not in instrument.part.feeds:
                continue
            if post.part.function in SENDER_FUNCTIONS and _signal_pigtail_without_place(draft):
                continue  # it may go there, and where it goes is asked
            unfed.setdefault(post.circuit, []).append((instrument, post))
    stated = {part.name for part in draft.part.circuit}
    complaints = []
    for name in sorted(unfed):
        if name in stated and _taken_badly(draft, name):
            continue  # said at the circuit already
        if name == LAMPS and name not in stated and IGNITION in unfed:
            continue  # lamps are taken from ignition: said there
        if len(unfed[name]) == 1:
            complaints.append(_unfed(draft, *unfed[name][0], supplies))
        else:
            complaints.append(_unfed_circuit(draft, name, unfed[name]))
    return complaints


def _unfed_circuit(draft: Draft, name: str, posts: list[tuple[Fitted, FittedPost]]) -> Complaint:
    ids = [instrument.post_id(post.name) for instrument, post in posts]
    listed = ", ".join(ids[:4]) + (" and others" if len(ids) > 4 else "")
    if all(post.part.function in SENDER_FUNCTIONS for _, post in posts):
        message = f'no sender\'s wire lands on "{name}", and {len(ids)} posts are on it ({listed})'
        return draft.complain(INSTRUMENTS, message, _sender_to(name), at_key=True)
    message = f'no circuit feeds {len(ids)} posts: circuit "{name}" has no supply ({listed})'
    hint = f'give the harness a pigtail for "{name}"'
    if name != GROUND:
        hint += f", where it has one; {NOT_SAYABLE}"
    far = [i.post_id(post.name) for i, post in posts if post.name in far_posts(i.pattern)]
    if far:
        hint = _started_by(name, far[0])
    return draft.complain(("harness",), message, hint, at_key=True)


def _signal_pigtail_without_place(draft: Draft) -> bool:
    return any(p.role == "signal" and not p.lands_on for p in draft.pigtails)


def _sender_to(circuit: str) -> str:
    return (
        f'the wire of a sender says lands_on = "{circuit}", under [[boat_wires]] or at a pigtail '
        'with role = "signal"; a signal post that no wire goes to is "spare" in feeds'
    )


def _started_by(circuit: str, far: str) -> str:
    return f'a way ends there: [[circuit]] name = "{circuit}", supplied_by = "{far}"'


def _taken_badly(draft: Draft, name: str) -> bool:
    return any(part.name == name and part.taken_from for part in draft.part.circuit)


def _unfed(
    draft: Draft, instrument: Fitted, post: FittedPost, supplies: Mapping[str, Supply]
) -> Complaint:
    declared = post.name in instrument.part.feeds
    keys = ("feeds", post.name) if declared else ("name",)
    path = draft.path(INSTRUMENTS, instrument.index, *keys)
    message = f'no circuit feeds post "{post.name}": circuit "{post.circuit}" has no supply'
    hint = nearest(post.circuit, supplies) if declared else ""
    if post.part.function in SENDER_FUNCTIONS and not hint.startswith(DID_YOU_MEAN):
        hint = _sender_to(post.circuit)
    elif post.name in far_posts(instrument.pattern):
        hint = _started_by(post.circuit, instrument.post_id(post.name))
    elif not hint.startswith(DID_YOU_MEAN):
        hint = (
            f'give the harness a pigtail for "{post.circuit}", where it has one; where no '
            f'wire goes to it, feeds = {{ {post.name} = "{SPARE}" }}; {NOT_SAYABLE}'
        )
    return draft.complain(path, message, hint)


def _supplies_without_posts(
    draft: Draft, fitted: list[Fitted], supplies: Mapping[str, Supply]
) -> list[Complaint]:
    used = {post.circuit for instrument in fitted for post in instrument.posts.values()}
    complaints = []
    for supply in supplies.values():
        if supply.name in used or supply.pigtail is None:
            continue
        path = draft.path(PIGTAILS, supply.pigtail, "circuit")
        message = f'no post belongs to circuit "{supply.name}"'
        hint = nearest(supply.name, (name for name in used if name))
        if not hint.startswith(DID_YOU_MEAN):
            hint = (
                "cap_off = true, with live = true or false, where nothing is joined to it; leave "
                "it out where it goes to a part that is left out of this plan"
            )
        complaints.append(draft.complain(path, message, hint))
    return complaints
