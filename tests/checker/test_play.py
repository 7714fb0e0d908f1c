"""The printed steps on the virtual panel: one step out of place, exactly that rule is named."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from support.plan_edits import edit, judge, rules, step_rows, with_steps
from support.wired_by_hand import SPADE, hand_plan

from lugwright.checker.finding import Report

Row = tuple[str, str, str, tuple[str, ...]]
Rows = list[Row]


def find(rows: Rows, verb: str, target: str, *parts: str) -> int:
    """Where a step stands."""
    return next(
        index
        for index, row in enumerate(rows)
        if row[1:3] == (verb, target) and (not parts or row[3] == parts)
    )


def moved(what: tuple[str, ...], before: tuple[str, ...]) -> Callable[[], Rows]:
    """The steps with one of them moved in front of another."""

    def make() -> Rows:
        rows = step_rows()
        row = rows.pop(find(rows, *what))
        rows.insert(find(rows, *before), row)
        return rows

    return make


def left_out(*what: str) -> Callable[[], Rows]:
    """The steps with one left out."""

    def make() -> Rows:
        rows = step_rows()
        del rows[find(rows, *what)]
        return rows

    return make


def twice(*what: str) -> Callable[[], Rows]:
    """The steps with one done twice in a row."""

    def make() -> Rows:
        rows = step_rows()
        index = find(rows, *what)
        rows.insert(index, rows[index])
        return rows

    return make


def restaged(stage: str, *what: str) -> Callable[[], Rows]:
    """The steps with one printed under another stage, where it stands."""

    def make() -> Rows:
        rows = step_rows()
        index = find(rows, *what)
        rows[index] = (stage, *rows[index][1:])
        return rows

    return make


def reparted(parts: tuple[str, ...], *what: str) -> Callable[[], Rows]:
    """The steps with one that names other parts."""

    def make() -> Rows:
        rows = step_rows()
        index = find(rows, *what)
        rows[index] = (*rows[index][:3], parts)
        return rows

    return make


SHUFFLES: dict[str, tuple[Callable[[], Rows], set[str]]] = {
    "as it should be": (step_rows, set()),
    "crimped before it is cut": (
        moved(("crimp", "6"), ("cut", "ground 1")), {"step order"},
    ),
    "landed before it is crimped": (
        moved(("land", "dial1.ground"), ("crimp", "3")), {"step order"},
    ),
    "upper lug first": (
        moved(("land", "dial1.ignition", "2"), ("land", "dial1.ignition", "1")),
        {"step order", "step end"},
    ),
    "live cap after cutting": (moved(("cap", "radio"), ("cut", "lamps 1")), {"step order"}),
    "dead cap before live": (moved(("cap", "tachometer"), ("cap", "radio")), {"step order"}),
    "lug under a closed nut": (
        moved(("nut snug", "dial1.ignition"), ("land", "dial1.ignition", "2")),
        {"step nut", "step order"},
    ),
    "aboard lug under the loose nut": (left_out("nut off", "dial2.ground"), {"step nut"}),
    "bench nut run down with a sender to come": (
        lambda: [
            (row[0], "nut snug", row[2], row[3]) if row[1] == "nut loose" else row
            for row in step_rows()
        ],
        {"step nut", "step order"},
    ),
    "sender landed at the bench": (
        restaged("bench", "land", "dial2.signal"), {"step stage"},
    ),
    "sender crimped at the bench": (restaged("bench", "crimp", "8"), {"step stage"}),
    "cutting aboard": (restaged("aboard", "cut", "ground 1"), {"step stage", "step nut"}),
    "nut run down twice": (twice("nut snug", "dial1.ground"), {"step nut"}),
    "nut forgotten at the bench": (left_out("nut snug", "dial1.ground"), {"step nut"}),
    "nut forgotten aboard": (left_out("nut snug", "dial2.signal"), {"step nut"}),
    "loose nut forgotten": (left_out("nut loose", "dial2.ground"), {"step nut"}),
    "washer forgotten": (left_out("washer", "dial1.ground"), {"step nut"}),
    "washer twice": (twice("washer", "dial1.ground"), {"step nut"}),
    "washer under a lug": (
        moved(("washer", "dial1.ignition"), ("land", "dial1.ignition", "2")), {"step nut"},
    ),
    "cut forgotten": (left_out("cut", "lamps 2"), {"step order", "step end"}),
    "cut twice": (twice("cut", "lamps 2"), {"step order"}),
    "crimp forgotten": (left_out("crimp", "7"), {"step order", "step end"}),
    "crimped twice": (twice("crimp", "7"), {"step order"}),
    "an end forgotten in a crimp": (
        reparted(("ignition 1-a",), "crimp", "1"), {"step order"},
    ),
    "push-on forgotten": (left_out("push on", "dial2.lamp"), {"step end"}),
    "push-on twice": (twice("push on", "dial2.lamp"), {"step order"}),
    "push-on of another tab": (reparted(("7",), "push on", "dial1.lamp"), {"names"}),
    "lug forgotten": (
        left_out("land", "dial1.ignition", "2"), {"step order", "step end"},
    ),
    "lug landed twice": (twice("land", "dial1.ground"), {"step order", "step end"}),
    "lug of another stud": (reparted(("2",), "land", "dial1.ground"), {"names", "step order",
                                                                       "step end"}),
    "cap forgotten": (left_out("cap", "tachometer"), {"step end"}),
    "live cap forgotten": (left_out("cap", "radio"), {"step end", "step order"}),
    "another cap": (reparted(("ring 16-14",), "cap", "radio"), {"step order"}),
    "boot on a dead stud": (
        lambda: [*step_rows()[:-1], ("aboard", "boot", "dial1.ground", ()), step_rows()[-1]],
        {"step order"},
    ),
    "tie that is not planned": (
        lambda: [*step_rows()[:-1], ("aboard", "tie", "loom", ("2",)), step_rows()[-1]],
        {"step end"},
    ),
    "unknown verb": (
        lambda: [*step_rows(), ("key-on", "paint", "dial1", ())], {"names"},
    ),
    "work at key-on": (restaged("key-on", "nut snug", "dial2.signal"), {"step stage"}),
    "test with an open nut": (
        moved(("test", "all"), ("nut snug", "dial2.signal")), {"step nut", "step stage"},
    ),
}  # fmt: skip


@pytest.mark.parametrize("shuffle", SHUFFLES)
def test_shuffled_steps(shuffle: str) -> None:
    """Steps that are shuffled, forgotten or doubled break exactly these rules."""
    make, expected = SHUFFLES[shuffle]
    assert rules(judge(with_steps(make()))) == expected


def test_bench_work_left_until_aboard() -> None:
    """A step of the bench after one of aboard is out of its stage."""
    rows = moved(("push on", "dial2.lamp"), ("land", "dial2.ground", "8"))()
    report = judge(with_steps(rows))
    assert rules(report) == {"step stage"}
    assert [finding.place for finding in report.findings] == ["step 31, push on dial2.lamp"]


def test_step_numbers_run_on() -> None:
    """Steps are numbered from 1 without a gap."""
    plan = edit(hand_plan(), "steps", lambda step: step.number == 5, number=50)
    assert rules(judge(plan)) == {"step order"}


def spade_report(rows: Rows) -> Report:
    """The report when the sender's ground has a captive spade."""
    plan = edit(with_steps(rows), "crimps", lambda crimp: crimp.number == 8,
                item=SPADE, kind="captive spade")  # fmt: skip
    return judge(plan)


def test_captive_spade_slips_under_a_loose_nut() -> None:
    """A captive spade goes on with the nut only loosened; a ring does not."""
    rows = [
        row
        for row in step_rows()
        if row[:3] not in (("aboard", "nut off", "dial2.ground"),
                           ("aboard", "washer", "dial2.ground"))
    ]  # fmt: skip
    assert "step nut" not in rules(spade_report(rows))
    assert rules(judge(with_steps(rows))) == {"step nut"}


def test_a_spade_alone_slips_under_the_washer_put_on_at_the_bench() -> None:
    """Washer and nut may wait loosely on a bare stud for a captive spade, not for a ring."""
    late = ("aboard", "washer", "dial2.signal")
    rows = [row for row in step_rows() if row[:3] != late]
    place = find(rows, "push on", "dial2.lamp")
    rows[place:place] = [
        ("bench", "washer", "dial2.signal", ()),
        ("bench", "nut loose", "dial2.signal", ()),
    ]
    plan = edit(with_steps(rows), "crimps", lambda crimp: crimp.number == 9,
                item=SPADE, kind="captive spade")  # fmt: skip
    assert "step nut" not in rules(judge(plan))
    assert rules(judge(with_steps(rows))) == {"step nut"}


def with_look(target: str, post: str) -> Rows:
    """The steps with a last look at the bench, before anything is done aboard."""
    rows = step_rows()
    rows.insert(find(rows, "crimp", "8"), ("bench", "test", target, (post,)))
    return rows


@pytest.mark.parametrize(
    ("target", "post", "expected"),
    [
        ("left loose", "dial2.ground", set()),
        ("left loose", "dial1.ground", {"step nut"}),
        ("left bare", "dial1.second", set()),
        ("left bare", "dial1.ground", {"step order"}),
        ("left bare", "dial1.lamp", {"step order"}),
    ],
)
def test_what_is_said_to_be_left_is_left(target: str, post: str, expected: set[str]) -> None:
    """A nut said to be loose is not snug, a post said to be bare gets nothing."""
    assert rules(judge(with_steps(with_look(target, post)))) == expected


def test_steps_of_nothing() -> None:
    """A plan without steps: everything is missing in the end."""
    report = judge(with_steps([]))
    assert rules(report) == {"step end", "step nut"}
    undone = {finding.place for finding in report.findings if finding.rule == "step end"}
    assert {"ground 1", "9", "dial1.lamp", "radio", "dial2.ground"} <= undone
