"""The lines of the test sheet, in the order of work: before power, at first power, at key-on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from lugwright.plan.panel import PanelArrival, PanelCircuit, PanelInstrument, PanelPost
from lugwright.plan.schema import Landing, Plan
from lugwright.readings import bands as b
from lugwright.readings.bands import Bands, bands_of
from lugwright.readings.wiring import (
    JOIN,
    PIGTAIL,
    Wiring,
    far_node,
    fitting_node,
    path_of,
    post_node,
    wiring_of,
)

Unit = Literal["ohm", "V", "A", "yes or no"]
Part = Literal[
    "continuity", "far end", "feed to ground", "signal to feed",
    "first current", "supply", "volts", "does",
]  # fmt: skip
SUPPLY_LINE = "S1"
EXTRA = "X"  # the letter of lines that stand on no sheet


@dataclass(frozen=True)
class Line:
    """One thing to measure or see.

    ``start`` and ``at`` are the nodes the meter's tips touch, ``start_words`` and ``at_words`` the
    same for people. ``low`` and ``high`` are the pass band in thousandths of the unit, None where
    it has no end on that side. Where ``of_supply``, both are counted from the measured supply.
    Yes or no: ``yes`` passes. ``loads`` are the consumers that show in it.
    """

    id: str
    part: Part
    circuit: str
    start: str
    at: str
    start_words: str
    at_words: str
    unit: Unit
    low: int | None = None
    high: int | None = None
    of_supply: bool = False
    what: str = ""
    loads: tuple[str, ...] = ()


@dataclass(frozen=True)
class Sheet:
    """All lines of a plan, with the wiring and bands they come from.

    ``extra`` are lines that are measured only when they are asked for: volts at every fitting.
    """

    plan: Plan
    wiring: Wiring
    bands: Bands
    lines: tuple[Line, ...]
    extra: tuple[Line, ...]


def sheet_of(plan: Plan) -> Sheet:
    """The test sheet of a plan."""
    wiring = wiring_of(plan)
    return _Maker(plan, wiring, bands_of(plan, wiring)).made()


class _Maker:
    """Makes the lines of one plan."""

    def __init__(self, plan: Plan, wiring: Wiring, bands: Bands) -> None:
        self.plan, self.wiring, self.bands = plan, wiring, bands
        self.posts = {post.id: post for post in plan.panel.posts}
        self.circuits = {circuit.name: circuit for circuit in plan.panel.circuits}
        self.landed = {landing.circuit: landing for landing in plan.landings}
        self.count: dict[str, int] = {}

    def made(self) -> Sheet:
        lines = (
            *self._continuity(), *self._far_ends(), *self._feed_to_ground(), *self._signals(),
            *self._first_current(), *self._supply(), *self._volts(), *self._switched(),
            *self._dials(), *self._arrivals(),
        )  # fmt: skip
        return Sheet(self.plan, self.wiring, self.bands, lines, tuple(self._extra()))

    def _id(self, letter: str) -> str:
        self.count[letter] = self.count.get(letter, 0) + 1
        return f"{letter}{self.count[letter]}"

    def _places(self, circuit: PanelCircuit) -> list[PanelPost]:
        """The posts of a circuit that wire ends at, one of each piece of metal, by id."""
        ends = {end for row in self.plan.jumpers for end in (row.from_joint, row.to_joint)}
        ends |= {landing.post for landing in self.plan.landings}
        ends |= {row.joint for row in self.plan.given}
        found: dict[str, PanelPost] = {}
        for name in sorted(ends & set(circuit.posts)):
            found.setdefault(self.posts[name].link or name, self.posts[name])
        return list(found.values())

    def _landing(self, circuit: PanelCircuit) -> Landing | None:
        """Where a circuit is fed: its own landing, or that of the circuit it rides on."""
        if circuit.name in self.landed or not circuit.rides_on:
            return self.landed.get(circuit.name)
        return self._landing(self.circuits[circuit.rides_on])

    def _metal(self, post: str) -> str:
        return self.posts[post].link or post

    def _continuity(self) -> Iterator[Line]:
        for circuit in self.plan.panel.circuits:
            landing = self._landing(circuit)
            for post in self._places(circuit) if landing else ():
                if landing is None or self._metal(post.id) == self._metal(landing.post):
                    continue
                start, at = post_node(landing.post), post_node(post.id)
                high = self.bands.path_mohm(start, at)
                if high is not None:
                    yield Line(
                        self._id("C"), "continuity", circuit.name, start, at,
                        self._touch(landing.post), self._touch(post.id), "ohm", 0, high,
                    )  # fmt: skip

    def _far_ends(self) -> Iterator[Line]:
        """Every wire from outside, from its far end to its post."""
        joins = {
            row.from_joint: row for row in self.plan.jumpers if row.from_joint.startswith(JOIN)
        }
        for row in self.plan.given:
            post = joins[row.joint].to_joint if row.joint in joins else row.joint
            if post not in self.posts:
                continue
            start, at = far_node(row.wire), post_node(post)
            high = self.bands.path_mohm(start, at)
            if high is not None:
                pigtail = row.wire.startswith(PIGTAIL)
                high += 0 if pigtail else b.ABOARD_MOHM
                words = "its pin in the engine's plug" if pigtail else "its far end, unplugged"
                yield Line(
                    self._id("F"), "far end", row.circuit, start, at, f"{row.wire}, {words}",
                    self._touch(post), "ohm", 0, high,
                )  # fmt: skip

    def _sides(self, side: str) -> list[Landing]:
        return [one for one in self.plan.landings if self.circuits[one.circuit].side == side]

    def _feed_to_ground(self) -> Iterator[Line]:
        for feed in self._sides("feed"):
            metal = frozenset(
                post_node(post)
                for circuit in self.plan.panel.circuits
                if feed.circuit in (circuit.name, circuit.rides_on)
                for post in circuit.posts
            )
            for ground in self._sides("ground"):
                yield Line(
                    self._id("G"), "feed to ground", feed.circuit,
                    post_node(feed.post), post_node(ground.post),
                    self._touch(feed.post), self._touch(ground.post),
                    "ohm", self.bands.rest_mohm(metal), None, what=self._lamps_off(feed.circuit),
                )  # fmt: skip

    def _lamps_off(self, feed: str) -> str:
        """How the lamps of a feed are taken out of the measurement."""
        lamps = sorted(
            {load.a.removeprefix("post ") for load in self.wiring.consumers if load.lamp}
        )
        mine = [post for post in lamps if self._fed_by(post) == feed]
        if not mine:
            return ""
        if all(self.posts[post].kind == "tab" for post in mine):
            return f"lamp push-ons off ({len(mine)})"
        riders = {row.name for row in self.plan.panel.circuits if row.rides_on == feed}
        lifted = [
            row.label
            for row in self.plan.jumpers
            if row.circuit in riders and self._circuit_at(row.from_joint) == feed
        ]
        how = f"{', '.join(lifted)} off its stud" if lifted else "unplugged"
        return f"lamps off ({len(mine)}): {how}"

    def _circuit_at(self, joint: str) -> str:
        return self.posts[joint].circuit if joint in self.posts else ""

    def _fed_by(self, post: str) -> str:
        name = self.posts[post].circuit
        while name and self.circuits[name].rides_on:
            name = self.circuits[name].rides_on
        return name

    def _senders(self) -> Iterator[tuple[PanelArrival, str]]:
        """Senders that draw through a dial, with the dial's signal post."""
        for arrival in self.plan.panel.arrivals:
            out = path_of(arrival, self.posts).out_post
            if arrival.is_sender and arrival.current_ma and arrival.drawn_from and out:
                yield arrival, out

    def _signals(self) -> Iterator[Line]:
        """A signal post is no feed: its dial stands between them."""
        for arrival, out in self._senders():
            if out != arrival.drawn_from:
                least = self.plan.panel.nominal_mv * b.REST_PERMILLE // (2 * arrival.current_ma)
                low = max(b.METER_MOHM, least // b.STEP_MOHM * b.STEP_MOHM)
                yield Line(
                    self._id("G"), "signal to feed", self.posts[arrival.drawn_from].circuit,
                    post_node(out), post_node(arrival.drawn_from), self._touch(out),
                    self._touch(arrival.drawn_from), "ohm", low, None,
                    what=f"{arrival.name} unplugged",
                )  # fmt: skip

    def _first_current(self) -> Iterator[Line]:
        for feed in self._sides("feed"):
            all_ma = next(
                (row.current_ma for row in self.plan.given if row.wire == feed.pigtail), 0
            )
            most = all_ma * b.CURRENT_PERMILLE // 1000 // b.CURRENT_STEP_MA + 1
            yield Line(
                self._id("P"), "first current", feed.circuit, far_node(feed.pigtail),
                far_node(feed.pigtail), f"in series with {feed.pigtail}", "", "A", 0,
                most * b.CURRENT_STEP_MA,
            )  # fmt: skip

    def _supply(self) -> Iterator[Line]:
        if self._sides("feed"):
            nominal = self.plan.panel.nominal_mv
            yield Line(
                SUPPLY_LINE, "supply", "", "minus of the supply", "plus of the supply",
                "minus of the supply", "plus of the supply", "V",
                nominal * b.SUPPLY_LOW_PERMILLE // 1000, nominal * b.SUPPLY_HIGH_PERMILLE // 1000,
            )  # fmt: skip

    def _volts(self) -> Iterator[Line]:
        for circuit in self.plan.panel.circuits:
            for post in self._places(circuit) if self._landing(circuit) else ():
                node = post_node(post.id)
                if self.bands.sag_mv(node) is not None:
                    yield volts_line(self.bands, self._id("V"), circuit, node, self._touch(post.id))

    def _switched(self) -> Iterator[Line]:
        """The consumer's side of a switch, on and running."""
        for arrival in self.plan.panel.arrivals:
            out = path_of(arrival, self.posts).out_post
            if arrival.is_sender or not arrival.drawn_from or out in ("", arrival.drawn_from):
                continue
            sag = self.bands.sag_mv(post_node(arrival.drawn_from))
            if sag is not None:
                yield Line(
                    self._id("V"), "volts", self.posts[arrival.drawn_from].circuit,
                    "minus of the supply", post_node(out), "minus of the supply", self._touch(out),
                    "V", -sag - b.SWITCH_MV, b.METER_MV, True, f"{arrival.name} on",
                )  # fmt: skip

    def _dials(self) -> Iterator[Line]:
        for one in self.plan.panel.instruments:
            loads = self._loads_at(one)
            if loads:
                seen = one.key_on.rstrip(".") or "it wakes"
                yield Line(
                    self._id("D"), "does", "", "", "", "", one.name, "yes or no",
                    what=seen, loads=loads,
                )  # fmt: skip

    def _loads_at(self, one: PanelInstrument) -> tuple[str, ...]:
        mine = {post_node(post.id) for post in self.plan.panel.posts if post.instrument == one.name}
        return tuple(
            load.name
            for load in self.wiring.consumers
            if not load.outside and load.share == 1 and load.a in mine and load.current_ma
        )

    def _arrivals(self) -> Iterator[Line]:
        senders = {arrival.name for arrival, _ in self._senders()}
        for arrival in self.plan.panel.arrivals:
            if not arrival.current_ma or not arrival.drawn_from:
                continue
            if arrival.name in senders:
                dial = self.posts[arrival.drawn_from].instrument
                seen = (
                    f"{dial} stands at one end of its scale with the sender's wire off, at the "
                    "other with that wire held to ground (a sender of pulses: at zero with it "
                    "off), and follows the sender with it back on"
                )
            else:
                seen = "it runs as it should"
            yield Line(
                self._id("D"), "does", "", "", "", "", arrival.name, "yes or no",
                what=seen, loads=(arrival.name,),
            )  # fmt: skip

    def _extra(self) -> Iterator[Line]:
        """Volts at every fitting that belongs to a circuit."""
        wires = {row.label: row.circuit for row in self.plan.jumpers}
        wires |= {row.wire: row.circuit for row in self.plan.given}
        for crimp in self.plan.crimps:
            names = [wires.get(end.wire, "") for barrel in crimp.barrels for end in barrel]
            circuit = next((self.circuits[name] for name in names if name in self.circuits), None)
            node = fitting_node(crimp.number)
            if circuit and self.bands.sag_mv(node) is not None:
                words = f"metal of crimp {crimp.number} ({crimp.item}, {crimp.joint})"
                yield volts_line(self.bands, f"{EXTRA}{crimp.number}", circuit, node, words)

    def _touch(self, post: str) -> str:
        """Where the meter's tip goes: always the instrument's own metal."""
        kind = self.posts[post].kind
        return post if kind == "stud" else f"{post} ({kind})"


def volts_line(bands: Bands, name: str, circuit: PanelCircuit, node: str, words: str) -> Line:
    """The volts of a node of a circuit from the supply's minus.

    Raises ValueError for a node no supply reaches.
    """
    sag = bands.sag_mv(node)
    if sag is None:
        raise ValueError(f"no supply reaches {node}")
    feed = circuit.side == "feed"
    low, high = (-sag, b.METER_MV) if feed else (-b.METER_MV, sag)
    return Line(
        name, "volts", circuit.name, "minus of the supply", node, "minus of the supply", words,
        "V", low, high, feed,
    )  # fmt: skip
