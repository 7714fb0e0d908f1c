"""Colour, size and spool of every cut wire."""

from __future__ import annotations

from collections import defaultdict

from lugwright.checker.book import Book
from lugwright.checker.facts import JOIN, Facts
from lugwright.plans.schema import Jumper


def check_wires(facts: Facts, book: Book) -> None:
    """Every jumper and extension against its circuit, its spool and the least size."""
    for wire in facts.plan.jumpers:
        spool = facts.spool(wire)
        if spool is None:
            continue
        own = (spool.wire_size, spool.colour)
        book.same((wire.wire_size, wire.colour), own, "spool", wire.label, "size and colour")
        _colour(facts, book, wire)
        _minimum(facts, book, wire, spool.area_um2)
    _sizes(facts, book)


def _lengthened(wire: Jumper) -> str:
    """The name of what an extension lengthens, "" for a jumper."""
    joints = (wire.from_joint, wire.to_joint)
    return next((name.removeprefix(JOIN) for name in joints if name.startswith(JOIN)), "")


def _colour(facts: Facts, book: Book, wire: Jumper) -> None:
    lengthened = facts.of_boat(_lengthened(wire))
    circuit = facts.circuits.get(wire.circuit)
    if lengthened:
        name, size = lengthened[0], lengthened[1].wire_size
        book.same(wire.wire_size, size, "spool", wire.label, f"size of {name}")
        there = [spool.colour for spool in facts.stock.spools if spool.wire_size == size]
        own = lengthened[1].colour
        if own not in there:
            own = "black" if "black" in there else min(there, default="")
        book.same(wire.colour, own, "colour", wire.label, f"colour for {name}")
    elif circuit:
        own_colour = (circuit.colour, circuit.colour_code)
        stated = (wire.colour, wire.colour_code)
        message = f"colour and code of {circuit.name}"
        book.same(stated, own_colour, "colour", wire.label, message)


def _minimum(facts: Facts, book: Book, wire: Jumper, area_um2: int) -> None:
    """A jumper is no thinner than the limit and its circuit allow. Rule R17."""
    if facts.of_boat(_lengthened(wire)):
        return  # it goes on with a given wire in that wire's own size
    limits, circuit = facts.limits, facts.circuits.get(wire.circuit)
    own = circuit.minimum_area_um2 if circuit else 0
    general = limits.at("minimum_area_um2", wire.circuit)
    least = max(own, general)
    origin = limits.origin_at("minimum_area_um2", wire.circuit) if least == general else "console"
    book.expect(
        area_um2 >= least, "minimum size", wire.label, "the wire is too thin",
        f"{area_um2 / 1e6:.3f} mm²", f"{least / 1e6:.3f} mm²", origin,
    )  # fmt: skip


def _sizes(facts: Facts, book: Book) -> None:
    """One size a circuit where the limit says so, and the list of sizes as it stands. Rule R29."""
    sizes: dict[str, set[str]] = defaultdict(set)
    for wire in facts.plan.jumpers:
        if not facts.of_boat(_lengthened(wire)):
            sizes[wire.circuit].add(wire.wire_size)
    limits = facts.limits
    for circuit, found in sorted(sizes.items()):
        if limits.wire_size_choice == "circuit":
            message = "its wires differ in size"
            book.expect(
                len(found) == 1, "one size", circuit, message, ", ".join(sorted(found)),
                "one size", limits.origin("wire_size_choice"),
            )  # fmt: skip
    for row in facts.plan.circuit_wires:
        there = sizes.get(row.circuit, set())
        own = next(iter(there)) if len(there) == 1 else "mixed"
        if there:
            book.same(row.wire_size, own, "one size", row.circuit, "its size in the list")
        circuit_row = facts.circuits.get(row.circuit)
        if circuit_row:
            stated = (row.colour, row.colour_code)
            own_colour = (circuit_row.colour, circuit_row.colour_code)
            book.same(stated, own_colour, "colour", row.circuit, "its colour in the list")
