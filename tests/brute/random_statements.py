"""Random cases that say more: a strap, grounds joined aboard, leads with a length.

Each is made from a case drawn elsewhere, by its number, and is the same for the same case. What is
drawn lies close round what decides; names and numbers are invented.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

from brute.case import Case
from brute.random_consoles import FUSES_MA
from brute.random_signals import SECOND
from brute.random_ways import looked_up
from brute.statements import FreeLead, Strap
from brute.straight_routes import splice_candidates
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.console import Circuit, Console, Post

CONTACTS_UOHM = (0, 0, 300, 1000, 4000)


def _told_apart(console: Console, posts: list[Post]) -> list[Post]:
    """The first of these posts on each instrument."""
    return list({post.instrument: post for post in reversed(posts)}.values())


def _carries_ma(rng: Random, case: Case, circuit: Circuit, posts: list[Post]) -> int:
    """Mostly none; else what comes to the circuit, or to one of these studs, or a little less."""
    setting = looked_up(case.console, case.limits)
    drawn = [max(setting.demand_ma(post.id)) for post in posts]
    some = rng.choice((max(setting.total_ma(circuit)), sum(drawn), *drawn))
    if circuit.side == "feed":  # no less than the fuse ahead of it
        some = max(FUSES_MA)
    return rng.choice((0, 0, some, max(1, some - 1)))


def with_strap(case: Case) -> Case | None:
    """The case with a strap over two or three studs of one circuit; None where there are none.

    Mostly their threads are longer by the strap, and one lug more is allowed.
    """
    console, rng = case.console, Random(f"strap {case.seed}")
    found = []
    for circuit in console.circuits:
        own = [console.post(post) for post in circuit.posts]
        studs = _told_apart(console, [post for post in own if post.kind == "stud"])
        if len(studs) > 1:
            found.append((circuit, studs))
    if not found:
        return None
    circuit, studs = rng.choice(found)
    chosen = rng.sample(studs, min(len(studs), rng.choice((2, 2, 3))))
    strap = Strap(
        posts=tuple(post.id for post in chosen),
        thickness_dmm=rng.randint(5, 20),
        contact_uohm=rng.choice(CONTACTS_UOHM),
        carries_ma=_carries_ma(rng, case, circuit, chosen),
    )
    longer = strap.thickness_dmm - rng.choice((0, 0, 1, strap.thickness_dmm))
    posts = tuple(
        replace(post, free_thread_dmm=max(1, post.free_thread_dmm + longer))
        if post.id in strap.posts
        else post
        for post in console.posts
    )
    limits = case.limits
    if rng.random() < 0.7:
        limits = replace(limits, lugs_per_stud=limits.lugs_per_stud + 1)
    more = replace(case.more, straps=(strap,))
    return replace(case, console=replace(console, posts=posts), limits=limits, more=more)


def with_joined_grounds(case: Case) -> Case | None:
    """The case with its two harnesses' grounds one circuit; None where there is one harness.

    Mostly both pigtails are of the thicker wire of the two.
    """
    console, rng = case.console, Random(f"joined {case.seed}")
    if f"{SECOND}ground" not in {circuit.name for circuit in console.circuits}:
        return None
    ground, other = console.circuit("ground"), console.circuit(f"{SECOND}ground")
    if ground.pigtail is None or other.pigtail is None:
        return None
    first, second = ground.pigtail, replace(other.pigtail, circuit="ground")
    if rng.random() < 0.8:
        thicker = max(first.wire, second.wire, key=lambda wire: wire.area_um2)
        first, second = replace(first, wire=thicker), replace(second, wire=thicker)
    posts = tuple(
        replace(post, circuit="ground") if post.circuit == other.name else post
        for post in console.posts
    )
    both = replace(ground, posts=(*ground.posts, *other.posts), pigtail=first)
    circuits = tuple(
        both if circuit is ground else circuit
        for circuit in console.circuits
        if circuit is not other
    )
    splices = {name: points for name, points in case.splices.items() if name != other.name}
    return replace(
        case,
        console=replace(console, posts=posts, circuits=circuits),
        splices=splices,
        more=replace(case.more, joined_aboard=(second,)),
    )


def turned_round(case: Case) -> Case:
    """The same case with its two ground pigtails in the other order."""
    (second,) = case.more.joined_aboard
    circuits = []
    for circuit in case.console.circuits:
        if circuit.name == second.circuit:
            assert circuit.pigtail is not None
            first = replace(circuit.pigtail, harness=circuit.harness)
            circuits.append(replace(circuit, pigtail=second, harness=second.harness))
        else:
            circuits.append(circuit)
    return replace(
        case,
        console=replace(case.console, circuits=tuple(circuits)),
        more=replace(case.more, joined_aboard=(first,)),
    )


def _with_candidates(case: Case, names: set[str]) -> dict[str, tuple[SplicePoint, ...]]:
    """At least one or two candidates for every one of these circuits."""
    height, splices = case.limits.dress_height_dmm, dict(case.splices)
    for name in names:
        most = 2 if len(case.console.circuit(name).posts) > 2 or case.console.tie_points else 0
        splices[name] = splices.get(name) or splice_candidates(case.console, name, height, most)
    return splices


def with_free_leads(case: Case) -> Case | None:
    """The case with its leads' ends free; None where there are no leads, or nowhere to go."""
    console, rng = case.console, Random(f"lead {case.seed}")
    leads = [post for post in console.posts if post.kind == "lead" and post.circuit]
    splices = _with_candidates(case, {post.circuit for post in leads})
    leads = [post for post in leads if splices[post.circuit]]
    if not leads:
        return None
    routes = replace(case, splices=splices).routes()
    said = []
    for lead in leads:
        goal = rng.choice(splices[lead.circuit])
        path = routes.between(lead.id, goal.id).path_dmm
        spare = rng.choice((0, 0, 1, 300, -1))
        length = max(1, path + case.limits.re_termination_dmm + spare)
        said.append(FreeLead(lead.id, length))
    more = replace(case.more, free_leads=tuple(said))
    return replace(case, splices=splices, more=more)
