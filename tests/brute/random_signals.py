"""Small random consoles with senders that instruments share, and with one or two harnesses.

Dials read a sender by resistance or by pulses, lamps and buzzers return by a switch; the sender's
wire is a pigtail of the harness or comes aboard, with or without a ground wire of its own. Names
and numbers are invented.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

from support.limits import plain_limits

from brute.case import Case
from brute.random_consoles import REDRAWN, random_ties
from brute.random_devices import WayDraft, colour_of
from brute.random_stock import given_wire, random_limits, random_stock
from brute.random_ways import FACTORS, fitted_limits, looked_up, pigtail_of, with_least_drop
from brute.straight_routes import leg_dmm, splice_candidates
from lugwright.limits.schema import Limits
from lugwright.scenario.console import (
    BoatBlock,
    Circuit,
    Console,
    Load,
    Pigtail,
    Point,
    ReadyRing,
    Sender,
    SenderKind,
)

TIGHT = ("thread", "lugs", "barrel", "ampacity", "contact", "contact")
SIGNAL_COLOURS = ("tan", "gray", "light blue")
SECOND = "port "
OWN = ("ignition", "ground", "lamps")
"""Circuits that each harness has for itself."""


def random_signal_case(seed: int) -> Case:
    """One small random case with signals; the same seed gives the same case.

    A draw without a plan mostly is drawn again, up to five times. In a part of them the drop
    allowed is about the least that a plan can keep.
    """
    for attempt in range(6):
        rng = Random(f"signals {seed + attempt * REDRAWN}")
        case = _drawn(rng, seed)
        if attempt == 5 or rng.random() < 0.06 or case.best().cost is not None:
            break
    return with_least_drop(case) if "drop" in case.traits else case


def _drawn(rng: Random, seed: int) -> Case:
    tight = frozenset(rng.choice(TIGHT) for _ in range(rng.randint(2, 3)))
    limits = replace(plain_limits(**random_limits(rng, tight)), **FACTORS)
    draft = SignalDraft(rng, tight)
    draft.fill_with_signals()
    console = draft.console(limits)
    limits = replace(fitted_limits(rng, console, limits, draft), ground_shift_mv=None)
    tabs = any(post.kind == "tab" for post in console.posts)
    colours = list(dict.fromkeys(circuit.colour for circuit in console.circuits))
    sizes = 2 if limits.wire_size_choice == "jumper" else 3
    stock = random_stock(rng, colours, sizes, draft.threads, tabs, tight)
    splices = {}
    if limits.splices:
        for circuit in console.circuits:
            most = 1 if 3 <= len(circuit.posts) <= 4 else 0
            named = splice_candidates(console, circuit.name, limits.dress_height_dmm, most)
            splices[circuit.name] = named
    return Case(console, limits, stock, seed, frozenset(draft.traits | draft.just_kept()), splices)


class SignalDraft(WayDraft):
    """A console with shared senders in the making. ``second`` names what the harness that is drawn
    now calls its circuits by: "" or ``SECOND``."""

    def __init__(self, rng: Random, tight: frozenset[str]) -> None:
        super().__init__(rng, tight)
        self.layout = rng.choice(("plain", "plain", "plain", "key"))
        self.harnesses = rng.choice((1, 1, 2))
        self.dials = rng.choice((2, 2, 3) if self.harnesses == 1 else (1, 1, 2))
        self.count = self.dials * self.harnesses + 4
        self.width_dmm = self.spacing_dmm * (self.count + 1)
        self.lamps = rng.choice(("none", "none", "taken"))
        self.second = ""
        self.signals: list[Circuit] = []

    def _post(self, instrument: str, name: str, circuit: str, *rest: Any, **extra: Any) -> str:
        if self.second and circuit in OWN:
            extra.setdefault("function", circuit)
            circuit = self.second + circuit
        return super()._post(instrument, name, circuit, *rest, **extra)

    def fill_with_signals(self) -> None:
        """Draw what each harness feeds, and the senders it shares."""
        for number in range(self.harnesses):
            self.second = SECOND if number else ""
            self._draw_harness()
        self.second = ""
        self.traits |= {f"{self.harnesses} harnesses", self.layout, f"lamps {self.lamps}"}

    def _draw_harness(self) -> None:
        rng, first = self.rng, len(self.instruments)
        for _ in range(self.dials):
            self._dial(len(self.instruments), True)
        dials = [each.name for each in self.instruments[first:]]
        if not self.second and self.layout == "key":
            self._key("ignition")
        lights = [self._lamp() for _ in range(rng.choice((0, 1, 1, 2)))]
        reading = [name for name in dials if self._free_signal(name)]
        if reading and (len(reading) > 1 or rng.random() < 0.5):
            kind: SenderKind = rng.choice(("resistance", "pulse"))
            self._signal(kind, reading)
        if lights:
            together = len(lights) if rng.random() < 0.7 else 1
            self._signal("switch", lights[:together])
            for name in lights[together:]:
                self._signal("switch", [name])
        for name in [name for name in dials if self._free_signal(name)]:
            if rng.random() < 0.4:
                self._sender(next(n for n, i in enumerate(self.instruments) if i.name == name))
        if self.lamps == "taken" and f"{self.second}lamps" in self.circuit_posts():
            self.taken[f"{self.second}lamps"] = f"{self.second}ignition"

    def _lamp(self) -> str:
        """A warning lamp or buzzer: from ignition to a signal post, now and then to two in one."""
        rng, may_be_hub = self.rng, self.rng.random() < 0.5
        name = self._instrument(len(self.instruments), "lamp", may_be_hub)
        self._post(name, "ignition", "ignition", (-60, 0), self._kind(0.3, 0.1))
        link = {"link": "back"} if rng.random() < 0.2 else {}
        kind = "stud" if link else self._kind(0.3, 0.1)
        self._post(name, "signal", "", (60, 0), kind, **link)
        if link:
            self._post(name, "signal 2", "", (60, 60), "stud", optional=True, **link)
        return name

    def _free_signal(self, name: str) -> str:
        """The signal post of an instrument that is on no circuit yet; "" where it has none."""
        free = (p.id for p in self.posts if p.instrument == name and not p.circuit)
        return next((post for post in free if ".signal" in post), "")

    def _signal(self, kind: SenderKind, names: list[str]) -> None:
        """A signal circuit over the signal posts of some instruments, and its sender's wire."""
        rng = self.rng
        name = f"{self.second}signal {len(self.signals)}"
        posts, total = [], 0
        current = rng.randint(1, 6) * 50 * self.heavy
        for number, post in enumerate(self.posts):
            if post.instrument in names and not post.circuit and ".signal" in post.id:
                self.posts[number] = replace(post, circuit=name, function="signal")
                posts.append(post.id)
        for each in names:
            ends = {p.name: p.id for p in self.posts if p.instrument == each}
            drawn = rng.randint(1, 8) * 50 * self.heavy if kind == "switch" else current
            load: Any = "bulb" if kind == "switch" else "resistive"
            self.loads.append(
                Load(
                    f"{each}.signal",
                    ends["ignition"],
                    ends["signal"],
                    drawn,
                    "other",
                    load,
                    senses=kind != "switch",
                )
            )
            total += drawn
        aboard = rng.random() < 0.6
        back = self._sender_ground(name, total) if aboard else ""
        held = rng.choice(posts) if rng.random() < 0.2 else ""
        self.traits |= {f"signal by {kind}", f"{len(posts)} on a signal"}
        self.signals.append(
            Circuit(
                name,
                "signal",
                SIGNAL_COLOURS[len(self.signals) % len(SIGNAL_COLOURS)],
                "",
                "",
                tuple(posts),
                self._sender_wire(name, held or rng.choice(posts), aboard),
                0,
                harness=self.second or "engine",
                sender=Sender(kind, "", len(names)),
                returns_to=back,
                lands_on=held,
            )
        )

    def _sender_ground(self, name: str, total_ma: int) -> str:
        """The post where a sender's own ground wire comes back; "" where it has none."""
        grounds = [
            post.id
            for post in self.posts
            if post.circuit == f"{self.second}ground"
            and post.kind == "stud"
            and not post.optional
        ]
        if not grounds or self.rng.random() < 0.3:
            return ""
        back = self.rng.choice(grounds)
        wire = self._wire(name, "ground", back, 0.3, False)
        self.boat_blocks.append(BoatBlock(name, (wire,), total_ma, "", "", "other", True))
        self.traits.add("sender's own ground")
        return back

    def _sender_wire(self, name: str, goal: str, aboard: bool) -> Pigtail:
        """A sender's wire: a pigtail on the bench, or a wire of its block that comes aboard."""
        rng = self.rng
        entry: Point | None = Point(self.width_dmm // 2, 0, rng.choice((0, 200)))
        at = next(post for post in self.posts if post.id == goal)
        reach = leg_dmm(Point(self.width_dmm // 2, 0, 0), at.at)
        reach = reach * rng.randint(100, 150) // 100 + rng.randint(200, 2000)
        if aboard and rng.random() < 0.6:
            entry, reach = None, 0
        elif aboard and reach % 5 < 3:  # short: lengthened wherever it lands
            reach = 100 + reach % 200
        ring = None
        if rng.random() < 0.15:
            ring = ReadyRing(rng.choice(self.threads), rng.randint(7, 11), 60)
        self.traits.add("sender aboard" if aboard else "sender's pigtail")
        run = rng.choice((0, 0, rng.randint(10, 60) * 100))
        return Pigtail(
            label=f"{name}: signal" if aboard else name,
            circuit=name,
            wire=given_wire(rng.choice(("18 AWG", "16 AWG", "14 AWG")), "tan", 105),
            entry=entry,
            reach_dmm=reach,
            stage="aboard" if aboard else "bench",
            ring=ring,
            fuse_ma=0,
            fuse_distance_dmm=0,
            to_source=None,
            harness=self.second or "engine",
            own_run_dmm=run,
            of_boat=aboard,
        )

    def just_kept(self) -> set[str]:
        """Whether the drop allowed is to be just kept: mostly where a lamp's current comes back."""
        likely = 0.6 if "sender's own ground" in self.traits else 0.1
        return {"drop"} if self.rng.random() < likely else set()

    def console(self, limits: Limits) -> Console:
        """The console of this draft, with its pigtails."""
        rng = self.rng
        own = {signal.name: signal for signal in self.signals}
        circuits = []
        for name, posts in self.circuit_posts().items():
            if name in own:
                circuits.append(own[name])
                continue
            last = name.split()[-1]
            side: Any = last if last in ("ground", "stop") else "feed"
            harness = SECOND if name.startswith(SECOND) else "engine"
            fed, taken = self.supplied.get(name, ""), self.taken.get(name, "")
            circuits.append(
                Circuit(
                    name, side, colour_of(name), "", taken, posts, None, 0, fed, harness=harness
                )
            )
        console = Console(
            title="case with signals",
            width_dmm=self.width_dmm,
            height_dmm=2000,
            thickness_dmm=60,
            nominal_mv=self.nominal_mv,
            engine_space=rng.random() < 0.3,
            service_travel_dmm=rng.choice((0, 300)),
            instruments=tuple(self.instruments),
            posts=tuple(self.posts),
            loads=tuple(self.loads),
            circuits=tuple(circuits),
            unused_pigtails=(),
            boat_blocks=tuple(self.boat_blocks),
            keep_outs=(),
            tie_points=random_ties(rng, self, limits),
            ways=tuple(self.ways),
            harnesses=("engine", SECOND)[: self.harnesses],
        )
        found = looked_up(console, limits)
        fed_circuits = tuple(
            circuit
            if circuit.supplied_by or circuit.taken_from or circuit.pigtail
            else replace(
                circuit,
                pigtail=replace(
                    pigtail_of(rng, self, circuit.name, max(found.total_ma(circuit))),
                    harness=circuit.harness,
                ),
            )
            for circuit in console.circuits
        )
        return replace(console, circuits=fed_circuits)

