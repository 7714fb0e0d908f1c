"""The question without a solver: sets, integers and tables of what may be put together.

A ``Problem`` holds nothing of CP-SAT and nothing of a plan. Joints are post ids and splice
point ids. Ends that meet at a joint are told apart by *end type*: the spool a
jumper is cut from, or the pigtail whose bare end it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Protocol

from lugwright.base.identity import NO_JOINT, JointId, WireId
from lugwright.limits.schema import Limits
from lugwright.plans.outcome import Reason
from lugwright.problem.built_jumper import BuiltJumper
from lugwright.scenario.console import Console, Stage
from lugwright.trade.demand import Demand

Counts = tuple[tuple[str, int], ...]
"""How many ends of each type, sorted by type: ``(("black 16 AWG", 2), ("pigtail ground", 1))``."""


@dataclass(frozen=True)
class EndType:
    """Strand area and insulation of one type of wire end."""

    name: str
    area_um2: int
    insulation_um: int


@dataclass(frozen=True, order=True)
class LugPick:
    """One fitting of an option: which end types it holds (a butt: per half), and the stock item."""

    barrels: tuple[tuple[str, ...], ...]
    item: str
    folded: bool
    carries_ma: int


@dataclass(frozen=True)
class GroupOption:
    """One way to take a multiset of ends at a joint.

    ``lugs`` count on a stud (0 elsewhere), ``tongue_dmm`` their summed tongues, ``angle_deg``
    the widest barrel, ``money_micro`` fittings, crimping and landing together. ``folds`` counts
    wires folded back, ``margin_um2`` sums every barrel's distance from the nearer end of its range.
    """

    counts: Counts
    picks: tuple[LugPick, ...]
    lugs: int
    tongue_dmm: int
    angle_deg: int
    money_micro: int
    folds: int = 0
    margin_um2: int = 0

    @property
    def fittings(self) -> int:
        """Fittings crimped in this option."""
        return len(self.picks)

    @property
    def ends(self) -> int:
        """Wire ends taken, a lead's own not counted."""
        return sum(number for _, number in self.counts)


@dataclass(frozen=True)
class WireChoice:
    """A wire size a circuit may be run in.

    ``end_type`` names its wire ends in the option tables. ``nohm_per_mm`` at the limit's
    temperature; ``table_ma`` its table ampacity, ``cap_ma`` the same off the loom.
    """

    size: str
    colour: str
    end_type: str
    area_um2: int
    nohm_per_mm: int
    table_ma: int
    cap_ma: int
    price_micro_per_m: int


@dataclass(frozen=True, order=True)
class Edge:
    """A possible jumper between two joints of a circuit (``a`` < ``b``), or a take-off jumper.

    For a take-off, ``a`` is the stud of the circuit taken from and ``b`` the taker's own joint.
    ``loom_legs`` are indices into the problem's legs.
    """

    a: JointId
    b: JointId
    length_dmm: int
    loom_legs: tuple[int, ...]


@dataclass(frozen=True)
class Landing:
    """A post on which a circuit's supply may land. ``extension_dmm`` 0: in reach.

    The supply of a circuit with a root lands by its one first jumper, or on the root itself.
    """

    post: JointId
    instrument: str
    extension_dmm: int
    loom_legs: tuple[int, ...]


@dataclass(frozen=True)
class Node:
    """Posts that are one piece of metal, or one splice point. ``needed``: must be reached.

    ``one_joint``: a lead whose end is chosen; of the joints its end may be one takes wires.
    """

    name: str
    joints: tuple[JointId, ...]
    needed: bool
    is_splice: bool
    one_joint: bool = False


@dataclass(frozen=True)
class Supply:
    """What feeds a circuit that has a pigtail of its own.

    ``given_uohm``: supply run and pigtail at full reach, with the pigtail's crimp.
    ``end_type`` names the pigtail's bare end ("" when it comes with a ring of its own, in which
    are ``ready_wires`` wires). ``own_barrel``: the limit ``pigtail_barrel`` gives it one.
    """

    wire: WireId
    end_type: str
    given_uohm: int
    ready_tongue_dmm: int
    ready_angle_deg: int
    ready_money_micro: int
    aboard: bool
    ready_wires: int = 1
    own_barrel: bool = False

    @property
    def stage(self) -> Stage:
        """When it arrives."""
        return "aboard" if self.aboard else "bench"

    def apart_at(self, kind: str) -> bool:
        """Whether its bare end, or its extension's, shares no barrel on a post of that kind.

        On a lead ``own_barrel`` asks nothing: a barrel there holds the lead as well."""
        return self.aboard or (self.own_barrel and kind != "lead")


@dataclass(frozen=True)
class CircuitQuestion:
    """One circuit: where its jumpers may run and in what.

    ``take_off`` edges are a taker's first jumpers. ``demand_ma`` by post, in the first load state
    (``Problem.demands``). ``takers`` are the circuits that are taken from this one. ``butts`` maps
    a wire size to the butt of an extension in that size, where one exists.

    ``root`` is the far post of the way that supplies it, "" where none does: a node of its own
    whose tree begins there. ``near`` is where that way begins, circuit and post; of a signal
    circuit the ground post where its sender's current comes back. ``hubs`` are the instruments
    that may be the hub and have a possible landing post, before any other limit. ``harness``: the
    one it is fed from. ``own_extension``: what alone lengthens a sender's boat wire, whatever size
    the jumpers have; its end type is its own.
    """

    name: str
    side: str
    taken_from: str
    takers: tuple[str, ...]
    choices: tuple[WireChoice, ...]
    nodes: tuple[Node, ...]
    edges: tuple[Edge, ...]
    take_off: tuple[Edge, ...]
    landings: tuple[Landing, ...]
    supply: Supply | None
    demand_ma: Mapping[str, int]
    butts: Mapping[str, GroupOption]
    root: JointId = NO_JOINT
    near: tuple[str, str] = ("", "")
    contact_uohm: int = 0
    hubs: frozenset[str] = frozenset()
    harness: str = "engine"
    own_extension: WireChoice | None = None

    def extensions(self, sizes: Iterable[str]) -> tuple[WireChoice, ...]:
        """What its supply may be lengthened with, its jumpers being of one of these sizes."""
        own = [self.own_extension] if self.own_extension else map(self.choice, sizes)
        return tuple(choice for choice in own if choice.size in self.butts)

    def extension(self, size: str) -> WireChoice:
        """The wire of that size that lengthens its supply. Raises KeyError as ``choice`` does."""
        return self.own_extension or self.choice(size)

    @property
    def own_ma(self) -> int:
        """Total current of the circuit's own posts."""
        return sum(self.demand_ma.values())

    @property
    def fed_by(self) -> str:
        """The circuit its current comes from, by a way, a sender or a take-off; "": a pigtail."""
        return self.near[0] or self.taken_from

    @property
    def root_node(self) -> str:
        """The node of its root; "" where it has none."""
        return next((node.name for node in self.nodes if self.root in node.joints), "")

    @property
    def others(self) -> tuple[Node, ...]:
        """Its nodes that are no splice point and not the root's."""
        root = self.root_node
        return tuple(node for node in self.nodes if not node.is_splice and node.name != root)

    @property
    def has_first_jumper(self) -> bool:
        """Whether one jumper leaves the root, and where it ends the supply has landed."""
        return bool(self.root and self.others) and all(x.post != self.root for x in self.landings)

    def choice(self, size: str) -> WireChoice:
        """The wire choice of that size. Raises KeyError when it is not allowed here."""
        for choice in self.choices:
            if choice.size == size:
                return choice
        raise KeyError(size)


@dataclass(frozen=True)
class BoatGroup:
    """What one block puts on one post: its options, and its ready-made rings.

    ``ready_wires``: wires in all those rings.
    """

    boat_block: str
    post: JointId
    options: tuple[GroupOption, ...]
    ready_lugs: int
    ready_tongue_dmm: int
    ready_angle_deg: int
    ends: int
    money_micro: int
    wires: tuple[WireId, ...]
    ready_wires: int = 0


@dataclass(frozen=True)
class BenchEnd:
    """The bare end of a wire that is there on the bench though its load is aboard: a pigtail's.

    It is a wire end of its post's circuit like any other, and always there. ``feed`` is the
    circuit its load draws from.
    """

    wire: WireId
    circuit: str
    post: JointId
    end_type: str
    feed: str
    current_ma: int

    def drawn_ma(self, demand: Demand) -> int:
        """What it carries away in one load state, mA."""
        return self.current_ma if demand.feeds(self.feed) else 0


@dataclass(frozen=True)
class ExtensionNeed:
    """A boat wire that does not reach: a fixed extension, joined by ``butt``."""

    wire: WireId
    size: str
    colour: str
    end_type: str
    table_ma: int
    length_dmm: int
    butt: GroupOption
    money_micro: int


@dataclass(frozen=True)
class Stud:
    """Room on one stud. ``thread_dmm`` is left for tongues of lugs that are not reserved."""

    post: JointId
    thread_dmm: int
    places: int
    reserved: int
    reserved_angle_deg: int


@dataclass(frozen=True)
class DropPath:
    """A load to be judged: its feed post and ground post ("" = none), own extra drop and limit."""

    load: str
    feed_circuit: str
    feed_post: str
    ground_circuit: str
    ground_post: str
    extra_nv: int
    limit_nv: int
    limit_name: str


@dataclass(frozen=True)
class ShiftPath:
    """A ground shift to be judged between two ground posts ("" = the supply's negative).

    ``feed_circuit`` feeds the sender: where that has no supply there is nothing to judge.
    """

    sender: str
    dial_post: str
    return_post: str
    limit_nv: int
    feed_circuit: str = ""


@dataclass(frozen=True)
class LoomLeg:
    """A leg of the loom, and what always runs on it.

    ``fixed`` counts the wires; ``fixed_loads`` holds (name, table ampacity, current) of each and
    of their extensions, which are judged with them and not counted again.
    """

    name: tuple[str, str]
    fixed: int
    fixed_loads: tuple[tuple[str, int, int], ...]


class Tables(Protocol):
    """Answers which ends may share which fittings (``groups.Grouper``)."""

    def most_at(self, post: str) -> int:
        """The most wire ends in one barrel on a post."""

    def least_lug(self, thread: str) -> tuple[int, int]:
        """The thinnest tongue and the least room round a stud of any lug for that thread."""

    def largest_lug(self, thread: str) -> tuple[int, int]:
        """The thickest tongue and the most room round a stud of any lug for that thread."""

    def stud(
        self, thread: str, counts: Counts, stage: str, post: str = ""
    ) -> tuple[GroupOption, ...]:
        """Ways to put these ends on a stud of that thread, which ``post`` names."""

    def tab(
        self, tab_size: str, counts: Counts, stage: str, post: str = ""
    ) -> tuple[GroupOption, ...]:
        """Push-ons that take all these ends at once; ``post`` names the tab."""

    def splice(self, counts: Counts) -> tuple[GroupOption, ...]:
        """Fittings that join these ends at a splice point."""

    def lead(self, lead: EndType, counts: Counts) -> tuple[GroupOption, ...]:
        """Fittings that join these ends to a lead."""


@dataclass(frozen=True)
class Problem:
    """Everything the model needs, and nothing else.

    ``faults`` are reasons why no plan can exist whatever is chosen. ``fixed_dmm``,
    ``fixed_micro`` and ``fixed_fittings`` are the extensions of what comes aboard.
    ``tables`` answers which ends may share which fittings. ``demands`` is what flows in every load
    state; ``demand_ma`` of the circuits is that of the first. ``required`` are pairs of joints with
    a jumper between them that must be, ``last`` joints from which none goes on, ``free_ends`` the
    lead of each place at which one may end. ``built`` are the jumpers of a harness that is to be
    changed, ``built_landings`` the posts its circuits' supplies land on, ``change_worth`` what a
    change costs in units of the objective.
    """

    console: Console
    limits: Limits
    circuits: tuple[CircuitQuestion, ...]
    studs: Mapping[JointId, Stud]
    post_kind: Mapping[str, str]
    post_limit_ma: Mapping[str, int]
    boat_groups: tuple[BoatGroup, ...]
    bench_ends: tuple[BenchEnd, ...]
    extensions: tuple[ExtensionNeed, ...]
    drops: tuple[DropPath, ...]
    shifts: tuple[ShiftPath, ...]
    legs: tuple[LoomLeg, ...]
    faults: tuple[Reason, ...]
    tables: Tables
    demands: tuple[Demand, ...]
    free_ends: Mapping[JointId, JointId] = field(default_factory=dict)
    required: frozenset[frozenset[str]] = frozenset()
    last: frozenset[str] = frozenset()
    built: tuple[BuiltJumper, ...] = ()
    built_landings: tuple[tuple[str, str], ...] = ()
    change_worth: int = 0

    @property
    def fixed_dmm(self) -> int:
        """Wire of the extensions of what comes aboard, 0.1 mm."""
        return sum(need.length_dmm for need in self.extensions)

    @cached_property
    def _bench_ends_at(self) -> Mapping[tuple[str, str], tuple[BenchEnd, ...]]:
        found: dict[tuple[str, str], tuple[BenchEnd, ...]] = {}
        for end in self.bench_ends:
            key = end.circuit, str(end.post)
            found[key] = (*found.get(key, ()), end)
        return found

    def bench_ends_at(self, circuit: str, joint: str) -> tuple[BenchEnd, ...]:
        """The bare bench ends of a circuit's loads at a joint."""
        return self._bench_ends_at.get((circuit, joint), ())

    @cached_property
    def outward(self) -> tuple[CircuitQuestion, ...]:
        """The circuits in order away from the pigtails, each after the one that feeds it."""
        by_name = {circuit.name: circuit for circuit in self.circuits}

        def depth(circuit: CircuitQuestion) -> int:
            steps = 0
            while circuit.fed_by and steps < len(by_name):
                circuit, steps = by_name[circuit.fed_by], steps + 1
            return steps

        return tuple(sorted(self.circuits, key=lambda c: (depth(c), c.name)))

    def circuit(self, name: str) -> CircuitQuestion:
        """The question of that circuit. Raises KeyError when there is none."""
        for circuit in self.circuits:
            if circuit.name == name:
                return circuit
        raise KeyError(name)
