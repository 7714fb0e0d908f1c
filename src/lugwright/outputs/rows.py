"""The one set of rows behind every output: text, CSV, workbook and sheets show the same."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.outputs.rows_bench import (
    CapRow,
    CrimpRow,
    CutRow,
    LooseNutRow,
    SpliceRow,
    StackRow,
    StepRow,
    StudRow,
    cap_rows,
    crimp_rows,
    cut_rows,
    loose_nut_rows,
    splice_rows,
    stack_rows,
    stud_rows,
)
from lugwright.outputs.rows_steps import step_rows
from lugwright.outputs.rows_sums import (
    BuyRow,
    CautionRow,
    CircuitRow,
    DropRow,
    FuseRow,
    GivenRow,
    LandingRow,
    LimitRow,
    TieRow,
    TotalRow,
    WaiverRow,
    buy_rows,
    caution_rows,
    circuit_rows,
    drop_rows,
    fuse_rows,
    given_rows,
    landing_rows,
    limit_rows,
    tie_rows,
    total_rows,
    waiver_rows,
)
from lugwright.outputs.rows_ways import DeviceRow, LiveStateRow, device_rows, live_state_rows
from lugwright.plans.schema import Plan


@dataclass(frozen=True)
class Rows:
    """Every row of a plan, by kind, each kind in its reading order."""

    cut: tuple[CutRow, ...]
    crimps: tuple[CrimpRow, ...]
    studs: tuple[StudRow, ...]
    stacks: tuple[StackRow, ...]
    splices: tuple[SpliceRow, ...]
    steps: tuple[StepRow, ...]
    caps: tuple[CapRow, ...]
    loose_nuts: tuple[LooseNutRow, ...]
    ties: tuple[TieRow, ...]
    landings: tuple[LandingRow, ...]
    circuits: tuple[CircuitRow, ...]
    given: tuple[GivenRow, ...]
    drops: tuple[DropRow, ...]
    fuses: tuple[FuseRow, ...]
    buy: tuple[BuyRow, ...]
    totals: tuple[TotalRow, ...]
    limits: tuple[LimitRow, ...]
    cautions: tuple[CautionRow, ...]
    waivers: tuple[WaiverRow, ...]
    ways: tuple[DeviceRow, ...]
    live: tuple[LiveStateRow, ...]


def rows_of(plan: Plan) -> Rows:
    """All rows of a plan."""
    return Rows(
        cut=cut_rows(plan),
        crimps=crimp_rows(plan),
        studs=stud_rows(plan),
        stacks=stack_rows(plan),
        splices=splice_rows(plan),
        steps=step_rows(plan),
        caps=cap_rows(plan),
        loose_nuts=loose_nut_rows(plan),
        ties=tie_rows(plan),
        landings=landing_rows(plan),
        circuits=circuit_rows(plan),
        given=given_rows(plan),
        drops=drop_rows(plan),
        fuses=fuse_rows(plan),
        buy=buy_rows(plan),
        totals=total_rows(plan),
        limits=limit_rows(plan),
        cautions=caution_rows(plan),
        waivers=waiver_rows(plan),
        ways=device_rows(plan),
        live=live_state_rows(plan),
    )
