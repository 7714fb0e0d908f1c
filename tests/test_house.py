"""The house rules a machine can hold: who may import whom, and what stays out of start-up."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import lugwright

SOURCE = Path(lugwright.__file__).parent

MAY_IMPORT = {
    "base": set(),
    "stock": {"base", "electrics"},
    "electrics": {"base"},
    "scenario": {"base", "electrics", "limits", "stock"},
    "limits": {"base", "electrics"},
    "routes": {"base", "scenario", "limits", "stock"},
    "plan": {"base"},
    "problem": {"base", "scenario", "limits", "stock", "routes", "electrics", "plan"},
    "model": {"base", "problem", "plan", "electrics", "scenario", "limits", "stock"},
    "packing": {"base", "problem", "model"},
    "assemble": {
        *("base", "scenario", "limits", "stock", "routes", "electrics", "plan", "readings"),
    },
    "check": {"base", "scenario", "limits", "stock", "electrics", "plan", "readings"},
    "readings": {"base", "electrics", "plan"},
    "remade": {
        *("base", "scenario", "limits", "stock", "routes", "plan", "assemble"),
        "check",  # its findings, not its judgement
    },
    "outputs": {"base", "plan", "check", "readings"},
    "studies": {
        *("base", "scenario", "limits", "stock", "electrics"),
        *("routes", "problem", "model", "plan", "assemble", "outputs"),
    },
    "catalogue": {
        *("base", "scenario", "limits", "stock", "electrics", "routes", "problem"),
        *("plan", "assemble", "check", "outputs", "studies", "pipeline"),
    },
    "production": {
        *("base", "scenario", "limits", "stock", "electrics", "routes", "problem", "model"),
        *("packing", "plan", "assemble", "check", "outputs", "studies", "pipeline"),
    },
}
ONE_ROOM = {"ortools": "model", "highspy": "model", "click": "cli"}


def imports_of(path: Path) -> set[str]:
    """Every module a file imports, anywhere in it."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
    return found


@pytest.mark.parametrize("room", sorted(MAY_IMPORT))
def test_a_room_imports_only_from_below(room: str) -> None:
    """Data goes one way: each room sees the rooms it stands on and no other."""
    strangers = {
        f"{path.relative_to(SOURCE)}: {module}"
        for path in (SOURCE / room).rglob("*.py")
        for module in imports_of(path)
        if module.startswith("lugwright.") and module.split(".")[1] not in MAY_IMPORT[room] | {room}
    }
    assert strangers == set()


@pytest.mark.parametrize("library", sorted(ONE_ROOM))
def test_a_heavy_library_lives_in_one_room(library: str) -> None:
    """Solver, command line and geometry are each imported in one room only."""
    elsewhere = {
        str(path.relative_to(SOURCE))
        for path in SOURCE.rglob("*.py")
        if any(module.split(".")[0] == library for module in imports_of(path))
        and path.relative_to(SOURCE).parts[0] != ONE_ROOM[library]
    }
    assert elsewhere == set()


def test_the_solver_is_imported_at_one_door() -> None:
    """It comes without pandas only there."""
    doors = {
        str(path.relative_to(SOURCE))
        for path in SOURCE.rglob("*.py")
        if any(module.split(".")[0] == "ortools" for module in imports_of(path))
    }
    assert doors == {"model/solver.py"}


def test_files_stay_small() -> None:
    """A room wants two files before a file passes 450 lines."""
    long = {
        str(path.relative_to(SOURCE)): lines
        for path in SOURCE.rglob("*.py")
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > 450
    }
    assert long == {}


def test_every_public_thing_has_a_docstring() -> None:
    """Modules, public classes and public functions say what they are."""
    bare = []
    for path in SOURCE.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        if path.name != "__init__.py" and not ast.get_docstring(tree):
            bare.append(str(path.relative_to(SOURCE)))
        for node in ast.walk(tree):
            if isinstance(node, ast.ClassDef | ast.FunctionDef):
                inner = node.name.startswith("_") or ast.get_docstring(node)
                if not inner and node.col_offset == 0:
                    bare.append(f"{path.relative_to(SOURCE)}: {node.name}")
    assert bare == []
