"""Published tree problems, put as one circuit with many posts, against their published optima.

The files lie beside the project (``shared/datasets``; sources and optima in its ``SOURCES.md``)
and are not part of it: without them these tests are left out. ``benchmarks/datasets.py`` runs
whole folders of them.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from instances import Instance, instances, solve_tree

from lugwright.model.formulation.ask import Status

DATASETS = Path(__file__).resolve().parents[3] / "shared" / "datasets"

pytestmark = [
    pytest.mark.datasets,
    pytest.mark.skipif(
        not DATASETS.is_dir(), reason="the published tree problems do not lie beside the project"
    ),
]


def told(folder: str) -> dict[str, Instance]:
    """The instances of a folder by name."""
    return {instance.name: instance for instance in instances(DATASETS / folder)}


def assert_published(instance: Instance) -> None:
    """Proved best, and the published optimum."""
    solved = solve_tree(instance.pose(), families=instance.families)
    assert solved.status is Status.BEST
    assert instance.optimum == solved.value / instance.unit


def test_steiner_trees_in_graphs() -> None:
    """The least wire over posts and splice points (SteinLib sets B and SP; T. Koch, A. Martin,
    S. Voss; B by J. E. Beasley) is the optimum printed in the collection's own table.
    """
    found = {**told("steinlib/B"), **told("steinlib/SP")}
    assert len(found) >= 13
    for instance in found.values():
        assert_published(instance)


def test_degree_constrained_trees() -> None:
    """Studs with room for so many lugs ("structured hard", M. Krishnamoorthy and others): the
    least wire is the optimum stated in the collection.
    """
    found = told("dcmst_shrd")
    assert len(found) == 4 * 4
    for instance in found.values():
        assert_published(instance)


@pytest.mark.parametrize("capacity", [20, 40])
def test_capacitated_trees(capacity: int) -> None:
    """A wire that carries so many mA, every post drawing one (OR-Library, J. E. Beasley)."""
    assert_published(told("cmst")[f"tc40-1.txt capacity {capacity}"])
