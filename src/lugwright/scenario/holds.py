"""What is held beforehand: written on the command line or as ``[[hold]]``, read once, in words.

================  ==================================================================
held              meaning
================  ==================================================================
hub               the supply lands on this instrument
jumper            a jumper runs between these two posts, whichever is nearer the supply
no-jumper         none does
last              no jumper goes on from this post
no-splice         no splice point is used (the butt of an extension is none)
size              the circuit's jumpers and extension are of this wire size
================  ==================================================================
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.identity import JointId
from lugwright.base.spelling import did_you_mean
from lugwright.base.toml import TomlFile
from lugwright.base.units import parse_wire_size
from lugwright.scenario.console import Console, Post
from lugwright.scenario.schema import HoldPart
from lugwright.stock.schema import Stock

HOLDABLE = ("hub", "jumper", "no-jumper", "last", "no-splice", "size")
_SHOWN = 24
_PRICE = re.compile(
    r" \((as far as was found in time, )?(costs .*|what that costs was not found in time)\)$"
)


@dataclass(frozen=True, order=True)
class Hold:
    """One thing held, by its names: an instrument, two posts, a post, none, circuit and size."""

    what: str
    names: tuple[str, ...]

    def __str__(self) -> str:
        if self.what == "no-splice":
            return "no splice"
        if self.what == "size":
            return f"size {self.names[0]}: {self.names[1]}"
        return f"{self.what.replace('-', ' ')} {' > '.join(self.names)}"


@dataclass(frozen=True)
class Held:
    """Everything held, each thing once."""

    holds: tuple[Hold, ...] = ()

    def named(self, what: str) -> tuple[tuple[str, ...], ...]:
        """The names of every hold of one kind."""
        return tuple(hold.names for hold in self.holds if hold.what == what)

    @property
    def hub(self) -> str:
        """The held hub; "" where none is."""
        return next((names[0] for names in self.named("hub")), "")

    @property
    def told(self) -> tuple[str, ...]:
        """Every hold in words."""
        return tuple(map(str, self.holds))

    def without(self, hold: Hold) -> Held:
        """The same with one hold let go."""
        return Held(tuple(other for other in self.holds if other != hold))


Complain = Callable[[str, str], Complaint]
"""Makes a complaint of a message and a hint, at the place the hold was written."""


@dataclass(frozen=True)
class WrittenHold:
    """A hold as written: what, and the text behind it."""

    what: str
    text: str
    complain: Complain


def called(pairs: Iterable[tuple[str, str]]) -> tuple[WrittenHold, ...]:
    """Holds of the command line."""

    def complain(message: str, hint: str) -> Complaint:
        return Complaint("command line", 0, 0, "--hold", message, hint)

    return tuple(WrittenHold(what, text, complain) for what, text in pairs)


def written(parts: Iterable[HoldPart], toml: TomlFile) -> tuple[WrittenHold, ...]:
    """Holds of a scenario."""
    return tuple(_written(part, toml, index) for index, part in enumerate(parts))


def _written(part: HoldPart, toml: TomlFile, index: int) -> WrittenHold:
    def complain(message: str, hint: str) -> Complaint:
        path = ("hold", index, part.key)
        return toml.complaint(path, f"hold {index + 1}, {part.key}", message, hint)

    return WrittenHold(part.what, part.text, complain)


def read_holds(found: Iterable[WrittenHold], console: Console, stock: Callable[[], Stock]) -> Held:
    """What is held, sorted. A later hub or size takes the place of an earlier one of the scenario.

    Raises BadInput with a complaint for every hold that means nothing.
    """
    complaints: list[Complaint] = []
    kept: dict[Hold, None] = {}
    for one in found:
        try:
            kept[_read(one, console, stock)] = None
        except _Refused as refused:
            complaints.append(one.complain(*refused.args))
    complaints += _contradictions(kept, found)
    if complaints:
        raise BadInput(*complaints)
    return Held(tuple(sorted(kept)))


def merged(scenario: Held, call: Held) -> Held:
    """The scenario's holds and the call's; where they differ the call's."""
    opposite = {"jumper": "no-jumper", "no-jumper": "jumper"}

    def replaced(hold: Hold) -> bool:
        if hold.what == "hub":
            return bool(call.hub)
        if hold.what in opposite:
            return hold.names in call.named(opposite[hold.what])
        sizes = {names[0] for names in call.named("size")}
        return hold.what == "size" and hold.names[0] in sizes

    kept = [hold for hold in scenario.holds if not replaced(hold)]
    return Held(tuple(sorted({*kept, *call.holds})))


def read_told(words: Iterable[str], instruments: Collection[str]) -> Held:
    """What is held, read back from the words of a plan; words that name no hold are passed over.

    Behind a hold's own words may stand what it costs, in brackets. ``instruments`` may be hubs:
    the plans of a family hold "hub and jumpers of the family", which is no hold of a call.
    """
    found = (hold for text in words for hold in _told(text))
    return Held(tuple(sorted(x for x in found if x.what != "hub" or x.names[0] in instruments)))


def _told(text: str) -> Iterable[Hold]:
    """The hold of one sentence, if it is one."""
    words = _PRICE.sub("", text)
    if words == "no splice":
        yield Hold("no-splice", ())
    elif words.startswith("size ") and ": " in words:
        circuit, _, size = words.removeprefix("size ").rpartition(": ")
        yield Hold("size", (circuit, size))
    else:
        for what in ("hub", "last", "no-jumper", "jumper"):
            start = what.replace("-", " ") + " "
            if words.startswith(start):
                yield Hold(what, tuple(words.removeprefix(start).split(" > ")))
                return


class _Refused(Exception):
    """A hold that means nothing: message and hint."""


def _contradictions(kept: Iterable[Hold], found: Iterable[WrittenHold]) -> list[Complaint]:
    """Things held twice and otherwise."""
    holds, places = list(kept), list(found)
    complaints = []
    for what in ("hub", "size"):
        own = [hold for hold in holds if hold.what == what]
        for hold in own[1:]:
            if what == "hub" or any(hold.names[0] == o.names[0] for o in own if o != hold):
                about = "hub" if what == "hub" else f"size of {hold.names[0]}"
                place = [one for one in places if one.what == what][-1]
                complaints.append(place.complain(f"{about} is held twice", "hold it once"))
                break
    forbidden = {frozenset(hold.names) for hold in holds if hold.what == "no-jumper"}
    for hold in holds:
        if hold.what == "jumper" and frozenset(hold.names) in forbidden:
            place = [one for one in places if one.what == "no-jumper"][-1]
            pair = " > ".join(hold.names)
            complaints.append(
                place.complain(f"a jumper {pair} is both wanted and forbidden", "hold one of them")
            )
    return complaints


def _read(one: WrittenHold, console: Console, stock: Callable[[], Stock]) -> Hold:
    if one.what == "hub":
        names = [instrument.name for instrument in console.instruments]
        return Hold("hub", (_known("instrument", one.text, names),))
    if one.what in ("jumper", "no-jumper"):
        return Hold(one.what, _pair(one.text, console))
    if one.what == "last":
        return Hold("last", (_last(one.text, console),))
    if one.what == "no-splice":
        if one.text:
            raise _Refused(f"no-splice stands by itself (got {one.text!r})", "write no-splice")
        return Hold("no-splice", ())
    if one.what == "size":
        return _size(one.text, console, stock())
    hint = f"{did_you_mean(one.what, HOLDABLE)} these can: {', '.join(HOLDABLE)}"
    raise _Refused(f"{one.what!r} cannot be held", hint.strip())


def _known(what: str, name: str, names: Iterable[str]) -> str:
    """The name, if it is one of those. Raises _Refused with the nearest spelling and all names."""
    known = sorted(names)
    if name in known:
        return name
    shown = ", ".join(known[:_SHOWN]) + (" and others" if len(known) > _SHOWN else "")
    hint = f"{did_you_mean(name, known)} there are: {shown}"
    raise _Refused(f"no {what} is named {name!r}", hint.strip())


def _post(name: str, console: Console) -> Post:
    """A post that a circuit reaches."""
    wired: dict[str, Post] = {post.id: post for post in console.posts if post.circuit}
    post = wired[_known("wired post", name, wired)]
    if post.lead_length_dmm:
        hint = "say where its end is to be, as its place (at, height), and leave its length out"
        raise _Refused(f"the end of {post.id} is chosen with the plan", hint)
    return post


def _last(text: str, console: Console) -> JointId:
    """A post that no jumper need leave: not a far post that others of its circuit hang on."""
    post = _post(text, console)
    circuit = console.circuit(post.circuit)
    if circuit.supplied_by == post.id and circuit.posts != (post.id,):
        raise _Refused(
            f"{post.id} cannot be the last post",
            f"it supplies {circuit.name}: its one jumper to the landing post leaves it",
        )
    return post.id


def _pair(text: str, console: Console) -> tuple[str, str]:
    """Two posts between which a jumper can run, the scenario's order kept apart: sorted."""
    ends = [end.strip() for end in text.split(">")]
    if len(ends) != 2 or not all(ends):
        raise _Refused(
            f"{text!r} does not name a jumper", "write two posts, as in a.ground>b.ground"
        )
    one, other = (_post(end, console) for end in ends)
    if one.node == other.node:
        raise _Refused(f"no jumper runs from {one.id} to {other.id}", "they are one piece of metal")
    if one.circuit != other.circuit and not _takes_off(one, other, console):
        raise _Refused(
            f"no jumper runs from {one.id} to {other.id}",
            f"one is {one.circuit}, the other {other.circuit}",
        )
    low, high = sorted((one.id, other.id))
    return low, high


def _takes_off(one: Post, other: Post, console: Console) -> bool:
    """Whether one post's circuit is taken from the other's, taken off at a stud."""
    taken = {circuit.name: circuit.taken_from for circuit in console.circuits}
    return any(
        taken[taker.circuit] == host.circuit and host.kind == "stud"
        for taker, host in ((one, other), (other, one))
    )


def _size(text: str, console: Console, stock: Stock) -> Hold:
    name, colon, size = (part.strip() for part in text.partition(":"))
    if not colon or not name or not size:
        raise _Refused(f"{text!r} is not a circuit and a size", "write it as in ground:16 AWG")
    circuit = console.circuit(_known("circuit", name, [c.name for c in console.circuits]))
    if circuit.posts == (circuit.supplied_by,):
        only = f"{circuit.supplied_by} is its only post"
        raise _Refused(f"{name} has no jumper whose size could be held", only)
    try:
        spelled = parse_wire_size(size)
    except ValueError as error:
        raise _Refused(str(error), "") from None
    sizes = [spool.wire_size for spool in stock.spools_of_colour(circuit.colour)]
    if spelled not in sizes:
        there = ", ".join(dict.fromkeys(sizes)) or "none"
        raise _Refused(f"no {spelled} wire in {circuit.colour} is in stock", f"there is: {there}")
    return Hold("size", (name, spelled))
