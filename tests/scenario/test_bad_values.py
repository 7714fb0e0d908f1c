"""Every key of real consoles with values that cannot be: refused, at their place, in one message.

Whatever a person types in place of a value, the answer is exit code 2 with file, line, column and
field. Nothing that cannot be true is planned, and nothing of it is called the program's fault.
"""

from __future__ import annotations

import copy
import datetime
import re
import tomllib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.scenario_text_made import Path as Way
from support.scenario_text_made import at, places, put, toml_of

from lugwright.cli.main import run

FOLDER = Path(__file__).parents[2] / "scenarios"
DEMOS = ("sandbar-skiff", "six-dial-console", "ring-or-spade", "aboard-pigtails")
IN_THE_DEFAULT_RUN = 23  # every so-manieth case
FREE_TEXT = ("title", "name", "label", "reason", "fuse_reason", "initials", "source")
COORDINATES = ("centre", "entry", "at", "corner", "from", "to", "corners")

# Of another kind than any scenario's value; a text in place of a table too.
OTHER_KINDS: dict[str, Any] = {
    "a date": datetime.date(2026, 11, 25),
    "a time": datetime.time(7, 30),
    "not a number": float("nan"),
    "infinity": float("inf"),
    "a huge number": 10**18,
    "a table in an array": [[{"x": 1}]],
    "an unknown table": {"zzz": 1},
}
# Of no length, current, size, colour, name of a post or word that a key may have.
NO_TEXTS: dict[str, str] = {
    "empty": "",
    "blank": "   ",
    "no number": "nan mm",
    "without end": "inf mm",
    "no unit known": "5 parsecs",
    "a post of nothing": "nowhere.nothing",
    "letters from right to left": "\u202e5 mm",
    "other digits": "５２ ㎜",
    "a power": "9**9 mm",
    "an exponent": "1e400 mm",
    "many digits": "9" * 5000 + " mm",
    "zero divided": "1/0 in",
    "two minus signs": "--5 mm",
}
NEGATIVE = "-5 mm"
PLACE = re.compile(r"^(?P<file>.*\.toml):(?P<line>\d+):(?P<column>\d+): (?P<field>[^:]+): .+")


def cases() -> Iterator[tuple[str, str]]:
    """Name of each case, and the text of its file."""
    for demo in DEMOS:
        values = tomllib.loads((FOLDER / f"{demo}.toml").read_text(encoding="utf-8"))
        for way in places(values):
            was = at(values, way)
            for what, value in {**OTHER_KINDS, **_texts(way, was)}.items():
                if isinstance(was, dict) and isinstance(value, dict):
                    continue  # an unknown key is a case of its own
                changed = copy.deepcopy(values)
                put(changed, way, value)
                yield f"{demo} {'.'.join(map(str, way))}: {what}", toml_of(changed)
            if isinstance(was, dict):
                changed = copy.deepcopy(values)
                put(changed, (*way, "zzz"), 1)
                yield f"{demo} {'.'.join(map(str, way))}: an unknown key", toml_of(changed)
        yield from _twice(demo, values)


def _texts(way: Way, was: object) -> dict[str, str]:
    """The texts that cannot stand at a place."""
    key = next(part for part in reversed(way) if isinstance(part, str))
    if isinstance(was, bool | int | float | dict | list):
        return {"a text": "x"}
    if key == "key_on":  # nothing to say at key-on is said by an empty text
        return {"letters from right to left": "\u202ex"}
    if key in FREE_TEXT:
        return {"empty": "", "blank": "   ", "letters from right to left": "\u202ex"}
    lengths = {"negative": NEGATIVE} if key not in COORDINATES else {}
    return {**NO_TEXTS, **lengths}


def _twice(demo: str, values: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Each key of the file stated twice, and each entry of an array of tables."""
    for key, value in values.items():
        again = toml_of({key: value})
        yield f"{demo} {key}: stated twice", toml_of(values) + again
        if isinstance(value, list) and value and isinstance(value[0], dict) and "name" in value[0]:
            changed = copy.deepcopy(values)
            changed[key].append(copy.deepcopy(value[0]))
            yield f"{demo} {key}: the first entry twice", toml_of(changed)


def faults_of(file: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    """Exit code and what was said."""
    code = run(["plan", str(file), "-q", "--no-why", "--time", "2", "--out", f"{file}.plan"])
    return code, capsys.readouterr().err


def _judge(folder: Path, every: int, capsys: pytest.CaptureFixture[str]) -> Counter[str]:
    """What was wrong with an answer, counted by kind; with examples as keys."""
    wrong: Counter[str] = Counter()
    asked = 0
    for number, (name, text) in enumerate(cases()):
        if number % every:
            continue
        asked += 1
        file = folder / "console.toml"
        file.write_text(text, encoding="utf-8")
        code, told = faults_of(file, capsys)
        first = told.splitlines()[0] if told else ""
        if code != 2 or "Traceback" in told or not PLACE.match(first):
            wrong[f"{name}: exit {code}: {first[-200:]}"] += 1
    wrong["asked"] = asked
    return wrong


def test_some_values_that_cannot_be(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A sample of all cases, the same on every run."""
    found = _judge(tmp_path, IN_THE_DEFAULT_RUN, capsys)
    assert found.pop("asked") > 100
    assert not found


@pytest.mark.slow
def test_every_value_that_cannot_be(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each key of four consoles with each value it cannot have."""
    found = _judge(tmp_path, 1, capsys)
    assert found.pop("asked") > 2_000
    assert not found
