"""A harness that is built, changed: against every way to wire the console anew."""

from __future__ import annotations

import json
from collections import Counter
from itertools import combinations
from pathlib import Path
from random import Random

import pytest
from click.testing import CliRunner
from support.ways import Parts, all_ways, small_text

from lugwright.base.toml import parse_toml
from lugwright.cli.main import cli
from lugwright.outputs.folder import write_folder
from lugwright.outputs.shown import ShownPlan
from lugwright.pipeline import make_plan, printed_findings, read_inputs
from lugwright.plans.outcome import Ending
from lugwright.plans.schema import Plan
from lugwright.production.rework import rework
from lugwright.scenario.brief import Brief
from lugwright.scenario.leaving_out import text_without

SKIFF = Path(__file__).parents[2] / "scenarios" / "sandbar-skiff.toml"
Piece = tuple[str, frozenset[str], str, int]


def inputs_of(text: str, *settings: str) -> Brief:
    """Inputs of a scenario's text."""
    return read_inputs(parse_toml(text.encode(), "small.toml"), settings=settings)


def planned(inputs: Brief) -> Plan:
    """Its own best plan."""
    plan = make_plan(inputs).plan
    assert plan is not None
    return plan


def without(text: str, name: str) -> str:
    """The scenario without an instrument."""
    return text_without(parse_toml(text.encode(), "small.toml"), [name], "less")


def parsed(line: str) -> Piece:
    """An enumerator's line ``circuit: a - b, wire, length`` as a piece."""
    circuit, _, rest = line.partition(": ")
    ends, wire, length = rest.split(", ")
    return circuit, frozenset(ends.split(" - ")), wire, int(length)


def fewest_changes(built: list[Piece], used: list[Piece], lost_dmm: int) -> int:
    """Changes between two sets of pieces, moves found by trying every pairing."""
    same = set(built) & set(used)
    left = [piece for piece in built if piece not in same]
    wanted = [piece for piece in used if piece not in same]
    return len(left) + len(wanted) - _most_moves(left, wanted, lost_dmm)


def _most_moves(built: list[Piece], used: list[Piece], lost_dmm: int) -> int:
    if not used:
        return 0
    first, rest = used[0], used[1:]
    best = _most_moves(built, rest, lost_dmm)
    for at, piece in enumerate(built):
        alike = (piece[0], piece[2]) == (first[0], first[2])
        if alike and piece[3] - lost_dmm >= first[3]:
            best = max(best, 1 + _most_moves(built[:at] + built[at + 1 :], rest, lost_dmm))
    return best


def by_trying(inputs: Brief, old: Plan, worth: int) -> int:
    """The least cost with changes over every hub and way of every supply."""
    ways = all_ways(inputs)
    built = [
        (p.circuit, frozenset((p.from_joint, p.to_joint)), p.wire_size, p.length_dmm)
        for p in old.jumpers
    ]
    circuits = {circuit.name for circuit in inputs.console.circuits}
    built = [piece for piece in built if piece[0] in circuits]
    landed = {landing.circuit: landing.post for landing in old.landings}
    lost = 2 * inputs.limits.re_termination_dmm
    takers = {c.name: c.taken_from or c.name for c in inputs.console.circuits}
    costs = []
    for hub, rows in ways.by_hub.items():
        total = ways.given
        for (owner, post), least in zip(ways.landed[hub].items(), rows, strict=True):
            own = [piece for piece in built if takers[piece[0]] == owner]
            moved = worth * (owner in landed and landed[owner] != post)
            total += moved + min(
                cost + worth * fewest_changes(own, [parsed(line) for line in parts], lost)
                for parts, cost in least.items()
            )
        costs.append(total)
    return min(costs)


@pytest.mark.parametrize("seed", range(5))
def test_equals_every_way(seed: int) -> None:
    """A dial is added to, or taken from, a built console; a change is worth little or much."""
    random = Random(seed)
    text = small_text(seed)
    less = without(text, random.choice(["d0", "d1", "d2"]))
    before, after = (less, text) if random.random() < 0.6 else (text, less)
    settings = random.choice([(), ("objective=cheapest",)])
    old, inputs = planned(inputs_of(before, *settings)), inputs_of(after, *settings)
    worth = random.choice([0, 300, 3000]) * (1000 if settings else 1)
    found = rework(inputs, old, worth)
    assert found.ending is Ending.PROVED
    assert found.cost == by_trying(inputs, old, worth) == found.bound
    assert found.report is not None and found.report.passed
    assert found.plan is not None
    assert printed_findings(inputs, found.plan) == ((), ())


def test_moves_are_paired_as_well_as_by_trying() -> None:
    """The count of moves on made-up pieces equals the greedy pairing's by brute force twice over.

    Pieces of nested use: all subsets of needs that can be served are tried.
    """
    random = Random(2)
    for _ in range(50):
        built = [("c", frozenset({f"a{n}"}), "w", random.randint(1, 9)) for n in range(4)]
        used = [("c", frozenset({f"b{n}"}), "w", random.randint(1, 9)) for n in range(4)]
        most = max(
            size
            for size in range(5)
            for chosen in combinations(used, size)
            if all(
                sum(p[3] >= limit for p in chosen) <= sum(p[3] >= limit for p in built)
                for limit in range(10)
            )
        )
        assert _most_moves(built, used, 0) == most


def test_nothing_changed_is_nothing_to_do() -> None:
    """A console planned again over its own harness keeps every piece."""
    inputs = read_inputs(SKIFF)
    old = planned(inputs)
    found = rework(inputs, old, 1000)
    assert (found.changes, found.kept) == (0, len(old.jumpers))
    assert found.told is not None and found.told.none
    assert found.cost == old.proof.cost[0]


def test_worthless_changes_are_the_best_new_plan() -> None:
    """Where a change is worth nothing the plan is as good as one made new."""
    text = SKIFF.read_text("utf-8")
    old = planned(inputs_of(without(text, "depth")))
    inputs = read_inputs(SKIFF)
    assert rework(inputs, old, 0).cost == planned(inputs).proof.cost[0]


def test_dearer_changes_are_never_more() -> None:
    """The more a change is worth, the fewer there are; with much worth nothing is taken out."""
    text = SKIFF.read_text("utf-8")
    old = planned(inputs_of(without(text, "depth")))
    inputs = read_inputs(SKIFF)
    counts = [rework(inputs, old, worth).changes for worth in (0, 5000)]
    assert counts == sorted(counts, reverse=True)
    last = rework(inputs, old, 5000)
    assert (last.removed, last.relanded, last.kept) == (0, 0, len(old.jumpers))


def test_every_piece_has_one_fate() -> None:
    """Kept, moved, taken out and new add up on both sides."""
    text = SKIFF.read_text("utf-8")
    old = planned(read_inputs(SKIFF))
    found = rework(inputs_of(without(text, "fuel")), old, 1000)
    assert found.plan is not None
    assert found.kept + found.moved + found.removed == len(old.jumpers)
    assert found.kept + found.moved + found.new == len(found.plan.jumpers)


def test_the_command_and_its_sheet(tmp_path: Path) -> None:
    """Words, JSON, the new plan's folder, and the sheet with the work as told."""
    import pdfplumber

    text = SKIFF.read_text("utf-8")
    write_folder(ShownPlan(planned(inputs_of(without(text, "depth")))), tmp_path / "built")
    asked = ["rework", str(SKIFF), str(tmp_path / "built"), "-q"]
    sheet = tmp_path / "work.pdf"
    told = CliRunner().invoke(
        cli, [*asked, "--json", "--sheet", str(sheet), "--out", str(tmp_path / "new")]
    )
    assert told.exit_code == 0, told.output
    data = json.loads(told.stdout)
    with pdfplumber.open(sheet) as file:
        words = Counter(" ".join(page.extract_text() for page in file.pages).split())
    for line in data["work"]:
        assert not Counter(line.split()) - words
    assert (tmp_path / "new" / "plan.json").is_file()
    lines = CliRunner().invoke(cli, asked).output
    assert "Before any work:" in lines and "Disconnect every battery" in lines
    refused = CliRunner().invoke(cli, [*asked, "--objective", "shortest"])
    assert refused.exit_code == 2 and "no worth of a change" in refused.output
    wrong = CliRunner().invoke(cli, [*asked, "--change-worth", "2"])
    assert wrong.exit_code == 2 and "needs its unit" in wrong.output


def test_parts_are_read_as_they_are_listed() -> None:
    """The enumerator's lines name wire by its size, as plans do."""
    inputs = inputs_of(small_text(1), "objective=cheapest")
    plan = planned(inputs)
    ways = all_ways(inputs)
    sizes = {piece.wire_size for piece in plan.jumpers}
    lines: set[Parts] = {parts for rows in ways.by_hub.values() for row in rows for parts in row}
    assert sizes <= {parsed(line)[2] for parts in lines for line in parts}
