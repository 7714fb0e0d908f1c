"""What is not chosen: boat wires and their fixed extensions, and the checks of given wires."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

from brute.joints import End, Joints, Ready
from brute.setting import Leg, Setting, Wire, leaves_loom, loom_legs
from brute.tally import Tally
from lugwright.electrics.resistance import wire_uohm
from lugwright.routes.schema import Path
from lugwright.scenario.console import BoatBlock, BoatWire, Circuit, Post
from lugwright.stock.schema import Spool


@dataclass
class Loom:
    """Conductors on each loom leg, and the fewest that some wire there can stand."""

    used: Counter[Leg] = field(default_factory=Counter)
    allowed: dict[Leg, int] = field(default_factory=dict)

    def add(self, path: Path, count: int, most: int) -> None:
        """Count ``count`` conductors along a path; one of them stands at most ``most`` there."""
        for leg in loom_legs(path):
            self.used[leg] += count
            self.allowed[leg] = min(most, self.allowed.get(leg, most))


@dataclass
class Given:
    """The part of a plan that is the same whatever is chosen."""

    tally: Tally = field(default_factory=Tally)
    loom: Loom = field(default_factory=Loom)
    ends: dict[str, tuple[End, ...]] = field(default_factory=dict)
    ready: dict[str, tuple[Ready, ...]] = field(default_factory=dict)
    added_uohm: Counter[str] = field(default_factory=Counter)


def stands_off_loom(setting: Setting, wire: Wire, current_ma: int) -> bool:
    """Ampacity of a wire that runs off the loom."""
    return setting.carries(wire, current_ma, setting.limits.off_loom_conductors)


def stands_along(setting: Setting, wire: Wire, current_ma: int, path: Path) -> bool:
    """Ampacity of a wire where its path is off the loom (true when it never is)."""
    return not leaves_loom(path) or stands_off_loom(setting, wire, current_ma)


def boat_block_extension(setting: Setting, wire: BoatWire) -> Spool | None:
    """The spool a boat wire is lengthened from: its size, in its colour, black, or any."""
    size = wire.wire.wire_size
    exact = setting.stock.spool(size, wire.wire.colour) or setting.stock.spool(size, "black")
    if exact is not None:
        return exact
    same = [spool for spool in setting.stock.spools if spool.wire_size == size]
    return min(same, key=lambda spool: spool.colour, default=None)


def _fuse_spares(setting: Setting, boat_block: BoatBlock, wire: BoatWire, piece: Wire) -> bool:
    """Whether the fuse over a boat wire, if there is one, protects a wire in it."""
    if wire.fuse_ma:
        return setting.fuse_spares(wire.fuse_ma, piece)
    if not boat_block.drawn_from:
        return True
    if setting.posts[wire.lands_on].function != "load" and wire.lands_on != boat_block.drawn_from:
        return True
    circuit = setting.circuits[setting.posts[boat_block.drawn_from].circuit]
    fused = setting.pigtail(circuit).circuit
    return setting.fuse_spares(setting.fuse_ma(circuit), piece, fused)


def _lengthen(
    setting: Setting,
    joints: Joints,
    given: Given,
    boat_block: BoatBlock,
    wire: BoatWire,
    path: Path,
    short_dmm: int,
) -> End | None:
    """Add the extension of a boat wire; its bare end, or None when it cannot be."""
    spool = boat_block_extension(setting, wire)
    if not setting.limits.extensions or spool is None:
        return None
    piece, current = setting.wire(spool), boat_block.current_ma
    if not _fuse_spares(setting, boat_block, wire, piece):
        return None
    if not stands_off_loom(setting, piece, current):
        return None
    given.loom.add(path, 0, setting.most_conductors(piece, current))
    shares = f"aboard {boat_block.name}"
    end = joints.end(shares, "aboard", piece.area_um2, piece.insulation_um, -current)
    own = setting.wire(wire.wire)
    given_end = joints.end(shares, "aboard", own.area_um2, own.insulation_um, current)
    butt = joints.extension_butt(given_end, end, current)
    if butt is None:
        return None
    length = setting.cut_dmm(short_dmm)
    given.tally += butt + Tally(length, 0, 0, setting.cut_micro(piece, length))
    given.added_uohm[boat_block.name] += setting.crimped_uohm(piece, length)
    return end


def _land(
    setting: Setting, joints: Joints, given: Given, boat_block: BoatBlock, wire: BoatWire
) -> bool:
    """Put one boat wire at its post. False when it cannot be. Rule R30."""
    own, current = setting.wire(wire.wire), boat_block.current_ma
    if not _fuse_spares(setting, boat_block, wire, own):
        return False
    if not stands_off_loom(setting, own, current):
        return False
    if wire.one_way_dmm:
        given.added_uohm[boat_block.name] += wire_uohm(own.nohm_per_mm, wire.one_way_dmm)
    post, ready = wire.lands_on, wire.ring
    end: End | None = joints.end(
        f"aboard {boat_block.name}", "aboard", own.area_um2, own.insulation_um, -current
    )
    if wire.entry is not None:
        path = setting.routes.from_entry(wire.entry, post)
        given.loom.add(path, 1, setting.most_conductors(own, current))
        short = setting.shortfall_dmm(path.path_dmm, wire.reach_dmm)
        if short > 0:
            ready = None
            end = _lengthen(setting, joints, given, boat_block, wire, path, short)
    if end is None:
        return False
    if ready is not None:
        ring = Ready(ready.thread, ready.tongue_dmm, ready.angle_deg, "aboard", -current)
        given.ready[post] = (*given.ready.get(post, ()), ring)
    else:
        given.ends[post] = (*given.ends.get(post, ()), end)
    return True


def _supply_stands(setting: Setting, circuit: Circuit) -> bool:
    """Fuse, load and supply run of a circuit's pigtail."""
    limits, pigtail = setting.limits, setting.pigtail(circuit)
    total, fuse = setting.total_ma(circuit), setting.fuse_ma(circuit)
    if not setting.fuse_spares(fuse, setting.wire(pigtail.wire), circuit.name):
        return False
    farthest = setting.most("fuse_distance", circuit.name, limits.fuse_distance_dmm)
    if fuse and pigtail.fuse_distance_dmm > farthest:
        return False
    share = setting.most("load_share", circuit.name, limits.load_permille)
    if fuse and total > fuse * share // 1000:
        return False
    run = pigtail.to_source
    if run is None:
        return True
    wire = setting.wire(run.wire)
    spared = setting.fuse_spares(fuse, wire, circuit.name)
    return spared and setting.carries(wire, total, run.conductors)


def _post_stands(setting: Setting, post: Post) -> bool:
    """A lead's own limit, ampacity and fuse."""
    demand = setting.demand_ma(post.id)
    if post.lead is not None and post.carries_ma and demand > post.carries_ma:
        return False
    if post.lead is None or not post.circuit:
        return True
    circuit, wire = setting.circuits[post.circuit], setting.wire(post.lead)
    if post.lead_fuse_ma:
        spared = setting.fuse_spares(post.lead_fuse_ma, wire)
    else:
        fused = setting.pigtail(circuit).circuit
        spared = setting.fuse_spares(setting.fuse_ma(circuit), wire, fused)
    return spared and stands_off_loom(setting, wire, demand)


def lay_given(setting: Setting, joints: Joints) -> Given | None:
    """Everything that is not chosen, or None when it alone breaks a rule.

    Raises ValueError for what no rule speaks of: a boat wire on a lead.
    """
    console, given = setting.console, Given()
    owners = (circuit for circuit in console.circuits if not circuit.taken_from)
    if not all(_supply_stands(setting, circuit) for circuit in owners):
        return None
    if not all(_post_stands(setting, post) for post in console.posts):
        return None
    for boat_block in console.boat_blocks:
        for wire in boat_block.wires:
            if setting.posts[wire.lands_on].kind == "lead":
                raise ValueError(f"{wire.id} lands on a lead")
            if not _land(setting, joints, given, boat_block, wire):
                return None
    for post in console.posts:
        if not post.circuit:
            made = joints.on_post(post, given.ends.get(post.id, ()), given.ready.get(post.id, ()))
            if made is None:
                return None
            given.tally += made
    return given
