"""Rows of what is counted and judged: supply, drops, buy list, fuses, totals, limits."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from lugwright.base.scale import amps_text, mm_text, money_text
from lugwright.outputs.words import (
    colour_text,
    currency,
    drop_margin_text,
    drop_text,
    minutes_text,
)
from lugwright.plans.schema import LimitUsed, LoadDrop, Plan

BUILT_IN = "built-in rule set"


@dataclass(frozen=True)
class LandingRow:
    """Where the supply of a circuit lands on the hub."""

    circuit: str
    post: str
    pigtail: str
    extension: str


@dataclass(frozen=True)
class CircuitRow:
    """The wire a circuit is run in."""

    circuit: str
    colour: str
    wire_size: str


@dataclass(frozen=True)
class GivenRow:
    """A wire that is not cut: a pigtail or what comes aboard, and where it ends."""

    wire: str
    circuit: str
    stage: str
    joint: str
    wire_size: str
    colour: str
    end: str
    strip_mm: str
    amps: str


@dataclass(frozen=True)
class TieRow:
    """Ties to put on."""

    where: str
    count: int


@dataclass(frozen=True)
class DropRow:
    """Drop to one load and what is left under its limit; all in mV."""

    load: str
    amps: str
    feed_mv: str
    ground_mv: str
    drop_mv: str
    limit_mv: str
    margin_mv: str


@dataclass(frozen=True)
class BuyRow:
    """One line of the buy list. ``cost`` is empty where no price is known."""

    item: str
    need: int
    unit: str
    pack: int
    packs: int
    cost: str


@dataclass(frozen=True)
class FuseRow:
    """One fuse, as the plan states it."""

    fuse: str


@dataclass(frozen=True)
class TotalRow:
    """One sum over the plan."""

    total: str
    value: str
    unit: str


@dataclass(frozen=True)
class LimitRow:
    """One limit in force. ``differs`` says that it is not the built-in rule set's own value."""

    name: str
    value: str
    origin: str
    source: str
    differs: str


@dataclass(frozen=True)
class CautionRow:
    """One caution; one of them names the rule set the plan was made under."""

    caution: str


@dataclass(frozen=True)
class WaiverRow:
    """A limit loosened for one place, and who answers for it."""

    limit: str
    place: str
    value: str
    reason: str
    initials: str
    date: str
    origin: str


def landing_rows(plan: Plan) -> tuple[LandingRow, ...]:
    """Where each supply lands."""
    return tuple(
        LandingRow(x.circuit, x.post, x.pigtail or x.way, x.extension) for x in plan.landings
    )


def circuit_rows(plan: Plan) -> tuple[CircuitRow, ...]:
    """Colour and wire size of each circuit."""
    return tuple(
        CircuitRow(x.circuit, colour_text(x.colour, x.colour_code), x.wire_size)
        for x in plan.circuit_wires
    )


def given_rows(plan: Plan) -> tuple[GivenRow, ...]:
    """Wires that come as they are."""
    return tuple(
        GivenRow(
            wire=wire.wire,
            circuit=wire.circuit,
            stage=wire.stage,
            joint=wire.joint,
            wire_size=wire.wire_size,
            colour=wire.colour,
            end="ready-made ring" if wire.ready_ring else "bare",
            strip_mm="" if wire.ready_ring else mm_text(wire.strip_dmm),
            amps=amps_text(wire.current_ma),
        )
        for wire in plan.given
    )


def tie_rows(plan: Plan) -> tuple[TieRow, ...]:
    """Ties, in the plan's order."""
    return tuple(TieRow(tie.where, tie.count) for tie in plan.ties)


def worst_first(plan: Plan) -> tuple[LoadDrop, ...]:
    """Drops by the share of their limit they use up, the fullest first, then by name."""

    def fullness(drop: LoadDrop) -> tuple[Fraction, str]:
        share = Fraction(drop.drop_nv, drop.limit_nv) if drop.limit_nv else Fraction(drop.drop_nv)
        return (-share, drop.load)

    return tuple(sorted(plan.drops, key=fullness))


def drop_rows(plan: Plan) -> tuple[DropRow, ...]:
    """Drops with their margins, worst first."""
    return tuple(
        DropRow(
            load=drop.load,
            amps=amps_text(drop.current_ma),
            feed_mv=drop_text(drop.feed_nv),
            ground_mv=drop_text(drop.ground_nv),
            drop_mv=drop_text(drop.drop_nv),
            limit_mv=drop_margin_text(drop.limit_nv),
            margin_mv=drop_margin_text(drop.limit_nv - drop.drop_nv),
        )
        for drop in worst_first(plan)
    )


def buy_rows(plan: Plan) -> tuple[BuyRow, ...]:
    """The buy list, in whole packs."""
    return tuple(
        BuyRow(
            x.item,
            x.need,
            x.unit,
            x.pack,
            x.packs,
            money_text(x.cost_micro) if x.cost_micro else "",
        )
        for x in plan.buy
    )


def fuse_rows(plan: Plan) -> tuple[FuseRow, ...]:
    """The fuses."""
    return tuple(FuseRow(fuse) for fuse in plan.fuses)


def total_rows(plan: Plan) -> tuple[TotalRow, ...]:
    """The sums over the plan."""
    totals, money = plan.totals, currency(plan)
    return (
        TotalRow("wire", mm_text(totals.wire_dmm), "mm"),
        TotalRow("pieces of wire", str(totals.jumpers), ""),
        TotalRow("fittings", str(totals.fittings), ""),
        TotalRow("splices", str(totals.splices), ""),
        TotalRow("stacked lugs", str(totals.stacked_lugs), ""),
        TotalRow("tallest stack", str(totals.tallest_stack), "lugs"),
        TotalRow("minutes", minutes_text(totals.minutes_cmin), "min"),
        TotalRow("wire cost", money_text(totals.wire_cost_micro), money),
        TotalRow("fitting cost", money_text(totals.fitting_cost_micro), money),
        TotalRow("labour cost", money_text(totals.labour_cost_micro), money),
        TotalRow("money", money_text(totals.money_micro), money),
    )


def differs(limit: LimitUsed) -> bool:
    """True when a limit was set by a file, the scenario or the command line."""
    return not limit.origin.startswith(BUILT_IN)


def limit_rows(plan: Plan) -> tuple[LimitRow, ...]:
    """Every limit in force, with where it comes from."""
    return tuple(
        LimitRow(x.name, x.value, x.origin, x.source, "differs" if differs(x) else "")
        for x in plan.limits
    )


def caution_rows(plan: Plan) -> tuple[CautionRow, ...]:
    """The cautions, and the rule set where none of them names it."""
    named = any(plan.rule_set in caution for caution in plan.cautions)
    rule_set = () if named else (f"Planned under the rule set: {plan.rule_set}.",)
    return tuple(CautionRow(caution) for caution in (*plan.cautions, *rule_set))


def waiver_rows(plan: Plan) -> tuple[WaiverRow, ...]:
    """The waivers, in the plan's order."""
    return tuple(
        WaiverRow(x.limit, x.place, x.value, x.reason, x.initials, x.date, x.origin)
        for x in plan.waivers
    )
