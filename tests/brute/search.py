"""The circuits put together: one way for each supply, in the order of their summed cost."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from brute.circuits import CircuitWays
from brute.given import Given
from brute.judged import Judged, own_part_nv, shift_holds
from brute.parts import TakeOff, Wired
from brute.setting import Leg, Setting
from brute.tally import plus, summed_key
from lugwright.scenario.console import Circuit, Post

Key = tuple[int, ...]
TakerKinds = dict[tuple[tuple[TakeOff, ...], tuple[str, ...]], list[Wired]]


@dataclass(frozen=True)
class Way:
    """One way to wire a supply with all that is taken from it.

    ``drops_nv`` is its part of every judged load's drop, ``used`` and ``allowed`` its conductors
    on every loom leg and the most conductors its wires can stand there.
    """

    key: Key
    tallest: int
    drops_nv: tuple[int, ...]
    used: tuple[int, ...]
    allowed: tuple[int, ...]
    detail: tuple[str, ...]

    def needs(self) -> Key:
        """What it asks of the others; smaller is easier in every entry."""
        spare = tuple(-most for most in self.allowed)
        return (self.tallest, *self.drops_nv, *self.used, *spare)


def front(ways: Iterable[tuple[Key, Key, Wired | Way]]) -> list[tuple[Key, Key, Wired | Way]]:
    """Drop what another beats or equals in the key and in every need (key, needs, way)."""
    kept: list[tuple[Key, Key, Wired | Way]] = []
    for key, needs, way in sorted(ways, key=lambda entry: entry[:2]):
        beaten = any(all(a <= b for a, b in zip(other, needs, strict=True)) for _, other, _ in kept)
        if not beaten:
            kept.append((key, needs, way))
    return kept


class SupplyWays:
    """Lists the ways of one circuit with a supply of its own, and of what is taken from it."""

    def __init__(
        self,
        setting: Setting,
        ways: CircuitWays,
        given: Given,
        loads: Sequence[Judged],
        legs: Sequence[Leg],
        thorough: bool,
    ) -> None:
        self.setting = setting
        self.ways = ways
        self.given = given
        self.loads = loads
        self.legs = legs
        self.thorough = thorough
        self.kinds: dict[tuple[str, str], TakerKinds] = {}

    def landed(self, circuit: Circuit, post: Post, *others: Post) -> list[Way]:
        """Every way worth keeping from one landing post, or from one of each of its pigtails."""
        takers = self.setting.takers(circuit)
        kinds = [self._taker_kinds(taker, post) for taker in takers]
        found: list[Way] = []
        for choice in product(*(kind.items() for kind in kinds)):
            offs = tuple(off for (taken, _), _ in choice for off in taken)
            taken = [ways for _, ways in choice]
            found.extend(self._with_takers(circuit, (post, *others), offs, takers, taken))
        if self.thorough:
            return found
        kept = front((way.key, way.needs(), way) for way in found)
        return [way for _, _, way in kept if isinstance(way, Way)]

    def _parts(self, circuit: Circuit, wired: Wired) -> tuple[int, ...]:
        return tuple(own_part_nv(self.setting, circuit, load, wired.drop_nv) for load in self.loads)

    def _sources(self, circuit: Circuit, wired: Wired) -> tuple[str, ...]:
        """For every judged load that feeds over a taken circuit: the stud it comes from."""
        found, posts = [], self.setting.posts
        for load in self.loads:
            inside = [post for post in load.feed_posts if posts[post].circuit == circuit.name]
            found.append(wired.source[self.setting.node(inside[0])] if inside else "")
        return tuple(found)

    def _looms(self, wired: Wired) -> tuple[tuple[int, ...], tuple[int, ...]]:
        used = tuple(wired.loom.used[leg] for leg in self.legs)
        return used, tuple(wired.loom.allowed.get(leg, 10**6) for leg in self.legs)

    def _needs(self, wired: Wired, drops: tuple[int, ...]) -> Key:
        used, allowed = self._looms(wired)
        return (wired.tally.tallest, *drops, *used, *(-most for most in allowed))

    def _keep(self, entries: Iterable[tuple[Key, Key, Wired]]) -> list[Wired]:
        kept = list(entries) if self.thorough else front(entries)
        return [way for _, _, way in kept if isinstance(way, Wired)]

    def _taker_kinds(self, taker: Circuit, landing: Post) -> TakerKinds:
        """The ways of a taken circuit, by what they take off and where each load draws."""
        anywhere = self.setting.limits.lamp_take_off == "any"
        start = (taker.name, "" if anywhere else landing.id)
        if start not in self.kinds:
            self.kinds[start] = self._listed_kinds(taker, landing)
        return self.kinds[start]

    def _listed_kinds(self, taker: Circuit, landing: Post) -> TakerKinds:
        grouped: dict[tuple[tuple[TakeOff, ...], tuple[str, ...]], list[tuple[Key, Key, Wired]]]
        grouped = defaultdict(list)
        for wired in self.ways.taken(taker, landing):
            key = summed_key(wired.tally, self.setting.limits)
            needs = self._needs(wired, self._parts(taker, wired))
            kind = (wired.take_offs, self._sources(taker, wired))
            grouped[kind].append((key, needs, wired))
        return {kind: self._keep(entries) for kind, entries in grouped.items()}

    def _with_takers(
        self,
        circuit: Circuit,
        posts: Sequence[Post],
        offs: tuple[TakeOff, ...],
        takers: tuple[Circuit, ...],
        taken: list[list[Wired]],
    ) -> Iterator[Way]:
        """The circuit wired with these take-offs, with every way to wire the rest of its takers."""
        metals = sorted({self.setting.metal(off.stud) for off in offs})
        entries = []
        for wired in self._owners(circuit, posts, offs):
            key = summed_key(wired.tally, self.setting.limits)
            at_metals = (each for metal in metals for each in wired.drop_nv[metal])
            drops = (*self._parts(circuit, wired), *at_metals)
            entries.append((key, self._needs(wired, drops), wired))
        for own in self._keep(entries):
            for others in product(*taken):
                yield self._together(circuit, own, takers, others)

    def _owners(
        self, circuit: Circuit, posts: Sequence[Post], offs: tuple[TakeOff, ...]
    ) -> Iterator[Wired]:
        for wired in self.ways.landed(circuit, posts, offs):
            if circuit.side == "feed" or shift_holds(self.setting, circuit, wired.drop_nv):
                yield wired

    def _together(
        self, circuit: Circuit, own: Wired, takers: tuple[Circuit, ...], others: tuple[Wired, ...]
    ) -> Way:
        tally, drops = own.tally, self._parts(circuit, own)
        used, allowed = self._looms(own)
        detail = own.detail
        for taker, wired in zip(takers, others, strict=True):
            tally += wired.tally
            drops = plus(drops, self._parts(taker, wired))
            before = tuple(
                own.drop_nv[self.setting.metal(stud)][load.state] if stud else 0
                for load, stud in zip(self.loads, self._sources(taker, wired), strict=True)
            )
            drops = plus(drops, before)
            more, most = self._looms(wired)
            used = plus(used, more)
            allowed = tuple(map(min, allowed, most))
            detail += wired.detail
        key = summed_key(tally, self.setting.limits)
        return Way(key, tally.tallest, drops, used, allowed, detail)


class Combined:
    """The cheapest choice of one way per supply that keeps every shared limit."""

    def __init__(self, given: Given, loads: Sequence[Judged], legs: Sequence[Leg]) -> None:
        self.own_nv = tuple(load.own_nv for load in loads)
        self.limits_nv = tuple(load.limit_nv for load in loads)
        self.used = tuple(given.loom.used[leg] for leg in legs)
        self.allowed = tuple(given.loom.allowed.get(leg, 10**6) for leg in legs)
        self.best: tuple[Key, tuple[Way, ...]] | None = None

    def search(self, lists: list[list[Way]], before: Key) -> None:
        """Try every combination of one way from each list that may beat ``best``.

        ``before`` is the key of what is there in any case. A branch is left only when its own
        key and the least keys of the lists still to come add up to no less than the best.
        """
        if not all(lists):
            return
        ordered = [sorted(ways, key=lambda way: (way.key, way.needs())) for ways in lists]
        least = [before] * (len(ordered) + 1)
        least[-1] = (0,) * len(before)
        for index in reversed(range(len(ordered))):
            least[index] = plus(ordered[index][0].key, least[index + 1])
        self._deeper(ordered, least, before, ())

    def _deeper(
        self, ordered: list[list[Way]], least: list[Key], key: Key, chosen: tuple[Way, ...]
    ) -> None:
        if len(chosen) == len(ordered):
            self.best = (key, chosen)
            return
        rest = least[len(chosen) + 1]
        for way in ordered[len(chosen)]:
            so_far = plus(key, way.key)
            if self.best is not None and plus(so_far, rest) >= self.best[0]:
                return
            if self._holds((*chosen, way)):
                self._deeper(ordered, least, so_far, (*chosen, way))

    def _holds(self, chosen: tuple[Way, ...]) -> bool:
        """Drops and loom legs of what is chosen so far; both only grow with what follows."""
        drops, used, allowed = self.own_nv, self.used, self.allowed
        for way in chosen:
            drops = plus(drops, way.drops_nv)
            used = plus(used, way.used)
            allowed = tuple(map(min, allowed, way.allowed))
        within = all(drop <= limit for drop, limit in zip(drops, self.limits_nv, strict=True))
        return within and all(count <= most for count, most in zip(used, allowed, strict=True))
