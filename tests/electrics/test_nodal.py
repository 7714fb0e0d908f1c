"""Nodal analysis against networks solved by hand, and against ngspice where it is installed."""

from __future__ import annotations

import random
import re
import shutil
import subprocess
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lugwright.electrics.nodal import Network, Solution


def chain(resistances: list[int], currents: list[int]) -> Network:
    """source - n0 - n1 - …, each node with its own current taken out."""
    network = Network()
    before = "source"
    for number, (uohm, current) in enumerate(zip(resistances, currents, strict=True)):
        network.add(f"r{number}", before, f"n{number}", uohm)
        network.take(f"n{number}", current)
        before = f"n{number}"
    return network


def test_ladder_by_hand() -> None:
    """Three loads of 100, 200, 300 mA behind 10, 20, 30 µΩ.

    Currents 600, 500, 300 mA; drops 6000, 16000, 25000 nV.
    """
    solution = chain([10, 20, 30], [100, 200, 300]).solve(["source"])
    assert [solution.drop_nv(f"n{number}") for number in range(3)] == [6000, 16000, 25000]
    currents = [solution.current_ma(branch) for branch in solution.network.branches]
    assert currents == [600, 500, 300]


def test_ring_shares_the_current() -> None:
    """Two ways of 10 and 30 µΩ to one load of 100 mA: 75 and 25 mA, 750 nV."""
    network = Network()
    network.add("short", "source", "load", 10)
    network.add("long", "source", "load", 30)
    network.take("load", 100)
    solution = network.solve(["source"])
    assert solution.drop_nv("load") == 750
    assert [solution.current_ma(branch) for branch in network.branches] == [75, 25]


def test_bridge_by_hand() -> None:
    """A bridge: source-a 1, source-b 2, a-b 1, a-load 1, b-load 1 µΩ, 7 mA taken at the load.

    a: 3a - b - l = 0; b: 5b/2 - a - l = 0; l: 2l - a - b = 7. From the first two l = 3a - b and
    4a = 7b/2, so b = 8a/7; the third gives 5a - 3b = 11a/7 = 7: a = 49/11, b = 56/11, l = 91/11.
    """
    network = Network()
    for name, a, b, uohm in (
        ("1", "source", "a", 1), ("2", "source", "b", 2), ("3", "a", "b", 1),
        ("4", "a", "load", 1), ("5", "b", "load", 1),
    ):  # fmt: skip
        network.add(name, a, b, uohm)
    network.take("load", 7)
    solution = network.solve(["source"])
    own = [solution.drop_nv(node) for node in ("a", "b", "load")]
    assert own == [Fraction(49, 11), Fraction(56, 11), Fraction(91, 11)]


def test_joined_nodes_and_floating_nodes() -> None:
    """Metal inside an instrument has no drop; what hangs on no source has no answer."""
    network = chain([10], [100])
    network.join("n0", "other stud")
    network.add("crimp", "other stud", "lead", 0)
    network.take("lead", 50)
    network.add("loose", "x", "y", 5)
    solution = network.solve(["source"])
    assert solution.drop_nv("lead") == 1500
    assert solution.drop_nv("x") is None
    assert solution.current_ma(network.branches[-1]) is None


@given(
    st.lists(
        st.tuples(st.integers(0, 30), st.integers(1, 10**6), st.integers(0, 10**5)),
        min_size=1,
        max_size=25,
    )
)
def test_tree_obeys_kirchhoff(rows: list[tuple[int, int, int]]) -> None:
    """On any tree a branch carries the sum of what is taken beyond it, to the digit."""
    network, beyond = Network(), [0] * (len(rows) + 1)
    parents = [parent % (number + 1) for number, (parent, _, _) in enumerate(rows)]
    for number, (parent, (_, uohm, current)) in enumerate(zip(parents, rows, strict=True), 1):
        network.add(str(number), str(parent), str(number), uohm)
        network.take(str(number), current)
        beyond[number] += current
    for number in range(len(rows), 0, -1):
        beyond[parents[number - 1]] += beyond[number]
    solution = network.solve(["0"])
    assert [solution.current_ma(branch) for branch in network.branches] == beyond[1:]


def meshed_network(seed: int) -> Network:
    """A network of 12 nodes with a few rings."""
    dice = random.Random(seed)
    network = Network()
    for number in range(1, 12):
        network.add(f"t{number}", str(dice.randrange(number)), str(number),
                    dice.randrange(500, 50_000))  # fmt: skip
        network.take(str(number), dice.randrange(0, 3000))
    for number in range(4):
        a, b = dice.sample(range(12), 2)
        network.add(f"x{number}", str(a), str(b), dice.randrange(500, 50_000))
    return network


def spice_text(network: Network) -> str:
    """The same network for ngspice: ohms and amperes; node 0 is the source at 0 V."""
    lines = ["network"]
    for number, branch in enumerate(network.branches):
        lines.append(f"R{number} {branch.a} {branch.b} {branch.uohm}e-6")
    for node, current in network.taken_ma.items():
        # SPICE: a source's current flows through it from the first node to the second
        lines.append(f"I{node} 0 {node} {current}e-3")
    nodes = " ".join(f"v({node})" for node in network.taken_ma)
    lines += [".control", "set numdgt=12", "op", f"print {nodes}", "quit 0", ".endc", ".end"]
    return "\n".join(lines) + "\n"


def spice_volts(network: Network, folder: Path) -> dict[str, float]:
    """Node voltages by ngspice in batch mode."""
    file = folder / "network.cir"
    file.write_text(spice_text(network))
    run = subprocess.run(["ngspice", "-b", str(file)], capture_output=True, text=True, check=True)
    found = re.findall(r"v\((\d+)\) = (\S+)", run.stdout)
    return {node: float(volts) for node, volts in found}


def worst_difference(solution: Solution, volts: dict[str, float]) -> float:
    """Largest relative difference between both answers."""
    worst = 0.0
    for node, value in volts.items():
        drop = solution.drop_nv(node)
        assert drop is not None
        worst = max(worst, abs(float(drop) / 1e9 - value) / max(abs(value), 1e-9))
    return worst


@pytest.mark.spice
@pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is not on the path")
@pytest.mark.parametrize("seed", range(3))
def test_against_ngspice(seed: int, tmp_path: Path) -> None:
    """Drops of meshed networks agree with ngspice to the digits it prints."""
    network = meshed_network(seed)
    volts = spice_volts(network, tmp_path)
    assert len(volts) == 11
    assert worst_difference(network.solve(["0"]), volts) < 1e-9


@given(st.integers(0, 10_000))
def test_paths_are_what_one_milliampere_shows(seed: int) -> None:
    """The resistance between any two nodes is the drop of 1 mA from one to the other."""
    network = meshed_network(seed)
    network.taken_ma.clear()
    network.add("apart", "here", "there", 700)
    network.join("0", "same as 0")
    paths = network.paths()
    dice = random.Random(seed)
    for _ in range(5):
        a, b = (dice.choice([*map(str, range(12)), "here", "same as 0"]) for _ in range(2))
        network.taken_ma.clear()
        network.take(b, 1)
        assert paths.uohm(a, b) == network.solve([a]).drop_nv(b)
    assert paths.uohm("there", "here") == 700
    assert paths.uohm("0", "unknown") is None


def test_a_path_by_hand() -> None:
    """Two ways side by side, 10 and 30 µΩ, then 5: 7.5 + 5."""
    network = Network()
    network.add("short", "a", "b", 10)
    network.add("long", "b", "a", 30)
    network.add("on", "b", "c", 5)
    assert network.paths().uohm("c", "a") == Fraction(25, 2)
