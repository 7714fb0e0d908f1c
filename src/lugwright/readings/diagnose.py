"""Which single bad joint explains the readings, told as a set where they leave it open.

Every branch is tried open and with every resistance of a ladder in it. A branch is a suspect when
for one of these all lines agree with what was read: the verdict, and how far from the band it is.
How far is asked loosely, since nobody knows what a load really draws; far outside the band only
the side counts.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

import numpy as np

from lugwright.readings.agree import Truths, agrees, taken_from
from lugwright.readings.judge import PASSED, Judged, Verdict, judge_line
from lugwright.readings.network import Array, Circuits
from lugwright.readings.read_csv import Reading
from lugwright.readings.schema import Line, Sheet
from lugwright.readings.wiring import Branch, Joint

# Resistances tried in a joint, ohm: six a decade, and open.
LADDER_OHM = np.append(np.logspace(-2, 5, 43), np.inf)
# A load is dead below the one part of the supply, and does its work above the other.
DEAD, ALIVE = 0.4, 0.9
# No joint is blamed for these: a bad joint never lowers an ohmmeter's reading or adds current.
NOT_BLAMED = (
    "way open", "feed to ground", "signal to feed", "stop apart", "first current", "powered feed",
    "feeds apart", "live", "not live", "fuse", "setting", "supply", "alone", "pulled", "key off",
    "engine",
)  # fmt: skip


@dataclass(frozen=True)
class Suspect:
    """A branch that explains the readings, with the joints in it that no reading tells apart.

    ``least_ohm`` to ``most_ohm`` of resistance in one of them explains the readings, infinity is
    open. ``misfit`` is 0 when every reading lies within what the branch would make it be.
    """

    branch: Branch
    joints: tuple[Joint, ...]
    least_ohm: float
    most_ohm: float
    misfit: float


@dataclass(frozen=True)
class Diagnosis:
    """What may be wrong. ``explained``: each suspect alone explains every reading.

    Where none does, the suspects are those that come nearest, and ``unexplained`` names the lines
    the first of them does not explain. ``next_line`` is what to measure next, None where no
    further measurement tells them apart; ``outcomes`` says what is left for each verdict.
    """

    explained: bool
    suspects: tuple[Suspect, ...]
    unexplained: tuple[str, ...]
    next_line: Line | None
    outcomes: tuple[tuple[Verdict, tuple[Branch, ...]], ...]


def can_blame(judged: Sequence[Judged]) -> bool:
    """Whether a line fails that a bad joint may make fail."""
    return any(one.verdict not in PASSED and one.line.part not in NOT_BLAMED for one in judged)


# Lines on ohms that a bad joint makes fail.
AT_REST = ("continuity", "far end", "way closed")


class BadJoints:
    """What every line of a sheet, and every load, would show for every bad joint.

    The networks are solved as they are asked for, and kept: many sets of readings may be
    diagnosed with one of these.
    """

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        ohms = _by_setting(line for line in sheet.lines if line.part in AT_REST)
        volts = [line for line in sheet.lines if line.part == "volts"]
        volts = _by_setting([*volts, *sheet.extra, *_load_lines(sheet)])
        self._states = tuple(
            Circuits(sheet, lines, powered=powered)
            for asked, powered in ((ohms, False), (volts, True))
            for lines in _groups(asked)
        )
        self.column = {line.id: n for n, line in enumerate((*ohms, *volts))}
        self._of_supply = np.array([False] * len(ohms) + [True] * len(volts))
        self._spans: dict[str, tuple[Array, Array]] = {}

    def span(self, branch: str, supply_mv: float) -> tuple[Array, Array]:
        """Least and most, in V and ohm: a row for each step of the ladder, a column for each line
        (``column`` says which).
        """
        if branch not in self._spans:
            spans = [state.span(branch, LADDER_OHM) for state in self._states]
            low, high = (np.hstack(parts) for parts in zip(*spans, strict=True))
            self._spans[branch] = low, high
        scale = np.where(self._of_supply, supply_mv / 1000, 1.0)
        low, high = self._spans[branch]
        return low * scale, high * scale


def diagnose(bad: BadJoints, judged: Sequence[Judged], supply_mv: Fraction) -> Diagnosis:
    """The joints that explain the readings, likeliest first, and what to measure next.

    ``supply_mv``: the supply as measured, 0 where it was not.
    """
    nominal_mv = bad.sheet.plan.panel.nominal_mv
    return _Diagnoser(bad, judged, float(supply_mv or nominal_mv)).diagnosis()


@dataclass(frozen=True)
class _Match:
    """How a branch fits: at which steps of the ladder, at which best, and which lines not.

    Of steps that fit equally well the highest is the best: an open joint is the commoner fault.
    """

    branch: Branch
    ohms: tuple[float, float]
    step: int
    wrong: tuple[str, ...]
    misfit: float


class _Diagnoser:
    """One set of readings against every bad joint."""

    def __init__(self, bad: BadJoints, judged: Sequence[Judged], supply_mv: float) -> None:
        self.bad, self.supply_mv, self.judged = bad, supply_mv, tuple(judged)
        blamed = [
            one for one in judged if one.reading is not None and one.line.part not in NOT_BLAMED
        ]
        self.does = [one for one in blamed if one.line.part == "does"]
        self.taken = taken_from([one for one in blamed if one.line.part != "does"])
        self.columns = [bad.column[name] for name in self.taken.lines]

    def diagnosis(self) -> Diagnosis:
        branches = [branch for branch in self.bad.sheet.wiring.branches if branch.joints]
        matches = [self._match(branch) for branch in branches]
        least = min((len(match.wrong) for match in matches), default=0)
        best = [match for match in matches if len(match.wrong) == least]
        best.sort(key=lambda match: round(match.misfit, 6))  # else from the supply outwards
        failing = sum(
            one.verdict not in PASSED and one.line.part not in NOT_BLAMED for one in self.judged
        )
        if not best or least >= failing:
            return Diagnosis(False, (), tuple(best[0].wrong if best else ()), None, ())
        suspects = tuple(
            Suspect(match.branch, match.branch.joints, *match.ohms, match.misfit) for match in best
        )
        line, outcomes = self._next(best)
        return Diagnosis(not least, suspects, best[0].wrong, line, outcomes)

    def _match(self, branch: Branch) -> _Match:
        """Try every step of the ladder; keep the one that leaves fewest lines unexplained."""
        low, high = self.bad.span(branch.name, self.supply_mv)
        fits, off = agrees(self.taken, low[:, self.columns], high[:, self.columns])
        does = [self._does(one, low, high) for one in self.does]
        wrong = ~np.column_stack([fits, *does])
        count, misfit = wrong.sum(axis=1), off.sum(axis=1)
        steps = np.arange(len(LADDER_OHM))
        step = int(np.lexsort((-steps, misfit.round(6), count))[0])
        fitting = LADDER_OHM[count == count[step]]
        names = (*self.taken.lines, *(one.line.id for one in self.does))
        unexplained = tuple(name for name, bad in zip(names, wrong[step], strict=True) if bad)
        ohms = float(fitting.min()), float(fitting.max())
        return _Match(branch, ohms, step, unexplained, float(misfit[step]))

    def _does(self, one: Judged, low: Array, high: Array) -> Truths:
        """Whether something could work, or fail to, with the volts it then has."""
        supply = self.supply_mv / 1000
        loads = [self.bad.column[_load_id(name)] for name in one.line.loads]
        fits: Truths = (
            high[:, loads].max(axis=1) >= DEAD * supply
            if one.verdict == "pass"
            else low[:, loads].min(axis=1) <= ALIVE * supply
        )
        return fits

    def _next(
        self, matches: Sequence[_Match]
    ) -> tuple[Line | None, tuple[tuple[Verdict, tuple[Branch, ...]], ...]]:
        """The line not measured yet that leaves fewest joints whatever it reads."""
        open_lines = [
            one.line for one in self.judged
            if one.reading is None and one.line.part not in (*NOT_BLAMED, "does")
        ]  # fmt: skip
        branches = [match.branch for match in matches]
        best: tuple[int, Line | None, dict[Verdict, list[Branch]]] = _size(branches), None, {}
        measured = {one.line.id for one in self.judged if one.reading is not None}
        extra = [line for line in self.bad.sheet.extra if line.id not in measured]
        for line in [*open_lines, *extra]:
            left: dict[Verdict, list[Branch]] = {}
            for match in matches:
                for verdict in self._verdicts(line, match):
                    left.setdefault(verdict, []).append(match.branch)
            most = max(map(_size, left.values()))
            if most < best[0]:
                best = most, line, left
        return best[1], tuple((verdict, tuple(left)) for verdict, left in sorted(best[2].items()))

    def _verdicts(self, line: Line, match: _Match) -> set[Verdict]:
        """The verdicts a line can come to with a joint of a branch as bad as it seems to be."""
        supply = Fraction(round(self.supply_mv))
        at = match.step, self.bad.column[line.id]
        ends = (span[at] for span in self.bad.span(match.branch.name, self.supply_mv))
        readings = (Reading(Fraction(round(float(end) * 1000))) for end in ends)
        found = {judge_line(line, one, supply).verdict for one in readings}
        return found | {"pass"} if found == {"low", "high"} else found


def _size(branches: Sequence[Branch]) -> int:
    """How many joints are left."""
    return sum(len(branch.joints) for branch in branches)


def _load_id(load: str) -> str:
    return f"load {load}"


def _setting(line: Line) -> tuple[str, ...]:
    """What tells settings apart."""
    return tuple(sorted(line.closed))


def _groups(lines: Sequence[Line]) -> Iterator[tuple[Line, ...]]:
    """Lines of one setting each; one group without lines where there are none."""
    groups = [tuple(group) for _, group in groupby(lines, _setting)]
    yield from groups or [()]


def _by_setting(lines: Iterable[Line]) -> list[Line]:
    """Lines that are measured with the same ways closed, together."""
    return sorted(lines, key=_setting)


def _load_lines(sheet: Sheet) -> Iterator[Line]:
    """The volts across every load, which nobody measures but which make it work."""
    closed = {name: line.closed for line in sheet.lines for name in line.loads}
    for load in sheet.wiring.loads:
        on = closed.get(load.name, frozenset())
        yield Line(
            _load_id(load.name), "volts", "", load.b, load.a, "", "", "V", closed=on
        )
