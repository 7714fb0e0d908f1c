"""A production run in sentences."""

from __future__ import annotations

from lugwright.base.scale import ceil_div, mm_text, money_text
from lugwright.outputs.words import currency, minutes_text, one_line
from lugwright.production.whole_run import WholeRun


def sums_lines(run: WholeRun) -> list[str]:
    """Models, minutes, money, what buying together saves, and the new spools."""
    sums = run.sums
    coin = currency(run.models[0].plan)
    new = sum(one.packing.spools for one in run.spools)
    scrap = sum(one.packing.scrap_dmm for one in run.spools)
    proof = "proved least" if run.proved else "not proved in the time given"
    run_micro = sums.piece_money_micro + sums.set_up_micro
    return [
        *(
            f"Model {number}: {one_line(model.plan.title)}, {model.boats} boats, "
            f"hub {one_line(model.plan.hub)}."
            for number, model in enumerate(run.models, 1)
        ),
        f"Bench time: {minutes_text(sums.piece_cmin)} min for the pieces and "
        f"{minutes_text(sums.set_up_cmin)} min of setting up; "
        f"{minutes_text(ceil_div(sums.minutes_cmin, sums.boats))} min for a boat.",
        f"Wire, fittings and work: {money_text(run_micro)} {coin} for the run, "
        f"{money_text(ceil_div(run_micro, sums.boats))} for a boat.",
        f"To buy in whole packs: {money_text(sums.buy_micro)} {coin}; bought boat by boat it "
        f"would be {money_text(sums.buy_alone_micro)}.",
        f"Wire: {new} new spools, {mm_text(scrap)} mm of scrap, {proof}.",
    ]
