"""``plan.json``: the whole answer in one file that people can compare, copy and mail."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from lugwright.base.errors import BadInput, Complaint
from lugwright.outputs.once import once_a_plan
from lugwright.plan.schema import FORMAT, Plan

PLAN_FILE = "plan.json"
MOST_BYTES = 50_000_000  # far above any plan; keeps a wrong file from filling the memory


@once_a_plan
def plan_text(plan: Plan) -> str:
    """A plan as JSON: keys sorted, one fact a line, LF, a newline at the end."""
    data = plan.model_dump(mode="json")
    return json.dumps(data, sort_keys=True, indent=1, ensure_ascii=False) + "\n"


def write_plan(plan: Plan, path: Path) -> None:
    """Write ``plan.json``. Raises OSError when the file cannot be written."""
    path.write_text(plan_text(plan), encoding="utf-8", newline="\n")


def read_plan(path: Path) -> Plan:
    """Read a plan from its file, or from the plan folder that holds it.

    Raises BadInput, with every complaint, when the file cannot be read, is far too large, is not
    JSON, states a fact twice, or is not a plan of a format this program knows.
    """
    file = path / PLAN_FILE if path.is_dir() else path
    text = _read_text(file)
    _check_json(text, file)
    try:
        return Plan.model_validate_json(text, strict=True)
    except ValidationError as error:
        complaints = (_complaint(detail, file) for detail in error.errors())
        raise BadInput(*complaints) from error


def _read_text(file: Path) -> str:
    """The file's text. Raises BadInput when there is none."""
    try:
        if file.stat().st_size > MOST_BYTES:
            message = f"is too large for a plan (over {MOST_BYTES} bytes)"
            raise BadInput(Complaint(str(file), 0, 0, "", message))
        return file.read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        raise BadInput(Complaint(str(file), 0, 0, "", "is not text in UTF-8")) from error
    except OSError as error:
        reason = error.strerror or str(error)
        raise BadInput(Complaint(str(file), 0, 0, "", f"cannot be read: {reason}")) from error


def _no_fact_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object whose keys differ. Raises ValueError when one is stated twice."""
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise ValueError(f'"{key}" is stated twice')
        found[key] = value
    return found


def _check_json(text: str, file: Path) -> None:
    """Complain about broken JSON and about another format, before the details."""
    try:
        data = json.loads(text, object_pairs_hook=_no_fact_twice)
    except json.JSONDecodeError as error:
        fault = Complaint(str(file), error.lineno, error.colno, "", f"is not JSON: {error.msg}")
        raise BadInput(fault) from error
    except (ValueError, RecursionError) as error:
        raise BadInput(Complaint(str(file), 0, 0, "", f"is not a plan: {error}")) from error
    if not isinstance(data, dict) or "format" not in data:
        raise BadInput(Complaint(str(file), 0, 0, "", "is not a plan: it states no format"))
    found = data["format"]
    if type(found) is not int or found != FORMAT:
        message = f"is {found!r}, this program reads format {FORMAT}"
        hint = "plan the console again with this version of lugwright"
        raise BadInput(Complaint(str(file), 0, 0, "format", message, hint))


def _complaint(detail: ErrorDetails, file: Path) -> Complaint:
    """A fault of the data in the reader's words: where in the plan, and what."""
    place = ", ".join(
        f"entry {part + 1}" if isinstance(part, int) else part for part in detail["loc"]
    )
    return Complaint(str(file), 0, 0, place, detail["msg"])
