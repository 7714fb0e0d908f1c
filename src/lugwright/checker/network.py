"""The plan as a network of resistors: currents, drops to every load, ground shift."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial

from lugwright.base.scale import amps_text
from lugwright.checker.book import Book
from lugwright.checker.facts import JOIN, LEAD, PIGTAIL, STRAP, Facts, PanelWire
from lugwright.checker.positions import Closed
from lugwright.electrics.nodal import Network, Solution
from lugwright.electrics.resistance import nohm_per_mm, wire_uohm
from lugwright.plans.schema import LoadDrop
from lugwright.scenario.console import BoatBlock, Circuit, Pigtail

WAY = "way "


@dataclass(frozen=True)
class Setting:
    """The network solved with devices in one setting, and what each wire carries then.

    Currents in mA; None where a wire hangs on no supply. ``closed`` ways conduct.
    ``in_straps_ma``: what flows from a strap into a stud, by both names.
    """

    closed: Closed
    solution: Solution
    currents_ma: dict[str, Fraction | None]
    in_straps_ma: dict[tuple[str, str], Fraction | None] = field(default_factory=dict)

    def drop_nv(self, post: str) -> Fraction | None:
        """Drop between the source and a post, on its own side of the wiring, nV."""
        return self.solution.drop_nv(inside(post))


@dataclass(frozen=True)
class Loads:
    """The network solved in every setting of its devices that a figure can be largest in."""

    settings: tuple[Setting, ...]

    def worst(self, figure: Callable[[Setting], Fraction | None]) -> Fraction | None:
        """The largest of a figure over the settings; None where it is known in none."""
        known = [value for one in self.settings if (value := figure(one)) is not None]
        return max(known, default=None)

    def drop_nv(self, post: str) -> Fraction | None:
        """The largest drop between the source and a post, on its own side of the wiring, nV."""
        return self.worst(lambda one: one.drop_nv(post))


def inside(post: str) -> str:
    """The node of the post's own metal, behind a lead's crimp where it has one."""
    return f"inside {post}"


def resistance_uohm(facts: Facts, area_um2: int, length_dmm: int) -> int:
    """Resistance of a wire at the limit's conductor temperature, µΩ. Rule R13."""
    limits = facts.limits
    per_mm = nohm_per_mm(area_um2, limits.conductor_temp_c, limits.stranding_permille)
    return wire_uohm(per_mm, length_dmm)


def solve_network(facts: Facts) -> Loads:
    """Build the network of the plan and solve it: all on that can be on in a setting."""
    return Loads(tuple(solve_setting(facts, closed) for closed in facts.settings))


def solve_setting(facts: Facts, closed: Closed) -> Setting:
    """The network with these ways closed, and the loads on that have supply then."""
    network, sources = _network(facts, closed, 0)
    solution = network.solve(sources)
    currents = {branch.name: solution.current_ma(branch) for branch in network.branches}
    return Setting(closed, solution, currents, _in_straps(facts, closed))


def _in_straps(facts: Facts, closed: Closed) -> dict[tuple[str, str], Fraction | None]:
    """What flows from each strap into each of its studs, mA. Rule R35.

    The wires are a tree, so its currents are the same whatever its resistances: a strap's contacts
    have one here, so that there is a branch to read each current off.
    """
    if not facts.console.straps:
        return {}
    network, sources = _network(facts, closed, 1)
    solution = network.solve(sources)
    currents = {branch.name: solution.current_ma(branch) for branch in network.branches}
    return {
        (strap.name, post): currents[_strap_lug(strap.name, post)]
        for strap in facts.console.straps
        for post in strap.posts
    }


def _strap_lug(strap: str, post: str) -> str:
    return f"{STRAP}{strap} on {post}"


def _network(facts: Facts, closed: Closed, least_uohm: int) -> tuple[Network, list[str]]:
    """The network with these ways closed, each contact of a strap of that resistance at least, and
    the nodes of its sources."""
    network, own_ma = Network(), facts.own_draw_ma(closed)
    for strap in facts.console.straps:
        for stud in strap.posts:
            uohm = max(strap.contact_uohm, least_uohm)
            network.add(_strap_lug(strap.name, stud), STRAP + strap.name, stud, uohm)
    for post in facts.console.posts:
        network.join(post.id, facts.inside(post.id))
        crimp = facts.limits.crimp_uohm if post.kind == "lead" else 0
        network.add(LEAD + post.id, post.id, inside(post.id), crimp)
        network.take(inside(post.id), own_ma[post.id])
    for way in facts.console.ways:
        if way.far in closed and facts.supplies(way.far):
            network.add(WAY + way.far, inside(way.near), inside(way.far), way.contact_uohm)
    _add_cut_wires(facts, network)
    sources = [
        _add_supply(facts, network, circuit, facts.panel_wires[PIGTAIL + circuit.name])
        for circuit in facts.console.circuits
        if circuit.pigtail and facts.landing_of.get(circuit.name)
    ]
    return network, [source for source in sources if source]


def _add_cut_wires(facts: Facts, network: Network) -> None:
    """Jumpers, and the extensions of pigtails; a wire end's crimp is in series with the wire."""
    for wire in facts.plan.jumpers:
        spool = facts.spool(wire)
        joints = (wire.from_joint, wire.to_joint)
        from_aboard = any(joint.removeprefix(JOIN) in facts.wires_in for joint in joints)
        if spool and not from_aboard:
            ohms = resistance_uohm(facts, spool.area_um2, wire.length_dmm)
            network.add(wire.label, *joints, ohms + 2 * facts.limits.crimp_uohm)


def pigtail_uohm(facts: Facts, pigtail: Pigtail) -> int:
    """Resistance of a pigtail's own wire: over its reach, a sender's wire over its stated run."""
    run = pigtail.own_run_dmm
    length_dmm = pigtail.reach_dmm if run is None else run
    return resistance_uohm(facts, pigtail.wire.area_um2, length_dmm)


def _add_supply(facts: Facts, network: Network, circuit: Circuit, pigtail: PanelWire) -> str:
    """The pigtail at its full reach and the run behind it; returns the source's node."""
    source, end = f"source {circuit.name}", f"engine end of {pigtail.name}"
    run = circuit.pigtail.to_source if circuit.pigtail else None
    ohms = resistance_uohm(facts, run.wire.area_um2, run.one_way_dmm) if run else 0
    network.add(f"supply run {circuit.name}", source, end, ohms)
    ohms = pigtail_uohm(facts, circuit.pigtail) if circuit.pigtail else 0
    panel_end = JOIN + pigtail.name if pigtail.name in facts.extension_of else pigtail.post
    network.add(pigtail.name, end, panel_end, ohms + facts.limits.crimp_uohm)
    if circuit.returns_to:  # a sender's current comes back to a ground of this panel: rule R34
        ohms = _back_uohm(facts, circuit)
        network.add(f"sender {circuit.name}", source, inside(circuit.returns_to), ohms)
        return ""
    return source


def _back_uohm(facts: Facts, circuit: Circuit) -> int:
    """A sender's own ground wire: its crimp, its run where stated, its extension. Rule R34."""
    label = circuit.pigtail.label if circuit.pigtail else ""
    own = [one for one in facts.console.boat_blocks if label.startswith(f"{one.name}: ")]
    total = 0
    for wire in own[0].wires if own else ():
        total += facts.limits.crimp_uohm
        total += resistance_uohm(facts, wire.wire.area_um2, wire.one_way_dmm)
        extension = facts.extension_of.get(wire.id)
        spool = facts.spool(extension) if extension else None
        if extension and spool:
            ohms = resistance_uohm(facts, spool.area_um2, extension.length_dmm)
            total += ohms + 2 * facts.limits.crimp_uohm
    return total


def wire_current_ma(facts: Facts, loads: Loads, wire: str) -> Fraction | None:
    """What a wire carries in the worst case, mA; None where it hangs on no supply. Rule R12."""
    return loads.worst(lambda one: setting_current_ma(facts, one, wire))


def strap_current_ma(loads: Loads, strap: str, post: str) -> Fraction | None:
    """The most that flows through a strap's lug on a stud, either way, mA. Rule R35."""
    flows = (one.in_straps_ma[strap, post] for one in loads.settings)
    return max((abs(flow) for flow in flows if flow is not None), default=None)


def setting_current_ma(facts: Facts, setting: Setting, wire: str) -> Fraction | None:
    """What a wire carries in one setting, mA; None where it hangs on no supply."""
    if wire in setting.currents_ma:
        current = setting.currents_ma[wire]
        return abs(current) if current is not None else None
    given = facts.panel_wires.get(wire)
    if given is None:
        jumper = facts.jumpers.get(wire)
        names = (jumper.from_joint, jumper.to_joint) if jumper else ()
        given = next(
            (facts.panel_wires[name.removeprefix(JOIN)] for name in names
             if name.removeprefix(JOIN) in facts.wires_in), None,
        )  # fmt: skip
    if given is None:
        return None
    if given.sort == "boat_block":
        return Fraction(facts.boat_blocks[given.boat_block].current_ma)
    if given.sort == "lead":
        return Fraction(facts.lead_ma(given.post, setting.closed))
    return Fraction(sum(
        facts.demand_ma(post)
        for name in facts.takers(given.circuit)
        for post in facts.circuits[name].posts
    ))  # fmt: skip


def check_currents(facts: Facts, loads: Loads, book: Book) -> None:
    """Stated currents and resistances of every cut wire and given wire."""
    for wire in facts.plan.jumpers:
        own = wire_current_ma(facts, loads, wire.label)
        if own is not None:
            book.same(wire.current_ma, own, "current", wire.label, "worst-case current", "mA")
        spool = facts.spool(wire)
        if spool:
            ohms = resistance_uohm(facts, spool.area_um2, wire.length_dmm)
            book.same(wire.resistance_uohm, ohms, "resistance", wire.label, "resistance", "µΩ")
    for row in facts.plan.given:
        own = wire_current_ma(facts, loads, row.wire)
        if own is not None:
            book.same(row.current_ma, own, "current", row.wire, "worst-case current", "mA")


def check_drops(facts: Facts, loads: Loads, book: Book) -> None:
    """Drop to every load and to boat wires that draw, as stated and against its limit. Rule R14.

    Each in the setting of the devices that makes it largest, of those in which the load is on.
    """
    stated = {row.load: row for row in facts.plan.drops}
    for load in facts.console.loads:
        if load.senses:
            continue
        sides = [
            (one.drop_nv(load.feed_post), one.drop_nv(load.ground_post))
            for one in loads.settings
            if facts.is_on(load.feed_post, one.closed)
        ]
        feed, ground = _largest(sides)
        limit = _limit_nv(facts, load.drop_class, load.name)
        own = (load.current_ma, feed, ground, limit, load.drop_class)
        _judge_drop(facts, book, load.name, stated.pop(load.name, None), own)
    for boat_block in facts.console.boat_blocks:
        if not boat_block.is_sender and boat_block.current_ma and boat_block.drawn_from:
            feed, ground = _largest([
                _boat_block_drop_nv(facts, one, boat_block)
                for one in loads.settings
                if facts.is_on(boat_block.drawn_from, one.closed)
            ])  # fmt: skip
            limit = _limit_nv(facts, boat_block.drop_class, boat_block.name)
            own = (boat_block.current_ma, feed, ground, limit, boat_block.drop_class)
            row = stated.pop(boat_block.name, None)
            _judge_drop(facts, book, boat_block.name, row, own, split=False)
    for name in sorted(stated.keys() - facts.boat_blocks.keys()):
        book.complain("names", "drops", f'there is no load "{name}"')
    _ground_shift(facts, loads, book)


Sides = tuple[Fraction | None, Fraction | None]
"""Drop on the feed side and on the ground side, nV."""


def _largest(sides: list[Sides]) -> Sides:
    """The pair with the largest sum; nothing known where one is not; nought where none is on."""
    if any(feed is None or ground is None for feed, ground in sides):
        return None, None
    return max(sides, key=lambda pair: (pair[0] or 0) + (pair[1] or 0), default=(Fraction(0),) * 2)


def _limit_field(drop_class: str) -> str:
    return "drop_critical_permille" if drop_class == "critical" else "drop_other_permille"


def _limit_nv(facts: Facts, drop_class: str, load: str) -> int:
    permille = facts.limits.at(_limit_field(drop_class), load)
    return facts.console.nominal_mv * permille * 1000  # mV/1000 is µV, and 1 µV is 1000 nV


def _boat_block_drop_nv(facts: Facts, loads: Setting, boat_block: BoatBlock) -> Sides:
    """Drop of boat wires that draw: their two paths, their own runs and extensions."""
    own = sum(
        resistance_uohm(facts, wire.wire.area_um2, wire.one_way_dmm) * boat_block.current_ma
        for wire in boat_block.wires
        if wire.one_way_dmm > 0
    )
    for wire in boat_block.wires:
        extension = facts.extension_of.get(wire.id)
        spool = facts.spool(extension) if extension else None
        if extension and spool:
            ohms = resistance_uohm(facts, spool.area_um2, extension.length_dmm)
            own += (ohms + 2 * facts.limits.crimp_uohm) * boat_block.current_ma
    feed = loads.drop_nv(boat_block.drawn_from)
    ground = loads.drop_nv(boat_block.returns_to) if boat_block.returns_to else Fraction(0)
    return (None if feed is None else feed + own), ground


def _judge_drop(
    facts: Facts,
    book: Book,
    name: str,
    row: LoadDrop | None,
    own: tuple[int, Fraction | None, Fraction | None, int, str],
    split: bool = True,
) -> None:
    current, feed, ground, limit, drop_class = own
    book.expect(row is not None, "drop", name, "the plan does not state its drop")
    if feed is None or ground is None:
        return  # it hangs on no supply: "missing post" has said so
    if row:
        if split:
            book.same(row.feed_nv, feed, "drop", name, "drop on the feed side", "nV")
            book.same(row.ground_nv, ground, "drop", name, "drop on the ground side", "nV")
        book.same(row.drop_nv, feed + ground, "drop", name, "whole drop", "nV")
        book.same(row.limit_nv, limit, "drop", name, "its limit", "nV")
        book.same(row.current_ma, current, "current", name, "its current", "mA")
    origin = facts.limits.origin_at(_limit_field(drop_class), name)
    book.expect(
        feed + ground <= limit, "drop", name, "the voltage drop is too large",
        f"{float(feed + ground) / 1e6:.1f} mV", f"{limit / 1e6:.1f} mV", origin,
    )  # fmt: skip


def _shift_nv(grounds: Sequence[str], boat_block: BoatBlock, setting: Setting) -> Fraction | None:
    """Between a dial's ground and its sender's, in one setting, nV."""
    dial = setting.drop_nv(grounds[0])
    sender = setting.drop_nv(boat_block.returns_to) if boat_block.returns_to else Fraction(0)
    return None if dial is None or sender is None else abs(dial - sender)


def _ground_shift(facts: Facts, loads: Loads, book: Book) -> None:
    if facts.limits.ground_shift_mv is None:
        return
    for boat_block in facts.console.boat_blocks:
        drawn = facts.posts.get(boat_block.drawn_from)
        if not boat_block.is_sender or not boat_block.current_ma or drawn is None:
            continue
        mine = {post.id for post in facts.console.posts if post.instrument == drawn.instrument}
        grounds = sorted(load.ground_post for load in facts.console.loads if load.feed_post in mine)
        shift = loads.worst(partial(_shift_nv, grounds[:1], boat_block)) if grounds else None
        if shift is None:
            continue
        most = facts.limits.at("ground_shift_mv", boat_block.name)
        message = f"ground of {drawn.instrument} and of its sender differ by too much"
        book.expect(
            shift <= most * 1_000_000, "ground shift", boat_block.name, message,
            f"{float(shift) / 1e6:.1f} mV at {amps_text(boat_block.current_ma)} A", f"{most} mV",
            facts.limits.origin_at("ground_shift_mv", boat_block.name),
        )  # fmt: skip
