"""``plan.json``: the whole answer in one file that people can compare, copy and mail.

The file carries a **seal**, the digest of all else in it. A file whose seal does not fit was
changed by hand since this program wrote it. The seal is no lock: it tells a slip, not a forgery.
"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from lugwright.base.canonical import digest_of
from lugwright.base.errors import BadInput, Complaint
from lugwright.base.files import read_text
from lugwright.plans.schema import FORMAT, Plan
from lugwright.plans.whole import loose_ends

PLAN_FILE = "plan.json"
SEAL = "seal"
EDITED_HINT = "check it with `lugwright check SCENARIO PLAN --accept`, or plan the console again"
LOOSE_HINT = "it was edited; take the plan as it was, or plan the console again"
MOST_BYTES = 50_000_000  # far above any plan; keeps a wrong file from filling the memory
MOST_KEYS, MOST_ENTRIES = 1_000, 50_000  # of one object, of one list: far above any plan's
_MOST_DIGITS = 20
MOST_COMPLAINTS = 2_000  # with more than that wrong, no single one of them helps


def plan_text(plan: Plan) -> str:
    """A plan as JSON: keys sorted, one fact a line, LF, a newline at the end.

    It is sealed, but for a plan that was read from an edited file.
    """
    return _written(plan.model_dump(mode="json"), sealed=not plan.edited)


def _written(data: dict[str, Any], *, sealed: bool) -> str:
    if sealed:
        data = {**data, SEAL: digest_of(data)}
    return json.dumps(data, sort_keys=True, indent=1, ensure_ascii=False) + "\n"


def write_plan(plan: Plan, path: Path) -> None:
    """Write ``plan.json``, whole or not at all. Raises OSError when it cannot be written."""
    new = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        new.write_text(plan_text(plan), encoding="utf-8", newline="\n")
        new.replace(path)
    finally:
        new.unlink(missing_ok=True)


def read_unedited(path: Path) -> Plan:
    """As ``read_plan``, for paper and work: a file changed by hand is refused with what to do.

    So is one that does not hang together, whoever sealed it.
    """
    plan, file = read_plan(path), path / PLAN_FILE if path.is_dir() else path
    if plan.edited:
        message = "was changed by hand since it was written, and nothing has checked it since"
        raise BadInput(Complaint(str(file), 0, 0, "", message, EDITED_HINT))
    if faults := loose_ends(plan):
        raise BadInput(*(Complaint(str(file), 0, 0, "", text, LOOSE_HINT) for text in faults))
    return plan


def read_plan(path: Path) -> Plan:
    """Read a plan from its file, or from the plan folder that holds it.

    Its ``edited`` says whether the seal is broken or missing. Raises BadInput, with every
    complaint, when the file cannot be read, is far too large, is not JSON, states a fact twice, or
    is not a plan of a format this program knows.
    """
    file = path / PLAN_FILE if path.is_dir() else path
    text = read_text(file, MOST_BYTES)
    data = _check_json(text, file)
    seal = data.pop(SEAL, "")
    if "edited" in data:
        raise BadInput(Complaint(str(file), 0, 0, "edited", "is not a part of a plan"))
    data["edited"] = not _is_sealed(data, seal)
    try:
        return Plan.model_validate_json(json.dumps(data), strict=True)
    except RecursionError:
        raise BadInput(Complaint(str(file), 0, 0, "", "is not a plan: nested too deep")) from None
    except ValidationError as error:
        if error.error_count() > MOST_COMPLAINTS:
            message = f"is not a plan: {error.error_count()} facts in it are wrong or missing"
            raise BadInput(Complaint(str(file), 0, 0, "", message)) from None
        complaints = (_complaint(detail, file) for detail in error.errors())
        raise BadInput(*complaints) from error


def _whole_number(written: str) -> int:
    """A whole number of at most 64 bits. Raises ValueError for one that measures nothing."""
    if len(written) > _MOST_DIGITS or abs(int(written)) >= 2**63:
        raise ValueError(f"the number {written[:_MOST_DIGITS]} has too many digits")
    return int(written)


def _is_sealed(data: dict[str, Any], seal: object) -> bool:
    """Whether the seal is that of the data; what no plan could hold has none."""
    try:
        return seal == digest_of(data)
    except (TypeError, RecursionError):
        return False


def _no_fact_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object whose keys differ. Raises ValueError when one is stated twice."""
    found: dict[str, Any] = {}
    if len(pairs) > MOST_KEYS:
        raise ValueError(f"it has {len(pairs)} facts in one place")
    for key, value in pairs:
        if isinstance(value, list) and len(value) > MOST_ENTRIES:
            raise ValueError(f'"{key[:40]}" has {len(value)} entries')
        if key in found:
            raise ValueError(f'"{key}" is stated twice')
        found[key] = value
    return found


def _check_json(text: str, file: Path) -> dict[str, Any]:
    """The file's data. Complain about broken JSON and about another format, before the details."""
    try:
        data = json.loads(text, object_pairs_hook=_no_fact_twice, parse_int=_whole_number)
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
    return data


def _complaint(detail: ErrorDetails, file: Path) -> Complaint:
    """A fault of the data in the reader's words: where in the plan, and what."""
    place = ", ".join(
        f"entry {part + 1}" if isinstance(part, int) else part for part in detail["loc"]
    )
    return Complaint(str(file), 0, 0, place, detail["msg"])
