"""Instruments, posts, loads and boat wires of a small random console, drawn one by one."""

from __future__ import annotations

from random import Random
from typing import Any

from brute.random_stock import TAB, given_wire
from brute.straight_routes import leg_dmm
from lugwright.scenario.console import (
    BoatBlock,
    BoatWire,
    Instrument,
    Load,
    Point,
    Post,
    ReadyRing,
)


class Draft:
    """A console in the making. ``small``: few enough trees for splices and the like."""

    def __init__(self, rng: Random, tight: frozenset[str]) -> None:
        self.rng = rng
        self.traits: set[str] = set()
        self.instruments: list[Instrument] = []
        self.posts: list[Post] = []
        self.loads: list[Load] = []
        self.boat_blocks: list[BoatBlock] = []
        self.count = rng.choice((3, 3, 3, 4, 4, 5))
        self.small = self.count < 5
        self.tight = tight
        self.heavy = rng.choice((3, 3, 4)) if "ampacity" in tight else rng.choice((1, 1, 2))
        lamps = ("taken", "taken", "own", "none") if self.small else ("none", "none", "taken")
        self.lamps = rng.choice(lamps)
        self.threads = rng.choice((("M4",), ("M4",), ("M5",), ("M5",), ("M4", "M5")))
        self.spacing_dmm = rng.randint(600, 1300)
        self.width_dmm = self.spacing_dmm * (self.count + 1)
        self.lug_rooms_dmm = (10, 12, 14, 18, 18, 22) if "thread" in tight else (60, 80)

    # -- whole instruments -------------------------------------------------------------------

    def fill(self) -> None:
        """Draw every instrument, then what comes aboard."""
        self.traits |= {f"{self.count} instruments", f"lamps {self.lamps}"}
        with_bus = self.count > 3 and self.rng.random() < 0.35
        for number in range(self.count):
            if number < 2:
                self._dial(number, True)
            elif with_bus and number == self.count - 1:
                self._bus_bar(number)
            else:
                draw = self.rng.choice((self._dial, self._receptacle, self._switch))
                draw(number, self.rng.random() < 0.4)
        for number in range(self.count):
            if self.rng.random() < 0.3:
                self._sender(number)

    def _instrument(self, number: int, pattern: str, hub: bool) -> str:
        rng = self.rng
        x = self.spacing_dmm * (number + 1) + rng.randint(-150, 150)
        y = rng.choice((600, 600, 1200)) + rng.randint(-60, 60)
        name = f"{pattern} {number}"
        place = Point(x, y, 0)
        self.instruments.append(
            Instrument(name, pattern, place, 520, 580, 510, 300, hub_candidate=hub)
        )
        return name

    def _dial(self, number: int, hub: bool) -> None:
        rng, name = self.rng, self._instrument(number, "dial", hub)
        kind = "stud" if number < 2 else None
        feed = self._post(name, "ignition", "ignition", (-70, 60), kind or self._kind(0.12, 0.06))
        ground = self._post(name, "ground", "ground", (70, 60), kind or self._kind(0.05, 0.08))
        self._load(name, feed, ground, self.heavy * rng.randint(2, 9) * 100, "critical")
        if rng.random() < 0.5:
            self._post(name, "signal", "", (0, -80), "stud")
        if self.lamps != "none" and (number < 2 or rng.random() < 0.6):
            lamp_kind = "stud" if self.lamps == "own" and number < 2 else self._kind(0.15, 0.2)
            lamp = self._post(name, "lamp", "lamps", (-20, -90), lamp_kind)
            self._load(f"{name} lamp", lamp, ground, self.heavy * rng.randint(1, 4) * 100, "other")
        if self.small and number == 0 and rng.random() < 0.25:
            self.traits.add("two ignition posts")
            second = self._post(name, "second", "ignition", (-90, -40), self._kind(0.2, 0.0))
            self._load(f"{name} second", second, ground, rng.randint(5, 15) * 100, "other")

    def _receptacle(self, number: int, hub: bool) -> None:
        name = self._instrument(number, "receptacle", hub)
        feed = self._post(name, "ignition", "ignition", (-60, 0), self._kind(0.25, 0.15))
        ground = self._post(name, "ground", "ground", (60, 0), self._kind(0.25, 0.15))
        self._load(name, feed, ground, self.rng.randint(20, 75) * 100, "other")

    def _switch(self, number: int, hub: bool) -> None:
        """A switch: feeds a load that comes aboard and returns to some ground stud."""
        rng, name = self.rng, self._instrument(number, "switch", hub)
        feed = self._post(name, "ignition", "ignition", (-40, 40), self._kind(0.4, 0.0))
        out = self._post(name, "load", "", (40, 40), self._kind(0.4, 0.0), function="load")
        back = rng.choice([p.id for p in self.posts if p.circuit == "ground" and p.kind == "stud"])
        wires = (
            self._wire(f"pump {number}", "out", out, 0.15, True),
            self._wire(f"pump {number}", "back", back, 0.0, True),
        )
        current = rng.randint(10, 50) * 100
        self.traits.add("load")
        self.boat_blocks.append(
            BoatBlock(f"pump {number}", wires, current, feed, back, "other", False)
        )

    def _bus_bar(self, number: int) -> None:
        """Two or three linked ground studs that the circuit need not use."""
        name = self._instrument(number, "bus bar", self.rng.random() < 0.5)
        self.traits.add("bus bar")
        for place in range(self.rng.randint(2, 3)):
            self._post(
                name,
                f"stud {place}",
                "ground",
                (100 * place - 100, 0),
                "stud",
                link="bar",
                optional=True,
            )

    # -- posts, loads, blocks of boat wires -----------------------------------------------------

    def _kind(self, tabs: float, leads: float) -> str:
        pick = self.rng.random()
        if pick < tabs:
            return "tab"
        return "lead" if pick < tabs + leads else "stud"

    def _post(
        self,
        instrument: str,
        name: str,
        circuit: str,
        offset: tuple[int, int],
        kind: str,
        **extra: Any,
    ) -> str:
        rng = self.rng
        centre = self.instruments[-1].centre
        at = Point(centre.x_dmm + offset[0], centre.y_dmm + offset[1], rng.randint(20, 60) * 10)
        fields: dict[str, Any] = {"function": circuit or "signal", **extra}
        if kind == "stud":
            thread = rng.choice(self.threads)
            room = rng.choice(self.lug_rooms_dmm) + (54 if thread == "M4" else 64)
            fields |= {"thread": thread, "free_thread_dmm": room}
            if rng.random() < 0.08 and circuit:
                fields |= {"reserved": 1, "reserved_tongue_dmm": 8, "reserved_angle_deg": 60}
                self.traits.add("reserved lug")
        elif kind == "tab":
            fields |= {"tab_size": TAB}
            self.traits.add("tab")
        else:
            size = rng.choice(("18 AWG", "16 AWG"))
            fields |= {"lead": given_wire(size, "white", 105)}
            self.traits.add("lead")
        if rng.random() < 0.05:
            fields["carries_ma"] = rng.choice((8000, 20_000))
        post_kind: Any = kind
        post = Post(
            f"{instrument}.{name}",
            instrument,
            name,
            post_kind,
            fields.pop("function"),
            circuit,
            at,
            **fields,
        )
        self.posts.append(post)
        return post.id

    def _load(self, name: str, feed: str, ground: str, current_ma: int, drop_class: Any) -> None:
        self.loads.append(Load(name, feed, ground, current_ma, drop_class))

    def _wire(self, boat_block: str, name: str, post: str, entry: float, runs: bool) -> BoatWire:
        rng = self.rng
        size = rng.choice(("16 AWG", "14 AWG", "14 AWG") if runs else ("18 AWG", "16 AWG"))
        at = next(p for p in self.posts if p.id == post)
        ring, start, reach = None, None, 0
        if at.kind == "stud" and rng.random() < 0.25:
            ring = ReadyRing(at.thread, 8, 60)
            self.traits.add("ready-made ring aboard")
        if rng.random() < entry:
            start = Point(0, 0, 0)
            reach = leg_dmm(start, at.at) * rng.randint(100, 200) // 100 + rng.randint(200, 1500)
            self.traits.add("load with entry" if runs else "sender with entry")
        run = rng.randint(10, 30) * 1000 if runs and rng.random() < 0.5 else 0
        fuse = rng.choice((0, 0, 7500)) if at.function == "load" else 0
        return BoatWire(
            f"{boat_block}: {name}",
            boat_block,
            post,
            given_wire(size, "pink", 105),
            ring,
            start,
            reach,
            run,
            fuse,
        )

    def _sender(self, number: int) -> None:
        """A sender on a dial's signal post, with a ground wire of its own or without."""
        own = {p.name: p for p in self.posts if p.instrument == self.instruments[number].name}
        if "signal" not in own:
            return
        rng, name = self.rng, f"sender {number}"
        wires = [self._wire(name, "signal", own["signal"].id, 0.4, False)]
        back = ""
        if rng.random() < 0.6 and own["ground"].kind == "stud":
            back = own["ground"].id
            wires.append(self._wire(name, "ground", back, 0.4, False))
        self.traits.add("sender")
        self.boat_blocks.append(
            BoatBlock(
                name, tuple(wires), rng.randint(1, 6) * 50, own["ignition"].id, back, "other", True
            )
        )

    # -- sums --------------------------------------------------------------------------------

    def circuit_posts(self) -> dict[str, tuple[str, ...]]:
        """The posts of each circuit, circuits by name of first use."""
        found: dict[str, tuple[str, ...]] = {"ignition": (), "ground": ()}
        for post in self.posts:
            if post.circuit:
                found[post.circuit] = (*found.get(post.circuit, ()), post.id)
        return found

    def demands(self) -> dict[str, int]:
        """Current in or out of every post, mA."""
        demand = {post.id: 0 for post in self.posts}
        for load in self.loads:
            demand[load.feed_post] += load.current_ma
            demand[load.ground_post] += load.current_ma
        for boat_block in self.boat_blocks:
            for post in filter(None, (boat_block.drawn_from, boat_block.returns_to)):
                demand[post] += boat_block.current_ma
        return demand
