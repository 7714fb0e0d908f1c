"""Why there is no plan where devices stand between battery and dials: faults of ways, and ways out.

The demo with key and fuses, and the day boat, each with one fault; every suggestion is written into
the file and planned.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from support.explaining import SCENARIOS, assert_irreducible, has_plan, members_of

from lugwright.pipeline import holding, read_inputs
from lugwright.routes.build import build_routes
from lugwright.studies.question import Prober
from lugwright.studies.question_variants import Asking
from lugwright.studies.why_not import why_not
from lugwright.studies.words import why_lines

KEYED = SCENARIOS / "key-fuses-dimmer.toml"
DAY_BOAT = Path(__file__).parents[1] / "scenario" / "consoles" / "day-boat.toml"
IGN = 'to = ["ign"], kind = "switch", closed = ["on", "start"], '


def with_fault(file: Path, was: str, now: str, folder: Path) -> Path:
    """The scenario with one thing written otherwise."""
    text = file.read_text(encoding="utf-8")
    assert text.count(was) == 1
    path = folder / "changed.toml"
    path.write_text(text.replace(was, now), encoding="utf-8")
    return path


# file, as it stands, the fault, what is named, what a line says, the way out, one step less
FAULTS = [
    (
        KEYED,
        f'{IGN}carries = "15 A"',
        f'{IGN}carries = "5 A"',
        {"current limit of a way"},
        "a switch at key.ign that carries 11.5 A",
        f'{IGN}carries = "11.5 A"',
        f'{IGN}carries = "11 A"',
    ),
    (
        KEYED,
        'f3 = "7.5 A"',
        'f3 = "3 A"',
        {"fuse rating", "load_share"},
        "a 5 A fuse at fuses.f3",
        'f3 = "5 A"',
        'f3 = "4 A"',
    ),
    (
        KEYED,
        f'{IGN}carries = "15 A"',
        f'{IGN}contact = "0.2 ohm", carries = "15 A"',
        {"contact of a way", "drop_critical"},
        "a switch at key.ign with a contact of 0.05 ohm",
        f'{IGN}contact = "0.05 ohm", carries = "15 A"',
        f'{IGN}contact = "0.06 ohm", carries = "15 A"',
    ),
    (
        KEYED,
        'carries_in = "20 A"',
        'carries_in = "5 A"',
        {"current limit of near posts"},
        "a key whose near posts carry 9.5 A",
        'carries_in = "9.5 A"',
        'carries_in = "9 A"',
    ),
    (  # with a momentary load behind it, the fuse can be taken away all the same
        DAY_BOAT,
        'fuse = "20 A"',
        'fuse = "5 A"',
        {"fuse rating"},
        "a 10 A fuse at pigtail battery",
        'fuse = "10 A"',
        'fuse = "6 A"',
    ),
]


@pytest.mark.parametrize(
    ("file", "was", "fault", "named", "line", "out", "less"),
    [*FAULTS[:2], *(pytest.param(*fault, marks=pytest.mark.slow) for fault in FAULTS[2:])],
)
def test_faults_of_ways_are_named_with_the_least_change(
    tmp_path: Path,
    file: Path,
    was: str,
    fault: str,
    named: set[str],
    line: str,
    out: str,
    less: str,
) -> None:
    """What cannot hold together, in words; as the way out says there is a plan, with less none."""
    question = read_inputs(with_fault(file, was, fault, tmp_path))
    why = why_not(question)
    assert members_of(why) == [named]
    assert_irreducible(question, why, build_routes)
    assert line in "\n".join(why_lines(why))
    assert has_plan(with_fault(file, was, out, tmp_path))
    assert not has_plan(with_fault(file, was, less, tmp_path))


def test_no_device_is_passed_round_and_no_take_off_is_loosened() -> None:
    """No step makes a way always closed, joins posts or empties a holder."""
    question = read_inputs(KEYED)
    asking = Asking(question, Prober())
    assert "way_take_off" not in asking.every
    before = question.console
    for one in asking.every.values():
        for value in one.values[:3]:
            after = one.step(question, value).console
            assert [(w.near, w.far, w.closed, w.is_empty) for w in after.ways] == [
                (w.near, w.far, w.closed, w.is_empty) for w in before.ways
            ]
            assert [(p.id, p.circuit, p.link) for p in after.posts] == [
                (p.id, p.circuit, p.link) for p in before.posts
            ]


def test_no_fuse_is_suggested_above_what_a_motors_maker_names() -> None:
    """The pump behind fuses.f3 names 7.5 A; the pigtail has all loads behind it, the pump too."""
    steps = Asking(read_inputs(KEYED), Prober()).every["fuse rating"].values
    assert max(rating for place, rating in steps if place == "fuses.f3") == 5_000
    assert max(rating for place, rating in steps if place == "fuses.f1") > 7_500
    assert any(place == "pigtail battery" for place, _ in steps)


def test_a_far_posts_only_jumper_that_is_held_off_is_named() -> None:
    """Where it would run, and that the hold is what stands in the way."""
    question = holding(read_inputs(KEYED), {"no-jumper": "key.ign>fuses.in"})
    lines = "\n".join(why_lines(why_not(question)))
    assert "fuses.in > key.ign: this jumper is wanted, held off" in lines
    assert "possible with no jumper fuses.in > key.ign not held" in lines
