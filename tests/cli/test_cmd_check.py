"""``lugwright check``: verdicts and exit codes."""

import json
from pathlib import Path

import pytest
from support.fake_pipeline import PASSED, REJECTED, FakePipeline, planned, put_in

from lugwright.checker.finding import Report
from lugwright.cli.main import run


@pytest.fixture
def _files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A scenario and three things to judge, in the folder where the command runs."""
    monkeypatch.chdir(tmp_path)
    for name in ("skiff.toml", "good.json", "bad.csv", "one.json"):
        (tmp_path / name).write_text("", encoding="utf-8")
    verdicts = {
        "good.json": (PASSED, ()),
        "bad.csv": (REJECTED, ("stacks were put in order",)),
        "one.json": (Report((), 1), ()),
    }
    put_in(monkeypatch, FakePipeline(planned(), verdicts=verdicts))


@pytest.mark.usefixtures("_files")
@pytest.mark.parametrize(
    ("files", "code", "said"),
    [
        (["good.json"], 0, ["good.json: passed, 214 checks"]),
        (["one.json"], 0, ["one.json: passed, 1 check"]),
        (
            ["good.json", "bad.csv"],
            6,
            [
                "good.json: passed, 214 checks",
                "bad.csv: rejected, 1 finding in 214 checks",
                "  note: stacks were put in order",
                "  length: ground 1: is too short (measured 200 mm, limit 205 mm, "
                "from built-in rule set)",
            ],
        ),
    ],
)
def test_verdicts(
    files: list[str], code: int, said: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    """Every file gets its verdict; one that is rejected makes the exit code."""
    assert run(["check", "skiff.toml", *files]) == code
    assert capsys.readouterr().out.splitlines() == said


@pytest.mark.usefixtures("_files")
def test_verdicts_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    """The same as data: rule, place, measured, limit and origin apart."""
    assert run(["check", "skiff.toml", "bad.csv", "--json"]) == 6
    answer = json.loads(capsys.readouterr().out)
    assert (answer["format"], answer["exit"]) == (1, 6)
    assert answer["files"] == [
        {
            "file": "bad.csv",
            "passed": False,
            "checks": 214,
            "findings": [
                {
                    "rule": "length",
                    "place": "ground 1",
                    "message": "is too short",
                    "measured": "200 mm",
                    "limit": "205 mm",
                    "origin": "built-in rule set",
                }
            ],
            "notes": ["stacks were put in order"],
        }
    ]
