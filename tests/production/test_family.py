"""A family against every combination of every variant's ways, and its plans against the checker."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import product
from pathlib import Path
from random import Random

import pytest
from click.testing import CliRunner
from support.ways import Ways, all_ways, small_text

from lugwright.base.errors import BadInput
from lugwright.cli.main import cli
from lugwright.outputs.plan_json import read_plan
from lugwright.pipeline import make_plan, read_inputs
from lugwright.plans.outcome import Ending
from lugwright.production.family import Family, distinct_parts, plan_family, shared_rows
from lugwright.production.family_file import read_family
from lugwright.scenario.brief import Brief

SKIFF = Path(__file__).parents[2] / "scenarios" / "sandbar-skiff.toml"


def family_file(folder: Path, variants: list[tuple[str, list[str], int]], price: str) -> Path:
    """A family of ``small.toml``: name, what is left out, boats."""
    lines = [f'title = "fam"\npart_price = "{price}"']
    for name, without, boats in variants:
        lines.append(
            f'[[variant]]\nname = "{name}"\nscenario = "small.toml"\n'
            f"without = {json.dumps(without)}\nboats = {boats}"
        )
    path = folder / "family.toml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def planned(path: Path, hub: str = "") -> tuple[Family, list[Brief]]:
    """The family of a file, and the inputs of its variants."""
    family = read_family(path)
    inputs = [
        read_inputs(variant.scenario, settings=("objective=cheapest",))
        for variant in family.variants
    ]
    return plan_family(family, inputs, hub=hub), inputs


def by_trying(variants: list[tuple[Ways, int]], part_micro: int) -> int:
    """The least cost of the family over every hub and every combination of ways."""
    hubs = set.intersection(*(set(ways.by_hub) for ways, _ in variants))
    costs = []
    for hub in hubs:
        total = sum(ways.given * boats for ways, boats in variants)
        for circuit in range(len(variants[0][0].by_hub[hub])):
            tables = [
                [(parts, money * boats) for parts, money in ways.by_hub[hub][circuit].items()]
                for ways, boats in variants
            ]
            total += min(
                sum(money for _, money in picked)
                + part_micro * len(frozenset[str]().union(*(parts for parts, _ in picked)))
                for picked in product(*tables)
            )
        costs.append(total)
    return min(costs)


@pytest.mark.parametrize("seed", range(6))
def test_equals_every_combination_of_ways(tmp_path: Path, seed: int) -> None:
    """Three dials with two options, the price of a part from nothing to more than a boat."""
    random = Random(seed)
    (tmp_path / "small.toml").write_text(small_text(seed), encoding="utf-8")
    left_out = random.choice(["d0", "d1", "d2"])
    variants = [("all", [], random.randint(1, 5)), ("less", [left_out], random.randint(1, 5))]
    price = random.choice(["0", "0.2", "2", "40"])
    found, inputs = planned(family_file(tmp_path, variants, price))
    ways = [(all_ways(own), boats) for own, (_, _, boats) in zip(inputs, variants, strict=True)]
    assert found.ending is Ending.PROVED
    assert found.cost_micro == by_trying(ways, found.part_micro)
    assert found.cost_micro == found.bound_micro


def test_a_family_of_one_is_the_plain_plan(tmp_path: Path) -> None:
    """With a free part the money of the only variant is that of its own cheapest plan."""
    (tmp_path / "small.toml").write_text(small_text(3), encoding="utf-8")
    found, inputs = planned(family_file(tmp_path, [("only", [], 7)], "0"))
    plain = make_plan(inputs[0]).plan
    assert plain is not None
    assert found.cost_micro == 7 * plain.totals.money_micro
    assert found.members[0].plan.totals.money_micro == plain.totals.money_micro
    assert found.alone_micro == found.cost_micro


def test_plans_are_checked_and_add_up(tmp_path: Path) -> None:
    """Every plan passes the checker; mix, parts and labels are those the plans show."""
    variants = [("full", [], 10), ("no-depth", ["depth"], 30), ("plain", ["depth", "fuel"], 5)]
    (tmp_path / "small.toml").write_text(SKIFF.read_text("utf-8"), encoding="utf-8")
    found, _ = planned(family_file(tmp_path, variants, "1.50"))
    assert all(member.report.passed for member in found.members)
    assert {member.plan.hub for member in found.members} == {found.hub}
    parts = set().union(*(distinct_parts(member.plan) for member in found.members))
    assert len(parts) == found.parts
    money = sum(member.boats * member.plan.totals.money_micro for member in found.members)
    assert found.cost_micro == money + found.parts * found.part_micro
    assert found.cost_micro <= found.alone_micro
    labels: dict[object, set[str]] = {}
    for member in found.members:
        for piece in member.plan.jumpers:
            key = next(iter(distinct_parts(member.plan.model_copy(update={"jumpers": (piece,)}))))
            labels.setdefault(key, set()).add(piece.label)
    assert all(len(names) == 1 for names in labels.values())
    assert len(shared_rows(found)) == found.parts


def test_a_held_hub_is_kept_and_never_cheaper(tmp_path: Path) -> None:
    """Holding another hub gives that hub, at no less cost."""
    (tmp_path / "small.toml").write_text(small_text(1), encoding="utf-8")
    path = family_file(tmp_path, [("all", [], 2), ("less", ["d2"], 3)], "2")
    free, _ = planned(path)
    for hub in ("d0", "d1"):
        held, _ = planned(path, hub)
        assert held.hub == hub
        assert held.cost_micro >= free.cost_micro


def test_no_common_hub_is_said(tmp_path: Path) -> None:
    """Variants that share no instrument have no family."""
    (tmp_path / "small.toml").write_text(small_text(1), encoding="utf-8")
    path = family_file(tmp_path, [("one", ["d1", "d2"], 1), ("two", ["d0"], 1)], "2")
    found, _ = planned(path)
    assert found.ending is Ending.IMPOSSIBLE
    assert "hub of every variant" in found.note


def test_the_command_writes_a_folder_for_each(tmp_path: Path) -> None:
    """Plan folders by variant, the scenario of a variant with something left out, and JSON."""
    (tmp_path / "small.toml").write_text(small_text(2), encoding="utf-8")
    path = family_file(tmp_path, [("all", [], 2), ("less", ["d2"], 3)], "2")
    out = tmp_path / "out"
    told = CliRunner().invoke(cli, ["family", str(path), "--out", str(out), "-q"])
    assert told.exit_code == 0, told.output
    assert sorted(one.name for one in out.iterdir()) == ["all", "less", "less.toml"]
    assert read_plan(out / "less").family == "fam"
    again = ["check", str(out / "less.toml"), str(out / "less"), "--set", "objective=cheapest"]
    assert CliRunner().invoke(cli, again).exit_code == 0
    data = json.loads(CliRunner().invoke(cli, ["family", str(path), "--json", "-q"]).stdout)
    assert data["hub"] == read_plan(out / "all").hub


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ('titel = "x"', 'did you mean "title"'),
        ('part_price = "-1"', "amount"),
        ('[[variant]]\nname = "A b"\nscenario = "small.toml"', "not a name for a variant"),
        ('[[variant]]\nname = "all"\nscenario = "small.toml"', "name of two variants"),
        ('[[variant]]\nname = "b"\nscenario = "small.toml"\nboats = 0', "is 0"),
        ('[[variant]]\nname = "b"\nscenario = "small.toml"\nwithout = ["d9"]', "not an instrument"),
        ('[[variant]]\nname = "b"\nscenario = "none.toml"', "no such file"),
        ('[[variant]]\nname = "b"', "is missing"),
    ],
)
def test_a_bad_family_is_told(tmp_path: Path, line: str, message: str) -> None:
    """Each fault with its place and what is allowed."""
    (tmp_path / "small.toml").write_text(small_text(1), encoding="utf-8")
    path = family_file(tmp_path, [("all", [], 2)], "2")
    text = path.read_text("utf-8")
    if line.startswith("[["):
        text += line + "\n"
    else:
        key = line.partition(" ")[0]
        text = "\n".join([line, *(x for x in text.splitlines() if not x.startswith(key))])
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as fault:
        read_family(path)
    assert message in str(fault.value)


def test_a_variant_that_holds_something_is_refused(tmp_path: Path) -> None:
    """A hold of one variant would be a hold of the family; it is not guessed."""
    text = small_text(1) + '[[hold]]\nhub = "d1"\n'
    (tmp_path / "small.toml").write_text(text, encoding="utf-8")
    path = family_file(tmp_path, [("all", [], 2)], "2")
    with pytest.raises(BadInput, match="holds nothing"):
        planned(path)


def test_two_parts_under_one_label_are_refused(tmp_path: Path) -> None:
    """Rows of a family whose plans were changed by hand to disagree are not printed."""
    (tmp_path / "small.toml").write_text(small_text(1), encoding="utf-8")
    found, _ = planned(family_file(tmp_path, [("all", [], 2), ("less", ["d2"], 1)], "50"))
    first = found.members[0]
    piece = first.plan.jumpers[0]
    other = piece.model_copy(update={"length_dmm": piece.length_dmm + 50})
    plan = first.plan.model_copy(update={"jumpers": (other, *first.plan.jumpers[1:])})
    shared = [m for m in found.members[1:] if piece.label in {x.label for x in m.plan.jumpers}]
    if not shared:
        shared = [replace(first, name="twin")]
    with pytest.raises(RuntimeError, match="two different parts"):
        shared_rows(replace(found, members=(replace(first, plan=plan), *shared)))
