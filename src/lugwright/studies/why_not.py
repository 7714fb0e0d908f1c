"""Why no plan exists, and for each thing in the way the least change that would let one exist.

Everything that can be loosened is taken away at once; if there is no plan even then, what is
missing is named. Otherwise things are put back as long as the rest can be done without, until
the fewest are left that cannot hold together (``conflict``). Where a plan still does not exist
with all of those taken away, there is another conflict behind it, and so on. Each step is a
planning run; what got no answer in time is called undecided, never impossible.
"""

from __future__ import annotations

from lugwright.limits.explain import limit_value
from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.values import value_text
from lugwright.plans.outcome import Reason
from lugwright.plans.progress import Listener
from lugwright.routes.build import build_routes
from lugwright.scenario.brief import Brief
from lugwright.studies.conflict import conflict_persists, thinned
from lugwright.studies.easing import Easing
from lugwright.studies.excess import lacking_posts
from lugwright.studies.question import Prober, RouteMaker, Verdict
from lugwright.studies.question_variants import Asking, Variant
from lugwright.studies.schema import Conflict, Member, Way, WhyNot
from lugwright.studies.stock_steps import SIZES
from lugwright.studies.ways import Found, least_way, ways_together

OUT_OF_TIME = "the time given ended before everything was settled"
INTERRUPTED = "interrupted before everything was settled"
NOTHING_HELPS = "no change of a limit, of the scenario or of the stock that was tried helps"
ON_SECOND_LOOK = "asked once more, a plan was found: the two answers do not agree"
# Each jumper or circuit with more sizes to choose from makes every question many times larger.
SLOW = ("wire_size_choice", SIZES)
ORIGINS = {"scenario": "scenario", "stock": "stock", "hold": "what is held"}


def why_not(
    brief: Brief,
    *,
    time_limit_s: float | None = None,
    listener: Listener | None = None,
    route: RouteMaker = build_routes,
) -> WhyNot:
    """Why a question that has no plan has none; ``time_limit_s`` in seconds, None for no limit.

    ``route`` makes the routes. Raises OutsideTable as ``build_problem`` does.
    """
    asking = Asking(brief, Prober(time_limit_s, listener, route))
    try:
        return _answered(asking)
    except KeyboardInterrupt:  # between two questions
        return WhyNot((), (), (), (), asking.prober.probes, False, INTERRUPTED)


def _answered(asking: Asking) -> WhyNot:
    """The answer, as far as there is time for it."""
    now = asking.verdict(Variant(), "as it stands")
    if now is Verdict.POSSIBLE:
        return WhyNot((), (), (), (), asking.prober.probes, False, ON_SECOND_LOOK)
    asked, whole = _asked(asking)
    if whole is Verdict.IMPOSSIBLE:
        return _missing(asking, asked)
    if Verdict.UNDECIDED in (whole, now):
        return WhyNot((), (), (), asked, asking.prober.probes, False, _stopped(asking))
    return _explained(asking, asked)


def _asked(asking: Asking) -> tuple[tuple[str, ...], Verdict]:
    """What is taken away to begin with: what makes slow questions only where nothing else helps."""
    quick = tuple(name for name in asking.every if name not in SLOW)
    verdict = asking.verdict(Variant(frozenset(quick)), "without all limits and facts")
    if verdict is Verdict.POSSIBLE:
        return quick, verdict
    every = tuple(asking.every)
    return every, asking.verdict(Variant(frozenset(every)), "without all limits and facts")


def _explained(asking: Asking, asked: tuple[str, ...]) -> WhyNot:
    """Conflict after conflict, until a plan exists without what they name; then the ways out."""
    groups: list[tuple[str, ...]] = []
    gone: frozenset[str] = frozenset()
    while (verdict := asking.verdict(Variant(gone), "what else")) is Verdict.IMPOSSIBLE:
        groups.append(_conflict(asking, asked, gone))
        gone |= frozenset(groups[-1])
    groups = [_with_slow(asking, asked, group, gone) for group in groups]
    conflicts = tuple(_members(asking, asked, group, gone) for group in groups)
    complete = verdict is Verdict.POSSIBLE
    together: tuple[Way, ...] = ()
    if complete and (len(conflicts) > 1 or not _one_is_enough(conflicts[0])):
        together = ways_together(asking, [name for name in asking.every if name in gone])
    note = _stopped(asking) if asking.prober.out_of_time or not complete else ""
    return WhyNot(conflicts, together, (), asked, asking.prober.probes, complete, note)


def _stopped(asking: Asking) -> str:
    """What ended the search for reasons before its end."""
    return INTERRUPTED if asking.prober.interrupted else OUT_OF_TIME


def _with_slow(
    asking: Asking, asked: tuple[str, ...], group: tuple[str, ...], gone: frozenset[str]
) -> tuple[str, ...]:
    """A conflict with what was never taken away, where that alone ends it too.

    It stays irreducible: what ends a conflict with all else in force ends it with less in force.
    """
    aside = Variant(gone - frozenset(group))
    slow = [name for name in SLOW if name in asking.every and name not in asked]
    more = [n for n in slow if asking.verdict(aside.without([n]), n) is Verdict.POSSIBLE]
    return (*more, *group)


def _one_is_enough(conflict: Conflict) -> bool:
    return any(member.way for member in conflict.members)


def _conflict(asking: Asking, asked: tuple[str, ...], gone: frozenset[str]) -> tuple[str, ...]:
    """The fewest of what is left that cannot hold together."""

    def still(kept: frozenset[str]) -> bool | None:
        variant = Variant(frozenset(asked) - kept)
        return conflict_persists(asking.verdict(variant, "what cannot hold together"))

    return thinned([name for name in asked if name not in gone], still).kept


def _missing(asking: Asking, asked: tuple[str, ...]) -> WhyNot:
    """What no change of anything that was tried would mend."""
    probe = asking.probe(Variant(frozenset(asking.every)))
    faults = probe.problem.faults if probe else ()
    missing = faults or (Reason("hub", "hub", lacking_posts(asking.brief)),)
    return WhyNot((), (), missing, asked, asking.prober.probes, True, NOTHING_HELPS)


def _members(
    asking: Asking, asked: tuple[str, ...], group: tuple[str, ...], gone: frozenset[str]
) -> Conflict:
    aside = Variant(gone - frozenset(group))
    rest = frozenset(asked) - frozenset(group)
    return Conflict(tuple(_member(asking, name, Variant(rest), aside) for name in group))


def _member(asking: Asking, name: str, rest: Variant, aside: Variant) -> Member:
    """One member: ``rest`` has everything but the conflict gone, ``aside`` other conflicts."""
    one = asking.every[name]
    bare = rest.without([name])
    alone = asking.verdict(aside.without([name]), name)
    found = Found(None, None, alone is Verdict.UNDECIDED)
    if alone is Verdict.POSSIBLE:
        found = least_way(asking, name, aside)
    shown = found.variant or (aside.without([name]) if alone is Verdict.POSSIBLE else bare)
    return Member(
        name=name,
        kind=one.kind,
        value=_present(asking.brief, one),
        origin=_origin(asking.brief, one),
        findings=asking.findings(name, aside, asking.probe(shown)),
        without=asking.verdict(bare, name),
        alone=alone,
        way=found.way,
        unsettled=found.unsettled,
        held_by=asking.brief.limits.how_held(name) if one.kind == "limit" else "",
    )


def _present(brief: Brief, one: Easing) -> str:
    if one.kind != "limit":
        return ""
    spec = SPEC_BY_NAME[one.name]
    return value_text(spec, limit_value(spec, brief.limits))


def _origin(brief: Brief, one: Easing) -> str:
    return brief.limits.origin(one.name) if one.kind == "limit" else ORIGINS[one.kind]
