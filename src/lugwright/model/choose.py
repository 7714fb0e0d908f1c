"""The door of this room: a problem in, an outcome out."""

from __future__ import annotations

import contextlib
import threading
import time
from collections.abc import Callable, Iterable
from concurrent.futures import Future
from dataclasses import replace
from typing import TypeVar

from lugwright.base import stop
from lugwright.base.identity import JointId, WireId
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Answer
from lugwright.model.formulation.objective import Objective
from lugwright.model.formulation.trials import ONE_PER_CIRCUIT
from lugwright.model.search.best_first import Search
from lugwright.model.search.found import Found
from lugwright.model.search.speed import FAST, Speed
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.refit import refitted
from lugwright.plans.choice import Choice, ChosenExtension, ChosenFitting, WireKey
from lugwright.plans.free_ends import with_free_ends
from lugwright.plans.outcome import TIE_RULE, Ending, Outcome
from lugwright.plans.progress import Listener
from lugwright.problem.schema import BoatGroup, GroupOption, Problem
from lugwright.trade.names import (
    boat_group,
    is_boat_group,
    join_of,
    lead_wire,
    pigtail_wire,
    wire_of_bare_end,
)


def best_choice(
    problem: Problem,
    *,
    time_limit_s: float | None = None,
    hubs: Iterable[str] | None = None,
    listener: Listener | None = None,
    speed: Speed = FAST,
    any_plan: bool = False,
) -> Outcome:
    """Search for the best plan of a problem, within a time limit in seconds (None: no limit).

    ``hubs`` restricts the hub to some instruments; ``any_plan`` ends with the first plan found.
    An interrupt from the keyboard stops the
    search and keeps the best so far. "No plan exists" is only said when a second, different
    solve agreed for every hub and size.
    """
    clock = Clock(time_limit_s)
    search = Search(problem, clock, listener, hubs=hubs, speed=speed, any_plan=any_plan)
    if problem.faults:
        levels = search.objective.levels
        return Outcome(Ending.IMPOSSIBLE, levels, reasons=problem.faults)
    found, interrupted = run_aside(clock, search.run, search.so_far)
    outcome = _outcome(problem, search.objective, found, interrupted)
    return replace(outcome, met=tuple(sorted(search.judge.met.copy())))


def best_per_hub(
    problem: Problem,
    names: Iterable[str],
    *,
    time_limit_s: float | None = None,
    listener: Listener | None = None,
    anywhere: bool = False,
) -> dict[str, Outcome]:
    """The best plan with each of some instruments as the hub of all circuits, in one search.

    ``anywhere`` adds, under ``ONE_PER_CIRCUIT``, the best of plans with a hub for each circuit.
    An instrument that the rule of hubs does not compare (R7) is left out, and so is one that not
    every supply can reach. Limits of time and an interrupt
    as in ``best_choice``.
    """
    clock = Clock(time_limit_s)
    search = Search(problem, clock, listener)
    levels = search.objective.levels
    if problem.faults:
        return {n: Outcome(Ending.IMPOSSIBLE, levels, reasons=problem.faults) for n in names}

    def work() -> dict[str, Found]:
        each = search.run_each(names)
        return {**each, ONE_PER_CIRCUIT: search.run()} if anywhere else each

    found, interrupted = run_aside(clock, work, search.so_far_each)
    # What was settled before an interrupt stays settled: each hub's bound speaks for itself.
    return {
        hub: replace(_outcome(problem, search.objective, one, False), interrupted=interrupted)
        for hub, one in found.items()
    }


T = TypeVar("T")
PATIENCE_S = 0.3  # of the second within which a stopped command ends


def run_aside(
    clock: Clock, ask: Callable[[], T], so_far: Callable[[], T] | None = None
) -> tuple[T, bool]:
    """Run a search in a thread of its own, so that an interrupt reaches us while it solves.

    Interrupted, it has ``PATIENCE_S`` to come to an end of its own. Then it is left to itself,
    and what ``so_far`` says is what was found. Without that KeyboardInterrupt is raised.
    """
    done: Future[T] = Future()

    def work() -> None:
        try:
            done.set_result(ask())
        except BaseException as fault:  # handed on to the thread that waits
            done.set_exception(fault)

    thread = threading.Thread(target=work, name="search", daemon=True)
    stopped_s: float | None = None
    with stop.noted():  # before the search can tell of anything it has found
        thread.start()
        while thread.is_alive():
            with contextlib.suppress(KeyboardInterrupt):
                thread.join(0.05)
                if not stop.asked():
                    continue
            clock.stop()
            stopped_s = stopped_s or time.monotonic()
            if time.monotonic() - stopped_s > PATIENCE_S:
                break
    if done.done():
        return done.result(), stopped_s is not None
    if so_far is None:
        raise KeyboardInterrupt
    return so_far(), True


def _outcome(problem: Problem, objective: Objective, found: Found, interrupted: bool) -> Outcome:
    levels = objective.levels
    if found.best is None:
        if found.ended and not found.disagreed:
            return Outcome(Ending.IMPOSSIBLE, levels, interrupted=interrupted)
        note = "two solves disagree on whether a plan exists" if found.disagreed else ""
        bound = objective.unfold(found.bound)
        return Outcome(Ending.NO_ANSWER, levels, bound=bound, interrupted=interrupted, note=note)
    proved = found.ended and found.bound == found.best.value
    note = "the search stopped before it had told plans of equal cost apart"
    if not found.equal_open:
        note = ""
    if found.disagreed:
        note = "two solves disagree on whether some hub has a plan: nothing is claimed"
    return Outcome(
        Ending.PROVED if proved else Ending.WITHIN_BOUND,
        levels,
        choice=choice_of(problem, found.best.answer),
        cost=objective.vector(found.best.answer.sums),
        bound=objective.unfold(found.bound),
        interrupted=interrupted,
        note=note,
        tie_rule=TIE_RULE,
    )


def choice_of(problem: Problem, answer: Answer) -> Choice:
    """The bare decisions of an answer: which wire in which barrel of which fitting.

    Where other fittings of equal cost come first by rule R28, the joint has those.
    """
    judge = Judge(problem)
    answer = refitted(problem, judge, answer)
    walked = judge.walk(answer)
    fittings: list[ChosenFitting] = []
    groups = {(g.post, boat_group(g.boat_block)): g for g in problem.boat_groups}
    for (joint, whose), option in answer.picks.items():
        if not option.picks:
            continue
        if is_boat_group(whose):
            fittings += _boat_block_fittings(problem, groups[joint, whose], option)
            continue
        placed = judge.assign(answer, walked, joint, whose, option)
        if placed is None:
            raise RuntimeError(f"{joint}: a chosen fitting carries more than it may")
        fittings += [ChosenFitting(joint, pick.item, wires, pick.folded) for pick, wires in placed]
    extensions = []
    for circuit, size in sorted(answer.extension_sizes.items()):
        question = problem.circuit(circuit)
        wire = pigtail_wire(circuit)
        extensions.append(ChosenExtension(wire, size, question.extension(size).colour))
        fittings.append(_join_fitting(wire, question.butts[size]))
    for need in problem.extensions:
        extensions.append(ChosenExtension(need.wire, need.size, need.colour))
        fittings.append(_join_fitting(need.wire, need.butt))
    choice = Choice(
        landings=tuple(sorted(_landed(problem, answer))),
        jumpers=tuple(sorted(answer.jumpers)),
        extensions=tuple(sorted(extensions)),
        fittings=tuple(sorted(fittings)),
    )
    return with_free_ends(choice, problem.free_ends)


def _landed(problem: Problem, answer: Answer) -> Iterable[tuple[str, JointId]]:
    """Each circuit's landing post; a circuit that is a far post and no more has none."""
    for name, post in answer.landings.items():
        circuit = problem.circuit(name)
        if not circuit.root or circuit.others:
            yield name, post


def _join_fitting(wire: WireId, butt: GroupOption) -> ChosenFitting:
    pick = butt.picks[0]
    given, extension = WireKey("given", wire), WireKey("extension", wire)
    halves = tuple((given,) if half == (wire,) else (extension,) for half in pick.barrels)
    return ChosenFitting(join_of(wire), pick.item, halves, pick.folded)


def _boat_block_fittings(
    problem: Problem, group: BoatGroup, option: GroupOption
) -> list[ChosenFitting]:
    extended = {need.wire for need in problem.extensions}

    def key(end: str) -> WireKey:
        wire = wire_of_bare_end(end)
        if end == wire:
            return WireKey("given", lead_wire(group.post))
        return WireKey("extension" if wire in extended else "given", wire)

    return [
        ChosenFitting(
            group.post,
            pick.item,
            tuple(tuple(sorted(key(end) for end in half)) for half in pick.barrels),
            pick.folded,
        )
        for pick in option.picks
    ]
