"""The plan as metal: conductors, and every joint between them that may be open or resistive.

Nodes are named by what a meter can be held on: ``post X`` (the instrument's own metal),
``stack X`` (the lugs of a stud), ``fitting 7`` (the barrel of a crimp), ``ring W`` (a ready-made
ring), ``far W`` (the end of a given wire away from the panel), ``source C`` (where the supply of
a circuit begins) and ``MINUS`` (where what returns elsewhere ends).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from lugwright.plans.panel import PanelBoatBlock, PanelPost
from lugwright.plans.schema import Crimp, Plan, Stack
from lugwright.trade.names import is_lead, is_strap, lead_wire, pigtail_wire, strap_name

MINUS = "minus"
LAMP = "lamp"
PUSH_ON = "push-on"
OF_A_DIAL = 2
"""Parts of the way through a dial and its sender, which are taken to be alike."""
OF_A_SWITCH = 1000
"""A switch in a lamp's way: next to nothing."""


@dataclass(frozen=True)
class Joint:
    """One place where two pieces of metal are held together.

    ``kind``: ``crimp`` (a wire end in its barrel), ``lug`` (a lug against its stud or stack),
    ``stack`` (all lugs of a stud against the instrument: washer and nut), ``push-on``,
    ``contact`` (a way of a device) or ``supply`` (all that lies before a pigtail). ``where`` is
    the post, splice or join.
    """

    kind: str
    where: str
    what: str

    def __str__(self) -> str:
        return self.what


@dataclass(frozen=True)
class Branch:
    """A conductor between two nodes with the joints in series in it.

    ``uohm`` is the conductor alone, in µΩ. Nothing between its nodes can be reached by a meter,
    so no reading tells its joints apart. ``way`` is the far post where it is a way of a device:
    it then conducts only while the way is closed.
    """

    name: str
    a: str
    b: str
    uohm: int
    joints: tuple[Joint, ...]
    way: str = ""


@dataclass(frozen=True)
class Load:
    """What draws current from node ``a`` to node ``b``, mA with everything on at nominal volts.

    ``outside``: it is connected aboard, and unplugged while continuity is tested. ``share``: how
    many like parts its way has, this being one of them; its resistance is nominal volts over
    current, divided by that. ``drawn_at``: the node its current leaves the panel's feeds at.
    """

    name: str
    a: str
    b: str
    current_ma: int
    lamp: bool
    outside: bool
    share: int = 1
    drawn_at: str = ""


@dataclass(frozen=True)
class Wiring:
    """All of it. ``same`` lists nodes that are one piece of metal; ``sources`` are by circuit."""

    branches: tuple[Branch, ...]
    loads: tuple[Load, ...]
    same: tuple[tuple[str, str], ...]
    feeds: tuple[str, ...]
    grounds: tuple[str, ...]

    def conducting(self, closed: Collection[str]) -> Iterator[Branch]:
        """The branches that conduct while these ways, by far post, are closed."""
        return (one for one in self.branches if not one.way or one.way in closed)


def post_node(post: str) -> str:
    """The instrument's own metal at a post."""
    return f"post {post}"


def far_node(wire: str) -> str:
    """The end of a given wire away from the panel."""
    return f"far {wire}"


def fitting_node(number: int) -> str:
    """The barrel of a crimp."""
    return f"fitting {number}"


def wiring_of(plan: Plan) -> Wiring:
    """The wiring of a plan."""
    return _Maker(plan).made()


@dataclass(frozen=True)
class Path:
    """How the current of boat wires runs: out through a post and wire, back through another."""

    out_post: str
    out_wire: str
    back_wire: str


def path_of(boat_block: PanelBoatBlock, posts: Mapping[str, PanelPost]) -> Path:
    """The wires a block of boat wires's current takes; "" where the plan shows none.

    It goes out at the post it is drawn from, or at one that belongs to no circuit.
    """
    landed = list(zip(boat_block.wires, boat_block.lands_on, strict=True))
    back = next((wire for wire, post in landed if post == boat_block.returns_to), "")
    drawn = [(wire, post) for wire, post in landed if post == boat_block.drawn_from]
    other = [(wire, post) for wire, post in landed if not posts[post].circuit]
    out_wire, out_post = next(iter(drawn + other), ("", ""))
    return Path(out_post, out_wire, back)


class _Maker:
    """Makes the wiring of one plan."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.posts = {post.id: post for post in plan.panel.posts}
        self.stacks = {stack.post: stack for stack in plan.stacks}
        self.crimp_of: dict[tuple[str, str], Crimp] = {
            (end.wire, end.end): crimp
            for crimp in plan.crimps
            for barrel in crimp.barrels
            for end in barrel
        }
        self.ready = {
            lug.ready: stack.post
            for stack in plan.stacks
            for lug in stack.lugs
            if not is_strap(lug.ready)
        }
        self.contact_uohm: dict[str, int] = {
            strap_name(row.name): row.contact_uohm for row in plan.panel.straps
        }

    def made(self) -> Wiring:
        sides = {circuit.name: circuit.side for circuit in self.plan.panel.circuits}
        landed = [landing.circuit for landing in self.plan.landings if landing.pigtail]
        return Wiring(
            branches=(
                *self._supplies(),
                *self._given_wires(),
                *self._jumpers(),
                *self._leads(),
                *self._push_ons(),
                *self._lugs(),
                *self._ways(),
            ),
            loads=(*self._loads(), *self._boat_blocks()),
            same=tuple(self._same()),
            feeds=tuple(f"source {name}" for name in landed if sides[name] == "feed"),
            grounds=tuple(f"source {name}" for name in landed if sides[name] == "ground"),
        )

    def _end(self, wire: str, end: str, joint: str) -> tuple[str, tuple[Joint, ...]]:
        """The node a wire end is crimped to, with that crimp."""
        crimp = self.crimp_of.get((wire, end))
        if crimp:
            cut = wire in {jumper.label for jumper in self.plan.jumpers}
            name = f"{wire}-{end}" if cut else wire
            what = f"crimp of {name} in {_fitting(crimp)}"
            return fitting_node(crimp.number), (Joint("crimp", crimp.joint, what),)
        if wire in self.ready:
            where = self.ready[wire]
            what = f"crimp of {wire} in its own ring on {where}"
            return f"ring {wire}", (Joint("crimp", where, what),)
        return post_node(joint), ()

    def _supplies(self) -> Iterator[Branch]:
        """From where a supply begins to the far end of its pigtail: fuse, key, plug, run."""
        for circuit in self.plan.panel.circuits:
            wire = pigtail_wire(circuit.name)
            if circuit.side == "signal":
                continue
            if any(one.circuit == circuit.name and one.pigtail for one in self.plan.landings):
                before = "fuse, key, plug or run" if circuit.side == "feed" else "plug or run"
                what = f"supply of {circuit.name} before its pigtail: {before}"
                joint = Joint("supply", wire, what)
                source = f"source {circuit.name}"
                yield Branch(
                    f"supply {circuit.name}", source, far_node(wire), circuit.run_uohm, (joint,)
                )

    def _given_wires(self) -> Iterator[Branch]:
        """Pigtails at their full reach; what comes aboard without its own unknown length."""
        rows = self.plan.panel.circuits
        uohm: dict[str, int] = {pigtail_wire(row.name): row.pigtail_uohm for row in rows}
        for row in self.plan.given:
            if not is_lead(row.wire):
                node, joints = self._end(row.wire, "a", row.joint)
                yield Branch(row.wire, far_node(row.wire), node, uohm.get(row.wire, 0), joints)

    def _jumpers(self) -> Iterator[Branch]:
        for row in self.plan.jumpers:
            a, first = self._end(row.label, "a", row.from_joint)
            b, last = self._end(row.label, "b", row.to_joint)
            yield Branch(row.label, a, b, row.resistance_uohm, (*first, *last))

    def _leads(self) -> Iterator[Branch]:
        """A lead from its joint into its instrument; its own wire is not counted (R14)."""
        for post in self.plan.panel.posts:
            if post.kind == "lead" and (lead_wire(post.id), "a") in self.crimp_of:
                node, joints = self._end(lead_wire(post.id), "a", post.id)
                yield Branch(lead_wire(post.id), node, post_node(post.id), 0, joints)

    def _push_ons(self) -> Iterator[Branch]:
        for crimp in self.plan.crimps:
            if crimp.kind == PUSH_ON:
                joint = Joint(PUSH_ON, crimp.joint, f"{_fitting(crimp)} against its tab")
                node = fitting_node(crimp.number)
                yield Branch(f"tab {crimp.number}", node, post_node(crimp.joint), 0, (joint,))

    def _lugs(self) -> Iterator[Branch]:
        """Each lug against its stack, and the stack against the instrument.

        A lug that is alone on its stud is its own stack.
        """
        crimps = {crimp.number: crimp for crimp in self.plan.crimps}
        for stack in self.plan.stacks:
            below = post_node(stack.post) if len(stack.lugs) == 1 else f"stack {stack.post}"
            for lug in stack.lugs:
                name = _fitting(crimps[lug.crimp]) if lug.crimp else f"ring of {lug.ready}"
                node = fitting_node(lug.crimp) if lug.crimp else f"ring {lug.ready}"
                if is_strap(lug.ready):  # one piece of metal, with a lug on each of its studs
                    name, node = f"lug of {lug.ready}", lug.ready
                what = f"{name} against the {_below(stack)} {stack.post}"
                joints, uohm = (Joint("lug", stack.post, what),), self.contact_uohm.get(node, 0)
                branch = f"lug {node}" + (f" on {stack.post}" if is_strap(node) else "")
                yield Branch(branch, node, below, uohm, joints)
            if len(stack.lugs) > 1:
                what = f"all lugs against the stud {stack.post}: washer and nut"
                joint = Joint("stack", stack.post, what)
                yield Branch(f"stud {stack.post}", below, post_node(stack.post), 0, (joint,))

    def _ways(self) -> Iterator[Branch]:
        """Each way of a device: its contact is a joint that may be open or poor."""
        for way in self.plan.panel.ways:
            if way.conducts:
                joint = Joint("contact", way.far, f"{way.kind} of {way.instrument} to {way.far}")
                ends = post_node(way.near), post_node(way.far)
                yield Branch(f"way {way.far}", *ends, way.contact_uohm, (joint,), way.far)

    def _loads(self) -> Iterator[Load]:
        for load in self.plan.panel.loads:
            ends = post_node(load.feed_post), post_node(load.ground_post)
            lamp = load.kind == "bulb" or self._is_lamp(load.feed_post)
            share = OF_A_DIAL if load.senses else 1
            yield Load(load.name, *ends, load.current_ma, lamp, False, share, ends[0])
        yield from self._senders()

    def _senders(self) -> Iterator[Load]:
        """The senders of signal circuits: half of a dial's way each, a switch hardly anything."""
        for circuit in self.plan.panel.circuits:
            if circuit.side != "signal":
                continue
            wire = pigtail_wire(circuit.name)
            sent = [load for load in self.plan.panel.loads if load.ground_post in circuit.posts]
            total = sum(load.current_ma for load in sent)
            if total and any(row.wire == wire for row in self.plan.given):
                share = OF_A_DIAL if any(load.senses for load in sent) else OF_A_SWITCH
                end = self._sender_end(circuit.pigtail, circuit.returns_to)
                drawn = post_node(sent[0].feed_post)
                name = f"sender of {circuit.name}"
                yield Load(name, far_node(wire), end, total, False, True, share, drawn)

    def _sender_end(self, label: str, returns_to: str) -> str:
        """Where a sender's current goes: by its own ground wire, to a post, or elsewhere."""
        if not returns_to:
            return MINUS
        for block in self.plan.panel.boat_blocks:
            if block.is_sender and label.startswith(f"{block.name}: ") and block.wires:
                return far_node(block.wires[0])
        return post_node(returns_to)

    def _is_lamp(self, post: str) -> bool:
        """A lamp is fed at a lamp post, or by a circuit that is taken from another."""
        takers = {row.name for row in self.plan.panel.circuits if row.taken_from}
        return self.posts[post].function == LAMP or self.posts[post].circuit in takers

    def _boat_blocks(self) -> Iterator[Load]:
        """A sender shares its current's way with its dial: half of the resistance in each.

        How it is shared changes with the sender; no pass band hangs on it.
        """
        for boat_block in self.plan.panel.boat_blocks:
            if not boat_block.current_ma or not boat_block.drawn_from:
                continue
            path = path_of(boat_block, self.posts)
            start = far_node(path.out_wire) if path.out_wire else post_node(boat_block.drawn_from)
            back = post_node(boat_block.returns_to) if boat_block.returns_to else MINUS
            end = far_node(path.back_wire) if path.back_wire else back
            inside = bool(path.out_wire) and path.out_post != boat_block.drawn_from
            share = 2 if boat_block.is_sender and inside else 1
            current = boat_block.current_ma
            drawn = post_node(boat_block.drawn_from)
            yield Load(boat_block.name, start, end, current, False, True, share, drawn)
            if share > 1:
                ends = drawn, post_node(path.out_post)
                yield Load(f"dial of {boat_block.name}", *ends, current, False, False, share, drawn)

    def _same(self) -> Iterator[tuple[str, str]]:
        """Linked posts, and a switch that is on: its load's post is its feed."""
        first: dict[str, str] = {}
        for post in self.plan.panel.posts:
            if post.link:
                yield first.setdefault(post.link, post_node(post.id)), post_node(post.id)
        for boat_block in self.plan.panel.boat_blocks:
            out = path_of(boat_block, self.posts).out_post
            if boat_block.drawn_from and out and not boat_block.is_sender:
                yield post_node(boat_block.drawn_from), post_node(out)


def _fitting(crimp: Crimp) -> str:
    """A fitting in words: its number, item and place."""
    return f"crimp {crimp.number} ({crimp.item}, {crimp.joint})"


def _below(stack: Stack) -> str:
    return "stud" if len(stack.lugs) == 1 else "other lugs on"
