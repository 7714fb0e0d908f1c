"""The cut list: labels, paths, lengths, resistance and strip of every piece of wire.

Jumpers are numbered circuit by circuit from the landing outwards, breadth first, by joint id; a
taken circuit's take-off jumper is number 1. Extensions follow the jumpers of their circuit.
Splices in use are numbered circuit by circuit in the same order: ``splice ground 1``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from lugwright.assemble.currents import Flow, Run
from lugwright.assemble.ends import GivenEnd, join_name, the_spool
from lugwright.assemble.part_numbers import PartNumbers
from lugwright.assemble.working_order import circuits_in_order
from lugwright.base.identity import JointId, WireId
from lugwright.electrics.colours import colour_code
from lugwright.plans.choice import ChosenExtension, ChosenFitting, WireKey
from lugwright.plans.schema import EndRef, Given, Jumper, Waypoint
from lugwright.routes.schema import Path, Routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console
from lugwright.trade.drops import length_uohm
from lugwright.trade.lengths import extension_length_dmm, jumper_length_dmm, reach_needed_dmm
from lugwright.trade.names import jumper_label, lead_wire, splice_label


@dataclass(frozen=True)
class Wires:
    """Cut and given wires, and how a wire's key is told in a plan.

    ``numbers`` is a cut wire's number in its circuit, 0 for a given wire; ``a_joints`` where
    its end a goes (a given wire has no other). ``splices`` maps a splice point's id to the label
    of the splice there; joints are asked for by id.
    """

    jumpers: tuple[Jumper, ...]
    given: tuple[Given, ...]
    paths: Mapping[str, Path]
    labels: Mapping[WireKey, WireId]
    numbers: Mapping[WireKey, int]
    a_joints: Mapping[WireKey, JointId]
    splices: Mapping[str, JointId] = field(default_factory=dict)

    def joint_label(self, joint: JointId) -> JointId:
        """A joint as a plan tells it: a splice by its label, any other by its id."""
        return self.splices.get(joint, joint)

    def end(self, key: WireKey, joint: str) -> EndRef:
        """The end of a wire that lies at a joint."""
        at_a = key.sort == "given" or self.a_joints[key] == joint
        return EndRef(wire=self.labels[key], end="a" if at_a else "b")

    def first_leg(self, key: WireKey, joint: str) -> tuple[int, int]:
        """Plane direction (dx, dy) in which a wire leaves a joint, back view; (0, 0): unknown."""
        path = self.paths.get(self.labels[key])
        if path is None:
            return (0, 0)
        corners = path.corners
        if self.end(key, joint).end == "b" or key.sort == "given":
            corners = corners[::-1]
        start = corners[0].at
        for corner in corners[1:]:
            offset = (corner.at.x_dmm - start.x_dmm, corner.at.y_dmm - start.y_dmm)
            if offset != (0, 0):
                return offset
        return (0, 0)


@dataclass(frozen=True)
class WireShop:
    """What cutting wire needs: the brief, the ways, strips and numbers."""

    brief: Brief
    routes: Routes
    strips: Mapping[tuple[WireKey, str], int]
    numbers: PartNumbers


@dataclass
class _Book:
    """Wires as they are written down, one after another."""

    jumpers: list[Jumper] = field(default_factory=list)
    paths: dict[str, Path] = field(default_factory=dict)
    labels: dict[WireKey, WireId] = field(default_factory=dict)
    numbers: dict[WireKey, int] = field(default_factory=dict)
    a_joints: dict[WireKey, JointId] = field(default_factory=dict)
    splices: dict[str, JointId] = field(default_factory=dict)


def splice_labels(console: Console, currents: Flow) -> dict[str, JointId]:
    """Label of every splice point in use, numbered from each circuit's supply outwards."""
    posts = {post.id for post in console.posts}
    found: dict[str, JointId] = {}
    for circuit in circuits_in_order(console):
        runs = [run for run in currents.runs.values() if run.circuit == circuit.name]
        ends = [end for run in sorted(runs, key=lambda run: run.number) for end in (run.a, run.b)]
        used = dict.fromkeys(end for end in ends if end not in posts)
        for number, joint in enumerate(used, 1):
            found[joint] = splice_label(circuit.name, number)
    return found


def strip_lengths(
    fittings: Iterable[ChosenFitting], brief: Brief
) -> dict[tuple[WireKey, str], int]:
    """Strip of every wire end by wire and joint, 0.1 mm: its barrel's length plus a clearance."""
    found: dict[tuple[WireKey, str], int] = {}
    for fitting in fittings:
        row = brief.stock.fitting(fitting.item)
        for barrel, keys in zip(row.barrels, fitting.barrels, strict=True):
            for key in keys:
                found[key, fitting.joint] = barrel.length_dmm + brief.limits.strip_clearance_dmm
    return found


def cut_wires(
    shop: WireShop,
    currents: Flow,
    ends: Sequence[GivenEnd],
    extensions: Sequence[ChosenExtension],
) -> Wires:
    """Every jumper and extension in working order, and every given wire that is landed."""
    book = _Book(splices=splice_labels(shop.brief.console, currents))
    by_name = {end.name: end for end in ends}
    for circuit in circuits_in_order(shop.brief.console):
        runs = [run for run in currents.runs.values() if run.circuit == circuit.name]
        for run in sorted(runs, key=lambda item: item.number):
            _cut_jumper(shop, run, book)
        own = [item for item in extensions if by_name[item.wire].circuit == circuit.name]
        for extension in sorted(own):
            _cut_extension(shop, by_name[extension.wire], extension, book)
    named = {circuit.name for circuit in shop.brief.console.circuits}
    for extension in sorted(extensions):
        if by_name[extension.wire].circuit not in named:
            _cut_extension(shop, by_name[extension.wire], extension, book)
    for end in ends:
        book.labels[end.key] = end.name
        book.numbers[end.key] = 0
        path = _given_path(shop.routes, end)
        if path is not None:
            book.paths[end.name] = path
    given = _given_records(shop, ends, {item.wire for item in extensions}, book.paths)
    return Wires(
        tuple(book.jumpers),
        given,
        book.paths,
        book.labels,
        book.numbers,
        book.a_joints,
        book.splices,
    )


def _given_path(routes: Routes, end: GivenEnd) -> Path | None:
    """The path of a given wire from its entry to its post; None where no entry is stated."""
    return None if end.entry is None else routes.from_entry(end.entry, end.joint)


def waypoints(path: Path) -> tuple[Waypoint, ...]:
    """A path's corners as a plan tells them."""
    return tuple(
        Waypoint(
            x_dmm=corner.at.x_dmm, y_dmm=corner.at.y_dmm, z_dmm=corner.at.z_dmm, tie=corner.tie
        )
        for corner in path.corners
    )


def _cut_jumper(shop: WireShop, run: Run, book: _Book) -> None:
    """Write down one jumper."""
    circuit = shop.brief.console.circuit(run.circuit)
    spool = the_spool(shop.brief.stock, run.wire_size, circuit.colour)
    path = shop.routes.between(run.a, run.b)
    length = jumper_length_dmm(path.path_dmm, shop.brief.limits)
    ends = frozenset((path.corners[0], path.corners[-1]))
    number = shop.numbers.number(run.circuit, (ends, run.wire_size, length))
    jumper = Jumper(
        label=jumper_label(run.circuit, number),
        circuit=run.circuit,
        number=number,
        role="jumper",
        stage="bench",
        from_joint=book.splices.get(run.a, run.a),
        to_joint=book.splices.get(run.b, run.b),
        path=waypoints(path),
        path_dmm=path.path_dmm,
        length_dmm=length,
        wire_size=run.wire_size,
        colour=circuit.colour,
        colour_code=circuit.colour_code,
        spool=spool.name,
        current_ma=run.current_ma,
        resistance_uohm=length_uohm(spool.area_um2, length, shop.brief.limits),
        strip_a_dmm=shop.strips[run.key, run.a],
        strip_b_dmm=shop.strips[run.key, run.b],
    )
    _enter(book, run.key, jumper, path, run.a)


def _enter(book: _Book, key: WireKey, jumper: Jumper, path: Path, a_joint: JointId) -> None:
    book.jumpers.append(jumper)
    book.paths[jumper.label] = path
    book.labels[key] = jumper.label
    book.numbers[key] = jumper.number
    book.a_joints[key] = a_joint


def _cut_extension(shop: WireShop, end: GivenEnd, chosen: ChosenExtension, book: _Book) -> None:
    """Write down one extension; its path is the whole way of the wire it lengthens.

    Its end a is at the join. One that belongs to no circuit is named by its block of boat wires.
    """
    series = end.circuit or end.boat_block
    spool = the_spool(shop.brief.stock, chosen.wire_size, chosen.colour)
    path = _given_path(shop.routes, end) or Path((), 0)
    needed = reach_needed_dmm(path.path_dmm, shop.brief.console, shop.brief.limits)
    # A list of a built panel may extend a wire that would have reached: as short as one comes.
    length = extension_length_dmm(max(1, needed - end.reach_dmm), shop.brief.limits)
    part = (chosen.wire, end.joint, chosen.wire_size, chosen.colour, length)
    number = shop.numbers.number(series, part)
    jumper = Jumper(
        label=jumper_label(series, number),
        circuit=end.circuit,
        number=number,
        role="extension",
        stage=end.stage,
        from_joint=join_name(chosen.wire),
        to_joint=end.joint,
        path=waypoints(path),
        path_dmm=path.path_dmm,
        length_dmm=length,
        wire_size=chosen.wire_size,
        colour=chosen.colour,
        colour_code=code_of(shop.brief.console, chosen.colour),
        spool=spool.name,
        current_ma=end.current_ma,
        resistance_uohm=length_uohm(spool.area_um2, length, shop.brief.limits),
        strip_a_dmm=shop.strips[chosen.key, join_name(chosen.wire)],
        strip_b_dmm=shop.strips[chosen.key, end.joint],
    )
    _enter(book, chosen.key, jumper, path, jumper.from_joint)


def code_of(console: Console, colour: str) -> str:
    """The code of a colour: as a circuit of the console has it, else the standard's, else ""."""
    for circuit in console.circuits:
        if circuit.colour == colour:
            return circuit.colour_code
    try:
        return colour_code(colour)
    except ValueError:
        return ""


def _given_records(
    shop: WireShop,
    ends: Sequence[GivenEnd],
    lengthened: set[WireId],
    paths: Mapping[str, Path],
) -> tuple[Given, ...]:
    """Pigtails and boat wires as a plan tells them; leads are part of their instrument."""
    found = []
    for end in ends:
        name = end.name
        if name == lead_wire(end.joint):
            continue
        joint = join_name(name) if name in lengthened else end.joint
        ready = end.ring is not None and name not in lengthened
        found.append(
            Given(
                wire=name,
                circuit=end.circuit,
                stage=end.stage,
                joint=joint,
                wire_size=end.wire.wire_size,
                colour=end.wire.colour,
                current_ma=end.current_ma,
                ready_ring=ready,
                strip_dmm=0 if ready else shop.strips[end.key, joint],
                colour_code=code_of(shop.brief.console, end.wire.colour),
                path=waypoints(paths[name]) if name in paths else (),
            )
        )
    return tuple(found)
