"""A catalogue planned: a file for each model, and the same bytes whatever happens on the way."""

import json
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from support.catalogue import contents, write_some

from lugwright import pipeline
from lugwright.base.errors import BadInput
from lugwright.catalogue import job as jobs
from lugwright.catalogue.engine import Engine
from lugwright.catalogue.job import KEPT, PLANNED
from lugwright.catalogue.run import Power, plan_catalogue
from lugwright.catalogue.schema import End, Settings
from lugwright.catalogue.store import read_result, results_in
from lugwright.cli.main import run
from lugwright.outputs.plan_json import plan_text
from lugwright.scenario.brief import Brief

SERIAL = Power("serial")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Four small models, one file that is no scenario, one with a fault."""
    made = write_some(tmp_path_factory.mktemp("catalogue") / "boats")
    (made / "a-note.toml").write_text('title = "only a note"\n', encoding="utf-8")
    (made / "torn.toml").write_text("title = [", encoding="utf-8")
    return made


@pytest.fixture(scope="module")
def store(folder: Path) -> Path:
    """The catalogue planned, one model after the other."""
    plan_catalogue(folder, folder.parent / "store", Settings(), SERIAL)
    return folder.parent / "store"


def test_bad_files_never_stop_the_rest(folder: Path, store: Path) -> None:
    """Every model has its result; a faulty file is told with its place."""
    ends = {path.stem: read_result(store, path.stem) for path in folder.glob("*.toml")}
    assert {name: result.end for name, result in ends.items() if result} == {
        "a-note": End.FAULTY,
        "torn": End.FAULTY,
        **{f"model-{number:03}": End.PROVED for number in (2, 14, 19, 121)},
    }
    torn = ends["torn"]
    assert torn is not None
    assert "torn.toml:1:" in torn.faults[0]


def test_a_result_holds_the_plan_that_plan_makes(folder: Path, store: Path) -> None:
    """The catalogue's plan is that of the plan command, to the byte."""
    result = read_result(store, "model-014")
    alone = pipeline.make_plan(pipeline.read_inputs(folder / "model-014.toml")).plan
    assert result is not None and result.plan is not None and alone is not None
    assert plan_text(result.plan) == plan_text(alone)


def test_what_stands_is_kept(folder: Path, store: Path) -> None:
    """A second run plans nothing again and changes no byte; faulty files are read again."""
    before = contents(store)
    done = plan_catalogue(folder, store, Settings(), SERIAL)
    assert {one.how for one in done if one.end is End.PROVED} == {KEPT}
    assert {one.how for one in done if one.end is End.FAULTY} == {PLANNED}
    assert contents(store) == before


@pytest.mark.parametrize("engine", ["local", pytest.param("dask", marks=pytest.mark.slow)])
def test_every_engine_gives_the_same_bytes(
    folder: Path, store: Path, tmp_path: Path, engine: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One after the other, in processes, and on a cluster."""
    if engine == "dask":
        pytest.importorskip("distributed", reason="the cluster's library is an extra")
    monkeypatch.setattr("lugwright.catalogue.engine.FEWEST_FOR_PROCESSES", 1)
    plan_catalogue(folder, tmp_path / "store", Settings(), Power(engine, 2))
    assert contents(tmp_path / "store") == contents(store)


def test_other_limits_plan_again_and_a_lost_model_goes(folder: Path, tmp_path: Path) -> None:
    """A result is kept only for the very same inputs; what has left the folder leaves the store."""
    boats, store = tmp_path / "boats", tmp_path / "store"
    write_some(boats, (2, 14))
    plan_catalogue(boats, store, Settings(), SERIAL)
    (boats / "model-014.toml").unlink()
    changed = plan_catalogue(boats, store, Settings(settings=("cut_step=1 mm",)), SERIAL)
    assert [(one.name, one.how) for one in changed] == [("model-002", PLANNED)]
    assert set(contents(store)) == {"models/model-002.json", "stock.json"}


def test_a_fault_of_ours_is_the_models_result_and_tried_again(
    folder: Path, store: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A crash inside one model stays inside it; the next run gives it another chance."""
    make_plan = pipeline.make_plan

    def crash(inputs: Brief, **asked: object) -> pipeline.Run:
        if inputs.console.title.startswith("Model 014"):
            raise ZeroDivisionError("division by zero")
        return make_plan(inputs, **asked)  # type: ignore[arg-type]

    monkeypatch.setattr(jobs.pipeline, "make_plan", crash)
    done = plan_catalogue(folder, tmp_path / "store", Settings(), SERIAL)
    assert [one.name for one in done if one.end is End.FAILED] == ["model-014"]
    failed = read_result(tmp_path / "store", "model-014")
    assert failed is not None
    (fault,) = failed.faults
    assert "`lugwright --traceback plan FILE` shows where" in fault and "Zero" not in fault
    monkeypatch.undo()
    plan_catalogue(folder, tmp_path / "store", Settings(), SERIAL)
    assert contents(tmp_path / "store") == contents(store)


def test_a_killed_run_goes_on_to_the_same_bytes(folder: Path, store: Path, tmp_path: Path) -> None:
    """Killed at some moment, with no chance to tidy up; then started again."""
    program = (
        "import sys\n"
        "from pathlib import Path\n"
        "from lugwright.catalogue.run import Power, plan_catalogue\n"
        "from lugwright.catalogue.schema import Settings\n"
        "plan_catalogue(Path(sys.argv[1]), Path(sys.argv[2]), Settings(), Power('serial'))\n"
    )
    place = tmp_path / "store"
    call = [sys.executable, "-c", program, str(folder), str(place)]
    with subprocess.Popen(call) as running:
        while running.poll() is None and not list(place.glob("models/model-*.json")):
            time.sleep(0.01)
        time.sleep(random.uniform(0, 0.5))
        os.kill(running.pid, signal.SIGKILL)
    (place / "models" / ".model-002.json.1").write_text("half", encoding="utf-8")
    plan_catalogue(folder, place, Settings(), SERIAL)
    assert contents(place) == contents(store)


def test_a_result_changed_by_hand_is_none(folder: Path, store: Path, tmp_path: Path) -> None:
    """A shorter jumper, or no seal: told where plans are taken from it, and planned again."""
    place = tmp_path / "store"
    shutil.copytree(store, place)
    file = place / "models" / "model-014.json"
    data = json.loads(file.read_text(encoding="utf-8"))
    seal = data.pop("seal", None)
    bare = json.dumps(data)
    data["plan"]["jumpers"][0]["length_dmm"] -= 100
    for text in (bare, json.dumps({**data, "seal": seal}), json.dumps({"seal": [[]]}), "[" * 9**5):
        file.write_text(text, encoding="utf-8")
        assert read_result(place, "model-014") is None
        with pytest.raises(BadInput, match="model model-014: its result was changed"):
            list(results_in(place, ["model-002", "model-014"]))
        assert run(["lengths", str(place)]) == 2
    plan_catalogue(folder, place, Settings(), SERIAL)
    assert contents(place) == contents(store)


def test_an_empty_folder_is_told(tmp_path: Path) -> None:
    """A catalogue is a folder of scenarios; a lone limits file is none."""
    (tmp_path / "shop.toml").write_text("", encoding="utf-8")
    with pytest.raises(BadInput, match="holds no scenario"):
        plan_catalogue(tmp_path, tmp_path / "s", Settings(limits_file=tmp_path / "shop.toml"))
