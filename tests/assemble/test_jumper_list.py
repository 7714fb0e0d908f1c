"""Written jumper lists of panels that are already built."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.bench import assembled, bench_console, bench_limits, bench_stock

from lugwright.assemble.jumper_list import JumperList, read_jumper_list
from lugwright.assemble.written_lengths import lengths_by_label
from lugwright.base.errors import BadInput
from lugwright.checker.finding import Report
from lugwright.checker.written import check_written
from lugwright.plans.choice import WireKey
from lugwright.scenario.brief import Brief

HEAD = "circuit,from,to,wire_size,length,lug_from,lug_to\n"
GOOD = (
    HEAD
    + """# the skiff's old panel
ground,supply,dial2.ground,,,,base
ignition,supply,dial2.ignition,,,,
ground,dial1.ground,dial2.ground,16 AWG,125 mm,,pair
ground,dial2.ground,dial3.ground,16 AWG,5 in,pair,
ignition,dial2.ignition,dial1.ignition,16 AWG,,,
ignition,dial2.ignition,dial3.ignition,16 AWG,,,

lamps,dial2.ignition,dial1.lamp,16 AWG,,,
lamps,dial1.lamp,dial2.lamp,16 AWG,,,
lamps,dial2.lamp,dial3.lamp,16 AWG,,,
"""
)


def read(tmp_path: Path, text: str, **limits: object) -> JumperList:
    """Read a list written to a file."""
    path = tmp_path / "panel.csv"
    path.write_text(text, encoding="utf-8")
    return read_jumper_list(path, Brief(bench_console(), bench_limits(**limits), bench_stock()))


def faults(tmp_path: Path, text: str) -> list[tuple[int, int, str]]:
    """Line, column and message of every complaint."""
    with pytest.raises(BadInput) as caught:
        read(tmp_path, text)
    return [(c.line, c.column, f"{c.message} {c.hint}".strip()) for c in caught.value.complaints]


def test_good_list(tmp_path: Path) -> None:
    """Landings, jumpers turned to the supply, and lengths beside the choice (5 in = 127 mm)."""
    listed = read(tmp_path, GOOD)
    assert listed.choice.landings == (("ground", "dial2.ground"), ("ignition", "dial2.ignition"))
    assert len(listed.choice.jumpers) == 7
    assert listed.lengths_dmm == (
        (WireKey("jumper", "ground", "dial2.ground", "dial1.ground"), 1250),
        (WireKey("jumper", "ground", "dial2.ground", "dial3.ground"), 1270),
    )


def test_named_lugs_share_a_barrel(tmp_path: Path) -> None:
    """``pair`` holds both ground jumpers, ``base`` the pigtail alone; tabs hold what is on them."""
    fittings = read(tmp_path, GOOD).choice.fittings
    ground = {f.item: [k.name for k in f.barrels[0]] for f in fittings if f.joint == "dial2.ground"}
    assert ground == {"blue ring": ["ground", "ground"], "red ring": ["pigtail ground"]}
    assert {f.joint: f.item for f in fittings if f.joint.endswith("lamp")} == {
        "dial1.lamp": "blue push-on",
        "dial2.lamp": "blue push-on",
        "dial3.lamp": "red push-on",
    }


def judged(tmp_path: Path, text: str) -> Report:
    """What is said about the lengths of a list."""
    listed = read(tmp_path, text)
    plan = assembled(choice=listed.choice)
    brief = Brief(bench_console(), bench_limits(), bench_stock())
    return check_written(brief, plan, lengths_by_label(listed, plan))


def test_written_lengths_are_compared(tmp_path: Path) -> None:
    """ground 1 was cut as routed; ground 2 is 127 mm where 125 mm would be cut."""
    report = judged(tmp_path, GOOD)
    assert report.passed
    assert report.notes == (
        "ground 2 is written as 127 mm: 2 mm longer than its route and allowances come to (125 mm)",
    )


def test_the_written_length_of_an_extension_is_compared(tmp_path: Path) -> None:
    """The pigtail would reach, so the routes ask for the shortest piece.

    0.1 mm short: 1 x 1.05 + 200 = 201.05, up to 250; 60 mm was written.
    """
    row = "ground,supply,dial2.ground,16 AWG,60 mm,,"
    notes = judged(tmp_path, GOOD.replace("ground,supply,dial2.ground,,,,base", row)).notes
    assert notes[0].startswith("ground 3 is written as 60 mm: 35 mm longer")


def test_a_wire_shorter_than_its_path_is_a_fault(tmp_path: Path) -> None:
    """100 mm lie between the posts: 99.9 mm cannot, whatever was meant."""
    (finding,) = judged(tmp_path, GOOD.replace("125 mm", "99.9 mm")).findings
    assert (finding.rule, finding.place) == ("cut length", "ground 1")
    assert "shorter than its path between dial2.ground and dial1.ground" in finding.message
    assert (finding.measured, finding.limit) == ("99.9 mm", "100 mm")


@pytest.mark.parametrize("length", ["100 mm", "104.9 mm"])
def test_a_wire_without_slack_is_under_strain(tmp_path: Path, length: str) -> None:
    """100 mm with 5 % of slack are 105 mm; from there on the length is only another."""
    report = judged(tmp_path, GOOD.replace("125 mm", length))
    assert report.passed
    assert report.notes[0] == (
        f"ground 1 is under strain: written as {length}, its path with slack is 105 mm "
        "(125 mm would be cut)"
    )
    (other, _) = judged(tmp_path, GOOD.replace("125 mm", "105 mm")).notes
    assert "20 mm shorter than its route and allowances come to" in other


@pytest.mark.parametrize("mark", [";", "\t"])
def test_semicolons_and_decimal_commas(tmp_path: Path, mark: str) -> None:
    """As a spreadsheet writes it where a decimal comma is usual."""
    text = GOOD.replace("125 mm", "125.5 mm").replace(",", mark).replace("125.5", "125,5")
    assert read(tmp_path, text) == read(tmp_path, GOOD.replace("125 mm", "125.5 mm"))


def test_a_decimal_comma_between_commas_is_refused(tmp_path: Path) -> None:
    """There "1,250 mm" could be either."""
    ((line, column, message),) = faults(tmp_path, GOOD.replace("125 mm", '"1,250 mm"'))
    assert (line, column) == (5, 5)
    assert "1,250 mm" in message


def test_the_list_of_another_console_is_one_line(tmp_path: Path) -> None:
    """Not a fault for every row."""
    ((line, _, message),) = faults(tmp_path, GOOD.replace("dial", "clock "))
    assert line == 3
    assert "is of another console: 9 of its 9 rows name circuits or posts" in message
    assert "name the scenario of the panel that was listed" in message


def test_a_list_with_named_lugs_gives_the_same_plan_as_the_choice(tmp_path: Path) -> None:
    """Written out in full, the bench's own choice comes back number by number."""
    text = GOOD.replace(
        "ignition,dial2.ignition,dial1.ignition,16 AWG,,,",
        "ignition,dial2.ignition,dial1.ignition,16 AWG,,two,",
    ).replace(
        "ignition,dial2.ignition,dial3.ignition,16 AWG,,,",
        "ignition,dial2.ignition,dial3.ignition,16 AWG,,two,",
    )
    assert assembled(choice=read(tmp_path, text).choice) == assembled()


def test_a_panel_that_breaks_a_limit_is_read_all_the_same(tmp_path: Path) -> None:
    """Two wires in a barrel where one is allowed: the nearest row stands in, to be judged."""
    fittings = read(tmp_path, GOOD, wires_per_barrel=1).choice.fittings
    held = [f for f in fittings if f.joint == "dial2.ground" and len(f.barrels[0]) == 2]
    assert [f.item for f in held] == ["blue ring"]


def test_extension_in_a_supply_row(tmp_path: Path) -> None:
    """A wire size and a length in a supply row are an extension with its join."""
    text = GOOD.replace(
        "ground,supply,dial2.ground,,,,base", "ground,supply,dial2.ground,16 AWG,60 mm,,"
    )
    listed = read(tmp_path, text)
    assert [(e.wire, e.wire_size) for e in listed.choice.extensions] == [
        ("pigtail ground", "16 AWG")
    ]
    assert (WireKey("extension", "pigtail ground"), 600) in listed.lengths_dmm
    assert "join pigtail ground" in {f.joint for f in listed.choice.fittings}


def test_all_faults_at_once(tmp_path: Path) -> None:
    """Every fault is told with its row, its column and the nearest spelling."""
    text = HEAD + (
        "grund,supply,dial2.ground,,,,\n"
        "ignition,supply,dial2.ignitoin,,,,\n"
        "ground,dial1.ground,dial2.ground,17 AWG,,,\n"
        "ground,dial1.ground,dial1.ground,16 AWG,,,\n"
        "lamps,dial1.ground,dial1.lamp,16 AWG,12,,\n"
        "lamps,supply,dial1.lamp,16 AWG,,,\n"
    )
    found = faults(tmp_path, text)
    places = [(line, column) for line, column, _ in found]
    assert places == [(0, 0), (2, 1), (3, 3), (4, 4), (5, 3), (6, 2), (6, 5), (7, 2)]
    messages = [message for _, _, message in found]
    assert "no row says where the supply of ground lands" in messages[0]
    assert 'did you mean "ground"?' in messages[1]
    assert 'did you mean "dial2.ignition"?' in messages[2]
    assert "allowed: 16 AWG" in messages[3]
    assert "both ends are at dial1.ground" in messages[4]
    assert '"dial1.ground" is not a post of lamps or ignition' in messages[5]
    assert "a number needs its unit" in messages[6]
    assert "lamps is taken from ignition and has no pigtail" in messages[7]


def test_twice_written_rows(tmp_path: Path) -> None:
    """The same two posts joined again, and a supply that lands twice."""
    text = GOOD + "ground,dial2.ground,dial1.ground,16 AWG,,,\nground,supply,dial1.ground,,,,\n"
    assert [(line, message) for line, _, message in faults(tmp_path, text)] == [
        (13, "dial2.ground and dial1.ground are joined by an earlier row already"),
        (14, "the supply of ground lands twice"),
    ]


def test_half_an_extension(tmp_path: Path) -> None:
    """A supply row with a length but no wire size says neither one thing nor the other."""
    text = GOOD.replace("ground,supply,dial2.ground,,,,base", "ground,supply,dial2.ground,,60 mm,,")
    ((line, column, message),) = faults(tmp_path, text)
    assert (line, column) == (3, 4)
    assert "needs both a wire size and a length" in message


def test_columns(tmp_path: Path) -> None:
    """Misspelt, doubled and missing columns are told together."""
    found = faults(tmp_path, "circuit,form,to,to,wire_size\nground,a,b,c,d\n")
    assert [(line, column) for line, column, _ in found] == [(1, 1), (1, 2), (1, 4)]
    assert 'did you mean "from"?' in found[1][2]
    assert "this column is missing" in found[0][2]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "holds no rows"),
        (HEAD.encode(), "holds no rows"),
        (b"\xff\xfe\x00", "is not text in UTF-8"),
        (HEAD.encode() + b'ground,"supply', "is not CSV"),
        (HEAD.encode() + b"ground,supply,dial2.ground,,,,,,\n", "has 9 cells"),
    ],
)
def test_files_that_are_no_list(tmp_path: Path, content: bytes, words: str) -> None:
    """Empty, binary, broken and over-full files are refused in one line."""
    path = tmp_path / "panel.csv"
    path.write_bytes(content)
    with pytest.raises(BadInput, match=words):
        read_jumper_list(path, Brief(bench_console(), bench_limits(), bench_stock()))


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    """A missing file is bad input, told by its name alone."""
    with pytest.raises(BadInput, match=r"none\.csv: there is no such file"):
        brief = Brief(bench_console(), bench_limits(), bench_stock())
        read_jumper_list(tmp_path / "none.csv", brief)


def test_stock_without_a_fitting_for_a_post(tmp_path: Path) -> None:
    """Where stock has nothing that goes on a post at all, the post is named."""
    stock = bench_stock()
    few = type(stock)(
        stock.spools,
        tuple(row for row in stock.fittings if row.kind != "push-on"),
        stock.hardware,
        stock.fuses,
    )
    path = tmp_path / "panel.csv"
    path.write_text(GOOD)
    with pytest.raises(BadInput, match=r"dial1\.lamp: stock has no fitting"):
        read_jumper_list(path, Brief(bench_console(), bench_limits(), few))
