"""The ways out: the least change of one thing, and of a few things together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.values import value_text
from lugwright.studies.conflict import plan_persists, thinned
from lugwright.studies.easing import Easing, Places
from lugwright.studies.least_change import least_step
from lugwright.studies.question import Verdict
from lugwright.studies.question_variants import Asking, Step, Variant
from lugwright.studies.schema import Way


@dataclass(frozen=True)
class Found:
    """The least step of one thing, and the variant with it taken; None where there is none.

    ``unsettled``: time ended the search.
    """

    way: Way | None
    variant: Variant | None
    unsettled: bool


def least_way(asking: Asking, name: str, aside: Variant) -> Found:
    """The least change of one thing, in the variant ``aside`` of the question."""
    one = asking.every[name]

    def verdict(index: int) -> Verdict:
        return asking.verdict(aside.with_step(Step(name, one.values[index])), name)

    least = least_step(len(one.values), verdict, climbs=one.climbs)
    if least.index is None:
        return Found(None, None, least.unknown)
    value = one.values[least.index]
    places = _fewest_places(asking, one, value, aside)
    where = tuple(place for place in one.places if places and place in places)
    way = Way(
        name=name,
        text=", ".join(one.say(asking.brief, value, place) for place in where or ("",)),
        value=value_text(SPEC_BY_NAME[name], value) if one.kind == "limit" else "",
        places=where,
        least=least.least,
    )
    return Found(way, aside.with_step(Step(name, value, places)), False)


def ways_together(asking: Asking, names: Sequence[str]) -> tuple[Way, ...]:
    """A few changes that together let a plan exist, out of things that do when all are gone.

    None of them can be left out. Each is the least while those before it are as found and those
    after it are gone. What nobody may change, as the shop holds it, stays as it is. Empty where
    one of them has no step that is enough, or time ran out.
    """

    def still(kept: frozenset[str]) -> bool | None:
        return plan_persists(asking.verdict(Variant(kept), "several changes together"))

    names = [name for name in names if asking.every[name].values]
    if not still(frozenset(names)):
        return ()
    kept = thinned(names, still).kept
    ways: list[Way] = []
    variant = Variant()
    for index, name in enumerate(kept):
        rest = frozenset(kept[index + 1 :])
        found = least_way(asking, name, variant.without(rest))
        if found.way is None or found.variant is None:
            return ()
        ways.append(found.way)
        variant = replace(found.variant, gone=frozenset())
    return tuple(ways)


def _fewest_places(asking: Asking, one: Easing, value: Any, aside: Variant) -> Places | None:
    """The fewest places at which a step must be taken; None where it has none to choose."""
    if not one.places or one.single:
        return None

    def still(places: frozenset[str]) -> bool | None:
        variant = aside.with_step(Step(one.name, value, places))
        return plan_persists(asking.verdict(variant, one.name))

    names = _used_places(asking, one, value, aside)
    if not still(frozenset(names)):
        names = one.places
    return frozenset(thinned(names, still).kept) if len(names) > 1 else frozenset(names)


def _used_places(asking: Asking, one: Easing, value: Any, aside: Variant) -> tuple[str, ...]:
    """Places of which a plan with the step taken everywhere wants more than they have."""
    shown = asking.probe(aside.with_step(Step(one.name, value)))
    wanted = {found.part or found.place for found in asking.findings(one.name, aside, shown)}
    return tuple(place for place in one.places if place in wanted) or one.places
