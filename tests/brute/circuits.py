"""Every way to wire one circuit, each judged and costed as far as the circuit stands alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, product

from brute import hubs
from brute.given import Given, Loom, stands_along
from brute.joints import End, Joints, Ready
from brute.judged import Drops
from brute.leads import Tips, tips
from brute.parts import Piece, Start, Supply, TakeOff, Wired
from brute.sections import section
from brute.setting import Setting, Wire
from brute.states import Amps, added, minus
from brute.straps import StrapLug
from brute.supplies import Supplies
from brute.tally import Tally
from brute.trees import rooted_trees
from lugwright.scenario.console import Circuit, Post
from lugwright.stock.schema import Spool

SUPPLY = "supply"  # the node above a taken circuit's tree: whatever it is taken off from
ANY_DEGREE = 99


def _subsets(items: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    for size in range(len(items) + 1):
        yield from combinations(items, size)


class CircuitWays:
    """Lists the trees of a circuit and works out what each costs and needs."""

    def __init__(self, setting: Setting, joints: Joints, given: Given) -> None:
        self.setting = setting
        self.joints = joints
        self.given = given
        self.supplies = Supplies(setting, joints)

    # -- trees -------------------------------------------------------------------------------

    def trees(
        self,
        circuit: Circuit,
        root: str,
        root_posts: tuple[str, ...],
        root_most: int,
        tips: Tips,
        apart: str = "",
    ) -> Iterator[tuple[Piece, ...]]:
        """Every tree from a root node (or the supply above it) over the circuit.

        ``root_posts`` are the posts a jumper may leave the root by, ``root_most`` how many may;
        the node ``apart`` is left out. Rule R8.
        """
        limits = self.setting.limits
        nodes = self.setting.nodes(circuit)
        posts = {node: tuple(post.id for post in group) for node, group in nodes.items()}
        posts[root] = root_posts
        others = [node for node in nodes if node not in (root, apart)]
        free = tuple(n for n in others if all(post.optional for post in nodes[n]))
        fixed = tuple(node for node in others if node not in free)
        candidates = self.setting.routes.splice_points(circuit.name) if limits.splices else ()
        splices = tuple(point.id for point in candidates)
        posts.update({splice: (splice,) for splice in splices})
        for left_in in _subsets(free):
            for hung in _subsets(splices):
                labels = (root, *fixed, *left_in, *hung)
                plain = len(fixed) + len(left_in)
                least = (1,) * (1 + plain) + (3,) * len(hung)
                most = (root_most,) + (ANY_DEGREE,) * plain
                most += (limits.wires_per_splice,) * len(hung)
                for edges in rooted_trees(least, most):
                    yield from self._between_posts(labels, edges, posts, tips)

    def _between_posts(
        self,
        labels: tuple[str, ...],
        edges: tuple[tuple[int, int], ...],
        posts: Mapping[str, tuple[str, ...]],
        tips: Tips,
    ) -> Iterator[tuple[Piece, ...]]:
        """A tree over nodes, with every choice of posts at the nodes that have several."""
        options = []
        for above, below in edges:
            a_node, b_node = labels[above], labels[below]
            ends = product(posts[a_node], posts[b_node])
            made = (self._piece(a, b, a_node, b_node, tips) for a, b in ends)
            options.append([piece for piece in made if piece])
        yield from product(*options)

    def _piece(self, a: str, b: str, a_node: str, b_node: str, tips: Tips) -> Piece | None:
        """A jumper between two joints, where there may be one."""
        found = self.setting.jumper(a, b, tips)
        return Piece(a, b, a_node, b_node, *found) if found else None

    def spools(self, circuit: Circuit) -> tuple[Spool, ...]:
        """The spools a circuit's jumpers may be cut from."""
        return self.setting.spools(circuit, *section(self.setting, circuit))

    def sizes(self, circuit: Circuit, wires: int) -> Iterator[tuple[Wire, ...]]:
        """Every choice of wire for that many pieces: one for all, or each its own."""
        stock = [self.setting.wire(spool) for spool in self.spools(circuit)]
        if wires == 0:
            yield ()
        elif self.setting.limits.wire_size_choice == "circuit":
            yield from ((wire,) * wires for wire in stock)
        else:
            yield from product(stock, repeat=wires)

    # -- one tree ----------------------------------------------------------------------------

    def currents(
        self, circuit: Circuit, tree: tuple[Piece, ...], extra: Mapping[str, Amps]
    ) -> dict[str, Amps]:
        """The current that flows into each node: its own, what is taken off, and all beyond."""
        flowing: dict[str, Amps] = {}
        for node, group in self.setting.nodes(circuit).items():
            flowing[node] = self.setting.nothing
            for post in group:
                flowing[node] = added(flowing[node], self.setting.demand_ma(post.id))
        for post_id, current in extra.items():
            node = self.setting.node(post_id)
            flowing[node] = added(flowing[node], current)
        nothing = self.setting.nothing
        for piece in reversed(tree):
            below = flowing.setdefault(piece.b_node, nothing)
            flowing[piece.a_node] = added(flowing.get(piece.a_node, nothing), below)
        return flowing

    def _needs(
        self,
        circuit: Circuit,
        tree: tuple[Piece, ...],
        extra: Mapping[str, Amps],
        flowing: Mapping[str, Amps],
    ) -> dict[str, Amps]:
        """What leaves the wires and straps at each metal: its own, and what is led on from it."""
        setting, needs = self.setting, dict[str, Amps]()

        def needed(post_id: str, current: Amps) -> None:
            metal = setting.metal(post_id)
            needs[metal] = added(needs.get(metal, setting.nothing), current)

        for post_id in circuit.posts:
            needed(post_id, setting.demand_ma(post_id))
        for post_id, current in extra.items():
            needed(post_id, current)
        for piece in tree:
            if piece.a_node != SUPPLY and piece.a in setting.posts:
                needed(piece.a, flowing[piece.b_node])
        return needs

    def _enter(
        self,
        joint: str,
        fallen: tuple[int, ...],
        needs: Mapping[str, Amps],
        drop: dict[str, tuple[int, ...]],
    ) -> tuple[StrapLug, ...]:
        """Lead what comes in at a joint on over its straps; fills in ``drop``."""
        setting = self.setting
        if joint not in setting.posts:
            drop[joint] = fallen
            return ()
        spread = setting.metals.spread(setting.metal(joint), needs, setting.nothing)
        for metal, lost in spread.falls_nv.items():
            drop[metal] = added(fallen, lost)
        return spread.lugs

    def _from(
        self, number: int, post: str, fallen: tuple[int, ...], drop: Drops
    ) -> dict[str, tuple[int, ...]]:
        """The drops with those where another pigtail is alone counted from where it lands."""
        here = drop[self.setting.metal(post)]
        more = tuple(
            (start - now) * (alone == number)
            for start, now, alone in zip(fallen, here, self.setting.alone, strict=True)
        )
        return {metal: added(each, more) for metal, each in drop.items()}

    def _lay_leads(self, ends: Mapping[str, tuple[End, ...]], tips: Tips, loom: Loom) -> bool:
        """Bring the leads with a length that something is joined to where their ends are."""
        setting = self.setting
        for lead, tip in tips.items():
            if bool(tip) != bool(ends.get(lead)):
                return False
            own = setting.posts[lead].lead
            if tip and own:
                path = setting.routes.between(lead, tip)
                wire, current = setting.wire(own), max(setting.lead_ma(setting.posts[lead]))
                if not stands_along(setting, wire, current, path):
                    return False
                loom.add(path, 1, setting.most_conductors(wire, current))
        return True

    def _strapped(
        self,
        circuit: Circuit,
        lugs: Sequence[StrapLug],
        ready: Mapping[str, tuple[Ready, ...]],
    ) -> Mapping[str, tuple[Ready, ...]] | None:
        """The ready-made rings with the lugs of straps; None where a strap carries too much."""
        setting, found = self.setting, dict(ready)
        for lug in lugs:
            most = lug.strap.carries_ma
            if most and max(map(abs, lug.current_ma)) > most:
                return None
        flows = {(lug.strap, lug.post): lug.current_ma for lug in lugs}
        for strap in setting.metals.straps:
            for post_id in strap.posts:
                if post_id in circuit.posts:
                    current = flows.get((strap, post_id), setting.nothing)
                    thread = setting.posts[post_id].thread
                    made = self.joints.strap_lug(thread, strap.thickness_dmm, current)
                    found[post_id] = (*found.get(post_id, ()), made)
        return found

    def _run(
        self,
        tree: tuple[Piece, ...],
        wires: tuple[Wire, ...],
        flowing: Mapping[str, Amps],
        loom: Loom,
    ) -> bool:
        """Ampacity of every jumper; False when one fails off the loom. Fills ``loom``."""
        for piece, wire in zip(tree, wires, strict=True):
            current = max(map(abs, flowing[piece.b_node]))
            if not stands_along(self.setting, wire, current, piece.path):
                return False
            loom.add(piece.path, 1, self.setting.most_conductors(wire, current))
        return True

    def _join(
        self,
        circuit: Circuit,
        ends: Mapping[str, tuple[End, ...]],
        ready: Mapping[str, tuple[Ready, ...]],
        flowing: Mapping[str, Amps],
        hung: tuple[str, ...],
    ) -> Tally | None:
        """Every joint of the circuit made as cheaply as it can be; None when one cannot."""
        total = Tally()
        for post_id in circuit.posts:
            post = self.setting.posts[post_id]
            here = ends.get(post_id, ())
            if post.kind == "lead" and ready.get(post_id):
                return None  # a ready-made ring goes on no lead
            if post.kind == "lead" and len({end.shares for end in here}) > 1:
                return None  # what comes aboard has a lead's one fitting to itself
            if post.kind == "lead":
                made = self._join_lead(post, here) if here else Tally()
            else:
                here += self.given.ends.get(post_id, ())
                rings = ready.get(post_id, ()) + self.given.ready.get(post_id, ())
                made = self.joints.on_post(post, here, rings)
            if made is None:
                return None
            total += made
        for splice in hung:
            kinds = self.setting.limits.splice_kinds
            made = self.joints.mid_air(kinds, ends[splice], self._flows_in(ends[splice]))
            if made is None:
                return None
            total += made
        return total

    def _join_lead(self, post: Post, here: tuple[End, ...]) -> Tally | None:
        """The joint at a lead; what flows in comes by jumpers, or by the lead itself."""
        assert post.lead is not None
        lead = self.setting.wire(post.lead)
        through = tuple(-each for each in self.joints.net(here))
        own = self.joints.end(here[0].shares, "bench", lead.area_um2, lead.insulation_um, through)
        return self.joints.mid_air(
            self.setting.limits.lead_kinds, (own, *here), self._flows_in((own, *here))
        )

    def _flows_in(self, ends: Sequence[End]) -> int:
        """What comes to a joint in mid-air by its wire ends together, at the most."""
        states = zip(*(end.current_ma for end in ends), strict=True)
        return max(sum(max(0, each) for each in state) for state in states)

    def wired(
        self,
        circuit: Circuit,
        tree: tuple[Piece, ...],
        wires: tuple[Wire, ...],
        start: Start,
    ) -> Wired | None:
        """One tree in one choice of wires, or None when it breaks a rule by itself."""
        flowing = self.currents(circuit, tree, start.extra)
        loom = Loom()
        if not self._run(tree, wires, flowing, loom):
            return None
        shares = f"bench {circuit.name}"
        ends: dict[str, tuple[End, ...]] = dict(start.ends)
        needs = self._needs(circuit, tree, start.extra, flowing)
        drop: dict[str, tuple[int, ...]] = {}
        lugs: list[StrapLug] = []
        for post_id, fallen in start.drop_nv.items():
            lugs.extend(self._enter(post_id, fallen, needs, drop))
        source: dict[str, str] = {}
        cut, take_offs, detail = Tally(), [], []
        for piece, wire in zip(tree, wires, strict=True):
            length, current = piece.length_dmm, flowing[piece.b_node]
            cut += Tally(length, 0, 0, self.setting.cut_micro(wire, length))
            uohm = self.setting.crimped_uohm(wire, length)
            above = self.setting.nothing
            if piece.a_node != SUPPLY:
                above = drop[self.setting.at(piece.a)]
            fallen = added(above, tuple(uohm * each for each in current))
            lugs.extend(self._enter(piece.b, fallen, needs, drop))
            source[piece.b_node] = source.get(piece.a_node) or piece.a
            leaves, comes = (
                self.joints.end(shares, "bench", wire.area_um2, wire.insulation_um, signed)
                for signed in (minus(current), current)
            )
            if piece.a_node == SUPPLY:
                take_offs.append(TakeOff(piece.a, leaves, current))
            else:
                ends[piece.a] = (*ends.get(piece.a, ()), leaves)
            ends[piece.b] = (*ends.get(piece.b, ()), comes)
            detail.append(f"{circuit.name}: {piece.a} -> {piece.b}, {wire.name}, {length}")
        for number, post_id, fallen in start.others_nv:
            drop = self._from(number, post_id, fallen, drop)
        ready = self._strapped(circuit, lugs, start.ready)
        if ready is None:
            return None
        if not self._lay_leads(ends, start.tips, loom):
            return None
        hung = tuple(p.b for p in tree if p.b not in self.setting.posts)
        joined = self._join(circuit, ends, ready, flowing, hung)
        if joined is None:
            return None
        off = tuple(sorted(take_offs))
        return Wired(cut + joined, drop, source, off, loom, tuple(detail))

    # -- taken circuits ---------------------------------------------------------------------

    def takes_off_at(self, circuit: Circuit, landing: Post) -> tuple[tuple[str, ...], int]:
        """The posts of a circuit that what is taken from it may leave, and by how many jumpers.

        Rule R10: its landing post, or (by the limit) any of its studs; of a way's circuit not
        the far post, where that is no landing post. A stud, or the tab of a far post that is its
        circuit's only post; such a tab holds nothing else.
        """
        setting, far = self.setting, circuit.supplied_by
        anywhere = setting.limits.lamp_take_off == "any"
        posts = [post for post in circuit.posts if anywhere or post == landing.id]
        if far and far != landing.id:
            posts = [post for post in posts if post != far]
        only = landing.id == far and not hubs.others(setting, circuit)
        if only and landing.kind == "tab":
            return (far,), 1
        studs = tuple(post for post in posts if setting.posts[post].kind == "stud")
        return studs, ANY_DEGREE if anywhere else 1

    def taken(self, circuit: Circuit, landing: Post) -> Iterator[Wired]:
        """Every way to wire a circuit that is taken from the one that lands there.

        The supply above the tree is the landing post, left by exactly one jumper, or (by the
        limit) any studs of the other circuit, left by any number. Rule R10.
        """
        owner = self.setting.circuits[circuit.taken_from]
        posts, most = self.takes_off_at(owner, landing)
        for chosen in tips(self.setting, circuit):
            start = Start({}, {}, {}, {}, chosen)
            for tree in self.trees(circuit, SUPPLY, posts, most, chosen):
                for wires in self.sizes(circuit, len(tree)):
                    found = self.wired(circuit, tree, wires, start)
                    if found is not None:
                        yield found

    # -- circuits with a supply of their own -------------------------------------------------

    def _rooted(self, circuit: Circuit, post: Post, chosen: Tips) -> Iterator[tuple[Piece, ...]]:
        """Every tree of a circuit with a supply of its own, from where that comes in.

        A way's circuit whose landing post is not the far post: one jumper from the far post to
        the landing post, and nothing else at the far post.
        """
        setting, far, root = self.setting, circuit.supplied_by, self.setting.node(post.id)
        root_posts = tuple(each.id for each in setting.nodes(circuit)[root])
        if not far or far == post.id:
            yield from self.trees(circuit, root, root_posts, ANY_DEGREE, chosen)
            return
        far_node = setting.node(far)
        single = self._piece(far, post.id, far_node, root, chosen)
        if single is None:
            return
        for tree in self.trees(circuit, root, root_posts, ANY_DEGREE, chosen, far_node):
            yield (single, *tree)

    def landed(
        self, circuit: Circuit, posts: Sequence[Post], take_offs: Sequence[TakeOff]
    ) -> Iterator[Wired]:
        """Every way to wire a circuit from its landing posts, with these jumpers taken off it."""
        for chosen in tips(self.setting, circuit):
            supplies = [
                self.supplies.supply(circuit, post, chosen, number)
                for number, post in enumerate(posts)
            ]
            reached = [each for each in supplies if each is not None]
            if len(reached) == len(supplies):
                yield from self._landed(circuit, reached, take_offs, chosen)

    def _landed(
        self,
        circuit: Circuit,
        supplies: Sequence[Supply],
        take_offs: Sequence[TakeOff],
        chosen: Tips,
    ) -> Iterator[Wired]:
        setting = self.setting
        extra = self.supplies.drawn(circuit, supplies, take_offs)
        keeps = self.supplies.keeps_size
        lengthened = sum(1 for s in supplies if s.extension_dmm and not keeps(circuit, s))
        for tree in self._rooted(circuit, supplies[0].post, chosen):
            reached = {setting.node(supplies[0].post.id), *(piece.b_node for piece in tree)}
            if not reached.issuperset(map(setting.node, extra)):
                continue
            for wires in self.sizes(circuit, len(tree) + lengthened):
                extension = wires[len(tree) :]
                start = self.supplies.start(circuit, supplies, take_offs, extension, chosen)
                if start is None:
                    continue
                found = self.wired(circuit, tree, wires[: len(tree)], start)
                if found is not None:
                    yield start.finish(found)
