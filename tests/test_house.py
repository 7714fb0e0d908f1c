"""The house rules a machine can hold: who may import whom, and what stays out of start-up."""

from __future__ import annotations

import ast
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import networkx
import pytest

import lugwright

SOURCE = Path(lugwright.__file__).parent

MAY_IMPORT = {
    "base": set(),
    "trade": {"base", "electrics", "scenario", "limits", "stock"},
    "stock": {"base", "electrics"},
    "electrics": {"base"},
    "scenario": {"base", "electrics", "limits", "stock"},
    "limits": {"base", "electrics"},
    "routes": {"base", "scenario", "limits", "stock"},
    "plans": {"base", "trade"},
    "problem": {"base", "scenario", "limits", "stock", "routes", "electrics", "plans", "trade"},
    "model": {"base", "problem", "plans", "electrics", "scenario", "limits", "stock", "trade"},
    "packing": {"base", "problem", "model"},
    "assemble": {
        *("base", "scenario", "limits", "stock", "routes", "electrics", "plans", "readings"),
        "trade",
    },
    "checker": {"base", "scenario", "limits", "stock", "electrics", "plans", "readings"},
    "readings": {"base", "electrics", "plans", "trade"},
    "remade": {
        *("base", "scenario", "limits", "stock", "routes", "plans", "assemble"),
        "checker",  # its findings, not its judgement
        "trade",
    },
    "outputs": {"base", "plans", "checker", "readings", "trade"},
    "studies": {
        *("base", "scenario", "limits", "stock", "electrics"),
        *("routes", "problem", "model", "plans", "assemble", "outputs", "pipeline"),
        "trade",
    },
    "catalogue": {
        *("base", "scenario", "limits", "stock", "electrics", "routes", "problem"),
        *("plans", "assemble", "checker", "outputs", "studies", "pipeline"),
    },
    "production": {
        *("base", "scenario", "limits", "stock", "electrics", "routes", "problem", "model"),
        *("packing", "plans", "assemble", "checker", "outputs", "studies", "pipeline"),
        "trade",
    },
    "guide": {"limits", "scenario"},
    "door": {"base", "scenario", "plans", "checker", "outputs", "studies", "pipeline"},
}
# Inside the model: each sees those before it, and itself.
MODEL_ORDER = (
    *("solver", "clock", "formulation", "bounds", "solving", "search", "choose", "variants"),
)
# What a function that keeps its answers may be asked by.
KEPT_BY = {"str", "int", "float", "type[BaseModel]"}
ONE_ROOM = {"ortools": "model", "highspy": "model", "click": "cli"}


@cache
def imports_of(path: Path) -> frozenset[str]:
    """Every module a file imports, anywhere in it: in functions and for types alone too.

    ``from lugwright import pipeline`` is an import of ``lugwright.pipeline``, where that is a file.
    """
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            inside = {f"{node.module}.{alias.name}" for alias in node.names}
            found |= {each if _is_ours(each) else node.module for each in inside}
    return frozenset(found)


def loaded_by_name(path: Path) -> set[str]:
    """Files of ours that a file names in quotes, to load them when they are asked for."""
    texts = (
        node.value
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    )
    return {each for each in texts if each.startswith("lugwright.") and _is_ours(each)}


def _is_ours(module: str) -> bool:
    """Whether a name is a file or a room of ours."""
    place = SOURCE.parent.joinpath(*module.split("."))
    return place.is_dir() or place.with_suffix(".py").is_file()


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


def test_the_second_opinion_shares_no_rule() -> None:
    """Checker and enumerator state every rule for themselves: neither sees the shared ones."""
    own = (SOURCE / "checker", Path(__file__).parent / "brute")
    files = [path for room in own for path in room.rglob("*.py")]
    shared = {
        f"{path.name}: {module}"
        for path in files
        for module in imports_of(path)
        if module.startswith("lugwright.trade")
    }
    assert len({path.parent for path in files}) >= len(own)
    assert shared == set()


def test_only_one_file_spells_a_name() -> None:
    """Pigtails, leads, joins and ready-made rings are spelled in the room of shared rules.

    The console names its own wires: those of boat wires, a load's pigtail among them.
    """
    spelled = re.compile(r"""["'](pigtail|lead|join|ready|extension of|end of) [{"']""")
    found = {
        str(path.relative_to(SOURCE))
        for path in SOURCE.rglob("*.py")
        if path.relative_to(SOURCE).parts[0] != "checker"
        and spelled.search(path.read_text("utf-8"))
    }
    assert found == {"trade/names.py", "scenario/load_pigtails.py"}


def test_an_identity_is_made_where_its_thing_is_known() -> None:
    """Text becomes the name of a wire or joint there alone; types hold that it is handed on."""
    made = re.compile(r"\b(WireId|JointId)\(")
    found = {
        str(path.relative_to(SOURCE))
        for path in SOURCE.rglob("*.py")
        if path.relative_to(SOURCE).parts[0] != "checker" and made.search(path.read_text("utf-8"))
    }
    read = {f"scenario/{name}.py" for name in ("fitting_out", "load", "devices")}
    read |= {"scenario/load_pigtails.py", "scenario/supplied_wires.py", "routes/splice_points.py"}
    assert found == {"base/identity.py", "trade/names.py", *read}


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


def test_the_model_is_stacked() -> None:
    """Sub-rooms of the model see only those below them; each has a map of all its files."""
    above = {
        f"{path.relative_to(SOURCE)}: {module}"
        for path in (SOURCE / "model").rglob("*.py")
        for module in imports_of(path)
        if module.startswith("lugwright.model.") and _level(module) > _level(_name(path))
    }
    assert above == set()


@pytest.mark.parametrize(
    "room", sorted(str(path.parent.relative_to(SOURCE)) for path in SOURCE.rglob("*/__init__.py"))
)
def test_a_map_names_every_file(room: str) -> None:
    """Whoever opens a room reads in its map what is where."""
    text = ast.get_docstring(ast.parse((SOURCE / room / "__init__.py").read_text("utf-8"))) or ""
    inside = [path for path in (SOURCE / room).iterdir() if path.name[0] not in "_."]
    assert inside
    unnamed = {path.name for path in inside if path.suffix == ".py" or path.suffix == ".md"}
    unnamed = {name for name in unnamed if not _named(name, text)}
    assert unnamed == set()


def test_every_folder_of_code_is_a_room_with_a_map() -> None:
    """No file lies where no map could name it."""
    folders = {path.parent for path in SOURCE.rglob("*.py")}
    assert [path for path in folders if not (path / "__init__.py").is_file()] == []


def _named(name: str, text: str) -> bool:
    return f"``{name}``" in text or f"``{name.rpartition('.')[0]}``" in text


def test_no_import_runs_in_a_ring() -> None:
    """Lazy, type-only and by a name in quotes: no file sees itself by way of others."""
    sees = {_name(path): imports_of(path) | loaded_by_name(path) for path in SOURCE.rglob("*.py")}
    assert "lugwright.outputs.labels.label_sheet" in sees["lugwright.outputs.sheets"]
    assert rings(sees) == []


def test_every_import_gives_the_whole_name() -> None:
    """What starts with a dot would be seen by none of these rules."""
    dotted = {
        str(path.relative_to(SOURCE))
        for path in SOURCE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.level
    }
    assert dotted == set()


@pytest.mark.parametrize(
    "text",
    [
        "from lugwright import pipeline",
        "def f():\n    from lugwright import pipeline as way",
        "class C:\n    def f(self):\n        import lugwright.pipeline",
        "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from lugwright import pipeline",
        "try:\n    pass\nfinally:\n    from lugwright.pipeline import checked",
    ],
)
def test_an_import_is_seen_wherever_it_stands(text: str, tmp_path: Path) -> None:
    """In a function, for types alone, and of a file taken from its room."""
    (tmp_path / "some.py").write_text(text, encoding="utf-8")
    assert "lugwright.pipeline" in imports_of(tmp_path / "some.py")


def test_a_ring_is_found(tmp_path: Path) -> None:
    """Of three files in a ring, by way of a type and of a function, each is named."""
    texts = {
        "one": "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import two\n",
        "two": "def f():\n    import three\n",
        "three": "from one import x\n",
        "four": "import one\n",
    }
    for name, text in texts.items():
        (tmp_path / f"{name}.py").write_text(text, encoding="utf-8")
    sees = {name: imports_of(tmp_path / f"{name}.py") for name in texts}
    assert rings(sees) == ["one", "three", "two"]


def rings(sees: Mapping[str, set[str]]) -> list[str]:
    """The names, of those there are, that see themselves by way of others."""
    graph = networkx.DiGraph((name, seen) for name in sees for seen in sees[name] & sees.keys())
    together = networkx.strongly_connected_components(graph)
    return sorted(name for names in together if len(names) > 1 for name in names)


def _name(path: Path) -> str:
    """A file by the name it is imported by; a room's map by that of the room."""
    parts = ("lugwright", *path.relative_to(SOURCE).with_suffix("").parts)
    return ".".join(parts).removesuffix(".__init__")


def _level(module: str) -> int:
    return MODEL_ORDER.index(module.split(".")[2]) if module.split(".")[2] in MODEL_ORDER else -1


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


def test_no_module_keeps_a_plan_or_a_console() -> None:
    """What is kept between calls is asked for by plain values: no plan outlives who made it."""
    kept = {
        f"{path.relative_to(SOURCE)}: {node.name}"
        for path in SOURCE.rglob("*.py")
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef)
        and any("cache" in ast.unparse(each) for each in node.decorator_list)
        and not {ast.unparse(arg.annotation or ast.Constant("")) for arg in node.args.args}
        <= KEPT_BY
    }
    assert kept == set()


def test_no_page_is_mended_after_it_is_made() -> None:
    """Pages and drawings are written as they are to be: nothing looks for patterns in them."""
    rooms = ("pages", "drawing", "stacks", "job", "test_sheet", "overview", "measuring", "labels")
    files = [path for room in rooms for path in (SOURCE / "outputs" / room).rglob("*.py")]
    assert len(files) > 40
    assert {str(path.relative_to(SOURCE)) for path in files if "re" in imports_of(path)} == set()
