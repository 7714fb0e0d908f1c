"""The console as the enumerator sees it: nodes, currents, wires and lengths, looked up once.

Currents stand state by state (``states``); where grounds are joined aboard (``grounds``) every
state once for each pigtail that is alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Any

from brute import grounds
from brute.statements import NONE, Statements
from brute.states import Amps, added, consumers, states, ways_above
from brute.straps import Metals
from lugwright.base.scale import ceil_div
from lugwright.electrics.ampacity import bundle_factor_permille, table_ma
from lugwright.electrics.resistance import nohm_per_mm, wire_uohm
from lugwright.limits.schema import Limits
from lugwright.routes.schema import Path, Routes
from lugwright.scenario.console import (
    Circuit,
    Console,
    GivenWire,
    LoadKind,
    Pigtail,
    Post,
    Way,
)
from lugwright.stock.schema import Spool, Stock

MOST_IN_A_BUNDLE = 60  # more conductors than any console tried here can bring together
Leg = tuple[str, str]


@dataclass(frozen=True)
class Wire:
    """What is asked of a wire, whether it comes from a spool or was given."""

    name: str
    colour: str
    area_um2: int
    insulation_um: int
    nohm_per_mm: int
    table_ma: int
    price_micro_per_m: int
    own_ma: int = 0
    fuse_up_to_ma: int = 0
    exempt: str = ""


class Setting:
    """One console with its limits, stock and routes, and the plain arithmetic over them."""

    def __init__(
        self,
        console: Console,
        limits: Limits,
        stock: Stock,
        routes: Routes,
        every_state: bool = False,
        more: Statements = NONE,
    ) -> None:
        self.console = console
        self.limits = limits
        self.stock = stock
        self.routes = routes
        self.posts = {post.id: post for post in console.posts}
        self.circuits = {circuit.name: circuit for circuit in console.circuits}
        self.metals = Metals(console, more.straps)
        self.lengths = {each.post: each.length_dmm for each in more.free_leads}
        if any(self.posts[lead].lead is None for lead in self.lengths):
            raise ValueError("only a lead has a length")
        self._wires: dict[Spool | GivenWire, Wire] = {}
        self._allowed: dict[tuple[Wire, int], int] = {}
        self._jumpers: dict[tuple[str, str, str, str], tuple[Path, int] | None] = {}
        self._nodes: dict[str, dict[str, tuple[Post, ...]]] = {}
        self.joined = grounds.checked(console, more.joined_aboard)
        self.consumers = consumers(console)
        alone = range(1 + len(self.joined))
        apart = states(console, every_state)
        self.states = apart * len(alone)
        self.alone = tuple(number for number in alone for _ in apart)
        fullest = set(states(console))
        self.fullest = tuple(n for n, state in enumerate(self.states) if state in fullest)
        self.nothing: Amps = (0,) * len(self.states)
        self._totals: dict[tuple[str, bool], Amps] = {}

    # -- nodes and currents ------------------------------------------------------------------

    def node(self, post: str) -> str:
        """The node a post belongs to: the posts of one link or strap are one node."""
        return self.metals.node(post)

    def metal(self, post: str) -> str:
        """The metal inside an instrument that a post belongs to: the posts of one link are one."""
        return self.metals.metal(post)

    def at(self, joint: str) -> str:
        """The metal of a post; a splice by itself."""
        return self.metal(joint) if joint in self.posts else joint

    def nodes(self, circuit: Circuit) -> dict[str, tuple[Post, ...]]:
        """The posts of each node of a circuit."""
        if circuit.name not in self._nodes:
            grouped: dict[str, tuple[Post, ...]] = {}
            for post in circuit.posts:
                node = self.node(post)
                grouped[node] = (*grouped.get(node, ()), self.posts[post])
            self._nodes[circuit.name] = grouped
        return self._nodes[circuit.name]

    def _drawn(self, index: int, steady: bool = False) -> Amps:
        """What one consumer draws in each state; ``steady`` leaves out a momentary one."""
        one = self.consumers[index]
        left_out = steady and one.is_momentary
        return tuple(one.current_ma * (index in on and not left_out) for on in self.states)

    def own_ma(self, post: str, steady: bool = False) -> Amps:
        """Loads in or out of a post, and blocks of boat wires drawn from it or returned to it."""
        total = self.nothing
        for index, one in enumerate(self.consumers):
            for end in (one.feed, one.ground):
                if end == post:
                    total = added(total, self._drawn(index, steady))
        return total

    def through_ma(self, post: str, steady: bool = False) -> Amps:
        """What the ways of a near post take on to the circuits beyond them; and on a ground post
        what comes back there from a sender. Rule R34."""
        total = self.nothing
        far = {way.far for way in self.console.ways if way.near == post}
        for circuit in self.console.circuits:
            if circuit.supplied_by in far or circuit.returns_to == post:
                total = added(total, self.total_ma(circuit, steady))
        return total

    def demand_ma(self, post: str, steady: bool = False) -> Amps:
        """What a post draws: its own loads and blocks, and all beyond its ways.

        Rule R12.
        """
        return added(self.own_ma(post, steady), self.through_ma(post, steady))

    def circuit_demand_ma(self, circuit: Circuit, steady: bool = False) -> Amps:
        """The current of a circuit's own posts."""
        total = self.nothing
        for post in circuit.posts:
            total = added(total, self.demand_ma(post, steady))
        return total

    def takers(self, circuit: Circuit) -> tuple[Circuit, ...]:
        """The circuits with posts that are taken from this one."""
        every = self.console.circuits
        return tuple(other for other in every if other.taken_from == circuit.name and other.posts)

    def total_ma(self, circuit: Circuit, steady: bool = False) -> Amps:
        """What the supply of a circuit carries, with what is taken from it."""
        key = (circuit.name, steady)
        if key not in self._totals:
            total = self.circuit_demand_ma(circuit, steady)
            for other in self.takers(circuit):
                total = added(total, self.circuit_demand_ma(other, steady))
            self._totals[key] = total
        return self._totals[key]

    def pigtails(self, circuit: Circuit) -> tuple[Pigtail, ...]:
        """The pigtails of a circuit: none, its own, or its own and those of other harnesses."""
        more = tuple(each for each in self.joined if each.circuit == circuit.name)
        return (circuit.pigtail, *more) if circuit.pigtail else ()

    def supplied_ma(self, circuit: Circuit, number: int) -> Amps:
        """What a pigtail of a circuit carries: everything, where it is the one that is alone."""
        total = self.total_ma(circuit)
        if len(self.pigtails(circuit)) < 2:
            return total
        pairs = zip(total, self.alone, strict=True)
        return tuple(each * (alone == number) for each, alone in pairs)

    def lead_ma(self, post: Post) -> Amps:
        """What flows in a lead's own wire.

        What its instrument draws there; in a far post's lead all that leaves the instrument.
        """
        demand = self.demand_ma(post.id)
        circuit = self.circuits.get(post.circuit)
        if circuit is None or circuit.supplied_by != post.id:
            return demand
        return tuple(all_ - own for all_, own in zip(self.total_ma(circuit), demand, strict=True))

    def beyond(self, way: Way) -> frozenset[int]:
        """The consumers whose current comes over a way."""
        found = set()
        for index, one in enumerate(self.consumers):
            home = self.circuits.get(self.posts[one.feed].circuit) if one.feed else None
            if home is not None and way in ways_above(self.console, home):
                found.add(index)
        return frozenset(found)

    def owner(self, circuit: Circuit) -> Circuit:
        """The circuit itself, or the one it is taken from."""
        return self.circuits[circuit.taken_from] if circuit.taken_from else circuit

    def factor_permille(self, kind: LoadKind) -> int:
        """What the current of a load of this kind counts in a switch; a LED's as resistive."""
        high = self.console.nominal_mv > 18_000
        table = self.limits.switch_24v_permille if high else self.limits.switch_12v_permille
        return table["resistive" if kind == "led" else kind]

    # -- wires -------------------------------------------------------------------------------

    def wire(self, source: Spool | GivenWire) -> Wire:
        """A spool or a given wire, with its resistance and its row of the ampacity table."""
        if source not in self._wires:
            limits = self.limits
            self._wires[source] = Wire(
                name=source.wire_size,
                colour=source.colour,
                area_um2=source.area_um2,
                insulation_um=source.insulation_um,
                nohm_per_mm=nohm_per_mm(
                    source.area_um2, limits.conductor_temp_c, limits.stranding_permille
                ),
                table_ma=self._row(source),
                price_micro_per_m=source.price_micro_per_m if isinstance(source, Spool) else 0,
                **self._said(source),
            )
        return self._wires[source]

    def _row(self, source: Spool | GivenWire) -> int:
        """A wire's row of the ampacity table; where it has none, what it says it carries."""
        if isinstance(source, GivenWire) and source.exempt:
            return source.carries_ma
        space = self.console.engine_space
        return table_ma(source.ampacity_size, source.insulation_temp_c, space)

    @staticmethod
    def _said(source: Spool | GivenWire) -> dict[str, Any]:
        """What its maker says of a wire that is not cut here."""
        if isinstance(source, Spool):
            return {}
        own, up_to = source.carries_ma, source.fuse_up_to_ma
        return {"own_ma": own, "fuse_up_to_ma": up_to, "exempt": source.exempt}

    @cached_property
    def factors(self) -> tuple[int, ...]:
        """The bundle factor (thousandths) of 0, 1, 2 ... conductors; 0 counts as 1."""
        rule = self.limits.bundle_rule
        counts = [max(1, count) for count in range(MOST_IN_A_BUNDLE + 1)]
        return tuple(bundle_factor_permille(rule, count) for count in counts)

    def carries(self, wire: Wire, current_ma: int, conductors: int) -> bool:
        """Whether a wire may carry a current beside that many conductors, itself counted.

        Rule R15.
        """
        if wire.own_ma and current_ma > wire.own_ma:
            return False
        if wire.exempt == "electronics under 1 A" and current_ma >= 1000:
            return False
        return current_ma <= wire.table_ma * self.factors[conductors] // 1000

    def most_conductors(self, wire: Wire, current_ma: int) -> int:
        """The most conductors (itself counted) beside which a wire may carry a current; 0: none.

        Bundle factors fall with the count, so the first count that fails is the end of it.
        """
        key = (wire, current_ma)
        if key not in self._allowed:
            count = 0
            while count < MOST_IN_A_BUNDLE and self.carries(wire, current_ma, count + 1):
                count += 1
            self._allowed[key] = count
        return self._allowed[key]

    def most(self, limit: str, place: str, general: int) -> int:
        """The most a limit allows at a place: what counts everywhere, or a waiver there."""
        return max([general, *self._waived(limit, place)])

    def has_own_barrel(self, post: Post) -> bool:
        """Whether a pigtail that ends on a post shares no barrel there. Rule R22."""
        return self.limits.pigtail_barrel == "own" and post.kind != "lead"

    def least(self, limit: str, place: str, general: int) -> int:
        """The least a limit asks for at a place: what counts everywhere, or a waiver there."""
        return min([general, *self._waived(limit, place)])

    def _waived(self, limit: str, place: str) -> list[int]:
        waivers = self.limits.waivers
        return [w.number for w in waivers if (w.limit, w.place) == (limit, place)]

    def fuse_spares(self, fuse_ma: int, wire: Wire, fused: str = "") -> bool:
        """Whether a fuse (0: none), the fuse of that circuit, protects a wire; no bundle factor
        here. Rule R16."""
        if wire.fuse_up_to_ma:
            return fuse_ma <= wire.fuse_up_to_ma
        share = self.most("fuse_share", fused, self.limits.fuse_permille)
        return fuse_ma <= wire.table_ma * share // 1000

    def crimped_uohm(self, wire: Wire, length_dmm: int) -> int:
        """A cut wire with both its crimps. Rule R13."""
        return wire_uohm(wire.nohm_per_mm, length_dmm) + 2 * self.limits.crimp_uohm

    def pigtail_uohm(self, pigtail: Pigtail) -> int:
        """A pigtail with its crimp on the panel, and the run behind it. Of a sender's wire its own
        run counts only where it is stated. Rules R13, R34."""
        length = pigtail.reach_dmm if pigtail.own_run_dmm is None else pigtail.own_run_dmm
        uohm = wire_uohm(self.wire(pigtail.wire).nohm_per_mm, length) + self.limits.crimp_uohm
        if pigtail.to_source is not None:
            run = pigtail.to_source
            uohm += wire_uohm(self.wire(run.wire).nohm_per_mm, run.one_way_dmm)
        return uohm

    def spools(self, circuit: Circuit, fuse_ma: int, fused: str) -> tuple[Spool, ...]:
        """The spools a circuit's jumpers may be cut from: colour, least area, fuse over it.

        Rules R17, R29.
        """
        general = self.least("minimum_size", circuit.name, self.limits.minimum_area_um2)
        least = max(general, circuit.minimum_area_um2)
        return tuple(
            spool
            for spool in self.stock.spools_of_colour(circuit.colour)
            if spool.area_um2 >= least and self.fuse_spares(fuse_ma, self.wire(spool), fused)
        )

    # -- lengths -----------------------------------------------------------------------------

    def cut_dmm(self, path_dmm: int) -> int:
        """The cut length over a path: slack, two allowances, the least length, the cut step.

        Rule R3.
        """
        limits = self.limits
        thousandths = path_dmm * (1000 + limits.slack_permille) + 2000 * limits.end_allowance_dmm
        thousandths = max(thousandths, 1000 * limits.minimum_jumper_dmm)
        length = ceil_div(thousandths, 1000 * limits.cut_step_dmm) * limits.cut_step_dmm
        for standard in limits.standard_lengths_dmm:
            if standard >= length:
                return standard
        return length

    def jumper(self, a: str, b: str, tips: Mapping[str, str]) -> tuple[Path, int] | None:
        """Path and cut length of a jumper; None where a splice would hang too near a post.

        And None at a lead with a length whose free end (``tips``) is nowhere. Rule R4.
        """
        start, end = tips.get(a, a), tips.get(b, b)
        if not start or not end:
            return None
        key = a, start, b, end
        if key not in self._jumpers:
            path = Path((), 0) if start == end else self.routes.between(start, end)
            mixed = (a in self.posts) != (b in self.posts)
            near = mixed and path.path_dmm < self.limits.splice_to_post_dmm
            self._jumpers[key] = None if near else (path, self.cut_dmm(path.path_dmm))
        return self._jumpers[key]

    def shortfall_dmm(self, path_dmm: int, reach_dmm: int) -> int:
        """How much a wire that comes from outside is too short (0 or less: it reaches)."""
        travel = self.console.service_travel_dmm + self.limits.drip_loop_dmm
        return path_dmm + travel + 2 * self.limits.re_termination_dmm - reach_dmm

    # -- money -------------------------------------------------------------------------------

    def labour_micro(self, minutes_cmin: int) -> int:
        """The money of one item of work, rounded up. Rule R27."""
        return ceil_div(minutes_cmin * self.limits.rate_micro_per_hour, 6000)

    def cut_micro(self, wire: Wire, length_dmm: int) -> int:
        """The money of one cut piece: the wire and the cutting."""
        material = ceil_div(wire.price_micro_per_m * length_dmm, 10_000)
        return material + self.labour_micro(self.limits.minutes_cut_cmin)


def loom_legs(path: Path) -> Sequence[Leg]:
    """The loom legs of a path, each once."""
    return tuple(dict.fromkeys(path.loom_legs))


def leaves_loom(path: Path) -> bool:
    """Whether some stretch of a path is not a loom leg (or it uses none at all)."""
    legs = set(path.loom_legs)
    for one, other in pairwise(path.corners):
        if one.at == other.at:
            continue
        low, high = sorted((one.tie, other.tie))
        if (low, high) not in legs:
            return True
    return not legs
