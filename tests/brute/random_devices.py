"""Instruments and devices of a small random console with ways, drawn one by one."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from types import MappingProxyType
from typing import Any

from brute.random_parts import Draft
from lugwright.scenario.console import BoatBlock, Load, Way, WayKind

COLOURS = MappingProxyType(
    {
        "battery": "red",
        "switched": "orange",
        "ignition": "purple",
        "ground": "black",
        "lamps": "dark blue",
        "accessory": "brown",
        "anchor": "gray",
        "stop": "black with yellow stripe",
    }
)


def colour_of(circuit: str) -> str:
    """The colour of a circuit's wires, whichever harness it is of."""
    return COLOURS[circuit.split()[-1]]


LAYOUTS = (
    *("key", "key", "light", "light", "key and light", "block", "block", "far post alone"),
    *("key and block", "block and light", "two positions", "two positions", "key and positions"),
    "key and block and light",
)

FUSED = tuple(name for name in LAYOUTS if "block" in name)


class WayDraft(Draft):
    """A console with one device or two in the making.

    ``supplied`` and ``taken`` name the far post, or the circuit, that feeds a circuit.
    """

    def __init__(self, rng: Random, tight: frozenset[str]) -> None:
        super().__init__(rng, tight)
        self.layout = rng.choice(FUSED if "section" in tight else LAYOUTS)
        self.ways: list[Way] = []
        self.supplied: dict[str, str] = {}
        self.taken: dict[str, str] = {}
        self.nominal_mv = rng.choice((12_000, 12_000, 12_000, 24_000))
        self.heavy = rng.choice((1, 1, 2))
        devices = 1 + self.layout.count(" and ")
        self.dials = rng.choice(((2, 2, 3), (1, 2), (1,))[devices - 1])
        self.count = self.dials + 3
        self.width_dmm = self.spacing_dmm * (self.count + 1)
        self.lamps = "own" if "light" in self.layout else rng.choice(("none", "none", "taken"))
        if self.layout == "far post alone":
            self.lamps = "taken"
        self.small = True

    def fill_with_devices(self) -> None:
        """Draw the devices, the dials they feed, and what comes aboard."""
        self.traits |= {self.layout, f"lamps {self.lamps}"}
        for number in range(self.dials):
            self._dial(number, True)
        feed = "ignition"
        if "key" in self.layout:
            block = "block" in self.layout
            feed = self._key("switched" if block else "ignition")
        if "block" in self.layout:
            self._block("battery" if feed == "ignition" else "switched")
        if "light" in self.layout:
            self._light()
        if "positions" in self.layout:
            self._two_positions("battery" if self.rng.random() < 0.2 else "ignition")
        if "alone" in self.layout:
            self._alone()
        if self.lamps == "taken" and "lamps" in self.circuit_posts():
            alone = "alone" in self.layout and self.rng.random() < 0.7
            self.taken["lamps"] = "accessory" if alone else "ignition"
        self._what_comes_aboard()

    def _what_comes_aboard(self) -> None:
        """Senders, a bar of linked ground studs, a load's pigtail on a dial."""
        rng = self.rng
        for number in range(self.dials):
            if rng.random() < 0.2:
                self._sender(number)
        if self.dials < 3 and rng.random() < 0.15:
            self._bus_bar(len(self.instruments))
        studs = [p for p in self.posts if p.circuit == "ignition" and p.kind == "stud"]
        if studs and rng.random() < 0.12:
            self._at_far_post("horn", rng.choice(studs).id)

    @property
    def few(self) -> bool:
        """Few enough posts for splice points and lamps taken off anywhere."""
        posts = [len(posts) for posts in self.circuit_posts().values()]
        return max(posts) <= 4 and sum(posts) <= 10

    # -- devices -----------------------------------------------------------------------------

    def _device(self, pattern: str, **fields: Any) -> str:
        name = self._instrument(len(self.instruments), pattern, self.rng.random() < 0.5)
        self.instruments.append(replace(self.instruments.pop(), **fields))
        return name

    def _way(self, device: str, near: str, far: str, kind: WayKind, **fields: Any) -> None:
        rng = self.rng
        contact = rng.choice((5_000, 12_000, 25_000) if "contact" in self.tight else (0, 2_000))
        self.ways.append(Way(device, near, far, kind, contact_uohm=contact, **fields))
        circuit = next(post.circuit for post in self.posts if post.id == far)
        if circuit:
            self.supplied[circuit] = far

    def _key(self, beyond: str) -> str:
        """A key, or a lanyard that opens the feed, between the battery's pigtail and the rest."""
        lanyard = self.rng.random() < 0.2
        positions = self.rng.choice((("off", "on"), ("off", "on", "start")))
        name = self._device("key", positions=() if lanyard else positions, lanyard=lanyard)
        near = self._post(name, "bat", "battery", (0, 60), self._kind(0.3, 0.1))
        far = self._post(name, "ign", beyond, (70, 0), self._kind(0.35, 0.15))
        closed = ("lanyard in",) if lanyard else positions[1:]
        self._way(name, near, far, "switch", closed=closed)
        self._pilot(name, far, 0.25)
        if self.rng.random() < 0.3:
            self._stop(name, ("off",) if positions and not lanyard else ("lanyard out",))
            if self.rng.random() < 0.4:
                self._stop(self._device("kill switch", lanyard=True), ("lanyard out",))
        if self.rng.random() < 0.15:
            self._receptacle_on("battery")
        return beyond

    def _stop(self, device: str, closed: tuple[str, ...]) -> None:
        """A stop way: from the engine's stop wire to a ground post, which it needs here."""
        self.traits.add("stop")
        grounds = [p.id for p in self.posts if p.instrument == device and p.circuit == "ground"]
        if not grounds:
            grounds = [self._post(device, "ground", "ground", (0, -60), self._kind(0.3, 0.1))]
        near = self._post(device, "stop", "stop", (-70, 0), self._kind(0.4, 0.2))
        self.ways.append(Way(device, near, grounds[0], "stop", closed=closed))

    def _block(self, above: str) -> None:
        """A fuse block: a way for the dials, and mostly one more, now and then an empty holder."""
        rng = self.rng
        name = self._device("block")
        near = self._post(name, "in", above, (-60, 60), "stud")
        kind: WayKind = rng.choice(("fuse", "fuse", "breaker"))
        free = {"trip_free": rng.random() < 0.8} if kind == "breaker" else {}
        far = self._post(name, "f1", "ignition", (60, 60), self._kind(0.4, 0.1))
        self._way(name, near, far, kind, amperes_ma=1, **free)
        if rng.random() < 0.7:
            if rng.random() < 0.1:
                self.traits.add("empty holder")
                spare = self._post(name, "f3", "", (60, -60), "stud", function="accessory")
                self._way(name, near, spare, kind, **free)
            far = self._post(name, "f2", "accessory", (60, 0), self._kind(0.4, 0.0))
            self._way(name, near, far, kind, amperes_ma=1, **free)
            if rng.random() < 0.4 and self.dials < 3:
                self._receptacle_on("accessory")
            else:
                self._at_far_post("accessory", far)

    def _light(self) -> None:
        """A light switch or a dimmer between ignition and lamps."""
        kind: WayKind = self.rng.choice(("switch", "switch", "dimmer"))
        positions = ("off", "on") if kind == "switch" else ()
        name = self._device("light", positions=positions)
        near = self._post(name, "in", "ignition", (-60, 0), self._kind(0.4, 0.0))
        far = self._post(name, "out", "lamps", (60, 0), self._kind(0.4, 0.1))
        self._way(name, near, far, kind, closed=positions[1:])
        self._pilot(name, far, 0.2)

    def _alone(self) -> None:
        """A switch or fuse whose far post is its circuit's only one: lamps may be taken from it."""
        rng = self.rng
        kind: WayKind = rng.choice(("switch", "fuse"))
        switched: dict[str, Any] = {"positions": ("off", "on")} if kind == "switch" else {}
        name = self._device("switch", **switched)
        near = self._post(name, "in", "ignition", (-60, 0), self._kind(0.4, 0.0))
        far = self._post(name, "out", "accessory", (60, 0), self._kind(0.5, 0.1))
        how: dict[str, Any] = {"closed": ("on",)} if switched else {"amperes_ma": 1}
        self._way(name, near, far, kind, **how)
        self._pilot(name, rng.choice((near, far)), 0.3)
        is_lead = any(post.id == far and post.kind == "lead" for post in self.posts)
        if rng.random() < 0.2 and not is_lead:
            self._at_far_post("accessory", far)

    def _two_positions(self, above: str) -> None:
        """Off, one, other (and now and then both): the loads of one position, or of the other."""
        rng = self.rng
        both = rng.random() < 0.25
        positions = ("off", "one", "other", "both") if both else ("off", "one", "other")
        name = self._device("selector", positions=positions)
        near = self._post(name, "in", above, (0, 60), self._kind(0.3, 0.0))
        for far_name, circuit, at in (("a", "accessory", -60), ("b", "anchor", 60)):
            far = self._post(name, far_name, circuit, (at, -40), self._kind(0.4, 0.0))
            held = ("one" if far_name == "a" else "other", *(("both",) if both else ()))
            self._way(name, near, far, "switch", closed=held)
            if far_name == "a" and rng.random() < 0.3 and self.dials < 3:
                self._receptacle_on(circuit)
            else:
                self._at_far_post(circuit, far)

    # -- what hangs on them ------------------------------------------------------------------

    def _pilot(self, device: str, far: str, share: float) -> None:
        """Now and then a small lamp in the device itself, from the far post to its own ground."""
        if self.rng.random() < share:
            self.traits.add("load at a device")
            ground = self._post(device, "ground", "ground", (0, -60), self._kind(0.3, 0.0))
            self._load(f"{device} pilot", far, ground, self.rng.randint(1, 8) * 50, "other")

    def _receptacle_on(self, circuit: str) -> None:
        name = self._instrument(len(self.instruments), "receptacle", self.rng.random() < 0.4)
        feed = self._post(name, "feed", circuit, (-60, 0), self._kind(0.25, 0.1))
        ground = self._post(name, "ground", "ground", (60, 0), self._kind(0.25, 0.1))
        self._load(name, feed, ground, self.rng.randint(10, 50) * 100, "other")

    def _at_far_post(self, circuit: str, far: str) -> None:
        """A load in the boat, fed from a far post; it returns to the panel or elsewhere."""
        rng = self.rng
        studs = [p for p in self.posts if p.circuit == "ground" and p.kind == "stud"]
        grounds = [post.id for post in studs if not post.optional]
        back = rng.choice(grounds) if grounds and rng.random() < 0.6 else ""
        name = f"{circuit} load"
        wires = [self._wire(name, "feed", far, 0.2, True)]
        if rng.random() < 0.1:
            wires = [replace(wires[0], fuse_ma=rng.choice((7500, 20_000)))]
        if back:
            wires.append(self._wire(name, "ground", back, 0.0, True))
        kind: Any = rng.choice(("bulb", "motor", "relay", "led", "resistive"))
        duty: Any = "momentary" if rng.random() < 0.15 else "continuous"
        if not back and rng.random() < 0.4:
            self.traits.add("load pigtail")
            wires = [replace(wires[0], stage="bench")]
        block = BoatBlock(
            name, tuple(wires), rng.randint(8, 50) * 100, far, back, "other", False, kind, duty
        )
        self.boat_blocks.append(block)

    def _load(self, name: str, feed: str, ground: str, current_ma: int, drop_class: Any) -> None:
        light = "lamp" in name or "pilot" in name
        kinds: Any = ("bulb", "bulb", "led") if light else ("resistive", "motor", "relay")
        kind = self.rng.choice(kinds)
        duty: Any = "momentary" if not light and self.rng.random() < 0.08 else "continuous"
        self.loads.append(Load(name, feed, ground, current_ma, drop_class, kind, duty))
