"""Plans with one fault planted by which current could pass round a way.

A fault is planted as a careless bench would make it: a jumper too many, a lug on the wrong stud, a
jumper that starts one post too early. What hangs on it (crimps, stacks, barrels) follows, so that
the plan reads as a whole one; lengths, sums and steps do not.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from lugwright.base.identity import JointId, WireId
from lugwright.plans.schema import Crimp, EndRef, Plan
from lugwright.scenario.console import Console


def bridged(plan: Plan, a: str, b: str) -> Plan:
    """The plan with one jumper more, a lug of its own at either end."""
    like = plan.jumpers[0]
    number = 1 + max(row.number for row in plan.jumpers if row.circuit == like.circuit)
    label = WireId(f"{like.circuit} {number}")
    ends = {"from_joint": JointId(a), "to_joint": JointId(b)}
    wire = like.model_copy(update={"label": label, "number": number, **ends})
    made = tuple(
        _lug(plan, label, end, joint, 1 + len(plan.crimps) + index)
        for index, (end, joint) in enumerate((("a", a), ("b", b)))
    )
    jumpers, crimps = (*plan.jumpers, wire), (*plan.crimps, *made)
    return plan.model_copy(update={"jumpers": jumpers, "crimps": crimps})


def _lug(plan: Plan, label: str, end: str, joint: str, number: int) -> Crimp:
    barrels = ((EndRef.model_validate({"wire": label, "end": end}),),)
    changes = {"number": number, "joint": joint, "barrels": barrels}
    return plan.crimps[0].model_copy(update=changes)


def moved(plan: Plan, crimp: int, to: str) -> Plan:
    """The plan with one fitting, and every wire end in it, on another post."""
    (row,) = [one for one in plan.crimps if one.number == crimp]
    held = {(end.wire, end.end) for half in row.barrels for end in half}
    jumpers = tuple(
        wire.model_copy(
            update={
                name: JointId(to)
                for name, end in (("from_joint", "a"), ("to_joint", "b"))
                if (wire.label, end) in held
            }
        )
        for wire in plan.jumpers
    )
    given = tuple(
        wire.model_copy(update={"joint": JointId(to)}) if (wire.wire, "a") in held else wire
        for wire in plan.given
    )
    crimps = tuple(
        one.model_copy(update={"joint": JointId(to)}) if one is row else one for one in plan.crimps
    )
    return plan.model_copy(update={"jumpers": jumpers, "given": given, "crimps": crimps})


def lug_moved(plan: Plan, crimp: int, to: str) -> Plan:
    """The plan with one fitting on another post, told by its crimp alone: no wire says so."""
    crimps = tuple(
        one.model_copy(update={"joint": JointId(to)}) if one.number == crimp else one
        for one in plan.crimps
    )
    return plan.model_copy(update={"crimps": crimps})


def stacked_elsewhere(plan: Plan, post: str, index: int, to: str) -> Plan:
    """The plan with one lug of a stud listed on another, told by the stacks alone."""
    lug = next(one for one in plan.stacks if one.post == post).lugs[index]
    stacks = tuple(
        one.model_copy(update={"lugs": (*one.lugs, lug)})
        if one.post == to
        else one.model_copy(update={"lugs": one.lugs[:index] + one.lugs[index + 1 :]})
        if one.post == post
        else one
        for one in plan.stacks
    )
    return plan.model_copy(update={"stacks": stacks})


def barrel_shared(plan: Plan, wire: str, crimp: int) -> Plan:
    """The plan with the panel end of a wire in one more barrel."""
    end = EndRef.model_validate({"wire": wire, "end": "a"})
    crimps = tuple(
        one.model_copy(update={"barrels": ((*one.barrels[0], end), *one.barrels[1:])})
        if one.number == crimp
        else one
        for one in plan.crimps
    )
    return plan.model_copy(update={"crimps": crimps})


Planted = tuple[str, Plan]
"""What is wrong with a plan, in words, and the plan."""


def across_ways(console: Console, plan: Plan) -> Iterator[Planted]:
    """A jumper across each way: key, fuse, empty holder, dimmer, stop contact."""
    for way in console.ways:
        yield f"a jumper across {way.near} > {way.far}", bridged(plan, way.near, way.far)


def joined_circuits(console: Console, plan: Plan) -> Iterator[Planted]:
    """A jumper between a post of each two circuits of which neither is taken from the other."""
    for one, other in combinations(console.circuits, 2):
        apart = family(console, one.name) != family(console, other.name)
        if apart and one.posts and other.posts:
            a, b = min(one.posts), max(other.posts)
            yield f"{one.name} joined to {other.name}", bridged(plan, a, b)


def _home(console: Console, post: str) -> str:
    """The family of a post's circuit; the post itself where it is in none."""
    name = console.post(post).circuit
    return family(console, name) if name else post


def family(console: Console, name: str) -> str:
    """The circuit that a taken one hangs on by plain wire."""
    while console.circuit(name).taken_from:
        name = console.circuit(name).taken_from
    return name


def skipped_ways(console: Console, plan: Plan) -> Iterator[Planted]:
    """What starts at a far post starts at the near one: a fuse, a switch passed by."""
    for way in console.ways:
        if way.kind == "stop":
            continue
        for crimp in plan.crimps:
            if crimp.joint == way.far:
                name = f"crimp {crimp.number} of {way.far} on {way.near}"
                yield name, moved(plan, crimp.number, way.near)


def on_empty_holders(console: Console, plan: Plan) -> Iterator[Planted]:
    """A wire of each circuit onto each post that no circuit feeds."""
    for post in (way.far for way in console.ways if not console.post(way.far).circuit):
        for circuit in console.circuits:
            if circuit.posts:
                yield f"{circuit.name} on {post}", bridged(plan, min(circuit.posts), post)


def next_door(console: Console, plan: Plan) -> Iterator[Planted]:
    """Each fitting on another post of its instrument that is no metal of the same circuit."""
    posts = {post.id: post for post in console.posts}
    for crimp in plan.crimps:
        here = posts.get(crimp.joint)
        if here is None:
            continue
        for there in console.posts:
            if there.instrument != here.instrument or there.id == here.id:
                continue
            if _home(console, there.id) == _home(console, here.id):
                continue
            name = f"crimp {crimp.number} of {here.id} on {there.id}"
            yield name, moved(plan, crimp.number, there.id)
            yield f"{name}, by its crimp", lug_moved(plan, crimp.number, there.id)
    for stack in plan.stacks:
        for other in plan.stacks:
            if _home(console, other.post) != _home(console, stack.post):
                for index in range(len(stack.lugs)):
                    name = f"lug {index} of {stack.post} on {other.post}"
                    yield name, stacked_elsewhere(plan, stack.post, index, other.post)


def capped_that_meet(console: Console, plan: Plan) -> Iterator[Planted]:
    """Each pigtail that is capped off in each barrel."""
    for pigtail in console.unused_pigtails:
        for crimp in plan.crimps:
            name = f"capped {pigtail.label} in crimp {crimp.number}"
            yield name, barrel_shared(plan, f"pigtail {pigtail.label}", crimp.number)


def wires_that_meet(console: Console, plan: Plan) -> Iterator[Planted]:
    """Each pigtail and boat wire that is used in each barrel of another circuit."""
    used = [one.name for one in console.circuits if one.pigtail]
    homes = {f"pigtail {name}": family(console, name) for name in used}
    for block in console.boat_blocks:
        for wire in block.wires:
            homes[wire.id] = _home(console, wire.lands_on)
    posts = {post.id: post for post in console.posts}
    for name, home in homes.items():
        for crimp in plan.crimps:
            there = posts.get(crimp.joint)
            if there is not None and _home(console, there.id) != home:
                yield f"{name} in crimp {crimp.number}", barrel_shared(plan, name, crimp.number)


def loads_on_the_wrong_side(console: Console, plan: Plan) -> Iterator[Planted]:
    """What draws behind a way hangs on its near post: boat wires, and posts of loads."""
    near = {way.far: way.near for way in console.ways}
    for block in console.boat_blocks:
        for wire in block.wires:
            home = console.post(wire.lands_on).circuit
            far = console.circuit(home).supplied_by if home else ""
            if not far:
                continue
            for crimp in plan.crimps:
                if any(end.wire == wire.id for half in crimp.barrels for end in half):
                    yield f"{wire.id} on {near[far]}", moved(plan, crimp.number, near[far])
    for load in console.loads:
        home = console.post(load.feed_post).circuit
        far = console.circuit(home).supplied_by if home else ""
        if far:
            yield f"{load.name} fed from {near[far]}", bridged(plan, near[far], load.feed_post)


FAULTS = {
    "across ways": across_ways,
    "circuits joined": joined_circuits,
    "ways skipped": skipped_ways,
    "empty holders": on_empty_holders,
    "wrong side": loads_on_the_wrong_side,
    "next door": next_door,
    "capped": capped_that_meet,
    "barrels": wires_that_meet,
}
"""Ways of planting a fault that ``bypass`` must find."""
