"""Consoles changed at random: whatever comes of it, an answer is right or a refusal is clear.

Values are changed, blocks dropped, doubled and put in another order, names exchanged. A file that
is still planned passes the check, and its wires, looked at by themselves, join no two circuits;
each feed has a fuse, or the file says why it has none.
"""

from __future__ import annotations

import copy
import random
import tomllib
from collections import Counter
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from networkx.utils import UnionFind
from support.scenario_text_made import at, places, put, toml_of

from lugwright import pipeline
from lugwright.base.errors import BadInput
from lugwright.plans.outcome import Ending
from lugwright.plans.schema import Plan
from lugwright.scenario.console import Console

FOLDER = Path(__file__).parents[2] / "scenarios"
SMALL = (
    *("sandbar-skiff", "key-on-second-post", "flying-leads", "short-thread", "bus-bar-hub"),
    *("ring-or-spade", "hub-out-of-reach", "aboard-pigtails", "metric-studs", "reserved-lugs"),
    *("one-wire-per-barrel", "tall-stud-far-away", "hub-per-circuit"),
)
IN_THE_DEFAULT_RUN, IN_ALL = 25, 2_000
SECONDS = 2.0
SEED = 20261201
WORDS = (
    *("0 mm", "1 mm", "15 mm", "120 mm", "2 m", "1/2 in", "16 AWG", "10 AWG", "18 AWG", "1.5 mm2"),
    *("ignition", "ground", "lamps", "accessory", "black", "red", "purple", "1 A", "5 A", "30 A"),
    *("aboard", "bench", "none", "stud", "tab", "lead", "8-32 UNC", "M4", "dial-52", "bus-bar-5"),
)


def changed(values: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    """The same console with one to four things changed."""
    values = copy.deepcopy(values)
    for _ in range(chance.randint(1, 4)):
        ways = [way for way in places(values) if len(way) > 1 or way[0] != "title"]
        way = chance.choice(ways)
        chance.choice(CHANGES)(values, way, chance)
    return values


def _another_word(values: Any, way: Any, chance: random.Random) -> None:
    """A value becomes a word of this trade, a truth or a number."""
    put(values, way, chance.choice((*WORDS, True, False, 0, 3, -1)))


def _dropped(values: Any, way: Any, _chance: random.Random) -> None:
    """A key or an entry is left out."""
    del at(values, way[:-1])[way[-1]]


def _doubled(values: Any, way: Any, chance: random.Random) -> None:
    """An entry of an array stands twice, the second under another name as often as not."""
    parent = at(values, way[:-1])
    if isinstance(parent, list):
        again = copy.deepcopy(parent[way[-1]])
        if isinstance(again, dict) and "name" in again and chance.random() < 0.5:
            again["name"] = f"{again['name']} b"
        parent.append(again)


def _shuffled(values: Any, way: Any, chance: random.Random) -> None:
    """An array's entries, or a table's keys, in another order."""
    here = at(values, way)
    if isinstance(here, list):
        chance.shuffle(here)
    elif isinstance(here, dict):
        pairs = list(here.items())
        chance.shuffle(pairs)
        here.clear()
        here.update(pairs)


def _exchanged(values: Any, way: Any, chance: random.Random) -> None:
    """Two values of one key change places: names, circuits, colours, places."""
    same = [other for other in places(values) if other[-1] == way[-1] and other != way]
    if same:
        other = chance.choice(same)
        if way == other[: len(way)] or other == way[: len(other)]:
            return
        one, two = copy.deepcopy(at(values, way)), copy.deepcopy(at(values, other))
        put(values, way, two)
        put(values, other, one)


CHANGES = (_another_word, _another_word, _dropped, _doubled, _shuffled, _exchanged, _exchanged)


def islands_joined(console: Console, plan: Plan) -> list[str]:
    """Joints that the plan's wires make one, though no circuit there is taken from the other.

    What a jumper joins, what a link inside an instrument joins, and where a pigtail lands are put
    together; each such island may hold one circuit and those taken from it. Nothing of the model
    or the checker is used.
    """
    islands = UnionFind()
    for wire in plan.jumpers:
        islands.union(wire.from_joint, wire.to_joint)
    linked: dict[tuple[str, str], list[str]] = {}
    for post in console.posts:
        if post.link:
            linked.setdefault((post.id.rpartition(".")[0], post.link), []).append(post.id)
    for posts in linked.values():
        for one, other in pairwise(posts):
            islands.union(one, other)
    source = {one.name: one.taken_from or one.name for one in console.circuits}
    held: dict[str, set[str]] = {}
    for circuit in console.circuits:
        for post in circuit.posts:
            held.setdefault(islands[post], set()).add(source[circuit.name])
    for given in plan.given:
        if given.circuit:
            held.setdefault(islands[given.joint], set()).add(source[given.circuit])
    return [f"one wiring of {sorted(names)}" for names in held.values() if len(names) > 1]


def feeds_unfused(console: Console) -> list[str]:
    """Feeds behind no fuse for which the file gives no reason."""
    return [
        f"{one.name} has no fuse, and no word of why"
        for one in console.circuits
        if one.side == "feed" and one.pigtail
        if not one.pigtail.fuse_ma and not one.pigtail.fuse_reason
    ]


def judged(text: str, file: Path) -> tuple[str, str]:
    """How one file ends, and what is wrong with that ("" where nothing is)."""
    file.write_text(text, encoding="utf-8")
    try:
        inputs = pipeline.read_inputs(file)
        run = pipeline.make_plan(inputs, time_limit_s=SECONDS)
    except BadInput as fault:
        told = fault.complaints
        return "refused", "" if told and all(one.message for one in told) else "no word of why"
    if run.plan is None:
        impossible = run.outcome.ending in (Ending.IMPOSSIBLE, Ending.NO_ANSWER)
        return run.outcome.ending.value, "" if impossible else "no plan, and no word of it"
    wrong = islands_joined(inputs.console, run.plan) + feeds_unfused(inputs.console)
    if run.report is None or not run.report.passed:
        wrong += [str(finding) for finding in run.report.findings] if run.report else ["unchecked"]
    return run.outcome.ending.value, "; ".join(wrong)[:400]


def sweep(folder: Path, number: int) -> tuple[Counter[str], list[str]]:
    """So many changed consoles: how each ended, and every one that ended wrongly."""
    ends: Counter[str] = Counter()
    wrong = []
    for index in range(number):
        chance = random.Random(SEED + index)
        demo = chance.choice(SMALL)
        values = tomllib.loads((FOLDER / f"{demo}.toml").read_text(encoding="utf-8"))
        try:
            end, fault = judged(toml_of(changed(values, chance)), folder / f"{demo}.toml")
        except Exception as error:
            end, fault = "our fault", f"{type(error).__name__}: {error}"
        ends[end] += 1
        if fault:
            wrong.append(f"{index} {demo}: {end}: {fault}")
    return ends, wrong


def test_some_changed_consoles(tmp_path: Path) -> None:
    """A sample, the same on every run, some of which is planned."""
    ends, wrong = sweep(tmp_path, IN_THE_DEFAULT_RUN)
    assert wrong == []
    assert ends["refused"] and ends[Ending.PROVED.value]


@pytest.mark.slow
def test_two_thousand_changed_consoles(tmp_path: Path) -> None:
    """All of them."""
    ends, wrong = sweep(tmp_path, IN_ALL)
    assert wrong == []
    assert ends[Ending.PROVED.value] > 100
