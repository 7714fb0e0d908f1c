"""The stock: built-in, a shop's own, and every fault of a shop's files told at once."""

from collections.abc import Callable
from itertools import product
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.units import THREADS
from lugwright.electrics.tables import ampacity_rows
from lugwright.stock.read import read_stock
from lugwright.stock.schema import STUD_KINDS, Stock

CONDUCTORS = (
    "name,wire_size,colour,size_standard,area_cmil,area_mm2,insulation,insulation_temp_c,"
    "price_per_m,spool_length\n"
)
RED = "thin red,16 AWG,red,AWG,2582.7,,2.7 mm,105,0.5,30 m\n"
FITTINGS = (
    "name,kind,colour,threads,tongue,barrel_angle_deg,carries,area_min_cmil,area_max_cmil,"
    "area_min_mm2,area_max_mm2,sleeve,barrel_length,die,price,pack\n"
)
RING = "blue ring,ring,blue,#8-32,0.030 in,55,35 A,2050,5180,,,4.4 mm,0.25 in,blue,0.2,25\n"
BUTT = "blue butt,butt,blue,,,,,,,1.04,2.63,4.4 mm,0.25 in,blue,0.2,25\n"
FUSES = "name,rating,colour,price,pack\n"


def complaints_of(folder: Path) -> tuple[Complaint, ...]:
    """What reading the folder complains of."""
    with pytest.raises(BadInput) as caught:
        read_stock(folder)
    return caught.value.complaints


def shop(folder: Path, name: str, content: str | bytes) -> Path:
    """A shop's folder with one file in it."""
    path = folder / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return folder


@pytest.fixture(scope="module")
def stock() -> Stock:
    """The built-in stock."""
    return read_stock()


def test_the_built_in_stock_serves_every_circuit_colour(stock: Stock) -> None:
    """18, 16 and 14 AWG of every colour on an instrument panel, 12 and 10 of the feeds."""
    senders = ("gray", "pink", "tan", "light blue")
    feeds = ("purple", "black", "dark blue", "red", "orange", "brown", "yellow")
    for colour, size in product(senders + feeds, ("18 AWG", "16 AWG", "14 AWG")):
        assert stock.spool(size, colour) is not None
    for colour, size in product(feeds, ("12 AWG", "10 AWG")):
        assert stock.spool(size, colour) is not None


def test_every_built_in_spool_has_its_ampacity_row(stock: Stock) -> None:
    """Its own size, in the published table."""
    for spool in stock.spools:
        assert spool.ampacity_size == spool.wire_size
        assert (spool.ampacity_size, spool.insulation_temp_c) in ampacity_rows()


def test_the_built_in_stock_fits_every_thread(stock: Stock) -> None:
    """Each known thread has a nut, and a ring and a captive spade in three barrels."""
    for thread in THREADS:
        assert stock.hardware_for(thread).nut_dmm > 0
        for kind in ("ring", "captive spade"):
            colours = [
                row.colour
                for row in stock.fittings
                if row.kind == kind and thread in row.stud_threads
            ]
            assert sorted(colours) == ["blue", "red", "yellow"]


def test_the_built_in_stock_has_every_kind(stock: Stock) -> None:
    """Butts plain and lined, step-downs with two different halves, closed ends, caps, push-ons."""
    kinds = {row.kind for row in stock.fittings}
    assert kinds == {*STUD_KINDS, "push-on", "butt", "closed end", "cap"}
    butts = [row for row in stock.fittings if row.kind == "butt"]
    assert {row.lined for row in butts} == {True, False}
    assert all(len(row.barrels) == 2 for row in butts)
    stepped = [row for row in butts if row.barrels[0] != row.barrels[1]]
    assert len(stepped) == 4
    assert all(row.barrels[0].area_max_um2 < row.barrels[1].area_max_um2 for row in stepped)
    tabs = {row.tab_size for row in stock.fittings if row.kind == "push-on"}
    assert tabs == {"2.8 x 0.8", "4.8 x 0.8", "6.3 x 0.8"}


def test_every_built_in_row_names_its_source(stock: Stock) -> None:
    """And says that its price is invented."""
    sources = [row.source for row in stock.spools]
    sources += [row.source for row in stock.fittings]
    sources += [row.source for row in stock.hardware]
    assert all("price invented" in source for source in sources)


def test_a_shop_replaces_a_table_and_keeps_the_others(tmp_path: Path, stock: Stock) -> None:
    """What the folder does not hold is built in; the digest tells the two shelves apart."""
    own = read_stock(shop(tmp_path, "conductors.csv", CONDUCTORS + RED))
    assert [spool.name for spool in own.spools] == ["thin red"]
    assert own.fittings == stock.fittings
    assert own.digest != stock.digest
    assert own.files == (f"{tmp_path.name}/conductors.csv", *stock.files[1:])


def test_a_file_with_a_byte_order_mark_and_crlf_reads_the_same(tmp_path: Path) -> None:
    """A spreadsheet's habits change no value."""
    plain, sheet = tmp_path / "plain", tmp_path / "sheet"
    plain.mkdir()
    sheet.mkdir()
    text = CONDUCTORS + RED
    shop(plain, "conductors.csv", text)
    shop(sheet, "conductors.csv", b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    assert read_stock(plain).spools == read_stock(sheet).spools


def test_values_are_resolved_to_the_safe_side(tmp_path: Path) -> None:
    """Tongue and strip length up, sleeve and current limit down, areas to the nearest."""
    fitting = (
        "odd,ring,blue,M5;#10-24,0.7601 mm,55,1.0009 A,,,1.04,2.63,4.4005 mm,6.31 mm,b,0.1,1\n"
    )
    (row,) = read_stock(shop(tmp_path, "fittings.csv", FITTINGS + fitting)).fittings
    assert row.stud_threads == ("M5 x 0.8", "#10-24 UNC")
    assert row.tongue_dmm == 8
    assert row.carries_ma == 1000
    (barrel,) = row.barrels
    assert (barrel.area_min_um2, barrel.area_max_um2) == (1_040_000, 2_630_000)
    assert (barrel.sleeve_um, barrel.length_dmm) == (4400, 64)


def test_a_butt_has_two_halves_alike_unless_the_second_is_given(tmp_path: Path) -> None:
    """The halves of a plain row are the same barrel."""
    (row,) = read_stock(shop(tmp_path, "fittings.csv", FITTINGS + BUTT)).fittings
    assert row.barrels == (row.barrels[0], row.barrels[0])


def test_metric_and_sae_wire_take_their_own_ampacity_row(tmp_path: Path) -> None:
    """A spool states its area and the standard that its size is meant by."""
    rows = (
        "metric,1.5 mm²,red,metric,,1.5,2.8 mm,105,0.5,30 m\n"
        "small,16 AWG,black,SAE,2336,,2.6 mm,105,0.5,30 m\n"
    )
    metric, small = read_stock(shop(tmp_path, "conductors.csv", CONDUCTORS + rows)).spools
    assert (metric.wire_size, metric.ampacity_size) == ("1.5 mm2", "16 AWG")
    assert small.ampacity_size == "16 AWG"


def _swapped(line: str, column: int, value: str) -> str:
    cells = line.rstrip("\n").split(",")
    cells[column] = value
    return ",".join(cells) + "\n"


@pytest.mark.parametrize(
    ("column", "value", "message"),
    [
        ("name", "", "nothing is written"),
        ("name", "x" * 81, "at most 80"),
        ("wire_size", "16", "needs its system"),
        ("colour", "purpel", 'did you mean "purple"'),
        ("size_standard", "awg", 'did you mean "AWG"'),
        ("size_standard", "metric", "not the standard of 16 AWG"),
        ("area_cmil", "nan", "not a number"),
        ("area_cmil", "-5", "must not be negative"),
        ("area_cmil", "0", "more than zero"),
        ("area_cmil", "inf", "not a number"),
        ("area_cmil", "1e3", 'unit "e3" is not known'),
        ("area_cmil", "", "nothing is written"),
        ("area_mm2", "1.3", "not in both"),
        ("area_cmil", "26000", "is not the area of 16 AWG"),
        ("area_cmil", "700", "is not the area of 16 AWG"),
        ("area_cmil", "1400", "smallest size is 18 AWG"),
        ("insulation", "2.7", "needs its unit"),
        ("insulation", "nan mm", "not a length"),
        ("insulation", "1 mm", "thinner than its own strands"),
        ("insulation_temp_c", "100", "must be one of 60, 75"),
        ("price_per_m", "0.0000001", "more than six decimals"),
        ("price_per_m", "99999999", "at most 1000000"),
        ("spool_length", "0 m", "more than zero"),
        ("spool_length", "99999 m", "at most 10 km"),
    ],
)
def test_a_conductor_cell_at_fault(tmp_path: Path, column: str, value: str, message: str) -> None:
    """The complaint names the file, the line, the row, the column and what is allowed."""
    names = CONDUCTORS.strip().split(",")
    folder = shop(
        tmp_path,
        "conductors.csv",
        CONDUCTORS + RED.replace("red", "black") + _swapped(RED, names.index(column), value),
    )
    (complaint, *_) = complaints_of(folder)
    assert complaint.file == f"{tmp_path.as_posix()}/conductors.csv"
    assert complaint.line == 3
    blamed = "area_cmil" if column == "area_mm2" else column
    assert f'column "{blamed}"' in complaint.field
    assert message in f"{complaint.message} {complaint.hint}"


@pytest.mark.parametrize(
    ("line", "column", "value", "message"),
    [
        (RING, "kind", "rings", 'did you mean "ring"'),
        (RING, "threads", "", "nothing is written"),
        (RING, "threads", "#10", "not a known thread"),
        (RING, "threads", "#8-32;#8-32 UNC", "twice"),
        (RING, "tongue", "", "nothing is written"),
        (RING, "tongue", "0 mm", "more than zero"),
        (RING, "barrel_angle_deg", "361", "from 1 to 360"),
        (RING, "barrel_angle_deg", "45.5", "whole number"),
        (RING, "carries", "0 A", "leave it empty"),
        (RING, "area_min_cmil", "6000", "above the largest"),
        (RING, "area_max_cmil", "x", "not a number"),
        (RING, "pack", "0", "from 1"),
        (BUTT, "threads", "#8-32", "must be empty"),
        (BUTT, "tongue", "0.8 mm", "must be empty"),
        (BUTT, "sleeve", "-1 mm", "must not be negative"),
    ],
)
def test_a_fitting_cell_at_fault(
    tmp_path: Path, line: str, column: str, value: str, message: str
) -> None:
    """Each fault names its own column."""
    names = FITTINGS.strip().split(",")
    swapped = _swapped(line, names.index(column), value)
    (complaint,) = complaints_of(shop(tmp_path, "fittings.csv", FITTINGS + swapped))
    assert complaint.field.endswith(f'column "{column}"')
    assert complaint.column == names.index(column) + 1
    assert message in f"{complaint.message} {complaint.hint}"


def test_a_fuse_s_source_is_a_note_as_any_other(tmp_path: Path) -> None:
    """A character that repaints a terminal is refused there too."""
    rows = FUSES.replace("\n", ",source\n") + "5 A,5 A,tan,0.3,5,\x1b[2J\n"
    (complaint,) = complaints_of(shop(tmp_path, "fuses.csv", rows))
    assert complaint.field == 'row "5 A", column "source"'


def test_a_decimal_comma_splits_a_cell(tmp_path: Path) -> None:
    """A comma inside a number makes a cell too many, which is said with its line."""
    row = RED.replace("0.5", "0,5")
    (complaint,) = complaints_of(shop(tmp_path, "conductors.csv", CONDUCTORS + row))
    assert complaint.line == 2
    assert complaint.message == "the row has 11 cells, the table 10 columns"


def test_every_fault_of_every_file_at_once(tmp_path: Path) -> None:
    """Two files, four faults, one refusal."""
    shop(tmp_path, "conductors.csv", CONDUCTORS + "a,15 AWG,rde,AWG,2582.7,,2.7 mm,105,0.5,30 m\n")
    shop(tmp_path, "fuses.csv", FUSES + "big,5,red,0.3,0\n")
    fields = [complaint.field for complaint in complaints_of(tmp_path)]
    assert fields == [
        'row "a", column "wire_size"',
        'row "a", column "colour"',
        'row "big", column "rating"',
        'row "big", column "pack"',
    ]


def test_rows_that_stand_twice(tmp_path: Path) -> None:
    """A name, and a size in one colour, may stand once; the first line is named."""
    again = RED.replace("30 m", "15 m")
    other = RED.replace("thin red", "other red")
    complaints = complaints_of(shop(tmp_path, "conductors.csv", CONDUCTORS + RED + again + other))
    assert all("already stands in line 2" in complaint.message for complaint in complaints)
    assert [complaint.line for complaint in complaints] == [3, 3, 4]


def test_a_misspelled_column_is_told_with_the_nearest(tmp_path: Path) -> None:
    """Both the unknown column and the missing one are named."""
    header = FUSES.replace("rating", "ratting")
    text = "\n".join(str(c) for c in complaints_of(shop(tmp_path, "fuses.csv", header)))
    assert 'column "ratting": is not a column of this table (did you mean "rating"?)' in text
    assert 'column "rating": is missing' in text


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "is empty"),
        (b"\n\n", "is empty"),
        (FUSES.encode(), "no rows"),
        (b"name,rating\0", "not a text file"),
        (b"\x89PNG\r\n\x1a\n\0\0", "not a text file"),
        (FUSES.encode() + b"caf\xe9,5 A,tan,0.3,10\n", "not UTF-8"),
        (FUSES.encode() + b'"open,5 A,tan,0.3,10\n', "is not CSV"),
        (FUSES.encode() + b"five,5 A,tan,0.3\n", "4 cells, the table 5"),
        (FUSES.replace("pack", "name").encode(), "stands here twice"),
        (b" " * 2_000_001, "larger than 2 MB"),
    ],
)
def test_files_that_are_no_table(tmp_path: Path, content: bytes, message: str) -> None:
    """Empty, binary, too large, an open quote: each said in plain words."""
    complaints = complaints_of(shop(tmp_path, "fuses.csv", content))
    assert any(message in complaint.message for complaint in complaints)
    assert all(complaint.file.endswith("/fuses.csv") for complaint in complaints)


def test_semicolons_and_decimal_commas(tmp_path: Path) -> None:
    """A table as a spreadsheet writes it where a decimal comma is usual is the same table."""
    rows = FUSES + "five,5 A,tan,0.3,10\nseven,7.5 A,brown,1.25,5\n"
    with_commas = rows.replace(",", ";").replace(".", ",")
    (tmp_path / "one").mkdir(), (tmp_path / "other").mkdir()
    one = read_stock(shop(tmp_path / "one", "fuses.csv", rows))
    other = read_stock(shop(tmp_path / "other", "fuses.csv", with_commas))
    assert one.fuses == other.fuses
    assert {fuse.rating_ma for fuse in other.fuses} == {5000, 7500}


def _nowhere(folder: Path) -> Path:
    return folder / "nowhere"


def _a_file(folder: Path) -> Path:
    (folder / "file").write_text("x")
    return folder / "file"


@pytest.mark.parametrize(
    ("make", "message"),
    [(_nowhere, "is not a folder"), (_a_file, "is not a folder"), (Path, "holds no stock table")],
)
def test_folders_that_are_no_stock(
    tmp_path: Path, make: Callable[[Path], Path], message: str
) -> None:
    """A wrong path must not quietly plan with the built-in stock."""
    assert message in complaints_of(make(tmp_path))[0].message


def test_a_file_whose_name_is_nearly_right(tmp_path: Path) -> None:
    """``conductor.csv`` would be passed over in silence; it is complained of instead."""
    shop(tmp_path, "fuses.csv", FUSES + "five,5 A,tan,0.3,10\n")
    (complaint,) = complaints_of(shop(tmp_path, "conductor.csv", CONDUCTORS + RED))
    assert complaint.hint == 'did you mean "conductors.csv"?'


def test_a_table_name_that_is_a_folder(tmp_path: Path) -> None:
    """Only a file can be read."""
    (tmp_path / "fuses.csv").mkdir()
    assert complaints_of(tmp_path)[0].message == "is not a file"


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda text: (FUSES + text).encode()))
def test_no_bytes_bring_the_reader_down(tmp_path: Path, content: bytes) -> None:
    """Whatever the file holds, it is read or complained of."""
    try:
        stock = read_stock(shop(tmp_path, "fuses.csv", content))
    except BadInput as error:
        assert error.complaints
    else:
        assert all(fuse.rating_ma > 0 for fuse in stock.fuses)
