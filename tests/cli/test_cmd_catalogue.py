"""``lugwright catalogue``: planned, weighed and stocked from the command line."""

import json
from pathlib import Path

import openpyxl
import pytest
from support.catalogue import contents, write_some

from lugwright.cli.main import run

SERIAL = ["--engine", "serial", "--quiet"]


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two models in a folder called boats, planned from the folder above it."""
    made = tmp_path_factory.mktemp("shop")
    write_some(made / "boats", (2, 14))
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(made)
        assert run(["catalogue", "plan", "boats", *SERIAL]) == 0
    return made


@pytest.fixture(autouse=True)
def stand_there(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Commands run in the shop's folder."""
    monkeypatch.chdir(place)


def test_the_store_has_a_file_a_model_and_an_overview(place: Path) -> None:
    """Results, the stock they were planned from, workbook and page."""
    assert set(contents(place / "catalogues" / "boats")) == {
        *("models/model-002.json", "models/model-014.json", "stock.json"),
        *("catalogue.html", "catalogue.xlsx"),
    }


def test_a_second_run_tells_what_it_kept(capsys: pytest.CaptureFixture[str]) -> None:
    """Word of each model on standard error, the overview on standard output."""
    assert run(["catalogue", "plan", "boats", "--engine", "serial"]) == 0
    told = capsys.readouterr()
    assert "1 of 2: model-002: proved best (kept from an earlier run)" in told.err
    assert "models: 2 proved best" in told.out


def test_impact_answers_as_data_and_as_files(capsys: pytest.CaptureFixture[str]) -> None:
    """Verdicts, what was not searched again, and the workbook beside them."""
    call = ["catalogue", "impact", "boats", "--set", "lugs_per_stud=3", *SERIAL, "--json"]
    assert run(call) == 0
    answer = json.loads(capsys.readouterr().out)
    assert (answer["answer"], answer["store"]) == ("impact", "catalogues/boats-impact")
    assert answer["facts"]["change"] == "lugs_per_stud=3"
    assert answer["facts"]["not searched again"].startswith("2 of 2")
    assert [row["verdict"] for row in answer["tables"]["models"]] == ["as before"] * 2
    book = openpyxl.load_workbook("catalogues/boats-impact/impact.xlsx")
    assert {"front", "touched", "why", "waivers", "jumpers", "models"} == set(book.sheetnames)


def test_stock_follows_the_mix(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Twice as many panels take twice the wire."""

    def need(*more: str) -> dict[str, int]:
        assert run(["catalogue", "stock", "boats", *more, "--json"]) == 0
        rows = json.loads(capsys.readouterr().out)["tables"]["keep"]
        return {row["item"]: row["need"] for row in rows}

    (place / "mix.csv").write_text("model,a_month\nmodel-002,2\nmodel-014,2\n", encoding="utf-8")
    assert need("--mix", "mix.csv") == {item: 2 * count for item, count in need().items()}


def test_the_worst_end_is_the_exit_code(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file at fault beside a model without a plan: 2 outweighs 3."""
    folder = write_some(place / "mixed", (14,))
    tight = ["catalogue", "plan", "mixed", "--set", "lugs_per_stud=1", *SERIAL]
    assert run(tight) == 3
    (folder / "torn.toml").write_text("title = [", encoding="utf-8")
    assert run(tight) == 2
    assert "torn.toml:1:" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (["impact", "empty"], "holds no scenario"),
        (["impact", "unplanned"], "lugwright catalogue plan unplanned"),
        (["stock", "unplanned"], "nothing is planned here"),
        (["plan", "boats", "--cluster", "tcp://x:1"], "--cluster goes with --engine dask"),
        (["plan", "boats", "--stock", "boats"], "boats"),
        (["plan", "nowhere"], "nowhere"),
    ],
)
def test_what_cannot_be_meant_is_told(
    place: Path, capsys: pytest.CaptureFixture[str], call: list[str], said: str
) -> None:
    """One clear message each, and exit code 2."""
    (place / "empty").mkdir(exist_ok=True)
    if not (place / "unplanned").exists():
        write_some(place / "unplanned", (2,))
    assert run(["catalogue", *call]) == 2
    assert said in " ".join(capsys.readouterr().err.split())
