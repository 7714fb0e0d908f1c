"""What a month takes of the stock when models are built at a given mix, and what nobody takes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Any

from lugwright.base.scale import money_text
from lugwright.catalogue.schema import ModelResult
from lugwright.outputs.overview.content import Bar, Bars, Fact, Overview, Part
from lugwright.outputs.words import currency
from lugwright.plans.schema import BuyLine

MOST_BARS = 40


@dataclass(frozen=True)
class StockRow:
    """One item and what a month takes of it.

    ``need`` is rounded up to whole units, ``packs`` to whole packs; ``cost`` is that of these
    packs, empty where no price is known. ``models``: how many models of the mix use it.
    """

    item: str
    models: int
    need: int
    unit: str
    pack: int
    packs: int
    cost: str


@dataclass(frozen=True)
class UnusedRow:
    """An item in stock that no model of the catalogue needs."""

    item: str
    kind: str


@dataclass(frozen=True)
class MixRow:
    """One model: how many a month, and what it takes of bench time and money each."""

    model: str
    a_month: str
    end: str
    counted: str


@dataclass
class _Need:
    """What the mix takes of one item so far, in its unit, exactly."""

    line: BuyLine
    need: Fraction = Fraction(0)
    models: int = 0


def rate_text(rate: Fraction) -> str:
    """So many a month, as a person writes it."""
    return str(rate.numerator) if rate.denominator == 1 else f"{float(rate):.3g}"


def stock_overview(
    name: str,
    results: Iterable[ModelResult],
    mix: Mapping[str, Fraction],
    rows_in_stock: Mapping[str, Any],
) -> Overview:
    """What to keep for a month of that mix (models not named in it: none are built).

    ``rows_in_stock``: the stock as a store keeps it. Models without a plan are told, not counted.
    """
    needs: dict[str, _Need] = {}
    used: set[str] = set()
    mixed, left_out, money = [], 0, ""
    for result in results:
        rate = mix.get(result.name, Fraction(0))
        counted = result.plan is not None
        left_out += bool(rate) and not counted
        row = MixRow(result.name, rate_text(rate), result.end.value, "yes" if counted else "no")
        mixed.append(row)
        if result.plan is None:
            continue
        money = money or currency(result.plan)
        used |= {line.item for line in result.plan.buy}
        if rate:
            _add(needs, result.plan.buy, rate)
    kept = tuple(_row(needs[item]) for item in sorted(needs))
    unused = tuple(row for row in _in_stock(rows_in_stock) if row.item not in used)
    costs = [(item, _cost_micro(needs[item])) for item in sorted(needs)]
    return Overview(
        title=f"Stock for the catalogue {name}",
        facts=_facts(mixed, left_out, sum(cost for _, cost in costs), money),
        parts=(
            Part("keep", "What a month takes, in whole packs", StockRow, kept, (), money),
            Part("unused", "In stock, and no model needs it", UnusedRow, unused),
            Part("mix", "The mix", MixRow, tuple(mixed), told=False),
        ),
        drawings=(_bars(costs, money),),
    )


def _add(needs: dict[str, _Need], lines: Iterable[BuyLine], rate: Fraction) -> None:
    """Add what one model takes, so many times."""
    for line in lines:
        need = needs.setdefault(line.item, _Need(line))
        need.need += rate * line.need
        need.models += 1


def _packs(need: _Need) -> int:
    return ceil(need.need / need.line.pack)


def _cost_micro(need: _Need) -> int:
    """Money for the month's whole packs; one pack costs what the plan's own line says."""
    return ceil(Fraction(need.line.cost_micro, need.line.packs) * _packs(need))


def _row(need: _Need) -> StockRow:
    line, cost = need.line, _cost_micro(need)
    return StockRow(
        item=line.item,
        models=need.models,
        need=ceil(need.need),
        unit=line.unit,
        pack=line.pack,
        packs=_packs(need),
        cost=money_text(cost) if cost else "",
    )


def _in_stock(rows: Mapping[str, Any]) -> list[UnusedRow]:
    """Every item of the stock by the name a buy list gives it."""
    found = [UnusedRow(row["name"], "wire") for row in rows.get("spools", ())]
    found += [UnusedRow(row["name"], row["kind"]) for row in rows.get("fittings", ())]
    found += [UnusedRow(row["name"], "fuse") for row in rows.get("fuses", ())]
    return sorted(found, key=lambda row: (row.kind, row.item))


def _facts(rows: list[MixRow], left_out: int, cost_micro: int, money: str) -> tuple[Fact, ...]:
    built = [row for row in rows if row.a_month != "0"]
    total = sum((Fraction(row.a_month) for row in built), Fraction(0))
    unplanned = f"; {left_out} of them have no plan and are not counted" if left_out else ""
    return (
        Fact("mix", f"{len(built)} of {len(rows)} models, {rate_text(total)} a month{unplanned}"),
        Fact("money a month, whole packs", f"{money_text(cost_micro)} {money}".strip()),
        Fact("read", "wire as cut, with no waste at the end of a spool"),
    )


def _bars(costs: list[tuple[str, int]], money: str) -> Bars:
    priced = sorted((pair for pair in costs if pair[1]), key=lambda pair: (-pair[1], pair[0]))
    about = f"Money a month by item{f', {money}' if money else ''}"
    shown = priced[:MOST_BARS]
    return Bars(about, tuple(Bar(item, cost, money_text(cost)) for item, cost in shown))
