"""Which of equal plans it is: the one that trying everything puts first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest
from brute.case import Case
from brute.random_consoles import random_case
from brute.random_ways import random_way_case
from support.asking import ask, fitting, items, only_ground, roomy_limits, stock_of
from support.consoles import tiny_console
from support.seeds import every

from lugwright.model.clock import Clock
from lugwright.model.search.best_first import Search
from lugwright.model.search.found import Found
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.refit import refitted
from lugwright.model.solving.resize import ends_in, options_of, stage_of
from lugwright.problem.build import build_problem
from lugwright.stock.schema import Barrel
from lugwright.trade.names import is_boat_group
from lugwright.trade.objective import counts_money

CHEAP = Barrel(2_000_000, 3_000_000, 90_000, 60)
"""Takes one such wire folded back only, and two of them."""
SAMPLE = range(60)
WIDE = range(60, 460)


def told_apart(case: Case) -> Found | None:
    """What the search ends with, where no rule of currents made circuits give way."""
    problem = build_problem(case.brief, case.routes())
    if problem.faults:
        return None
    found = Search(problem, Clock(None)).run()
    if found.best is None or found.best.families or found.equal_open:
        return None
    return found


def judge(case: Case, seen: Counter[str]) -> None:
    """Folds, money and margin of the plan are those of the first of all equal plans."""
    found = told_apart(case)
    if found is None or found.best is None:
        return
    sums = found.best.answer.sums
    seen["compared"] += 1
    seen["folded"] += sums.folds > 0
    assert (sums.folds, sums.money_micro, -sums.margin_um2) == case.best().equals


@pytest.mark.parametrize("drawn", [random_case, random_way_case], ids=["plain", "ways"])
def test_a_sample_of_equal_plans(drawn: Callable[[int], Case]) -> None:
    """Every console of the fixed sample, and not too few of them say something."""
    seen: Counter[str] = Counter()
    for seed in SAMPLE[::3]:
        judge(drawn(seed), seen)
    assert seen["compared"] >= 8


@pytest.mark.slow
@pytest.mark.parametrize("drawn", [random_case, random_way_case], ids=["plain", "ways"])
def test_the_wide_sweep_of_equal_plans(drawn: Callable[[int], Case]) -> None:
    """Many times as many."""
    seen: Counter[str] = Counter()
    for seed in WIDE:
        judge(drawn(seed), seen)
    assert seen["compared"] >= 100 and seen["folded"] >= 5


def test_no_fold_where_another_ring_takes_the_wire_as_it_is() -> None:
    """A cheap ring takes a lone wire folded only; the dearer one is taken, but not for money."""
    cheap = fitting("cheap", "ring", CHEAP, price_micro=1)
    console = only_ground(tiny_console([(60, 60), (160, 60)], lamps=False))

    def taken(objective: str) -> list[tuple[str, tuple[int, ...]]]:
        limits = roomy_limits(objective=objective, fold_back=True)
        return items(ask(console, limits, stock_of(cheap), hubs=["dial1"]), "dial2.ground")

    assert taken("default") == taken("shortest") == [("ring 1", (1,))]
    assert taken("cheapest") == [("cheap", (1,))]


@pytest.mark.parametrize("seed", every(4, SAMPLE))
def test_fittings_are_mended_without_a_search(seed: int) -> None:
    """A plan with worse fittings of equal cost at its joints gets the better ones back."""
    case = random_way_case(seed)
    found = told_apart(case)
    if found is None or found.best is None:
        return
    problem = build_problem(case.brief, case.routes())
    judge_of, best = Judge(problem), found.best.answer
    assert refitted(problem, judge_of, best) == best
    worse = dict(best.picks)
    for (joint, whose), option in best.picks.items():
        if is_boat_group(whose) or not option.picks or counts_money(case.limits):
            continue
        counts = tuple(sorted(Counter(ends_in(option)).items()))
        options = options_of(problem, joint, counts, stage_of(problem, whose))
        alike = [o for o in options if o.lugs == option.lugs]
        worse[joint, whose] = max(alike, key=lambda o: (o.folds, o.picks), default=option)
    answer = replace(best, picks=worse)
    if not judge_of.broken(answer):
        mended = refitted(problem, judge_of, answer)
        assert sum(o.folds for o in mended.picks.values()) == best.sums.folds
