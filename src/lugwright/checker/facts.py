"""Console, limits, stock and plan side by side, with the look-ups every check needs.

Look-ups never raise: what is not there is ``None`` or empty, and ``shape`` reports it once.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, replace
from typing import Literal

from lugwright.checker.live import live_posts
from lugwright.checker.positions import Closed, reached, worst_positions
from lugwright.plans.schema import Crimp, EndRef, Given, Jumper, Plan, Splice, Stack
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import (
    BoatBlock,
    BoatWire,
    Circuit,
    Console,
    GivenWire,
    Pigtail,
    Point,
    Post,
    ReadyRing,
    Stage,
    Strap,
)
from lugwright.stock.schema import FittingType, Hardware, Spool

LEAD = "lead "
PIGTAIL = "pigtail "
JOIN = "join "
READY = "ready "
STRAP = "strap "


@dataclass(frozen=True)
class PanelWire:
    """A wire the plan does not cut, with where it comes from and the post its end is for."""

    name: str
    sort: Literal["pigtail", "lead", "boat_block"]
    wire: GivenWire
    circuit: str
    post: str
    stage: Stage
    ring: ReadyRing | None
    entry: Point | None
    reach_dmm: int
    boat_block: str = ""


@dataclass(frozen=True)
class Conductor:
    """What a barrel or a table asks of a wire: areas and diameters, cut or given alike.

    ``said``: what the maker of a wire that is not cut here says of it.
    """

    area_um2: int
    insulation_um: int
    insulation_temp_c: int
    ampacity_size: str
    said: GivenWire | None = None


def end_text(end: EndRef) -> str:
    """A wire end as the crimp list and the steps write it: ``ground 3-a``."""
    return f"{end.wire}-{end.end}"


def _with_chosen_ends(console: Console, plan: Plan) -> Console:
    """The console, each lead with a length ending where the plan has its end. Rule R36."""
    free = {post.id for post in console.posts if post.lead_length_dmm}
    places = {
        row.id: Point(row.x_dmm, row.y_dmm, row.z_dmm) for row in plan.panel.posts if row.id in free
    }
    if not places:
        return console
    posts = (
        replace(post, at=places[post.id]) if post.id in places else post for post in console.posts
    )
    return replace(console, posts=tuple(posts))


class Facts:
    """The brief and the plan of the second opinion, and their look-ups."""

    def __init__(self, brief: Brief, plan: Plan) -> None:
        console, stock = _with_chosen_ends(brief.console, plan), brief.stock
        self.console, self.limits, self.stock, self.plan = console, brief.limits, stock, plan
        self.exits: dict[str, Point] = {
            post.id: post.at for post in brief.console.posts if post.lead_length_dmm
        }
        self.posts: dict[str, Post] = {post.id: post for post in console.posts}
        self.circuits: dict[str, Circuit] = {row.name: row for row in console.circuits}
        self.jumpers: dict[str, Jumper] = {wire.label: wire for wire in plan.jumpers}
        self.splices: dict[str, Splice] = {splice.label: splice for splice in plan.splices}
        self.crimps: dict[int, Crimp] = {crimp.number: crimp for crimp in plan.crimps}
        self.stacks: dict[str, Stack] = {stack.post: stack for stack in plan.stacks}
        self.given: dict[str, Given] = {given.wire: given for given in plan.given}
        self.fittings: dict[str, FittingType] = {row.name: row for row in stock.fittings}
        self.hardware: dict[str, Hardware] = {row.thread: row for row in stock.hardware}
        self.landing_of: dict[str, str] = {row.circuit: row.post for row in plan.landings}
        self.wires_in: dict[str, BoatWire] = {
            wire.id: wire for boat_block in console.boat_blocks for wire in boat_block.wires
        }
        self.boat_blocks: dict[str, BoatBlock] = {
            boat_block.name: boat_block for boat_block in console.boat_blocks
        }
        self._strapped = self._by_straps()
        self.settings: tuple[Closed, ...] = worst_positions(console)
        self._own_ma = [self.own_draw_ma(closed) for closed in self.settings]
        self._demand_ma = self._demands_ma()
        self.live_posts: frozenset[str] = live_posts(console)
        self.settings_of: dict[str, str] = {
            one.name: one.setting for one in console.instruments if one.setting
        }
        self.bare_live_studs: frozenset[str] = frozenset(
            post
            for post in self.live_posts
            if self.posts[post].kind == "stud" and not any(s.post == post for s in plan.stacks)
        )
        self.panel_wires: dict[str, PanelWire] = self._panel_wires()
        self.extension_of: dict[str, Jumper] = self._extensions()
        self.crimps_at: dict[str, list[Crimp]] = defaultdict(list)
        for crimp in plan.crimps:
            self.crimps_at[crimp.joint].append(crimp)

    def own_draw_ma(self, closed: Closed) -> Counter[str]:
        """What hangs on each post itself and is on, with these ways closed, mA. Rule R12."""
        draw: Counter[str] = Counter()
        for load in self.console.loads:
            if self.is_on(load.feed_post, closed):
                draw[load.feed_post] += load.current_ma
                draw[load.ground_post] += load.current_ma
        for boat_block in self.console.boat_blocks:
            if self.is_on(boat_block.drawn_from, closed):
                draw[boat_block.drawn_from] += boat_block.current_ma
                draw[boat_block.returns_to] += boat_block.current_ma
        return draw

    def is_on(self, post: str, closed: Closed) -> bool:
        """Whether a load drawn from a post has supply; one that hangs on no circuit has."""
        own = [row.name for row in self.console.circuits if post in row.posts]
        fed = [row.name for row in self.console.circuits if not row.taken_from + row.supplied_by]
        return not own or own[0] in reached(self.console, closed, fed)

    def _demands_ma(self) -> Counter[str]:
        """The most each post draws or returns, what hangs beyond its ways included, mA."""
        worst: Counter[str] = Counter()
        for closed, own in zip(self.settings, self._own_ma, strict=True):
            draw = Counter(own)
            for way in self.console.ways:
                if way.far in closed:
                    draw[way.near] += self._hanging_ma(way.far, closed, own)
            for row in self.console.circuits:
                if row.returns_to:
                    draw[row.returns_to] += sum(own[post] for post in row.posts)
            worst |= draw
        return worst

    def _hanging_ma(self, far: str, closed: Closed, own: Counter[str]) -> int:
        """What passes a way: all that hangs on the circuits it leads to, mA."""
        first = [row.name for row in self.console.circuits if row.supplied_by == far]
        names = reached(self.console, closed, first) if first else frozenset()
        return sum(own[post] for name in names for post in self.circuits[name].posts)

    def _panel_wires(self) -> dict[str, PanelWire]:
        found: dict[str, PanelWire] = {}
        for circuit in self.console.circuits:
            pigtail = circuit.pigtail
            if pigtail:
                wire = self._pigtail_wire(circuit.name, pigtail)
                found[wire.name] = wire
        for post in self.console.posts:
            if post.lead:
                name = LEAD + post.id
                found[name] = PanelWire(
                    name, "lead", post.lead, post.circuit, post.id, "bench", None, None, 0
                )
        for one in self.wires_in.values():
            post_there = self.posts.get(one.lands_on)
            circuit_name = post_there.circuit if post_there else ""
            found[one.id] = PanelWire(
                one.id, "boat_block", one.wire, circuit_name, one.lands_on, one.stage,
                one.ring, one.entry, one.reach_dmm, one.boat_block,
            )  # fmt: skip
        return found

    def _pigtail_wire(self, circuit: str, pigtail: Pigtail) -> PanelWire:
        post = self.landing_of.get(circuit, "")
        return PanelWire(
            PIGTAIL + circuit, "pigtail", pigtail.wire, circuit, post,
            pigtail.stage, pigtail.ring, pigtail.entry, pigtail.reach_dmm,
        )  # fmt: skip

    def _extensions(self) -> dict[str, Jumper]:
        """Extensions by the given wire they lengthen, read off the joint they share with it."""
        found: dict[str, Jumper] = {}
        for wire in self.plan.jumpers:
            if wire.role == "extension":
                for joint in (wire.from_joint, wire.to_joint):
                    if joint.startswith(JOIN):
                        found[joint.removeprefix(JOIN)] = wire
        return found

    def spool(self, jumper: Jumper) -> Spool | None:
        """The spool a jumper is cut from, by its name in stock."""
        for spool in self.stock.spools:
            if spool.name == jumper.spool:
                return spool
        return None

    def conductor(self, wire: str) -> Conductor | None:
        """Area, insulation and table row of a wire by its name; None when nothing is known."""
        jumper = self.jumpers.get(wire)
        source: Spool | GivenWire | None = None
        if jumper:
            source = self.spool(jumper)
        elif wire in self.panel_wires:
            source = self.panel_wires[wire].wire
        if source is None:
            return None
        return Conductor(
            source.area_um2, source.insulation_um, source.insulation_temp_c, source.ampacity_size,
            source if isinstance(source, GivenWire) else None,
        )  # fmt: skip

    def circuit_of(self, wire: str) -> str:
        """The circuit a wire belongs to, "" for a signal wire or a wire that is not known."""
        jumper = self.jumpers.get(wire)
        if jumper:
            return jumper.circuit
        given = self.panel_wires.get(wire)
        return given.circuit if given else ""

    def of_boat(self, name: str) -> tuple[str, GivenWire] | None:
        """A wire of the boat by its name here, with its own name there: a block's, or a sender's
        on a circuit of its own. None for a pigtail or any other wire."""
        wire = self.wires_in.get(name)
        if wire:
            return wire.id, wire.wire
        circuit = self.circuits.get(name.removeprefix(PIGTAIL))
        if circuit and circuit.pigtail and circuit.pigtail.of_boat and name.startswith(PIGTAIL):
            return circuit.pigtail.label, circuit.pigtail.wire
        return None

    def stage_of(self, wire: str) -> Stage:
        """The stage in which a wire is at hand: an extension has that of what it lengthens."""
        given = self.panel_wires.get(self.lengthened_by(wire) or wire)
        return given.stage if given else "bench"

    def lengthened_by(self, wire: str) -> str:
        """The given wire that this extension lengthens, "" when it is no extension."""
        return next(
            (name for name, extension in self.extension_of.items() if extension.label == wire), ""
        )

    def source_of(self, wire: str) -> str:
        """What a wire came with: its block, its pigtail, or the bench for a jumper."""
        given = self.panel_wires.get(self.lengthened_by(wire) or wire)
        if given is None:
            return "the bench"
        return given.boat_block or given.name

    def is_of_harness(self, wire: str) -> bool:
        """Whether a wire is a harness's pigtail, with a load or a sender at its end too, or
        lengthens one."""
        given = self.panel_wires.get(self.lengthened_by(wire) or wire)
        if given is None or given.sort == "lead":
            return False
        return given.sort == "pigtail" or given.stage == "bench"

    def end_joint(self, end: EndRef) -> str:
        """The joint a wire end is meant for, "" when the wire is not known."""
        jumper = self.jumpers.get(end.wire)
        if jumper:
            return jumper.from_joint if end.end == "a" else jumper.to_joint
        if end.wire in self.extension_of:
            return JOIN + end.wire
        given = self.panel_wires.get(end.wire)
        return given.post if given else ""

    def is_ready(self, wire: str) -> bool:
        """Whether a given wire goes on its post with its own ring (cut off when extended)."""
        given = self.panel_wires.get(wire)
        return bool(given and given.ring and wire not in self.extension_of)

    def at(self, joint: str) -> Point | None:
        """Where a post or splice is; None for the butt of an extension and for unknown names."""
        post = self.posts.get(joint)
        if post:
            return post.at
        splice = self.splices.get(joint)
        if splice:
            return Point(splice.at.x_dmm, splice.at.y_dmm, splice.at.z_dmm)
        return None

    def node(self, joint: str) -> str:
        """The joint's electrical node: posts joined inside an instrument, or by straps, are one."""
        return self._strapped.get(joint) or self.inside(joint)

    def inside(self, joint: str) -> str:
        """The node of a joint but for straps: posts joined inside an instrument are one."""
        post = self.posts.get(joint)
        if post and post.link:
            return f"link {post.instrument} {post.link}"
        return joint

    def _by_straps(self) -> dict[str, str]:
        """By post, the metal of straps and links it is part of, where a strap is."""
        metals: list[set[str]] = []
        for strap in self.console.straps:
            own = {self.inside(post) for post in strap.posts}
            own = own.union(*(metal for metal in metals if metal & own))
            metals = [metal for metal in metals if not metal & own] + [own]
        return {
            post: f"straps of {min(metal)}"
            for post in self.posts
            for metal in metals
            if self.inside(post) in metal
        }

    def strap_of(self, ready: str, post: str) -> Strap | None:
        """The strap whose lug is on a stud, by its name there; None where it has none on it."""
        for strap in self.console.straps:
            if ready == STRAP + strap.name and post in strap.posts:
                return strap
        return None

    def demand_ma(self, post: str) -> int:
        """The most a post draws or returns: its loads, boat wires, what is beyond its ways, mA."""
        return self._demand_ma[post]

    def beyond_ma(self, far: str, closed: Closed) -> int:
        """What passes a way with these ways closed, mA."""
        return self._hanging_ma(far, closed, self.own_draw_ma(closed))

    def lead_ma(self, post: str, closed: Closed) -> int:
        """What a lead's wire carries with these ways closed, mA: what hangs inside and beyond its
        ways; at a far post what comes by its way, less what stays inside; on no circuit what the
        boat wire on it leads away.
        """
        own = self.own_draw_ma(closed)
        beyond = sum(
            self._hanging_ma(way.far, closed, own)
            for way in self.console.ways
            if way.near == post and way.far in closed
        )
        brought = self._hanging_ma(post, closed, own) if post in closed else 0
        led_away = 0 if self.posts[post].circuit else self._led_away_ma(post, closed)
        return abs(own[post] + beyond - brought) + led_away

    def _led_away_ma(self, post: str, closed: Closed) -> int:
        """What boat wires lead away from a post that no circuit reaches, mA."""
        return sum(
            block.current_ma
            for block in self.boat_blocks.values()
            if any(wire.lands_on == post for wire in block.wires)
            and self.is_on(block.drawn_from, closed)
        )

    def supplies(self, far: str) -> str:
        """The circuit that starts at a far post; "" where none does."""
        return next((row.name for row in self.console.circuits if row.supplied_by == far), "")

    def takers(self, circuit: str) -> list[str]:
        """The circuit and all that are taken from it, directly or through others, by name."""
        found = [circuit]
        for name in found:
            for row in self.console.circuits:
                if row.taken_from == name and row.name not in found:
                    found.append(row.name)
        return found
