"""Tests of the random consoles with ways, and of the enumerator on them against itself."""

from __future__ import annotations

from functools import cache
from itertools import islice

import pytest

from brute.binding_ways import without
from brute.case import Case
from brute.random_devices import LAYOUTS
from brute.random_ways import random_way_case


@cache
def drawn() -> tuple[Case, ...]:
    """The first twenty cases."""
    return tuple(map(random_way_case, range(20)))


@cache
def costs() -> tuple[tuple[int, ...] | None, ...]:
    """What they cost."""
    return tuple(case.best().cost for case in drawn())


def _few_ways(case: Case) -> bool:
    """Few enough trees and sizes to keep every way of a circuit."""
    posts = [len(circuit.posts) for circuit in case.console.circuits]
    plain = not any(case.splices.values()) and case.limits.wire_size_choice == "circuit"
    at_landing = case.limits.lamp_take_off == "landing"
    return plain and at_landing and max(posts) <= 4 and sum(posts) <= 9


@pytest.mark.slow
def test_leaving_out_what_is_beaten_changes_nothing() -> None:
    """The same least cost with every way of every circuit and every position vector kept."""
    found = (case for case in drawn() if _few_ways(case) and case.best().cost is not None)
    cases = list(islice(found, 2))
    assert len(cases) == 2
    for case in cases:
        assert case.best(thorough=True).cost == case.best().cost, case.seed


def test_taking_a_rule_of_ways_away_never_costs_more() -> None:
    """Without a rule every plan is still a plan, so the least cost cannot rise."""
    felt = 0
    for rule in ("contact", "section", "rating", "carries in"):
        for case, cost in list(zip(drawn(), costs(), strict=True))[::4]:
            free = without(case, rule).best().cost
            felt += cost != free
            if cost is not None:
                assert free is not None, (case.seed, rule)
                assert free <= cost, (case.seed, rule)
    assert felt >= 1


def test_what_is_drawn() -> None:
    """Many layouts of devices; a case is named by its number."""
    assert [case.seed for case in drawn()] == list(range(20))
    seen = set().union(*(case.traits for case in drawn()))
    assert len(seen & set(LAYOUTS)) >= 6
    assert random_way_case(7) == drawn()[7]
    assert all(case.console.ways for case in drawn())
