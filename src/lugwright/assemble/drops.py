"""Drop to each load over its whole path, exact: µΩ times mA is nV.

Feed side and ground side alike: supply run one way, pigtail at its full reach, extension,
jumpers, and a resistance per crimped wire end.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lugwright.assemble.currents import Flow
from lugwright.assemble.ends import join_name
from lugwright.assemble.wires import Wires
from lugwright.assemble.working_order import circuits_in_order, node_finder
from lugwright.base.identity import WireId
from lugwright.plans.schema import Jumper, LoadDrop
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import BoatBlock, Circuit, DropClass
from lugwright.trade.drops import drop_limit_nv, length_uohm, supply_uohm
from lugwright.trade.names import pigtail_wire

CRIMPED_ENDS = 2  # of a jumper or an extension


@dataclass(frozen=True)
class _Meter:
    """What the drop of a conductor is worked out from."""

    brief: Brief
    currents: Flow
    jumpers: Mapping[str, Jumper]

    def cut_nv(self, jumper: Jumper) -> int:
        """Drop along one cut wire with both its crimped ends."""
        ends = CRIMPED_ENDS * self.brief.limits.crimp_uohm
        return (jumper.resistance_uohm + ends) * jumper.current_ma

    def added_nv(self, wire: WireId) -> int:
        """Drop along the extension of a given wire; 0 where it has none."""
        join = join_name(wire)
        return sum(self.cut_nv(item) for item in self.jumpers.values() if item.from_joint == join)


def post_drops_nv(
    brief: Brief,
    currents: Flow,
    landings: Mapping[str, str],
    cut: Wires,
) -> dict[str, int]:
    """Drop between the source and each wired post, nV, by post (a lead's own crimp included)."""
    meter = _Meter(brief, currents, {item.label: item for item in cut.jumpers})
    console = brief.console
    node_of = node_finder(console)
    nodes: dict[str, int] = {}
    for circuit in circuits_in_order(console):
        if circuit.name in landings:
            nodes[node_of(landings[circuit.name])] = _supply_nv(meter, circuit)
        runs = sorted(
            (run for run in currents.runs.values() if run.circuit == circuit.name),
            key=lambda run: run.number,
        )
        for run in runs:
            if not run.closes_ring:
                jumper = meter.jumpers[cut.labels[run.key]]
                nodes[node_of(run.b)] = nodes.get(node_of(run.a), 0) + meter.cut_nv(jumper)
    return {
        post.id: nodes[node_of(post.id)]
        + (brief.limits.crimp_uohm * currents.demands_ma[post.id] if post.kind == "lead" else 0)
        for post in console.posts
        if node_of(post.id) in nodes
    }


def _supply_nv(meter: _Meter, circuit: Circuit) -> int:
    """Drop from the source to the landing post: supply run, pigtail, extension, nV."""
    pigtail = circuit.pigtail
    if pigtail is None:
        return 0
    total = meter.currents.totals_ma[circuit.name]
    own = supply_uohm(pigtail, meter.brief.limits) * total
    return own + meter.added_nv(pigtail_wire(circuit.name))


def load_drops(
    brief: Brief,
    currents: Flow,
    landings: Mapping[str, str],
    cut: Wires,
) -> tuple[LoadDrop, ...]:
    """Drop and limit of every load, then of every block that draws current, both by name."""
    at = post_drops_nv(brief, currents, landings, cut)
    meter = _Meter(brief, currents, {item.label: item for item in cut.jumpers})
    loads = [
        _record(
            meter,
            load.name,
            load.current_ma,
            (at.get(load.feed_post, 0), at.get(load.ground_post, 0)),
            load.drop_class,
        )
        for load in sorted(brief.console.loads, key=lambda item: (item.name, item.feed_post))
    ]
    blocks = brief.console.boat_blocks
    drawing = [item for item in blocks if not item.is_sender and item.current_ma > 0]
    boat_blocks = [
        _record(meter, item.name, item.current_ma, _boat_block_nv(meter, item, at), item.drop_class)
        for item in sorted(drawing, key=lambda item: item.name)
    ]
    return (*loads, *boat_blocks)


def _boat_block_nv(meter: _Meter, boat_block: BoatBlock, at: Mapping[str, int]) -> tuple[int, int]:
    """Feed-side and ground-side drop of boat wires, their own runs and extensions included."""
    feed = at.get(boat_block.drawn_from, 0)
    ground = at.get(boat_block.returns_to, 0)
    for wire in boat_block.wires:
        own = length_uohm(wire.wire.area_um2, wire.one_way_dmm, meter.brief.limits)
        own *= boat_block.current_ma
        own += meter.added_nv(wire.id)
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
