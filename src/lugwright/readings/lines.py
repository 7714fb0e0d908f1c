"""The lines of the test sheet, in the order of work.

Ohms with the battery off; first power through a lamp; fuses in and key on; engine running.
"""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.plans.panel import PanelBoatBlock, PanelCircuit, PanelInstrument, PanelPost
from lugwright.plans.schema import Landing, Plan
from lugwright.readings import bands as b
from lugwright.readings.bands import Bands, bands_of
from lugwright.readings.contacts import contact_lines
from lugwright.readings.first_power import first_power_lines
from lugwright.readings.fuses import before_lines, switched_lines
from lugwright.readings.live_table import live_lines
from lugwright.readings.rest import rest_lines
from lugwright.readings.schema import EXTRA, Line, Sheet, numbered
from lugwright.readings.settings import Devices
from lugwright.readings.signals import apart_lines, sender_lines
from lugwright.readings.touch import Touch
from lugwright.readings.wiring import (
    Wiring,
    far_node,
    fitting_node,
    path_of,
    post_node,
    wiring_of,
)
from lugwright.trade.names import is_join, is_pigtail


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
        self.touch = Touch(self.posts)
        self.devices = Devices(plan.panel)

    def made(self) -> Sheet:
        rest, untold = rest_lines(self.plan, self.wiring, self.bands)
        lines = (
            *self._continuity(), *self._far_ends(),
            *contact_lines(self.plan, self.wiring, self.bands), *rest, *self._signals(),
            *first_power_lines(self.plan, self.wiring), *live_lines(self.plan, self.wiring),
            *before_lines(self.plan), *self._settings(), *self._supply(), *self._volts(),
            *self._switched(),
            *self._dials(), *self._boat_blocks(), *switched_lines(self.plan, self.wiring),
        )  # fmt: skip
        extra = tuple(self._extra())
        return Sheet(self.plan, self.wiring, self.bands, numbered(lines), extra, untold)

    def _places(self, circuit: PanelCircuit) -> list[PanelPost]:
        """The posts of a circuit that a wire or strap ends at, one of each metal, by id."""
        ends = {end for row in self.plan.jumpers for end in (row.from_joint, row.to_joint)}
        ends |= {landing.post for landing in self.plan.landings}
        ends |= {row.joint for row in self.plan.given}
        ends |= {post for strap in self.plan.panel.straps for post in strap.posts}
        found: dict[str, PanelPost] = {}
        for name in sorted(ends & set(circuit.posts)):
            found.setdefault(self.posts[name].link or name, self.posts[name])
        return list(found.values())

    def _landing(self, circuit: PanelCircuit) -> Landing | None:
        """Where a circuit is fed: its own landing, or that of the circuit it is taken from."""
        host = circuit.taken_from if circuit.name not in self.landed else ""
        return self.landed.get(host or circuit.name)

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
                        "", "continuity", circuit.name, start, at,
                        self.touch.words(landing.post), self.touch.words(post.id), "ohm", 0, high,
                    )  # fmt: skip

    def _far_ends(self) -> Iterator[Line]:
        """Every wire from outside, from its far end to its post."""
        joins = {row.from_joint: row for row in self.plan.jumpers if is_join(row.from_joint)}
        for row in self.plan.given:
            post = joins[row.joint].to_joint if row.joint in joins else row.joint
            if post not in self.posts:
                continue
            start, at = far_node(row.wire), post_node(post)
            high = self.bands.path_mohm(start, at)
            if high is not None:
                pigtail = is_pigtail(row.wire)
                high += 0 if pigtail else b.ABOARD_MOHM
                signals = (one for one in self.plan.panel.circuits if one.side == "signal")
                pinned = pigtail and row.circuit not in {one.name for one in signals}
                words = "its pin in the engine's plug" if pinned else "its far end, unplugged"
                yield Line(
                    "", "far end", row.circuit, start, at, f"{row.wire}, {words}",
                    self.touch.words(post), "ohm", 0, high,
                )  # fmt: skip

    def _senders(self) -> Iterator[tuple[PanelBoatBlock, str]]:
        """Senders that draw through a dial, with the dial's signal post."""
        for boat_block in self.plan.panel.boat_blocks:
            out = path_of(boat_block, self.posts).out_post
            if boat_block.is_sender and boat_block.current_ma and boat_block.drawn_from and out:
                yield boat_block, out

    def _signals(self) -> Iterator[Line]:
        """A signal post is no feed: its dial stands between them."""
        for boat_block, out in self._senders():
            if out != boat_block.drawn_from:
                least = self.plan.panel.nominal_mv * b.REST_PERMILLE // (2 * boat_block.current_ma)
                low = max(b.METER_MOHM, least // b.STEP_MOHM * b.STEP_MOHM)
                yield Line(
                    "", "signal to feed", self.posts[boat_block.drawn_from].circuit,
                    post_node(out), post_node(boat_block.drawn_from), self.touch.words(out),
                    self.touch.words(boat_block.drawn_from), "ohm", low, None,
                    what=f"{boat_block.name} unplugged",
                )  # fmt: skip

        yield from apart_lines(self.plan, self.touch.words)

    def _settings(self) -> Iterator[Line]:
        """What was set on an instrument before it went in."""
        for one in self.plan.panel.instruments:
            if one.setting:
                yield Line(
                    "", "setting", "", "", "", "", one.name, "yes or no",
                    what=f"it is set: {one.setting.rstrip('.')}",
                )  # fmt: skip

    def _supply(self) -> Iterator[Line]:
        if any(self.circuits[one.circuit].side == "feed" for one in self.plan.landings):
            nominal = self.plan.panel.nominal_mv
            yield Line(
                "", "supply", "", "minus of the supply", "plus of the supply",
                "minus of the supply", "plus of the supply", "V",
                nominal * b.SUPPLY_LOW_PERMILLE // 1000, nominal * b.SUPPLY_HIGH_PERMILLE // 1000,
            )  # fmt: skip

    def _volts(self) -> Iterator[Line]:
        for circuit in self.plan.panel.circuits:
            closed, told = self._on(circuit.name)
            for post in self._places(circuit) if self._is_fed(circuit) else ():
                node = post_node(post.id)
                if self.bands.sag_mv(node, closed) is not None:
                    words = self.touch.words(post.id)
                    yield volts_line(self.bands, "", circuit, node, words, closed, told)

    def _is_fed(self, circuit: PanelCircuit) -> bool:
        if circuit.side == "signal":
            return False
        return bool(circuit.supplied_by or self._landing(circuit))

    def _on(self, circuit: str) -> tuple[frozenset[str], str]:
        """The ways closed while a circuit is looked at, and what is set for it beyond the rest."""
        if circuit not in self.circuits or self.circuits[circuit].side != "feed":
            return self.devices.closed(self.devices.working), ""
        setting = self.devices.setting_for(circuit) or self.devices.working
        return self.devices.closed(setting), self.devices.changed(setting, self.devices.working)

    def _switched(self) -> Iterator[Line]:
        """The load's side of a switch, on and running."""
        for boat_block in self.plan.panel.boat_blocks:
            out = path_of(boat_block, self.posts).out_post
            if (
                boat_block.is_sender
                or not boat_block.drawn_from
                or out in ("", boat_block.drawn_from)
            ):
                continue
            closed, told = self._on(self.posts[boat_block.drawn_from].circuit)
            sag = self.bands.sag_mv(post_node(boat_block.drawn_from), closed)
            if sag is not None:
                yield Line(
                    "", "volts", self.posts[boat_block.drawn_from].circuit,
                    "minus of the supply", post_node(out), "minus of the supply",
                    self.touch.words(out), "V", -sag - b.SWITCH_MV, b.METER_MV, True,
                    ", ".join(one for one in (told, f"{boat_block.name} on") if one),
                    closed=closed,
                )  # fmt: skip

    def _dials(self) -> Iterator[Line]:
        for one in self.plan.panel.instruments:
            seen = one.key_on.rstrip(".") or "it wakes"
            for (closed, told), loads in self._loads_at(one).items():
                yield Line(
                    "", "does", "", "", "", "", one.name, "yes or no",
                    what=f"{told}: {seen}" if told else seen, loads=tuple(loads), closed=closed,
                )  # fmt: skip

    def _loads_at(self, one: PanelInstrument) -> dict[tuple[frozenset[str], str], list[str]]:
        """An instrument's loads by what must be closed for them."""
        mine = {post_node(post.id): post for post in self.plan.panel.posts}
        found: dict[tuple[frozenset[str], str], list[str]] = {}
        for load in self.wiring.loads:
            post = mine.get(load.a)
            if load.outside or load.share > 1 or not load.current_ma or post is None:
                continue
            if post.instrument == one.name:
                found.setdefault(self._on(post.circuit), []).append(load.name)
        return found

    def _boat_blocks(self) -> Iterator[Line]:
        senders = {boat_block.name for boat_block, _ in self._senders()}
        for boat_block in self.plan.panel.boat_blocks:
            if not boat_block.current_ma or not boat_block.drawn_from:
                continue
            if boat_block.name in senders:
                dial = self.posts[boat_block.drawn_from].instrument
                seen = (
                    f"{dial} stands at one end of its scale with the sender's wire off, at the "
                    "other with that wire held to ground (a sender of pulses: at zero with it "
                    "off), and follows the sender with it back on"
                )
            else:
                seen = "it runs as it should"
            closed, told = self._on(self.posts[boat_block.drawn_from].circuit)
            yield Line(
                "", "does", "", "", "", "", boat_block.name, "yes or no",
                what=f"{told}: {seen}" if told else seen, loads=(boat_block.name,), closed=closed,
            )  # fmt: skip

        yield from sender_lines(self.plan, self._on)

    def _extra(self) -> Iterator[Line]:
        """Volts at every fitting that belongs to a circuit."""
        wires = {row.label: row.circuit for row in self.plan.jumpers}
        wires |= {row.wire: row.circuit for row in self.plan.given}
        for crimp in self.plan.crimps:
            names = [wires.get(end.wire, "") for barrel in crimp.barrels for end in barrel]
            circuit = next((self.circuits[name] for name in names if name in self.circuits), None)
            node = fitting_node(crimp.number)
            closed, told = self._on(circuit.name) if circuit else (frozenset(), "")
            if circuit and self.bands.sag_mv(node, closed) is not None:
                words = f"metal of crimp {crimp.number} ({crimp.item}, {crimp.joint})"
                name = f"{EXTRA}{crimp.number}"
                yield volts_line(self.bands, name, circuit, node, words, closed, told)


def volts_line(
    bands: Bands, name: str, circuit: PanelCircuit, node: str, words: str,
    closed: frozenset[str], told: str,
) -> Line:  # fmt: skip
    """The volts of a node of a circuit from the supply's minus, with these ways closed.

    Raises ValueError for a node no supply reaches.
    """
    sag = bands.sag_mv(node, closed)
    if sag is None:
        raise ValueError(f"no supply reaches {node}")
    feed = circuit.side == "feed"
    low, high = (-sag, b.METER_MV) if feed else (-b.METER_MV, sag)
    return Line(
        name, "volts", circuit.name, "minus of the supply", node, "minus of the supply", words,
        "V", low, high, feed, told, closed=closed,
    )  # fmt: skip
