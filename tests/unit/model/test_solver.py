"""The door to the solver: no pandas behind it, and everything as it is with pandas."""

from __future__ import annotations

import subprocess
import sys
from importlib.util import find_spec

import pytest

_SOLVE = """
model = cp_model.CpModel()
x = model.new_int_var(0, 5, "x")
model.add(x >= 3)
model.minimize(x)
solver = cp_model.CpSolver()
assert solver.solve(model) == cp_model.OPTIMAL and solver.value(x) == 3
"""
_BY_TABLE = """
rows = pd.Index(["a", "b"])
table = model.new_int_var_series("t", rows, 0, pd.Series([2, 4], rows))
model.add(sum(table) == 6)
assert solver.solve(model) == cp_model.OPTIMAL
assert solver.values(table).tolist() == [2, 4]
assert cp_model.pd.Series is pd.Series and cp_model.pd.DataFrame is pd.DataFrame
"""
_HALF_WAY = """
import threading
from importlib.machinery import SourceFileLoader
seen, plain = [], SourceFileLoader.exec_module

def elsewhere():
    import pandas
    seen.append(pandas)

def slow(self, module):
    if module.__name__ == "ortools.sat.python.cp_model":
        aside = threading.Thread(target=elsewhere)
        aside.start()
        aside.join()
    return plain(self, module)

SourceFileLoader.exec_module = slow
from lugwright.model.solver import cp_model
import pandas
assert seen == [pandas] and pandas.DataFrame
assert cp_model.pd.Series is pandas.Series and cp_model.pd.Index is pandas.Index
"""


def _run(program: str) -> None:
    """Run a program in a process of its own; what it asserts must hold."""
    ended = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=False
    )
    assert ended.returncode == 0, ended.stderr


def test_it_solves_without_pandas() -> None:
    """The solver works, and nobody has loaded pandas."""
    door = "import sys\nfrom lugwright.model.solver import cp_model\n"
    _run(f"{door}{_SOLVE}assert not [x for x in sys.modules if x.startswith('pandas')]\n")


def test_its_two_types_are_two() -> None:
    """Nothing is of them while pandas is not loaded, and neither stands for the other."""
    _run(
        "import sys\nfrom lugwright.model.solver import cp_model\n"
        "index, series = cp_model.pd.Index, cp_model.pd.Series\n"
        "assert isinstance(index, type) and isinstance(series, type) and index is not series\n"
        "assert not isinstance([], (index, series)) and 'pandas' not in sys.modules\n"
    )


def test_pandas_may_come_later() -> None:
    """``import pandas`` afterwards is the whole of it, and the solver takes its tables."""
    door = "from lugwright.model.solver import cp_model\n"
    _run(f"{door}{_SOLVE}import pandas as pd\nassert pd.__version__\n{_BY_TABLE}")


def test_pandas_may_be_there_first() -> None:
    """Then the solver's module is loaded as it is."""
    door = "import pandas as pd\nfrom lugwright.model.solver import cp_model\n"
    _run(f"{door}{_SOLVE}{_BY_TABLE}assert cp_model.pd is pd\n")


def test_the_module_may_be_there_first() -> None:
    """The door gives the one module there is, and leaves nothing behind in the import system."""
    _run(
        "import sys\nbefore = list(sys.meta_path)\n"
        "from ortools.sat.python import cp_model as first\n"
        "from lugwright.model.solver import cp_model\n"
        "assert cp_model is first and sys.meta_path == before\n"
    )
    _run(
        "import sys\nbefore = list(sys.meta_path)\n"
        "from lugwright.model.solver import cp_model\n"
        "from ortools.sat.python import cp_model as second\n"
        "assert cp_model is second and sys.meta_path == before\n"
    )


@pytest.mark.skipif(find_spec("pandas") is None, reason="pandas is not installed")
def test_another_thread_gets_pandas_meanwhile() -> None:
    """While the door opens, ``import pandas`` elsewhere means pandas."""
    _run(_HALF_WAY)
