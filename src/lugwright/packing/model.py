"""Cutting stock in CP-SAT: least new spools or least scrap, proved where time allows.

Where the ways to fill one spool can be listed, the model counts how often each is used (Gilmore
and Gomory 1961: its linear relaxation is close). Else it says for every length of wire how many
of each piece it gives. The plain bound is asked first: most orders of a shop meet it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from lugwright.model import solver as cp_model
from lugwright.model.clock import Clock
from lugwright.packing.bounds import packing_of, spools_bound_plain
from lugwright.packing.first_answer import first_answer
from lugwright.packing.question import Filled, Least, Packing, PackingQuestion
from lugwright.problem.settings import SEED

MOST_PATTERNS = 20_000
MOST_SPOOLS = 60
Cuts = tuple[tuple[int, int], ...]


def best_packing(question: PackingQuestion, *, time_limit_s: float | None = None) -> Packing:
    """The best way to cut the pieces, with its proved bound.

    Raises ValueError when a piece fits nowhere.
    """
    best = first_answer(question)
    if best.proved(question.least):
        return best
    clock = Clock(time_limit_s)
    if question.least == "spools":
        best = _fewer_spools(question, best, clock)
        if best.spools > best.spools_bound:
            return best
        return _less_scrap(question, best, clock, most_spools=best.spools)
    best = _less_scrap(question, best, clock, most_spools=None)
    if best.scrap_dmm > best.scrap_bound_dmm:
        return best
    return best if best.spools == best.spools_bound else _spool_by_spool(question, best, clock)


def _solver(clock: Clock) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = SEED
    solver.parameters.catch_sigint_signal = False  # signals are the program's own
    left = clock.left()
    if left is not None:
        solver.parameters.max_time_in_seconds = max(0.01, left)
    return solver


def _fewer_spools(question: PackingQuestion, best: Packing, clock: Clock) -> Packing:
    """Least new spools: by patterns where they can be listed, else spool by spool."""
    if best.spools == best.spools_bound:
        return best
    patterns = _all_patterns(question)
    if patterns is not None:
        return _by_patterns(question, best, patterns, clock)
    return _spool_by_spool(question, best, clock)


def _all_patterns(question: PackingQuestion) -> dict[int, list[Cuts]] | None:
    """Every full way to fill each different length of wire; None when there are too many."""
    found: dict[int, list[Cuts]] = {}
    room = MOST_PATTERNS
    for stock in sorted({question.spool_dmm, *question.on_hand}):
        found[stock] = []
        for cuts in _patterns(question, stock):
            found[stock].append(cuts)
            room -= 1
            if room < 0:
                return None
    return found


def _patterns(question: PackingQuestion, stock: int) -> Iterator[Cuts]:
    """Ways to fill a length to which no wanted piece can be added."""
    lengths = sorted(question.pieces, reverse=True)

    def fill(index: int, room: int, cuts: Cuts) -> Iterator[Cuts]:
        if index == len(lengths):
            taken = dict(cuts)
            if all(room < n or taken.get(n, 0) == question.pieces[n] for n in lengths):
                yield cuts
            return
        length = lengths[index]
        for count in range(min(question.pieces[length], room // length), -1, -1):
            more = (*cuts, (length, count)) if count else cuts
            yield from fill(index + 1, room - count * length, more)

    yield from fill(0, stock, ())


def _by_patterns(
    question: PackingQuestion, best: Packing, patterns: dict[int, list[Cuts]], clock: Clock
) -> Packing:
    """Least new spools by how often each pattern is cut; more than is wanted may be listed."""
    model = cp_model.CpModel()
    uses: list[tuple[int, bool, Cuts, cp_model.IntVar]] = []
    for stock, new, most in _kinds(question, best.spools):
        own = [(cuts, model.new_int_var(0, most, "")) for cuts in patterns[stock]]
        uses += [(stock, new, cuts, use) for cuts, use in own]
        model.add(sum(use for _, use in own) <= most)
    for length, wanted in question.pieces.items():
        model.add(sum(dict(cuts).get(length, 0) * use for _, _, cuts, use in uses) >= wanted)
    spools = sum(use for _, new, _, use in uses if new)
    model.add(spools >= best.spools_bound)
    model.minimize(spools)
    solver = _solver(clock)
    status = solver.solve(model)
    floor = 0 if status == cp_model.UNKNOWN else _whole(solver.best_objective_bound)
    found = []
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        found = _wanted_only(
            question, [(s, n, c) for s, n, c, use in uses for _ in range(solver.value(use))]
        )
    bound = max(best.spools_bound, floor)
    return _better(question, best, found, "spools", bound, best.scrap_bound_dmm)


def _kinds(question: PackingQuestion, most_new: int) -> Iterator[tuple[int, bool, int]]:
    """Different lengths of wire: length, whether new, and how many there are at the most."""
    for stock, count in sorted(Counter(question.on_hand).items()):
        yield stock, False, count
    yield question.spool_dmm, True, most_new


def _wanted_only(question: PackingQuestion, cut: list[tuple[int, bool, Cuts]]) -> list[Filled]:
    """The listed cuts without what is more than wanted."""
    left = dict(question.pieces)
    filled = []
    for stock, new, cuts in cut:
        kept = tuple((length, min(count, left[length])) for length, count in cuts)
        for length, count in kept:
            left[length] -= count
        filled.append(Filled(stock, new, tuple(pair for pair in kept if pair[1])))
    return filled


def _whole(bound: float) -> int:
    """A bound of a whole number, rounded up with room for the solver's last digits."""
    return -int(-(bound - 1e-6) // 1)


def _less_scrap(
    question: PackingQuestion, best: Packing, clock: Clock, most_spools: int | None
) -> Packing:
    """Least scrap, in no more than so many new spools (None: as many as pieces can need).

    Where that would be very many, a good answer is sought in fewer and no bound is claimed.
    """
    if best.scrap_dmm == 0:
        return packing_of(question, best.filled, best.spools_bound)
    most = sum(question.pieces.values()) if most_spools is None else most_spools
    wide = _Spools(question, min(most, max(best.spools, MOST_SPOOLS)))
    wide.model.minimize(wide.scrap)
    found, floor = wide.solve(clock)
    bound = best.scrap_bound_dmm if wide.new < most else max(best.scrap_bound_dmm, floor)
    return _better(question, best, found, "scrap", best.spools_bound, bound)


def _spool_by_spool(question: PackingQuestion, best: Packing, clock: Clock) -> Packing:
    """Least new spools, in no more than the best answer takes and with no more scrap if asked."""
    narrow = _Spools(question, best.spools)
    if question.least == "scrap":
        narrow.model.add(narrow.scrap <= best.scrap_dmm)
    narrow.model.minimize(narrow.spools)
    found, floor = narrow.solve(clock)
    bound = max(best.spools_bound, floor)
    return _better(question, best, found, "spools", bound, best.scrap_bound_dmm)


def _better(
    question: PackingQuestion,
    best: Packing,
    found: list[Filled],
    least: Least,
    spools_bound: int,
    scrap_bound_dmm: int,
) -> Packing:
    """The better of two answers with the bounds now known; the earlier one where they are equal."""
    bounds = min(spools_bound, best.spools), min(scrap_bound_dmm, best.scrap_dmm)
    if found:
        new = packing_of(question, found, *bounds)
        if new.cost(least)[0] < best.cost(least)[0]:
            return new
    return packing_of(question, best.filled, *bounds)


class _Spools:
    """Every length of wire with how many of each piece it gives, as one model.

    Lengths of wire that are alike are used in order of their fill, so that none is a copy.
    """

    def __init__(self, question: PackingQuestion, new: int) -> None:
        self.question, self.new = question, new
        self.model = cp_model.CpModel()
        self.lengths = sorted(question.pieces, reverse=True)
        self.stocks = [(length, False) for length in sorted(question.on_hand)]
        self.stocks += [(question.spool_dmm, True)] * new
        self.counts: list[list[cp_model.IntVar]] = []
        used: list[cp_model.IntVar] = []
        scrap: list[cp_model.IntVar] = []
        fills: list[cp_model.LinearExprT] = []
        for stock, is_new in self.stocks:
            on, waste, fill = self._one(stock)
            scrap.append(waste)
            fills.append(fill)
            if is_new:
                used.append(on)
        self._all_pieces()
        for index in range(1, len(self.stocks)):
            if self.stocks[index] == self.stocks[index - 1]:
                self.model.add(fills[index] <= fills[index - 1])
        self.spools: cp_model.LinearExprT = sum(used)
        self.scrap: cp_model.LinearExprT = sum(scrap)
        self.model.add(self.spools >= spools_bound_plain(question))

    def _one(self, stock: int) -> tuple[cp_model.IntVar, cp_model.IntVar, cp_model.LinearExprT]:
        """One length of wire: whether it is cut into, its scrap, and what is cut from it."""
        model, question = self.model, self.question
        row = [
            model.new_int_var(0, min(question.pieces[length], stock // length), "")
            for length in self.lengths
        ]
        self.counts.append(row)
        fill = sum(length * count for length, count in zip(self.lengths, row, strict=True))
        on, kept = model.new_bool_var(""), model.new_bool_var("")
        waste = model.new_int_var(0, max(0, min(stock, question.keep_dmm - 1)), "")
        model.add(fill <= stock * on)
        model.add(fill <= stock - question.keep_dmm).only_enforce_if(kept)
        model.add(waste >= stock - fill).only_enforce_if(on, ~kept)
        return on, waste, fill

    def _all_pieces(self) -> None:
        for index, length in enumerate(self.lengths):
            wanted = self.question.pieces[length]
            self.model.add(sum(row[index] for row in self.counts) == wanted)

    def solve(self, clock: Clock) -> tuple[list[Filled], int]:
        """What is cut from which length (nothing where no answer came), and the bound."""
        solver = _solver(clock)
        status = solver.solve(self.model)
        floor = 0 if status == cp_model.UNKNOWN else _whole(solver.best_objective_bound)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return [], floor
        return [
            Filled(stock, new, self._cuts(solver, row))
            for (stock, new), row in zip(self.stocks, self.counts, strict=True)
        ], floor

    def _cuts(self, solver: cp_model.CpSolver, row: list[cp_model.IntVar]) -> Cuts:
        pairs = zip(self.lengths, row, strict=True)
        return tuple((length, solver.value(n)) for length, n in pairs if solver.value(n))
