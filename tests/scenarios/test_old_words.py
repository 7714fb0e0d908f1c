"""A file or a call in the words of before is refused, and told the word of today."""

from pathlib import Path

import pytest

from lugwright.cli.main import run

ROOT = Path(__file__).parents[2]
SIX = (ROOT / "scenarios" / "six-dial-console.toml").read_text(encoding="utf-8")
CARRIES = (ROOT / "src" / "lugwright" / "stock" / "tables" / "fittings.csv").read_text(
    encoding="utf-8"
)
RIDES = 'name = "z"\nrides_on = "ignition"'


def refusal(capsys: pytest.CaptureFixture[str], *call: str) -> str:
    """What a call that is at fault is answered with, on one line."""
    assert run(list(call)) == 2
    return " ".join(capsys.readouterr().err.split())


def line_of(text: str, start: str) -> int:
    """The line, from 1, that begins so."""
    return next(n for n, line in enumerate(text.splitlines(), 1) if line.startswith(start))


@pytest.mark.parametrize(
    ("today", "old", "key", "new"),
    [
        ('second = "ignition"', 'second = "none"', 'feeds = { second = "none"', "spare"),
        (
            "feeds = {",
            'posts.ground = { current_limit = "5 A" }\nfeeds = {',
            "posts.ground = { current_limit",
            "carries",
        ),
        ("title =", 'practice = "x"\ntitle =', "practice", "rule_set"),
        ("[[harness]]", "[engine_harness]", "[engine_harness]", "harness"),
        ("[[boat_wires]]", "[[arrives]]", "[[arrives]]", "boat_wires"),
        ('role = "load"', 'kind = "consumer"', "kind", "role"),
        ('role = "load"', 'role = "consumer"', 'role = "consumer"', "load"),
        ('role = "load"', 'role = "sender"', 'role = "sender"', "signal"),
        (
            "[panel]",
            '[[circuit]]\nname = "z"\nrides_on = "ignition"\n[panel]',
            "rides_on",
            "taken_from",
        ),
    ],
)
def test_scenario(
    today: str, old: str, key: str, new: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The fault stands at the old word's line and names the new word."""
    assert today in SIX
    text = SIX.replace(today, old)
    file = tmp_path / "old.toml"
    file.write_text(text, encoding="utf-8")
    said = refusal(capsys, "plan", str(file), "--out", str(tmp_path / "out"))
    assert f"old.toml:{line_of(text, key)}:" in said
    assert f'"{new}"' in said


@pytest.mark.parametrize(
    ("written", "new"),
    [
        ("lock = []", "locked"),
        ('loosening = "held"', "tighten_only"),
        ("held = []", "tighten_only"),
        ('practice = "x"', "rule_set"),
    ],
)
def test_shop(written: str, new: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The shop's keys in a limits file."""
    file = tmp_path / "shop.toml"
    file.write_text(f"[shop]\n{written}\n", encoding="utf-8")
    said = refusal(capsys, "limits", "--limits", str(file))
    assert "shop.toml:2:" in said
    assert f'did you mean "{new}"?' in said


def test_column_of_the_stock(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A fittings table whose column has its old name."""
    table = CARRIES.replace(",carries,", ",current_limit,", 1)
    (tmp_path / "fittings.csv").write_text(table, encoding="utf-8")
    said = refusal(capsys, "stock", "--stock", str(tmp_path))
    assert "fittings.csv:1:" in said
    assert "carries" in said


def test_command(capsys: pytest.CaptureFixture[str]) -> None:
    """A command by its old name."""
    assert 'did you mean "stock"?' in refusal(capsys, "catalogue", "shelf")


def test_option(capsys: pytest.CaptureFixture[str]) -> None:
    """An option by its old name."""
    assert "--rule-set" in refusal(capsys, "limits", "--practice", "x")
