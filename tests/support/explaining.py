"""Helpers: explain a scenario file, and judge an explanation by fresh solves."""

from collections.abc import Iterable
from pathlib import Path

from lugwright import pipeline
from lugwright.plans.outcome import Ending
from lugwright.scenario.brief import Brief
from lugwright.studies.question import Prober, RouteMaker, Verdict
from lugwright.studies.question_variants import Asking, Variant
from lugwright.studies.schema import Member, WhyNot

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def question_of(
    name: str, settings: tuple[str, ...] = (), holds: tuple[tuple[str, str], ...] = ()
) -> Brief:
    """The question a scenario file poses."""
    inputs = pipeline.read_inputs(SCENARIOS / f"{name}.toml", settings=settings)
    return pipeline.holding(inputs, holds)


def members_of(why: WhyNot) -> list[set[str]]:
    """The names of each conflict's members."""
    return [{member.name for member in conflict.members} for conflict in why.conflicts]


def member(why: WhyNot, name: str) -> Member:
    """The member of that name."""
    return next(one for c in why.conflicts for one in c.members if one.name == name)


def verdict_without(question: Brief, route: RouteMaker, names: Iterable[str]) -> Verdict:
    """Whether a plan exists with these taken away, by a solve that remembers nothing."""
    return Asking(question, Prober(None, None, route)).verdict(Variant(frozenset(names)))


def assert_irreducible(question: Brief, why: WhyNot, route: RouteMaker) -> None:
    """Each conflict by itself has no plan; without any one of its members it has one."""
    assert why.conflicts and why.complete
    for names in members_of(why):
        rest = set(why.asked) - names
        assert verdict_without(question, route, rest) is Verdict.IMPOSSIBLE
        for name in sorted(names):
            assert verdict_without(question, route, rest | {name}) is Verdict.POSSIBLE


def has_plan(path: Path, settings: tuple[str, ...] = ()) -> bool:
    """Whether a whole planning run finds a plan that passes the checker; else proves none."""
    run = pipeline.make_plan(pipeline.read_inputs(path, settings=settings))
    if run.outcome.ending is Ending.IMPOSSIBLE:
        return False
    assert run.report is not None and run.report.passed
    return True
