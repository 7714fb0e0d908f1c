"""The folder of a run: tables, a sheet for every boat, written whole or not at all."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pdfplumber
import pytest
from support.plans import plan_of

from lugwright.base.errors import BadInput
from lugwright.outputs.paper_size import Paper
from lugwright.plans.schema import Plan
from lugwright.production.run import Model
from lugwright.production.run_folder import run_files, write_run
from lugwright.production.times import built_in_times
from lugwright.production.whole_run import WholeRun, gather


@pytest.fixture(scope="module")
def skiff() -> Plan:
    """The skiff's plan."""
    return plan_of("sandbar-skiff")


def run_of(plan: Plan, boats: int, serial: str = "SK-098") -> WholeRun:
    """A run of one model."""
    models = (Model(plan, boats, serial),)
    return gather(models, times=built_in_times(), on_hand={}, keep_dmm=10_000)


def texts(pdf: bytes) -> list[str]:
    """The text of every page."""
    with pdfplumber.open(io.BytesIO(pdf)) as file:
        return [page.extract_text() for page in file.pages]


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_every_boat_has_its_sheet(skiff: Plan, page: str) -> None:
    """Serial number, every piece with its length, every fitting, the cautions."""
    pages = texts(run_files(run_of(skiff, 3), Paper(page))["boat-sheets.pdf"])
    assert len(pages) == 3
    for text, serial in zip(pages, ("SK-098", "SK-099", "SK-100"), strict=True):
        assert f"Boat {serial}" in text
        for piece in skiff.jumpers:
            assert f"{piece.label} {piece.length_dmm // 10} mm" in text
        for item in {crimp.item for crimp in skiff.crimps}:
            assert item in text
        words = "".join(text.split())  # paper breaks lines where it likes
        assert all("".join(caution.split()) in words for caution in skiff.cautions)


def test_tables_add_up_to_the_run(skiff: Plan) -> None:
    """Pieces of the kits, of the batches and of the spools are the same pieces."""
    files = run_files(run_of(skiff, 20), Paper())

    def rows(name: str) -> list[dict[str, str]]:
        return list(csv.DictReader(io.StringIO(files[name].decode())))

    kits = sum(int(row["boats"]) for row in rows("kits.csv") if row["unit"] == "mm")
    batches = sum(int(row["pieces"]) for row in rows("cut-batches.csv"))
    cuts = [cut for row in rows("spool-plan.csv") for cut in row["cuts"].split(", ")]
    assert kits == batches == sum(int(cut.split(" × ")[0]) for cut in cuts)
    assert batches == 20 * len(skiff.jumpers)


def test_a_run_is_written_whole_and_again(skiff: Plan, tmp_path: Path) -> None:
    """Same bytes twice; a run replaces a run, and no other folder."""
    first = write_run(run_of(skiff, 2), tmp_path / "run")
    before = {name: (tmp_path / "run" / name).read_bytes() for name in first}
    assert write_run(run_of(skiff, 2), tmp_path / "run") == first
    assert before == {name: (tmp_path / "run" / name).read_bytes() for name in first}
    data = json.loads(before["run.json"])
    assert data["models"][0]["serials"] == ["SK-098", "SK-099"]
    other = tmp_path / "photos"
    other.mkdir()
    (other / "boat.jpg").write_text("x")
    with pytest.raises(BadInput, match="not a production run's"):
        write_run(run_of(skiff, 2), other)
    assert (other / "boat.jpg").read_text() == "x"


def test_a_hostile_title_stays_text(skiff: Plan) -> None:
    """Control characters and formulas in a title reach no cell and no page as such."""
    bad = skiff.model_copy(update={"title": '=cmd|"x"\t\x1b[2J <script>'})
    files = run_files(run_of(bad, 1, "\x1b[2J7"), Paper())
    assert b"\x1b" not in files["kits.csv"] + files["run.txt"]
    first = list(csv.reader(io.StringIO(files["kits.csv"].decode())))[1][0]
    assert first.startswith("'=")
