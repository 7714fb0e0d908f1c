"""What every hold costs: the same question asked again without it.

One hold is set against the free optimum. Of several, each is set against the best plan that
keeps only the others, and all together against the free optimum.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

from lugwright.model.choose import best_choice
from lugwright.outputs.hubs_table import short_level
from lugwright.outputs.words import level_text, levels_text
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.progress import Listener, Progress
from lugwright.problem.held import hold_in
from lugwright.problem.schema import Problem
from lugwright.scenario.holds import Held


@dataclass(frozen=True)
class Price:
    """What comes of letting go: ``let_go`` in words, and how the search without it ended.

    ``outcome`` is None where there was no time to ask.
    """

    let_go: str
    outcome: Outcome | None


ALL_HOLDS = "all holds together"


def price_holds(
    problem: Problem,
    held: Held,
    outcome: Outcome,
    *,
    time_limit_s: float | None = None,
    progress: Listener | None = None,
) -> tuple[Price, ...]:
    """Ask again without each hold, and without any where there are several.

    ``problem`` is the question with nothing held in it, ``outcome`` that with everything held.
    ``time_limit_s`` in seconds for all of it.
    """
    started, stopped = time.monotonic(), outcome.interrupted
    questions = [(str(hold), held.without(hold)) for hold in held.holds]
    if len(questions) > 1:
        questions.append((ALL_HOLDS, Held()))
    prices = []
    for let_go, rest in questions:
        left_s = None
        if time_limit_s is not None:
            left_s = time_limit_s - (time.monotonic() - started)
        if stopped or (left_s is not None and left_s <= 0):
            prices.append(Price(let_go, None))
            continue
        if progress is not None:
            progress(Progress(f"what does it cost to hold: {let_go}"))
        try:
            asked = hold_in(problem, rest)
        except KeyboardInterrupt:  # while the question is still being put together
            prices.append(Price(let_go, None))
            stopped = True
            continue
        hubs = (rest.hub,) if rest.hub else None
        free = best_choice(asked, time_limit_s=left_s, hubs=hubs)
        stopped = stopped or free.interrupted
        prices.append(Price(let_go, free))
    return tuple(prices)


def with_prices(outcome: Outcome, held: Held, prices: tuple[Price, ...]) -> Outcome:
    """The outcome with a sentence for every hold; where no plan keeps all, with what would help."""
    if outcome.choice is not None:
        return replace(outcome, held=tuple(_price_text(price, outcome) for price in prices))
    if outcome.ending is not Ending.IMPOSSIBLE:
        return replace(outcome, held=held.told)
    helped = [p.let_go for p in prices if p.outcome is not None and p.outcome.choice is not None]
    helped = [words for words in helped if words != ALL_HOLDS] or helped
    kept = "; ".join(held.told)
    note = f"held: {kept}"
    if helped:
        note += f"; a plan exists without: {', or without: '.join(helped)}"
    elif all(p.outcome is not None and p.outcome.ending is Ending.IMPOSSIBLE for p in prices):
        note += "; letting go of what is held lets no plan exist either"
    note = f"{outcome.note}; {note}" if outcome.note else note
    return replace(outcome, held=held.told, note=note)


def _price_text(price: Price, outcome: Outcome) -> str:
    """What one hold costs, never more than is known."""
    free = price.outcome
    if free is None or free.choice is None:
        return f"{price.let_go} (what that costs was not found in time)"
    proved = outcome.ending is Ending.PROVED and free.ending is Ending.PROVED
    about = "" if proved else "as far as was found in time, "
    if free.cost == outcome.cost:
        return f"{price.let_go} ({about}costs nothing)"
    less = [
        level_text(short_level(name), mine - other) + " more"
        if mine > other
        else level_text(short_level(name), other - mine) + " less"
        for name, mine, other in zip(outcome.levels, outcome.cost, free.cost, strict=True)
        if mine != other
    ]
    without = levels_text(tuple(map(short_level, free.levels)), free.cost)
    return f"{price.let_go} ({about}costs {', '.join(less)}; without it: {without})"
