"""Outputs are for everybody who reads a plan, the solver's machine or not."""

import subprocess
import sys


def test_outputs_import_no_solver_graph_geometry_or_frames() -> None:
    """Writing every output needs none of the libraries that planning needs."""
    code = (
        "import sys\n"
        "import lugwright.outputs.folder\n"
        "print(*{name.split('.')[0] for name in sys.modules})\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    loaded = set(done.stdout.split())
    assert loaded & {"ortools", "networkx", "shapely", "pandas", "numpy", "click"} == set()
    assert {"lugwright", "pydantic"} <= loaded
