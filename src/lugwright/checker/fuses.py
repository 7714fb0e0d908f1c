"""Fuses: each protects the thinnest wire behind it, is loaded within its share, sits near."""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.base.errors import OutsideTable
from lugwright.base.scale import amps_text, mm_text
from lugwright.checker.ampacity import own_table_ma
from lugwright.checker.book import Book
from lugwright.checker.facts import JOIN, PIGTAIL, Conductor, Facts, PanelWire
from lugwright.checker.network import Loads
from lugwright.checker.positions import reached
from lugwright.scenario.console import BoatBlock, Circuit, Load, Way


def check_fuses(facts: Facts, loads: Loads, book: Book) -> None:
    """The fuse of every feed pigtail and way, and in-line fuses at leads and in boat wires.

    Each protects its section: from there on, through unfused ways in any position and what is
    taken off, up to the near posts of the next fused ways. Rule R16.
    """
    for circuit in facts.console.circuits:
        if circuit.side == "feed" and circuit.pigtail and circuit.pigtail.fuse_ma:
            _pigtail_fuse(facts, book, circuit)
            names = [PIGTAIL + circuit.name, *_behind(facts, circuit.name)]
            _section(facts, loads, book, circuit.name, circuit.pigtail.fuse_ma, names)
    for way in facts.console.ways:
        name = facts.supplies(way.far)
        if protects(way) and name:
            _section(facts, loads, book, name, way.amperes_ma, _behind(facts, name))
        elif way.amperes_ma and way.kind == "breaker" and name:
            _section(facts, loads, book, name, way.amperes_ma, [])  # it may trip all the same
    _unfused(facts, book)
    for post in facts.console.posts:
        if post.lead_fuse_ma and post.lead:
            _protects(facts, book, f"lead fuse of {post.id}", post.lead_fuse_ma, f"lead {post.id}")
    for wire in facts.wires_in.values():
        if wire.fuse_ma:
            _protects(facts, book, f"fuse in {wire.id}", wire.fuse_ma, wire.id)
    for block in facts.console.boat_blocks:
        if block.maker_fuse_ma and block.drawn_from in facts.posts:
            _makers_fuse(facts, book, block)


def _makers_fuse(facts: Facts, book: Book, block: BoatBlock) -> None:
    """What names its maker's fuse hangs on one that is no larger: in its wire, or before it."""
    for wire in block.wires:
        post = facts.posts[wire.lands_on]
        if wire.lands_on != block.drawn_from and post.function != "load":
            continue
        ahead, _ = fuse_ahead(facts, facts.posts[block.drawn_from].circuit)
        fuse = wire.fuse_ma or ahead
        message = f"{block.name} hangs on another fuse than its maker allows"
        book.expect(
            0 < fuse <= block.maker_fuse_ma, "fuse", wire.id, message,
            f"{amps_text(fuse)} A" if fuse else "none", f"{amps_text(block.maker_fuse_ma)} A",
            "console",
        )  # fmt: skip


def by_maker(facts: Facts) -> dict[str, tuple[str, ...]]:
    """By fuse, the wires behind it whose maker's word stands in place of a share of ampacity."""
    fed: dict[str, set[str]] = {}
    unfused = [way.far for way in facts.console.ways if not protects(way)]
    for circuit in facts.console.circuits:
        if circuit.pigtail and circuit.pigtail.fuse_ma and circuit.side == "feed":
            names = set(reached(facts.console, unfused, [circuit.name]))
            fed[PIGTAIL + circuit.name] = names
    for way in facts.console.ways:
        if protects(way) and facts.supplies(way.far):
            fed[way.far] = set(reached(facts.console, unfused, [facts.supplies(way.far)]))
    found: dict[str, list[str]] = {}
    for given in facts.panel_wires.values():
        if given.wire.fuse_up_to_ma:
            for fuse in _fuses_of(facts, given, fed):
                found.setdefault(fuse, []).append(given.name)
    return {fuse: tuple(sorted(names)) for fuse, names in found.items()}


def _fuses_of(facts: Facts, given: PanelWire, fed: dict[str, set[str]]) -> list[str]:
    """The fuse before a wire that is not cut here: its own, else its section's."""
    if given.sort == "pigtail":
        return [name for name in fed if name == given.name]
    post = facts.posts[given.post]
    if given.sort == "lead":
        own, circuit = post.lead_fuse_ma, post.circuit
        if circuit not in facts.circuits or facts.circuits[circuit].side != "feed":
            return []
    else:
        drawn = facts.posts.get(facts.boat_blocks[given.boat_block].drawn_from)
        if drawn is None or not (post.function == "load" or post.id == drawn.id):
            return []
        own, circuit = facts.wires_in[given.name].fuse_ma, drawn.circuit
    return [given.name] if own else [name for name, names in fed.items() if circuit in names]


def _unfused(facts: Facts, book: Book) -> None:
    """A feed without a fuse has no wire behind it that is exempt from the table of sizes.

    33 CFR 183.425(g) frees it from that table, not from 183.455.
    """
    for circuit in facts.console.circuits:
        if circuit.side == "feed" and circuit.pigtail and not circuit.pigtail.fuse_ma:
            for name in (PIGTAIL + circuit.name, *_behind(facts, circuit.name)):
                wire = facts.conductor(name)
                exempt = wire.said.exempt if wire and wire.said else ""
                message = f"no fuse stands before {name}, which is exempt as {exempt} only"
                book.expect(not exempt, "fuse", f"fuse of {circuit.name}", message)


def protects(way: Way) -> bool:
    """A fuse does, and a breaker that is trip-free (33 CFR 183.455(a))."""
    return way.amperes_ma > 0 and (way.kind == "fuse" or (way.kind == "breaker" and way.trip_free))


def fuse_ahead(facts: Facts, circuit: str) -> tuple[int, str]:
    """The nearest fuse towards the battery that protects a circuit, mA, and the circuit it is of.

    0 where there is none. Rule R16.
    """
    ways = {way.far: way for way in facts.console.ways}
    for _ in facts.console.circuits:
        row = facts.circuits.get(circuit)
        if row is None or row.pigtail:
            return (row.pigtail.fuse_ma if row and row.pigtail else 0), circuit
        way = ways.get(row.supplied_by)
        if way and protects(way):
            return way.amperes_ma, circuit
        circuit = facts.posts[way.near].circuit if way else row.taken_from
    return 0, circuit


def fused_above(facts: Facts) -> Iterator[str]:
    """A note on each way whose fuse is larger than the one ahead of it."""
    for way in facts.console.ways:
        ahead, owner = fuse_ahead(facts, facts.posts[way.near].circuit)
        if protects(way) and 0 < ahead < way.amperes_ma:
            yield (
                f"the {way.kind} of {way.far} is {amps_text(way.amperes_ma)} A, and that of "
                f"{owner} ahead of it {amps_text(ahead)} A: the one ahead may open first"
            )


def _section(
    facts: Facts, loads: Loads, book: Book, circuit: str, fuse: int, names: list[str]
) -> None:
    """A fuse against every wire it protects, and against what it carries."""
    place = f"fuse of {circuit}"
    for name in names:
        _protects(facts, book, place, fuse, name, circuit)
    most = fuse * facts.limits.at("load_permille", circuit) // 1000
    steady, all_of_it = _load_ma(facts, loads, circuit)
    book.expect(
        steady <= most, "fuse load", place, f"a {amps_text(fuse)} A fuse carries too much",
        f"{amps_text(steady)} A", f"{amps_text(most)} A",
        facts.limits.origin_at("load_permille", circuit),
    )  # fmt: skip
    book.expect(
        all_of_it <= fuse or steady == all_of_it, "fuse load", place,
        f"a {amps_text(fuse)} A fuse carries too much, momentary loads counted",
        f"{amps_text(all_of_it)} A", f"{amps_text(fuse)} A", "console",
    )  # fmt: skip


def _load_ma(facts: Facts, loads: Loads, circuit: str) -> tuple[int, int]:
    """What a fuse carries beyond it at most: what stays on, and with what is on for moments."""
    steady = everything = 0
    for setting in loads.settings:
        names = reached(facts.console, setting.closed, [circuit])
        posts = {post for name in names for post in facts.circuits[name].posts}
        rows: list[Load | BoatBlock] = [*facts.console.loads, *facts.console.boat_blocks]
        on = [
            row
            for row in rows
            if (drawn := row.feed_post if isinstance(row, Load) else row.drawn_from) in posts
            and facts.is_on(drawn, setting.closed)
        ]
        everything = max(everything, sum(row.current_ma for row in on))
        steady = max(steady, sum(row.current_ma for row in on if row.duty == "continuous"))
    return steady, everything


def _pigtail_fuse(facts: Facts, book: Book, circuit: Circuit) -> None:
    """The run before a pigtail, and how far along it the fuse is."""
    pigtail, limits = circuit.pigtail, facts.limits
    if pigtail is None:
        return
    place, fuse = f"fuse of {circuit.name}", pigtail.fuse_ma
    if pigtail.to_source:
        wire = pigtail.to_source.wire
        conductor = Conductor(
            wire.area_um2, wire.insulation_um, wire.insulation_temp_c, wire.ampacity_size
        )
        run = f"supply run of {circuit.name}"
        _compare(facts, book, place, (fuse, circuit.name), run, conductor)
    farthest = limits.at("fuse_distance_dmm", circuit.name)
    book.expect(
        pigtail.fuse_distance_dmm <= farthest, "fuse distance", place,
        "it sits too far from the source", f"{mm_text(pigtail.fuse_distance_dmm)} mm",
        f"{mm_text(farthest)} mm", limits.origin_at("fuse_distance_dmm", circuit.name),
    )  # fmt: skip


def _behind(facts: Facts, circuit: str) -> list[str]:
    """Names of the feed-side wires, but for pigtails, that only this fuse protects."""
    unfused = [way.far for way in facts.console.ways if not protects(way)]
    fed = sorted(reached(facts.console, unfused, [circuit]))
    cut = (wire.label for wire in facts.plan.jumpers)
    names: list[str] = [label for label in cut if _cut_wire_is_fed(facts, label, fed)]
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
    origin = limits.origin_at("fuse_permille", fused)
    if conductor.said and conductor.said.fuse_up_to_ma:  # practice, in place of the share
        most, origin = conductor.said.fuse_up_to_ma, "console"
    book.expect(
        fuse_ma <= most, "fuse", place, f"it is too large for {wire}",
        f"{amps_text(fuse_ma)} A", f"{amps_text(most)} A", origin,
    )  # fmt: skip
