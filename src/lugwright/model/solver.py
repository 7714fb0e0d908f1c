"""The one door to the solver library, and it is the library's lower one.

``CpModel`` and ``CpSolver`` stand on the compiled module the library's own Python front stands on
(``ortools.sat.python.cp_model_helper``) and have the front's names, as far as they are used here.
The front itself imports pandas, for variables by the row of a table, which nothing here makes: that
takes three times as long as all the rest (0.36 s of processor time against 0.09 s for the two
together). ``tests/model/test_solver.py`` holds both against each other: the same calls make
the same model, and it ends the same way. ``max_flow`` is the library's own, for flows.
"""

from __future__ import annotations

import threading
from collections.abc import Iterable
from typing import Any

from ortools.graph.python import max_flow
from ortools.sat.python import cp_model_helper as low
from ortools.util.python.sorted_interval_list import Domain

BoundedLinearExpression = low.BoundedLinearExpression
Constraint = low.Constraint
IntVar = low.IntVar
LinearExpr = low.LinearExpr
LinearExprT = low.LinearExpr | low.IntVar | int
Literal = low.Literal | bool
UNKNOWN = low.CpSolverStatus.UNKNOWN
MODEL_INVALID = low.CpSolverStatus.MODEL_INVALID
FEASIBLE = low.CpSolverStatus.FEASIBLE
INFEASIBLE = low.CpSolverStatus.INFEASIBLE
OPTIMAL = low.CpSolverStatus.OPTIMAL

__all__ = [
    "FEASIBLE",
    "INFEASIBLE",
    "MODEL_INVALID",
    "OPTIMAL",
    "UNKNOWN",
    "BoundedLinearExpression",
    "Constraint",
    "CpModel",
    "CpSolver",
    "IntVar",
    "LinearExpr",
    "LinearExprT",
    "max_flow",
]


class CpModel(low.CpBaseModel):
    """A model in the making: variables, rows over them, what is to be least, hints."""

    def __init__(self) -> None:
        low.CpBaseModel.__init__(self, None)

    @property
    def proto(self) -> Any:
        """The model as the solver takes it."""
        return self.model_proto

    def new_int_var(self, least: int, most: int, name: str) -> IntVar:
        """A whole number between two, both included."""
        return IntVar(self.model_proto).with_name(name).with_domain(Domain(least, most))

    def new_bool_var(self, name: str) -> IntVar:
        """0 or 1."""
        return self.new_int_var(0, 1, name)

    def get_int_var_from_proto_index(self, index: int) -> IntVar:
        """The variable of that number."""
        return IntVar(self.model_proto, index)

    def add(self, row: BoundedLinearExpression | bool) -> Constraint:
        """A row; one without variables holds always or never. Raises TypeError for none."""
        if isinstance(row, BoundedLinearExpression):
            return self._row(row)
        if not isinstance(row, bool):
            raise TypeError(f"no row: {type(row).__name__}")
        return self.add_bool_or([True] if row else [])

    def add_bool_or(self, literals: Iterable[Literal]) -> Constraint:
        """At least one of them."""
        return self._literals(low.BoolArgumentConstraint.bool_or, literals)

    def add_at_most_one(self, literals: Iterable[Literal]) -> Constraint:
        """No two of them."""
        return self._literals(low.BoolArgumentConstraint.at_most_one, literals)

    def add_exactly_one(self, literals: Iterable[Literal]) -> Constraint:
        """One of them and no other."""
        return self._literals(low.BoolArgumentConstraint.exactly_one, literals)

    def add_implication(self, one: Literal, other: Literal) -> Constraint:
        """Where the one is, the other is."""
        both = self._literals(low.BoolArgumentConstraint.bool_and, [other])
        both.only_enforce_if(one)
        return both

    def _row(self, row: BoundedLinearExpression) -> Constraint:
        made: Constraint = self._add_bounded_linear_expression(row)  # type: ignore[attr-defined]
        return made

    def _literals(self, kind: Any, literals: Iterable[Literal]) -> Constraint:
        made: Constraint = self._add_bool_argument_constraint(  # type: ignore[attr-defined]
            kind, *literals
        )
        return made

    def minimize(self, what: LinearExprT) -> None:
        """What is to be least, in place of what was."""
        proto = self.model_proto
        proto.clear_objective()
        proto.objective.scaling_factor = 1.0
        if isinstance(what, int):
            proto.objective.offset = what
            return
        flat = low.FlatIntExpr(what)
        proto.objective.offset = flat.offset
        proto.objective.vars.extend(variable.index for variable in flat.vars)
        proto.objective.coeffs.extend(flat.coeffs)

    def has_objective(self) -> bool:
        """Whether something is to be least."""
        return bool(self.model_proto.has_objective())

    def add_hint(self, variable: IntVar, value: int) -> None:
        """A value to try first."""
        self.model_proto.solution_hint.vars.append(variable.index)
        self.model_proto.solution_hint.values.append(int(value))

    def clear_hints(self) -> None:
        """Forget every hint."""
        self.model_proto.clear_solution_hint()

    def validate(self) -> str:
        """What is wrong with the model; "" where nothing is."""
        return str(low.CpSatHelper.validate_model(self.model_proto))


class CpSolver:
    """Solves models under its parameters; values are those of the last answer."""

    def __init__(self) -> None:
        self.parameters: Any = low.SatParameters()
        self._answer: Any = None
        self._running: Any = None
        self._lock = threading.Lock()

    def solve(self, model: CpModel) -> Any:
        """How the search ended, as one of the statuses above."""
        running: Any = low.SolveWrapper()
        with self._lock:
            self._running = running
        running.set_parameters(self.parameters)
        self._answer = running.solve(model.proto)
        with self._lock:
            self._running = None
        return self._answer.status

    def stop_search(self) -> None:
        """Ask a running search, from another thread, to end with what it has."""
        with self._lock:
            if self._running is not None:
                self._running.stop_search()

    def value(self, what: LinearExprT) -> int:
        """The value of a variable or a sum."""
        return int(low.ResponseHelper.value(self._answer, what))

    def boolean_value(self, literal: Literal) -> bool:
        """Whether it is 1."""
        return bool(low.ResponseHelper.boolean_value(self._answer, literal))

    @property
    def objective_value(self) -> float:
        """What the answer comes to."""
        return float(self._answer.objective_value)

    @property
    def best_objective_bound(self) -> float:
        """What no answer can be below."""
        return float(self._answer.best_objective_bound)
