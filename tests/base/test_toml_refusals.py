"""TOML that would keep the reader busy, fill the memory, or wait for ever is refused at once."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.toml import MAX_DEPTH, MAX_KEY_PARTS, parse_toml, read_toml


def fault_of(text: str) -> Complaint:
    """The one complaint a text is refused with."""
    with pytest.raises(BadInput) as caught:
        parse_toml(text.encode(), "test.toml")
    (complaint,) = caught.value.complaints
    return complaint


@pytest.mark.parametrize(
    "key",
    [
        "a" + ".a" * 400_000,
        "a" + " . a" * MAX_KEY_PARTS,
        '"a"' + ".'b'" * MAX_KEY_PARTS,
    ],
    ids=["bare", "spaced", "quoted"],
)
@pytest.mark.parametrize("form", ["{} = 1", "[{}]", "x = {{ {} = 1 }}"])
def test_a_key_of_very_many_parts_is_refused(key: str, form: str) -> None:
    """Such a key would take the reader's time and memory; it is seen before it is read."""
    complaint = fault_of("title = 'x'\n" + form.format(key))
    assert complaint.line == 2
    assert "a key has more than" in complaint.message


def test_a_key_of_a_few_parts_is_read() -> None:
    """The longest key that is allowed, and a text that only looks like a longer one."""
    key = ".".join(["a"] * MAX_KEY_PARTS)
    toml = parse_toml(f"{key} = 1\n".encode(), "test.toml")
    assert toml.place(("a",) * MAX_KEY_PARTS) == (1, 2 * MAX_KEY_PARTS - 1)
    words = "w" * 500_000
    assert parse_toml(f'x = "{words}"'.encode(), "test.toml").values == {"x": words}


@pytest.mark.parametrize(("opening", "closing"), [("[", "]"), ("{ a = ", "}")])
def test_deep_nesting_is_refused_at_its_place(opening: str, closing: str) -> None:
    """Nesting the reader survives is still refused when no scenario could be meant by it."""
    complaint = fault_of("x = " + opening * (MAX_DEPTH + 1) + "1" + closing * (MAX_DEPTH + 1))
    assert "nested too deep" in complaint.message
    assert complaint.line == 1


@pytest.mark.parametrize("number", ["9223372036854775808", "-1" + "0" * 4000, "0x1" + "0" * 9000])
def test_a_number_beyond_64_bits_is_refused_at_its_place(number: str) -> None:
    """TOML's whole numbers have 64 bits; longer ones cannot even be shown."""
    complaint = fault_of(f"a = 1\n[part]\nlist = [1, {number}]")
    assert (complaint.line, complaint.column, complaint.field) == (3, 12, "part, list, 2")
    assert "too many digits" in complaint.message


def test_the_largest_whole_number_is_read() -> None:
    """The ends of the range belong to it."""
    text = f"a = {2**63 - 1}\nb = {-(2**63)}"
    assert parse_toml(text.encode(), "test.toml").values == {"a": 2**63 - 1, "b": -(2**63)}


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_named_pipe_is_refused_without_waiting(tmp_path: Path) -> None:
    """Nobody may ever write into the pipe; the reader does not wait for it."""
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    with pytest.raises(BadInput, match="a pipe or a device, not a file"):
        read_toml(pipe)


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="this system has no /dev/zero")
def test_a_device_is_refused() -> None:
    """A device that never ends is no file."""
    with pytest.raises(BadInput, match="a pipe or a device, not a file"):
        read_toml("/dev/zero")


def test_a_comment_behind_a_value_is_not_taken_for_it() -> None:
    """The place of a value is where the value stands, whatever stands behind it."""
    toml = parse_toml(b'rule_set = "own"      # a comment\nx = [1, 2]  # another\n', "test.toml")
    assert toml.value_place(("rule_set",)) == (1, 12)
    assert toml.value_place(("x",)) == (2, 5)
    assert toml.value_place(("x", 1)) == (2, 9)
