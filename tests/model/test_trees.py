"""Cuts: clusters of near nodes, and sets the supply does not reach."""

from __future__ import annotations

from support.asking import pose
from support.consoles import tiny_console

from lugwright.model.formulation.trees import nearest_clusters, unreached
from lugwright.problem.schema import CircuitQuestion


def ground(*x_mm: float) -> CircuitQuestion:
    """The ground circuit of dials in a row."""
    return pose(tiny_console([(x, 60) for x in x_mm], lamps=False)).circuit("ground")


def names(*dials: int) -> frozenset[str]:
    """Names of dials' ground nodes."""
    return frozenset(f"dial{number}.ground" for number in dials)


def test_clusters_of_nearest_nodes() -> None:
    """Gaps 70, 80, 200, 70: first 1-2 and 4-5, then 3 joins 1-2; pairs and the whole are left
    out.
    """
    assert nearest_clusters(ground(60, 130, 210, 410, 480)) == [names(1, 2, 3)]


def test_what_the_supply_does_not_reach() -> None:
    """From dial 1 the chain reaches dial 2; dials 3 and 4 are joined to each other alone."""
    circuit = ground(60, 160, 260, 360)
    jumpers = [
        ("dial1.ground", "dial2.ground"),
        ("dial3.ground", "dial4.ground"),
        ("dial4.ground", "dial3.ground"),
    ]
    assert unreached(circuit, ["dial1.ground"], jumpers) == [names(3, 4)]
    assert unreached(circuit, ["dial1.ground", "dial4.ground"], jumpers) == []


def test_several_parts_apart_are_told_apart() -> None:
    """Two parts the supply does not reach come as two sets, in order of names."""
    circuit = ground(60, 160, 260, 360, 460)
    jumpers = [("dial4.ground", "dial5.ground"), ("dial3.ground", "dial2.ground")]
    assert unreached(circuit, ["dial1.ground"], jumpers) == [names(2, 3), names(4, 5)]
