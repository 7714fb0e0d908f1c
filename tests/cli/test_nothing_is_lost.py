"""No command writes over what a person filled in, nor over an input, nor unasked over a file."""

from __future__ import annotations

from pathlib import Path

import pytest

from lugwright.cli.main import run

SKIFF = Path(__file__).parents[2] / "scenarios" / "sandbar-skiff.toml"


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The skiff's plan folder."""
    out = tmp_path_factory.mktemp("plans") / "skiff"
    assert run(["plan", str(SKIFF), "--out", str(out), "--quiet"]) == 0
    return out


def test_planning_again_keeps_the_readings(
    planned: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """By ``plan`` and by ``sheets``; the person hears where they are."""
    form = planned / "test-readings.csv"
    filled = form.read_bytes() + b"by hand\n"
    form.write_bytes(filled)
    assert run(["plan", str(SKIFF), "--out", str(planned), "--quiet"]) == 0
    assert "test-readings.kept-1.csv" in capsys.readouterr().err
    assert (planned / "test-readings.kept-1.csv").read_bytes() == filled
    form.write_bytes(filled * 2)
    assert run(["sheets", str(planned)]) == 0
    assert (planned / "test-readings.kept-2.csv").read_bytes() == filled * 2
    assert (planned / "test-readings.kept-1.csv").read_bytes() == filled


@pytest.mark.parametrize(
    ("call", "option"),
    [
        (("hubs", str(SKIFF), "--out", "{out}", "--quiet", "--time", "5"), "--csv"),
        (("lengths", "{plan}"), "--plot"),
        (("spools", "{plan}", "--boats", "2"), "--rest"),
        (("rework", str(SKIFF), "{plan}", "--quiet"), "--sheet"),
    ],
)
def test_a_file_that_stands_is_refused_before_any_work(
    planned: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    call: tuple[str, ...],
    option: str,
) -> None:
    """Exit 2 and one line; with --overwrite it is written; an input never is."""
    words = [word.format(plan=planned, out=tmp_path / "hubs") for word in call]
    mine = tmp_path / "mine.txt"
    mine.write_text("mine", encoding="utf-8")
    assert run([*words, option, str(mine)]) == 2
    assert "is there already" in capsys.readouterr().err
    assert mine.read_text(encoding="utf-8") == "mine"
    given = SKIFF if str(SKIFF) in words else planned / "plan.json"
    before = given.read_bytes()
    assert run([*words, option, str(given), "--overwrite"]) == 2
    assert "is read by this very call" in capsys.readouterr().err
    assert given.read_bytes() == before
    assert run([*words, option, str(mine), "--overwrite"]) == 0
    assert mine.read_bytes() != b"mine"


def test_a_run_of_boats_keeps_what_was_written_in(
    planned: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Offcuts counted by hand, and a list of a person's own."""
    out = tmp_path / "run"
    call = ["kits", str(planned), "--boats", "2", "--out", str(out)]
    assert run(call) == 0
    (out / "who-has-what.txt").write_text("AB: boats 1 and 2", encoding="utf-8")
    changed = next(file for file in sorted(out.iterdir()) if file.suffix == ".csv")
    changed.write_bytes(changed.read_bytes() + b"counted\n")
    capsys.readouterr()
    assert run(call) == 0
    said = capsys.readouterr().err
    assert f"{changed.stem}.kept-1.csv" in said
    assert "who-has-what.txt" in said
    assert (out / f"{changed.stem}.kept-1.csv").read_bytes().endswith(b"counted\n")
    assert (out / "who-has-what.txt").read_text(encoding="utf-8") == "AB: boats 1 and 2"
