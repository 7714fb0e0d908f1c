"""Every command on every demo console: it ends as it should, and no check of ours rejects it.

Each demo is planned once, by the command itself, and its folder serves all other commands; every
demo with ``-m slow``, ten that differ most always. Of those that are long in planning one has the
plan that other tests share, and one is planned by eye; by the command they are planned with
``-m slow``.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from hand_plan import by_hand
from support.plans import SCENARIOS, plan_of
from support.readings import filled_in

from lugwright.cli.main import run
from lugwright.outputs.folder import write_folder
from lugwright.outputs.plan_json import read_plan
from lugwright.outputs.shown import ShownPlan
from lugwright.pipeline import read_inputs
from lugwright.readings.lines import sheet_of

NAMES = sorted(path.stem for path in SCENARIOS.glob("*.toml"))
FAULTY = sorted(path.stem for path in (SCENARIOS / "impossible").glob("*.toml"))
NO_PLAN = ("too-many-rings",)
THROUGH_THE_SHOP = (
    *("aboard-pigtails", "breaker-panel", "hub-per-circuit"),
    *("key-fuses-dimmer", "sandbar-skiff", "second-station", "six-dial-console", "thin-leads"),
)
"""Demos that between them have all that a sheet or command looks at."""
SHARED, BY_EYE = "six-dial-console", "bridge-24-instruments"
QUICK = ("aboard-pigtails", "reserved-lugs", "short-thread")
PLANNED = [
    name if name in THROUGH_THE_SHOP else pytest.param(name, marks=pytest.mark.slow)
    for name in NAMES
    if name not in NO_PLAN
]
Call = Callable[..., str]


@pytest.fixture
def call(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Call:
    """Run a call, hold its exit code, and return what it told on both streams.

    In a call ``OUT/`` stands for the test's folder and ``DEMO/`` for that of the demos.
    """

    def made(*line: str, code: int = 0) -> str:
        words = " ".join(line).replace("OUT/", f"{tmp_path}/").replace("DEMO/", f"{SCENARIOS}/")
        ended = run(words.split())
        told = "\n".join(capsys.readouterr())
        assert ended == code, (words, told)
        return told

    return made


def planned(name: str, place: Path, call: Call) -> None:
    """The plan folder of a demo."""
    if name == SHARED:
        write_folder(ShownPlan(plan_of(name)), place)
        return
    if name != BY_EYE:
        call(f"plan DEMO/{name}.toml --out OUT/plan --quiet")
        return
    plan, faults = by_hand(read_inputs(SCENARIOS / f"{name}.toml"))
    assert plan is not None
    assert faults == 0
    write_folder(ShownPlan(plan), place)


@pytest.mark.parametrize("name", PLANNED)
def test_a_demo_through_the_shop(name: str, tmp_path: Path, call: Call) -> None:
    """Planned, checked, printed, made in numbers, compared and measured: each call ends with 0."""
    planned(name, tmp_path / "plan", call)
    assert "passed" in call(f"check DEMO/{name}.toml OUT/plan")
    assert "test-readings.csv" in call("sheets OUT/plan")
    assert "rear-view.svg" in call(f"sheets DEMO/{name}.toml --out OUT/before")
    call("kits OUT/plan --boats 3 --out OUT/run")
    call("spools OUT/plan --boats 3 --rest OUT/rest.csv")
    call("kits OUT/plan OUT/plan --boats 2 --on-hand OUT/rest.csv")
    call("lengths OUT/plan --boats 3 --plot OUT/curve.svg")
    assert "Nothing has changed" in call("changes OUT/plan OUT/plan")
    call(f"limits DEMO/{name}.toml")
    _measured(tmp_path, call)


def _measured(place: Path, call: Call) -> None:
    """A form with nothing read is refused; one with a sound jumper read on it passes."""
    assert "holds no reading" in call("readings OUT/plan OUT/plan/test-readings.csv", code=2)
    plan = read_plan(place / "plan")
    first = next(line.id for line in sheet_of(plan).lines if line.unit == "ohm")
    (place / "read.csv").write_text(filled_in(plan, {first: "0.1"}), encoding="utf-8")
    call("readings OUT/plan OUT/read.csv")


@pytest.mark.parametrize(
    "name", [QUICK[0], *(pytest.param(name, marks=pytest.mark.slow) for name in QUICK[1:])]
)
def test_a_quick_demo_asked_for_more(name: str, call: Call) -> None:
    """Every hub, rework of what is built, and what it differs in from another plan."""
    call(f"plan DEMO/{name}.toml --out OUT/plan --quiet")
    call(f"hubs DEMO/{name}.toml --out OUT/plan --csv OUT/hubs.csv --quiet")
    call(f"rework DEMO/{name}.toml OUT/plan --sheet OUT/work.pdf --out OUT/again --quiet")
    call("plan DEMO/metric-studs.toml --hold hub=fuel --out OUT/other --quiet --no-why")
    call("changes OUT/other OUT/plan")


@pytest.mark.slow
@pytest.mark.parametrize("name", [SHARED, BY_EYE])
def test_the_demos_planned_otherwise_are_planned_and_made(name: str, call: Call) -> None:
    """Planned by the command, checked and made in numbers."""
    call(f"plan DEMO/{name}.toml --out OUT/plan --quiet")
    call(f"check DEMO/{name}.toml OUT/plan")
    call("kits OUT/plan --boats 3")


@pytest.mark.parametrize("name", [*NO_PLAN, *(f"impossible/{name}" for name in FAULTY)])
def test_a_demo_without_a_plan(name: str, call: Call) -> None:
    """It is told so; what needs no plan is made all the same."""
    call(f"plan DEMO/{name}.toml --out OUT/plan --quiet --no-why", code=3)
    call(f"limits DEMO/{name}.toml")
    call(f"sheets DEMO/{name}.toml --out OUT/before")


def test_a_folder_of_demos(tmp_path: Path, call: Call) -> None:
    """Planned as a catalogue, asked what a change does, and what to keep in stock."""
    (tmp_path / "demos").mkdir()
    for name in QUICK:
        shutil.copy(SCENARIOS / f"{name}.toml", tmp_path / "demos")
    call("catalogue plan OUT/demos --store OUT/store --quiet")
    call("catalogue impact OUT/demos --store OUT/store --set clearance=4mm --quiet")
    call("catalogue stock OUT/demos --store OUT/store")
    call("lengths OUT/store")


def test_calls_that_need_no_demo(call: Call) -> None:
    """A starter is written and its panel drawn; the stock is shown and copied."""
    call("new OUT/mine.toml --yes")
    call("limits OUT/mine.toml")
    call("stock")
    call("stock --copy-to OUT/stock")
    call("stock --stock OUT/stock")
