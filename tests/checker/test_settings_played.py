"""What the file has set on an instrument is a step before anything is on it; the checker asks."""

from __future__ import annotations

from support.plans import SCENARIOS, plan_of

from lugwright.checker.run import check_plan
from lugwright.pipeline import read_inputs
from lugwright.plans.schema import Step

DEMO = "key-fuses-dimmer"
TARGET = "setting of tachometer"


def told(steps: list[Step]) -> set[str]:
    """What the checker says of these steps, by rule."""
    numbered = [step.model_copy(update={"number": n}) for n, step in enumerate(steps, 1)]
    plan = plan_of(DEMO).model_copy(update={"steps": tuple(numbered)})
    return {one.rule for one in check_plan(read_inputs(SCENARIOS / f"{DEMO}.toml"), plan).findings}


def parts() -> tuple[Step, list[Step]]:
    """The step that sets the tachometer, and all others."""
    steps = plan_of(DEMO).steps
    (own,) = [step for step in steps if step.target == TARGET]
    return own, [step for step in steps if step is not own]


def test_as_the_plan_has_it_nothing_is_said() -> None:
    """It is set first of all."""
    own, others = parts()
    assert told([own, *others]) == set()


def test_a_setting_that_is_forgotten() -> None:
    """The dial would go in as it came from its box."""
    assert "step end" in told(parts()[1])


def test_a_setting_that_comes_when_wires_are_on() -> None:
    """Its back is no longer in hand."""
    own, others = parts()
    last = max(n for n, step in enumerate(others) if step.stage == "bench")
    assert "step order" in told([*others[: last + 1], own, *others[last + 1 :]])


def test_another_setting_than_the_files() -> None:
    """Words of one's own."""
    own, others = parts()
    other = own.model_copy(update={"text": "Before tachometer goes in, set it: six pulses."})
    assert "step order" in told([other, *others])
