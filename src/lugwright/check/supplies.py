"""Buy list, caps and ties: what else the plan needs, and what is left unused."""

from __future__ import annotations

from collections import Counter

from lugwright.base.scale import ceil_div
from lugwright.check.book import Book
from lugwright.check.facts import Facts
from lugwright.check.runs import tie_at
from lugwright.plan.schema import BuyLine


def check_buy_list(facts: Facts, book: Book) -> None:
    """Every line in whole packs; wire, fittings and caps, nuts, washers and ties add up."""
    lines = {line.item: line for line in facts.plan.buy}
    message = "an item is listed more than once"
    book.expect(len(lines) == len(facts.plan.buy), "buy list", "buy list", message)
    for line in facts.plan.buy:
        pack = max(1, line.pack)
        book.same(line.packs, ceil_div(line.need, pack), "buy list", line.item, "packs")
    for name, length in sorted(_wire_dmm(facts).items()):
        spool = next((spool for spool in facts.stock.spools if spool.name == name), None)
        pack = spool.spool_length_dmm // 10 if spool else 0
        _line(book, lines, name, ceil_div(length, 10), pack, "mm")
    for name, number in sorted(_pieces(facts).items()):
        row = facts.fittings.get(name)
        _line(book, lines, name, number, row.pack if row else 0, "pieces")
    _hardware(facts, book, facts.plan.buy)


def _wire_dmm(facts: Facts) -> Counter[str]:
    lengths: Counter[str] = Counter()
    for wire in facts.plan.jumpers:
        lengths[wire.spool] += wire.length_dmm
    return lengths


def _pieces(facts: Facts) -> Counter[str]:
    pieces = Counter(crimp.item for crimp in facts.plan.crimps)
    pieces.update(cap.item for cap in facts.plan.caps if cap.item)
    return pieces


def _line(
    book: Book, lines: dict[str, BuyLine], name: str, need: int, pack: int, unit: str
) -> None:
    line = lines.get(name)
    if not book.expect(line is not None, "buy list", name, f"{need} {unit} are not listed"):
        return
    if line:
        book.same(line.need, need, "buy list", name, "what is needed", unit)
        book.same(line.pack, pack, "buy list", name, "size of a pack", unit)


def _hardware(facts: Facts, book: Book, lines: tuple[BuyLine, ...]) -> None:
    """Nuts and washers by thread, and ties; these have no name of their own in stock."""
    studs = Counter(stack.thread for stack in facts.plan.stacks)
    for thread, number in sorted(studs.items()):
        listed = [line for line in lines if thread in line.item and line.unit == "piece"]
        listed = [line for line in listed if line.item not in facts.fittings]
        message = f"nuts for {thread}: {number} are not listed"
        nuts = [line for line in listed if "nut" in line.item]
        book.expect(bool(nuts), "buy list", thread, message)
        washers = [line for line in listed if "washer" in line.item]
        if facts.limits.lock_washer:
            message = f"washers for {thread}: {number} are not listed"
            book.expect(bool(washers), "buy list", thread, message)
        for line in {line.item: line for line in (*nuts, *washers)}.values():
            book.same(line.need, number, "buy list", line.item, "what is needed", "pieces")
    ties = sum(tie.count for tie in facts.plan.ties)
    if ties:
        listed = [line for line in lines if "tie" in line.item.split()[-1:]
                  or "ties" in line.item.split() or "tie" in line.item.split()]  # fmt: skip
        need = sum(line.need for line in listed)
        book.same(need, ties, "buy list", "ties", "what is needed", "pieces")


def check_caps(facts: Facts, book: Book) -> None:
    """One cap per unused pigtail, described as it is, live ones first."""
    own = {pigtail.label: pigtail for pigtail in facts.console.unused_pigtails}
    capped = Counter(cap.pigtail for cap in facts.plan.caps)
    for label in own:
        message = f"the unused pigtail is capped {capped[label]} times, not once"
        book.expect(capped[label] == 1, "caps", label, message)
    for cap in facts.plan.caps:
        pigtail = own.get(cap.pigtail)
        known = pigtail is not None
        if book.expect(known, "names", "caps", f'no unused pigtail "{cap.pigtail}"') and pigtail:
            stated = (cap.live, cap.colour)
            true = (pigtail.live, pigtail.wire.colour)
            book.same(stated, true, "caps", cap.pigtail, "live or dead, and colour")
        row = facts.fittings.get(cap.item)
        good = row is not None and row.kind == "cap"
        book.expect(good, "caps", cap.pigtail, f'"{cap.item}" is no insulating cap in stock')
    live = [cap.live for cap in facts.plan.caps]
    ordered = live == sorted(live, reverse=True)
    book.expect(ordered, "caps", "caps", "a dead pigtail is listed before a live one")


def check_ties(facts: Facts, book: Book) -> None:
    """A tie at every tie point in use; without tie points one per support distance."""
    limits = facts.limits
    counts = Counter[str]()
    for tie in facts.plan.ties:
        counts[tie.where] += tie.count
    used = {
        name
        for wire in facts.plan.jumpers
        for corner in wire.path
        if (name := tie_at(facts.console, corner))
    }
    for name in sorted(used):
        book.expect(counts[name] >= 1, "ties", name, "wires run here, but no tie is planned")
    if facts.console.tie_points or limits.support_distance_dmm <= 0:
        return
    for wire in facts.plan.jumpers:
        if wire.role == "jumper" and wire.path_dmm > limits.support_distance_dmm:
            need = ceil_div(wire.path_dmm, limits.support_distance_dmm) - 1
            there = sum(count for where, count in counts.items() if wire.label in where)
            origin = limits.origin("support_distance_dmm")
            message = "a long wire is held too seldom"
            book.expect(there >= need, "ties", wire.label, message, there, need, origin)
