"""Small random consoles with devices: a key, a fuse block, a light switch, one of two positions.

Everything is drawn from one seed. The draws lie close round what decides: contact, section's
fuse and rating of a way are each felt in a fair share of the cases (``binding_ways`` counts it).
Names and numbers are invented.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

from support.limits import plain_limits

from brute.case import Case
from brute.given import Given
from brute.judged import judged_loads
from brute.random_consoles import FUSES_MA, REDRAWN, random_ties
from brute.random_devices import WayDraft, colour_of
from brute.random_stock import given_wire, random_limits, random_stock
from brute.sections import factored_permille, least_carries_in_ma
from brute.setting import Setting
from brute.straight_routes import leg_dmm, splice_candidates, straight_routes
from lugwright.base.scale import ceil_div
from lugwright.limits.schema import Limits
from lugwright.scenario.console import (
    Circuit,
    Console,
    Pigtail,
    Point,
    ReadyRing,
    SupplyRun,
    Way,
)
from lugwright.stock.schema import Stock

TIGHT = ("thread", "lugs", "barrel", "ampacity", "contact", "contact", "section", "section")
# What a switch's loads count (AC 43.13-1B Table 11-4, its 12 V and 28 V rows).
FACTORS: dict[str, Any] = {
    "switch_12v_permille": {"bulb": 5000, "relay": 2000, "motor": 2000, "resistive": 1000},
    "switch_24v_permille": {"bulb": 8000, "relay": 4000, "motor": 3000, "resistive": 2000},
}


def random_way_case(seed: int) -> Case:
    """One small random case with devices; the same seed gives the same case.

    A draw without a plan mostly is drawn again, up to five times. Of those that have one, some
    get a device that is too weak by a milliampere, or just strong enough.
    """
    for attempt in range(6):
        rng = Random(f"ways {seed + attempt * REDRAWN}")
        case = _drawn(rng, seed)
        if attempt == 5 or rng.random() < 0.06 or case.best().cost is not None:
            break
    if "contact" in case.traits:
        case = with_least_drop(case)
    return _weakened(rng, _rated(rng, case))


def _drawn(rng: Random, seed: int) -> Case:
    tight = frozenset(rng.choice(TIGHT) for _ in range(rng.randint(2, 3)))
    if "section" in tight:
        tight |= {"fuse"}
    limits = plain_limits(**random_limits(rng, tight))
    take_off: Any = "any" if rng.random() < 0.25 else "one"
    limits = replace(limits, way_take_off=take_off, **FACTORS)
    if "section" in tight and rng.random() < 0.7:
        limits = replace(limits, objective="cheapest")
    draft = WayDraft(rng, tight)
    draft.fill_with_devices()
    console = _fed(rng, draft, _console(rng, draft, limits), limits)
    limits = fitted_limits(rng, console, limits, draft)
    tabs = any(post.kind == "tab" for post in console.posts)
    colours = list(dict.fromkeys(circuit.colour for circuit in console.circuits))
    sizes = 2 if limits.wire_size_choice == "jumper" else 3
    stock = random_stock(rng, colours, sizes, draft.threads, tabs, tight)
    splices = {}
    if limits.splices:
        for circuit in console.circuits:
            most = 1 if 3 <= len(circuit.posts) <= 4 else 0
            named = splice_candidates(console, circuit.name, limits.dress_height_dmm, most)
            splices[circuit.name] = named
    traits = draft.traits | (tight & {"contact", "section"})
    return Case(console, limits, stock, seed, frozenset(traits), splices)


def with_least_drop(case: Case) -> Case:
    """The same where the drop allowed is about the least that a plan can keep."""
    limits = case.limits
    share = ceil_div(_behind_nv(case.console, limits), case.console.nominal_mv * 1000)
    for more in range(limits.drop_other_permille - share):
        both: dict[str, Any] = dict.fromkeys(
            ("drop_critical_permille", "drop_other_permille"), share + more
        )
        tighter = replace(case, limits=replace(limits, **both))
        if tighter.best().cost is not None:
            return tighter
    return case


def looked_up(console: Console, limits: Limits) -> Setting:
    """The console's currents, before there is stock or a route."""
    return Setting(console, limits, Stock((), (), (), ()), straight_routes(console, {}))


def _console(rng: Random, draft: WayDraft, limits: Limits) -> Console:
    """The console of a draft, as yet without pigtails."""
    circuits = []
    for name, posts in draft.circuit_posts().items():
        fed, taken = draft.supplied.get(name, ""), draft.taken.get(name, "")
        side: Any = name if name in ("ground", "stop") else "feed"
        least = rng.choice((0, 0, 0, 0, 0, 0, 1_200_000))
        circuits.append(Circuit(name, side, colour_of(name), "", taken, posts, None, least, fed))
    return Console(
        title="case with ways",
        width_dmm=draft.width_dmm,
        height_dmm=2000,
        thickness_dmm=60,
        nominal_mv=draft.nominal_mv,
        engine_space=rng.random() < (0.7 if "ampacity" in draft.tight else 0.3),
        service_travel_dmm=rng.choice((0, 300)),
        instruments=tuple(draft.instruments),
        posts=tuple(draft.posts),
        loads=tuple(draft.loads),
        circuits=tuple(circuits),
        unused_pigtails=(),
        boat_blocks=tuple(draft.boat_blocks),
        keep_outs=(),
        tie_points=random_ties(rng, draft, limits),
        ways=tuple(draft.ways),
    )


def _fed(rng: Random, draft: WayDraft, console: Console, limits: Limits) -> Console:
    """The console with its pigtails, and with fuses in its blocks."""
    found = looked_up(console, limits)
    totals = {circuit.name: found.total_ma(circuit) for circuit in console.circuits}
    circuits = tuple(
        circuit
        if circuit.supplied_by or circuit.taken_from
        else replace(
            circuit, pigtail=pigtail_of(rng, draft, circuit.name, max(totals[circuit.name]))
        )
        for circuit in console.circuits
    )
    home = {way.far: console.post(way.far).circuit for way in console.ways}
    ways = tuple(
        replace(way, amperes_ma=_amperes(rng, draft, max(totals[home[way.far]])))
        if way.amperes_ma
        else way
        for way in console.ways
    )
    return replace(console, circuits=circuits, ways=ways)


def _amperes(rng: Random, draft: WayDraft, total_ma: int) -> int:
    """A fuse that mostly fits what it feeds; a large one where its wires are to be felt."""
    enough = [fuse for fuse in FUSES_MA if fuse * 8 >= total_ma * 10]
    large = [fuse for fuse in (15_000, 20_000, 25_000) if fuse in enough]
    if "section" in draft.tight and large and rng.random() < 0.85:
        return rng.choice(large)
    return enough[0] if rng.random() < 0.95 else FUSES_MA[FUSES_MA.index(enough[0]) - 1]


def _rated(rng: Random, case: Case) -> Case:
    """Ways and near posts with limits of their own, round what they carry."""
    console, found = case.console, looked_up(case.console, case.limits)
    ways = [_rated_way(rng, found, way) for way in console.ways]
    devices = []
    for device in console.instruments:
        least = least_carries_in_ma(found, device.name)
        pick = rng.random()
        limit = 0 if pick < 0.5 or not least else least if pick < 0.91 else least - 1
        devices.append(replace(device, carries_in_ma=limit))
    made = replace(console, ways=tuple(ways), instruments=tuple(devices))
    return replace(case, console=made)


def _rated_way(rng: Random, found: Setting, way: Way) -> Way:
    kinds: Any = ("bulb", "led", "relay", "motor", "resistive")
    rated: Any = tuple(rng.sample(kinds, 2)) if rng.random() < 0.2 else ()
    way = replace(way, rated_for=rated)
    circuit = found.circuits.get(found.posts[way.far].circuit)
    if circuit is None or way.kind == "stop":
        return way
    least = ceil_div(factored_permille(found, way, circuit), 1000)
    pick = rng.random()
    if not least or pick < 0.4:
        return way
    return replace(way, carries_ma=least if pick < 0.92 else max(1, least - 1))


def _weakened(rng: Random, case: Case) -> Case:
    """Now and then limits of a device's posts, and of fittings, round what they carry."""
    if rng.random() > 0.25:
        return case
    console, found = case.console, looked_up(case.console, case.limits)
    totals = [max(found.total_ma(each)) for each in console.circuits]
    ends = {end for way in console.ways for end in (way.near, way.far)}
    posts = []
    for post in console.posts:
        if post.id in ends and post.circuit and rng.random() < 0.4:
            total = max(found.total_ma(found.circuits[post.circuit]))
            post = replace(post, carries_ma=max(1, total * rng.choice((80, 100, 100, 120)) // 100))
        posts.append(post)
    fittings = tuple(
        replace(row, carries_ma=max(1, max(totals) * rng.choice((50, 75, 100)) // 100))
        if rng.random() < 0.3
        else row
        for row in case.stock.fittings
    )
    stock = replace(case.stock, fittings=fittings)
    return replace(case, console=replace(console, posts=tuple(posts)), stock=stock)


def pigtail_of(rng: Random, draft: WayDraft, name: str, total_ma: int) -> Pigtail:
    """A pigtail, mostly long enough and mostly with a fuse that fits."""
    entry = Point(draft.width_dmm // 2, 0, rng.choice((0, 200)))
    goal = rng.choice([post.at for post in draft.posts if post.circuit == name])
    reach = leg_dmm(entry, goal) * rng.randint(110, 160) // 100 + rng.randint(500, 2500)
    enough = [fuse for fuse in FUSES_MA if fuse * 8 >= total_ma * 10]
    fuse = enough[rng.choice((0, 0, 1))]
    ring = None
    if rng.random() < 0.2:
        ring = ReadyRing(rng.choice(draft.threads), rng.randint(7, 11), rng.choice((60, 72)))
    run = None
    if rng.random() < 0.7 and name != "stop":
        wire = given_wire(rng.choice(("12 AWG", "10 AWG")), colour_of(name), 105)
        run = SupplyRun(rng.randint(10, 40) * 1000, wire, rng.randint(1, 2))
    return Pigtail(
        label=f"{name} pigtail",
        circuit=name,
        wire=given_wire(rng.choice(("14 AWG", "12 AWG", "12 AWG")), colour_of(name), 105),
        entry=entry,
        reach_dmm=reach,
        stage="aboard" if rng.random() < 0.06 and name != "stop" else "bench",
        ring=ring,
        fuse_ma=0 if name.split()[-1] in ("ground", "stop") else fuse,
        fuse_distance_dmm=1000,
        to_source=run,
    )


def _behind_nv(console: Console, limits: Limits) -> int:
    """The most that is lost before the landing posts and over contacts, for any load (nV)."""
    found = looked_up(console, limits)
    behind = {}
    for circuit in console.circuits:
        uohm = 0
        if circuit.pigtail is not None:
            uohm = found.pigtail_uohm(circuit.pigtail) - limits.crimp_uohm
        behind[circuit.name] = tuple(uohm * each for each in found.total_ma(circuit))
    lost = [0]
    for load in judged_loads(found, Given()):
        total = load.own_nv
        homes = {console.post(post).circuit for post in load.posts()}
        homes |= {found.circuits[name].taken_from for name in homes} - {""}
        total += sum(behind[name][load.state] for name in homes)
        lost.append(total)
    return max(lost)


def fitted_limits(rng: Random, console: Console, limits: Limits, draft: WayDraft) -> Limits:
    """Limits that depend on the console: a drop that the jumpers can just keep, and few trees."""
    tight = "contact" in draft.tight
    budget_mv = draft.heavy * (80 if tight else rng.choice((300, 500)))
    lost = _behind_nv(console, limits) + budget_mv * 1_000_000
    permille = ceil_div(lost, console.nominal_mv * 1000)
    changes: dict[str, Any] = {
        "drop_critical_permille": permille,
        "drop_other_permille": permille,
        "splices": draft.few and rng.random() < 0.3,
    }
    if console.tie_points:
        changes["off_loom_conductors"] = 1
    if draft.taken and draft.few and rng.random() < 0.4:
        changes["lamp_take_off"] = "any"
    elif draft.few and not changes["splices"] and rng.random() < 0.15:
        changes["wire_size_choice"] = "jumper"
    if any(block.is_sender for block in console.boat_blocks) and rng.random() < 0.15:
        changes["ground_shift_mv"] = rng.choice((20, 40, 80))
    return replace(limits, **changes)
