"""The time table of a production run: minutes of setting up, stated in a file."""

from __future__ import annotations

from dataclasses import dataclass, fields
from importlib.resources import files
from pathlib import Path

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.spelling import near_or_all
from lugwright.base.toml import TomlFile, parse_toml, read_toml
from lugwright.base.units import parse_minutes_cmin


@dataclass(frozen=True)
class TimeTable:
    """Setting up, in hundredths of a minute: per spool, per batch cut, per die, per boat."""

    set_up_spool_cmin: int
    set_up_length_cmin: int
    set_up_die_cmin: int
    kit_boat_cmin: int


def built_in_times() -> TimeTable:
    """The table that comes with the program: common practice, no source."""
    return _table(parse_toml(files(__package__).joinpath("times.toml").read_bytes(), "times.toml"))


def read_times(path: Path) -> TimeTable:
    """A shop's own table. Raises BadInput when it cannot be read or is not one."""
    return _table(read_toml(path))


def _table(toml: TomlFile) -> TimeTable:
    names = [field.name.removesuffix("_cmin") for field in fields(TimeTable)]
    given = toml.values
    faults = [_unknown(toml, name, names) for name in given if name not in names]
    values = {}
    for name in names:
        try:
            values[f"{name}_cmin"] = parse_minutes_cmin(given[name])
        except KeyError:
            missing = Complaint(toml.file, 0, 0, name, "is missing", 'write such as "2 min"')
            faults.append(missing)
        except ValueError as error:
            faults.append(toml.complaint((name,), name, str(error)))
    if faults:
        raise BadInput(*faults)
    return TimeTable(**values)


def _unknown(toml: TomlFile, name: str, names: list[str]) -> Complaint:
    hint = near_or_all(name, names)
    return toml.complaint((name,), name, "is not a time of this table", hint, at_key=True)
