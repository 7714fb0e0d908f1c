"""Random cases that say more, the enumerator held against itself."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import islice, pairwise

import pytest

from brute.case import Case
from brute.random_consoles import random_case
from brute.random_signals import random_signal_case
from brute.random_statements import (
    turned_round,
    with_free_leads,
    with_joined_grounds,
    with_strap,
)
from brute.random_ways import random_way_case
from brute.statements import FreeLead, Statements, Strap
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.console import Point

Draw = Callable[[int], Case]
DRAWS: tuple[Draw, ...] = (random_case, random_way_case, random_signal_case)


Make = Callable[[Case], Case | None]
STRAPPED = ((0, 2, 5, 6, 10, 20, 23), (0, 1, 2, 5, 7, 9, 10, 14, 19), (0, 1, 5, 6, 8, 13))
JOINED = ((), (), (12, 14, 19, 21, 30))
WITH_LEADS = ((9, 13), (8, 13, 17, 23), (3, 6))
"""Numbers of quick cases of the three kinds, in which what is said is felt."""


def drawn(make: Make, numbers: Sequence[Iterable[int]]) -> Iterator[Case]:
    """Cases that say more, by the numbers of each kind."""
    for draw, seeds in zip(DRAWS, numbers, strict=True):
        for seed in seeds:
            found = make(draw(seed))
            if found is not None:
                yield found


def _no_dearer(free: tuple[int, ...] | None, cost: tuple[int, ...] | None) -> bool:
    return cost is None or (free is not None and free <= cost)


def _strap_of(case: Case) -> Strap:
    return case.more.straps[0]


def _saying(case: Case, strap: Strap) -> Case:
    return replace(case, more=replace(case.more, straps=(strap,)))


def test_a_strap_without_a_limit_a_contact_or_thickness_costs_no_more() -> None:
    """Each by itself; in some cases each of them is felt. The order of its studs is nothing."""
    felt: set[str] = set()
    for case in drawn(with_strap, STRAPPED):
        cost, strap = case.best().cost, _strap_of(case)
        for name, free in (
            ("carries", replace(strap, carries_ma=0)),
            ("contact", replace(strap, contact_uohm=0)),
            ("thickness", replace(strap, thickness_dmm=0)),
        ):
            found = _saying(case, free).best().cost
            assert _no_dearer(found, cost), (case.seed, name)
            if found != cost:
                felt.add(name)
        other_order = replace(strap, posts=strap.posts[::-1])
        assert _saying(case, other_order).best().cost == cost, case.seed
    assert felt == {"carries", "contact", "thickness"}


def test_the_order_of_two_ground_pigtails_is_nothing() -> None:
    """The tree is hung up at the one or the other: the same cost, in some cases a plan."""
    plans = 0
    for case in drawn(with_joined_grounds, JOINED):
        cost = case.best().cost
        plans += cost is not None
        assert turned_round(case).best().cost == cost, case.seed
    assert plans >= 2


def test_a_strap_over_joined_grounds_whichever_pigtail_stands_first() -> None:
    """Currents through it run the one way and the other."""
    plans = 0
    for case in drawn(with_joined_grounds, JOINED):
        ground = case.console.circuit("ground")
        own = [case.console.post(post) for post in ground.posts]
        studs = {post.instrument: post.id for post in own if post.kind == "stud"}
        if len(studs) < 2:
            continue
        strapped = _saying(case, Strap(tuple(studs.values())[-2:], 5, 500))
        cost = strapped.best().cost
        plans += cost is not None
        assert turned_round(strapped).best().cost == cost, case.seed
    assert plans >= 2


def test_a_longer_lead_costs_no_more() -> None:
    """What is in reach stays in reach; with nothing in reach what must be joined is not."""
    felt = 0
    for case in drawn(with_free_leads, WITH_LEADS):
        costs = []
        for more in (-9000, 0, 400):
            leads = (
                FreeLead(each.post, max(1, each.length_dmm + more)) for each in case.more.free_leads
            )
            changed = replace(case.more, free_leads=tuple(leads))
            costs.append(replace(case, more=changed).best().cost)
        assert all(_no_dearer(longer, cost) for cost, longer in pairwise(costs)), case.seed
        felt += len(set(costs)) > 1
    assert felt


@pytest.mark.parametrize("away", [0, 700])
def test_a_lead_with_one_place_to_go_is_a_lead_with_a_stated_end(away: int) -> None:
    """Its exit elsewhere, one candidate where the stated end was: the same cost."""
    compared = 0
    for draw, seeds in zip(DRAWS, WITH_LEADS, strict=True):
        for seed in seeds:
            case = draw(seed)
            leads = [p for p in case.console.posts if p.kind == "lead" and p.circuit]
            if case.console.tie_points or not leads:
                continue
            lead = leads[0]
            given = replace(case, limits=replace(case.limits, splices=False), splices={})
            moved = Point(lead.at.x_dmm + away, lead.at.y_dmm, lead.at.z_dmm)
            posts = tuple(replace(p, at=moved) if p is lead else p for p in given.console.posts)
            place = SplicePoint(f"{lead.circuit}~1", lead.circuit, lead.at)
            free = replace(
                given,
                console=replace(given.console, posts=posts),
                splices={lead.circuit: (place,)},
                more=Statements(
                    free_leads=(FreeLead(lead.id, away + given.limits.re_termination_dmm),)
                ),
            )
            assert free.best().cost == given.best().cost, (draw, seed)
            compared += given.best().cost is not None
    assert compared >= 3


@pytest.mark.slow
def test_leaving_out_what_is_beaten_changes_nothing() -> None:
    """The same least cost with everything kept, for some small cases of each kind."""
    kinds = (
        (with_strap, STRAPPED, 4),
        (with_joined_grounds, JOINED, 1),
        (with_free_leads, WITH_LEADS, 2),
    )
    for make, numbers, count in kinds:
        small = (case for case in drawn(make, numbers) if _few_ways(case))
        for case in islice(small, count):
            assert case.best(thorough=True).cost == case.best().cost, (make, case.seed)


def _few_ways(case: Case) -> bool:
    """Few enough trees and sizes to keep every way of a circuit."""
    posts = [len(circuit.posts) for circuit in case.console.circuits]
    plain = not case.limits.splices and case.limits.wire_size_choice == "circuit"
    at_landing = case.limits.lamp_take_off == "landing"
    return plain and at_landing and max(posts) <= 4 and sum(posts) <= 9
