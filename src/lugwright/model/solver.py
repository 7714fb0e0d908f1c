"""The one door to the solver library, and how it is opened without pandas.

``cp_model`` is the solver's Python module, ``max_flow`` the library's own for flows. The first
imports pandas for one kind of call, variables by the row of a table, which nothing
here makes; for all else it asks at most whether something is such a table. pandas is twice as
long in coming as the rest of the solver. So where nobody has loaded it yet, the name it has in
that one module stands for it from afar: its two types are empty ones as long as pandas is not
loaded (then nothing can be of the true ones), and are pandas' own from the moment it is. Whatever
else is asked of the name loads pandas. Other modules and other threads see nothing of this:
``import pandas`` means pandas everywhere, before, meanwhile and afterwards.
"""

from __future__ import annotations

import builtins
import sys
from collections.abc import Sequence
from importlib import import_module
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, PathFinder, SourceFileLoader
from importlib.util import spec_from_file_location
from types import ModuleType
from typing import TYPE_CHECKING, Any

_NAME = "ortools.sat.python.cp_model"
_PANDAS = "pandas"


class _Index:
    """Stands for ``pandas.Index`` while there can be none."""


class _Series:
    """Stands for ``pandas.Series`` while there can be none."""


_EMPTY = {"Index": _Index, "Series": _Series}


class _FromAfar(ModuleType):
    """pandas, loaded when more is asked of it than what its two types are."""

    def __getattr__(self, name: str) -> Any:
        if name in _EMPTY and _PANDAS not in sys.modules:
            return _EMPTY[name]
        return getattr(import_module(_PANDAS), name)


class _Loader(SourceFileLoader):
    """Loads the solver's module; what it imports as pandas is pandas from afar."""

    def exec_module(self, module: ModuleType) -> None:
        """Run the module with an ``import`` of its own."""
        afar, plain = _FromAfar(_PANDAS), builtins.__import__

        def importing(
            name: str,
            globals: Any = None,
            locals: Any = None,
            fromlist: Sequence[str] | None = (),
            level: int = 0,
        ) -> ModuleType:
            if name == _PANDAS and not fromlist and level == 0:
                return afar
            return plain(name, globals, locals, fromlist, level)

        vars(module)["__builtins__"] = {**vars(builtins), "__import__": importing}
        super().exec_module(module)


class _Finder(MetaPathFinder):
    """Finds the solver's module, and nothing else, for that loader."""

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        """The module with its loader changed; None for every other module."""
        spec = PathFinder.find_spec(fullname, path) if fullname == _NAME else None
        if spec is None or spec.origin is None or type(spec.loader) is not SourceFileLoader:
            return None
        return spec_from_file_location(fullname, spec.origin, loader=_Loader(fullname, spec.origin))


def _opened() -> ModuleType:
    """The solver's module: as it is where it, or pandas, is loaded already."""
    if _NAME in sys.modules or _PANDAS in sys.modules:
        return import_module(_NAME)
    finder = _Finder()
    sys.meta_path.insert(0, finder)
    try:
        return import_module(_NAME)
    finally:
        sys.meta_path.remove(finder)


if TYPE_CHECKING:
    from ortools.graph.python import max_flow
    from ortools.sat.python import cp_model
else:
    cp_model = _opened()
    max_flow = import_module("ortools.graph.python.max_flow")

__all__ = ["cp_model", "max_flow"]
