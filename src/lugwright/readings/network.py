"""What every reading would be with one joint open, or with some resistance in it.

Nodal analysis in floating point: G·v = i over all nodes, loads as resistors. Nothing here decides
whether a line passes (``bands`` and ``judge`` do, exactly); it only explains lines that fail.

A resistance r put into a branch leaves the network linear, so every reading moves on a straight
line between what it is with the branch sound and with it open:

    reading(r) = sound + (open - sound) · r / (r + R)

where R is what the rest of the network, with the branch's own resistance, shows to r (Thévenin's
theorem). Two solves per branch therefore give the reading at every r.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lugwright.readings.schema import Line, Sheet
from lugwright.readings.wiring import MINUS, Load

Array = NDArray[np.float64]

# A joint in order, in the middle of what a sound one may have, ohm.
SOUND_OHM = 0.001
# A hand meter on volts, ohm (common practice, no source): what floats free is pulled to the minus
# by it. It also keeps the equations solvable when a part hangs on nothing.
METER_OHM = 10e6


@dataclass(frozen=True)
class Mood:
    """How much of its stated current each kind of load draws: lamps, everything else."""

    lamps: float
    others: float

    def ohm(self, load: Load, nominal_mv: int) -> float:
        """The load as a resistor, ohm."""
        draws = self.lamps if load.lamp else self.others
        return nominal_mv / load.current_ma / load.share / draws


# At key-on a load may draw much less than stated. Before power a cold lamp reads about a twelfth
# of its hot resistance, and electronics may read nearly open. Common practice, no source.
KEY_ON = (Mood(1, 1), Mood(0.3, 0.3), Mood(0.3, 1), Mood(1, 0.3))
AT_REST = (Mood(1, 1), Mood(12, 1), Mood(12, 0.01), Mood(0.01, 0.01), Mood(1, 0.01))


class Circuit:
    """The wiring in one state of power and one mood of its loads.

    ``lines`` are what is read, from ``start`` to ``at``; a start that is no node is the supply's
    minus. With power a value is a part of the supply; without, it is in ohm. All lines are
    measured with the same ways closed.
    """

    def __init__(self, sheet: Sheet, lines: Sequence[Line], mood: Mood, *, powered: bool) -> None:
        self.sheet, self.powered = sheet, powered
        self.node_of = self._number_nodes()
        closed = lines[0].closed if lines else frozenset()
        self.branches = {one.name: one for one in sheet.wiring.conducting(closed)}
        size = max(self.node_of.values()) + 1
        self.conductance = np.eye(size) / METER_OHM
        self._loads(mood)
        for branch in self.branches.values():
            self._add(self.conductance, branch.a, branch.b, 1 / self.ohm(branch.name))
        self.fixed = self._fixed()
        self.free = np.array([node for node in range(size) if node not in self.fixed])
        self.tips = [(self._tip(line.start), self._tip(line.at)) for line in lines]

    def _number_nodes(self) -> dict[str, int]:
        """A number for each piece of metal; nodes that are one piece share it."""
        wiring = self.sheet.wiring
        pairs = [(branch.a, branch.b) for branch in wiring.branches]
        pairs += [(load.a, load.b) for load in wiring.loads]
        names = sorted({name for pair in (*pairs, *wiring.same) for name in pair} | {MINUS})
        stands_for = {name: name for name in names}
        for a, b in wiring.same:
            keep, go = stands_for[a], stands_for[b]
            stands_for = {
                name: keep if other == go else other for name, other in stands_for.items()
            }
        numbers = {name: n for n, name in enumerate(sorted(set(stands_for.values())))}
        return {name: numbers[other] for name, other in stands_for.items()}

    def _tip(self, node: str) -> int:
        return self.node_of.get(node, self.node_of[MINUS])

    def ohm(self, name: str) -> float:
        """A branch in order, ohm."""
        branch = self.branches[name]
        crimp = max(SOUND_OHM, self.sheet.plan.panel.crimp_uohm / 1e6)
        return max(1e-6, branch.uohm / 1e6 + crimp * len(branch.joints))

    def _loads(self, mood: Mood) -> None:
        nominal_mv = self.sheet.plan.panel.nominal_mv
        for load in self.sheet.wiring.loads:
            if load.current_ma and (self.powered or not load.outside):
                self._add(self.conductance, load.a, load.b, 1 / mood.ohm(load, nominal_mv))

    def _add(self, matrix: Array, a: str, b: str, siemens: float) -> None:
        one, two = self.node_of[a], self.node_of[b]
        matrix[one, one] += siemens
        matrix[two, two] += siemens
        matrix[one, two] -= siemens
        matrix[two, one] -= siemens

    def _fixed(self) -> dict[int, float]:
        """Nodes held at a part of the supply. At rest nothing is: all float."""
        if not self.powered:
            return {}
        wiring = self.sheet.wiring
        held = {self.node_of[MINUS]: 0.0}
        held |= {self.node_of[name]: 0.0 for name in wiring.grounds}
        return held | {self.node_of[name]: 1.0 for name in wiring.feeds}

    def sound(self) -> Array:
        """Every reading with all joints sound."""
        return self._read(self._solve(self.conductance, self._drives(self.conductance)))

    def opened(self, name: str) -> tuple[Array, float]:
        """Every reading with a branch open, and what its ends then show to a resistance, ohm.

        One that does not conduct now, a way that stands open, changes nothing.
        """
        if name not in self.branches:
            return self.sound(), 1.0
        branch = self.branches[name]
        matrix = self.conductance.copy()
        self._add(matrix, branch.a, branch.b, -1 / self.ohm(name))
        gap = self._between(self.node_of[branch.a], self.node_of[branch.b])
        answer = self._solve(matrix, np.column_stack([self._drives(matrix), gap[self.free]]))
        across = self._whole(answer[:, -1], held=False) @ gap
        return self._read(answer[:, :-1]), float(across) + self.ohm(name)

    def _between(self, a: int, b: int) -> Array:
        """One ampere in at ``a`` and out at ``b``."""
        drive = np.zeros(len(self.conductance))
        drive[a] += 1
        drive[b] -= 1
        return drive

    def _drives(self, matrix: Array) -> Array:
        """What drives the network: the supply, or the meter's current for each line."""
        if not self.powered:
            found = [self._between(a, b)[self.free] for a, b in self.tips]
            return np.column_stack(found) if found else np.zeros((len(self.free), 0))
        held = np.array(list(self.fixed))
        drives: Array = -matrix[np.ix_(self.free, held)] @ np.array([*self.fixed.values()])[:, None]
        return drives

    def _solve(self, matrix: Array, drives: Array) -> Array:
        return np.linalg.solve(matrix[np.ix_(self.free, self.free)], drives)

    def _whole(self, answer: Array, *, held: bool) -> Array:
        """Values at every node from those at the free ones."""
        whole = np.zeros(len(self.conductance))
        whole[self.free] = answer
        if held:
            for node, value in self.fixed.items():
                whole[node] = value
        return whole

    def _read(self, answer: Array) -> Array:
        if self.powered:
            volts = self._whole(answer[:, 0], held=True)
            return np.array([volts[at] - volts[start] for start, at in self.tips])
        whole = [self._whole(column, held=False) for column in answer.T]
        return np.array([v[a] - v[b] for v, (a, b) in zip(whole, self.tips, strict=True)])


@dataclass(frozen=True)
class Swing:
    """Readings of some lines against the resistance in one branch."""

    sound: Array
    opened: Array
    rest_ohm: float

    def at(self, extra_ohm: Array) -> Array:
        """The readings with more resistance in the branch, a row for each; infinity is open."""
        share = np.ones_like(extra_ohm)
        some = np.isfinite(extra_ohm)
        share[some] = extra_ohm[some] / (extra_ohm[some] + self.rest_ohm)
        moved: Array = self.sound + np.outer(share, self.opened - self.sound)
        return moved


class Circuits:
    """The wiring in every mood of one state of power; each branch is solved when first asked."""

    def __init__(self, sheet: Sheet, lines: Sequence[Line], *, powered: bool) -> None:
        self.lines = tuple(lines)
        moods = KEY_ON if powered else AT_REST
        self._made = [Circuit(sheet, lines, mood, powered=powered) for mood in moods]
        self._swings: dict[str, tuple[Swing, ...]] = {}

    @cached_property
    def sounds(self) -> tuple[Array, ...]:
        """Readings with all joints sound, mood by mood."""
        return tuple(circuit.sound() for circuit in self._made)

    def swings(self, branch: str) -> Sequence[Swing]:
        """How the readings move with a branch, mood by mood."""
        if branch not in self._swings:
            opened = [circuit.opened(branch) for circuit in self._made]
            self._swings[branch] = tuple(
                Swing(sound, values, rest)
                for sound, (values, rest) in zip(self.sounds, opened, strict=True)
            )
        return self._swings[branch]

    def span(self, branch: str, extra_ohm: Array) -> tuple[Array, Array]:
        """Least and most over all moods: a row for each resistance, a column for each line."""
        values = np.array([swing.at(extra_ohm) for swing in self.swings(branch)])
        return values.min(axis=0), values.max(axis=0)
