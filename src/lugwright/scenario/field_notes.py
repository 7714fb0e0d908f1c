"""The note under each field of a model, as an editor's schema and a complaint show it.

It is read from the source when one of the two wants it: reading a sound scenario needs none, and
pydantic would parse every model's source for it at each start.
"""

from __future__ import annotations

import ast
import inspect
import textwrap
from functools import cache
from itertools import pairwise
from typing import Any

from pydantic import BaseModel


@cache
def field_notes(model: type[BaseModel]) -> dict[str, str]:
    """The string that stands under each field in the model's source, by field; bases' included."""
    found: dict[str, str] = {}
    for kind in reversed(model.__mro__):
        if issubclass(kind, BaseModel) and kind is not BaseModel:
            found |= _own_notes(kind)
    return found


def _own_notes(model: type[BaseModel]) -> dict[str, str]:
    """The same for the fields that the model's own source says."""
    (source,) = ast.parse(textwrap.dedent(inspect.getsource(model))).body
    return {
        field.target.id: inspect.cleandoc(note.value.value)
        for field, note in pairwise(source.body if isinstance(source, ast.ClassDef) else ())
        if isinstance(field, ast.AnnAssign)
        and isinstance(field.target, ast.Name)
        and isinstance(note, ast.Expr)
        and isinstance(note.value, ast.Constant)
        and isinstance(note.value.value, str)
    }


def add_notes(schema: dict[str, Any], model: type[BaseModel]) -> None:
    """Write the notes into a model's part of a JSON Schema, as descriptions of its fields."""
    notes = field_notes(model)
    for name, field in model.model_fields.items():
        if name in notes:
            schema["properties"][field.alias or name]["description"] = notes[name]
