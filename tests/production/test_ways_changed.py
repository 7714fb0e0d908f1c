"""Harnesses with devices that are changed, run and varied: fuses put in, jumpers from far posts."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.plans import SCENARIOS, plan_of

from lugwright.base.errors import BadInput
from lugwright.base.toml import parse_toml
from lugwright.pipeline import check_file, make_plan, read_inputs
from lugwright.plans.outcome import Ending
from lugwright.plans.schema import Plan
from lugwright.production.family import plan_family
from lugwright.production.family_file import read_family
from lugwright.production.revisions import changes_between
from lugwright.production.rework import rework
from lugwright.scenario.brief import Brief

NAME = "key-fuses-dimmer"
TEXT = (SCENARIOS / f"{NAME}.toml").read_text(encoding="utf-8")
HORN = """
[[boat_wires]]
name = "horn"
role = "load"
current = "3 A"
wires = [
  { lands_on = "fuses.f4", wire_size = "14 AWG", colour = "orange" },
  { lands_on = "tachometer.ground", wire_size = "14 AWG", colour = "black" },
]
"""


def changed(*pairs: tuple[str, str], more: str = "") -> Brief:
    """The demo with some words written otherwise, and more at its end."""
    text = TEXT
    for was, now in pairs:
        assert text.count(was) == 1
        text = text.replace(was, now)
    return read_inputs(parse_toml((text + more).encode(), "changed.toml"))


def with_horn() -> Brief:
    """A horn behind the holder that was empty."""
    return changed(
        ('f4 = "spare"', 'f4 = "horn"'),
        ('f3 = "7.5 A" }', 'f3 = "7.5 A", f4 = "5 A" }'),
        (
            '  { name = "pump",',
            '  { name = "horn", supplied_by = "fuses.f4", use = "accessories" },\n'
            '  { name = "pump",',
        ),
        more=HORN,
    )


def jumpers(plan: Plan) -> set[tuple[str, frozenset[str], int]]:
    """A plan's jumpers by circuit, ends and length."""
    return {(j.circuit, frozenset((j.from_joint, j.to_joint)), j.length_dmm) for j in plan.jumpers}


def test_a_fuse_way_added_keeps_every_jumper_and_puts_the_fuse_in() -> None:
    """No jumper is touched; the fuse goes in when all wires are where they belong."""
    old = plan_of(NAME)
    found = rework(with_horn(), old, 1000)
    assert found.ending is Ending.PROVED
    assert found.report is not None and found.report.passed
    assert found.plan is not None and jumpers(found.plan) == jumpers(old)
    assert (found.changes, found.kept) == (0, len(old.jumpers))
    assert found.told is not None
    assert found.told.work[-1] == "Put a fuse of 5 A in at fuses.f4."
    parts = {(one.part, one.place, one.after) for one in found.told.changes}
    assert ("fuse", "fuses.f4", "5 A") in parts
    assert ("way", "fuses.f4", "fuse from fuses.in, supplies horn") in parts


def test_a_jumper_from_a_far_post_that_lands_elsewhere_is_counted_once() -> None:
    """As a jumper made anew or moved, and as no pigtail: the cost adds up."""
    old = make_plan(read_inputs(SCENARIOS / f"{NAME}.toml")).plan
    assert old is not None
    moved = changed(('centre = ["245 mm", "125 mm"]', 'centre = ["245 mm", "150 mm"]'))
    found = rework(moved, old, 10)
    assert found.ending is Ending.PROVED
    assert found.plan is not None
    was = {x.circuit: x.post for x in old.landings if x.pigtail}
    now = {x.circuit: x.post for x in found.plan.landings if x.pigtail}
    assert found.relanded == sum(was[name] != post for name, post in now.items())


def test_another_fuse_is_a_change_and_a_line_of_work() -> None:
    """A rating that changes is told with both ratings; one that goes is taken out."""
    old = plan_of(NAME)
    new = make_plan(changed(('f1 = "5 A"', 'f1 = "10 A"'))).plan
    assert new is not None
    found = changes_between(old, new)
    assert [(c.kind, c.before, c.after) for c in found.changes if c.part == "fuse"] == [
        ("changed", "5 A", "10 A")
    ]
    assert "Change the fuse at fuses.f1: 10 A in place of 5 A." in found.work
    assert "Take the fuse of 5 A out at fuses.f4." in changes_between(
        make_plan(with_horn()).plan or old, old
    ).work


def test_a_family_of_two_fuse_ratings(tmp_path: Path) -> None:
    """One fuse rating differs: one set of jumpers for both, each at its own cost."""
    (tmp_path / "small.toml").write_text(TEXT, encoding="utf-8")
    larger = TEXT.replace('f1 = "5 A"', 'f1 = "10 A"')
    (tmp_path / "large.toml").write_text(larger, encoding="utf-8")
    lines = ['title = "keyed"', 'part_price = "0.5"']
    for name, boats in (("small", 3), ("large", 2)):
        lines += ["[[variant]]", f'name = "{name}"', f'scenario = "{name}.toml"']
        lines.append(f"boats = {boats}")
    path = tmp_path / "family.toml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    family = read_family(path)
    inputs = [read_inputs(v.scenario, settings=("objective=cheapest",)) for v in family.variants]
    found = plan_family(family, inputs)
    assert found.ending is Ending.PROVED
    own = [make_plan(each) for each in inputs]
    money = [run.plan.totals.money_micro for run in own if run.plan]
    assert len(money) == 2
    parts = len(jumpers(own[0].plan)) if own[0].plan else 0
    assert found.cost_micro <= 3 * money[0] + 2 * money[1] + 2 * parts * 500_000


def written(plan: Plan, *pairs: tuple[str, str]) -> str:
    """The plan as a jumper list written by hand, some rows written otherwise."""
    lines = ["circuit,from,to,wire_size,length"]
    lines += [f"{x.circuit},supply,{x.post},," for x in plan.landings if x.pigtail]
    lines += [
        f"{j.circuit},{j.from_joint},{j.to_joint},{j.wire_size},{j.length_dmm / 10} mm"
        for j in plan.jumpers
    ]
    text = "\n".join(lines) + "\n"
    for was, now in pairs:
        assert text.count(was) == 1
        text = text.replace(was, now)
    return text


def test_a_written_list_starts_at_the_far_posts(tmp_path: Path) -> None:
    """Read back it passes; a second jumper from the far post, or one round the fuse, does not."""
    inputs, path = read_inputs(SCENARIOS / f"{NAME}.toml"), tmp_path / "list.csv"
    plan = plan_of(NAME)
    path.write_text(written(plan), encoding="utf-8")
    assert check_file(inputs, path)[1].passed
    second = ("ignition,volts.ignition,fuel.ignition", "ignition,fuses.f1,fuel.ignition")
    path.write_text(written(plan, second), encoding="utf-8")
    report = check_file(inputs, path)[1]
    assert any("jumpers of ignition at fuses.f1" in str(one) for one in report.findings)
    around = ("ignition,fuses.f1,volts.ignition", "ignition,key.ign,volts.ignition")
    path.write_text(written(plan, around), encoding="utf-8")
    with pytest.raises(BadInput, match="is not a post of ignition"):
        check_file(inputs, path)
