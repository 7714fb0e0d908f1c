"""The mix a shop builds, and what a month of it takes of the stock."""

from fractions import Fraction
from math import ceil
from pathlib import Path

import pytest
from support.made_plan import small_plan

from lugwright.base.errors import BadInput
from lugwright.catalogue.mix import even_mix, read_mix
from lugwright.catalogue.month import stock_overview
from lugwright.catalogue.schema import End, ModelResult

NAMES = ("skiff", "launch")
STOCK = {
    "spools": [{"name": "16 AWG black"}, {"name": "10 AWG red"}],
    "fittings": [{"name": "ring blue", "kind": "ring"}, {"name": "ring red", "kind": "ring"}],
}


def mix_file(folder: Path, text: str) -> Path:
    """A CSV with that text."""
    path = folder / "mix.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_mix_is_read_as_written(tmp_path: Path) -> None:
    """Whole and part numbers; a byte order mark, blank lines and blanks do no harm."""
    path = mix_file(tmp_path, "\ufeffmodel,a_month\nskiff, 2.5\n\nlaunch,0\n")
    assert read_mix(path, NAMES) == {"skiff": Fraction(5, 2), "launch": 0}
    path = mix_file(tmp_path, "model;a_month\nskiff;2,5\nlaunch;0\n")
    assert read_mix(path, NAMES) == {"skiff": Fraction(5, 2), "launch": 0}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("name,count\nskiff,1\n", "does not begin with the heading model,a_month"),
        ("", "does not begin with the heading"),
        ("model,a_month\nskif,1\n", "no model 'skif' is planned (did you mean \"skiff\"?)"),
        ("model,a_month\nskiff,1\nskiff,2\n", "names the model 'skiff' twice"),
        ("model,a_month\nskiff,-1\n", "'-1' is not a plain number"),
        ("model,a_month\nskiff,1e9\n", "'1e9' is not a plain number"),
        ("model,a_month\nskiff,nan\n", "'nan' is not a plain number"),
        ('model,a_month\nskiff,"1,5"\n', "'1,5' is not a plain number"),
        ("model,a_month\nskiff\n", "has 1 cells, 2 are wanted"),
    ],
)
def test_a_mix_that_cannot_be_meant_is_told(tmp_path: Path, text: str, said: str) -> None:
    """With its line, and the nearest name."""
    with pytest.raises(BadInput) as caught:
        read_mix(mix_file(tmp_path, text), NAMES)
    assert said in str(caught.value)


def planned(name: str) -> ModelResult:
    """The small plan as a model's result."""
    return ModelResult(name=name, end=End.PROVED, plan=small_plan())


def test_a_month_takes_what_its_panels_take() -> None:
    """Need times how many, in whole packs at the plan's own price of a pack."""
    plan = small_plan()
    mix = {"skiff": Fraction(7, 2), "launch": Fraction(10)}
    overview = stock_overview("boats", [planned("skiff"), planned("launch")], mix, STOCK)
    keep = {row.item: row for row in overview.parts[0].rows}
    assert keep.keys() == {line.item for line in plan.buy}
    for line in plan.buy:
        row = keep[line.item]
        packs = ceil(Fraction(27, 2) * line.need / line.pack)
        assert (row.models, row.need) == (2, ceil(Fraction(27, 2) * line.need))
        assert (row.pack, row.packs) == (line.pack, packs)
        cost = ceil(Fraction(line.cost_micro, line.packs) * packs)
        assert row.cost == (f"{-(-cost // 10_000) / 100:.2f}" if cost else "")


def test_what_no_model_needs_is_told_whatever_is_built() -> None:
    """An item a model needs stays needed though none of it is built this month."""
    results = [planned("skiff"), ModelResult(name="launch", end=End.IMPOSSIBLE)]
    overview = stock_overview("boats", results, {"launch": Fraction(1)}, STOCK)
    used = {line.item for line in small_plan().buy}
    unused = {row.item for row in overview.parts[1].rows}
    names = {row["name"] for rows in STOCK.values() for row in rows}
    assert unused == names - used
    assert "red" in " ".join(unused)
    assert overview.parts[0].rows == ()
    assert "1 of them have no plan and are not counted" in overview.facts[0].text


def test_one_of_each_where_no_mix_is_given() -> None:
    """The plainest mix."""
    assert even_mix(NAMES) == {"skiff": 1, "launch": 1}
