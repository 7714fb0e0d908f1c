"""Options at a joint are those of ends that can be there."""

from __future__ import annotations

from ortools.sat.python import cp_model
from support.asking import only_ground, pose, roomy_limits, without_post
from support.consoles import tiny_console

from lugwright.model.formulation.ask import Ask
from lugwright.model.formulation.joints import add_joints
from lugwright.model.formulation.trees import add_trees
from lugwright.model.formulation.variables import Variables, make_variables
from lugwright.scenario.console import Console


def posed(console: Console, landing: str, **limits: object) -> Variables:
    """The ground circuit's variables, landed on one post."""
    problem = pose(console, roomy_limits(**limits))
    ask = Ask(("ground",), (("ground", (landing,)),), (("ground", ("16 AWG",)),))
    v = make_variables(problem, ask, cp_model.CpModel())
    add_trees(v)
    add_joints(v)
    return v


def most_ends(v: Variables, joint: str) -> int:
    """The most ends any option at a joint takes."""
    return max(option.ends for option, _ in v.picks[joint, "ground"])


def test_no_more_ends_than_can_meet() -> None:
    """Two dials: at most a jumper and the pigtail meet, however much room the limits leave."""
    console = only_ground(tiny_console([(60, 60), (160, 60)], lamps=False))
    v = posed(console, "dial1.ground", lugs_per_stud=12, wires_per_barrel=4)
    assert most_ends(v, "dial1.ground") <= 3
    assert most_ends(v, "dial2.ground") <= 3


def test_no_end_of_a_wire_that_is_not_there() -> None:
    """A circuit of one post: no jumper can end there, so no option may hold one."""
    console = without_post(tiny_console([(60, 60), (160, 60)], lamps=False), "dial1.ground")
    v = posed(console, "dial2.ground")
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    taken = [
        option.counts
        for option, use in v.picks["dial2.ground", "ground"]
        if solver.solve(with_added(v, use)) == cp_model.OPTIMAL
    ]
    assert taken == [(("pigtail ground", 1),)]


def with_added(v: Variables, use: cp_model.IntVar) -> cp_model.CpModel:
    """The model with one option held."""
    model = v.model.clone()
    model.add(model.get_bool_var_from_proto_index(use.index) == 1)
    return model
