"""What is not chosen: boat wires and their fixed extensions, and the checks of given wires."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

from brute.joints import End, Joints, Ready
from brute.sections import load_stands, near_posts_stand, section, straps_stand, way_stands
from brute.setting import Leg, Setting, Wire, leaves_loom, loom_legs
from brute.states import Amps, minus
from brute.tally import Tally
from lugwright.electrics.resistance import wire_uohm
from lugwright.routes.schema import Path
from lugwright.scenario.console import BoatBlock, BoatWire, Circuit, GivenWire, Pigtail, Post
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


def own_extension(setting: Setting, wire: GivenWire) -> Spool | None:
    """The spool a boat wire is lengthened from: its size, in its colour, black, or any."""
    size = wire.wire_size
    exact = setting.stock.spool(size, wire.colour) or setting.stock.spool(size, "black")
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
    fuse, fused = section(setting, circuit)
    return setting.fuse_spares(fuse, piece, fused) and _has_its_fuse(circuit, fuse, piece)


def _has_its_fuse(circuit: Circuit, fuse_ma: int, wire: Wire) -> bool:
    """A wire exempt from the table of sizes is not exempt from a fuse, on a feed."""
    return not wire.exempt or circuit.side != "feed" or fuse_ma > 0


def _shares(setting: Setting, boat_block: BoatBlock, wire: BoatWire) -> str:
    """With what a boat wire's end may share a barrel.

    One that lands at the bench is a harness's pigtail with a load at its end: with its circuit's
    bench wires. What comes aboard: with wires of its own block. Rule R22.
    """
    post = setting.posts[wire.lands_on]
    circuit = post.circuit
    if wire.stage == "bench" and setting.has_own_barrel(post):
        return f"{wire.id} alone"
    if wire.stage == "bench" and circuit:
        return f"bench {circuit}"
    return f"{wire.stage} {boat_block.name}"


def _current(setting: Setting, boat_block: BoatBlock) -> Amps:
    """What a block's wires carry in each state."""
    index = len(setting.console.loads) + setting.console.boat_blocks.index(boat_block)
    return tuple(boat_block.current_ma * (index in on) for on in setting.states)


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
    spool = own_extension(setting, wire.wire)
    if not setting.limits.extensions or spool is None:
        return None
    piece, flows = setting.wire(spool), _current(setting, boat_block)
    current = max(flows)
    if not _fuse_spares(setting, boat_block, wire, piece):
        return None
    if not stands_off_loom(setting, piece, current):
        return None
    given.loom.add(path, 0, setting.most_conductors(piece, current))
    shares, stage = _shares(setting, boat_block, wire), wire.stage
    end = joints.end(shares, stage, piece.area_um2, piece.insulation_um, minus(flows))
    own = setting.wire(wire.wire)
    given_end = joints.end(shares, stage, own.area_um2, own.insulation_um, flows)
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
    own, flows = setting.wire(wire.wire), _current(setting, boat_block)
    current = max(flows)
    if not _fuse_spares(setting, boat_block, wire, own):
        return False
    if not stands_off_loom(setting, own, current):
        return False
    if wire.one_way_dmm:
        given.added_uohm[boat_block.name] += wire_uohm(own.nohm_per_mm, wire.one_way_dmm)
    post, ready = wire.lands_on, wire.ring
    shares, stage = _shares(setting, boat_block, wire), wire.stage
    end: End | None = joints.end(shares, stage, own.area_um2, own.insulation_um, minus(flows))
    if wire.entry is not None:
        path = setting.routes.from_entry(wire.entry, post)
        given.loom.add(path, 1, setting.most_conductors(own, current))
        short = setting.shortfall_dmm(path.path_dmm, wire.reach_dmm)
        if short > 0:
            if ready is not None and ready.wires > 1:
                return False
            ready = None
            end = _lengthen(setting, joints, given, boat_block, wire, path, short)
    if end is None:
        return False
    if ready is not None:
        ring = Ready(
            ready.thread, ready.tongue_dmm, ready.angle_deg, stage, minus(flows), ready.wires
        )
        given.ready[post] = (*given.ready.get(post, ()), ring)
    else:
        given.ends[post] = (*given.ends.get(post, ()), end)
    return True


def _supply_stands(setting: Setting, circuit: Circuit) -> bool:
    """Fuse, load and supply run of a circuit's pigtail; or rating and fuse of its way."""
    pigtails = setting.pigtails(circuit)
    if not pigtails:
        return way_stands(setting, circuit)
    return all(_pigtail_stands(setting, circuit, each) for each in pigtails)


def _pigtail_stands(setting: Setting, circuit: Circuit, pigtail: Pigtail) -> bool:
    """One of a circuit's pigtails, as if it were alone."""
    limits, total = setting.limits, max(setting.total_ma(circuit))
    fuse, _ = section(setting, circuit)
    own = setting.wire(pigtail.wire)
    if not setting.fuse_spares(fuse, own, circuit.name) or not _has_its_fuse(circuit, fuse, own):
        return False
    farthest = setting.most("fuse_distance", circuit.name, limits.fuse_distance_dmm)
    if fuse and pigtail.fuse_distance_dmm > farthest:
        return False
    if fuse and not load_stands(setting, circuit, fuse):
        return False
    run = pigtail.to_source
    if run is None:
        return True
    wire = setting.wire(run.wire)
    spared = setting.fuse_spares(fuse, wire, circuit.name)
    return spared and setting.carries(wire, total, run.conductors)


def _post_stands(setting: Setting, post: Post) -> bool:
    """A lead's own limit, ampacity and fuse."""
    if post.lead is None:
        return True
    current = max(setting.lead_ma(post))
    if post.carries_ma and current > post.carries_ma:
        return False
    if not post.circuit:
        return True
    wire = setting.wire(post.lead)
    if post.lead_fuse_ma:
        spared = setting.fuse_spares(post.lead_fuse_ma, wire)
    else:
        over = _over(setting, post, wire)
        spared = setting.fuse_spares(*over)
        spared = spared and _has_its_fuse(setting.circuits[post.circuit], over[0], wire)
    if post.id in setting.lengths:
        return spared  # what it stands is asked along its path, once its end is chosen
    return spared and stands_off_loom(setting, wire, current)


def _over(setting: Setting, post: Post, wire: Wire) -> tuple[int, Wire, str]:
    fuse, fused = section(setting, setting.circuits[post.circuit])
    return fuse, wire, fused


def lay_given(setting: Setting, joints: Joints) -> Given | None:
    """Everything that is not chosen, or None when it alone breaks a rule.

    Raises ValueError for what no rule speaks of: a boat wire on a lead.
    """
    console, given = setting.console, Given()
    owners = (circuit for circuit in console.circuits if not circuit.taken_from)
    if not straps_stand(setting) or not all(_supply_stands(setting, one) for one in owners):
        return None
    if not all(_post_stands(setting, post) for post in console.posts):
        return None
    if not near_posts_stand(setting):
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
