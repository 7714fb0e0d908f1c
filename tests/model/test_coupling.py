"""What drop couples, what stays apart, and that both come to the same plans."""

from __future__ import annotations

from dataclasses import replace

import pytest
from brute.random_consoles import random_case
from support.seeds import every

from lugwright.model.bounds.dominance import SizeSets
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import BUNDLE, CURRENTS, DROP, join
from lugwright.model.formulation.objective import objective_of
from lugwright.model.formulation.trials import Trial, hub_landings, parts_of
from lugwright.model.search import first_plan
from lugwright.model.search.best_first import Search
from lugwright.model.search.coupling import pieces_of, tied_by_drop
from lugwright.model.search.speed import FAST
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.solve import solve_ask
from lugwright.problem.build import build_problem
from lugwright.problem.leaves import Leaves
from lugwright.problem.schema import Problem


def problem_of(seed: int, share_permille: int = 1000) -> Problem:
    """A small random console, its drop limits brought down to a share of them."""
    case = random_case(seed)
    problem = build_problem(case.brief, case.routes())
    drops = tuple(
        replace(path, limit_nv=path.limit_nv * share_permille // 1000) for path in problem.drops
    )
    return replace(problem, drops=drops)


@pytest.mark.parametrize("seed", every(3, range(400, 424)))
def test_whatever_drops_too_much_is_tied(seed: int) -> None:
    """Trees of least cost break a limit only on circuits that are said to be tied."""
    problem = problem_of(seed, 60)
    objective, judge, tied = objective_of(problem), Judge(problem), tied_by_drop(problem)
    sizes = SizeSets(problem, objective).thin
    for hub, landings in list(hub_landings(problem))[:3]:
        parts = parts_of(problem, Trial(hub, landings), sizes)
        answers = [solve_ask(problem, part, objective, Clock(None)).answer for part in parts]
        found = [answer for answer in answers if answer is not None]
        if len(found) < len(parts):
            continue
        shares = judge.drop_shares(judge.walk(join(found)))
        for path, (total, limit) in zip(problem.drops, shares, strict=True):
            if total > limit:
                assert {path.feed_circuit, path.ground_circuit} - {""} <= tied


def test_nothing_is_tied_where_nothing_can_bind() -> None:
    """With limits of volts in thousands, every circuit stands by itself."""
    problem = problem_of(401, 1_000_000)
    assert not problem.shifts
    assert tied_by_drop(problem) == frozenset()


def test_pieces_cover_every_circuit_once() -> None:
    """Currents alone couple nothing; drop couples what is tied; bundles couple all."""
    problem = problem_of(401)
    sizes = SizeSets(problem, objective_of(problem)).stout
    trial = next(Trial(hub, landings) for hub, landings in hub_landings(problem))
    names = sorted(circuit.name for circuit in problem.circuits)
    for families in ({CURRENTS}, {CURRENTS, DROP}, {CURRENTS, BUNDLE}):
        asks = pieces_of(Leaves(problem), trial, sizes, frozenset(families), names[:2])
        assert sorted(name for ask in asks for name in ask.circuits) == names
    whole = pieces_of(Leaves(problem), trial, sizes, frozenset({CURRENTS, BUNDLE}), ())
    assert len(whole) == 1


@pytest.mark.parametrize("seed", every(3, range(420, 436)))
def test_an_early_plan_changes_no_cost(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Offered on consoles however small: the search ends at the cost it has without."""
    problem = problem_of(seed, 400 if seed % 2 else 1000)
    without = Search(problem, Clock(None), speed=replace(FAST, early=False)).run()
    monkeypatch.setattr(first_plan, "LARGE", 0)
    found = Search(problem, Clock(None), speed=FAST).run()
    assert (found.best is None) == (without.best is None)
    if found.best is not None and without.best is not None:
        assert found.best.value == without.best.value
        assert not Judge(problem).broken(found.best.answer)
