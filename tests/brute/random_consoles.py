"""Small random consoles: a few instruments, two or three circuits, every feature now and then.

Everything is drawn from one seed, so a case can be named by its number. The draws are tuned so
that every rule is felt in a fair share of the cases and some cases have no plan at all
(``binding`` counts it); names and numbers are invented.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from random import Random
from typing import Any

from support.limits import plain_limits
from support.shared import shared

from brute.case import Case
from brute.enumerate import BruteResult
from brute.loosen import RULES
from brute.random_parts import Draft
from brute.random_stock import given_wire, random_limits, random_stock
from brute.straight_routes import leg_dmm, splice_candidates
from lugwright.base.scale import ceil_div
from lugwright.electrics.resistance import nohm_per_mm, wire_uohm
from lugwright.limits.schema import Limits
from lugwright.scenario.console import (
    Circuit,
    Console,
    GivenWire,
    Pigtail,
    Point,
    ReadyRing,
    SupplyRun,
    TiePoint,
)

FUSES_MA = (1000, 2000, 3000, 5000, 7500, 10_000, 15_000, 20_000, 25_000, 30_000, 40_000, 60_000)
REDRAWN = 1_000_003  # more than any seed in use: a second draw is no other case's first one
# the rules that are felt seldom, because another stands before them, are drawn tight more often
OFTEN_TIGHT = (
    *RULES,
    *(rule for rule in RULES if rule not in ("barrel", "reach", "minimum length")),
    *("thread", "thread", "drop", "drop", "ampacity", "fuse"),
)
COLOURS = {"ignition": "purple", "ground": "black", "lamps": "dark blue"}


@cache
def random_case(seed: int) -> Case:
    """One small random case; the same seed gives the same case.

    Where the first draw has no plan, it mostly is drawn again, up to three times: consoles
    without a plan say little about costs, and some of them are enough. Which draw it was, and
    what the enumerator found for it, is made once in a run of the tests.
    """
    attempt, found = shared(f"random case {seed}", lambda: draw(seed))
    case = _drawn(Random(seed + attempt * REDRAWN), seed)
    return case if found is None else case.with_best(found)


def draw(seed: int) -> tuple[int, BruteResult | None]:
    """The number of the draw that is taken, and what the enumerator found if it was asked."""
    for attempt in range(3):
        rng = Random(seed + attempt * REDRAWN)
        case = _drawn(rng, seed)
        if rng.random() < 0.08:
            return attempt, None
        if case.best().cost is not None:
            return attempt, case.best()
    return 3, None


def _drawn(rng: Random, seed: int) -> Case:
    tight = frozenset(rng.choice(OFTEN_TIGHT) for _ in range(rng.randint(3, 4)))
    limits = plain_limits(**random_limits(rng, tight))
    draft = Draft(rng, tight)
    draft.fill()
    console, traits = _console(rng, draft, limits)
    limits = _fitted_limits(rng, console, limits, draft)
    per_jumper = limits.wire_size_choice == "jumper"
    colours = [circuit.colour for circuit in console.circuits]
    tabs = any(post.kind == "tab" for post in console.posts)
    stock = random_stock(rng, colours, 2 if per_jumper else 3, draft.threads, tabs, tight)
    splices = {}
    if limits.splices:
        for circuit in console.circuits:
            most = min(rng.randint(0, 2), max(0, 6 - len(circuit.posts)))
            named = splice_candidates(console, circuit.name, limits.dress_height_dmm, most)
            splices[circuit.name] = named
    traits |= {f"objective {limits.objective}", f"take-off {limits.lamp_take_off}"}
    traits |= {f"sizes by {limits.wire_size_choice}"}
    traits |= {"splices"} if any(splices.values()) else set()
    traits |= set() if limits.one_hub else {"several hubs"}
    traits |= {"ground shift"} if limits.ground_shift_mv is not None else set()
    return Case(console, limits, stock, seed, frozenset(traits), splices)


def _console(rng: Random, draft: Draft, limits: Limits) -> tuple[Console, set[str]]:
    """The console of a draft, with pigtails that mostly reach and fuses that mostly fit."""
    traits = set(draft.traits)
    circuits = []
    demand = draft.demands()
    for name, posts in draft.circuit_posts().items():
        taken = "ignition" if name == "lamps" and draft.lamps == "taken" else ""
        total = sum(demand[post] for post in posts)
        if name == "ignition" and draft.lamps == "taken":
            total += sum(demand[post] for post in draft.circuit_posts()["lamps"])
        pigtail = None if taken else _pigtail(rng, draft, name, total)
        if pigtail is not None and pigtail.ring is not None:
            traits.add("ready-made ring")
        if pigtail is not None and pigtail.stage == "aboard":
            traits.add("pigtail aboard")
        side: Any = "ground" if name == "ground" else "feed"
        least = rng.choice((0, 0, 0, 0, 0, 1_200_000))
        circuits.append(Circuit(name, side, COLOURS[name], "", taken, posts, pigtail, least))
    ties = random_ties(rng, draft, limits)
    traits |= {"loom"} if ties else set()
    return (
        Console(
            title=f"case {draft.width_dmm}",
            width_dmm=draft.width_dmm,
            height_dmm=2000,
            thickness_dmm=60,
            nominal_mv=12_000,
            engine_space=rng.random() < (0.7 if "ampacity" in draft.tight else 0.3),
            service_travel_dmm=rng.choice((0, 300, 800)),
            instruments=tuple(draft.instruments),
            posts=tuple(draft.posts),
            loads=tuple(draft.loads),
            circuits=tuple(circuits),
            unused_pigtails=(),
            boat_blocks=tuple(draft.boat_blocks),
            keep_outs=(),
            tie_points=ties,
        ),
        traits,
    )


def random_ties(rng: Random, draft: Draft, limits: Limits) -> tuple[TiePoint, ...]:
    """Sometimes a loom: two or three tie points in a row, each leading to the next."""
    if rng.random() > 0.15:
        return ()
    count = rng.randint(2, 3)
    names = [f"tie {number}" for number in range(1, count + 1)]
    step = draft.width_dmm // (count + 1)
    places = [Point(step * number, 300, limits.dress_height_dmm) for number in range(1, count + 1)]
    leads = [(name,) for name in names[1:]] + [()]
    return tuple(map(TiePoint, names, places, leads))


def _pigtail(rng: Random, draft: Draft, name: str, total_ma: int) -> Pigtail:
    """A pigtail for a circuit; its reach is drawn round the distance to some post of it."""
    entry = Point(draft.width_dmm // 2, 0, rng.choice((0, 200)))
    goal = rng.choice([post.at for post in draft.posts if post.circuit == name])
    reach = leg_dmm(entry, goal) * rng.randint(100, 150) // 100 + rng.randint(200, 1000)
    if "reach" not in draft.tight:
        reach += 2500
    enough = [fuse for fuse in FUSES_MA if fuse * 8 >= total_ma * 10]
    least = 0 if rng.random() < 0.93 else -1
    fuse = ([FUSES_MA[0], *enough])[1 + (rng.choice((0, 1, 1)) if "fuse" in draft.tight else least)]
    size = rng.choice(("16 AWG", "14 AWG", "14 AWG", "12 AWG", "12 AWG"))
    ring = None
    if rng.random() < 0.3:
        ring = ReadyRing(rng.choice(draft.threads), rng.randint(7, 11), rng.choice((60, 72, 90)))
    run = None
    if rng.random() < 0.8:
        wire = given_wire(rng.choice(("12 AWG", "10 AWG")), COLOURS[name], 105)
        run = SupplyRun(rng.randint(15, 50) * 1000, wire, rng.randint(1, 2))
    return Pigtail(
        label=f"{name} pigtail",
        circuit=name,
        wire=given_wire(size, COLOURS[name], 105),
        entry=entry,
        reach_dmm=reach,
        stage="aboard" if rng.random() < 0.1 else "bench",
        ring=ring,
        fuse_ma=0 if name == "ground" else fuse,
        fuse_distance_dmm=rng.choice((1000, 1700)) if rng.random() < 0.99 else 2500,
        to_source=run,
    )


def _behind_mv(console: Console, limits: Limits, circuit: Circuit) -> int:
    """Roughly what is lost before the landing post (mV): supply run and pigtail."""
    pigtail = circuit.pigtail
    if pigtail is None:
        return 0
    posts = {
        post
        for c in console.circuits
        for post in c.posts
        if c.name == circuit.name or c.taken_from == circuit.name
    }
    total = sum(
        load.current_ma
        for load in console.loads
        for post in (load.feed_post, load.ground_post)
        if post in posts
    )
    total += sum(
        a.current_ma
        for a in console.boat_blocks
        for p in (a.drawn_from, a.returns_to)
        if p in posts
    )

    def uohm(wire: GivenWire, length_dmm: int) -> int:
        each = nohm_per_mm(wire.area_um2, limits.conductor_temp_c, limits.stranding_permille)
        return wire_uohm(each, length_dmm)

    lost = uohm(pigtail.wire, pigtail.reach_dmm)
    if pigtail.to_source is not None:
        lost += uohm(pigtail.to_source.wire, pigtail.to_source.one_way_dmm)
    return lost * total // 1_000_000


def _fitted_limits(rng: Random, console: Console, limits: Limits, draft: Draft) -> Limits:
    """Limits that depend on the console: the drop's budget, and what keeps the case small."""
    behind = {circuit.name: _behind_mv(console, limits, circuit) for circuit in console.circuits}
    feed = max(lost for name, lost in behind.items() if name != "ground")
    tight = "drop" in draft.tight
    budget = draft.heavy * rng.choice((20, 30, 45, 60, 80) if tight else (300, 500))
    permille = ceil_div((feed + behind["ground"] + budget) * 1000, console.nominal_mv)
    fields: dict[str, Any] = {
        "drop_critical_permille": permille,
        "drop_other_permille": permille + rng.choice((0, 20)),
        "splices": draft.small and rng.random() < 0.55,
    }
    if console.tie_points:
        fields["off_loom_conductors"] = 1
    senders = [boat_block for boat_block in console.boat_blocks if boat_block.is_sender]
    if senders and rng.random() < 0.2:
        fields["ground_shift_mv"] = behind["ground"] + rng.choice((10, 30, 100))
    posts = draft.circuit_posts()
    if draft.small and not fields["splices"]:
        few = max(len(posts["ignition"]), len(posts.get("lamps", ()))) <= 3
        if draft.lamps == "taken" and few and rng.random() < 0.6:
            fields["lamp_take_off"] = "any"
        elif len(console.instruments) == 3 and len(posts["ground"]) <= 3 and rng.random() < 0.5:
            fields["wire_size_choice"] = "jumper"
    return replace(limits, **fields)
