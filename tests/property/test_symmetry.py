"""What must not matter: names, order, where the panel lies, how the search takes its way."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.console_moves import MOVES, moved
from support.strategies import FEW, Case, cases, cost

from lugwright.model.search.speed import FAST, PLAIN, Speed
from lugwright.scenario.console import Console


def renamed(console: Console, names: dict[str, str]) -> Console:
    """The console with its instruments called otherwise."""

    def post(name: str) -> str:
        if not name:
            return ""
        instrument, rest = name.split(".")
        return f"{names[instrument]}.{rest}"

    boat_blocks = []
    for boat_block in console.boat_blocks:
        wires = tuple(replace(wire, lands_on=post(wire.lands_on)) for wire in boat_block.wires)
        boat_blocks.append(
            replace(
                boat_block,
                wires=wires,
                drawn_from=post(boat_block.drawn_from),
                returns_to=post(boat_block.returns_to),
            )
        )
    return replace(
        console,
        instruments=tuple(replace(i, name=names[i.name]) for i in console.instruments),
        posts=tuple(
            replace(p, id=post(p.id), instrument=names[p.instrument]) for p in console.posts
        ),
        loads=tuple(
            replace(x, feed_post=post(x.feed_post), ground_post=post(x.ground_post))
            for x in console.loads
        ),
        circuits=tuple(replace(c, posts=tuple(post(p) for p in c.posts)) for c in console.circuits),
        boat_blocks=tuple(boat_blocks),
    )


def reordered(console: Console, by: int) -> Console:
    """The console with everything that is listed listed the other way round and turned."""

    def turn(things: tuple[Any, ...]) -> tuple[Any, ...]:
        back = things[::-1]
        return back[by % len(back) :] + back[: by % len(back)] if back else back

    return replace(
        console,
        instruments=turn(console.instruments),
        posts=turn(console.posts),
        loads=turn(console.loads),
        circuits=turn(tuple(replace(c, posts=turn(c.posts)) for c in console.circuits)),
        boat_blocks=turn(console.boat_blocks),
    )


@FEW
@given(case=cases(), by=st.integers(0, 5))
def test_the_order_of_the_file_changes_nothing(case: Case, by: int) -> None:
    """Everything listed in another order: the very same outcome, choice and all."""
    stock = case.stock
    shuffled = replace(stock, spools=stock.spools[::-1], fittings=stock.fittings[::-1])
    other = replace(case, console=reordered(case.console, by), stock=shuffled)
    assert other.outcome() == case.outcome()


@FEW
@given(case=cases(), data=st.data())
def test_names_change_no_cost(case: Case, data: st.DataObject) -> None:
    """Instruments called otherwise, and so sorted otherwise: the same cost."""
    old = [instrument.name for instrument in case.console.instruments]
    new = data.draw(st.permutations([f"{letter} dial" for letter in "zmab"[: len(old)]]))
    names = dict(zip(old, new, strict=True))
    other = replace(case, console=renamed(case.console, names))
    assert cost(other.outcome()) == cost(case.outcome())


@pytest.mark.parametrize("name", sorted(MOVES))
def test_where_the_panel_lies_changes_no_cost(name: str) -> None:
    """Shifted by whole 0.1 mm, turned by quarters or mirrored: the same cost."""

    @FEW
    @given(case=cases(3))
    def holds(case: Case) -> None:
        other = replace(case, console=moved(case.console, MOVES[name]))
        assert cost(other.outcome()) == cost(case.outcome())

    holds()


@pytest.mark.parametrize("short_way", [field.name for field in fields(Speed)])
def test_no_short_way_changes_a_cost(short_way: str) -> None:
    """Each way to be fast switched off by itself, and all of them: the cost is the same."""

    @FEW
    @given(case=cases())
    def holds(case: Case) -> None:
        fast = cost(case.outcome())
        assert cost(case.outcome(speed=replace(FAST, **{short_way: False}))) == fast
        assert cost(case.outcome(speed=PLAIN)) == fast

    holds()


@FEW
@given(case=cases())
def test_the_free_hub_is_the_best_of_the_held_ones(case: Case) -> None:
    """Each instrument held as the one hub in turn: the least of their costs is the free cost."""
    one = case.with_limits(one_hub=True)
    held = [cost(one.outcome(hubs=[i.name])) for i in one.console.instruments]
    assert cost(one.outcome()) == min((c for c in held if c is not None), default=None)
