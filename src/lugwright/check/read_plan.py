"""Reading ``plan.json``: a plan, or complaints that name the file and the field."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from lugwright.base.errors import BadInput, Complaint
from lugwright.plan.schema import FORMAT, Plan

MOST_BYTES = 50_000_000  # far above any plan; keeps a wrong file from filling the memory


def read_plan(path: Path | str) -> Plan:
    """Read a plan. Raises BadInput for a file that is none: missing, binary, not JSON, of an
    unknown format number, or with fields that are missing, unknown or of the wrong type.
    """
    file = Path(path)
    text = _text(file)
    data = _json(file, text)
    if not isinstance(data, dict) or "format" not in data:
        raise _bad(file, "", "this is not a plan: it has no format number", "give a plan.json")
    number = data["format"]
    if type(number) is not int or number != FORMAT:
        hint = "plan the console again with this version"
        message = f"plan format {number!r} is not known here (known: {FORMAT})"
        raise _bad(file, "format", message, hint)
    try:
        return Plan.model_validate_json(text, strict=True)
    except ValidationError as error:
        faults = [
            Complaint(str(file), 0, 0, _field(fault["loc"]), fault["msg"])
            for fault in error.errors(include_url=False, include_input=False)
        ]
        raise BadInput(*faults) from error


def _bad(
    file: Path, field: str, message: str, hint: str = "", line: int = 0, column: int = 0
) -> BadInput:
    return BadInput(Complaint(str(file), line, column, field, message, hint))


def _text(file: Path) -> str:
    try:
        if file.stat().st_size > MOST_BYTES:
            raise _bad(file, "", f"the file is too large for a plan (over {MOST_BYTES} bytes)")
        return file.read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        raise _bad(file, "", "this is not a text file, so it is no plan") from error
    except FileNotFoundError as error:
        raise _bad(file, "", "there is no such file", "give the plan.json to check") from error
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise _bad(file, "", f"the file cannot be read: {reason}") from error


def _json(file: Path, text: str) -> Any:
    try:
        return json.loads(text)
    except json.JSONDecodeError as error:
        message = f"this is not JSON, so it is no plan: {error.msg}"
        raise _bad(file, "", message, "", error.lineno, error.colno) from error
    except (RecursionError, ValueError) as error:
        raise _bad(file, "", "this JSON cannot be read as a plan") from error


def _field(loc: tuple[int | str, ...]) -> str:
    """``jumpers 3, length_dmm``: list places count from 1, as a person counts."""
    words: list[str] = []
    for part in loc:
        if isinstance(part, int) and words:
            words[-1] += f" {part + 1}"
        else:
            words.append(str(part))
    return ", ".join(words)
