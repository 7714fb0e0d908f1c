"""Spools and offcuts against trying everything, a MILP solver, and instances of known optimum."""

from __future__ import annotations

from collections import Counter
from random import Random

import highspy
import pytest

from lugwright.packing.bounds import packing_of, spools_bound_plain
from lugwright.packing.first_answer import first_answer
from lugwright.packing.kerf_and_scrap import scrap_dmm
from lugwright.packing.model import best_packing
from lugwright.packing.question import Filled, PackingQuestion


def by_trying(question: PackingQuestion) -> tuple[int, int]:
    """The least cost of any way to put every piece somewhere."""
    items = sorted(Counter(question.pieces).elements(), reverse=True)
    found: list[tuple[int, int]] = []

    def place(index: int, hand: list[tuple[int, int]], new: list[int]) -> None:
        if index == len(items):
            scrap = sum(scrap_dmm(stock - used, question.keep_dmm) for stock, used in hand if used)
            scrap += sum(scrap_dmm(question.spool_dmm - used, question.keep_dmm) for used in new)
            both = (len(new), scrap)
            found.append(both if question.least == "spools" else both[::-1])
            return
        item = items[index]
        for at, (stock, used) in enumerate(hand):
            if used + item <= stock:
                place(index + 1, [*hand[:at], (stock, used + item), *hand[at + 1 :]], new)
        for at, used in enumerate(new):
            if used + item <= question.spool_dmm:
                place(index + 1, hand, [*new[:at], used + item, *new[at + 1 :]])
        if item <= question.spool_dmm:
            place(index + 1, hand, [*new, item])

    place(0, [(stock, 0) for stock in question.on_hand], [])
    return min(found)


def small(seed: int) -> PackingQuestion:
    """Up to seven pieces, up to two offcuts."""
    random = Random(seed)
    items = [random.randint(5, 40) for _ in range(random.randint(1, 7))]
    return PackingQuestion(
        Counter(items),
        tuple(random.randint(10, 50) for _ in range(random.randint(0, 2))),
        random.randint(40, 80),
        random.randint(1, 30),
        random.choice(["spools", "scrap"]),
    )


@pytest.mark.parametrize("seed", range(60))
def test_equals_trying_everything(seed: int) -> None:
    """Cost and proof of small orders, both ways of counting."""
    question = small(seed)
    found = best_packing(question)
    assert found.cost(question.least) == by_trying(question)
    assert found.proved(question.least)


def triplets(bins: int, seed: int) -> Counter[int]:
    """The triplet class of Falkenauer (Journal of Heuristics 2, 1996), as described there.

    Each bin of 1000 is filled by three items, one over a third, so the optimum is ``bins``.
    """
    random = Random(seed)
    items: list[int] = []
    for _ in range(bins):
        first = random.randint(380, 490)
        rest = 1000 - first
        second = random.randint(250, rest // 2)
        items += [first, second, rest - second]
    return Counter(items)


@pytest.mark.parametrize("seed", range(3))
def test_triplets_of_known_optimum(seed: int) -> None:
    """Twenty bins of three items each, full to the brim: the optimum is twenty by construction."""
    question = PackingQuestion(triplets(20, seed), (), 1000, 1)
    found = best_packing(question)
    assert (found.spools, found.spools_bound, found.scrap_dmm) == (20, 20, 0)


def least_bins(question: PackingQuestion) -> int:
    """Least new spools by an assignment MILP in HiGHS."""
    items = sorted(Counter(question.pieces).elements(), reverse=True)
    most = first_answer(question).spools
    highs = highspy.Highs()
    highs.setOptionValue("output_flag", False)
    opened = [highs.addBinary() for _ in range(most)]
    uses = [[highs.addBinary() for _ in range(most)] for _ in items]
    for row in uses:
        highs.addConstr(sum(row) == 1)
    for at in range(most):
        load = sum(item * row[at] for item, row in zip(items, uses, strict=True))
        highs.addConstr(load <= question.spool_dmm * opened[at])
    highs.minimize(sum(opened))
    return round(highs.getInfo().objective_function_value)


@pytest.mark.parametrize("seed", range(6))
def test_equals_a_milp_on_middle_sizes(seed: int) -> None:
    """Thirteen pieces, a few to a spool."""
    random = Random(seed)
    pieces = Counter(random.randint(200, 700) for _ in range(13))
    question = PackingQuestion(pieces, (), 1000, 1)
    assert best_packing(question).spools == least_bins(question)


def test_a_large_order_meets_the_bound_by_length() -> None:
    """Forty lengths, thousands of pieces: the fewest spools that hold the wire, and no scrap."""
    random = Random(1)
    pieces = Counter({random.randrange(800, 9000, 50): 200 for _ in range(40)})
    question = PackingQuestion(pieces, (25000, 12345), 300_000, 5000)
    found = best_packing(question)
    assert found.spools == spools_bound_plain(question)
    assert found.scrap_dmm == 0


def test_no_time_is_no_proof() -> None:
    """A hard order that may not be solved keeps a bound below its answer."""
    question = PackingQuestion(triplets(20, 1), (), 1000, 1)
    found = best_packing(question, time_limit_s=0.001)
    assert found.spools_bound <= 20 <= found.spools


@pytest.mark.parametrize(
    ("pieces", "filled"),
    [
        ({10: 1}, [Filled(30, True, ((10, 2),))]),
        ({10: 4}, [Filled(30, True, ((10, 4),))]),
        ({10: 1}, [Filled(30, False, ((10, 1),))]),
    ],
)
def test_a_wrong_answer_is_refused(pieces: dict[int, int], filled: list[Filled]) -> None:
    """Too many pieces, more than a length holds, an offcut that is not there."""
    with pytest.raises(ValueError, match=r"cut|offcut"):
        packing_of(PackingQuestion(pieces, (), 30, 5), filled)


def test_a_piece_longer_than_any_spool_is_refused() -> None:
    """Nothing could be cut."""
    with pytest.raises(ValueError, match="longer"):
        PackingQuestion({31: 1}, (), 30, 5)
