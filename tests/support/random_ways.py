"""Random consoles with devices put in: a key, a fuse block, a light switch, a dimmer.

Taken from the random consoles of ``brute``: what the ignition pigtail fed lands on the key, and
ignition is what is behind it. Lamps come from a fuse of their own, through a switch, from another
position of the key, or as before.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from random import Random
from typing import Any

from brute.case import Case
from brute.random_consoles import FUSES_MA
from brute.random_stock import TAB, given_wire

from lugwright.scenario.console import Circuit, Console, Instrument, LoadKind, Point, Post, Way

OFFSET = 7_000_001  # no console without devices is drawn from these numbers
REACH_DMM = 3_000  # more than to the dials it fed before
ROOMY_MA = (15_000, 20_000, 30_000)


def with_devices(case: Case) -> Case:
    """The case with devices between its ignition pigtail and its dials."""
    devices = _Devices(Random(case.seed + OFFSET), case)
    devices.put_in()
    more = devices.rng.choice((0, 5, 10, 25, 60))
    limits = replace(
        case.limits,
        drop_critical_permille=case.limits.drop_critical_permille + more,
        drop_other_permille=case.limits.drop_other_permille + more,
    )
    if devices.rng.random() < 0.2:
        limits = replace(limits, way_take_off="any")
    if devices.rng.random() < 0.3:
        limits = replace(limits, switch_12v_permille={**limits.switch_12v_permille, "bulb": 5000})
    traits = case.traits | devices.traits | {f"way take-off {limits.way_take_off}"}
    red = tuple(
        replace(spool, colour="red", name=f"{spool.wire_size} red")
        for spool in case.stock.spools
        if spool.colour == "purple"
    )
    stock = replace(case.stock, spools=(*case.stock.spools, *red))
    return replace(case, console=devices.console(), limits=limits, stock=stock, traits=traits)


@dataclass
class _Devices:
    rng: Random
    case: Case
    traits: frozenset[str] = frozenset()
    posts: list[Post] = field(default_factory=list)
    ways: list[Way] = field(default_factory=list)
    instruments: list[Instrument] = field(default_factory=list)
    circuits: list[Circuit] = field(default_factory=list)
    threads: tuple[str, ...] = ()

    def put_in(self) -> None:
        """A key first; then, now and then, fuses and what switches or dims the lamps."""
        studs = {post.thread for post in self.case.console.posts if post.kind == "stud"}
        self.threads = tuple(sorted(studs))
        pigtail = self.case.console.circuit("ignition").pigtail
        assert pigtail is not None
        bat = self._device("key", positions=("off", "on"))
        reach_dmm = pigtail.reach_dmm + REACH_DMM
        battery = replace(pigtail, label="battery pigtail", circuit="battery", reach_dmm=reach_dmm)
        if pigtail.ring:
            self.threads = (pigtail.ring.thread,)
        self._circuit("battery", "red", (self._post(bat, "bat", "battery", tab=0.0),), battery)
        feed, near = "ignition", "key.bat"
        if self.rng.random() < 0.6:
            self._switch("key", near, self._post(bat, "out", "switched"))
            near = self._fuse_block("switched")
            self._way("fuses", near, self._post(self._named("fuses"), "f1", feed), kind="fuse")
        else:
            self._switch("key", near, self._post(bat, "out", feed))
        self._lamps(near)

    def _fuse_block(self, circuit: str) -> str:
        block = self._device("fuses")
        near = self._post(block, "in", circuit)
        posts = [post.id for post in self.posts if post.circuit == circuit]
        self.circuits.append(Circuit(circuit, "feed", "red", "", "", tuple(posts), None, 0))
        self.traits |= {"fuse block"}
        return near

    def _lamps(self, near: str) -> None:
        """Lamps behind a switch or dimmer on ignition, or behind a fuse of their own."""
        names = [circuit.name for circuit in self.case.console.circuits]
        taken = "lamps" in names and self.case.console.circuit("lamps").taken_from
        draw = self.rng.random()
        if not taken or draw < 0.2:
            return
        if draw < 0.4:
            self._other_position()
            return
        if draw < 0.55 and "fuse block" in self.traits:
            self._way("fuses", near, self._post(self._named("fuses"), "f2", "lamps"), kind="fuse")
            self.traits |= {"lamps behind a fuse"}
            return
        light = self._device("light", positions=("off", "on"))
        feed = self._post(light, "in", "ignition")
        kind: Any = self.rng.choice(("switch", "switch", "dimmer"))
        if kind == "switch":
            self._switch("light", feed, self._post(light, "out", "lamps"))
        else:
            self._way("light", feed, self._post(light, "out", "lamps"), kind="dimmer")
        self.traits |= {f"lamps behind a {kind}"}

    def _other_position(self) -> None:
        """Lamps from the key, too, in a position in which it feeds nothing else."""
        key = self._named("key")
        self.instruments[0] = replace(key, positions=("off", "run", "service"))
        self.ways[0] = replace(self.ways[0], closed=("run",))
        far = self._post(key, "aux", "lamps")
        self._way("key", "key.bat", far, kind="switch", closed=("service",))
        self.traits |= {"two load states"}

    # -- pieces ------------------------------------------------------------------------------

    def _named(self, name: str) -> Instrument:
        return next(each for each in self.instruments if each.name == name)

    def _device(self, name: str, positions: tuple[str, ...] = ()) -> Instrument:
        number = len(self.instruments)
        place = Point(self.rng.randint(300, 900) + 700 * number, self.rng.choice((300, 1700)), 0)
        hub = self.rng.random() < 0.3
        made = Instrument(
            name, name, place, 220, 340, 210, 300, hub_candidate=hub, positions=positions
        )
        self.instruments.append(made)
        return made

    def _post(
        self, device: Instrument, name: str, circuit: str, *, tab: float = 0.3, lead: float = 0.1
    ) -> str:
        rng, draw = self.rng, self.rng.random()
        number = sum(post.instrument == device.name for post in self.posts)
        at = Point(
            device.centre.x_dmm - 90 + 60 * number,
            device.centre.y_dmm + rng.randint(-80, 80),
            rng.randint(20, 60) * 10,
        )
        fields: dict[str, Any] = {"kind": "stud", "thread": rng.choice(self.threads)}
        fields |= {"free_thread_dmm": 120}
        if draw < tab and self._has_tabs():
            fields = {"kind": "tab", "tab_size": TAB}
        elif draw < tab + lead and circuit != "battery":
            fields = {"kind": "lead", "lead": given_wire("16 AWG", "white", 105)}
            self.traits |= {"lead of a device"}
        if rng.random() < 0.1:
            fields["carries_ma"] = rng.choice((8000, 20_000))
        fields |= {"function": "way", "circuit": circuit, "at": at}
        post = Post(f"{device.name}.{name}", device.name, name, **fields)
        self.posts.append(post)
        return post.id

    def _has_tabs(self) -> bool:
        return any(fitting.kind == "push-on" for fitting in self.case.stock.fittings)

    def _circuit(self, name: str, colour: str, posts: tuple[str, ...], pigtail: Any) -> None:
        self.circuits.append(Circuit(name, "feed", colour, "", "", posts, pigtail, 0))

    def _switch(self, device: str, near: str, far: str) -> None:
        self._way(device, near, far, kind="switch", closed=("on",))

    def _way(
        self, device: str, near: str, far: str, *, kind: Any, closed: tuple[str, ...] = ()
    ) -> None:
        rng = self.rng
        amperes = self._fuse_ma() if kind == "fuse" else 0
        rated: tuple[LoadKind, ...] = ("bulb",) if rng.random() < 0.3 else ()
        contact = rng.choice((0, 0, 500, 2_000, 8_000))
        carries = rng.choice((0, *ROOMY_MA))
        self.ways.append(Way(device, near, far, kind, closed, carries, amperes, contact, rated))

    def _fuse_ma(self) -> int:
        """Mostly one that stands the load of the whole console, now and then one that may not."""
        console = self.case.console
        total = sum(each.current_ma for each in (*console.loads, *console.boat_blocks))
        enough = [fuse for fuse in FUSES_MA if fuse * 8 >= total * 10]
        return self.rng.choice(FUSES_MA[1:6] if self.rng.random() < 0.1 else enough[:2])

    # -- the whole ---------------------------------------------------------------------------

    def console(self) -> Console:
        """The console with every device in."""
        old = self.case.console
        fars = {way.far for way in self.ways}
        supplied = {post.circuit: post.id for post in self.posts if post.id in fars}
        circuits = []
        for circuit in [*self.circuits, *old.circuits]:
            own = [post.id for post in self.posts if post.circuit == circuit.name]
            posts = tuple(dict.fromkeys((*circuit.posts, *own)))
            if circuit.name in supplied:
                circuit = replace(circuit, pigtail=None, taken_from="")
            far = supplied.get(circuit.name, "")
            circuits.append(replace(circuit, posts=posts, supplied_by=far))
        kinds = ("bulb", "led", "resistive")
        loads = tuple(
            replace(load, kind=self.rng.choice(kinds)) if "lamp" in load.name else load
            for load in old.loads
        )
        return replace(
            old,
            instruments=(*old.instruments, *self.instruments),
            posts=(*old.posts, *self.posts),
            circuits=tuple(circuits),
            loads=loads,
            ways=tuple(self.ways),
            width_dmm=max(old.width_dmm, 3500),
            height_dmm=max(old.height_dmm, 2000),
        )
