"""The console worked up into the panel a plan repeats, so that paper needs nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from lugwright.assemble.buy import stated_fuses
from lugwright.assemble.wires import code_of
from lugwright.assemble.working_order import circuits_in_order
from lugwright.limits.schema import Limits
from lugwright.plans.panel import (
    Panel,
    PanelBoatBlock,
    PanelCircuit,
    PanelEntry,
    PanelFuse,
    PanelHole,
    PanelInstrument,
    PanelKeepOut,
    PanelLoad,
    PanelMount,
    PanelPost,
    PanelStrap,
    PanelTiePoint,
    PanelWay,
)
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import (
    BoatBlock,
    BoatWire,
    Circuit,
    Console,
    GivenWire,
    Hole,
    Instrument,
    Load,
    Mount,
    Pigtail,
    Point,
    Post,
    Stage,
    Strap,
    TiePoint,
    Way,
)
from lugwright.trade.demand import demand_by_post
from lugwright.trade.drops import length_uohm
from lugwright.trade.given_wires import fused_by_maker
from lugwright.trade.live import live_posts
from lugwright.trade.names import pigtail_wire


class _Named(Protocol):
    """Anything with a name."""

    @property
    def name(self) -> str: ...


def panel_of(brief: Brief) -> Panel:
    """The panel of a console; everything by name, circuits in their working order."""
    console, limits = brief.console, brief.limits
    demands = demand_by_post(console)
    by_maker = fused_by_maker(console)
    live = live_posts(console)
    return Panel(
        width_dmm=console.width_dmm,
        height_dmm=console.height_dmm,
        thickness_dmm=console.thickness_dmm,
        nominal_mv=console.nominal_mv,
        service_travel_dmm=console.service_travel_dmm,
        conductor_temp_c=limits.conductor_temp_c,
        crimp_uohm=limits.crimp_uohm,
        edge_margin_dmm=limits.edge_margin_dmm,
        full_size_side_dmm=limits.full_size_side_dmm,
        instruments=tuple(_instrument(one) for one in sorted(console.instruments, key=_name)),
        posts=tuple(
            _post(console, post, demands[post.id], live=post.id in live)
            for post in sorted(console.posts, key=lambda post: post.id)
        ),
        keep_outs=tuple(
            PanelKeepOut.model_validate(vars(area)) for area in sorted(console.keep_outs, key=_name)
        ),
        tie_points=tuple(_tie_point(tie) for tie in sorted(console.tie_points, key=_name)),
        entries=tuple(sorted(_entries(console), key=lambda entry: entry.wire)),
        circuits=tuple(_circuit(circuit, limits) for circuit in circuits_in_order(console)),
        loads=tuple(_load(load) for load in sorted(console.loads, key=_name)),
        boat_blocks=tuple(_boat_block(one) for one in sorted(console.boat_blocks, key=_name)),
        fuses=tuple(
            PanelFuse(wire=wire, fuse_ma=fuse_ma, by_maker=by_maker.get(wire, ()))
            for wire, fuse_ma in stated_fuses(console)
        ),
        ways=tuple(_way(way) for way in sorted(console.ways, key=lambda way: (way.far, way.near))),
        holes=tuple(map(_hole, sorted(console.holes))),
        straps=tuple(_strap(strap) for strap in console.straps),
    )


def _strap(strap: Strap) -> PanelStrap:
    """A strap between studs."""
    return PanelStrap(
        name=strap.name,
        posts=strap.posts,
        thickness_dmm=strap.thickness_dmm,
        contact_uohm=strap.contact_uohm,
        carries_ma=strap.carries_ma,
    )


def _way(way: Way) -> PanelWay:
    """A way of a device."""
    return PanelWay(
        instrument=way.instrument,
        near=way.near,
        far=way.far,
        kind=way.kind,
        closed=way.closed,
        amperes_ma=way.amperes_ma,
        contact_uohm=way.contact_uohm,
    )


def _name(row: _Named) -> str:
    return row.name


def _tie_point(tie: TiePoint) -> PanelTiePoint:
    return PanelTiePoint(
        name=tie.name, x_dmm=tie.at.x_dmm, y_dmm=tie.at.y_dmm, z_dmm=tie.at.z_dmm, to=tie.to
    )


def _load(load: Load) -> PanelLoad:
    return PanelLoad(
        name=load.name,
        feed_post=load.feed_post,
        ground_post=load.ground_post,
        current_ma=load.current_ma,
        kind=load.kind,
        duty=load.duty,
        senses=load.senses,
    )


def _boat_block(boat_block: BoatBlock) -> PanelBoatBlock:
    """A block of boat wires, its wires in their order with what each lands on."""
    return PanelBoatBlock(
        name=boat_block.name,
        is_sender=boat_block.is_sender,
        current_ma=boat_block.current_ma,
        drawn_from=boat_block.drawn_from,
        returns_to=boat_block.returns_to,
        wires=tuple(wire.id for wire in boat_block.wires),
        lands_on=tuple(wire.lands_on for wire in boat_block.wires),
    )


def _instrument(one: Instrument) -> PanelInstrument:
    """An instrument's outline, and what it must do at key-on."""
    return PanelInstrument(
        name=one.name,
        pattern=one.pattern,
        x_dmm=one.centre.x_dmm,
        y_dmm=one.centre.y_dmm,
        cut_out_dmm=one.cut_out_dmm,
        bezel_dmm=one.bezel_dmm,
        body_dmm=one.body_dmm,
        body_depth_dmm=one.body_depth_dmm,
        body_width_dmm=one.body_width_dmm,
        body_height_dmm=one.body_height_dmm,
        key_on=one.key_on,
        hub_candidate=one.hub_candidate,
        positions=one.positions,
        lanyard=one.lanyard,
        carries_in_ma=one.carries_in_ma,
        ignition_protected=one.ignition_protected,
        setting=one.setting,
        mount=_mount(one.mount),
    )


def _mount(mount: Mount) -> PanelMount:
    """What is not a plain round hole, screws as they stand on the plate."""
    return PanelMount(
        cut_out_width_dmm=mount.cut_out_width_dmm,
        cut_out_height_dmm=mount.cut_out_height_dmm,
        cut_out_radius_dmm=mount.cut_out_radius_dmm,
        bezel_width_dmm=mount.bezel_width_dmm,
        bezel_height_dmm=mount.bezel_height_dmm,
        turn_mdeg=mount.turn_mdeg,
        screws=tuple(map(_hole, mount.screws)),
        from_back=mount.from_back,
    )


def _hole(hole: Hole) -> PanelHole:
    return PanelHole(
        x_dmm=hole.x_dmm, y_dmm=hole.y_dmm, diameter_dmm=hole.diameter_dmm, what=hole.what
    )


def _post(console: Console, post: Post, demand_ma: int, *, live: bool) -> PanelPost:
    """A post, with its lead's wire and what comes aboard on it."""
    lead = post.lead
    return PanelPost(
        id=post.id,
        instrument=post.instrument,
        name=post.name,
        kind=post.kind,
        function=post.function,
        circuit=post.circuit,
        x_dmm=post.at.x_dmm,
        y_dmm=post.at.y_dmm,
        z_dmm=post.at.z_dmm,
        link=post.link,
        optional=post.optional,
        thread=post.thread,
        free_thread_dmm=post.free_thread_dmm,
        tab_size=post.tab_size,
        lead_size=lead.wire_size if lead else "",
        lead_colour=lead.colour if lead else "",
        lead_colour_code=code_of(console, lead.colour) if lead else "",
        reserved=post.reserved,
        live=live,
        demand_ma=demand_ma,
        carries=tuple(
            boat_block.name
            for boat_block in sorted(console.boat_blocks, key=_name)
            if any(wire.lands_on == post.id for wire in boat_block.wires)
        ),
    )


def _entries(console: Console) -> Iterator[PanelEntry]:
    """Pigtails, used or not, and boat wires whose entry is stated."""
    pigtails = [
        (circuit.name, circuit.pigtail) for circuit in console.circuits if circuit.pigtail
    ] + [(pigtail.label, pigtail) for pigtail in console.unused_pigtails]
    for name, pigtail in pigtails:
        at, called = pigtail.entry, pigtail_wire(name)
        if at is not None:
            yield _entry(console, called, pigtail, at, pigtail.circuit, pigtail.stage)
    for boat_block in console.boat_blocks:
        for wire in boat_block.wires:
            if wire.entry:
                circuit = console.post(wire.lands_on).circuit
                yield _entry(console, wire.id, wire, wire.entry, circuit, wire.stage)


def _entry(
    console: Console, name: str, end: Pigtail | BoatWire, at: Point, circuit: str, stage: Stage
) -> PanelEntry:
    """Where one wire from outside comes in."""
    return PanelEntry(
        wire=name,
        circuit=circuit,
        stage=stage,
        x_dmm=at.x_dmm,
        y_dmm=at.y_dmm,
        z_dmm=at.z_dmm,
        reach_dmm=end.reach_dmm,
        colour=end.wire.colour,
        colour_code=code_of(console, end.wire.colour),
        wire_size=end.wire.wire_size,
    )


def _circuit(circuit: Circuit, limits: Limits) -> PanelCircuit:
    """A circuit with the resistance of what feeds it."""
    pigtail = circuit.pigtail
    run = pigtail.to_source if pigtail else None
    return PanelCircuit(
        name=circuit.name,
        side=circuit.side,
        taken_from=circuit.taken_from,
        posts=tuple(sorted(circuit.posts)),
        pigtail=pigtail.label if pigtail else "",
        pigtail_uohm=_uohm(pigtail.wire, _dropping_dmm(pigtail), limits) if pigtail else 0,
        run_uohm=_uohm(run.wire, run.one_way_dmm, limits) if run else 0,
        fuse_ma=pigtail.fuse_ma if pigtail else 0,
        supplied_by=circuit.supplied_by,
        sender=circuit.sender.kind if circuit.sender else "",
        returns_to=circuit.returns_to,
    )


def _dropping_dmm(pigtail: Pigtail) -> int:
    """The length of a pigtail that counts in drop: of a sender's wire, only what is stated."""
    return pigtail.reach_dmm if pigtail.own_run_dmm is None else pigtail.own_run_dmm


def _uohm(wire: GivenWire, length_dmm: int, limits: Limits) -> int:
    return length_uohm(wire.area_um2, length_dmm, limits)
