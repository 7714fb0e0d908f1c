"""A plan as a netlist for ngspice, made without any of the program's own networks.

Every crimp, lug, stack, push-on and supply is a resistor of its own, of one milliohm while it is
sound. One netlist is the panel at key-on, the other the panel at rest with a current source for
each pair of places an ohmmeter is held on. What a load draws, and what it reads at rest, differs
from the plan's figures as it does in life: by a fixed pattern, not by chance.
"""

from __future__ import annotations

import subprocess
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from lugwright.plans.schema import EndRef, Plan

SUPPLY_V = 12.6
SOUND_OHM = 0.001
OPEN_OHM = 1e9
DRAWS = (1.0, 0.85, 0.7, 0.6)  # of the stated current, in turn
RESTS = (1.0, 3.0, 20.0)  # ohm at rest over volts by amperes, in turn; a lamp is cold
COLD_LAMP = 0.1


@dataclass(frozen=True)
class Fault:
    """A joint that can be made bad: the resistor that stands for it, and how people call it."""

    resistor: str
    kind: str
    where: str
    said: str


@dataclass
class Netlist:
    """Resistors and nodes with short names, as the simulator wants them."""

    lines: list[str] = field(default_factory=list)
    names: dict[str, int] = field(default_factory=dict)

    def node(self, name: str) -> str:
        """The simulator's name of a node; ``0`` is the supply's minus."""
        return "0" if name == "0" else str(self.names.setdefault(name, len(self.names) + 1))

    def resistor(self, a: str, b: str, ohm: float) -> str:
        """Add a resistor; returns its name."""
        name = f"r{len(self.lines)}"
        self.lines.append(f"{name} {self.node(a)} {self.node(b)} {ohm:.9g}")
        return name


@dataclass
class Panel:
    """A netlist of a plan and the joints in it, with the ways in ``closed`` (far posts) closed."""

    plan: Plan
    powered: bool
    closed: frozenset[str] = frozenset()
    net: Netlist = field(default_factory=Netlist)
    faults: list[Fault] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.links = {post.id: post.link or post.id for post in self.plan.panel.posts}
        self._crimps()
        self._wires()
        self._studs()
        self._tabs()
        self._ways()
        self._loads()
        self._boat_blocks()
        if self.powered:
            self._supplies()
        for name in list(self.net.names):  # the meter, and nothing quite floats
            self.net.resistor(name, "0", 10e6)

    def metal(self, post: str) -> str:
        """The instrument's own metal at a post; linked posts are one piece."""
        return f"metal {self.links[post]}"

    def _joint(self, a: str, b: str, kind: str, where: str, said: str) -> None:
        self.faults.append(Fault(self.net.resistor(a, b, SOUND_OHM), kind, where, said))

    def _crimps(self) -> None:
        cut = {jumper.label for jumper in self.plan.jumpers}
        for crimp in self.plan.crimps:
            for end in (end for barrel in crimp.barrels for end in barrel):
                name = f"{end.wire}-{end.end}" if end.wire in cut else end.wire
                said = f"crimp of {name} in crimp {crimp.number} ("
                self._joint(_end(end), f"barrel {crimp.number}", "crimp", crimp.joint, said)
        for stack in self.plan.stacks:
            for wire in (lug.ready for lug in stack.lugs if lug.ready):
                said = f"crimp of {wire} in its own ring on {stack.post}"
                self._joint(f"{wire}-a", f"own ring {wire}", "crimp", stack.post, said)

    def _wires(self) -> None:
        for jumper in self.plan.jumpers:
            ohm = jumper.resistance_uohm / 1e6
            self.net.resistor(f"{jumper.label}-a", f"{jumper.label}-b", ohm)
        pigtails = {f"pigtail {row.name}": row.pigtail_uohm for row in self.plan.panel.circuits}
        for row in self.plan.given:
            ohm = (pigtails.get(row.wire) or 40_000) / 1e6  # aboard: two metres of 18 AWG
            if not row.wire.startswith("lead "):
                self.net.resistor(f"far {row.wire}", f"{row.wire}-a", ohm)
        for post in self.plan.panel.posts:
            if f"lead {post.id}-a" in self.net.names:
                self.net.resistor(f"lead {post.id}-a", self.metal(post.id), 0.0005)

    def _studs(self) -> None:
        for stack in self.plan.stacks:
            many = len(stack.lugs) > 1
            top = f"lugs {stack.post}" if many else self.metal(stack.post)
            for lug in stack.lugs:
                ring = f"barrel {lug.crimp}" if lug.crimp else f"own ring {lug.ready}"
                said = f"crimp {lug.crimp} (" if lug.crimp else f"ring of {lug.ready} against"
                self._joint(ring, top, "lug", stack.post, said)
            if many:
                said = f"all lugs against the stud {stack.post}"
                self._joint(top, self.metal(stack.post), "stack", stack.post, said)

    def _tabs(self) -> None:
        for crimp in self.plan.crimps:
            if crimp.kind == "push-on":
                said = f"crimp {crimp.number} ("
                metal = self.metal(crimp.joint)
                self._joint(f"barrel {crimp.number}", metal, "push-on", crimp.joint, said)

    def _ways(self) -> None:
        for way in self.plan.panel.ways:
            if way.far in self.closed:
                inside = f"contact {way.far}"
                said = f"{way.kind} of {way.instrument} to {way.far}"
                self._joint(self.metal(way.near), inside, "contact", way.far, said)
                ohm = max(1e-6, way.contact_uohm / 1e6)
                self.net.resistor(inside, self.metal(way.far), ohm)

    def _ohm(self, current_ma: int, place: int, *, lamp: bool) -> float:
        hot = self.plan.panel.nominal_mv / current_ma
        if self.powered:
            return hot / DRAWS[place % len(DRAWS)]
        return hot * (COLD_LAMP if lamp else RESTS[place % len(RESTS)])

    def _loads(self) -> None:
        posts = {post.id: post for post in self.plan.panel.posts}
        for place, load in enumerate(self.plan.panel.loads):
            lamp = posts[load.feed_post].function == "lamp"
            ohm = self._ohm(load.current_ma, place, lamp=lamp)
            self.net.resistor(self.metal(load.feed_post), self.metal(load.ground_post), ohm)

    def _boat_blocks(self) -> None:
        """A sender takes a third of its way's resistance, its dial the rest; a switch is on."""
        for boat_block in self.plan.panel.boat_blocks:
            wires = dict(zip(boat_block.lands_on, boat_block.wires, strict=True))
            out = [post for post in wires if post != boat_block.returns_to]
            if not boat_block.current_ma or not boat_block.drawn_from or len(out) != 1:
                continue
            whole = self.plan.panel.nominal_mv / boat_block.current_ma
            inside = whole * 2 / 3 if boat_block.is_sender else 0.002
            if boat_block.drawn_from != out[0]:
                self.net.resistor(self.metal(boat_block.drawn_from), self.metal(out[0]), inside)
            if self.powered:
                back = wires.get(boat_block.returns_to)
                end = f"far {back}" if back else "0"
                outside = whole / 3 if boat_block.is_sender else whole
                self.net.resistor(f"far {wires[out[0]]}", end, outside)

    def _supplies(self) -> None:
        landed = {landing.circuit for landing in self.plan.landings if landing.pigtail}
        for circuit in self.plan.panel.circuits:
            if circuit.name in landed and circuit.side in ("feed", "ground"):
                wire = f"pigtail {circuit.name}"
                source = "plus" if circuit.side == "feed" else "0"
                near = f"supply {circuit.name}"
                self._joint(source, near, "supply", wire, f"supply of {circuit.name} before")
                self.net.resistor(near, f"far {wire}", max(1e-6, circuit.run_uohm / 1e6))
        self.net.lines.append(f"v1 {self.net.node('plus')} 0 {SUPPLY_V}")

    def load_volts(self) -> Iterator[tuple[str, str, str]]:
        """Every load's name and the nodes it lies between."""
        for load in self.plan.panel.loads:
            yield load.name, self.metal(load.feed_post), self.metal(load.ground_post)


def _end(end: EndRef) -> str:
    return f"{end.wire}-{end.end}"


Pair = tuple[str, str]


def simulate(
    panel: Panel, pairs: Sequence[Pair], faults: Iterable[tuple[str, float]], folder: Path
) -> Mapping[tuple[str, float], list[float]]:
    """What stands between each pair of nodes, V or ohm, for each resistor at each resistance.

    One run of ngspice does them all.
    """
    net, wanted = panel.net, list(faults)
    text = [f"* {panel.plan.title[:40].encode('ascii', 'replace').decode()}", *net.lines]
    if not panel.powered:
        text += [f"i{n} {net.node(b)} {net.node(a)} 0" for n, (a, b) in enumerate(pairs)]
    text += [".control", "set numdgt=9", *_commands(panel, pairs, wanted), "quit", ".endc", ".end"]
    file = folder / f"panel{int(panel.powered)}.cir"
    file.write_text("\n".join(text) + "\n", encoding="ascii")
    done = subprocess.run(
        ["ngspice", "-b", str(file)], capture_output=True, text=True, check=False, timeout=600
    )
    found = [
        float(line.split("=")[1]) for line in done.stdout.splitlines() if line.startswith("v(")
    ]
    assert len(found) == len(wanted) * len(pairs), done.stdout[-500:] + done.stderr[-500:]
    step = len(pairs)
    return {fault: found[n * step : (n + 1) * step] for n, fault in enumerate(wanted)}


def _commands(
    panel: Panel, pairs: Sequence[Pair], faults: Sequence[tuple[str, float]]
) -> Iterator[str]:
    node = panel.net.node
    between = [
        f"print v({node(a)})" if node(b) == "0" else f"print v({node(a)})-v({node(b)})"
        for a, b in pairs
    ]
    for resistor, ohm in faults:
        if resistor:
            yield f"alter {resistor} = {ohm:.9g}"
        if panel.powered:
            yield from ("destroy all", "op", *between)
        else:
            for n, told in enumerate(between):
                yield from (f"alter i{n} = 1", "destroy all", "op", told, f"alter i{n} = 0")
        if resistor:
            yield f"alter {resistor} = {SOUND_OHM}"
