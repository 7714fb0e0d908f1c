"""Family and rework on middle sizes, against one MILP in HiGHS.

The MILP has the rows of the model and, instead of cuts, a flow that joins every tree; it knows
nothing of hubs tried one by one, of bounds, or of circuits apart. Consoles are roomy, so that no
electrical rule binds (the searches' plans pass the checker, which judges those).
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from itertools import pairwise

import pytest
from consoles import scenario_text
from milp import Milp, by_highs, flow_rows, milp_of
from one_model import ask_for_all

from lugwright.base.toml import parse_toml
from lugwright.model.bounds.rows import Rows
from lugwright.model.formulation.variables import Linear, total
from lugwright.model.variants.family import best_family
from lugwright.model.variants.family_model import Variant, pose_members
from lugwright.pipeline import make_plan, pose, read_inputs
from lugwright.plans.schema import Plan
from lugwright.problem.built_harness import with_built
from lugwright.production.rework import built_jumpers, rework
from lugwright.scenario.brief import Brief
from lugwright.scenario.leaving_out import text_without

SECONDS = 300.0


def inputs_of(instruments: int, seed: int, without: tuple[str, ...] = ()) -> Brief:
    """A console of so many dials, some of them left out, without splices."""
    text = scenario_text(instruments, "grid", seed) + "splices = false\n"
    if without:
        text = text_without(parse_toml(text.encode(), "n.toml"), without, "less")
    return read_inputs(parse_toml(text.encode(), "n.toml"), settings=("objective=cheapest",))


def planned(inputs: Brief) -> Plan:
    """Its plan."""
    plan = make_plan(inputs).plan
    assert plan is not None
    return plan


@pytest.mark.parametrize("seed", [1, pytest.param(2, marks=pytest.mark.slow)])
def test_rework_costs_what_a_milp_finds(seed: int) -> None:
    """Six dials, one of them new; a change is worth half a unit of money."""
    old, inputs = planned(inputs_of(6, seed, ("dial 03",))), inputs_of(6, seed)
    worth = 500_000
    problem, routes = pose(inputs)
    landed = {landing.circuit: landing.post for landing in old.landings}
    built = built_jumpers(old, problem, routes, inputs)
    ended = by_highs(milp_of(with_built(problem, built, landed, worth)), SECONDS)
    assert ended.proved
    assert rework(inputs, old, worth).cost == ended.cost


def family_milp(variants: list[Variant], part_micro: int) -> Milp:
    """All variants as one MILP, with one hub for all circuits of all of them."""
    members = []
    for at, variant in enumerate(variants):
        ask = ask_for_all(variant.problem, frozenset())
        assert ask is not None
        members.append((at, variant, ask))
    model, _, posed = pose_members(members, part_micro)
    there: dict[str, dict[tuple[int, str], list[Linear]]] = defaultdict(lambda: defaultdict(list))
    supplied = set()
    for at, one in posed.items():
        for source in one.v.sources:
            there[source.landing.instrument][at, source.circuit].append(source.use)
            supplied.add((at, source.circuit))
    for by_circuit in there.values():
        sums = [total(by_circuit[key]) for key in sorted(supplied)]
        for one_sum, other in pairwise(sums):
            model.add(one_sum == other)
    rows, more, flows = Rows(model), [], 0
    for at, one in posed.items():
        more += flow_rows(variants[at].problem, one.v, len(rows.cost) + flows)
        flows += len(one.v.arcs)
    return Milp(rows, more, flows)


@pytest.mark.slow
@pytest.mark.parametrize("part_micro", [0, 1_000_000])
def test_a_family_costs_what_a_milp_finds(part_micro: int) -> None:
    """Five dials and two options of it, weighted 3, 2 and 1."""
    variants = []
    for without, boats in (((), 3), (("dial 02",), 2), (("dial 04", "dial 05"), 1)):
        inputs = inputs_of(5, 3, without)
        problem, _ = pose(inputs)
        limits = replace(problem.limits, objective="cheapest")
        variants.append(Variant(replace(problem, limits=limits), boats))
    ended = by_highs(family_milp(variants, part_micro), SECONDS)
    assert ended.proved
    assert best_family(variants, part_micro).cost_micro == ended.cost
