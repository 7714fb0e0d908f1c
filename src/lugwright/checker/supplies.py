"""Buy list, caps and ties: what else the plan needs, and what is left unused."""

from __future__ import annotations

from collections import Counter

from lugwright.base.scale import amps_text, ceil_div
from lugwright.checker.book import Book
from lugwright.checker.facts import Facts
from lugwright.checker.geometry import path_dmm
from lugwright.checker.loom import tie_at
from lugwright.electrics.tables import colour_codes
from lugwright.plans.schema import BuyLine, Cap
from lugwright.scenario.console import Pigtail

DMM_PER_M = 10_000


def check_buy_list(facts: Facts, book: Book) -> None:
    """Every line in whole packs; wire, fittings and caps, nuts, washers and ties add up."""
    lines = {line.item: line for line in facts.plan.buy}
    message = "an item is listed more than once"
    book.expect(len(lines) == len(facts.plan.buy), "buy list", "buy list", message)
    for line in facts.plan.buy:
        pack = max(1, line.pack)
        book.same(line.packs, ceil_div(line.need, pack), "buy list", line.item, "packs")
    _wire(facts, book, lines)
    for name, number in sorted(_pieces(facts).items()):
        row = facts.fittings.get(name)
        if row:
            _line(book, lines, name, (number, row.pack, row.price_micro), "pieces")
    needed = _wire_dmm(facts).keys() | _pieces(facts).keys()
    for name in lines:
        known = name in facts.fittings or any(name == one.name for one in facts.stock.spools)
        book.expect(not known or name in needed, "buy list", name, "the plan uses none of it")
    _hardware(facts, book, facts.plan.buy)
    _fuses(facts, book, lines)


def _wire(facts: Facts, book: Book, lines: dict[str, BuyLine]) -> None:
    """Wire by spool: need rounded up to a millimetre, whole spools."""
    lengths = _wire_dmm(facts)
    for spool in facts.stock.spools:
        if spool.name in lengths:
            pack, need = spool.spool_length_dmm // 10, ceil_div(lengths[spool.name], 10)
            _line(book, lines, spool.name, (need, pack, None), "mm")
            line = lines.get(spool.name)
            if line:
                price = spool.price_micro_per_m * spool.spool_length_dmm * line.packs
                own = ceil_div(price, DMM_PER_M)
                book.same(line.cost_micro, own, "buy list", spool.name, "cost", "millionths")


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
    book: Book,
    lines: dict[str, BuyLine],
    name: str,
    own: tuple[int, int, int | None],
    unit: str,
) -> None:
    """One line against (need, pack, price of a piece); None: the price is judged elsewhere."""
    need, pack, price = own
    line = lines.get(name)
    if not book.expect(line is not None, "buy list", name, f"{need} {unit} are not listed"):
        return
    if line:
        book.same(line.need, need, "buy list", name, "what is needed", unit)
        book.same(line.pack, pack, "buy list", name, "size of a pack", unit)
        if price is not None:
            cost = line.packs * pack * price
            book.same(line.cost_micro, cost, "buy list", name, "cost", "millionths")


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
    _by_word(facts, book, "tie", sum(tie.count for tie in facts.plan.ties))
    boots = sum(stack.boot for stack in facts.plan.stacks) + len(facts.bare_live_studs)
    _by_word(facts, book, "boot", boots)


def _by_word(facts: Facts, book: Book, word: str, need: int) -> None:
    """What stock has no rows for is found by its word, in the singular or the plural."""
    known = facts.fittings.keys() | {spool.name for spool in facts.stock.spools}
    listed = sum(
        line.need
        for line in facts.plan.buy
        if line.item not in known and {word, f"{word}s"} & set(line.item.lower().split())
    )
    book.same(listed, need, "buy list", f"{word}s", "what is needed", "pieces")


def _fuses(facts: Facts, book: Book, lines: dict[str, BuyLine]) -> None:
    """Every fuse that the console states, where stock has its rating."""
    stated = Counter(
        circuit.pigtail.fuse_ma for circuit in facts.console.circuits if circuit.pigtail
    )
    stated.update(post.lead_fuse_ma for post in facts.console.posts)
    stated.update(wire.fuse_ma for wire in facts.wires_in.values())
    stated.update(way.amperes_ma for way in facts.console.ways if way.kind == "fuse")
    names: dict[int, set[str]] = {}
    for row in facts.stock.fuses:
        names.setdefault(row.rating_ma, set()).add(row.name)
    for rating, number in sorted(stated.items()):
        if rating and rating in names:
            need = sum(lines[name].need for name in names[rating] if name in lines)
            place = f"{amps_text(rating)} A fuse"
            book.same(need, number, "buy list", place, "what is needed", "pieces")


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
            if cap.colour_code:
                code = colour_codes().get(cap.colour, "")
                book.same(cap.colour_code, code, "caps", cap.pigtail, "the code of its colour")
        if pigtail:
            _cap_fits(facts, book, cap, pigtail)
    live = [cap.live for cap in facts.plan.caps]
    ordered = live == sorted(live, reverse=True)
    book.expect(ordered, "caps", "caps", "a dead pigtail is listed before a live one")


def _cap_fits(facts: Facts, book: Book, cap: Cap, pigtail: Pigtail) -> None:
    """The cap takes the wire; none is named only where no cap in stock takes it."""
    wire = pigtail.wire
    counts = (1, 2) if facts.limits.fold_back else (1,)
    fitting = {
        row.name
        for row in facts.stock.fittings
        if row.kind == "cap"
        for barrel in row.barrels[:1]
        if wire.insulation_um <= barrel.sleeve_um
        and any(
            barrel.area_min_um2 <= count * wire.area_um2 <= barrel.area_max_um2 for count in counts
        )
    }
    fine = cap.item in fitting if cap.item or fitting else True
    message = f'"{cap.item}" is not an insulating cap in stock that takes its wire'
    book.expect(fine, "caps", cap.pigtail, message)


def check_ties(facts: Facts, book: Book) -> None:
    """A tie at every tie point in use; without tie points one per support distance."""
    limits = facts.limits
    counts = Counter[str]()
    for tie in facts.plan.ties:
        counts[tie.where] += tie.count
    paths = [wire.path for wire in facts.plan.jumpers] + [row.path for row in facts.plan.given]
    used = {tie_at(facts.console, corner) for path in paths for corner in path} - {""}
    for name in sorted(used):
        book.expect(counts[name] >= 1, "ties", name, "wires run here, but no tie is planned")
    if facts.console.tie_points or limits.support_distance_dmm <= 0:
        return
    lengths = {wire.label: wire.path_dmm for wire in facts.plan.jumpers if wire.role == "jumper"}
    lengths |= {row.wire: path_dmm(row.path) for row in facts.plan.given}
    for name, length in lengths.items():
        if length > limits.support_distance_dmm:
            need = ceil_div(length, limits.support_distance_dmm) - 1
            there = sum(count for where, count in counts.items() if name in where)
            origin = limits.origin("support_distance_dmm")
            message = "a long wire is held too seldom"
            book.expect(there >= need, "ties", name, message, there, need, origin)
