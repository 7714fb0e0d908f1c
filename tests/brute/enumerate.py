"""The least cost of a small console, found by trying everything: all hubs, trees, barrels, sizes.

Why the answer is exact:

1. A plan is a landing post for every circuit with a pigtail (all on one hub, or each its own),
   a tree of every circuit, a wire for every piece, and a crimping of every joint. The landing
   posts and trees are all listed (Prüfer sequences over the nodes, optional nodes and splice
   points in and out, every choice among linked posts), and so are the wires.
2. A joint's ends belong to one circuit, but for the studs where a taken circuit is taken off:
   there the taken circuit's ends are handed to the other circuit's list first, so that every
   joint is crimped knowing all its ends. Given the ends, a joint touches no other joint, and
   its cheapest crimping is part of a cheapest plan (``joints``).
3. Circuits then meet only in sums: cost, the drop of a load (feed and ground part), the
   conductors on a loom leg; and in extremes: the tallest stack, the conductors a leg can stand.
   A way that another one equals or beats in cost and in all of these can be left out: put the
   other in its place and the plan still holds and costs no more. (``thorough=True`` keeps all.)
4. Ways are combined in the order of cost; a branch ends only when its summed cost, with the
   least of what is to come, is no better than a plan in hand.
5. The tallest stack is no sum. For ``lowest-stacks`` the combination is run for every cap T on
   it, minimising (stacked, length, fittings); the least (stacked, T, length, fittings) over all
   T is the least of the true vectors: the best plan shows up at its own T, and no other T
   claims less than a plan that exists.
"""

from __future__ import annotations

from dataclasses import dataclass

from brute.circuits import CircuitWays
from brute.given import Given, lay_given
from brute.hubs import landing, landings
from brute.joints import Joints
from brute.judged import judged_loads
from brute.search import Combined, Key, SupplyWays, Way
from brute.setting import Leg, Setting
from brute.statements import NONE, Statements
from brute.tally import EQUALS, summed_key, with_tallest
from lugwright.limits.schema import Limits
from lugwright.routes.schema import Routes
from lugwright.scenario.console import Circuit, Console, Post
from lugwright.stock.schema import Stock


@dataclass(frozen=True)
class BruteResult:
    """The least objective vector (None: no plan exists), a hub that has it, and how.

    ``hub`` is the hub's name, or ``circuit=post`` for every landing where hubs may differ.
    ``detail`` says, a line each, the landings, extensions and jumpers of one best plan.
    ``equals``: wires folded back, money and margin (less than nought) of the first of equal plans.
    """

    cost: tuple[int, ...] | None
    hub: str | None
    detail: tuple[str, ...]
    equals: tuple[int, ...] = ()


NOTHING = BruteResult(None, None, ())


def loom_legs_of(setting: Setting) -> tuple[Leg, ...]:
    """Every leg between linked tie points."""
    legs: set[Leg] = set()
    for tie in setting.console.tie_points:
        for other in tie.to:
            low, high = sorted((tie.name, other))
            legs.add((low, high))
    return tuple(sorted(legs))


def _caps(limits: Limits, given: Given, lists: list[list[Way]]) -> list[int]:
    """The caps on the tallest stack to try: every height that occurs, or one that binds nothing."""
    heights = {given.tally.tallest, *(way.tallest for ways in lists for way in ways)}
    if limits.objective != "lowest-stacks":
        return [max(heights)]
    return sorted(height for height in heights if height >= given.tally.tallest)


def _hub_name(lands: list[Circuit], posts: tuple[Post, ...], one_hub: bool) -> str:
    if one_hub and len({post.instrument for post in posts}) < 2:
        return posts[0].instrument if posts else ""
    named = zip(lands, posts, strict=True)
    return ", ".join(f"{circuit.name}={post.id}" for circuit, post in named)


def best_by_enumeration(
    console: Console,
    limits: Limits,
    stock: Stock,
    routes: Routes,
    thorough: bool = False,
    more: Statements = NONE,
) -> BruteResult:
    """The minimum of the objective over every plan of a small console; None: there is no plan.

    ``thorough`` keeps even what another way beats in every respect (slow; same answer), ``more``
    is said beyond the console. Raises ValueError for a circuit without supply, and for what no
    rule speaks of.
    """
    setting = Setting(console, limits, stock, routes, every_state=thorough, more=more)
    joints = Joints(setting)
    given = lay_given(setting, joints)
    if given is None:
        return NOTHING
    owners = [circuit for circuit in console.circuits if not circuit.taken_from]
    loads, legs = judged_loads(setting, given), loom_legs_of(setting)
    ways = CircuitWays(setting, joints, given)
    supplies = SupplyWays(setting, ways, given, loads, legs, thorough)
    listed: dict[tuple[str, ...], list[Way]] = {}
    lands = [circuit for circuit, _ in landing(setting, owners)]
    before = summed_key(given.tally, limits)
    best: tuple[Key, BruteResult] | None = None
    for posts in landings(setting, owners):
        lists = []
        for circuit in owners:
            own = [post for one, post in zip(lands, posts, strict=True) if one is circuit]
            key_of = (circuit.name, *(post.id for post in own))
            if key_of not in listed:
                listed[key_of] = supplies.landed(circuit, *own)
            lists.append(listed[key_of])
            if not lists[-1]:
                break
        if len(lists) < len(owners) or not all(lists):
            continue
        for cap in _caps(limits, given, lists):
            combined = Combined(given, loads, legs)
            capped = [[way for way in each if way.tallest <= cap] for each in lists]
            combined.search(capped, before)
            if combined.best is None:
                continue
            key, chosen = combined.best
            cost = with_tallest(key, cap, limits)
            if best is None or cost < best[0]:
                detail = tuple(line for way in chosen for line in way.detail)
                hub = _hub_name(lands, posts, limits.one_hub)
                best = cost, BruteResult(cost[:-EQUALS], hub, detail, cost[-EQUALS:])
    return best[1] if best else NOTHING
