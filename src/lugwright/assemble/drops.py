"""Drop to each load over its whole path, exact: µΩ times mA is nV.

Feed side and ground side alike: supply run one way, pigtail at its full reach, extension,
jumpers, and a resistance per crimped wire end.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from lugwright.assemble.currents import Flow
from lugwright.assemble.ends import join_name
from lugwright.assemble.wires import Wires
from lugwright.assemble.working_order import circuits_in_order, node_finder
from lugwright.base.identity import WireId
from lugwright.plans.schema import Jumper, LoadDrop
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import BoatBlock, Circuit, DropClass
from lugwright.trade.drops import (
    drop_limit_nv,
    ground_of_sender,
    length_uohm,
    sender_ground_uohm,
    supply_uohm,
)
from lugwright.trade.names import pigtail_wire
from lugwright.trade.straps import contact_steps

CRIMPED_ENDS = 2  # of a jumper or an extension


@dataclass(frozen=True)
class _Meter:
    """What the drop of a conductor is worked out from."""

    brief: Brief
    currents: Flow
    jumpers: Mapping[str, Jumper]

    def cut_nv(self, jumper: Jumper, current_ma: int) -> int:
        """Drop along one cut wire with both its crimped ends."""
        ends = CRIMPED_ENDS * self.brief.limits.crimp_uohm
        return (jumper.resistance_uohm + ends) * current_ma

    def added_nv(self, wire: WireId, current_ma: int) -> int:
        """Drop along the extension of a given wire; 0 where it has none."""
        join = join_name(wire)
        added = (item for item in self.jumpers.values() if item.from_joint == join)
        return sum(self.cut_nv(item, current_ma) for item in added)

    def lead_nv(self, post: str) -> int:
        """Drop in the crimp of a lead under what its own post draws; 0 for other posts."""
        is_lead = self.brief.console.post(post).kind == "lead"
        return self.brief.limits.crimp_uohm * self.currents.demands_ma[post] if is_lead else 0


class _Nodes:
    """Drop from the source to each node, nV; within metal of straps their contacts add to it."""

    def __init__(self, brief: Brief, currents: Flow) -> None:
        self._node_of = node_finder(brief.console)
        self._nv: dict[str, int] = {}
        self._contact_nv = {
            post: sum(
                step.sign * step.lug.contact_uohm * currents.through[step.lug.strap, step.lug.post]
                for step in steps
            )
            for post, steps in contact_steps(brief.console).items()
        }

    def put(self, joint: str, drop_nv: int) -> None:
        """The drop at a joint where current comes to its node."""
        self._nv[self._node_of(joint)] = drop_nv - self._contact_nv.get(joint, 0)

    def has(self, joint: str) -> bool:
        """Whether the drop at a joint is known."""
        return self._node_of(joint) in self._nv

    def at(self, joint: str) -> int:
        """The drop at a joint; nought where no current comes."""
        known = self._nv.get(self._node_of(joint))
        return 0 if known is None else known + self._contact_nv.get(joint, 0)


def post_drops_nv(
    brief: Brief,
    currents: Flow,
    landings: Mapping[str, str],
    cut: Wires,
) -> dict[str, int]:
    """Drop between the source and each wired post in one load state, nV, by post.

    A lead's own crimp is included.
    """
    meter = _Meter(brief, currents, {item.label: item for item in cut.jumpers})
    console = brief.console
    nodes = _Nodes(brief, currents)
    inside: dict[str, int] = {}
    for circuit in circuits_in_order(console):
        if circuit.supplied_by:
            nodes.put(circuit.supplied_by, _through_way(meter, circuit, nodes, inside))
        elif circuit.name in landings:
            back = circuit.returns_to  # where a sender's current goes on to
            before = nodes.at(back) + meter.lead_nv(back) if back else 0
            nodes.put(landings[circuit.name], before + _supply_nv(meter, circuit))
        runs = sorted(
            (run for run in currents.runs.values() if run.circuit == circuit.name),
            key=lambda run: run.number,
        )
        for run in runs:
            if not run.closes_ring:
                along = meter.cut_nv(meter.jumpers[cut.labels[run.key]], run.current_ma)
                nodes.put(run.b, nodes.at(run.a) + along)
    return {
        post.id: inside.get(post.id, nodes.at(post.id) + meter.lead_nv(post.id))
        for post in console.posts
        if nodes.has(post.id)
    }


def _through_way(
    meter: _Meter, circuit: Circuit, nodes: _Nodes, inside: dict[str, int]
) -> int:
    """Drop where a way's wiring starts: near post, contact, and a far lead's crimp, nV.

    Notes the drop inside the far post, which the device's own load there sees.
    """
    console = meter.brief.console
    way = console.way_to(circuit.supplied_by)
    near = nodes.at(way.near) + meter.lead_nv(way.near)
    near = inside.get(way.near, near)
    total = meter.currents.totals_ma[circuit.name]
    inside[way.far] = near + way.contact_uohm * total
    passed = total - meter.currents.demands_ma[way.far]
    is_lead = console.post(way.far).kind == "lead"
    return inside[way.far] + (meter.brief.limits.crimp_uohm * passed if is_lead else 0)


def _supply_nv(meter: _Meter, circuit: Circuit) -> int:
    """Drop from the source to the landing post: supply run, pigtail, extension, nV."""
    pigtail = circuit.pigtail
    if pigtail is None:
        return 0
    total = meter.currents.totals_ma[circuit.name]
    own = supply_uohm(pigtail, meter.brief.limits) * total
    back = ground_of_sender(meter.brief.console, circuit)
    if back is not None:
        own += sender_ground_uohm(back, meter.brief.limits) * total + meter.added_nv(back.id, total)
    return own + meter.added_nv(pigtail_wire(circuit.name), total)


def load_drops(
    brief: Brief,
    currents: Flow,
    landings: Mapping[str, str],
    cut: Wires,
) -> tuple[LoadDrop, ...]:
    """Drop and limit of every load, then of every block that draws current, both by name.

    Each in the load state that makes it largest, of those in which it has supply.
    """
    worst: dict[str, LoadDrop] = {}
    for state in currents.states:
        for row in _state_drops(brief, state, landings, cut):
            if row.load not in worst or row.drop_nv > worst[row.load].drop_nv:
                worst[row.load] = row
    return tuple(worst.values())


def _state_drops(
    brief: Brief, state: Flow, landings: Mapping[str, str], cut: Wires
) -> Iterator[LoadDrop]:
    """The drops of one load state; of loads without supply in it, no drop at all."""
    at = post_drops_nv(brief, state, landings, cut)
    meter = _Meter(brief, state, {item.label: item for item in cut.jumpers})
    for load in sorted(brief.console.loads, key=lambda item: (item.name, item.feed_post)):
        sides = at.get(load.feed_post, 0), at.get(load.ground_post, 0)
        sides = sides if _is_on(meter, load.feed_post) else (0, 0)
        if load.senses:
            continue
        yield _record(meter, load.name, load.current_ma, sides, load.drop_class)
    for item in sorted(brief.console.boat_blocks, key=lambda item: item.name):
        if not item.is_sender and item.current_ma > 0:
            sides = _boat_block_nv(meter, item, at) if _is_on(meter, item.drawn_from) else (0, 0)
            yield _record(meter, item.name, item.current_ma, sides, item.drop_class)


def _is_on(meter: _Meter, post: str) -> bool:
    """Whether a load drawn from a post has supply in the meter's state."""
    circuit = meter.brief.console.post(post).circuit if post else ""
    return not circuit or circuit in meter.currents.live


def _boat_block_nv(meter: _Meter, boat_block: BoatBlock, at: Mapping[str, int]) -> tuple[int, int]:
    """Feed-side and ground-side drop of boat wires, their own runs and extensions included."""
    feed = at.get(boat_block.drawn_from, 0)
    ground = at.get(boat_block.returns_to, 0)
    for wire in boat_block.wires:
        own = length_uohm(wire.wire.area_um2, wire.one_way_dmm, meter.brief.limits)
        own *= boat_block.current_ma
        own += meter.added_nv(wire.id, boat_block.current_ma)
        if wire.lands_on == boat_block.returns_to:
            ground += own
        else:
            feed += own
    return feed, ground


def _record(
    meter: _Meter, name: str, current_ma: int, sides_nv: tuple[int, int], drop_class: DropClass
) -> LoadDrop:
    feed, ground = sides_nv
    return LoadDrop(
        load=name,
        current_ma=current_ma,
        feed_nv=feed,
        ground_nv=ground,
        drop_nv=feed + ground,
        limit_nv=drop_limit_nv(meter.brief.console, meter.brief.limits, drop_class, name),
    )
