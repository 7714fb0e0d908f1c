"""What a file says makes the plan; how it is written down does not."""

from __future__ import annotations

from pathlib import Path

import pytest

from lugwright.base.toml import parse_toml
from lugwright.cli.main import run
from lugwright.stock.read import FILES, TABLES, read_stock

SCENARIO = Path("scenarios/sandbar-skiff.toml")
SHOP = 'lugs_per_stud = 4\n[shop]\nopen = ["slack"]\n'
WAIVER = """
[[waiver]]
limit = "lugs_per_stud"
place = "fuel.ground"
value = 5
reason = "the bus bar came one stud short"
initials = "AB"
date = 2026-11-25
"""


def text() -> str:
    """A console with a limit of its own and a waiver, so that both stand on its sheets."""
    root = Path(__file__).parents[2]
    return (root / SCENARIO).read_text(encoding="utf-8") + '\n[limits]\nslack = "6 %"\n' + WAIVER


def planned(folder: Path, scenario: bytes, shop: bytes = SHOP.encode()) -> dict[str, bytes]:
    """The plan folder of a scenario and a shop's limits file, each with these bytes."""
    folder.mkdir()
    (folder / "skiff.toml").write_bytes(scenario)
    (folder / "shop.toml").write_bytes(shop)
    call = ["plan", str(folder / "skiff.toml"), "--limits", str(folder / "shop.toml"), "-q"]
    assert run([*call, "--out", str(folder / "plan")]) == 0
    return {path.name: path.read_bytes() for path in (folder / "plan").iterdir()}


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The plan folder of the file as it is."""
    return planned(tmp_path_factory.mktemp("plain") / "here", text().encode())


def test_line_ends_comments_blank_lines_and_byte_order_mark_change_no_byte(
    tmp_path: Path, plain: dict[str, bytes]
) -> None:
    """A file saved again by another editor, or with a word more to its reader, is the same."""
    again = "# a comment of three lines\n\n\n" + text().replace("\n[panel]", "\n\n# here\n[panel]")
    scenario = b"\xef\xbb\xbf" + again.replace("\n", "\r\n").encode()
    shop = ("# the shop's own\n\n" + SHOP).replace("\n", "\r\n").encode()
    assert planned(tmp_path / "here", scenario, shop) == plain


@pytest.mark.parametrize("epoch", ["1", "1700000000", "yesterday", "-5"])
def test_the_day_of_building_changes_no_byte(
    tmp_path: Path, plain: dict[str, bytes], monkeypatch: pytest.MonkeyPatch, epoch: str
) -> None:
    """Tools that build software set this variable, as a number or wrongly; no sheet heeds it."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
    assert planned(tmp_path / "here", text().encode()) == plain


def test_a_changed_value_has_another_digest() -> None:
    """One figure, one name, one entry more: each is another file."""
    said = ('a = "5 mm"', 'a = "6 mm"', 'b = "5 mm"', 'a = ["5 mm"]', "a = 5", "a = 5.0")
    said = (*said, "a = true", 'a = "2026-11-25"', "a = 2026-11-25", "a = 2026-11-25T00:00:00")
    said = (*said, "a = 1", "a = [1, 2]", "a = [2, 1]", "a = [[1], 2]", 'a = {float = "5.0"}', "")
    digests = {parse_toml(f"z = 0\n{one}".encode(), "x.toml").digest for one in said}
    assert len(digests) == len(said)


def test_the_digest_is_of_what_a_file_says() -> None:
    """Line ends, comments, blanks, spelling of a string or a number, order of keys in a table."""
    one = parse_toml(b'a = "x"\nb = 0x10\nc = {d = 1, e = 2.50}\n', "x.toml")
    other = parse_toml(
        b"\xef\xbb\xbf# said\r\nb =   16\r\n\r\na = 'x'\r\n[c]\r\ne = 2.5 # so\r\nd = 1\r\n",
        "y.toml",
    )
    assert one.digest == other.digest


def test_the_digest_of_a_stock_is_of_its_rows(tmp_path: Path) -> None:
    """Tables saved by a spreadsheet are the same stock; a changed price is another one."""
    saved, dearer = tmp_path / "saved", tmp_path / "dearer"
    saved.mkdir()
    dearer.mkdir()
    for name in FILES:
        data = (TABLES / name).read_bytes()
        (saved / name).write_bytes(b"\xef\xbb\xbf" + data.replace(b"\n", b"\r\n") + b"\r\n\r\n")
        (dearer / name).write_bytes(data.replace(b"0.42", b"0.43"))
    assert read_stock(saved).digest == read_stock().digest
    assert read_stock(dearer).digest != read_stock().digest
