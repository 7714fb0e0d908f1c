"""Why no plan exists, and for each thing in the way the least change that would let one exist.

Everything that can be loosened is taken away at once; if there is no plan even then, what is
missing is named. Otherwise things are put back as long as the rest can be done without, until
the fewest are left that cannot hold together (``conflict``). Where a plan still does not exist
with all of those taken away, there is another conflict behind it, and so on. Each step is a
planning run; what got no answer in time is called undecided, never impossible.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from lugwright.limits.explain import limit_value
from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.values import value_text
from lugwright.plan.outcome import Reason
from lugwright.plan.progress import Listener
from lugwright.routes.build import build_routes
from lugwright.studies.conflict import Thinned, conflict_persists, plan_persists, thinned
from lugwright.studies.evidence import findings, lacking_posts
from lugwright.studies.fact_steps import fact_steps
from lugwright.studies.least_change import least_step
from lugwright.studies.limit_steps import limit_steps
from lugwright.studies.loosening import Loosening, Places, all_off
from lugwright.studies.question import Probe, Prober, Question, RouteMaker, Verdict
from lugwright.studies.schema import Conflict, Finding, Member, Way, WhyNot
from lugwright.studies.shelf_steps import shelf_steps


def why_not(
    question: Question,
    *,
    time_limit_s: float | None = None,
    listener: Listener | None = None,
    route: RouteMaker = build_routes,
) -> WhyNot:
    """Why a question that has no plan has none; ``time_limit_s`` in seconds, None for no limit.

    ``route`` makes the routes. Raises OutsideTable as ``build_problem`` does.
    """
    return Explainer(question, Prober(time_limit_s, listener, route)).explain()


def loosenings(question: Question) -> tuple[Loosening, ...]:
    """Everything that can be loosened, the less telling first: of two the later one is named."""
    return (
        *shelf_steps(question),
        *fact_steps(question),
        *limit_steps(question.limits, question.stock),
    )


class Explainer:
    """One explanation: a question, what can be loosened in it, and the probes so far."""

    def __init__(self, question: Question, prober: Prober) -> None:
        self.question = question
        self.prober = prober
        self.every = {one.name: one for one in loosenings(question)}

    # -- asking ------------------------------------------------------------------------------

    def off(self, names: Iterable[str]) -> tuple[Question, tuple[object, ...]]:
        """The question without some things, and its key."""
        gone = [one for name, one in self.every.items() if name in set(names)]
        return all_off(self.question, gone), tuple(one.name for one in gone)

    def without(self, names: Iterable[str]) -> Verdict:
        """Whether a plan exists with these taken away."""
        names = frozenset(names)
        question, key = self.off(names)
        return self.prober.verdict(question, key, _few(names))

    def stepped(
        self, aside: frozenset[str], one: Loosening, value: Any, places: Places | None = None
    ) -> tuple[Question, tuple[object, ...]]:
        """The question with one step taken and some other things taken away, and its key."""
        question, key = self.off(aside)
        return one.step(question, value, places), (*key, one.name, value, places)

    # -- the whole answer --------------------------------------------------------------------

    def explain(self) -> WhyNot:
        """Conflict after conflict, until a plan exists without what they name."""
        whole = self.without(self.every)
        if whole is not Verdict.POSSIBLE:
            return self._nothing_helps(whole)
        now = self.without(())
        if now is not Verdict.IMPOSSIBLE:
            note = "on a second look a plan exists" if now is Verdict.POSSIBLE else OUT_OF_TIME
            return WhyNot((), (), self.prober.probes, False, note)
        groups: list[Thinned] = []
        gone: frozenset[str] = frozenset()
        while (verdict := self.without(gone)) is Verdict.IMPOSSIBLE:
            groups.append(self._conflict(gone))
            gone |= frozenset(groups[-1].kept)
        conflicts = tuple(self._members(group, gone) for group in groups)
        complete = verdict is Verdict.POSSIBLE
        return WhyNot(conflicts, (), self.prober.probes, complete, "" if complete else OUT_OF_TIME)

    def _conflict(self, gone: frozenset[str]) -> Thinned:
        """The fewest of what is left that cannot hold together."""
        names = [name for name in self.every if name not in gone]

        def still(kept: frozenset[str]) -> bool | None:
            return conflict_persists(self.without(frozenset(self.every) - kept))

        return thinned(names, still)

    def _nothing_helps(self, verdict: Verdict) -> WhyNot:
        if verdict is Verdict.UNDECIDED:
            return WhyNot((), (), self.prober.probes, False, OUT_OF_TIME)
        question, key = self.off(self.every)
        probe = self.prober.ask(question, key)
        faults = probe.problem.faults if probe else ()
        note = "no change of a limit, of the scenario or of the stock that was tried helps"
        missing = faults or (Reason("hub", "hub", lacking_posts(self.question)),)
        return WhyNot((), missing, self.prober.probes, True, note)

    # -- one member --------------------------------------------------------------------------

    def _members(self, group: Thinned, gone: frozenset[str]) -> Conflict:
        aside = gone - frozenset(group.kept)
        return Conflict(tuple(self._member(name, group, aside) for name in group.kept))

    def _member(self, name: str, group: Thinned, aside: frozenset[str]) -> Member:
        one = self.every[name]
        others = frozenset(group.kept) - {name}
        without = self.without(frozenset(self.every) - others)
        alone = self.without(aside | {name})
        way, shown, unsettled = None, None, alone is Verdict.UNDECIDED
        if alone is not Verdict.IMPOSSIBLE:
            way, shown, unsettled = self._way(one, aside)
        if shown is None:
            shown = self._shown(one, aside if alone is Verdict.POSSIBLE else None, others)
        return Member(
            name=name,
            kind=one.kind,
            value=self._present(one),
            origin=self._origin(one),
            findings=self._findings(name, aside, shown),
            without=without,
            alone=alone,
            way=way,
            unsettled=unsettled,
        )

    def _way(self, one: Loosening, aside: frozenset[str]) -> tuple[Way | None, Probe | None, bool]:
        """The least change of one thing alone, and a plan under it."""

        def verdict(index: int) -> Verdict:
            question, key = self.stepped(aside, one, one.values[index])
            return self.prober.verdict(question, key, one.name)

        least = least_step(len(one.values), verdict, climbs=one.climbs)
        if least.index is None:
            return None, None, least.unknown
        value = one.values[least.index]
        places = self._places(one, value, aside)
        question, key = self.stepped(aside, one, value, places)
        shown = self.prober.ask(question, key, "a plan to look at", short=True)
        if shown is None or shown.verdict is not Verdict.POSSIBLE:
            shown = self.prober.ask(question, key)
        where = tuple(place for place in one.places if places and place in places)
        text = ", ".join(one.say(self.question, value, place) for place in where or ("",))
        written = self._written(one, value)
        return Way(one.name, text, written, where, least.least), shown, False

    def _places(self, one: Loosening, value: Any, aside: frozenset[str]) -> Places | None:
        """The fewest places at which a step must be taken; None where it has none."""
        if not one.places or one.single:
            return None

        def still(places: frozenset[str]) -> bool | None:
            question, key = self.stepped(aside, one, value, places)
            return plan_persists(self.prober.verdict(question, key, one.name))

        names = self._used_places(one, value, aside)
        if not still(frozenset(names)):
            names = one.places
        if len(names) == 1:
            return frozenset(names)
        return frozenset(thinned(names, still).kept)

    def _used_places(self, one: Loosening, value: Any, aside: frozenset[str]) -> tuple[str, ...]:
        """Places of which a plan with the step taken everywhere wants more than they have."""
        question, key = self.stepped(aside, one, value)
        probe = self.prober.ask(question, key, "a plan to look at", short=True)
        if probe is None or probe.outcome.choice is None:
            return one.places
        wanted = {found.part or found.place for found in self._findings(one.name, aside, probe)}
        used = tuple(place for place in one.places if place in wanted)
        return used or one.places

    # -- numbers and words ---------------------------------------------------------------------

    def _shown(
        self, one: Loosening, aside: frozenset[str] | None, others: frozenset[str]
    ) -> Probe | None:
        """A plan without the member: all else in force if there is one, else only the others."""
        gone = frozenset(self.every) - others if aside is None else aside | {one.name}
        question, key = self.off(gone)
        return self.prober.ask(question, key, "a plan to look at", short=True)

    def _findings(
        self, name: str, aside: frozenset[str], shown: Probe | None
    ) -> tuple[Finding, ...]:
        question, key = self.off(aside)
        before = self.prober.ask(question, key)
        if shown is None or before is None:
            return ()
        return findings(name, before, shown)

    def _present(self, one: Loosening) -> str:
        if one.kind != "limit":
            return ""
        spec = SPEC_BY_NAME[one.name]
        return value_text(spec, limit_value(spec, self.question.limits))

    def _written(self, one: Loosening, value: Any) -> str:
        return value_text(SPEC_BY_NAME[one.name], value) if one.kind == "limit" else ""

    def _origin(self, one: Loosening) -> str:
        if one.kind == "limit":
            return self.question.limits.origin(one.name)
        return {"scenario": "scenario", "shelf": "stock", "call": "command line"}[one.kind]


OUT_OF_TIME = "the time given ended before everything was settled"


def _few(names: frozenset[str]) -> str:
    return "as it stands" if not names else f"without {len(names)} of its limits and facts"
