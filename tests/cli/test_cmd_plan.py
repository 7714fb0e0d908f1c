"""``lugwright plan``: what is printed, written and ended with."""

import json
from pathlib import Path

import pytest
from support.fake_pipeline import REJECTED, FakePipeline, FakeRun, planned, put_in
from support.made_plan import small_plan

from lugwright.cli.main import run
from lugwright.outputs.folder import NAMES
from lugwright.outputs.kept import SUMS_FILE
from lugwright.outputs.plan_json import read_plan
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.outcome import Ending, Outcome, Reason

REASONS = (
    Reason(
        "lugs on a stud",
        "ground stud of depth",
        "more lugs are wanted than allowed; possible with 5 lugs, or with one splice",
        "5 lugs",
        "4 lugs",
        "limits file, shop.toml:4",
    ),
    Reason("reach", "pigtail ground", "does not reach fuel"),
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with an empty scenario, which is where the command runs."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "skiff.toml").write_text("", encoding="utf-8")
    return tmp_path


def test_a_planned_console_is_printed_and_written(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The build list on standard output, the folder under plans, talk on standard error."""
    put_in(monkeypatch, FakePipeline(planned()))
    assert run(["plan", "skiff.toml"]) == 0
    told = capsys.readouterr()
    assert told.out == ShownPlan(small_plan()).build_list
    there = {file.name for file in (folder / "plans" / "skiff").iterdir()}
    assert there == NAMES | {SUMS_FILE}
    assert read_plan(folder / "plans" / "skiff") == small_plan()
    assert told.err.splitlines() == [
        "weighing hubs; best so far: wire length 2100 mm; none can cost less than: "
        "wire length 2000 mm",
        f"proved best; passed 214 checks; {len(NAMES)} files in plans/skiff",
    ]


def test_quiet_says_nothing_on_standard_error(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """With --quiet only the result is left; --out names the folder."""
    put_in(monkeypatch, FakePipeline(planned()))
    assert run(["plan", "skiff.toml", "--quiet", "--out", "here"]) == 0
    told = capsys.readouterr()
    assert told.err == "" and told.out.startswith("Build list")
    assert (folder / "here" / "build-list.txt").read_text(encoding="utf-8") == told.out


@pytest.mark.parametrize(
    ("run_result", "code"),
    [
        (planned(), 0),
        (planned(Ending.WITHIN_BOUND), 4),
        (planned(Ending.WITHIN_BOUND, interrupted=True), 130),
        (planned(report=REJECTED), 6),
        (planned(report=REJECTED, interrupted=True), 6),
        (FakeRun(Outcome(Ending.IMPOSSIBLE, (), reasons=REASONS)), 3),
        (FakeRun(Outcome(Ending.NO_ANSWER, ())), 5),
        (FakeRun(Outcome(Ending.NO_ANSWER, (), interrupted=True)), 130),
    ],
)
@pytest.mark.usefixtures("folder")
def test_every_ending_has_its_exit_code(
    run_result: FakeRun, code: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One number for each way a run can end, with and without --json."""
    put_in(monkeypatch, FakePipeline(run_result))
    assert run(["plan", "skiff.toml"]) == code
    assert run(["plan", "skiff.toml", "--json", "--quiet"]) == code


def test_reasons_are_told_in_the_trades_words(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """No plan: every reason with its numbers and origin, nothing printed, nothing written."""
    put_in(monkeypatch, FakePipeline(FakeRun(Outcome(Ending.IMPOSSIBLE, (), reasons=REASONS))))
    assert run(["plan", "skiff.toml", "--quiet"]) == 3
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.splitlines() == [
        "No plan exists. Whatever is chosen, this stands in the way:",
        "  ground stud of depth: more lugs are wanted than allowed; possible with 5 lugs, or with "
        "one splice [limit from limits file, shop.toml:4] (wanted 5 lugs, allowed 4 lugs)",
        "  pigtail ground: does not reach fuel",
    ]
    assert not (folder / "plans").exists()


@pytest.mark.parametrize(
    ("holds", "tried"),
    [((), "every hub was tried"), (("--hold", "hub=depth"), "depth was tried as the hub")],
)
@pytest.mark.usefixtures("folder")
def test_no_plan_without_a_reason_says_what_was_tried(
    holds: tuple[str, ...],
    tried: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """No fault stands by itself: the search has found it, and no more than it tried is claimed."""
    put_in(monkeypatch, FakePipeline(FakeRun(Outcome(Ending.IMPOSSIBLE, ()))))
    assert run(["plan", "skiff.toml", "--quiet", *holds]) == 3
    said = f"No plan exists: {tried}, and a second, different solve agrees."
    assert capsys.readouterr().err.splitlines() == [said]


def test_a_rejected_plan_is_not_written(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """What the checker rejects is told, and never leaves the program."""
    put_in(monkeypatch, FakePipeline(planned(report=REJECTED)))
    assert run(["plan", "skiff.toml", "--quiet"]) == 6
    told = capsys.readouterr()
    assert told.out == "" and "ground 1: is too short" in told.err
    assert not (folder / "plans").exists()


def test_an_unchecked_plan_is_our_fault(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A plan without its check is neither printed nor written."""
    put_in(monkeypatch, FakePipeline(planned(report=None)))
    assert run(["plan", "skiff.toml"]) == 1
    assert capsys.readouterr().out == ""
    assert not (folder / "plans").exists()


@pytest.mark.usefixtures("folder")
def test_json_is_the_whole_answer(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Format, ending, exit code and plan; the plan reads back as the plan."""
    put_in(monkeypatch, FakePipeline(planned(Ending.WITHIN_BOUND)))
    assert run(["plan", "skiff.toml", "--json"]) == 4
    answer = json.loads(capsys.readouterr().out)
    assert (answer["format"], answer["exit"], answer["ending"]) == (
        1,
        4,
        "planned, not proved best in the time given",
    )
    assert answer["plan"] == small_plan().model_dump(mode="json")
    assert answer["folder"] == "plans/skiff" and set(answer["files"]) == NAMES


@pytest.mark.usefixtures("folder")
def test_json_without_a_plan_has_the_reasons(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """No plan is null, and the reasons are data."""
    put_in(monkeypatch, FakePipeline(FakeRun(Outcome(Ending.IMPOSSIBLE, (), reasons=REASONS))))
    assert run(["plan", "skiff.toml", "--json"]) == 3
    answer = json.loads(capsys.readouterr().out)
    assert answer["plan"] is None and answer["folder"] is None
    assert answer["reasons"][0]["measured"] == "5 lugs"


@pytest.mark.usefixtures("folder")
def test_options_reach_the_pipeline(monkeypatch: pytest.MonkeyPatch) -> None:
    """Settings, objective, time and what is held arrive as they were given."""
    fake = put_in(monkeypatch, FakePipeline(planned()))
    call = "plan skiff.toml --rule-set strict --set slack=3% --objective cheapest --time 2.5"
    assert run([*call.split(), "--hold", "hub=fuel"]) == 0
    assert fake.calls == [
        ("read_inputs", {"rule_set": "strict", "settings": ("slack=3%", "objective=cheapest")}),
        ("make_plan", {"time_limit_s": 2.5, "holds": ("hub fuel",)}),
    ]


@pytest.mark.parametrize(
    ("holds", "said"),
    [
        (["hub=bow"], "no instrument is named 'bow' (there are: depth, fuel)"),
        (["splice=one"], "'splice' cannot be held (did you mean \"no-splice\"? these can: hub, "),
        (["hub=depth", "hub=fuel"], "hub is held twice"),
    ],
)
@pytest.mark.usefixtures("folder")
def test_what_cannot_be_held_is_refused(
    holds: list[str],
    said: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A hold that means nothing stops the call before any search."""
    fake = put_in(monkeypatch, FakePipeline(planned()))
    assert run(["plan", "skiff.toml", *(x for one in holds for x in ("--hold", one))]) == 2
    assert said in capsys.readouterr().err
    assert [name for name, _ in fake.calls] == ["read_inputs"]


def test_a_strangers_folder_stops_the_call_before_the_search(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nobody waits for a plan that could not be written."""
    fake = put_in(monkeypatch, FakePipeline(planned()))
    (folder / "plans" / "skiff").mkdir(parents=True)
    (folder / "plans" / "skiff" / "photo.jpg").write_text("", encoding="utf-8")
    assert run(["plan", "skiff.toml"]) == 2
    assert "not a plan's" in capsys.readouterr().err
    assert fake.calls == []


@pytest.mark.usefixtures("folder")
def test_a_fault_with_json_is_json(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A program that asked for JSON gets its faults as JSON too."""
    put_in(monkeypatch, FakePipeline(planned()))
    assert run(["plan", "skiff.toml", "--json", "--hold", "hub=bow"]) == 2
    answer = json.loads(capsys.readouterr().out)
    assert answer["faults"][0]["field"] == "--hold"
