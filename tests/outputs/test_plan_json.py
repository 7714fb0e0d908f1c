"""``plan.json`` written and read."""

import json
from pathlib import Path

import pytest
from support.made_plan import small_plan

from lugwright.base.errors import BadInput
from lugwright.outputs.plan_json import plan_text, read_plan, write_plan


def test_round_trip(tmp_path: Path) -> None:
    """A plan read back is the plan that was written, from its file and from its folder."""
    write_plan(small_plan(), tmp_path / "plan.json")
    assert read_plan(tmp_path / "plan.json") == small_plan()
    assert read_plan(tmp_path) == small_plan()


def test_bytes_do_not_depend_on_the_order_of_facts(tmp_path: Path) -> None:
    """Keys are sorted, lines end in LF, the file ends with one newline."""
    turned = small_plan(inputs={"scenario": "a" * 64, "stock": "b" * 64})
    assert plan_text(turned) == plan_text(small_plan())
    write_plan(small_plan(title="Möwe"), tmp_path / "plan.json")
    raw = (tmp_path / "plan.json").read_bytes()
    assert b"\r" not in raw and raw.endswith(b"}\n")
    assert "Möwe".encode() in raw
    keys = list(json.loads(raw))
    assert keys == sorted(keys)


def fault(file: Path) -> str:
    """What is said about a file that is not a plan."""
    with pytest.raises(BadInput) as caught:
        read_plan(file)
    return str(caught.value)


def test_missing_file_is_named(tmp_path: Path) -> None:
    """A file that is not there is a fault of the call."""
    assert "nowhere.json: there is no such file" in fault(tmp_path / "nowhere.json")


def test_a_file_far_too_large_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The size is looked at before the file is."""
    file = tmp_path / "plan.json"
    write_plan(small_plan(), file)
    monkeypatch.setattr("lugwright.outputs.plan_json.MOST_BYTES", file.stat().st_size - 1)
    assert "the file is too large: at most" in fault(file)
    monkeypatch.setattr("lugwright.outputs.plan_json.MOST_BYTES", file.stat().st_size)
    assert read_plan(file) == small_plan()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"{", "plan.json:1:2: is not JSON"),
        (b"\xff\xfe", "is not text in UTF-8"),
        (b"[]", "is not a plan: it states no format"),
        (b'{"title": "a"}', "is not a plan: it states no format"),
        (b'{"title": "a", "title": "b"}', '"title" is stated twice'),
        (b'{"format": 99}', "format: is 99, this program reads format 3"),
        (b'{"format": true}', "format: is True, this program reads format 3"),
        (b'{"format": 3}', "title: Field required"),
        (b"[" * 100_000, "is not a plan"),
    ],
)
def test_what_is_no_plan_is_refused(tmp_path: Path, content: bytes, said: str) -> None:
    """Broken JSON, doubled facts and later formats each get their own words."""
    file = tmp_path / "plan.json"
    file.write_bytes(content)
    assert said in fault(file)


def test_every_fault_is_told_with_its_place(tmp_path: Path) -> None:
    """Two faults in one plan are both told, each with the entry it is in."""
    data = json.loads(plan_text(small_plan()))
    data["jumpers"][2]["length_dmm"] = "long"
    data["stacks"][0]["extra"] = 1
    file = tmp_path / "edited.json"
    file.write_text(json.dumps(data), encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        read_plan(file)
    assert {complaint.field for complaint in caught.value.complaints} == {
        "jumpers, entry 3, length_dmm",
        "stacks, entry 1, extra",
    }


def test_a_number_written_as_text_is_refused(tmp_path: Path) -> None:
    """Nothing is guessed: a length in quotes is not a length."""
    data = json.loads(plan_text(small_plan()))
    data["totals"]["wire_dmm"] = "14035"
    file = tmp_path / "edited.json"
    file.write_text(json.dumps(data), encoding="utf-8")
    assert "totals, wire_dmm: Input should be a valid integer" in fault(file)
