"""The buy list: the plan's needs in whole spools and packs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from lugwright.base.scale import DMM_PER_MM, amps_text, ceil_div
from lugwright.plans.schema import BuyLine, Cap, Crimp, Jumper, Stack, Tie
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console
from lugwright.stock.schema import Stock
from lugwright.trade.live import bare_live_studs
from lugwright.trade.money import wire_cost_micro
from lugwright.trade.names import lead_wire, pigtail_wire

# Stock has no rows for these two; packs are common practice, no source, and no price is known.
TIE_PACK = 100
BOOT_PACK = 1


def build_buy_list(
    brief: Brief,
    jumpers: Sequence[Jumper],
    crimps: Sequence[Crimp],
    caps: Sequence[Cap],
    stacks: Sequence[Stack],
    ties: Sequence[Tie],
) -> tuple[BuyLine, ...]:
    """Wire, fittings, caps, nuts with lock washers, fuses, ties and boots, each by name.

    Cost is that of whole spools and packs; 0 where stock holds no price.
    """
    stock = brief.stock
    items = Counter([item.item for item in crimps] + [item.item for item in caps if item.item])
    return (
        *_wire(stock, jumpers),
        *_fittings(stock, items),
        *_hardware(stock, stacks),
        *_fuses(brief.console, stock),
        *_loose("cable tie", sum(tie.count for tie in ties), TIE_PACK),
        *_loose("insulating boot", _boots(brief.console, stacks), BOOT_PACK),
    )


def _boots(console: Console, stacks: Sequence[Stack]) -> int:
    """Live studs, with lugs on them or bare."""
    bare = bare_live_studs(console, {stack.post for stack in stacks})
    return sum(stack.boot for stack in stacks) + len(bare)


def _wire(stock: Stock, jumpers: Iterable[Jumper]) -> list[BuyLine]:
    """Wire by spool: need in mm rounded up, whole spools."""
    needs: Counter[str] = Counter()
    for jumper in jumpers:
        needs[jumper.spool] += jumper.length_dmm
    lines = []
    for spool in sorted(stock.spools, key=lambda item: item.name):
        if need := needs[spool.name]:
            spools = ceil_div(need, spool.spool_length_dmm)
            cost = wire_cost_micro(spools * spool.spool_length_dmm, spool.price_micro_per_m)
            lines.append(
                BuyLine(
                    item=spool.name,
                    unit="mm",
                    need=ceil_div(need, DMM_PER_MM),
                    pack=spool.spool_length_dmm // DMM_PER_MM,
                    packs=spools,
                    cost_micro=cost,
                )
            )
    return lines


def _pieces(item: str, need: int, pack: int, price_micro: int) -> BuyLine:
    """A line of whole packs; ``price_micro`` is that of one piece."""
    packs = ceil_div(need, pack)
    cost = packs * pack * price_micro
    return BuyLine(item=item, unit="piece", need=need, pack=pack, packs=packs, cost_micro=cost)


def _fittings(stock: Stock, items: Counter[str]) -> list[BuyLine]:
    rows = {name: stock.fitting(name) for name in items}
    return [
        _pieces(name, items[name], rows[name].pack, rows[name].price_micro)
        for name in sorted(items)
    ]


def _hardware(stock: Stock, stacks: Sequence[Stack]) -> list[BuyLine]:
    """A nut for every stud that takes a lug, with its lock washer where one is used."""
    needs = Counter((stack.thread, stack.lock_washer) for stack in stacks)
    lines = []
    for thread, washer in sorted(needs):
        row = stock.hardware_for(thread)
        item = f"nut with lock washer {thread}" if washer else f"nut {thread}"
        lines.append(_pieces(item, needs[thread, washer], row.pack, row.price_micro))
    return lines


def _fuses(console: Console, stock: Stock) -> list[BuyLine]:
    """Every fuse the scenario states: in pigtails, leads, boat wires and fuse blocks."""
    needs = Counter(rating for _, rating in stated_fuses(console))
    rows = {row.rating_ma: row for row in sorted(stock.fuses, key=lambda item: item.name)}
    lines = []
    for rating in sorted(needs):
        row = rows.get(rating)
        item = row.name if row else f"fuse {amps_text(rating)} A"
        price, pack = (row.price_micro, row.pack) if row else (0, 1)
        lines.append(_pieces(item, needs[rating], pack, price))
    return lines


def _loose(item: str, need: int, pack: int) -> list[BuyLine]:
    """A line for what stock holds no row for, if any is needed."""
    return [_pieces(item, need, pack, 0)] if need else []


def stated_fuses(console: Console) -> list[tuple[str, int]]:
    """Wire (of a fuse block: far post) and rating, mA, of every fuse stated, sorted by wire."""
    found: list[tuple[str, int]] = [
        (pigtail_wire(circuit.name), circuit.pigtail.fuse_ma)
        for circuit in console.circuits
        if circuit.pigtail is not None
    ]
    found += [(lead_wire(post.id), post.lead_fuse_ma) for post in console.posts]
    found += [(wire.id, wire.fuse_ma) for item in console.boat_blocks for wire in item.wires]
    found += [(way.far, way.amperes_ma) for way in console.ways if way.kind == "fuse"]
    return sorted((wire, rating) for wire, rating in found if rating)
