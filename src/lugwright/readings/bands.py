"""Pass bands, computed exactly from the plan, and where every tolerance comes from.

A band is as wide as a sound panel can be: at one end nothing draws current and every joint is
perfect, at the other everything draws what the plan says, wires are as warm as the limits allow,
and every joint is as poor as a sound joint may be. The meter's own steps are added to that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from lugwright.base.scale import ceil_div
from lugwright.electrics.nodal import Network, Paths, Solution
from lugwright.plans.schema import Plan
from lugwright.readings.wiring import MINUS, Branch, Load, Wiring, post_node

Closed = frozenset[str]
"""Far posts of the ways that conduct."""

# A sound crimped or screwed joint stays below this, µΩ. Common practice, no source.
SOUND_JOINT_UOHM = 2_000
# A hand meter shows 0.1 ohm and 10 mV; a difference of two readings is good to two steps.
# Common practice, no source.
METER_MOHM, METER_MV = 200, 20
STEP_MOHM, STEP_MV = 100, 10
# A boat wire's length aboard is not in the plan: 14 m of 18 AWG, 0.021 ohm/m (ASTM B258),
# and no more. Common practice, no source.
ABOARD_MOHM = 300
# Supply from 85 % to 125 % of nominal: a tired battery to one on charge. Loads that draw in
# proportion to their volts then draw at most 125 %. Common practice, no source.
SUPPLY_LOW_PERMILLE, SUPPLY_HIGH_PERMILLE = 850, 1250
# A switch's own contacts. Common practice, no source.
SWITCH_MV = 200
# Loads at rest on an ohmmeter read no less than half of volts over amperes, a cold bulb no less
# than a twelfth; without any load behind it a feed reads at least a kilohm. Common practice, no
# source.
REST_PERMILLE, COLD_BULB, NO_LOAD_MOHM = 500, 12, 1_000_000
# The smallest test lamp that first power is given through, W. Common practice, no source.
TEST_LAMP_W, TEST_LAMP_MOST_W = 21, 55
# A feed that is not powered reads less than this beside one that is. Common practice, no source.
DEAD_MV = 100
# Steady current above the sum of all loads by this much is somebody else's current.
# Common practice, no source.
CURRENT_PERMILLE, CURRENT_STEP_MA = 1200, 50

TOLERANCES: tuple[tuple[str, str, str], ...] = (
    (
        "a sound joint",
        f"at most {SOUND_JOINT_UOHM / 1000:g} milliohm",
        "common practice, no source",
    ),
    (
        "the meter, ohms",
        f"{METER_MOHM / 1000:g} ohm: two steps of {STEP_MOHM / 1000:g}",
        "common practice, no source",
    ),
    (
        "the meter, volts",
        f"{METER_MV / 1000:g} V: two readings, a step of {STEP_MV / 1000:g} each",
        "common practice, no source",
    ),
    (
        "supply",
        f"{SUPPLY_LOW_PERMILLE / 10:g} % to {SUPPLY_HIGH_PERMILLE / 10:g} % of nominal; loads "
        "draw in proportion",
        "common practice, no source",
    ),
    (
        "a boat wire's own length",
        f"{ABOARD_MOHM / 1000:g} ohm",
        "common practice, no source",
    ),
    ("a switch that is on", f"{SWITCH_MV / 1000:g} V", "common practice, no source"),
    (
        "loads at rest",
        f"at least {REST_PERMILLE / 10:g} % of volts over amperes, a cold bulb a "
        f"{COLD_BULB}th; {NO_LOAD_MOHM / 1e6:g} kilohm where there is none",
        "common practice, no source",
    ),
    (
        "first current",
        f"at most {CURRENT_PERMILLE / 10:g} % of the loads that stay connected",
        "common practice, no source",
    ),
    (
        "a powered feed",
        f"behind a test lamp of {TEST_LAMP_W} W, bulbs cold, supply at its least",
        "common practice, no source",
    ),
    ("a feed that is off", f"under {DEAD_MV / 1000:g} V", "common practice, no source"),
)


def worst_uohm(branch: Branch, crimp_uohm: int) -> int:
    """A branch at its poorest while every joint is sound, µΩ."""
    each = {"crimp": max(SOUND_JOINT_UOHM, crimp_uohm)}
    joints = sum(each.get(joint.kind, SOUND_JOINT_UOHM) for joint in branch.joints)
    return max(1, branch.uohm + joints)


@dataclass(frozen=True)
class Bands:
    """Exact answers about the wiring at its poorest while sound."""

    plan: Plan
    wiring: Wiring
    _solved: dict[Closed, Solution] = field(default_factory=dict, compare=False)
    _ready: dict[Closed, Paths] = field(default_factory=dict, compare=False)

    def sag_mv(self, node: str, closed: Closed = frozenset()) -> int | None:
        """How far a node may stand from its own pole of the supply, mV, rounded up to the meter's
        step, with all on that these closed ways feed; None for a node no supply reaches.
        """
        if closed not in self._solved:
            self._solved[closed] = _loaded(self.plan, self.wiring, closed)
        drop_nv = self._solved[closed].drop_nv(node)
        if drop_nv is None:
            return None
        most_nv = drop_nv * SUPPLY_HIGH_PERMILLE / 1000
        return ceil_div(int(-(-most_nv // 1_000_000)), STEP_MV) * STEP_MV + METER_MV

    def path_mohm(self, start: str, end: str, closed: Closed = frozenset()) -> int | None:
        """The most a meter may read along the wiring, through these ways, mΩ; None where nothing
        leads there.
        """
        if closed not in self._ready:
            self._ready[closed] = _conductors(self.plan, self.wiring, closed).paths()
        path_uohm = self._ready[closed].uohm(start, end)
        if path_uohm is None:
            return None
        path_mohm = ceil_div(int(-(-path_uohm // 1)), 1000)
        return ceil_div(path_mohm, STEP_MOHM) * STEP_MOHM + METER_MOHM

    def rest_mohm(
        self, feed: str, ground: str, loads: Sequence[Load], closed: Closed = frozenset()
    ) -> int:
        """The least a meter may read from a feed to a ground with these loads in place, mΩ.

        Conductors at no resistance, bulbs cold, all else at its lowest: nothing sound reads less.
        """
        network = Network()
        joined = ((one.a, one.b) for one in self.wiring.conducting(closed))
        for a, b in (*self.wiring.same, *joined):
            network.join(a, b)
        nominal_mv = self.plan.panel.nominal_mv
        for load in loads:
            if load.current_ma:
                times = COLD_BULB if load.lamp else Fraction(1000, REST_PERMILLE)
                rest = Fraction(nominal_mv * 1_000_000, load.current_ma * load.share) / times
                network.add(load.name, load.a, load.b, max(1, int(rest)))
        found = network.paths().uohm(feed, ground)
        if found is None:
            return NO_LOAD_MOHM
        return min(NO_LOAD_MOHM, int(found) // 1000 // STEP_MOHM * STEP_MOHM)


def bands_of(plan: Plan, wiring: Wiring) -> Bands:
    """The bands of a plan's wiring."""
    return Bands(plan, wiring)


def _loaded(plan: Plan, wiring: Wiring, closed: Closed) -> Solution:
    """The wiring with these ways closed and everything on that they feed.

    A load that hangs on no circuit of the plan is on: its supply is somebody else's.
    """
    fed = {post_node(post.id) for post in plan.panel.posts if post.circuit}
    network = _conductors(plan, wiring, closed)
    sources = [*wiring.feeds, *wiring.grounds]
    unloaded = network.solve(sources)
    for load in wiring.loads:
        if load.drawn_at in fed and unloaded.drop_nv(load.drawn_at) is None:
            continue
        network.take(load.a, load.current_ma)
        if load.b != MINUS:
            network.take(load.b, load.current_ma)
    return network.solve(sources)


def _conductors(plan: Plan, wiring: Wiring, closed: Closed) -> Network:
    """The wiring without its loads, every joint at its poorest while sound."""
    network = Network()
    for a, b in wiring.same:
        network.join(a, b)
    for branch in wiring.conducting(closed):
        network.add(branch.name, branch.a, branch.b, worst_uohm(branch, plan.panel.crimp_uohm))
    return network
