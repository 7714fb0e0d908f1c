"""Reading TOML: refusals, and the place of every key and value."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lugwright.base.errors import BadInput
from lugwright.base.toml import MAX_BYTES, TomlFile, parse_toml, read_toml

TEXT = """\
# é comes before
title = "é"
a.b."c d" = 1
x = { "é" = 1, y = [ "a", # a comment
  { k = 2 } ] }
[[part]]
n = 1
[part.own]
h = 2
[[part.list]]
q = 1
[[part.list]]
q = 2
[[part]]
n = 3
[[part.list]]
q = ["é", "b"]
"""


@pytest.fixture(name="toml")
def fixture_toml() -> TomlFile:
    """A file with every way of writing a key."""
    return parse_toml(TEXT.encode(), "test.toml")


@pytest.mark.parametrize(
    ("path", "key_place", "value_place"),
    [
        (("title",), (2, 1), (2, 9)),
        (("a", "b", "c d"), (3, 5), (3, 13)),
        (("x", "é"), (4, 7), (4, 13)),
        (("x", "y"), (4, 16), (4, 20)),
        (("x", "y", 0), (4, 22), (4, 22)),
        (("x", "y", 1, "k"), (5, 5), (5, 9)),
        (("part", 0, "n"), (7, 1), (7, 5)),
        (("part", 0, "own", "h"), (9, 1), (9, 5)),
        (("part", 0, "list", 1, "q"), (13, 1), (13, 5)),
        (("part", 1), (14, 3), (14, 3)),
        (("part", 1, "list", 0, "q", 1), (17, 11), (17, 11)),
    ],
)
def test_places(
    toml: TomlFile,
    path: tuple[str | int, ...],
    key_place: tuple[int, int],
    value_place: tuple[int, int],
) -> None:
    """Keys and values are found, columns counted in characters, not bytes."""
    assert key_place == toml.place(path)
    assert value_place == toml.value_place(path)


def test_missing_path_gives_nearest_parent(toml: TomlFile) -> None:
    """A key that is not there has the place of what should hold it."""
    assert toml.place(("part", 1)) == toml.place(("part", 1, "m", 3, "z"))
    assert toml.place(("nowhere", "at", "all")) == (1, 1)
    assert toml.place(()) == (1, 1)


@pytest.mark.parametrize(
    ("data", "line", "column", "words"),
    [
        (b"a = [1", 1, 7, "Unclosed array"),
        (b"a = 1\na = 2\n", 2, 6, "Cannot overwrite"),
        (b"x = 3-3/8", 1, 6, "Expected newline"),
        (b"ok = 1\nb = \xff", 2, 5, "UTF-8"),
        (b"", 0, 0, "empty"),
        (b" \n\t\n", 0, 0, "empty"),
        (b"a = 1\0", 0, 0, "zero bytes"),
        (b"a = " + b"[" * 5000 + b"]" * 5000, 0, 0, "nested too deep"),
        (b"a = " + b"1" * 5000, 0, 0, "too many digits"),
        (b"#" * (MAX_BYTES + 1), 0, 0, "at most 1 MB"),
    ],
)
def test_refusals(data: bytes, line: int, column: int, words: str) -> None:
    """What cannot be read is refused with one complaint that says where and why."""
    with pytest.raises(BadInput) as caught:
        parse_toml(data, "test.toml")
    (complaint,) = caught.value.complaints
    assert (line, column) == (complaint.line, complaint.column)
    assert words in complaint.message


def test_byte_order_mark_is_no_fault() -> None:
    """Files of editors that write a byte order mark are read."""
    assert parse_toml(b"\xef\xbb\xbfa = 1\n", "test.toml").values == {"a": 1}


def test_digest_is_of_the_values(tmp_path: Path) -> None:
    """The SHA-256 of the values as JSON without blanks, as a tool of the system reckons it."""
    path = tmp_path / "a.toml"
    path.write_bytes(b"# one\r\nb = 'x'\r\na=1\r\n")
    summed = subprocess.run(
        ["sha256sum"], input='{"a":1,"b":"x"}', capture_output=True, text=True, check=True
    )
    toml = read_toml(path)
    assert summed.stdout.split()[0] == toml.digest
    assert str(path) == toml.file


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    """No content makes reading fail in any other way than by a complaint."""
    try:
        toml = parse_toml(data, "test.toml")
    except BadInput as refusal:
        assert len(refusal.complaints) == 1
    else:
        for key in toml.values:
            line, column = toml.place((key,))
            assert line >= 1 and column >= 1
