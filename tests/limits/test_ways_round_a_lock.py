"""A scenario that tries its ways round a locked limit, and fails in every one of them.

The shop plans by the strict set and has locked the smallest wire at 16 AWG, and the drop of
lamps. Every attempt is for 18 AWG wire, which is in stock in every colour, or for more drop.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from lugwright.cli.main import run

SCENARIO = Path(__file__).parents[2] / "scenarios" / "sandbar-skiff.toml"
SHOP = """rule_set = "strict"
minimum_size = "16 AWG"
[shop]
locked = ["minimum_size", "drop_other"]
"""
LOCKED = "the shop has locked it at 16 AWG (limits file, shop.toml:2)"


@dataclass(frozen=True)
class Attempt:
    """What a scenario adds, what its own files say, how it is called, and what it is told.

    ``rule_set`` is the scenario's own line; ``shop`` False calls without the shop's file, which
    the scenario's file then extends.
    """

    told: str
    text: str = ""
    rule_set: str = ""
    files: dict[str, str] = field(default_factory=dict)
    call: tuple[str, ...] = ()
    shop: bool = True


THIN = 'minimum_size = "18 AWG"\n'
WAIVER = """[[waiver]]
limit = "minimum_size"
place = "ground"
value = "18 AWG"
reason = "we are out of 16"
initials = "AB"
date = 2026-11-25
"""
ATTEMPTS = {
    "its own limits": Attempt(
        f"boat.toml:LINE: limits, minimum_size: {LOCKED}", f"[limits]\n{THIN}"
    ),
    "its own limits, in their group": Attempt(
        f"limits, electricity, minimum_size: {LOCKED}", f"[limits.electricity]\n{THIN}"
    ),
    "a setting of the call": Attempt(
        f"command line: minimum_size: {LOCKED}", call=("--set", "minimum_size=18 AWG")
    ),
    "the same key twice": Attempt(
        "not valid TOML: Cannot overwrite a value", f'[limits]\nminimum_size = "16 AWG"\n{THIN}'
    ),
    "the same limit twice, once in its group": Attempt(
        "this limit is set twice in this file",
        f'[limits]\nminimum_size = "16 AWG"\n[limits.electricity]\n{THIN}',
    ),
    "a file of its own that extends the shop's": Attempt(
        f"mine.toml:1:16: minimum_size: {LOCKED}",
        rule_set="mine.toml",
        files={"mine.toml": f'{THIN}[shop]\nextends = "shop.toml"\n'},
        shop=False,
    ),
    "a file that opens what the shop's closes": Attempt(
        "minimum_size is closed by limits file, shop.toml:4",
        f"[limits]\n{THIN}",
        rule_set="mine.toml",
        files={"mine.toml": '[shop]\nextends = "shop.toml"\nopen = ["minimum_size"]\n'},
        shop=False,
    ),
    "a file of its own beside the shop's": Attempt(
        'the shop plans by "shop.toml", and lets no scenario bring limits of its own',
        rule_set="mine.toml",
        files={"mine.toml": THIN},
    ),
    "a file of its own by the shop's name": Attempt(
        'the shop plans by "shop.toml", and lets no scenario bring limits of its own',
        rule_set="own/shop.toml",
        files={"own/shop.toml": THIN},
    ),
    "another rule set": Attempt(
        '"usual" would set drop_other to 10 %: the shop has locked it at 3 %', rule_set="usual"
    ),
    "another rule set, by the call": Attempt(
        '"usual" would set drop_other to 10 %: the shop has locked it at 3 %',
        call=("--rule-set", "usual"),
    ),
    "a waiver for one circuit": Attempt(
        "waiver 1, limit: minimum_size: locked (limits file, shop.toml:4): it cannot be waived",
        WAIVER,
    ),
    "a shop's table of its own": Attempt(
        "there is no such limit", "[limits.shop]\nlockeded = []\n"
    ),
    "a shop's table in the scenario": Attempt('unknown key "shop"', "[shop]\nlocked = []\n"),
}


def files_of(folder: Path, attempt: Attempt) -> Path:
    """The shop's file, the scenario's own, and the scenario; its path."""
    (folder / "shop.toml").write_text(SHOP, encoding="utf-8")
    for name, text in attempt.files.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    text = SCENARIO.read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith(("rule_set", "#:schema"))]
    if attempt.rule_set:
        lines.insert(0, f'rule_set = "{attempt.rule_set}"')
    boat = folder / "boat.toml"
    boat.write_text("\n".join(lines) + f"\n\n{attempt.text}", encoding="utf-8")
    return boat


def called(folder: Path, attempt: Attempt, *more: str) -> int:
    """The exit code of planning the scenario of an attempt under the shop's limits."""
    boat = str(files_of(folder, attempt))
    shop = ("--limits", str(folder / "shop.toml")) if attempt.shop else ()
    return run(["plan", boat, "--quiet", "--out", str(folder / "out"), *shop, *attempt.call, *more])


@pytest.mark.parametrize("name", ATTEMPTS)
def test_refused_before_anything_is_planned(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 2, the reason with the shop's file and line, and no plan folder."""
    attempt = ATTEMPTS[name]
    assert called(tmp_path, attempt) == 2
    told = capsys.readouterr()
    text = (tmp_path / "boat.toml").read_text(encoding="utf-8").splitlines()
    line = next((n for n, at in enumerate(text, 1) if at == THIN.strip()), 0)
    assert attempt.told.replace("LINE", f"{line}:16") in told.err
    assert told.out == ""
    assert not (tmp_path / "out").exists()


def wires(out: str) -> list[str]:
    """The sizes of every wire cut in a plan printed as JSON."""
    return [jumper["wire_size"] for jumper in json.loads(out)["plan"]["jumpers"]]


def test_a_circuits_own_smaller_minimum_changes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A circuit may ask for thicker wire than the limit, never for thinner."""
    attempt = Attempt("", '[[circuit]]\nname = "ground"\nminimum_size = "18 AWG"\n')
    assert called(tmp_path, attempt, "--json", "--objective", "cheapest") == 0
    sizes = wires(capsys.readouterr().out)
    assert sizes and "18 AWG" not in sizes


def test_a_held_size_below_the_lock_has_no_plan(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A hold is no way past a limit: the held size may not be used, so no plan exists."""
    attempt = Attempt("", call=("--hold", "size=ground: 18 AWG"))
    assert called(tmp_path, attempt, "--no-why") == 3
    assert "the held wire size is not allowed here" in capsys.readouterr().err


def test_thin_wire_labelled_otherwise_is_judged_by_its_area(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A stock table that calls 18 AWG wire 16 AWG does not make it any thicker."""
    stock = tmp_path / "stock"
    assert run(["stock", "--copy-to", str(stock)]) == 0
    table = stock / "conductors.csv"
    head, *rows = table.read_text(encoding="utf-8").splitlines()
    thin = [row.replace(",18 AWG,", ",16 AWG,", 1) for row in rows if ",18 AWG," in row]
    assert thin
    table.write_text("\n".join([head, *thin]) + "\n", encoding="utf-8")
    capsys.readouterr()
    assert called(tmp_path, Attempt("", call=("--stock", str(stock))), "--no-why") == 3
    assert "wire in stock may be used (in stock: 16 AWG; at least 16 AWG" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
