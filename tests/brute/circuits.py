"""Every way to wire one circuit, each judged and costed as far as the circuit stands alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import combinations, product

from brute import hubs
from brute.given import Given, Loom, minus, stands_along, stands_off_loom
from brute.joints import End, Joints, Ready
from brute.judged import Drops
from brute.sections import section
from brute.setting import Setting, Wire
from brute.states import Amps, added
from brute.tally import Tally
from brute.trees import rooted_trees
from lugwright.routes.schema import Path
from lugwright.scenario.console import Circuit, Post
from lugwright.stock.schema import Spool

SUPPLY = "supply"  # the node above a taken circuit's tree: whatever it is taken off from
ANY_DEGREE = 99


@dataclass(frozen=True)
class Piece:
    """One jumper: joint ids ``a`` (supply side) and ``b``, and the nodes they belong to."""

    a: str
    b: str
    a_node: str
    b_node: str


@dataclass(frozen=True, order=True)
class TakeOff:
    """A jumper of a taken circuit that starts on a stud of the circuit it is taken from."""

    stud: str
    end: End
    current_ma: Amps


@dataclass
class Wired:
    """One way to wire a circuit.

    ``drop_nv`` is the drop from the circuit's supply to each node: for a taken circuit from
    the stud its branch is taken off at (``source`` of each node), else from its pigtail's
    source, or from inside the device at its far post.
    """

    tally: Tally
    drop_nv: Drops
    source: Mapping[str, str]
    take_offs: tuple[TakeOff, ...]
    loom: Loom
    detail: tuple[str, ...]


@dataclass(frozen=True)
class Supply:
    """A circuit's supply at its landing post.

    ``path`` is a pigtail's (None: a way supplies it), ``extension_dmm`` 0: it reaches by itself.
    """

    post: Post
    path: Path | None
    extension_dmm: int


def _subsets(items: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    for size in range(len(items) + 1):
        yield from combinations(items, size)


class CircuitWays:
    """Lists the trees of a circuit and works out what each costs and needs."""

    def __init__(self, setting: Setting, joints: Joints, given: Given) -> None:
        self.setting = setting
        self.joints = joints
        self.given = given

    # -- trees -------------------------------------------------------------------------------

    def trees(
        self,
        circuit: Circuit,
        root: str,
        root_posts: tuple[str, ...],
        root_most: int,
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
                    yield from self._between_posts(labels, edges, posts)

    def _between_posts(
        self,
        labels: tuple[str, ...],
        edges: tuple[tuple[int, int], ...],
        posts: Mapping[str, tuple[str, ...]],
    ) -> Iterator[tuple[Piece, ...]]:
        """A tree over nodes, with every choice of posts at the nodes that have several."""
        options = []
        for above, below in edges:
            a_node, b_node = labels[above], labels[below]
            ends = product(posts[a_node], posts[b_node])
            options.append(
                [Piece(a, b, a_node, b_node) for a, b in ends if self.setting.jumper(a, b)]
            )
        yield from product(*options)

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
        for node, current in extra.items():
            flowing[node] = added(flowing[node], current)
        nothing = self.setting.nothing
        for piece in reversed(tree):
            below = flowing.setdefault(piece.b_node, nothing)
            flowing[piece.a_node] = added(flowing.get(piece.a_node, nothing), below)
        return flowing

    def _run(
        self,
        tree: tuple[Piece, ...],
        wires: tuple[Wire, ...],
        flowing: Mapping[str, Amps],
        loom: Loom,
    ) -> bool:
        """Ampacity of every jumper; False when one fails off the loom. Fills ``loom``."""
        for piece, wire in zip(tree, wires, strict=True):
            found = self.setting.jumper(piece.a, piece.b)
            assert found is not None
            path, current = found[0], max(flowing[piece.b_node])
            if not stands_along(self.setting, wire, current, path):
                return False
            loom.add(path, 1, self.setting.most_conductors(wire, current))
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
                made = self._join_lead(circuit, post, here, flowing) if here else Tally()
            else:
                here += self.given.ends.get(post_id, ())
                rings = ready.get(post_id, ()) + self.given.ready.get(post_id, ())
                made = self.joints.on_post(post, here, rings)
            if made is None:
                return None
            total += made
        for splice in hung:
            kinds = self.setting.limits.splice_kinds
            made = self.joints.mid_air(kinds, ends[splice], max(flowing[splice]))
            if made is None:
                return None
            total += made
        return total

    def _join_lead(
        self, circuit: Circuit, post: Post, here: tuple[End, ...], flowing: Mapping[str, Amps]
    ) -> Tally | None:
        """The joint at a lead; its supply's side is a far post's lead itself, else a jumper."""
        assert post.lead is not None
        lead, nothing = self.setting.wire(post.lead), self.setting.nothing
        own = self.joints.end(here[0].shares, "bench", lead.area_um2, lead.insulation_um, nothing)
        if post.id == circuit.supplied_by:
            comes = self.setting.lead_ma(post)
        else:
            comes = flowing[self.setting.node(post.id)]
        return self.joints.mid_air(self.setting.limits.lead_kinds, (own, *here), max(comes))

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
        drop, source = dict(start.drop_nv), dict.fromkeys(start.drop_nv, "")
        cut, take_offs, detail = Tally(), [], []
        for piece, wire in zip(tree, wires, strict=True):
            found = self.setting.jumper(piece.a, piece.b)
            assert found is not None
            length, current = found[1], flowing[piece.b_node]
            cut += Tally(length, 0, 0, self.setting.cut_micro(wire, length))
            uohm = self.setting.crimped_uohm(wire, length)
            falls = tuple(uohm * each for each in current)
            drop[piece.b_node] = added(drop[piece.a_node], falls)
            source[piece.b_node] = source[piece.a_node] or piece.a
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
        hung = tuple(p.b for p in tree if p.b not in self.setting.posts)
        joined = self._join(circuit, ends, start.ready, flowing, hung)
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
        start = Start({}, {}, {SUPPLY: self.setting.nothing}, {})
        for tree in self.trees(circuit, SUPPLY, posts, most):
            for wires in self.sizes(circuit, len(tree)):
                found = self.wired(circuit, tree, wires, start)
                if found is not None:
                    yield found

    # -- circuits with a supply of their own -------------------------------------------------

    def supply(self, circuit: Circuit, post: Post) -> Supply | None:
        """The supply at a landing post; None where it would need an extension and may not.

        A way's needs no reach and no extension. Rules R7, R11.
        """
        pigtail = circuit.pigtail
        if pigtail is None or pigtail.entry is None:
            return Supply(post, None, 0)
        path = self.setting.routes.from_entry(pigtail.entry, post.id)
        short = self.setting.shortfall_dmm(path.path_dmm, pigtail.reach_dmm)
        if short <= 0:
            return Supply(post, path, 0)
        if not self.setting.limits.extensions:
            return None
        return Supply(post, path, self.setting.cut_dmm(short))

    def _rooted(self, circuit: Circuit, post: Post) -> Iterator[tuple[Piece, ...]]:
        """Every tree of a circuit with a supply of its own, from where that comes in.

        A way's circuit whose landing post is not the far post: one jumper from the far post to
        the landing post, and nothing else at the far post.
        """
        setting, far, root = self.setting, circuit.supplied_by, self.setting.node(post.id)
        root_posts = tuple(each.id for each in setting.nodes(circuit)[root])
        if not far or far == post.id:
            yield from self.trees(circuit, root, root_posts, ANY_DEGREE)
            return
        single = Piece(far, post.id, setting.node(far), root)
        assert setting.jumper(far, post.id) is not None
        for tree in self.trees(circuit, root, root_posts, ANY_DEGREE, single.a_node):
            yield (single, *tree)

    def landed(
        self, circuit: Circuit, supply: Supply, take_offs: tuple[TakeOff, ...]
    ) -> Iterator[Wired]:
        """Every way to wire a circuit from its landing post, with these jumpers taken off it."""
        setting = self.setting
        extra: dict[str, Amps] = {}
        for off in take_offs:
            node = setting.node(off.stud)
            extra[node] = added(extra.get(node, setting.nothing), off.current_ma)
        lengthened = 1 if supply.extension_dmm else 0
        for tree in self._rooted(circuit, supply.post):
            reached = {setting.node(supply.post.id), *(piece.b_node for piece in tree)}
            if not reached.issuperset(extra):
                continue
            for wires in self.sizes(circuit, len(tree) + lengthened):
                start = self._start(circuit, supply, take_offs, extra, wires[len(tree) :])
                if start is None:
                    continue
                found = self.wired(circuit, tree, wires[: len(tree)], start)
                if found is not None:
                    yield start.finish(found)

    def _start(
        self,
        circuit: Circuit,
        supply: Supply,
        take_offs: tuple[TakeOff, ...],
        extra: Mapping[str, Amps],
        extension: tuple[Wire, ...],
    ) -> Start | None:
        """What the supply and the taken-off jumpers bring to the posts before the tree."""
        ends: dict[str, tuple[End, ...]] = {}
        for off in take_offs:
            ends[off.stud] = (*ends.get(off.stud, ()), off.end)
        if circuit.pigtail is None:
            far = self.setting.posts[circuit.supplied_by]
            crimp = self.setting.limits.crimp_uohm if far.kind == "lead" else 0
            falls = tuple(crimp * each for each in self.setting.lead_ma(far)) if crimp else ()
            drop = {self.setting.node(far.id): falls or self.setting.nothing}
            return Start(ends, {}, drop, extra, detail=(f"{circuit.name}: {supply.post.id}",))
        return self._start_pigtail(circuit, supply, ends, extra, extension)

    def _start_pigtail(
        self,
        circuit: Circuit,
        supply: Supply,
        ends: dict[str, tuple[End, ...]],
        extra: Mapping[str, Amps],
        extension: tuple[Wire, ...],
    ) -> Start | None:
        """What the pigtail and its extension bring to the landing post, beside ``ends``."""
        setting, post, pigtail = self.setting, supply.post, circuit.pigtail
        assert pigtail is not None
        flows = setting.total_ma(circuit)
        total, own, loom = max(flows), setting.wire(pigtail.wire), Loom()
        if supply.path is None:  # a sender's wire of which the file does not say where it comes in
            if not stands_off_loom(setting, own, total):
                return None
        elif not stands_along(setting, own, total, supply.path):
            return None
        else:
            loom.add(supply.path, 1, setting.most_conductors(own, total))
        alone = pigtail.stage != "bench" or setting.has_own_barrel(post)
        shares = "the pigtail alone" if alone else f"bench {circuit.name}"
        stage = pigtail.stage
        end = self.joints.end(shares, stage, own.area_um2, own.insulation_um, flows)
        uohm = setting.pigtail_uohm(pigtail)
        tally, ring, detail = Tally(), pigtail.ring, f"{circuit.name}: lands on {post.id}"
        for piece in extension:
            if ring is not None and ring.wires > 1:
                return None
            given_end = end
            end = self.joints.end(shares, stage, piece.area_um2, piece.insulation_um, flows)
            butt = self.joints.extension_butt(given_end, end, total)
            if butt is None or not stands_off_loom(setting, piece, total):
                return None
            assert supply.path is not None
            loom.add(supply.path, 0, setting.most_conductors(piece, total))
            length, ring = supply.extension_dmm, None
            uohm += setting.crimped_uohm(piece, length)
            tally += butt + Tally(length, 0, 0, setting.cut_micro(piece, length))
            detail += f", extension {piece.name}, {length}"
        ready: dict[str, tuple[Ready, ...]] = {}
        if ring is not None:
            made = Ready(ring.thread, ring.tongue_dmm, ring.angle_deg, stage, flows, ring.wires)
            ready[post.id] = (made,)
        else:
            ends[post.id] = (*ends.get(post.id, ()), end)
        drop = {setting.node(post.id): tuple(uohm * each for each in flows)}
        return Start(ends, ready, drop, extra, tally, loom, (detail,))


@dataclass
class Start:
    """What is there before the tree: ends and rings on posts, the drop at the root."""

    ends: Mapping[str, tuple[End, ...]]
    ready: Mapping[str, tuple[Ready, ...]]
    drop_nv: Drops
    extra: Mapping[str, Amps]
    tally: Tally = field(default_factory=Tally)
    loom: Loom | None = None
    detail: tuple[str, ...] = ()

    def finish(self, wired: Wired) -> Wired:
        """The tree together with what was there before it."""
        loom = wired.loom
        if self.loom is not None:
            loom.used.update(self.loom.used)
            for leg, most in self.loom.allowed.items():
                loom.allowed[leg] = min(most, loom.allowed.get(leg, most))
        return Wired(
            self.tally + wired.tally,
            wired.drop_nv,
            wired.source,
            wired.take_offs,
            loom,
            self.detail + wired.detail,
        )
