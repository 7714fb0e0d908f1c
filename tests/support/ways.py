"""Every way to wire a small console, listed by the enumerator, for what is compared with it."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from brute.circuits import CircuitWays
from brute.given import lay_given
from brute.hubs import landings
from brute.joints import Joints
from brute.judged import judged_loads
from brute.search import SupplyWays
from brute.setting import Setting
from brute.tally import summed_key

from lugwright.routes.build import build_routes
from lugwright.scenario.brief import Brief

Parts = frozenset[str]


def small_text(seed: int) -> str:
    """Three 52 mm dials at random places; no splices, so that the ways stay few."""
    random = Random(seed)
    lines = [
        'title = "small"',
        '[panel]\nwidth = "420 mm"\nheight = "260 mm"\nthickness = "6 mm"',
    ]
    for index, x in enumerate((70, 200, 330)):
        at = f'["{x + random.randint(-20, 20)} mm", "{random.randint(70, 190)} mm"]'
        pattern = random.choice(["voltmeter-52", "hour-meter-52"])
        lines.append(f'[[instrument]]\nname = "d{index}"\npattern = "{pattern}"\ncentre = {at}')
    lines.append(
        '[[harness]]\nentry = ["210 mm", "0 mm"]\npigtails = [\n'
        '{ circuit = "ignition", colour = "purple", wire_size = "16 AWG", reach = "900 mm", '
        'fuse = "10 A" },\n'
        '{ circuit = "ground", colour = "black", wire_size = "16 AWG", reach = "900 mm" },\n]'
    )
    lines.append('[limits]\nsplices = false\nminimum_jumper = "20 mm"')
    return "\n".join(lines) + "\n"


@dataclass(frozen=True)
class Ways:
    """One variant's ways by hub: for every supply (with its takers) the parts and the cost.

    ``landed`` is the post of every supply, ``given`` what is paid for in any case.
    """

    by_hub: dict[str, list[dict[Parts, int]]]
    landed: dict[str, dict[str, str]]
    given: int


def all_ways(inputs: Brief) -> Ways:
    """Every way to wire each supply from each hub, the cheapest for each set of parts."""
    routes = build_routes(inputs)
    setting = Setting(inputs.console, inputs.limits, inputs.stock, routes)
    joints = Joints(setting)
    given = lay_given(setting, joints)
    assert given is not None
    owners = [circuit for circuit in inputs.console.circuits if not circuit.taken_from]
    ways = CircuitWays(setting, joints, given)
    supplies = SupplyWays(setting, ways, given, judged_loads(setting, given), (), True)
    found: dict[str, list[dict[Parts, int]]] = {}
    landed: dict[str, dict[str, str]] = {}
    for posts in landings(setting, owners):
        rows = []
        for circuit, post in zip(owners, posts, strict=True):
            least: dict[Parts, int] = {}
            for way in supplies.landed(circuit, post):
                parts = frozenset(undirected(line) for line in way.detail if "->" in line)
                least[parts] = min(least.get(parts, way.key[0]), way.key[0])
            rows.append(least)
        found[posts[0].instrument] = rows
        pairs = zip(owners, posts, strict=True)
        landed[posts[0].instrument] = {circuit.name: post.id for circuit, post in pairs}
    return Ways(found, landed, summed_key(given.tally, inputs.limits)[0])


def undirected(line: str) -> str:
    """A jumper's line with its ends in order of name: a piece turned round is the same part."""
    circuit, _, rest = line.partition(": ")
    ends, _, wire = rest.partition(", ")
    return f"{circuit}: {' - '.join(sorted(ends.split(' -> ')))}, {wire}"
