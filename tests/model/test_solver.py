"""The door to the solver: no pandas behind it, and the same models as by the library's own front.

Reference: the solver library's Python front, ``ortools.sat.python.cp_model``.
"""

from __future__ import annotations

import subprocess
import sys
import threading
import time
from random import Random
from types import ModuleType
from typing import Any

import pytest
from ortools.sat.python import cp_model as front

from lugwright.model import solver as door


def made(cp_model: ModuleType, seed: int) -> Any:
    """A model made of random calls of every kind used here, by one front or the other."""
    random, model = Random(seed), cp_model.CpModel()
    flags = [model.new_bool_var(f"flag {index}") for index in range(6)]
    whole = [model.new_int_var(-3, random.randint(0, 9), "") for _ in range(4)]
    literals = [*flags, *(flag.negated() for flag in flags)]
    for add in (model.add_bool_or, model.add_at_most_one, model.add_exactly_one):
        add(random.sample(literals, random.randint(1, 3)))
    model.add_implication(*random.sample(literals, 2))
    for _ in range(3):
        some = random.sample([*flags, *whole], 3)
        terms = [random.randint(-4, 4) * variable for variable in some]
        row = model.add(cp_model.LinearExpr.sum(terms) <= random.randint(0, 9))
        if random.random() < 0.5:
            row.only_enforce_if(random.choice(literals))
    model.add(whole[0] + 2 * whole[1] >= -5)
    model.add(sum(flags) == 2)
    model.add(random.random() < 0.9)  # a row without variables
    model.add_hint(flags[0], True)
    model.clear_hints()
    model.add_hint(model.get_int_var_from_proto_index(7), 1)
    model.minimize(5)
    model.minimize(cp_model.LinearExpr.sum([3 * whole[0], -2 * whole[2], *flags, 7]))
    return model


def ended(cp_model: ModuleType, model: Any) -> tuple[int, list[int]]:
    """How its search ended, and with what values."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers, solver.parameters.random_seed = 1, 5
    status = solver.solve(model)
    if status != cp_model.OPTIMAL:
        return int(status), []
    count = len(model.proto.variables)
    values = [solver.value(model.get_int_var_from_proto_index(i)) for i in range(count)]
    first = model.get_int_var_from_proto_index(0)
    assert solver.boolean_value(first) == (values[0] == 1)
    return int(status), [*values, round(solver.objective_value), round(solver.best_objective_bound)]


@pytest.mark.parametrize("seed", range(40))
def test_the_same_calls_make_the_same_model(seed: int) -> None:
    """Word for word, and the search over it ends alike."""
    ours, theirs = made(door, seed), made(front, seed)
    assert str(ours.proto) == str(theirs.proto)
    assert ours.has_objective() and ours.validate() == theirs.validate() == ""
    assert ended(door, ours) == ended(front, theirs)


def test_some_of_these_models_have_answers_and_some_have_none() -> None:
    """So both ways of ending are compared above."""
    found = {ended(door, made(door, seed))[0] for seed in range(40)}
    assert found == {int(door.OPTIMAL), int(door.INFEASIBLE)}


def test_it_comes_without_pandas() -> None:
    """Nobody has loaded pandas, nor the front that does; nothing is left in the import system."""
    program = (
        "import sys, builtins\nbefore = list(sys.meta_path), builtins.__import__\n"
        "from lugwright.model import solver\n"
        "assert 'pandas' not in sys.modules and 'ortools.sat.python.cp_model' not in sys.modules\n"
        "assert before == (list(sys.meta_path), builtins.__import__)\n"
    )
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr


def test_what_is_no_row_is_refused() -> None:
    """A number in the place of a row is a fault of ours, and is told as such."""
    with pytest.raises(TypeError, match="no row: int"):
        door.CpModel().add(3)  # type: ignore[arg-type]


def test_a_search_can_be_stopped_from_outside() -> None:
    """A search that would go on for minutes ends when it is asked to."""
    model, random = door.CpModel(), Random(1)
    flags = [model.new_bool_var("") for _ in range(300)]
    for _ in range(300):
        model.add(sum(random.randint(1, 999) * flag for flag in flags) >= 70_000)
    model.minimize(sum(random.randint(1, 999) * flag for flag in flags))
    solver = door.CpSolver()
    solver.parameters.num_workers, solver.parameters.max_time_in_seconds = 1, 60
    aside = threading.Thread(target=solver.solve, args=(model,))
    started = time.monotonic()
    aside.start()
    while aside.is_alive() and time.monotonic() < started + 30:
        solver.stop_search()
        time.sleep(0.05)
    aside.join()
    assert time.monotonic() < started + 30
