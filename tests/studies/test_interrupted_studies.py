"""Ctrl-C while a question is put together: what is known is kept, nothing is claimed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from support.explaining import SCENARIOS, question_of

from lugwright import pipeline
from lugwright.studies import holds, question, tight_spots, why_not
from lugwright.studies.words import why_lines


def stopping_at(number: int, real: Callable[..., Any]) -> Callable[..., Any]:
    """The same function, interrupted on its ``number``-th call."""
    calls = 0

    def interrupted(*args: Any, **named: Any) -> Any:
        nonlocal calls
        calls += 1
        if calls == number:
            raise KeyboardInterrupt
        return real(*args, **named)

    return interrupted


@pytest.mark.parametrize("number", [1, 2, 5, 9])
def test_why_not(number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every member that is named as settled is; the rest is called interrupted."""
    monkeypatch.setattr(question, "build_problem", stopping_at(number, question.build_problem))
    why = why_not.why_not(question_of("impossible/out-of-reach"))
    assert why.note == why_not.INTERRUPTED
    assert why_lines(why)[-1] == "Interrupted before everything was settled."
    for conflict in why.conflicts:
        for member in conflict.members:
            assert member.way is None or member.alone is question.Verdict.POSSIBLE


def test_why_not_between_two_questions(monkeypatch: pytest.MonkeyPatch) -> None:
    """An interrupt that meets no question at all claims nothing either."""
    monkeypatch.setattr(why_not, "_asked", stopping_at(1, why_not._asked))
    why = why_not.why_not(question_of("too-many-rings"))
    assert (why.conflicts, why.complete, why.note) == ((), False, why_not.INTERRUPTED)


def test_tight_spots(monkeypatch: pytest.MonkeyPatch) -> None:
    """What was not moved before the interrupt is named as not settled."""
    monkeypatch.setattr(tight_spots, "build_problem", stopping_at(2, tight_spots.build_problem))
    spots = tight_spots.tight_spots(pipeline.read_inputs(SCENARIOS / "one-wire-per-barrel.toml"))
    assert spots.interrupted
    assert len(spots.unsettled) == spots.asked - 1


def test_prices_of_holds(monkeypatch: pytest.MonkeyPatch) -> None:
    """A hold whose price was not asked for is told so; the plan is kept."""
    inputs = pipeline.read_inputs(SCENARIOS / "sandbar-skiff.toml")
    monkeypatch.setattr(holds, "hold_in", stopping_at(1, holds.hold_in))
    run = pipeline.make_plan(pipeline.holding(inputs, [("hub", "fuel")]))
    assert run.plan is not None
    assert run.plan.proof.held == ("hub fuel (what that costs was not found in time)",)
