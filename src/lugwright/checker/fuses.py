"""Fuses: each protects the thinnest wire behind it, is loaded within its share, sits near."""

from __future__ import annotations

from lugwright.base.errors import OutsideTable
from lugwright.base.scale import amps_text, mm_text
from lugwright.checker.ampacity import own_table_ma
from lugwright.checker.book import Book
from lugwright.checker.facts import JOIN, PIGTAIL, Conductor, Facts, PanelWire
from lugwright.checker.network import Loads, wire_current_ma
from lugwright.scenario.console import Circuit


def check_fuses(facts: Facts, loads: Loads, book: Book) -> None:
    """The fuse of every feed pigtail, and in-line fuses at leads and in boat wires. Rule R16."""
    for circuit in facts.console.circuits:
        if circuit.side == "feed" and circuit.pigtail and circuit.pigtail.fuse_ma:
            _pigtail_fuse(facts, loads, book, circuit)
    for post in facts.console.posts:
        if post.lead_fuse_ma and post.lead:
            _protects(facts, book, f"lead fuse of {post.id}", post.lead_fuse_ma, f"lead {post.id}")
    for wire in facts.wires_in.values():
        if wire.fuse_ma:
            _protects(facts, book, f"fuse in {wire.id}", wire.fuse_ma, wire.id)


def _pigtail_fuse(facts: Facts, loads: Loads, book: Book, circuit: Circuit) -> None:
    pigtail, limits = circuit.pigtail, facts.limits
    if pigtail is None:
        return
    place, fuse = f"fuse of {circuit.name}", pigtail.fuse_ma
    for name in _behind(facts, circuit.name):
        _protects(facts, book, place, fuse, name, circuit.name)
    if pigtail.to_source:
        wire = pigtail.to_source.wire
        conductor = Conductor(
            wire.area_um2, wire.insulation_um, wire.insulation_temp_c, wire.ampacity_size
        )
        run = f"supply run of {circuit.name}"
        _compare(facts, book, place, (fuse, circuit.name), run, conductor)
    load = wire_current_ma(facts, loads, PIGTAIL + circuit.name)
    most = fuse * limits.at("load_permille", circuit.name) // 1000
    if load is not None:
        book.expect(
            load <= most, "fuse load", place, f"a {amps_text(fuse)} A fuse carries too much",
            f"{amps_text(int(load))} A", f"{amps_text(most)} A",
            limits.origin_at("load_permille", circuit.name),
        )  # fmt: skip
    farthest = limits.at("fuse_distance_dmm", circuit.name)
    book.expect(
        pigtail.fuse_distance_dmm <= farthest, "fuse distance", place,
        "it sits too far from the source", f"{mm_text(pigtail.fuse_distance_dmm)} mm",
        f"{mm_text(farthest)} mm", limits.origin_at("fuse_distance_dmm", circuit.name),
    )  # fmt: skip


def _behind(facts: Facts, circuit: str) -> list[str]:
    """Names of the feed-side wires that only this fuse protects."""
    fed = facts.takers(circuit)
    names = [PIGTAIL + circuit]
    names += [wire.label for wire in facts.plan.jumpers if _cut_wire_is_fed(facts, wire.label, fed)]
    for given in facts.panel_wires.values():
        post = facts.posts.get(given.post)
        if post is None:
            continue
        if given.sort == "lead" and post.circuit in fed and not post.lead_fuse_ma:
            if not post.optional or facts.crimps_at.get(post.id):
                names.append(given.name)
        elif given.sort == "boat_block" and _is_fed_load(facts, given, fed):
            names.append(given.name)
    return names


def _cut_wire_is_fed(facts: Facts, label: str, fed: list[str]) -> bool:
    wire = facts.jumpers[label]
    for joint in (wire.from_joint, wire.to_joint):
        given = facts.panel_wires.get(joint.removeprefix(JOIN))
        if given and given.sort == "boat_block":
            return _is_fed_load(facts, given, fed)
    return wire.circuit in fed


def _is_fed_load(facts: Facts, given: PanelWire, fed: list[str]) -> bool:
    """A boat wire on a switched load or a feed post, drawn from these circuits, without its
    own fuse.
    """
    post = facts.posts.get(given.post)
    drawn = facts.posts.get(facts.boat_blocks[given.boat_block].drawn_from)
    if post is None or drawn is None or facts.wires_in[given.name].fuse_ma:
        return False
    return drawn.circuit in fed and (post.function == "load" or post.id == drawn.id)


def _protects(
    facts: Facts, book: Book, place: str, fuse_ma: int, wire: str, fused: str = ""
) -> None:
    """``fused`` is the circuit whose pigtail the fuse is in, "" for a fuse elsewhere."""
    conductor = facts.conductor(wire)
    if conductor:
        _compare(facts, book, place, (fuse_ma, fused), wire, conductor)


def _compare(
    facts: Facts, book: Book, place: str, fuse: tuple[int, str], wire: str, conductor: Conductor
) -> None:
    limits, (fuse_ma, fused) = facts.limits, fuse
    try:
        table = own_table_ma(facts, conductor)
    except OutsideTable as error:
        book.complain("fuse", place, f"no table value for {wire}: {error}")
        return
    most = table * limits.at("fuse_permille", fused) // 1000
    book.expect(
        fuse_ma <= most, "fuse", place, f"it is too large for {wire}",
        f"{amps_text(fuse_ma)} A", f"{amps_text(most)} A", limits.origin_at("fuse_permille", fused),
    )  # fmt: skip
