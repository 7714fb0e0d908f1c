"""Every bad scenario is refused with every fault it has, each at its exact place."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from bad_inputs.expected import UNREADABLE, Expected
from bad_inputs.expected_blocks import BLOCKS
from bad_inputs.expected_boat_wires import BOAT_WIRES
from bad_inputs.expected_circuits import CIRCUITS
from bad_inputs.expected_fuses import FUSES
from bad_inputs.expected_holes import HOLES, STOCK_HOLES
from bad_inputs.expected_places import PLACES
from bad_inputs.expected_stock import STOCK_CASES
from bad_inputs.expected_switches import SWITCHES
from bad_inputs.expected_text import TEXT
from bad_inputs.expected_thin import THIN
from support.limits import plain_limits

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.toml import MAX_BYTES
from lugwright.scenario.brief import Brief
from lugwright.scenario.cross_checks import panel_complaints
from lugwright.scenario.load import load_scenario
from lugwright.scenario.metal_checks import MOST_POSTS, MOST_POSTS_OF_A_CIRCUIT
from lugwright.scenario.schema import MOST_INSTRUMENTS
from lugwright.stock.read import read_stock
from lugwright.stock.schema import Stock

TABLES = (TEXT, PLACES, CIRCUITS, FUSES, SWITCHES, BLOCKS, BOAT_WIRES, THIN, HOLES)
ALL_STOCK_CASES = {**STOCK_CASES, **STOCK_HOLES}
READ_CASES = {name: expected for table in TABLES for name, expected in table.items()}
FOLDER = Path(__file__).parents[1] / "bad_inputs"
HEAD = 'title = "x"\n[panel]\nwidth = "9 m"\nheight = "9 m"\nthickness = "6 mm"\n'
HARNESS = """[[harness]]
entry = ["0 mm", "0 mm"]
pigtails = [
  { circuit = "ignition", colour = "purple", wire_size = "16 AWG", reach = "9 m", fuse = "10 A" },
  { circuit = "ground", colour = "black", wire_size = "16 AWG", reach = "9 m" },
]
"""


def compare(wanted: tuple[Expected, ...], got: tuple[Complaint, ...], name: str) -> None:
    """Assert that just the wanted complaints came, each at its place and with its words."""
    places = [(complaint.line, complaint.column, complaint.field) for complaint in got]
    assert [(expected.line, expected.column, expected.field) for expected in wanted] == places
    for expected, complaint in zip(wanted, got, strict=True):
        said = f"{complaint.message} ({complaint.hint})"
        assert [word for word in expected.words if word not in said] == []
        assert complaint.file == str(FOLDER / name)


def stock_without(thread: str) -> Stock:
    """The built-in stock with no fitting for a thread."""
    stock = read_stock()
    kept = tuple(row for row in stock.fittings if thread not in row.stud_threads)
    assert len(kept) < len(stock.fittings)
    return replace(stock, fittings=kept)


@pytest.mark.parametrize("name", sorted(READ_CASES))
def test_bad_scenario(name: str) -> None:
    """Line, column, field and key words of each complaint, and no complaint besides."""
    with pytest.raises(BadInput) as caught:
        load_scenario(FOLDER / name)
    compare(READ_CASES[name], caught.value.complaints, name)


@pytest.mark.parametrize("name", sorted(ALL_STOCK_CASES))
def test_scenario_bad_for_this_shop(name: str) -> None:
    """Faults that only limits and stock can show, once the file itself has loaded."""
    loaded = load_scenario(FOLDER / name)
    limits = plain_limits(
        edge_margin_dmm=100, nut_driver_room_dmm=30, stud_kinds=("ring", "captive spade")
    )
    found = panel_complaints(
        Brief(loaded.console, limits, stock_without("1/4-20 UNC")), loaded.toml
    )
    compare(ALL_STOCK_CASES[name], tuple(found), name)


@pytest.mark.parametrize("name", sorted(UNREADABLE))
def test_unreadable_file(name: str) -> None:
    """A file that is no TOML text at all is refused with one complaint."""
    with pytest.raises(BadInput) as caught:
        load_scenario(FOLDER / name)
    (complaint,) = caught.value.complaints
    assert UNREADABLE[name] in complaint.message


def test_file_of_five_megabytes(tmp_path: Path) -> None:
    """A file far too large is refused, and the complaint says how large it may be."""
    large = tmp_path / "large.toml"
    large.write_text("# padding\n" * 524_288)
    assert large.stat().st_size > 5 * MAX_BYTES
    with pytest.raises(BadInput, match="too large: at most 1 MB"):
        load_scenario(large)


def written(tmp_path: Path, *parts: str) -> tuple[Complaint, ...]:
    """The complaints about a file put together from parts."""
    file = tmp_path / "console.toml"
    file.write_text("".join(parts), encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        load_scenario(file)
    return caught.value.complaints


def test_more_instruments_than_are_planned(tmp_path: Path) -> None:
    """A list of ten thousand dials is refused by its length, not looked into."""
    dial = '[[instrument]]\nname = "d{0}"\npattern = "dial-52"\ncentre = ["{0} mm", "9 mm"]\n'
    dials = (dial.format(number) for number in range(MOST_INSTRUMENTS + 1))
    (complaint,) = written(tmp_path, HEAD, *dials, HARNESS)
    expected = ("instrument", f"at most {MOST_INSTRUMENTS} entries")
    assert expected == (complaint.field, complaint.message)


def test_more_posts_than_are_planned(tmp_path: Path) -> None:
    """Few instruments may still have more posts than can be planned."""
    post = (
        'p{0} = {{ kind = "stud", function = "{1}", at = ["{2} mm", "{3} mm"], '
        'height = "9 mm", thread = "M4", free_thread = "12 mm", link = "{1}" }}\n'
    )
    posts = [
        post.format(n, ("ground", "ignition")[n % 2], n % 10 * 9, n // 10 * 9) for n in range(100)
    ]
    bars = [
        f'[[instrument]]\nname = "bar {bar}"\ncentre = ["{500 + 400 * bar} mm", "50 mm"]\n'
        '[instrument.geometry]\nbody_width = "90 mm"\nbody_height = "90 mm"\n'
        f'body_depth = "5 mm"\n[instrument.geometry.posts]\n{"".join(posts)}'
        for bar in range(3)
    ]
    found = written(tmp_path, HEAD, *bars, HARNESS)
    assert {complaint.field for complaint in found} == {"instrument"}
    assert [complaint.message for complaint in found] == [
        f'circuit "ground" has 150 posts, at most {MOST_POSTS_OF_A_CIRCUIT} are planned',
        f'circuit "ignition" has 150 posts, at most {MOST_POSTS_OF_A_CIRCUIT} are planned',
        f"there are 300 posts in all, at most {MOST_POSTS} are planned",
    ]


def test_every_overlap_of_two_hundred_dials_is_not_told_by_itself(tmp_path: Path) -> None:
    """Each dial in the way is named once, however many it is in the way of."""
    dial = '[[instrument]]\nname = "d{0}"\npattern = "dial-52"\ncentre = ["90 mm", "90 mm"]\n'
    dials = (dial.format(number) for number in range(MOST_INSTRUMENTS))
    assert len(written(tmp_path, HEAD, *dials, HARNESS)) == MOST_INSTRUMENTS - 1


def test_folder_in_place_of_a_file() -> None:
    """A folder is refused by that name."""
    with pytest.raises(BadInput, match="this is a folder"):
        load_scenario(FOLDER)


def test_every_bad_file_is_in_the_table() -> None:
    """No file lies beside the table without being tested."""
    lying = {path.name for path in FOLDER.iterdir() if path.suffix in (".toml", ".bin")}
    assert lying == set(READ_CASES) | set(ALL_STOCK_CASES) | {
        n for n in UNREADABLE if (FOLDER / n).exists()
    }
    assert len(READ_CASES) == sum(map(len, TABLES))  # and none in two tables


def test_a_bad_file_is_left_as_it_was(tmp_path: Path) -> None:
    """Reading changes nothing in the file."""
    copy = tmp_path / "unknown_key.toml"
    shutil.copy(FOLDER / "unknown_key.toml", copy)
    before = copy.read_bytes()
    with pytest.raises(BadInput):
        load_scenario(copy)
    assert copy.read_bytes() == before
