"""``lugwright stock``: what lies in stock."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from lugwright.cli.cmd_stock import command
from lugwright.stock.read import FILES, read_stock

KINDS = ("wire", "fittings", "hardware", "fuses")
FUSES = "name,rating,colour,price,pack\n"


def call(*arguments: str) -> Result:
    """Run the command; standard output and standard error apart."""
    return CliRunner().invoke(command, arguments)


def test_every_row_of_the_stock_is_shown() -> None:
    """Each spool, fitting, thread and fuse has its line."""
    result = call()
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    stock = read_stock()
    names = [row.name for row in (*stock.spools, *stock.fittings, *stock.fuses)]
    names += [row.thread for row in stock.hardware]
    assert [name for name in names if not any(x.startswith(f"{name}  ") for x in lines)] == []


@pytest.mark.parametrize("kind", KINDS)
def test_one_part_of_the_stock(kind: str) -> None:
    """A part alone is one table, and as data one list of records."""
    heads = {"wire": "wire", "fittings": "fitting", "hardware": "thread", "fuses": "fuse"}
    parts = call("--kind", kind).stdout.split("\n\n")
    assert [part.split()[0] for part in parts] == ["stock:", heads[kind]]
    answer = json.loads(call("--kind", kind, "--json").stdout)
    assert [name for name in KINDS if name in answer] == [kind]


def test_as_json_keeps_every_field() -> None:
    """Records carry the integers of the stock, with units in their keys, and its digest."""
    stock = read_stock()
    answer = json.loads(call("--json").stdout)
    assert (answer["answer"], answer["format"]) == ("stock", 1)
    assert answer["digest"] == stock.digest
    assert len(answer["wire"]) == len(stock.spools)
    assert answer["wire"][0]["area_um2"] == stock.spools[0].area_um2
    assert len(answer["fittings"][0]["barrels"]) == len(stock.fittings[0].barrels)


def test_tables_are_copied_to_edit_and_read_back(tmp_path: Path) -> None:
    """What is copied is the same stock, ready to be given back with --stock."""
    target = tmp_path / "deep" / "stock"
    result = call("--copy-to", str(target))
    assert (result.exit_code, result.stdout) == (0, "")
    assert sorted(path.name for path in target.iterdir()) == sorted(FILES)
    assert read_stock(target).digest == read_stock().digest
    fuses = target / "fuses.csv"
    kept = [line for line in fuses.read_text(encoding="utf-8").splitlines() if "7.5" not in line]
    fuses.write_text("\n".join(kept), encoding="utf-8")
    shown = call("--stock", str(target), "--kind", "fuses").stdout
    assert "stock/fuses.csv" in shown.splitlines()[0]
    assert "blade fuse 10 A" in shown
    assert "7.5" not in shown


def test_a_copy_takes_the_shops_own_tables(tmp_path: Path) -> None:
    """Tables the shop has are copied from its folder, the others from the built-in stock."""
    shop, target = tmp_path / "shop", tmp_path / "copy"
    call("--copy-to", str(shop))
    (shop / "hardware.csv").unlink()
    fuses = (shop / "fuses.csv").read_text(encoding="utf-8").splitlines()
    (shop / "fuses.csv").write_text("\n".join(fuses[:3]), encoding="utf-8")
    assert call("--stock", str(shop), "--copy-to", str(target)).exit_code == 0
    assert len(read_stock(target).fuses) == len(fuses[1:3])
    assert read_stock(target).hardware == read_stock().hardware


def test_a_copy_replaces_nothing(tmp_path: Path) -> None:
    """A table that stands there is named, and no other is written beside it."""
    (tmp_path / "fuses.csv").write_text(FUSES, encoding="utf-8")
    result = call("--copy-to", str(tmp_path))
    assert result.exit_code == 2
    assert "fuses.csv: stands there already (not copied)" in result.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["fuses.csv"]
    assert (tmp_path / "fuses.csv").read_text(encoding="utf-8") == FUSES


def test_a_faulty_table_is_told_with_its_place(tmp_path: Path) -> None:
    """The stock's own complaints come through, and nothing is shown."""
    (tmp_path / "fuses.csv").write_text("name,rating\nx,one\n", encoding="utf-8")
    result = call("--stock", str(tmp_path))
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "fuses.csv" in result.stderr
