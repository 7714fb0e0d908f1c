"""Every wire that ends behind the panel, given or cut, and what a barrel must know of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from lugwright.assemble.currents import Flow, Run
from lugwright.base.identity import NO_JOINT, JointId, WireId
from lugwright.plans.choice import ChosenExtension, ChosenJumper, WireKey
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, GivenWire, Point, ReadyRing, Stage
from lugwright.stock.schema import Spool, Stock
from lugwright.trade.demand import lead_currents
from lugwright.trade.names import is_pigtail, join_of, lead_wire, pigtail_wire


@dataclass(frozen=True)
class GivenEnd:
    """The panel end of a wire that is not cut from our stock.

    ``joint`` is the post it goes to. ``boat_block`` is "" for pigtails and leads. ``own_lug``: it
    never shares a barrel (a pigtail that comes aboard, or by the limit ``pigtail_barrel``).
    """

    name: WireId
    wire: GivenWire
    circuit: str
    stage: Stage
    joint: JointId
    current_ma: int
    boat_block: str = ""
    ring: ReadyRing | None = None
    entry: Point | None = None
    reach_dmm: int = 0
    own_lug: bool = False

    @property
    def key(self) -> WireKey:
        """The wire as a choice names it."""
        return given(self.name)


@dataclass(frozen=True)
class BarrelWire:
    """What a barrel must know of one wire: area, insulation, current, and who may share.

    ``share`` is equal for wire ends that may lie in one barrel on a post. ``flows_to`` is the
    joint at which its end is the one on the supply's side; at any other its current leaves. ""
    for a boat wire. ``states_ma`` is its current in each load state, where there are several.
    """

    key: WireKey
    area_um2: int
    insulation_um: int
    current_ma: int
    stage: Stage
    circuit: str
    share: tuple[str, ...]
    flows_to: JointId = NO_JOINT
    states_ma: tuple[int, ...] = ()

    def in_state_ma(self, state: int) -> int:
        """What it carries in one load state, mA."""
        return self.states_ma[state] if self.states_ma else self.current_ma


def lug_current_ma(wires: Sequence[BarrelWire], joint: str) -> int:
    """Current of a lug or push-on, mA: its largest wire end, or what goes through its tongue.

    Through the tongue goes what flows into its barrel less what flows out there.
    """
    through = 0
    for state in range(max((len(wire.states_ma) for wire in wires), default=0) or 1):
        inward = sum(wire.in_state_ma(state) for wire in wires if wire.flows_to == joint)
        outward = sum(wire.in_state_ma(state) for wire in wires if wire.flows_to != joint)
        through = max(through, abs(inward - outward))
    return max([through, *(wire.current_ma for wire in wires)])


def given(name: WireId) -> WireKey:
    """The key of a given wire."""
    return WireKey("given", name)


def given_ends(
    brief: Brief, landings: Mapping[str, JointId], currents: Flow
) -> tuple[GivenEnd, ...]:
    """Pigtails in use by circuit, then leads by post, then boat wires by id."""
    return (
        *_pigtails(brief, landings, currents),
        *_leads(brief.console),
        *_boat_wires(brief),
    )


def _own_barrel(brief: Brief, post: JointId) -> bool:
    """Whether a pigtail that ends on a post has a barrel of its own there. Rule R22."""
    return brief.limits.pigtail_barrel == "own" and brief.console.post(post).kind != "lead"


def _pigtails(
    brief: Brief, landings: Mapping[str, JointId], currents: Flow
) -> tuple[GivenEnd, ...]:
    """The pigtails that are landed, each carrying the total of its circuit."""
    found = []
    for circuit in sorted(brief.console.circuits, key=lambda item: item.name):
        pigtail = circuit.pigtail
        if pigtail is None or circuit.name not in landings:
            continue
        found.append(
            GivenEnd(
                pigtail_wire(circuit.name),
                pigtail.wire,
                circuit.name,
                pigtail.stage,
                landings[circuit.name],
                currents.totals_ma[circuit.name],
                ring=pigtail.ring,
                entry=pigtail.entry,
                reach_dmm=pigtail.reach_dmm,
                own_lug=pigtail.stage == "aboard"
                or _own_barrel(brief, landings[circuit.name]),
            )
        )
    return tuple(found)


def _leads(console: Console) -> tuple[GivenEnd, ...]:
    """The flying leads of instruments, each with what flows in its own wire."""
    in_leads = lead_currents(console)
    return tuple(
        GivenEnd(
            lead_wire(post.id),
            post.lead,
            post.circuit,
            "bench",
            post.id,
            in_leads[post.id],
        )
        for post in sorted(console.posts, key=lambda item: item.id)
        if post.lead is not None
    )


def _boat_wires(brief: Brief) -> tuple[GivenEnd, ...]:
    """Boat wires and load pigtails, each carrying its block's current."""
    console = brief.console
    found = [
        GivenEnd(
            wire.id,
            wire.wire,
            console.post(wire.lands_on).circuit,
            wire.stage,
            wire.lands_on,
            boat_block.current_ma,
            boat_block=boat_block.name,
            ring=wire.ring,
            entry=wire.entry,
            reach_dmm=wire.reach_dmm,
            own_lug=wire.stage == "bench" and _own_barrel(brief, wire.lands_on),
        )
        for boat_block in console.boat_blocks
        for wire in boat_block.wires
    ]
    return tuple(sorted(found, key=lambda end: end.key))


def the_spool(stock: Stock, wire_size: str, colour: str) -> Spool:
    """The spool of that size and colour. Raises KeyError when the stock has none."""
    spool = stock.spool(wire_size, colour)
    if spool is None:
        raise KeyError(f"no spool of {wire_size} in {colour}")
    return spool


def barrel_wires(
    brief: Brief,
    currents: Flow,
    ends: Iterable[GivenEnd],
    extensions: Iterable[ChosenExtension],
) -> dict[WireKey, BarrelWire]:
    """What barrels must know of every wire of a plan, by its key."""
    lengthened = {extension.wire: extension for extension in extensions}
    found = [_of_run(brief, currents, run) for run in currents.runs.values()]
    for end in ends:
        extension = lengthened.get(end.name)
        # A pigtail brings current to where it ends: to its join, where it is lengthened.
        supplies = is_pigtail(end.name)
        here = end.joint if extension is None else join_name(end.name)
        states_ma = _states_ma(currents, end) if supplies else ()
        flows_to = here if supplies else NO_JOINT
        found.append(_of_given(end, end.key, end.wire, flows_to, states_ma))
        if extension is not None:
            spool = the_spool(brief.stock, extension.wire_size, extension.colour)
            there = end.joint if supplies else NO_JOINT
            found.append(_of_given(end, extension.key, spool, there, states_ma))
    return {wire.key: wire for wire in found}


def _of_run(brief: Brief, currents: Flow, run: Run) -> BarrelWire:
    """A jumper, as a barrel sees it."""
    spool = the_spool(brief.stock, run.wire_size, brief.console.circuit(run.circuit).colour)
    return BarrelWire(
        run.key,
        spool.area_um2,
        spool.insulation_um,
        run.current_ma,
        "bench",
        run.circuit,
        ("bench", run.circuit),
        run.b,
        tuple(state.runs[run.key].current_ma for state in currents.each),
    )


def _states_ma(currents: Flow, end: GivenEnd) -> tuple[int, ...]:
    """What a pigtail that supplies carries in each load state, where there are several."""
    if end.boat_block:
        return ()
    return tuple(state.totals_ma[end.circuit] for state in currents.each)


def _of_given(
    end: GivenEnd,
    key: WireKey,
    metal: GivenWire | Spool,
    flows_to: JointId,
    states_ma: tuple[int, ...],
) -> BarrelWire:
    """A given wire or its extension, of that wire or spool, as a barrel sees it."""
    return BarrelWire(
        key,
        metal.area_um2,
        metal.insulation_um,
        end.current_ma,
        end.stage,
        end.circuit,
        _share(end),
        flows_to,
        states_ma,
    )


def _share(end: GivenEnd) -> tuple[str, ...]:
    """Who a given wire (or its extension) may share a barrel with on its post."""
    if end.boat_block and end.stage == "aboard":
        return ("aboard", end.boat_block)
    if end.own_lug:
        return ("alone", end.name)
    return ("bench", end.circuit)


def join_name(wire: WireId) -> JointId:
    """The joint where a given wire meets its extension."""
    return join_of(wire)


def ends_by_joint(
    jumpers: Iterable[ChosenJumper],
    extensions: Iterable[ChosenExtension],
    ends: Iterable[GivenEnd],
) -> dict[JointId, tuple[WireKey, ...]]:
    """The wire ends that need a fitting, by joint; a ready-made ring in use needs none.

    A lead that nothing is joined to is left out.
    """
    found: dict[JointId, list[WireKey]] = {}
    lengthened = {extension.wire: extension for extension in extensions}
    leads = []
    for jumper in jumpers:
        found.setdefault(jumper.a, []).append(jumper.key)
        found.setdefault(jumper.b, []).append(jumper.key)
    for end in ends:
        name = end.name
        if name in lengthened:
            found.setdefault(end.joint, []).append(lengthened[name].key)
            found[join_name(name)] = [end.key, lengthened[name].key]
        elif name == lead_wire(end.joint):
            leads.append(end)
        elif end.ring is None:
            found.setdefault(end.joint, []).append(end.key)
    for lead in leads:
        if lead.joint in found:
            found[lead.joint].append(lead.key)
    return {joint: tuple(sorted(found[joint])) for joint in sorted(found)}
