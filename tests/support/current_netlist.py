"""A plan as a netlist of ngspice in which every load draws its stated current.

Made from the plan alone, without any of the program's own networks: wires by their resistances,
crimps at the ends of wires, contacts of closed ways. It answers for a plan's own figures: what
drops on the way to a load and back, and what flows in each jumper, setting by setting.
"""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import product
from pathlib import Path

from lugwright.base.positions import LANYARD
from lugwright.plans.panel import PanelWay
from lugwright.plans.schema import Jumper, Plan

LEAK_OHM = 1e12  # so that nothing floats: nA at most
TINY_OHM = 1e-7  # a wire of the simulator's own, where nothing resists
Positions = tuple[tuple[str, str], ...]


def settings(plan: Plan) -> Iterator[tuple[Positions, frozenset[str]]]:
    """Every position of every device with every other, and the ways (far posts) closed then."""
    axes = []
    for device in plan.panel.instruments:
        for names in (device.positions, LANYARD if device.lanyard else ()):
            axes += [[(device.name, name) for name in names]] if names else []
    seen = set()
    for chosen in product(*axes):
        closed = frozenset(way.far for way in plan.panel.ways if _closed(way, chosen))
        if closed not in seen:
            seen.add(closed)
            yield chosen, closed


def _closed(way: PanelWay, chosen: Positions) -> bool:
    if way.kind == "stop" or not way.conducts:
        return False
    return not way.closed or any((way.instrument, name) in chosen for name in way.closed)


@dataclass
class Powered:
    """The panel with some ways closed: nodes, resistors, and the loads that are on."""

    plan: Plan
    closed: frozenset[str]
    lines: list[str] = field(default_factory=list)
    names: dict[str, int] = field(default_factory=dict)
    meters: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        panel = self.plan.panel
        self.links = {post.id: post.link or post.id for post in panel.posts}
        self.crimp_ohm = panel.crimp_uohm / 1e6
        self.source_mv = panel.nominal_mv
        self.leads = {self.links[post.id] for post in panel.posts if post.kind == "lead"}
        for lead in sorted(self.leads):
            self._resistor(f"joint {lead}", f"metal {lead}", self.crimp_ohm)
        for jumper in self.plan.jumpers:
            self._jumper(jumper)
        for strap in panel.straps:  # one piece of metal, with a contact on each of its studs
            for stud in strap.posts:
                self._resistor(f"strap {strap.name}", self.joint(stud), strap.contact_uohm / 1e6)
        for way in panel.ways:
            if way.far in self.closed:
                self._resistor(self.metal(way.near), self.metal(way.far), way.contact_uohm / 1e6)
        self._supplies()
        self.on = dict(self._loads())
        for name in list(self.names):
            self.lines.append(f"rleak{len(self.lines)} {self.node(name)} 0 {LEAK_OHM}")

    def node(self, name: str) -> str:
        """The simulator's name of a node; "0" is the battery's minus."""
        return "0" if name == "0" else f"n{self.names.setdefault(name, len(self.names) + 1)}"

    def joint(self, post: str) -> str:
        """Where the wires of a post meet; linked posts are one piece of metal."""
        return f"joint {self.links[post]}"

    def metal(self, post: str) -> str:
        """The metal inside the instrument, behind a lead's crimp where the post is one."""
        here = self.links[post]
        return f"metal {here}" if here in self.leads else f"joint {here}"

    def _resistor(self, a: str, b: str, ohm: float) -> None:
        """A resistor; a source of no volts where nothing resists."""
        name = f"{'r' if ohm else 'v'}{len(self.lines)}"
        self.lines.append(f"{name} {self.node(a)} {self.node(b)} {ohm:.12g}")

    def _place(self, joint: str) -> str:
        return self.joint(joint) if joint in self.links else f"mid-air {joint}"

    def _jumper(self, jumper: Jumper) -> None:
        """Crimp, wire, crimp; and a source of no volts that measures what flows."""
        meter, end = f"vm{len(self.meters)}", f"meter {jumper.label}"
        self.meters[jumper.label] = meter
        a, b = self._place(jumper.from_joint), self._place(jumper.to_joint)
        self.lines.append(f"{meter} {self.node(a)} {self.node(end)} 0")
        self._resistor(end, b, jumper.resistance_uohm / 1e6 + 2 * self.crimp_ohm)

    def _supplies(self) -> None:
        landed = {row.circuit: row for row in self.plan.landings if row.pigtail}
        for circuit in self.plan.panel.circuits:
            row = landed.get(circuit.name)
            if row is None or circuit.side not in ("feed", "ground", "signal"):
                continue
            end = f"join pigtail {circuit.name}" if row.extension else row.post
            source = f"battery {circuit.name}" if circuit.side == "feed" else "0"
            if circuit.returns_to:  # through the sender, and on to a ground of the panel
                source = self.metal(circuit.returns_to)
            ohm = (circuit.run_uohm + circuit.pigtail_uohm) / 1e6 + self.crimp_ohm
            self._resistor(source, self._place(end), ohm)
            if circuit.side == "feed":
                volts = self.source_mv / 1000
                self.lines.append(f"v{len(self.lines)} {self.node(source)} 0 {volts}")

    def _live(self) -> frozenset[str]:
        """Circuits that current reaches through what is closed."""
        circuit_at = {post: c.name for c in self.plan.panel.circuits for post in c.posts}
        near = {way.far: circuit_at.get(way.near, "") for way in self.plan.panel.ways}
        found: set[str] = set()
        for _ in self.plan.panel.circuits:
            for one in self.plan.panel.circuits:
                behind_way = one.supplied_by in self.closed and near[one.supplied_by] in found
                if one.pigtail or one.taken_from in found or behind_way:
                    found.add(one.name)
        return frozenset(found)

    def _loads(self) -> Iterator[tuple[str, tuple[str, str]]]:
        """Each load that is on as a current source, and the nodes it lies between."""
        live = self._live()
        circuit_at = {post: c.name for c in self.plan.panel.circuits for post in c.posts}
        panel = self.plan.panel
        rows = [(one.name, one.feed_post, one.ground_post, one.current_ma) for one in panel.loads]
        blocks = [one for one in panel.boat_blocks if one.drawn_from]
        rows += [(one.name, one.drawn_from, one.returns_to, one.current_ma) for one in blocks]
        for name, feed, back, current_ma in rows:
            if circuit_at.get(feed, "") not in live:
                continue
            ends = self.metal(feed), self.metal(back) if back else "0"
            nodes = " ".join(map(self.node, ends))
            self.lines.append(f"i{len(self.lines)} {nodes} {current_ma / 1000}")
            yield name, ends


@dataclass(frozen=True)
class Measured:
    """What ngspice says of one setting: drop of each load that is on (mV), amperes (mA) of each
    jumper, signs left out."""

    drops_mv: dict[str, float]
    currents_ma: dict[str, float]


def measure(powered: Powered, folder: Path) -> Measured:
    """One operating point in ngspice."""
    lines = ["* " + powered.plan.title.encode("ascii", "replace").decode()[:40], *powered.lines]
    lines += [".control", "set numdgt=12", "op"]
    for feed, back in powered.on.values():
        low = "" if back == "0" else f"-v({powered.node(back)})"
        lines.append(f"print v({powered.node(feed)}){low}")
    lines += [f"print i({meter})" for meter in powered.meters.values()]
    lines += ["quit", ".endc", ".end"]
    file = folder / "panel.cir"
    file.write_text("\n".join(lines) + "\n", encoding="ascii")
    done = subprocess.run(
        ["ngspice", "-b", str(file)], capture_output=True, text=True, check=False, timeout=120
    )
    values = [
        float(line.split("=")[1])
        for line in done.stdout.splitlines()
        if line.startswith(("v(", "i(")) and "=" in line
    ]
    on = list(powered.on)
    assert len(values) == len(on) + len(powered.meters), done.stdout[-800:] + done.stderr[-800:]
    drops = {
        name: powered.source_mv - 1000 * volts
        for name, volts in zip(on, values[: len(on)], strict=True)
    }
    flows = zip(powered.meters, values[len(on) :], strict=True)
    return Measured(drops, {name: abs(1000 * amps) for name, amps in flows})
