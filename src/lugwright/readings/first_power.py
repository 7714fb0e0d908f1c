"""First power through a lamp: current, the feed that is powered, and all others dead.

Feeds are proved apart by volts, not by ohms: a cold bulb is a few ohms.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from lugwright.plans.schema import Plan
from lugwright.readings import bands as b
from lugwright.readings.feeds import Feed, feeds_of, inside, is_keyed
from lugwright.readings.schema import Line
from lugwright.readings.settings import Devices
from lugwright.readings.touch import Touch
from lugwright.readings.wiring import Load, Wiring, post_node

MINUS_WORDS = "minus of the supply"


def first_power_lines(plan: Plan, wiring: Wiring) -> Iterator[Line]:
    """One feed after the other: its current, its volts, and the highest of all other feeds."""
    feeds = feeds_of(plan)
    closed = Devices(plan.panel).apart
    touch = Touch({post.id: post for post in plan.panel.posts})
    for feed in feeds:
        loads = inside(plan, wiring, feed.circuit)
        all_ma = sum(load.current_ma for load in loads)
        most = all_ma * b.CURRENT_PERMILLE // 1000 // b.CURRENT_STEP_MA + 1
        yield Line(
            "", "first current", feed.circuit, feed.powered_at, feed.powered_at,
            f"in series with {feed.source}", "", "A", 0, most * b.CURRENT_STEP_MA, closed=closed,
        )  # fmt: skip
        yield Line(
            "", "powered feed", feed.circuit, MINUS_WORDS, post_node(feed.post), MINUS_WORDS,
            touch.words(feed.post), "V", least_mv(plan, loads), None,
            what=_powered(plan, feed), closed=closed,
        )  # fmt: skip
        others = [one for one in feeds if one is not feed]
        if others:
            yield _apart(plan, feed, others, touch)


def _apart(plan: Plan, feed: Feed, others: list[Feed], touch: Touch) -> Line:
    return Line(
        "", "feeds apart", feed.circuit, MINUS_WORDS, post_node(others[0].post), MINUS_WORDS,
        touch.feeds(others), "V", None, b.DEAD_MV - 1, closed=Devices(plan.panel).apart,
        what=f"{_powered(plan, feed)}, no other; the highest of these",
    )  # fmt: skip


def _powered(plan: Plan, feed: Feed) -> str:
    key = ", key on" if is_keyed(plan, feed.circuit) else ""
    return f"{feed.source} powered{key}"


def least_mv(plan: Plan, loads: list[Load]) -> int:
    """What the loads leave of the least supply behind the smallest lamp, mV, rounded down.

    The lamp is taken hot (nominal volts squared over its watts), bulbs of the panel cold: the two
    share the volts as their resistances do.
    """
    nominal_mv = plan.panel.nominal_mv
    lamp_ohm = Fraction(nominal_mv**2, b.TEST_LAMP_W * 1_000_000)
    siemens = sum(
        (
            Fraction(load.current_ma, nominal_mv)
            * (b.COLD_BULB if load.lamp else Fraction(1000, b.REST_PERMILLE))
            for load in loads
        ),
        Fraction(0),
    )
    least_mv = nominal_mv * b.SUPPLY_LOW_PERMILLE / Fraction(1000) / (1 + siemens * lamp_ohm)
    return int(least_mv) // b.STEP_MV * b.STEP_MV
