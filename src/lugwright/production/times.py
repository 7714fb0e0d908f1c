"""The time table of a production run: minutes of setting up, stated in a file."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, fields
from difflib import get_close_matches
from importlib.resources import files
from pathlib import Path

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.files import read_file, refused
from lugwright.base.units import parse_minutes_cmin

MOST_BYTES = 100_000


@dataclass(frozen=True)
class TimeTable:
    """Setting up, in hundredths of a minute: per spool, per batch cut, per die, per boat."""

    set_up_spool_cmin: int
    set_up_length_cmin: int
    set_up_die_cmin: int
    kit_boat_cmin: int


def built_in_times() -> TimeTable:
    """The table that comes with the program: common practice, no source."""
    return _table(files(__package__).joinpath("times.toml").read_text("utf-8"), "times.toml")


def read_times(path: Path) -> TimeTable:
    """A shop's own table. Raises BadInput when it cannot be read or is not one."""
    try:
        text = read_file(path, MOST_BYTES).decode("utf-8")
    except UnicodeDecodeError as error:
        raise refused(path, "is not text in UTF-8") from error
    return _table(text, str(path))


def _table(text: str, file: str) -> TimeTable:
    names = [field.name.removesuffix("_cmin") for field in fields(TimeTable)]
    try:
        given = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise refused(file, f"is not TOML: {error}") from error
    faults = [_unknown(file, name, names) for name in given if name not in names]
    values = {}
    for name in names:
        try:
            values[f"{name}_cmin"] = parse_minutes_cmin(given[name])
        except KeyError:
            faults.append(Complaint(file, 0, 0, name, "is missing", 'write such as "2 min"'))
        except ValueError as error:
            faults.append(Complaint(file, 0, 0, name, str(error)))
    if faults:
        raise BadInput(*faults)
    return TimeTable(**values)


def _unknown(file: str, name: str, names: list[str]) -> Complaint:
    near = get_close_matches(name, names, n=1)
    hint = f"did you mean {near[0]}?" if near else f"there are: {', '.join(names)}"
    return Complaint(file, 0, 0, name, "is no time of this table", hint)
