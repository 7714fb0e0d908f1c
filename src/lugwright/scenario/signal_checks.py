"""Faults of signal circuits: what shares a sender, what feeds it, and what its sender works by.

Two dials on one sender by resistance read wrong unless it is made for two; a lamp on a dial's
sender lights by the dial's current; instruments on feeds of their own feed each other backwards
through a shared signal; one buzzer on several switches joins them. Rule R34.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from lugwright.base.errors import Complaint
from lugwright.scenario.complaints import DID_YOU_MEAN, nearest
from lugwright.scenario.draft import PIGTAILS, Draft
from lugwright.scenario.fitting_out import SENDER_FUNCTIONS, Fitted
from lugwright.scenario.left_out import LEFT_OUT
from lugwright.scenario.near_posts import dial_feed
from lugwright.scenario.purposes import post_path
from lugwright.scenario.signals import Member, SenderWire, Signal, Signals
from lugwright.scenario.supplies import Supply
from lugwright.scenario.taken_from import CIRCUITS

_OWN = "a second sender, or one with two terminals: each is a circuit of its own"


def signal_faults(
    draft: Draft, signals: Signals, supplies: Mapping[str, Supply]
) -> list[Complaint]:
    """Every fault of signal circuits, their senders and what is on them."""
    complaints = list(_pigtails_without_place(draft))
    for signal in signals.by_name.values():
        complaints += _wire_faults(draft, signal, signals)
        if signal.members:
            found = list(_post_faults(draft, signal))
            if not found:  # else who shares it is not known
                found += _sender_faults(draft, signal)
                found += _feed_faults(draft, signal, supplies)
                found += _tab_faults(draft, signal)
            complaints += found
    complaints += _circuit_parts(draft, signals)
    complaints += _range_faults(draft, signals)
    return complaints


def _pigtails_without_place(draft: Draft) -> Iterator[Complaint]:
    for index, pigtail in enumerate(draft.pigtails):
        if pigtail.role != "signal" or pigtail.cap_off:
            continue
        path = draft.path(PIGTAILS, index)
        if pigtail.lands_on is None:
            hint = 'lands_on = "fuel.signal", or the signal circuit that several instruments share'
            yield draft.complain(path, "where does this signal pigtail land?", hint)
        if pigtail.sender is None:
            hint = 'sender = "resistance", "pulse" or "switch"; its maker\'s leaflet tells'
            yield draft.complain(path, "what does its sender work by?", hint)


def _wire_faults(draft: Draft, signal: Signal, signals: Signals) -> Iterator[Complaint]:
    """One sender a circuit, on posts that there are."""
    if not signal.members:
        known = [name for name, one in signals.by_name.items() if one.members and one.is_named]
        message = (
            f'"{signal.name}" does not name a post; write instrument, dot, post, '
            'as in "fuel.signal"'
        )
        hint = nearest(signal.name, known)
        if not hint.startswith(DID_YOU_MEAN):
            hint = (
                "where several instruments share this sender: "
                f'feeds = {{ signal = "{signal.name}" }} at each of them'
            )
        yield draft.complain(signal.wire.landing_path(draft), message, hint)
    for wire in signal.wires[1:]:
        yield _second(draft, signal, wire)


def _second(draft: Draft, signal: Signal, wire: SenderWire) -> Complaint:
    message = f'signal circuit "{signal.name}" has two senders: "{signal.wire.what}" is one already'
    hint = "a circuit has one sender: give the other instruments a circuit of their own"
    if signal.lights and not signal.dials:
        message += "; one lamp or buzzer on several switches needs a diode to each"
        hint = f"a lamp for each switch; or leave the buzzer out: {LEFT_OUT}"
    return draft.complain(wire.landing_path(draft), message, hint)


def _post_faults(draft: Draft, signal: Signal) -> Iterator[Complaint]:
    """Posts that a sender's wire has no business on."""
    for member in signal.members:
        instrument = member.instrument
        for post in member.posts:
            loads = [load for load in instrument.pattern.loads if load.feed == post.name]
            if loads:
                message = (
                    f'load "{loads[0].name}" takes its current from post "{post.name}", which is '
                    f'on signal circuit "{signal.name}": a signal gives no power'
                )
                yield draft.complain(post_path(draft, instrument, post.name), message)
            elif post.part.function not in SENDER_FUNCTIONS and not post.metal:
                message = f'post "{post.name}" is no signal post, and is on "{signal.name}"'
                hint = 'a signal post has function = "signal"; a lone junction stud has a link'
                yield draft.complain(post_path(draft, instrument, post.name), message, hint)


def _sender_faults(draft: Draft, signal: Signal) -> Iterator[Complaint]:
    """Who may share a sender, by what it works by."""
    wire, kind = signal.wire, signal.wire.kind
    dials, lights = signal.dials, signal.lights
    names = " and ".join(f'"{member.instrument.name}"' for member in (*dials, *lights)[:4])
    if kind is None:
        if wire.pigtail is None and (lights or len(dials) > 1 or signal.is_named):
            message = f'"sender" is missing: what does "{wire.what}" work by?'
            hint = 'sender = "resistance", "pulse" or "switch"; its maker\'s leaflet tells'
            yield draft.complain(wire.path(draft), message, hint)
        return
    path = wire.path(draft, "sender")
    if lights and kind != "switch":
        message = f"a lamp or buzzer works by a switch, and this sender works by {kind} ({names})"
        hint = f"for a lamp beside a dial: {_OWN}"
        yield draft.complain(path, message, hint)
    elif dials and kind == "switch" and (len(dials) > 1 or lights):
        message = f"{names} share a switch: only lamps and buzzers may"
        yield draft.complain(path, message, f"for a dial: {_OWN}")
    elif kind == "resistance" and dials and len(dials) != wire.of.stations:
        message = (
            f"{len(dials)} dial{'s' if len(dials) > 1 else ''} ({names}) on a sender that is made "
            f"for {wire.of.stations}: the needles would read wrong"
        )
        hint = (
            f"a sender made for {len(dials)} says stations = {len(dials)}, as its maker does; "
            "else each dial has a sender and a circuit of its own"
        )
        yield draft.complain(path, message, hint)
    elif kind != "resistance" and wire.of.stations != 1:
        message = "stations is said of a sender by resistance"
        yield draft.complain(wire.path(draft, "stations"), message, "leave it out")


def _feed_faults(
    draft: Draft, signal: Signal, supplies: Mapping[str, Supply]
) -> Iterator[Complaint]:
    """All on one feed: with one feed off, the other would feed it backwards."""
    first: tuple[Member, str] | None = None
    for member in signal.members:
        feed = feed_circuit(member, supplies)
        if not feed:
            continue
        if first is None:
            first = member, feed
        elif feed != first[1]:
            message = (
                f'"{first[0].instrument.name}" takes its current from "{first[1]}" and '
                f'"{member.instrument.name}" from "{feed}", and both are on signal circuit '
                f'"{signal.name}": with one feed off, the other would feed it backwards'
            )
            hint = "give both the same feed, or each a sender of its own"
            path = post_path(draft, member.instrument, member.posts[0].name)
            yield draft.complain(path, message, hint)


def feed_post(member: Member, supplies: Mapping[str, Supply]) -> str:
    """Name of the post where an instrument takes in what goes to the sender; "" where none."""
    for load in member.instrument.pattern.loads:
        if load.name in member.returning:
            return load.feed
    return dial_feed(member.instrument, supplies)


def feed_circuit(member: Member, supplies: Mapping[str, Supply]) -> str:
    """The circuit an instrument on a signal takes its current from."""
    name = feed_post(member, supplies)
    return member.instrument.posts[name].circuit if name else ""


def _tab_faults(draft: Draft, signal: Signal) -> Iterator[Complaint]:
    """What comes aboard takes a tab, or a lead's one fitting, to itself, and so does a jumper."""
    metals: dict[str, int] = {}
    kinds = {post.part.kind for member in signal.members for post in member.posts}
    if "stud" in kinds:
        return
    for member in signal.members:
        for post in member.posts:
            name = member.instrument.metal(post.name)
            metals[name] = metals.get(name, 0) + 1
    wire = signal.wire
    is_aboard = wire.pigtail is None or draft.pigtails[wire.pigtail].stage == "aboard"
    if is_aboard and len(metals) > 1 and max(metals.values()) == 1:
        told = " and ".join({"tab": "tabs", "lead": "flying leads"}[kind] for kind in sorted(kinds))
        message = (
            f'all posts of signal circuit "{signal.name}" are {told}, and the sender\'s wire comes '
            "aboard: it shares no fitting with a jumper, so no post is left for it"
        )
        hint = "a stud, or two linked tabs, on one of the instruments; or a sender for each"
        yield draft.complain(wire.landing_path(draft), message, hint)


def _circuit_parts(draft: Draft, signals: Signals) -> Iterator[Complaint]:
    """What [[circuit]] may say of a signal: its smallest wire."""
    for index, part in enumerate(draft.part.circuit):
        if part.name not in signals.by_name:
            continue
        for key in ("side", "use", "colour", "taken_from", "supplied_by"):
            if getattr(part, key) is not None:
                message = f'"{part.name}" is a signal circuit: its sender\'s wire says what it is'
                path = draft.path(CIRCUITS, index, key)
                yield draft.complain(path, message, "leave the key out")


def _range_faults(draft: Draft, signals: Signals) -> Iterator[Complaint]:
    """Dial and sender of different ranges; a range where there is no sender by resistance."""
    for instrument, path, sender_range, what in ranges(draft, signals):
        own = instrument.part.range
        if own and sender_range and own != sender_range:
            message = (
                f'dial "{instrument.name}" is made for {own} and sender "{what}" goes from '
                f"{sender_range.replace('-', ' to ')}: {_needle(own, sender_range)}"
            )
            yield draft.complain(path, message, "a sender of the dial's range, or the other dial")
    for index, part in enumerate(draft.part.boat_wires):
        if part.range and part.sender not in (None, "resistance"):
            message = f"a sender by {part.sender} has no range"
            yield draft.complain(draft.path(("boat_wires",), index, "range"), message)
    for index, pigtail in enumerate(draft.pigtails):
        if pigtail.range and pigtail.sender != "resistance":
            message = "a range is said of a sender by resistance"
            yield draft.complain(draft.path(PIGTAILS, index, "range"), message)


def _needle(own: str, other: str) -> str:
    """What the needle would do: turn the wrong way, or stop short of its ends."""
    mine, theirs = (tuple(map(float, text.split(" ")[0].split("-"))) for text in (own, other))
    if (mine[0] < mine[1]) != (theirs[0] < theirs[1]):
        return "the needle would turn the wrong way"
    return "the needle would be wrong all along its scale"


Ranged = tuple[Fitted, tuple[str | int, ...], str, str]
"""A dial, where the file says its sender, the sender's range ("" not stated) and its name."""


def ranges(draft: Draft, signals: Signals) -> Iterator[Ranged]:
    """Every dial with the sender by resistance it reads."""
    by_name = {one.name: one for one in signals.fitted}
    for signal in signals.by_name.values():
        if signal.wire.kind in (None, "resistance"):
            for member in signal.dials:
                path = signal.wire.path(draft, "range" if signal.wire.of.range else "sender")
                yield member.instrument, path, signal.wire.of.range or "", signal.wire.what
    for index, part in enumerate(draft.part.boat_wires):
        if part.role == "load" or part.sender not in (None, "resistance"):
            continue
        if signals.of_block(index):
            continue
        for wire in part.wires:
            name, _, post = wire.lands_on.partition(".")
            dial = by_name.get(name)
            if dial and post in dial.posts and dial.posts[post].part.function in SENDER_FUNCTIONS:
                path = draft.path(("boat_wires",), index, "range" if part.range else "name")
                yield dial, path, part.range or "", part.name


def range_questions(draft: Draft, signals: Signals) -> Iterator[str]:
    """What to ask before a dial goes in: a range that only one of dial and sender states."""
    for instrument, _, sender_range, what in ranges(draft, signals):
        own = instrument.part.range or ""
        if bool(own) != bool(sender_range):
            stated, other = (f'dial "{instrument.name}"', f'sender "{what}"')
            if not own:
                stated, other = other, stated
            yield (
                f"Ask which range {other} has before it goes in: {stated} is made for "
                f"{own or sender_range}, and with another the needle reads wrong."
            )
