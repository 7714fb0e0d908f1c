"""Our cost against trying everything, on small random consoles with shared senders and harnesses.

A fixed sample runs always; the wide sweep is marked slow, and so is the count of how often what
signals and harnesses ask for decides.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from brute.case import Case
from brute.random_signals import random_signal_case
from support.seeds import every

from lugwright.assemble.build import assemble_plan
from lugwright.checker.run import check_plan
from lugwright.model.choose import best_choice
from lugwright.plans.outcome import Ending
from lugwright.problem.build import build_problem

ON_LEADS = (36, 37, 39, 40, 92, 112, 137, 140)
"""Signal circuits with a lead, their senders' wires on the bench and aboard."""
OVER_ITS_GROUND_WIRE = 517
"""Only with what is lost over a sender's own ground wire is the thinner signal jumper too thin."""
SAMPLE, WIDE = (*range(24), OVER_ITS_GROUND_WIRE), range(24, 624)
# The cases' routes run straight on purpose; the checker would rightly miss the way round.
STRAIGHT = {"obstacle"}


def judge(case: Case) -> None:
    """Same cost as the enumerator, or both impossible; and the plan passes the checker."""
    outcome = best_choice(build_problem(case.brief, case.routes()))
    assert outcome.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    assert (outcome.cost if outcome.choice else None) == case.best().cost
    if outcome.choice is None:
        return
    plan = assemble_plan(case.brief, case.routes(), outcome, "test")
    report = check_plan(case.brief, plan)
    assert [str(f) for f in report.findings if f.rule not in STRAIGHT] == []
    assert plan.proof.cost == plan.proof.bound


@pytest.mark.parametrize("seed", every(2, SAMPLE, (OVER_ITS_GROUND_WIRE,)))
def test_a_sample_of_small_consoles_with_signals(seed: int) -> None:
    """Every console of the fixed sample: equal cost, or both say impossible."""
    judge(random_signal_case(seed))


@pytest.mark.slow
@pytest.mark.parametrize("seed", WIDE)
def test_the_wide_sweep_of_consoles_with_signals(seed: int) -> None:
    """Many times as many consoles as in the default run."""
    judge(random_signal_case(seed))


def _lead_currents(case: Case) -> set[int]:
    """What the senders of signal circuits with a lead carry together, mA."""
    leads = {post.id for post in case.console.posts if post.kind == "lead"}
    found = (c for c in case.console.circuits if c.side == "signal" and leads & {*c.posts})
    drawn = case.console.loads
    return {sum(one.current_ma for one in drawn if one.ground_post in c.posts) for c in found}


@pytest.mark.parametrize("less", [0, 1])
def test_a_fitting_on_a_lead_that_is_just_strong_enough_or_too_weak(less: int) -> None:
    """What joins a lead carries all that flows in by the sender's wire there, and no more."""
    for seed in ON_LEADS:
        case = random_signal_case(seed)
        totals = _lead_currents(case)
        assert totals
        for total in totals:
            rows = tuple(
                replace(row, carries_ma=total - less) if row.kind in ("butt", "closed end") else row
                for row in case.stock.fittings
            )
            judge(replace(case, stock=replace(case.stock, fittings=rows)))


def _held_elsewhere(case: Case) -> bool:
    """Whether holding some sender's wire to one of its posts makes the plan dearer."""
    console, cost = case.console, case.best().cost
    for circuit in console.circuits:
        for post in circuit.posts if circuit.side == "signal" and not circuit.lands_on else ():
            held = replace(circuit, lands_on=post)
            circuits = tuple(held if each is circuit else each for each in console.circuits)
            if replace(case, console=replace(console, circuits=circuits)).best().cost != cost:
                return True
    return False


def _without_drop_over_senders(case: Case) -> Case:
    """Nothing is lost over a sender's wire, and nothing comes back to the panel from it."""
    circuits = tuple(
        replace(each, returns_to="", pigtail=replace(each.pigtail, own_run_dmm=0))
        if each.side == "signal" and each.pigtail
        else each
        for each in case.console.circuits
    )
    return replace(case, console=replace(case.console, circuits=circuits))


@pytest.mark.slow
def test_what_signals_ask_for_binds_often_enough(capsys: pytest.CaptureFixture[str]) -> None:
    """Of 200 cases: where the sender lands, what comes back from it, two harnesses apart."""
    cases = [random_signal_case(seed) for seed in range(200)]
    binds: Counter[str] = Counter()
    for case in cases:
        cost = case.best().cost
        binds["two harnesses"] += "2 harnesses" in case.traits
        binds["landing of the sender"] += _held_elsewhere(case)
        freed = _without_drop_over_senders(case).best().cost
        binds["what comes back from a sender"] += freed != cost
    with capsys.disabled():
        print("\n" + "\n".join(f"{rule}: {binds[rule] / len(cases):.1%}" for rule in binds))
    assert min(binds.values()) >= 0.05 * len(cases)
