"""Results in files, each whole or not at all, each on the disk as soon as it is known.

A store is a folder: ``models/NAME.json`` for each model, and what is made from them beside it.
A result is sealed as a plan is: one that was changed by hand is none, and is made anew.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from lugwright.base.canonical import digest_of
from lugwright.base.errors import BadInput, Complaint
from lugwright.base.files import read_text
from lugwright.catalogue.schema import FORMAT, ModelResult

MODELS = "models"
MOST_BYTES = 50_000_000  # a result holds a whole plan
_ENDING = ".json"
_SEAL = "seal"
_CHANGED = "its result was changed since it was written, or another version wrote it"


def models_in(folder: Path, *, leave: Iterable[Path] = ()) -> tuple[Path, ...]:
    """The scenario files of a catalogue, by name; ``leave`` names files that are no models."""
    left = {path.resolve() for path in leave}
    found = (path for path in folder.glob("*.toml") if path.is_file())
    return tuple(sorted(path for path in found if path.resolve() not in left))


def result_path(store: Path, name: str) -> Path:
    """Where the result of a model stands."""
    return store / MODELS / f"{name}{_ENDING}"


def write_whole(path: Path, data: bytes) -> None:
    """Write a file whole or not at all; whoever reads it meanwhile sees the earlier one.

    Raises OSError when it cannot be written.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    new = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        new.write_bytes(data)
        new.replace(path)
    finally:
        new.unlink(missing_ok=True)


def json_bytes(data: Any) -> bytes:
    """JSON as every file of a store has it: keys sorted, one fact a line."""
    return (json.dumps(data, sort_keys=True, indent=1, ensure_ascii=False) + "\n").encode()


def write_result(store: Path, result: ModelResult) -> None:
    """Put a result into its file, with the digest of all it says."""
    data = result.model_dump(mode="json")
    data[_SEAL] = _seal_of(data)
    write_whole(result_path(store, result.name), json_bytes(data))


def _seal_of(data: dict[str, Any]) -> str:
    return digest_of(json_bytes(data).decode())


def _unsealed(text: str) -> bytes:
    """What stands under a seal. Raises ValueError where it is broken or missing."""
    data = json.loads(text)
    if not isinstance(data, dict) or data.pop(_SEAL, "") != _seal_of(data):
        raise ValueError("changed since it was written")
    return json_bytes(data)


def read_result(store: Path, name: str) -> ModelResult | None:
    """A model's result; None where there is none that this program wrote and can read."""
    try:
        text = read_text(result_path(store, name), MOST_BYTES)
        result = ModelResult.model_validate_json(_unsealed(text))
    except (BadInput, ValidationError, ValueError, RecursionError):
        return None
    return result if result.format == FORMAT and result.name == name else None


def results_in(store: Path, names: Iterable[str]) -> Iterator[ModelResult]:
    """The results of those models, one at a time. Raises BadInput where one is missing."""
    for name in names:
        result = read_result(store, name)
        if result is None:
            changed = result_path(store, name).exists()
            message = _CHANGED if changed else "has no result here"
            hint = f"plan the catalogue {'again' if changed else 'first'}"
            raise BadInput(Complaint(str(store), 0, 0, f"model {name}", message, hint))
        yield result


def drop_strays(store: Path, names: Iterable[str]) -> None:
    """Take away results of models that are no longer in the catalogue.

    Only files that are results are touched, and what a killed run left half-written.
    """
    kept = {f"{name}{_ENDING}" for name in names}
    for path in (store / MODELS).glob(f"*{_ENDING}"):
        if path.name not in kept and read_result(store, path.name.removesuffix(_ENDING)):
            path.unlink(missing_ok=True)
    for path in (store / MODELS).glob(f".*{_ENDING}.*"):
        if path.suffix[1:].isdigit():
            path.unlink(missing_ok=True)
