"""The door of the model: endings, holds, what is told on the way, and the choice that comes out."""

from __future__ import annotations

from support.asking import ask, change_pigtail, choice_of, pose, roomy_limits
from support.consoles import tiny_console

from lugwright.model.choose import best_choice
from lugwright.plans.outcome import Ending
from lugwright.plans.progress import Progress


def test_proved_best() -> None:
    """Cost and bound meet, the tie rule is stated, nothing was interrupted."""
    outcome = best_choice(pose(tiny_console()))
    assert outcome.ending is Ending.PROVED
    assert outcome.cost == outcome.bound
    assert outcome.tie_rule
    assert not outcome.interrupted
    assert outcome.reasons == ()


def test_no_time_at_all() -> None:
    """Without any time there is no answer, and certainly no claim that none exists."""
    outcome = best_choice(pose(tiny_console()), time_limit_s=0)
    assert outcome.ending is Ending.NO_ANSWER
    assert outcome.choice is None


def test_faults_end_it_before_a_search() -> None:
    """What no choice can mend is said as reasons."""
    console = change_pigtail(tiny_console(), "ignition", fuse_distance_dmm=9999)
    outcome = best_choice(pose(console, roomy_limits(fuse_distance_dmm=1800)))
    assert outcome.ending is Ending.IMPOSSIBLE
    assert [reason.rule for reason in outcome.reasons] == ["fuse"]


def test_a_hub_held() -> None:
    """Held hubs only; an instrument that is none leaves no plan."""
    console = tiny_console()
    assert dict(choice_of(ask(console, hubs=["dial3"])).landings) == {
        "ground": "dial3.ground",
        "ignition": "dial3.ignition",
    }
    assert ask(console, hubs=["no such dial"]).ending is Ending.IMPOSSIBLE


def test_progress_never_passes_the_best() -> None:
    """Whatever is told on the way: the bound is never above the best cost, and levels are named."""
    told: list[Progress] = []
    outcome = best_choice(pose(tiny_console()), listener=told.append)
    assert told
    for report in told:
        assert report.levels == outcome.levels
        if report.best_cost is not None and report.bound is not None:
            assert report.bound <= report.best_cost
            assert report.best_cost >= outcome.cost


def test_every_wire_end_has_its_fitting_once() -> None:
    """Jumpers have two ends in fittings, pigtails one; nothing else is in any barrel."""
    choice = choice_of(ask(tiny_console()))
    held: dict[object, int] = {}
    for fitting in choice.fittings:
        for barrel in fitting.barrels:
            for key in barrel:
                held[key] = held.get(key, 0) + 1
    expected: dict[object, int] = {jumper.key: 2 for jumper in choice.jumpers}
    given = {key for key in held if key not in expected}
    assert {key: n for key, n in held.items() if key in expected} == expected
    assert sorted(str(held[key]) for key in given) == ["1", "1"]
