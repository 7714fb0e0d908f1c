"""What the comment on top of each demo with devices claims, held to the plan that is made of it."""

from __future__ import annotations

import pytest
from support.plans import plan_of, run_of

from lugwright.plans.schema import Plan, WayRow

DEMOS = ("key-fuses-dimmer", "breaker-panel", "fuse-block-aboard", "led-lamp-bus")


def way(plan: Plan, far: str) -> WayRow:
    """The row of a way."""
    return next(row for row in plan.ways if row.far == far)


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_is_proved_and_checked_by_money_too(name: str) -> None:
    """The plan by money is worked up at the cost it was searched for, and is never dearer."""
    by_money = plan_of(name, "objective=cheapest")
    assert by_money.totals.money_micro <= plan_of(name).totals.money_micro


@pytest.mark.parametrize("name", DEMOS)
def test_every_far_post_has_its_one_jumper(name: str) -> None:
    """One jumper from each far post whose circuit has other posts, and it starts there."""
    plan = plan_of(name)
    posts = {post.id: post for post in plan.panel.posts}
    for row in plan.ways:
        if row.kind == "stop":
            continue
        own = [p for p in posts.values() if row.circuit and p.circuit == row.circuit]
        ends = [j.from_joint for j in plan.jumpers] + [j.to_joint for j in plan.jumpers]
        assert ends.count(row.far) == (1 if len(own) > 1 else 0), row.far
        assert all(j.to_joint != row.far for j in plan.jumpers)


def test_battery_lands_on_the_strip_and_the_dials_have_a_hub() -> None:
    """The strip may not be the hub; battery has no other post. Loads land on the breakers."""
    plan = plan_of("breaker-panel")
    landed = {landing.circuit: landing.post for landing in plan.landings}
    assert landed["battery"] == "breakers.in"
    assert landed["ignition"].partition(".")[0] == landed["ground"].partition(".")[0]
    assert landed["ignition"].partition(".")[0] != "breakers"
    assert {row.circuit for row in plan.ways if row.current_ma} == {
        *("ignition", "pump", "cabin lights"),
    }


def test_two_positions_of_one_switch_never_count_together() -> None:
    """The larger of 1 A and 0.8 A passes the fuse; a bulb counts five times in the switch."""
    plan = plan_of("fuse-block-aboard")
    assert way(plan, "fuses.f2").current_ma == 1000
    assert [way(plan, f"lights.{name}").judged_ma for name in ("navigation", "anchor")] == [
        *(5000, 4000),
    ]


def test_the_lamp_bus_is_the_only_hub() -> None:
    """LED lamps count as they are; no dial has a post that a supply lands on."""
    plan = plan_of("led-lamp-bus")
    assert plan.hub == "bars"
    assert way(plan, "light.out").judged_ma == way(plan, "light.out").current_ma == 180
    for dial in ("depth", "trim", "log"):
        assert run_of("led-lamp-bus", hub=dial).plan is None
