"""A plan folder, written whole or not at all."""

from pathlib import Path

import pytest
from support.made_plan import small_plan

from lugwright.base.errors import BadInput
from lugwright.outputs import whole_folder
from lugwright.outputs.folder import NAMES, check_target, is_plan_folder, write_folder
from lugwright.outputs.kept import SUMS_FILE
from lugwright.outputs.plan_json import read_plan
from lugwright.outputs.shown import ShownPlan


def contents(place: Path) -> dict[str, bytes]:
    """Every file of a folder, but for the list of what was written."""
    return {file.name: file.read_bytes() for file in place.iterdir() if file.name != SUMS_FILE}


def test_folder_holds_every_file_and_nothing_else(tmp_path: Path) -> None:
    """The names returned are the names written; the folder's parents are made."""
    target = tmp_path / "plans" / "skiff"
    names = write_folder(ShownPlan(small_plan()), target)
    assert set(names) == NAMES == set(contents(target))
    assert list(names) == sorted(names)
    assert read_plan(target) == small_plan()
    assert [entry.name for entry in target.parent.iterdir()] == ["skiff"]


def test_same_plan_same_bytes(tmp_path: Path) -> None:
    """Two folders of one plan are the same, byte for byte."""
    write_folder(ShownPlan(small_plan()), tmp_path / "a")
    write_folder(ShownPlan(small_plan()), tmp_path / "b")
    assert contents(tmp_path / "a") == contents(tmp_path / "b")


def test_earlier_plan_is_wholly_replaced(tmp_path: Path) -> None:
    """Not a file of the earlier plan is left, and nothing lies about beside it."""
    target = tmp_path / "skiff"
    write_folder(ShownPlan(small_plan(title="before")), target)
    (target / "fuses.csv").unlink()
    write_folder(ShownPlan(small_plan(title="after")), target)
    assert read_plan(target).title == "after"
    assert set(contents(target)) == NAMES
    assert [entry.name for entry in tmp_path.iterdir()] == ["skiff"]


def test_failure_while_writing_leaves_the_earlier_plan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A disk that fills up half-way costs nothing that stood there before."""
    target = tmp_path / "skiff"
    write_folder(ShownPlan(small_plan(title="before")), target)
    before = contents(target)
    flush, calls = whole_folder.os.fsync, []

    def full(handle: int) -> None:
        calls.append(handle)
        if len(calls) == 5:
            raise OSError(28, "No space left on device")
        flush(handle)

    monkeypatch.setattr(whole_folder.os, "fsync", full)
    with pytest.raises(BadInput, match="No space left on device"):
        write_folder(ShownPlan(small_plan(title="after")), target)
    assert contents(target) == before
    assert [entry.name for entry in tmp_path.iterdir()] == ["skiff"]


def test_failure_of_the_last_rename_puts_the_earlier_plan_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the new folder cannot be put in place, the old one is."""
    target = tmp_path / "skiff"
    write_folder(ShownPlan(small_plan(title="before")), target)
    rename = Path.rename

    def stubborn(self: Path, to: Path) -> Path:
        if "lugwright-new" in self.name:
            raise OSError(16, "Device or resource busy")
        return rename(self, to)

    monkeypatch.setattr(Path, "rename", stubborn)
    with pytest.raises(BadInput, match="busy"):
        write_folder(ShownPlan(small_plan(title="after")), target)
    assert read_plan(target).title == "before"
    assert [entry.name for entry in tmp_path.iterdir()] == ["skiff"]


def test_interruption_between_the_renames_is_healed_next_time(tmp_path: Path) -> None:
    """The earlier folder under its hidden name is put back before anything else is done."""
    target = tmp_path / "skiff"
    write_folder(ShownPlan(small_plan(title="before")), target)
    target.rename(tmp_path / ".skiff.lugwright-old-1")
    (tmp_path / ".skiff.lugwright-new-1").mkdir()
    (tmp_path / ".skiff.lugwright-new-1" / "plan.json").write_text("{", encoding="utf-8")
    write_folder(ShownPlan(small_plan(title="after")), target)
    assert read_plan(target).title == "after"
    assert [entry.name for entry in tmp_path.iterdir()] == ["skiff"]


def test_neighbours_with_like_names_are_left_alone(tmp_path: Path) -> None:
    """Only what this program's own hidden names mark is cleaned away."""
    for name in (".skiff.lugwright-new-backup", ".skiff2.lugwright-new-1", "skiff-old"):
        (tmp_path / name).mkdir()
    write_folder(ShownPlan(small_plan()), tmp_path / "skiff")
    assert sorted(entry.name for entry in tmp_path.iterdir()) == [
        ".skiff.lugwright-new-backup",
        ".skiff2.lugwright-new-1",
        "skiff",
        "skiff-old",
    ]


def test_a_file_in_the_place_is_refused(tmp_path: Path) -> None:
    """A file is never taken for a folder, neither at the place nor above it."""
    file = tmp_path / "skiff"
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(BadInput, match="is a file, not a folder"):
        write_folder(ShownPlan(small_plan()), file)
    with pytest.raises(BadInput, match="which is a file"):
        write_folder(ShownPlan(small_plan()), file / "plan")
    assert file.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    "files",
    [
        {"notes.txt": "mine"},
        {"plan.json": "{}"},
        {"plan.json": '{"format": 1, "made_with": "", "proof": {}}', "photo.jpg": ""},
        {"cut-list.csv": "mine"},
    ],
)
def test_a_strangers_folder_is_never_deleted(tmp_path: Path, files: dict[str, str]) -> None:
    """A folder with a foreign file, or with a plan.json of something else, is refused."""
    target = tmp_path / "work"
    target.mkdir()
    for name, text in files.items():
        (target / name).write_text(text, encoding="utf-8")
    before = contents(target)
    with pytest.raises(BadInput, match="not a plan's"):
        write_folder(ShownPlan(small_plan()), target)
    assert contents(target) == before


def test_a_plan_folder_in_which_somebody_keeps_things_is_still_ours(tmp_path: Path) -> None:
    """What is kept there stays (``test_kept``); without the list of what was written it is not."""
    target = tmp_path / "skiff"
    write_folder(ShownPlan(small_plan()), target)
    (target / "photos").mkdir()
    assert is_plan_folder(target)
    (target / SUMS_FILE).unlink()
    assert not is_plan_folder(target)


def test_an_empty_folder_is_taken(tmp_path: Path) -> None:
    """An empty folder made beforehand is as good as none."""
    (tmp_path / "skiff").mkdir()
    write_folder(ShownPlan(small_plan()), tmp_path / "skiff")
    assert is_plan_folder(tmp_path / "skiff")


def test_the_folder_one_stands_in_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Replacing it would leave the shell in a folder that is gone."""
    (tmp_path / "deep").mkdir()
    monkeypatch.chdir(tmp_path / "deep")
    for place in (Path("."), tmp_path):
        with pytest.raises(BadInput, match="you stand in"):
            check_target(place)


def test_a_link_is_followed(tmp_path: Path) -> None:
    """A link to a plan folder stays a link; the folder behind it is replaced."""
    write_folder(ShownPlan(small_plan(title="before")), tmp_path / "real")
    (tmp_path / "link").symlink_to(tmp_path / "real", target_is_directory=True)
    write_folder(ShownPlan(small_plan(title="after")), tmp_path / "link")
    assert (tmp_path / "link").is_symlink()
    assert read_plan(tmp_path / "real").title == "after"
