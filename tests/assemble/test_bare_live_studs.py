"""A stud that is live with everything off gets a boot, with wires on it or bare.

Stricter than 33 CFR 183.445(b), which accepts a fuse before it.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from lugwright.base.toml import parse_toml
from lugwright.checker.run import check_plan
from lugwright.pipeline import make_plan, read_inputs
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief
from lugwright.trade.live import live_posts

LED_BUS = Path(__file__).parents[2] / "scenarios/led-lamp-bus.toml"


@pytest.fixture(scope="module")
def planned() -> tuple[Brief, Plan]:
    """A bar of four studs for ignition, live with everything off: the LEDs take two of them."""
    text = LED_BUS.read_text(encoding="utf-8")
    brief = read_inputs(parse_toml(text.encode(), LED_BUS.name))
    plan = make_plan(brief).plan
    assert plan is not None
    return brief, plan


def boots(plan: Plan) -> list[str]:
    """The posts that a step puts a boot over."""
    return sorted(step.target for step in plan.steps if step.verb == "boot")


def test_every_live_stud_gets_its_boot(planned: tuple[Brief, Plan]) -> None:
    """Those with a stack and those without; as many are bought, and the checker agrees."""
    brief, plan = planned
    studs = {post.id for post in brief.console.posts if post.kind == "stud"}
    wanted = sorted(post for post in live_posts(brief.console) if post in studs)
    assert set(wanted) - {stack.post for stack in plan.stacks}  # some are bare
    assert boots(plan) == wanted
    assert [line.need for line in plan.buy if line.item == "insulating boot"] == [len(wanted)]
    assert check_plan(brief, plan).findings == ()


def test_the_checker_misses_a_boot_on_a_bare_stud(planned: tuple[Brief, Plan]) -> None:
    """Without that step something live stands open in the end."""
    brief, plan = planned
    stacked = {stack.post for stack in plan.stacks}
    (bare, *_) = [post for post in boots(plan) if post not in stacked]
    kept = [step for step in plan.steps if (step.verb, step.target) != ("boot", bare)]
    steps = tuple(step.model_copy(update={"number": n}) for n, step in enumerate(kept, 1))
    found = check_plan(brief, plan.model_copy(update={"steps": steps})).findings
    assert ("step end", bare) in {(one.rule, one.place) for one in found}
