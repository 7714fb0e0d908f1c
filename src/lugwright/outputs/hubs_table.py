"""One row per hub candidate: figures, order, words why the best one is best; text and CSV."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from lugwright.base.scale import mm_text, money_text
from lugwright.outputs.csv_text import csv_text
from lugwright.outputs.words import (
    drop_margin_text,
    drop_text,
    level_text,
    levels_text,
    minutes_text,
    one_line,
)
from lugwright.plans.outcome import Ending
from lugwright.trade.hubs import NO_HUB

if TYPE_CHECKING:
    from lugwright.plans.schema import LoadDrop, Plan, Stack

PROVED = Ending.PROVED.value
REJECTED = "the checker rejects its plan"
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True)
class HubRow:
    """How one hub candidate ended.

    ``ending`` is an ``Ending`` in words, or REJECTED. ``cost`` and ``bound`` are vectors over
    ``levels``. ``plan`` is None where there is none; ``reasons`` say why.
    """

    hub: str
    ending: str
    levels: tuple[str, ...]
    cost: tuple[int, ...] = ()
    bound: tuple[int, ...] = ()
    plan: Plan | None = None
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True)
class HubLine:
    """A row as it is shown: plain decimals as text, empty where there is no plan."""

    hub: str
    ending: str
    difference: str = ""
    gap: str = ""
    wire_mm: str = ""
    jumpers: str = ""
    fittings: str = ""
    stacked_lugs: str = ""
    tallest_stack: str = ""
    thread_left_mm: str = ""
    splices: str = ""
    wire_sizes: str = ""
    worst_drop_mv: str = ""
    drop_margin_mv: str = ""
    worst_drop_at: str = ""
    wire_cost: str = ""
    fitting_cost: str = ""
    minutes: str = ""
    reason: str = ""


def least_thread(plan: Plan) -> Stack | None:
    """The stack with the least thread left; ties by post."""
    return min(plan.stacks, key=lambda s: (s.free_dmm - s.used_dmm, s.post), default=None)


def worst_drop(plan: Plan) -> LoadDrop | None:
    """The drop that is nearest to its limit, as a share of it; ties by load."""
    return max(
        plan.drops,
        key=lambda d: (d.drop_nv * 1_000_000 // max(1, d.limit_nv), d.load),
        default=None,
    )


def figures(row: HubRow) -> dict[str, int | str | None]:
    """Everything that is compared, as numbers in the units of ``base.scale``; None: no plan."""
    plan = row.plan
    if plan is None:
        return dict.fromkeys(_FIGURES)
    thread, drop, totals = least_thread(plan), worst_drop(plan), plan.totals
    return {
        "wire_dmm": totals.wire_dmm,
        "jumpers": totals.jumpers,
        "fittings": totals.fittings,
        "stacked_lugs": totals.stacked_lugs,
        "tallest_stack": totals.tallest_stack,
        "thread_left_dmm": None if thread is None else thread.free_dmm - thread.used_dmm,
        "splices": totals.splices,
        "wire_sizes": wire_sizes(plan),
        "worst_drop_nv": None if drop is None else drop.drop_nv,
        "drop_margin_nv": None if drop is None else drop.limit_nv - drop.drop_nv,
        "worst_drop_at": None if drop is None else drop.load,
        "wire_cost_micro": totals.wire_cost_micro,
        "fitting_cost_micro": totals.fitting_cost_micro,
        "minutes_cmin": totals.minutes_cmin,
    }


_FIGURES = (
    "wire_dmm",
    "jumpers",
    "fittings",
    "stacked_lugs",
    "tallest_stack",
    "thread_left_dmm",
    "splices",
    "wire_sizes",
    "worst_drop_nv",
    "drop_margin_nv",
    "worst_drop_at",
    "wire_cost_micro",
    "fitting_cost_micro",
    "minutes_cmin",
)
# a column's name on the command line: what it sorts by
COLUMNS: dict[str, str] = {
    "difference": "",
    "hub": "",
    "wire": "wire_dmm",
    "jumpers": "jumpers",
    "fittings": "fittings",
    "stacked": "stacked_lugs",
    "tallest": "tallest_stack",
    "thread": "thread_left_dmm",
    "splices": "splices",
    "sizes": "wire_sizes",
    "drop": "worst_drop_nv",
    "drop-margin": "drop_margin_nv",
    "wire-cost": "wire_cost_micro",
    "fitting-cost": "fitting_cost_micro",
    "minutes": "minutes_cmin",
}


def wire_sizes(plan: Plan) -> str:
    """Wire size of every circuit that has jumpers."""
    return "; ".join(f"{c.circuit} {c.wire_size}" for c in plan.circuit_wires if c.wire_size)


def in_order(rows: Iterable[HubRow], column: str, *, backwards: bool = False) -> tuple[HubRow, ...]:
    """Rows by a column of COLUMNS, least first; rows without that figure last, by name.

    Raises KeyError for a column that does not exist.
    """
    field = COLUMNS[column]
    known: list[tuple[int | str | tuple[int, ...], HubRow]] = []
    unknown = []
    for row in sorted(rows, key=lambda each: each.hub):
        value = row.hub if column == "hub" else row.cost if not field else figures(row)[field]
        if value is None or (column != "hub" and row.plan is None):
            unknown.append(row)
        else:
            known.append((value, row))
    known.sort(key=lambda pair: pair[0], reverse=backwards)
    return (*(row for _, row in known), *unknown)


def best_row(rows: Iterable[HubRow]) -> HubRow | None:
    """The row of least cost, ties by name; None where no hub has a plan."""
    planned = [row for row in rows if row.plan is not None]
    return min(planned, key=lambda row: (row.cost, row.hub), default=None)


def difference_text(row: HubRow, best: HubRow | None) -> str:
    """What a hub costs more than the best one, level by level; "best" for an equal cost."""
    if row.plan is None or best is None:
        return ""
    if row.cost == best.cost:
        return "best"
    parts = []
    for name, mine, least in zip(row.levels, row.cost, best.cost, strict=True):
        if mine != least:
            more = "more" if mine > least else "less"
            parts.append(f"{level_text(short_level(name), abs(mine - least))} {more}")
    return ", ".join(parts)


def short_level(level: str) -> str:
    """The default's long level in a word."""
    what, comma, unit = level.partition(", ")
    return f"wire and worths{comma}{unit}" if what.startswith("wire length + worth") else level


def hub_label(row: HubRow) -> str:
    """The hub's name; where each circuit has its own, those behind it."""
    if row.plan is None or row.plan.hub == row.hub:
        return row.hub
    told = set(row.plan.hub.split(", ")) - {row.hub}
    no_hub = {one.name for one in row.plan.panel.circuits if one.side in NO_HUB}
    landed = (one for one in row.plan.landings if one.circuit not in no_hub)
    homes = ((one.circuit, one.post.partition(".")[0]) for one in landed)
    own = "; ".join(f"{circuit} on {home}" for circuit, home in homes if home in told)
    return f"{row.hub} ({own})"


def gap_text(row: HubRow) -> str:
    """How far from proved a row may be; "" where it is proved or has no plan to say it of."""
    if row.ending != Ending.WITHIN_BOUND.value or row.plan is None:
        return ""
    for name, cost, bound in zip(row.levels, row.cost, row.bound, strict=False):
        if cost != bound:
            share = f" ({-(-(cost - bound) * 1000 // cost) / 10:.1f} %)" if cost > 0 else ""
            return f"at most {level_text(short_level(name), cost - bound)} could be saved{share}"
    return "its cost is proved; which of the equal plans is best is not"


def reason_text(row: HubRow) -> str:
    """Why a row has no plan, in one line."""
    if row.plan is not None:
        return ""
    if row.reasons:
        return "; ".join(one_line(reason) for reason in row.reasons)
    if row.ending == Ending.IMPOSSIBLE.value:
        return "no plan with this hub: a second, different solve agrees"
    if any(row.bound):
        levels = tuple(map(short_level, row.levels))
        return f"no answer in time; no plan can cost less than {levels_text(levels, row.bound)}"
    return "no answer in time; nothing is known of this hub yet"


def line_of(row: HubRow, best: HubRow | None) -> HubLine:
    """A row as it is shown beside the best one."""
    blank = HubLine(hub_label(row), row.ending, reason=reason_text(row))
    plan = row.plan
    if plan is None:
        return blank
    totals, thread, drop = plan.totals, least_thread(plan), worst_drop(plan)
    return replace(
        blank,
        difference=difference_text(row, best),
        gap=gap_text(row),
        wire_mm=mm_text(totals.wire_dmm),
        jumpers=str(totals.jumpers),
        fittings=str(totals.fittings),
        stacked_lugs=str(totals.stacked_lugs),
        tallest_stack=str(totals.tallest_stack),
        thread_left_mm="" if thread is None else mm_text(thread.free_dmm - thread.used_dmm),
        splices=str(totals.splices),
        wire_sizes=wire_sizes(plan),
        worst_drop_mv="" if drop is None else drop_text(drop.drop_nv),
        drop_margin_mv="" if drop is None else drop_margin_text(drop.limit_nv - drop.drop_nv),
        worst_drop_at="" if drop is None else drop.load,
        wire_cost=money_text(totals.wire_cost_micro),
        fitting_cost=money_text(totals.fitting_cost_micro),
        minutes=minutes_text(totals.minutes_cmin),
    )


def hubs_csv(rows: Sequence[HubRow]) -> str:
    """The table as CSV, in the order given."""
    best = best_row(rows)
    return csv_text(HubLine, [line_of(row, best) for row in rows])


# -- why the best one is best ------------------------------------------------------------------


def why_best(rows: Sequence[HubRow]) -> str:
    """In words why the best hub is best: against the next one, and what its tallest stack takes.

    Says no more than is proved. "" where no hub has a plan.
    """
    best = best_row(rows)
    if best is None or best.plan is None:
        return ""
    others = sorted(
        (row for row in rows if row.plan is not None and row.hub != best.hub),
        key=lambda row: (row.cost, row.hub),
    )
    open_rows = [row.hub for row in rows if not _settled(row)]
    name = hub_label(best)
    lead = f"{name} is best" if not open_rows else f"{name} is the best known so far"
    parts = [lead]
    if others and others[0].plan is not None:
        if others[0].cost == best.cost:
            parts.append(f"no better than {others[0].hub}, and first by name")
        else:
            saving = _savings(best.plan, others[0].plan)
            parts.append(f"against {others[0].hub} it {saving}" if saving else "")
    elif not open_rows:
        parts.append("no other hub has a plan")
    parts.append(_stack_words(best.plan))
    words = parts[0] + ": " + "; ".join(part for part in parts[1:] if part) + "."
    return words + (f" Not settled yet: {', '.join(open_rows)}." if open_rows else "")


def _settled(row: HubRow) -> bool:
    return row.ending in (PROVED, Ending.IMPOSSIBLE.value)


def wire_by_circuit(plan: Plan) -> dict[str, int]:
    """Wire cut for each circuit, extensions included, 0.1 mm."""
    found: dict[str, int] = defaultdict(int)
    for jumper in plan.jumpers:
        found[jumper.circuit] += jumper.length_dmm
    return dict(found)


def _savings(best: Plan, other: Plan) -> str:
    """What the one saves against the other, and what it takes more of."""
    mine, theirs = wire_by_circuit(best), wire_by_circuit(other)
    less: list[tuple[int, str]] = []
    more: list[tuple[int, str]] = []
    for circuit in sorted(mine.keys() | theirs.keys()):
        difference = theirs.get(circuit, 0) - mine.get(circuit, 0)
        words = f"{mm_text(abs(difference))} mm of {circuit} wire"
        if difference:
            (less if difference > 0 else more).append((-abs(difference), words))
    less_words = [words for _, words in sorted(less)]
    more_words = [words for _, words in sorted(more)]
    counts = (
        ("stacked lug", other.totals.stacked_lugs - best.totals.stacked_lugs),
        ("fitting", other.totals.fittings - best.totals.fittings),
    )
    for what, difference in counts:
        if difference:
            (less_words if difference > 0 else more_words).append(_count(abs(difference), what))
    money = other.totals.money_micro - best.totals.money_micro
    if not less_words and money > 0:
        less_words.append(f"{money_text(money)} in money")
    saves = f"saves {_listed(less_words)}" if less_words else ""
    takes = f"takes {_listed(more_words)} more" if more_words else ""
    return " and ".join(part for part in (saves, takes) if part)


def _stack_words(plan: Plan) -> str:
    """The tallest stack among the landings' instruments, and its thread."""
    hubs = {landing.post.partition(".")[0] for landing in plan.landings}
    stacks = [stack for stack in plan.stacks if stack.post.partition(".")[0] in hubs]
    if not stacks:
        return ""
    tall = max(stacks, key=lambda s: (len(s.lugs), s.used_dmm - s.free_dmm, s.post))
    left = mm_text(tall.free_dmm - tall.used_dmm)
    lugs = _count(len(tall.lugs), "lug")
    where = f"its {tall.post.partition('.')[2]} stud" if len(hubs) == 1 else f"the stud {tall.post}"
    return f"{where} takes {lugs} with {left} mm of thread to spare"


def _count(number: int, what: str) -> str:
    word = _NUMBERS[number] if number < len(_NUMBERS) else str(number)
    return f"{word} {what}{'' if number == 1 else 's'}"


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
