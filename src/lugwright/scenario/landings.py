"""What comes aboard: which post each wire lands on, and whose current it is."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lugwright.base.errors import Complaint
from lugwright.scenario.complaints import nearest
from lugwright.scenario.draft import Draft
from lugwright.scenario.fields import ELSEWHERE
from lugwright.scenario.fitting_out import SENDER_FUNCTIONS, Fitted, FittedPost
from lugwright.scenario.given_wires import checked_supplied
from lugwright.scenario.left_out import LEFT_OUT
from lugwright.scenario.near_posts import dial_feed, is_ground_post, near_post
from lugwright.scenario.near_posts import takes_sender as _takes_sender
from lugwright.scenario.pattern_schema import SPARE
from lugwright.scenario.schema import BoatWirePart, BoatWiresPart
from lugwright.scenario.signals import SENDER_MA, Signal, Signals
from lugwright.scenario.supplies import Supply, stands_alone

SECTION = ("boat_wires",)
_SENDER = re.compile(r"\b(senders?|sending)\b", re.IGNORECASE)
_STOP = re.compile(r"\b(kill|lanyard|magneto|stop (wire|lead|circuit))\b", re.IGNORECASE)


@dataclass(frozen=True)
class Landed:
    """A block of boat wires with its posts found. ``posts`` has one post id per wire.

    Wires of senders that go to signal circuits are none of them. Of such a sender ``current_ma`` is
    drawn by the loads on its circuit, not at a post; its ground wire is left.
    """

    index: int
    part: BoatWiresPart
    posts: tuple[str, ...]
    is_sender: bool
    current_ma: int
    drawn_from: str
    returns_to: str


@dataclass(frozen=True)
class _Post:
    """A post as seen by what lands on it. ``side`` "" where no circuit feeds it."""

    instrument: Fitted
    post: FittedPost
    side: str


class Landings:
    """Finds the post of every boat wire and collects the faults."""

    def __init__(self, draft: Draft, signals: Signals, supplies: Mapping[str, Supply]) -> None:
        self._draft = draft
        self._signals = signals
        self._fitted = {instrument.name: instrument for instrument in signals.fitted}
        self._supplies = supplies
        self._taken: Counter[str] = Counter()
        self._on_metal: Counter[str] = Counter()
        self.complaints: list[Complaint] = []

    def find(self) -> list[Landed]:
        """Every block of boat wires that can be used, by name."""
        found: dict[str, Landed] = {}
        names: set[str] = set()
        for index, part in enumerate(self._draft.part.boat_wires):
            if part.name in names:
                message = f'there are two blocks of boat wires named "{part.name}"'
                self._say(index, ("name",), message)
            names.add(part.name)
            landed = self._boat_block(index, part)
            if landed is not None:
                found.setdefault(part.name, landed)
        return [found[name] for name in sorted(found)]

    def _say(self, index: int, keys: tuple[str | int, ...], message: str, hint: str = "") -> None:
        path = self._draft.path(SECTION, index, *keys)
        self.complaints.append(self._draft.complain(path, message, hint))

    def _boat_block(self, index: int, part: BoatWiresPart) -> Landed | None:
        on_signals = self._signals.of_block(index)
        if on_signals:
            return self._sender(index, part, on_signals)
        targets = [self._target(index, number, wire) for number, wire in enumerate(part.wires)]
        for number, (wire, target) in enumerate(zip(part.wires, targets, strict=True)):
            self._check_wire(index, number, wire, target.side if target else "")
            if target is not None:
                self._check_post(index, number, wire, target)
        present = [target for target in targets if target is not None]
        if len(present) < len(targets):
            return None
        before = len(self.complaints)
        is_sender = self._is_sender(index, part, present)
        for number, target in enumerate(present):
            self._check_role(index, number, target, is_sender)
        if len(self.complaints) > before:
            return None
        return self._currents(index, part, present, is_sender)

    def _sender(
        self, index: int, part: BoatWiresPart, on_signals: Mapping[int, Signal]
    ) -> Landed | None:
        """A sender on a signal circuit: what is left of it here is its ground wire, if it has one.

        What it returns is what the instruments on its circuit send there.
        """
        for number, signal in on_signals.items():
            self._check_wire(index, number, part.wires[number], "signal")
            self._check_held(index, number, part.wires[number], signal)
        rest = [number for number in range(len(part.wires)) if number not in on_signals]
        targets = {number: self._target(index, number, part.wires[number]) for number in rest}
        before = len(self.complaints)
        if len(rest) > 1 or len(on_signals) > 1:
            message = "a sender has one wire to its signal circuit, and one ground wire or none"
            self._say(index, ("wires",), message, "write one block for each sender")
        for number, target in targets.items():
            if target is not None:
                self._check_wire(index, number, part.wires[number], target.side)
                self._check_post(index, number, part.wires[number], target)
                if target.side != "ground" and not self._draft.lost.supplies:
                    message = "the other wire of a sender goes to a ground"
                    self._say(index, ("wires", number, "lands_on"), message)
        on_ground = [t.instrument.post_id(t.post.name) for t in targets.values() if t is not None]
        returns_to = self._returns_to(index, part, on_ground)
        if len(self.complaints) > before or len(on_ground) < len(rest):
            return None
        (signal,) = on_signals.values()
        left = part.model_copy(update={"wires": tuple(part.wires[number] for number in rest)})
        current_ma = self._signal_ma(signal)
        return Landed(index, left, tuple(on_ground), True, current_ma, "", returns_to)

    def _signal_ma(self, signal: Signal) -> int:
        """What all instruments on a signal circuit send to its sender together."""
        total = signal.wire.current_ma * len(signal.dials)
        for member in signal.lights:
            own = member.instrument.part.loads
            for load in member.instrument.pattern.loads:
                if load.name in member.returning:
                    total += own.get(load.name, load.current)
        return total

    def _check_held(self, index: int, number: int, wire: BoatWirePart, signal: Signal) -> None:
        """The post that a sender's wire says, where it says one."""
        posts = [post for member in signal.members for post in member.posts]
        if signal.wire.held:
            name = signal.wire.held.partition(".")[2]
            posts = [post for post in posts if post.name == name]
        kinds = {post.part.kind for post in posts}
        threads = {post.part.thread for post in posts if post.part.kind == "stud"}
        if wire.ring is None or not posts:
            return
        if "stud" not in kinds or wire.ring.thread not in threads:
            message = f"its ring for {wire.ring.thread} fits no post of the signal circuit"
            self._say(index, ("wires", number, "ring"), message)

    def _target(self, index: int, number: int, wire: BoatWirePart) -> _Post | None:
        name, dot, post_name = wire.lands_on.partition(".")
        keys = ("wires", number, "lands_on")
        if not dot:
            message = f'"{wire.lands_on}" is no signal circuit, and no post'
            hint = (
                'write instrument, dot, post, as in "fuel.signal"; a sender that several '
                f'instruments share: feeds = {{ signal = "{wire.lands_on}" }} at each of them'
            )
            if wire.lands_on in self._supplies:
                hint = 'write instrument, dot, post, as in "fuel.ground"'
            self._say(index, keys, message, hint)
            return None
        instrument = self._fitted.get(name)
        if instrument is None:
            lost = self._draft.lost
            if name not in lost.instruments and not lost.unnamed_instrument:
                message = f'there is no instrument "{name}"'
                self._say(index, keys, message, nearest(name, self._fitted))
            return None
        post = instrument.posts.get(post_name)
        if post is None:
            message = f'"{name}" has no post "{post_name}"'
            self._say(index, keys, message, nearest(post_name, instrument.posts))
            return None
        supply = self._supplies.get(post.circuit)
        return _Post(instrument, post, supply.side if supply else "")

    def _check_wire(self, index: int, number: int, wire: BoatWirePart, side: str) -> None:
        path = self._draft.path(SECTION, index, "wires", number)
        self.complaints += checked_supplied(self._draft, path, wire, side)
        if wire.entry is not None and wire.reach is None:
            message = '"reach" is missing: with an entry the reach is judged'
            self._say(index, ("wires", number), message)

    def _check_post(self, index: int, number: int, wire: BoatWirePart, target: _Post) -> None:
        post, keys = target.post, ("wires", number, "lands_on")
        self._taken[wire.lands_on] += 1
        self._on_metal[_metal(target)] += 1
        if wire.fuse is not None and target.side == "ground":
            message = "a ground has no fuse: it belongs in the feed"
            self._say(index, ("wires", number, "fuse"), message, "leave the key out")
        if post.part.kind == "lead" and not post.spare:
            self._check_lead(index, number, wire, target)
        elif post.spare:
            message = f'feeds calls this post "{SPARE}": no wire goes to it'
            self._say(index, keys, message, "say what it is in feeds, or land the wire elsewhere")
        elif post.part.kind == "tab":
            self._check_tab(index, number, wire, target)
        elif wire.ring is not None and wire.ring.thread != post.part.thread:
            message = f"its ring is for {wire.ring.thread}, the stud is {post.part.thread}"
            self._say(index, ("wires", number, "ring"), message)

    def _check_lead(self, index: int, number: int, wire: BoatWirePart, target: _Post) -> None:
        """A lead has one fitting, which what comes aboard shares with no jumper."""
        keys, post = ("wires", number, "lands_on"), target.post
        if target.side or post.circuit:
            message = f'this lead is on circuit "{post.circuit}": its one fitting is for a jumper'
            self._say(index, keys, message, self._beside_lead(post))
        elif self._taken[wire.lands_on] > 1:
            message = "this lead is used twice: it takes one fitting, and another wire has it"
            self._say(index, keys, message)
        elif wire.ring is not None:
            message = "a ring does not go on a lead: the wires are crimped together"
            self._say(index, ("wires", number, "ring"), message)

    def _beside_lead(self, lead: FittedPost) -> str:
        """Where the wire may land instead: a stud of the lead's circuit."""
        studs = [
            instrument.post_id(post.name)
            for instrument in self._fitted.values()
            for post in instrument.posts.values()
            if post.part.kind == "stud" and lead.circuit and post.circuit == lead.circuit
        ]
        if lead.circuit not in self._supplies or not studs:
            return f"leave the wire out of this plan; {LEFT_OUT.partition(';')[0]}"
        listed = ", ".join(f'"{post}"' for post in sorted(studs)[:6])
        return f'it may land on a stud of circuit "{lead.circuit}": {listed}'

    def _check_tab(self, index: int, number: int, wire: BoatWirePart, target: _Post) -> None:
        keys = ("wires", number, "lands_on")
        if wire.ring is not None:
            self._say(index, ("wires", number, "ring"), "a ring does not go on a tab")
        if self._taken[wire.lands_on] > 1:
            message = "this tab is used twice: a tab takes one push-on, and another wire has it"
            self._say(index, keys, message)
        elif target.side and not target.post.part.optional and not self._stands_alone(target):
            message = (
                f'this tab is used twice: the jumper of circuit "{target.post.circuit}" has it'
            )
            self._say(index, keys, message)

    def _stands_alone(self, target: _Post) -> bool:
        return stands_alone(self._supplies, self._fitted.values(), target.post)

    def _is_sender(self, index: int, part: BoatWiresPart, targets: list[_Post]) -> bool:
        """Whether a block is a sender. Where nothing says so it is asked, never guessed."""
        if part.role is not None or part.sender is not None:
            return part.role == "signal" or part.sender is not None
        if any(t.post.function == "load" and not t.post.circuit for t in targets):
            return False
        on_signal = any(t.post.part.function in SENDER_FUNCTIONS for t in targets)
        if on_signal or _called_sender(part):
            return True
        on_ground = all(target.side == "ground" for target in targets)
        if not (on_ground and part.current is None) and not _STOP.search(_bare(part.name)):
            message = f'"role" is missing: is "{part.name}" a load or a sender?'
            hint = (
                'role = "load" for what draws its current here, with current = "..."; a sender\'s '
                f"wire lands on its dial's signal post; anything else: {LEFT_OUT}"
            )
            self._say(index, (), message, hint)
        return False

    def _check_role(self, index: int, number: int, target: _Post, is_sender: bool) -> None:
        keys, post = ("wires", number, "lands_on"), target.post
        declared = post.part.function in SENDER_FUNCTIONS and bool(post.circuit)
        called = _called_sender(self._draft.part.boat_wires[index])
        if target.side == "stop":
            message = "a stop circuit never meets another wire: it is its pigtail's alone"
            self._say(index, keys, message)
        elif called and not is_sender and target.side == "feed":
            message = "its name says sender, and its wire lands on a feed"
            hint = "a sender's wire lands on a signal post, and takes no power"
            self._say(index, keys, message, hint)
        elif is_sender and declared:
            message = (
                f'a sender lands on this post, and feeds puts it on circuit "{post.circuit}": '
                "a post fed by a sender never takes power"
            )
            self._say(index, keys, message)
        elif is_sender and (target.side == "feed" or post.function == "load"):
            message = "a sender's wire lands on a feed: a post that takes power is no place for it"
            signals = [name for name, p in target.instrument.posts.items() if _takes_sender(p)]
            named = f'"{target.instrument.post_id(signals[0])}"' if signals else "a signal post"
            self._say(index, keys, message, f"it belongs on {named}")
        elif not is_sender and _takes_sender(post):
            message = "a signal post takes a sender's wire only"
            self._say(index, keys, message, 'a switched load lands on a "load" post')
        elif _takes_sender(post) and self._on_metal[_metal(target)] > 1:
            self._say(index, keys, "this signal post is fed by two senders")
        elif self._is_dead(target) and not _takes_sender(post) and post.function != "load":
            message = "no circuit feeds this post: nothing can be connected to it"
            self._say(index, keys, message)

    def _is_dead(self, target: _Post) -> bool:
        """No circuit reaches the post (where it should, that is said at the post itself)."""
        if self._draft.lost.supplies and target.post.circuit:
            return False
        return not target.side and (not target.post.circuit or target.post.part.optional)

    def _currents(
        self, index: int, part: BoatWiresPart, targets: list[_Post], is_sender: bool
    ) -> Landed | None:
        ids = [t.instrument.post_id(t.post.name) for t in targets]
        switched = [t for t in targets if not t.post.circuit]
        on_feed = [i for i, t in zip(ids, targets, strict=True) if t.side == "feed"]
        on_ground = [i for i, t in zip(ids, targets, strict=True) if t.side == "ground"]
        ground_alone = bool(on_ground) and len(on_ground) == len(ids) and not is_sender
        if self._is_no_load(index, part, ground_alone=ground_alone):
            return None
        before = len(self.complaints)
        if is_sender and not switched and not self._draft.lost.supplies:
            message = "none of its wires lands on a signal post"
            self._say(index, ("wires",), message)
        if len(switched) + len(on_feed) > 1 or len(on_ground) > 1:
            message = "two of its wires carry the same current: only one may lead in, and one back"
            self._say(index, ("wires",), message, "write one block for each pair of wires")
        current_ma = self._current(index, part, is_sender, bool(switched or on_feed))
        drawn_from = on_feed[0] if on_feed else ""
        if switched and current_ma:
            drawn_from = self._drawn_from(index, switched[0])
        if len(self.complaints) > before:
            return None
        returns_to = self._returns_to(index, part, on_ground) if current_ma else ""
        drawn_from = drawn_from if current_ma else ""
        return Landed(index, part, tuple(ids), is_sender, current_ma, drawn_from, returns_to)

    def _returns_to(self, index: int, part: BoatWiresPart, on_ground: Sequence[str]) -> str:
        """Where its current comes back: by its own ground wire, else as stated; "" elsewhere."""
        stated = part.returns_to
        if on_ground:
            if stated is not None:
                message = f'its own wire on "{on_ground[0]}" says where its current comes back'
                self._say(index, ("returns_to",), message, "leave the key out")
            return on_ground[0]
        if stated is None or stated in ELSEWHERE:
            return ""
        if not is_ground_post(self._fitted.values(), self._supplies, stated):
            message = f'"{stated}" is no post of a ground'
            self._say(
                index, ("returns_to",), message, 'a ground post of this panel, "engine" or "boat"'
            )
        return stated

    def _is_no_load(self, index: int, part: BoatWiresPart, *, ground_alone: bool) -> bool:
        """True, and said, for what nobody tells what it is, and for a stop circuit."""
        if ground_alone and part.current is None:
            message = f'what is "{part.name}"? It lands on ground alone, and no current is stated'
            hint = (
                "a sender's wire lands on its dial's signal post; the return of a load states "
                f"the load's current; a charge lamp, alternator or relay: {LEFT_OUT}"
            )
            self._say(index, ("name",), message, hint)
            return True
        if _STOP.search(_bare(part.name)):
            message = "a stop circuit meets no feed and no other circuit: it is no boat wire"
            hint = f'it comes as a pigtail with role = "stop"; where it does not: {LEFT_OUT}'
            self._say(index, ("name",), message, hint)
            return True
        return False

    def _drawn_from(self, index: int, target: _Post) -> str:
        """The post an instrument takes in what it passes on to a wire; "" and said where none."""
        found = self._feed_post(target)
        if not found and not self._waits_for_supply(target.instrument):
            message = "nothing feeds the instrument it takes its current from"
            hint = "its near post belongs to no circuit: say in feeds which feed it is on"
            self._say(index, ("name",), message, hint)
        return found

    def _current(self, index: int, part: BoatWiresPart, is_sender: bool, draws: bool) -> int:
        if is_sender:
            return SENDER_MA if part.current is None else part.current
        if not draws:
            if part.current and not self._draft.lost.supplies:
                self._say(index, ("current",), "none of its wires lands on a feed or a load post")
            return 0
        if part.current is None:
            self._say(index, (), '"current" is missing: say what it draws')
        elif part.current == 0:
            self._say(index, ("current",), "current: must be more than zero")
        return part.current or 0

    def _waits_for_supply(self, instrument: Fitted) -> bool:
        """Its circuits have no supply, which is said elsewhere."""
        return self._draft.lost.supplies or any(
            post.circuit and post.circuit not in self._supplies
            for post in instrument.posts.values()
        )

    def _feed_post(self, target: _Post) -> str:
        """The post where the instrument takes in what passes by its signal or load post."""
        instrument = target.instrument
        find = near_post if target.post.function == "load" else dial_feed
        name = find(instrument, self._supplies)
        return instrument.post_id(name) if name else ""


def _called_sender(part: BoatWiresPart) -> bool:
    """True where its name says that it is a sender."""
    return _SENDER.search(_bare(part.name)) is not None


def _bare(name: str) -> str:
    """A name as its words alone, with no digits, hyphens or underlines between them."""
    return re.sub(r"[\W_\d]+", " ", name)


def _metal(target: _Post) -> str:
    """The piece of metal a wire lands on: linked posts are one."""
    return target.instrument.metal(target.post.name)
