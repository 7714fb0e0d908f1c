"""Over few jumpers first: which answers count, and what is said when time runs out."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from lugwright.model.bounds.reduced_costs import Narrow, joined, least
from lugwright.model.formulation.ask import Answer, Solved, Status
from lugwright.model.formulation.objective import Sums
from lugwright.model.formulation.variables import ArcKey
from lugwright.model.solving.over_few import STEPS, solve_narrow, solve_step, solve_within

ANSWER = Answer({}, (), {}, {}, Sums())


def key(name: str) -> ArcKey:
    """A jumper called by one letter."""
    return "ground", name, "z", "16 AWG"


def narrow(bound: int, with_key: dict[ArcKey, int]) -> Narrow:
    """A bound, and the bound with each of some jumpers."""
    return Narrow(bound, tuple(with_key), np.array(list(with_key.values()), dtype=np.int64), ())


FAR = {key(name): 900 for name in "efgh"}
NARROW = narrow(100, {key("a"): 100, key("b"): 100, key("c"): 120, key("d"): 140, **FAR})
LAMP: ArcKey = ("lamps", "a", "z", "16 AWG")


class Told:
    """A solver that answers what it is told, and remembers over which jumpers it was asked."""

    def __init__(self, answers: Sequence[Solved]) -> None:
        self.answers, self.asked = list(answers), list[str]()

    def __call__(self, keep: frozenset[ArcKey] | None, known: Answer | None) -> Solved:
        self.asked.append("all" if keep is None else "".join(sorted(k[1] for k in keep)))
        return self.answers.pop(0)


def best(value: int) -> Solved:
    """A proved best answer."""
    return Solved(Status.BEST, ANSWER, value, value)


def test_an_answer_on_the_bound_is_the_best() -> None:
    """Nothing can be cheaper than the bound."""
    told = Told([best(100)])
    assert solve_narrow(NARROW, told) == best(100)
    assert told.asked == ["ab"]


def test_a_dearer_answer_says_how_far_to_look() -> None:
    """130 found over a and b: c, which a plan of 120 may have, is looked at as well; d is not."""
    told = Told([best(130), best(125)])
    assert solve_narrow(NARROW, told) == best(125)
    assert told.asked == ["ab", "abc"]


def test_no_answer_is_said_of_all_jumpers_only() -> None:
    """None over few of them says nothing; only over all of them is it an answer."""
    told = Told([Solved(Status.NONE)] * 2)
    assert solve_narrow(NARROW, told).status is Status.NONE
    assert told.asked == ["ab", "all"]


def test_out_of_time_claims_no_more_than_the_limit() -> None:
    """A bound over few jumpers holds for all only as far as the limit they were picked by."""
    told = Told([Solved(Status.SOME, ANSWER, 500, 400)])
    assert solve_narrow(NARROW, told) == Solved(Status.SOME, ANSWER, 500, 100)
    told = Told([best(130), Solved(Status.SOME, ANSWER, 130, 128)])
    assert solve_narrow(NARROW, told).bound == 128
    told = Told([Solved(Status.UNKNOWN)])
    assert solve_narrow(NARROW, told).bound == 100


def test_a_step_without_an_answer_raises_the_bound() -> None:
    """None among jumpers that an answer of 100 may have: every answer costs 101 or more."""
    told = Told([Solved(Status.NONE)])
    assert solve_step(NARROW, told, 0) == Solved(Status.UNKNOWN, bound=101)
    assert told.asked == ["ab"]


def test_a_step_proves_only_as_far_as_it_looks() -> None:
    """An answer dearer than the step is one, not the best; the step after the last looks at all."""
    assert solve_step(NARROW, Told([best(130)]), 0) == Solved(Status.SOME, ANSWER, 130, 101)
    assert solve_step(NARROW, Told([best(100)]), 0) == best(100)
    told = Told([Solved(Status.NONE)])
    assert solve_step(NARROW, told, len(STEPS)).status is Status.NONE
    assert told.asked == ["all"]


def test_within_a_limit_or_not_at_all() -> None:
    """Looked for up to a limit: the best within it, or the word that none is."""
    told = Told([best(115), best(125), Solved(Status.NONE)])
    assert solve_within(NARROW, told, 120) == best(115)
    assert solve_within(NARROW, told, 120) is None
    assert solve_within(NARROW, told, 120) is None
    assert solve_within(NARROW, told, 99) is None
    assert told.asked == ["abc"] * 3


def test_within_a_limit_unproved_claims_no_more() -> None:
    """Out of time within a limit: the bound of all answers is at most the limit."""
    told = Told([Solved(Status.SOME, ANSWER, 140, 118), Solved(Status.UNKNOWN, bound=90)])
    assert solve_within(NARROW, told, 120) == Solved(Status.SOME, ANSWER, 140, 118)
    assert solve_within(NARROW, told, 120) == Solved(Status.UNKNOWN, bound=100)


def test_parts_together_add_up() -> None:
    """Bounds add; a jumper of one part stands beside the other part's bound."""
    both = joined([NARROW, narrow(1000, {LAMP: 1050})])
    assert both.bound == 1100
    assert dict(zip(both.keys, both.with_key.tolist(), strict=True))[key("c")] == 1120
    assert both.keeps(1149) == {key(name) for name in "abc"} | {key("d")}
    assert LAMP in both.keeps(1150)


def test_one_of_several_ways_has_the_least_bound() -> None:
    """A jumper is kept where any of the ways keeps it."""
    either = least([NARROW, narrow(90, {key("a"): 110, key("h"): 95})])
    assert either.bound == 90
    assert either.keeps(100) == {key("a"), key("b"), key("h")}
