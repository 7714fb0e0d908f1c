"""Whether a plan hangs together: every name it uses is a name of something in it.

A plan that comes from this program always does. One that was edited may not, and then paper made
from it would fail half-way or, worse, leave something out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from lugwright.plans.schema import Plan
from lugwright.trade.names import join_of, lead_wire, strap_name


def loose_ends(plan: Plan) -> tuple[str, ...]:
    """What a plan names that is not in it, or has twice: one sentence each, none when whole."""
    parts = (_twice, _panel, _wires, _fittings, _ways)
    return tuple(dict.fromkeys(text for part in parts for text in part(plan)))


def _unknown(what: str, known: Iterable[str], asked: Iterable[tuple[str, str]]) -> Iterator[str]:
    """Pairs of place and name where the name is not known."""
    names = set(known)
    for place, name in asked:
        if name not in names:
            yield f"{place} names the {what} {name!r}, which is not in the plan"


def _twice(plan: Plan) -> Iterator[str]:
    """Names that stand for two things."""
    for what, names in (
        ("wire", [*(x.label for x in plan.jumpers), *(x.wire for x in plan.given)]),
        ("crimp", [str(x.number) for x in plan.crimps]),
        ("post", [x.id for x in plan.panel.posts]),
        ("instrument", [x.name for x in plan.panel.instruments]),
        ("stack", [x.post for x in plan.stacks]),
        ("splice", [x.label for x in plan.splices]),
        ("way", [x.far for x in plan.panel.ways]),
        ("way in the list of ways", [x.far for x in plan.ways]),
        ("state", [x.state for x in plan.live]),
    ):
        for name, count in Counter(names).items():
            if count > 1:
                yield f"the {what} {name!r} is in the plan {count} times"


def _panel(plan: Plan) -> Iterator[str]:
    """Names within the panel."""
    panel, posts = plan.panel, [post.id for post in plan.panel.posts]
    yield from _unknown(
        "instrument",
        (one.name for one in panel.instruments),
        ((f"post {post.id}", post.instrument) for post in panel.posts),
    )
    yield from _unknown(
        "tie point",
        (tie.name for tie in panel.tie_points),
        ((f"tie point {tie.name}", name) for tie in panel.tie_points for name in tie.to),
    )
    yield from _unknown("post", posts, _posts_of_the_panel(plan))
    yield from _unknown(
        "circuit",
        (circuit.name for circuit in panel.circuits),
        ((f"wire {jumper.label}", jumper.circuit) for jumper in plan.jumpers),
    )


def _ways(plan: Plan) -> Iterator[str]:
    """Devices, their ways, and what is live in which state."""
    panel = plan.panel
    circuits = [circuit.name for circuit in panel.circuits]
    fed = [(f"circuit {x.name}", x.taken_from) for x in panel.circuits if x.taken_from]
    fed += [(f"way {row.far}", row.circuit) for row in plan.ways if row.circuit]
    fed += [(f"state {row.state}", name) for row in plan.live for name in row.live]
    fed += [("a landing", row.circuit) for row in plan.landings]
    yield from _unknown("circuit", circuits, fed)
    far = [way.far for way in panel.ways]
    asked = [(f"circuit {x.name}", x.supplied_by) for x in panel.circuits if x.supplied_by]
    asked += [(f"landing of {row.circuit}", row.way) for row in plan.landings if row.way]
    asked += [("the list of ways", row.far) for row in plan.ways]
    yield from _unknown("way", far, asked)
    posts = [post.id for post in panel.posts]
    ends = [(f"way {way.far}", end) for way in panel.ways for end in (way.near, way.far)]
    ends += [(f"way {row.far}", row.near) for row in plan.ways]
    yield from _unknown("post", posts, ends)
    devices = [(f"way {way.far}", way.instrument) for way in panel.ways]
    devices += [(f"state {row.state}", name) for row in plan.live for name, _ in row.set_to]
    yield from _unknown("instrument", (one.name for one in panel.instruments), devices)
    positions = {(one.name, where) for one in panel.instruments for where in one.positions}
    for row in plan.live:
        for name, where in row.set_to:
            if (name, where) not in positions:
                yield f"state {row.state} names the position {where!r}, which {name} has not"


def _posts_of_the_panel(plan: Plan) -> Iterator[tuple[str, str]]:
    """Every post the panel's parts name."""
    for circuit in plan.panel.circuits:
        yield from ((f"circuit {circuit.name}", post) for post in circuit.posts)
    for load in plan.panel.loads:
        yield from ((f"load {load.name}", x) for x in (load.feed_post, load.ground_post) if x)
    for boat_block in plan.panel.boat_blocks:
        ends = (*boat_block.lands_on, boat_block.drawn_from, boat_block.returns_to)
        yield from ((boat_block.name, post) for post in ends if post)


def _wires(plan: Plan) -> Iterator[str]:
    """Where wires end, and which wires are named at crimps, landings and lugs."""
    cut = {jumper.label for jumper in plan.jumpers}
    given = {wire.wire for wire in plan.given}
    leads = {lead_wire(post.id) for post in plan.panel.posts if post.kind == "lead"}
    joints = {
        *(post.id for post in plan.panel.posts),
        *(splice.label for splice in plan.splices),
        *(join_of(wire) for wire in given),
    }
    ends = [
        (f"wire {x.label}", joint) for x in plan.jumpers for joint in (x.from_joint, x.to_joint)
    ]
    ends += [(f"wire {x.wire}", x.joint) for x in plan.given if x.joint]
    ends += [(f"crimp {x.number}", x.joint) for x in plan.crimps]
    ends += [(f"landing of {x.circuit}", x.post) for x in plan.landings]
    yield from _unknown("joint", joints, ends)
    in_barrels = (
        (f"crimp {crimp.number}", end.wire)
        for crimp in plan.crimps
        for barrel in crimp.barrels
        for end in barrel
    )
    yield from _unknown("wire", cut | given | leads, in_barrels)
    ready = ((s.post, lug.ready) for s in plan.stacks for lug in s.lugs if not lug.crimp)
    straps = {strap_name(strap.name) for strap in plan.panel.straps}
    yield from _unknown("wire", given | straps, ready)
    landed = [(f"landing of {x.circuit}", x.pigtail) for x in plan.landings if x.pigtail]
    yield from _unknown("wire", given, landed)
    longer = [(f"landing of {x.circuit}", x.extension) for x in plan.landings if x.extension]
    yield from _unknown("wire", cut, longer)
    yield from (f"wire {x.label} has no path" for x in plan.jumpers if not x.path)


def _fittings(plan: Plan) -> Iterator[str]:
    """Crimps, studs and what the steps take in hand."""
    numbers = {str(crimp.number) for crimp in plan.crimps}
    asked = [
        (f"stack on {stack.post}", str(lug.crimp))
        for stack in plan.stacks
        for lug in stack.lugs
        if lug.crimp
    ]
    asked += [(f"splice {splice.label}", str(splice.crimp)) for splice in plan.splices]
    asked += [(f"step {x.number}", x.target) for x in plan.steps if x.verb == "crimp"]
    yield from _unknown("crimp", numbers, asked)
    posts = {post.id for post in plan.panel.posts}
    yield from _unknown("post", posts, (("a stack", stack.post) for stack in plan.stacks))
    cut = ((f"step {x.number}", x.target) for x in plan.steps if x.verb == "cut")
    yield from _unknown("wire", (jumper.label for jumper in plan.jumpers), cut)
    for crimp in plan.crimps:
        sizes = {len(x) for x in (crimp.area_um2, crimp.area_min_um2, crimp.area_max_um2)}
        if sizes != {len(crimp.barrels)}:
            yield f"crimp {crimp.number} does not have one area for each of its barrels"
    for stack in plan.stacks:
        if not 0 <= stack.bench_lugs <= len(stack.lugs):
            yield f"the stack on {stack.post} has {stack.bench_lugs} bench lugs of all its lugs"
