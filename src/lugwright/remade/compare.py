"""Where a plan and the same plan made again differ, leaf by leaf."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

from lugwright.checker.finding import Finding
from lugwright.plans.schema import Plan, Step

MOST = 12  # findings told one by one; the rest are counted
SHOWN = 120  # letters of a text that are shown


def differences(plan: Plan, again: Plan) -> tuple[Finding, ...]:
    """A finding for each fact that the plan prints and that does not follow from it.

    Bench and aboard steps may stand in an order of their own (the second opinion plays them); the
    key-on steps may not. The proof is judged elsewhere.
    """
    mine, own = _data(plan), _data(again)
    mine["steps"], own["steps"] = _steps_side_by_side(plan, again)
    found = [
        Finding("printed", place, f"the plan says {_shown(stated)}, made again {_shown(made)}")
        for place, stated, made in _unlike(mine, own)
    ]
    if len(found) > MOST:
        more = len(found) - MOST
        found[MOST:] = [Finding("printed", "plan", f"{more} more facts are not as made again")]
    return tuple(found)


def _data(plan: Plan) -> dict[str, Any]:
    """What is compared: all but the proof, the program's own version and the family's name."""
    return plan.model_dump(mode="json", exclude={"proof", "made_with", "family"})


def _steps_side_by_side(plan: Plan, again: Plan) -> tuple[list[Any], list[Any]]:
    """Both plans' steps as data; in the plan's order where it has the same steps in another."""

    def bare(step: Step) -> Step:
        return step.model_copy(update={"number": 0})

    mine, own = list(map(bare, plan.steps)), list(map(bare, again.steps))
    last = [[step for step in steps if step.stage == "key-on"] for steps in (mine, own)]
    if Counter(mine) == Counter(own) and last[0] == last[1]:
        own = mine
    made = [step.model_copy(update={"number": at}) for at, step in enumerate(own, 1)]
    return [s.model_dump(mode="json") for s in plan.steps], [
        s.model_dump(mode="json") for s in made
    ]


def _unlike(mine: Any, own: Any, place: str = "") -> Iterator[tuple[str, Any, Any]]:
    """Every leaf that differs: its place, what the plan says, what it is made again."""
    if isinstance(mine, dict) and isinstance(own, dict):
        for key in sorted(mine.keys() | own.keys()):
            yield from _unlike(mine.get(key), own.get(key), f"{place}, {key}" if place else key)
    elif isinstance(mine, list) and isinstance(own, list):
        if len(mine) != len(own):
            yield place, f"{len(mine)} entries", f"{len(own)} entries"
            return
        for at, (stated, made) in enumerate(zip(mine, own, strict=True), 1):
            yield from _unlike(stated, made, f"{place} {at}")
    elif mine != own:
        yield place, mine, own


def _shown(value: Any) -> str:
    """A value as a finding shows it, cut where it is long."""
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= SHOWN else f"{text[:SHOWN]}…"
