"""Signal circuits: which there are, which instruments are on each, and whose wire is the sender's.

A signal circuit is named in ``feeds`` (``signal = "temperature"``), and a sender's wire says that
it lands on it, or on one of its posts. What a lamp or buzzer returns by, and the post that a
harness's signal pigtail names, are signal circuits of their own. Rule R34.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from lugwright.base.toml import KeyPath
from lugwright.scenario.console import Sender, SenderKind
from lugwright.scenario.draft import PIGTAILS, Draft
from lugwright.scenario.fitting_out import SENDER_FUNCTIONS, Fitted, FittedPost
from lugwright.scenario.schema import BoatWirePart, BoatWiresPart, PigtailPart
from lugwright.scenario.taken_from import GROUND, IGNITION, LAMPS

SENDER_MA = 250  # upper end of a fuel sender's current at 12 V, from memory
BOAT_WIRES = ("boat_wires",)


@dataclass(frozen=True)
class SenderWire:
    """The wire of a sender: a pigtail of the harness, or a wire of a block from the boat.

    ``block`` and ``number`` are places in the draft, ``pigtail`` its own; None where it is the
    other. ``circuit`` is the signal circuit it goes to, ``held`` the post it says (or "").
    """

    circuit: str
    held: str
    part: PigtailPart | BoatWirePart
    of: PigtailPart | BoatWiresPart
    pigtail: int | None = None
    block: int | None = None
    number: int = 0

    @property
    def kind(self) -> SenderKind | None:
        """What its sender works by."""
        return self.of.sender

    @property
    def sender(self) -> Sender:
        """Its sender, as the console has it."""
        return Sender(self.of.sender or "resistance", self.of.range or "", self.of.stations)

    @property
    def current_ma(self) -> int:
        """What the sender lets pass of one dial."""
        return SENDER_MA if self.of.current is None else self.of.current

    @property
    def what(self) -> str:
        """How people call the sender."""
        if isinstance(self.of, PigtailPart):
            return self.of.label or f"pigtail on {self.part.lands_on}"
        return self.of.name

    def path(self, draft: Draft, *keys: str | int) -> KeyPath:
        """Where the file says something of the sender."""
        if self.pigtail is not None:
            return draft.path(PIGTAILS, self.pigtail, *keys)
        return draft.path(BOAT_WIRES, self.block or 0, *keys)

    def landing_path(self, draft: Draft) -> KeyPath:
        """Where the file says where the wire lands."""
        if self.pigtail is not None:
            return self.path(draft, "lands_on")
        return self.path(draft, "wires", self.number, "lands_on")


@dataclass(frozen=True)
class Member:
    """An instrument on a signal circuit, with its posts there.

    ``returning`` are the loads that return by it: those of a lamp or a buzzer. A dial has none.
    """

    instrument: Fitted
    posts: tuple[FittedPost, ...]

    @cached_property
    def returning(self) -> tuple[str, ...]:
        """Names of its loads that return by the signal."""
        here = {post.name for post in self.posts}
        return tuple(load.name for load in self.instrument.pattern.loads if load.ground in here)

    @property
    def is_dial(self) -> bool:
        """True for what reads a sender, and lights or sounds nothing by it."""
        return not self.returning and any(p.part.function in SENDER_FUNCTIONS for p in self.posts)


@dataclass(frozen=True)
class Signal:
    """A signal circuit: its members by name, and the wires of senders that go to it."""

    name: str
    members: tuple[Member, ...]
    wires: tuple[SenderWire, ...]
    is_named: bool

    @property
    def wire(self) -> SenderWire:
        """The wire of its sender."""
        return self.wires[0]

    @property
    def dials(self) -> tuple[Member, ...]:
        """Members that read the sender."""
        return tuple(member for member in self.members if member.is_dial)

    @property
    def lights(self) -> tuple[Member, ...]:
        """Members that light or sound by it: lamps and buzzers."""
        return tuple(member for member in self.members if member.returning)


@dataclass(frozen=True)
class Signals:
    """The instruments with their signal posts assigned, and the signal circuits by name."""

    fitted: list[Fitted]
    by_name: dict[str, Signal]

    def of_block(self, index: int) -> dict[int, Signal]:
        """Signals that a sender's wire of a block goes to, by the wire's place in it."""
        return {
            wire.number: signal
            for signal in self.by_name.values()
            for wire in signal.wires
            if wire.block == index
        }


def find_signals(draft: Draft, fitted: list[Fitted]) -> Signals:
    """Every signal circuit that a wire goes to; posts on them keep their function."""
    others = _other_circuits(draft)
    named = {post.circuit for one in fitted for post in one.posts.values()} - others
    wires: dict[str, list[SenderWire]] = {}
    own: dict[str, str] = {}
    for wire in _sender_wires(draft):
        name = _circuit_of(wire, fitted, named, others)
        if name:
            wires.setdefault(name, []).append(replace(wire, circuit=name))
            own |= {wire.held: name} if wire.held and name not in named else {}
    changed = [_with_circuits(instrument, wires, own) for instrument in fitted]
    by_name = {
        name: Signal(name, tuple(_members(changed, name)), tuple(found), name not in own.values())
        for name, found in sorted(wires.items())
    }
    return Signals(changed, by_name)


def _other_circuits(draft: Draft) -> set[str]:
    """Circuits that are no signal's: those with a supply, and the known ones."""
    found = {IGNITION, LAMPS, GROUND, ""}
    found |= {c.name for c in draft.part.circuit if c.supplied_by or c.taken_from or c.side}
    found |= {p.circuit or "" for p in draft.pigtails if p.role != "signal"}
    return found


def _sender_wires(draft: Draft) -> Iterator[SenderWire]:
    """Every wire that may be a sender's, with what it says that it lands on."""
    for index, pigtail in enumerate(draft.pigtails):
        if pigtail.role == "signal" and pigtail.lands_on and not pigtail.cap_off:
            yield _wire(pigtail.lands_on, pigtail, pigtail, pigtail=index)
    for index, block in enumerate(draft.part.boat_wires):
        if block.role == "load":
            continue
        for number, wire in enumerate(block.wires):
            yield _wire(wire.lands_on, wire, block, block=index, number=number)


def _wire(
    lands_on: str,
    part: PigtailPart | BoatWirePart,
    of: PigtailPart | BoatWiresPart,
    pigtail: int | None = None,
    block: int | None = None,
    number: int = 0,
) -> SenderWire:
    held = lands_on if "." in lands_on else ""
    circuit = "" if held else lands_on
    return SenderWire(circuit, held, part, of, pigtail, block, number)


def _circuit_of(wire: SenderWire, fitted: list[Fitted], named: set[str], others: set[str]) -> str:
    """The signal circuit a wire goes to; "" where it goes to none."""
    if not wire.held:
        return wire.circuit if wire.circuit not in others else ""
    name, _, post_name = wire.held.partition(".")
    instrument = next((one for one in fitted if one.name == name), None)
    post = instrument.posts.get(post_name) if instrument else None
    if instrument is None or post is None or post.spare:
        return ""
    if post.circuit in named and post.part.function in SENDER_FUNCTIONS:
        return post.circuit
    if post.circuit or post.part.function not in SENDER_FUNCTIONS:
        return ""
    returns = any(load.ground == post_name for load in instrument.pattern.loads)
    return f"{name} {post_name}" if returns or wire.pigtail is not None else ""


def _with_circuits(
    instrument: Fitted, wires: dict[str, list[SenderWire]], own: dict[str, str]
) -> Fitted:
    """The instrument with its signal posts on their circuits; linked posts go together."""
    posts = dict(instrument.posts)
    for name, post in instrument.posts.items():
        circuit = own.get(instrument.post_id(name), post.circuit if post.circuit in wires else "")
        for other, beside in instrument.posts.items() if circuit else ():
            same = other == name or (post.metal and beside.metal == post.metal)
            if same and beside.circuit in ("", circuit) and not beside.spare:
                posts[other] = replace(beside, function=beside.part.function, circuit=circuit)
    return replace(instrument, posts=posts)


def _members(fitted: list[Fitted], name: str) -> Iterator[Member]:
    for instrument in fitted:
        here = tuple(post for post in instrument.posts.values() if post.circuit == name)
        if here:
            yield Member(instrument, here)
