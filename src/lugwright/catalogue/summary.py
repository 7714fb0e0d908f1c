"""A planned catalogue in one view: how each model ended, and what it takes to build."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from lugwright.base.scale import mm_text, money_text
from lugwright.catalogue.schema import End, ModelResult
from lugwright.outputs.overview.content import Bar, Bars, Fact, Overview, Part
from lugwright.outputs.words import currency, minutes_text

BRIEF = ("model", "end", "hub", "wire_mm", "jumpers", "fittings", "stacked_lugs", "money")
MOST_BARS = 60
MOST_REASONS = 4
NOTHING_ALONE = (
    "every hub was tried, and a second, different solve agrees; "
    "`lugwright plan` tells which limits cannot hold together"
)


@dataclass(frozen=True)
class ModelRow:
    """One model: how it ended, and its plan's sums."""

    model: str
    end: str
    title: str = ""
    hub: str = ""
    rule_set: str = ""
    wire_mm: str = ""
    jumpers: int | str = ""
    fittings: int | str = ""
    splices: int | str = ""
    stacked_lugs: int | str = ""
    tallest_stack: int | str = ""
    bench_min: str = ""
    money: str = ""
    waivers: int | str = ""


@dataclass(frozen=True)
class WhyRow:
    """One reason why a model has no plan, or has another than before."""

    model: str
    reason: str


def why_rows(result: ModelResult) -> list[WhyRow]:
    """What is wrong with a model, why it has no plan, or what of its earlier plan is forbidden."""
    why = result.faults or result.reasons or result.breaks or tuple(filter(None, (result.note,)))
    if not why and result.end is End.IMPOSSIBLE:
        why = (NOTHING_ALONE,)
    rows = [WhyRow(result.name, reason) for reason in why[:MOST_REASONS]]
    if len(why) > MOST_REASONS:
        rows.append(WhyRow(result.name, f"and {len(why) - MOST_REASONS} more"))
    return rows


def model_row(result: ModelResult) -> ModelRow:
    """The row of a result."""
    plan = result.plan
    if plan is None:
        return ModelRow(result.name, result.end.value)
    sums = plan.totals
    return ModelRow(
        model=result.name,
        title=plan.title,
        end=result.end.value,
        hub=plan.hub,
        rule_set=plan.rule_set,
        wire_mm=mm_text(sums.wire_dmm),
        jumpers=sums.jumpers,
        fittings=sums.fittings,
        splices=sums.splices,
        stacked_lugs=sums.stacked_lugs,
        tallest_stack=sums.tallest_stack,
        bench_min=minutes_text(sums.minutes_cmin),
        money=money_text(sums.money_micro),
        waivers=len(plan.waivers),
    )


def counted(ends: Iterable[End]) -> str:
    """How many models ended how, the usual first: ``197 proved best, 3 no plan exists``."""
    counts = Counter(ends)
    return ", ".join(f"{counts[end]} {end.value}" for end in End if counts[end]) or "none"


def summary(name: str, results: Iterable[ModelResult]) -> Overview:
    """The overview of a planned catalogue; each result is looked at once and let go."""
    rows, why, ends, bars, moneys = [], [], [], [], Counter[str]()
    for result in results:
        rows.append(model_row(result))
        why += why_rows(result)
        ends.append(result.end)
        if result.plan is not None:
            cost = result.plan.totals.money_micro
            bars.append(Bar(result.name, cost, money_text(cost)))
            moneys[currency(result.plan)] += 1
    money = next(iter(moneys)) if len(moneys) == 1 else ""
    bars.sort(key=lambda bar: (-bar.value, bar.label))
    shown = tuple(bars[:MOST_BARS])
    about = f"Money of one panel{f', {money}' if money else ''}: the {len(shown)} dearest"
    return Overview(
        title=f"Catalogue {name}: {len(rows)} models",
        facts=(Fact("models", counted(ends)),),
        parts=(
            Part("models", "Every model", ModelRow, tuple(rows), BRIEF, money),
            Part("why", "Why a model has no plan, and what is to be known", WhyRow, tuple(why)),
        ),
        drawings=(Bars(about, shown),),
    )
