"""Ampacity: what each wire carries against its table value and the wires it runs with."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from lugwright.base.errors import OutsideTable
from lugwright.base.scale import amps_text
from lugwright.checker.book import Book
from lugwright.checker.facts import Conductor, Facts
from lugwright.checker.loom import loom_legs
from lugwright.checker.network import Loads, wire_current_ma
from lugwright.checker.reach import GivenRun, given_run
from lugwright.electrics.ampacity import bundle_factor_permille, table_ma

LoomLeg = tuple[str, str]


def own_table_ma(facts: Facts, wire: Conductor) -> int:
    """The table's ampacity of a conductor in this console, mA, else what it says it carries.

    Raises OutsideTable where it has no row, and does not say both that and its exemption.
    """
    try:
        return table_ma(wire.ampacity_size, wire.insulation_temp_c, facts.console.engine_space)
    except OutsideTable:
        if wire.said is None or not (wire.said.exempt and wire.said.carries_ma):
            raise
        return wire.said.carries_ma


def check_ampacity(facts: Facts, loads: Loads, book: Book) -> None:
    """Every cut wire, pigtail, lead, boat wire and supply run. Rule R15."""
    runs = _given_runs(facts)
    counts = _wires_on_legs(facts, runs)
    for jumper in facts.plan.jumpers:
        legs, off_loom = loom_legs(facts.console, jumper.path)
        _judge(facts, loads, book, jumper.label, counts, (legs, off_loom or not legs))
    for wire in facts.panel_wires.values():
        if wire.sort == "pigtail" and not wire.post:
            continue
        run = runs.get(wire.name)
        where = (run.legs, run.off_loom) if run else ((), True)
        _judge(facts, loads, book, wire.name, counts, where)
    _supply_runs(facts, loads, book)


def _given_runs(facts: Facts) -> dict[str, GivenRun]:
    found = {}
    for wire in facts.panel_wires.values():
        run = given_run(facts, wire) if wire.sort != "lead" and wire.post else None
        if run:
            found[wire.name] = run
    return found


def _wires_on_legs(facts: Facts, runs: dict[str, GivenRun]) -> Counter[LoomLeg]:
    """How many conductors run over each loom leg; an extension is its pigtail's run already."""
    counts: Counter[LoomLeg] = Counter()
    for jumper in facts.plan.jumpers:
        if jumper.role == "jumper":
            counts.update(set(loom_legs(facts.console, jumper.path)[0]))
    for run in runs.values():
        counts.update(set(run.legs))
    return counts


def _judge(
    facts: Facts,
    loads: Loads,
    book: Book,
    name: str,
    counts: Counter[LoomLeg],
    where: tuple[tuple[LoomLeg, ...], bool],
) -> None:
    current = wire_current_ma(facts, loads, name)
    conductor = facts.conductor(name)
    if current is None or conductor is None:
        return
    legs, off_loom = where
    worst = [(counts[leg], f"between {leg[0]} and {leg[1]}") for leg in set(legs)]
    if off_loom:
        worst.append((facts.limits.off_loom_conductors, "off the loom"))
    together, place = max(worst)
    _compare(facts, book, name, conductor, current, together, place)


def _compare(
    facts: Facts,
    book: Book,
    name: str,
    conductor: Conductor,
    current: Fraction,
    together: int,
    place: str,
) -> None:
    limits = facts.limits
    try:
        table = own_table_ma(facts, conductor)
    except OutsideTable as error:
        book.complain("ampacity", name, f"no table value: {error}")
        return
    factor = bundle_factor_permille(limits.bundle_rule, max(1, together))
    most = table * factor // 1000
    _own_limit(book, name, conductor, current)
    book.expect(
        current <= most,
        "ampacity",
        name,
        f"it carries too much {place}, {together} together, by {limits.bundle_rule}",
        f"{amps_text(int(current))} A",
        f"{amps_text(most)} A",
        limits.origin("bundle_rule"),
    )


def _own_limit(book: Book, name: str, conductor: Conductor, current: Fraction) -> None:
    """What its maker lets it carry; and under 1 A by the exemption of electronics."""
    said = conductor.said
    if said is None:
        return
    book.expect(
        not said.carries_ma or current <= said.carries_ma, "ampacity", name,
        "it carries more than its maker lets it", f"{amps_text(int(current))} A",
        f"{amps_text(said.carries_ma)} A", "console",
    )  # fmt: skip
    book.expect(
        not said.exempt.startswith("electronics") or current < 1000, "ampacity", name,
        "it is exempt from the ampacity table as electronics under 1 A, and carries more",
        f"{amps_text(int(current))} A", "under 1 A", "33 CFR 183.425(g)",
    )  # fmt: skip


def _supply_runs(facts: Facts, loads: Loads, book: Book) -> None:
    for circuit in facts.console.circuits:
        run = circuit.pigtail.to_source if circuit.pigtail else None
        current = wire_current_ma(facts, loads, f"pigtail {circuit.name}")
        if run is None or current is None:
            continue
        wire = run.wire
        conductor = Conductor(
            wire.area_um2, wire.insulation_um, wire.insulation_temp_c, wire.ampacity_size
        )
        name = f"supply run of {circuit.name}"
        _compare(facts, book, name, conductor, current, run.conductors, "on its run")
