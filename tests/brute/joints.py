"""Everything that can be crimped on the wire ends of one joint, and the cheapest that is allowed.

On a stud the groupings of the wire ends into barrels are listed by the first end: it shares
its barrel with each sub-group of the others in turn, and the rest is grouped the same way. What
a grouping leaves to be judged is five numbers (lugs, summed tongues, widest barrel angle,
money, and where a stud's own current is limited what goes through all tongues), so a stud's
groupings are a set of those. Fewer lugs mean fewer stacked lugs, a lower
stack and fewer fittings at once, and no joint shares anything with another joint: the best of
one joint, by the objective, is part of a best plan whatever the others do.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations

from brute.setting import Setting
from brute.states import Amps, added
from brute.tally import Tally, summed_key
from lugwright.base.scale import ceil_div
from lugwright.scenario.console import Post, Stage
from lugwright.stock.schema import STUD_KINDS, Barrel, FittingType


@dataclass(frozen=True, order=True)
class End:
    """One bare wire end. Ends share a barrel on a post only when ``shares`` is the same.

    ``current_ma``, state by state, is more than nought where the current comes to the joint (the
    end on the supply's side), less where it leaves.
    """

    shares: str
    stage: Stage
    area_um2: int
    insulation_um: int
    current_ma: Amps


@dataclass(frozen=True, order=True)
class Ready:
    """A ready-made ring that lands."""

    thread: str
    tongue_dmm: int
    angle_deg: int
    stage: Stage
    current_ma: Amps
    wires: int = 1


Held = tuple[int, int]
"""Wires folded back in a barrel, and its margin, less than nought: so the least comes first."""


@dataclass(frozen=True, order=True)
class Lugs:
    """One way to crimp the ends of a stud, as far as it matters for what follows."""

    lugs: int = 0
    tongues_dmm: int = 0
    angle_deg: int = 0
    money_micro: int = 0
    tongues_ma: Amps = ()
    folds: int = 0
    margin_um2: int = 0


Ends = tuple[End, ...]


class Joints:
    """The cheapest way to make each joint, remembered by the ends that meet there."""

    def __init__(self, setting: Setting) -> None:
        self.setting = setting
        self.limits = setting.limits
        self.fittings = setting.stock.fittings
        limited = any(fitting.carries_ma for fitting in self.fittings)
        posts = [p for p in setting.console.posts if p.carries_ma]
        self.currents_matter = limited or bool(posts)
        self.tongues_matter = any(post.kind == "stud" for post in posts)
        self._groupings: dict[tuple[str, Ends, int], frozenset[Lugs]] = {}
        self._made: dict[tuple[str, Ends, tuple[Ready, ...], int], Tally | None] = {}

    def end(self, shares: str, stage: Stage, area: int, insulation: int, current: Amps) -> End:
        """A wire end; its current (less than nought: it leaves) is left out where nothing asks."""
        nothing = self.setting.nothing
        return End(shares, stage, area, insulation, current if self.currents_matter else nothing)

    def strap_lug(self, thread: str, thickness_dmm: int, current: Amps) -> Ready:
        """The lug of a strap, which has no barrel."""
        known = current if self.currents_matter else self.setting.nothing
        return Ready(thread, thickness_dmm, 0, "bench", known)

    # -- barrels -----------------------------------------------------------------------------

    def held(self, barrel: Barrel, lined: bool, ends: Ends, most: int | None) -> Held | None:
        """How a barrel takes these ends, at most ``most`` of them (None: not counted); None: not.

        Rule R18.
        """
        areas = [end.area_um2 for end in ends]
        if max(areas) * 1000 > min(areas) * self.limits.size_ratio_permille:
            return None
        sleeve = sum(end.insulation_um**2 for end in ends) <= barrel.sleeve_um**2
        if not sleeve:
            return None

        def fits(area: int, count: int) -> bool:
            counted = (most is None or count <= most) and not (lined and count > 2)
            return counted and barrel.area_min_um2 <= area <= barrel.area_max_um2

        def margin(area: int) -> int:
            return min(area - barrel.area_min_um2, barrel.area_max_um2 - area)

        if fits(sum(areas), len(ends)):
            return 0, -margin(sum(areas))
        if self.limits.fold_back and len(ends) == 1 and fits(2 * areas[0], 2):
            return 1, -margin(2 * areas[0])
        return None

    def _crimped_micro(self, fitting: FittingType, stage: Stage | None) -> int:
        """Price, crimping and (on a post) landing of one fitting."""
        limits, labour = self.limits, self.setting.labour_micro
        money = fitting.price_micro + labour(limits.minutes_fitting_cmin[fitting.kind])
        if stage is not None:
            money += labour(limits.minutes_landing_cmin[fitting.kind][stage])
        return money

    @staticmethod
    def _within(limit_ma: int, current_ma: int) -> bool:
        return not limit_ma or current_ma <= limit_ma

    def net(self, ends: Iterable[End | Ready]) -> Amps:
        """In less out, over all of these, in each state."""
        total = self.setting.nothing
        for end in ends:
            total = added(total, end.current_ma)
        return total

    def _carried(self, ends: Ends) -> int:
        """The current of a lug or push-on: its largest end, or in less out through its tongue."""
        largest = [max(map(abs, end.current_ma)) for end in ends]
        return max(*map(abs, self.net(ends)), *largest)

    @staticmethod
    def _half(through: Amps, net: Amps) -> int:
        """A post's current: half of what goes through its tongues and into its instrument."""
        sums = [one + abs(other) for one, other in zip(through, net, strict=True)]
        assert not any(each % 2 for each in sums)
        return max(sums) // 2

    # -- studs -------------------------------------------------------------------------------

    def _most(self, post: Post) -> int:
        """The most wire ends in one barrel on a post."""
        most = self.setting.most
        return most("wires_per_barrel", post.id, self.limits.wires_per_barrel)

    def _one_lug(self, thread: str, ends: Ends, most: int) -> Iterator[Lugs]:
        """Every lug that takes these ends, at most ``most``, on a stud of that thread. Rule R21."""
        current = self._carried(ends)
        tongue = self.setting.nothing
        if self.tongues_matter:
            tongue = tuple(map(abs, self.net(ends)))
        for fitting in self.fittings:
            kind_fits = fitting.kind in STUD_KINDS and fitting.kind in self.limits.stud_kinds
            if not kind_fits or thread not in fitting.stud_threads or len(fitting.barrels) != 1:
                continue
            if not self._within(fitting.carries_ma, current):
                continue
            held = self.held(fitting.barrels[0], fitting.lined, ends, most)
            if held is not None:
                money = self._crimped_micro(fitting, ends[0].stage)
                angle = fitting.barrel_angle_deg
                yield Lugs(1, fitting.tongue_dmm, angle, money, tongue, held[0], -held[1])

    def groupings(self, thread: str, ends: Ends, most: int) -> frozenset[Lugs]:
        """Every way to bring sorted ends into lugs of at most ``most`` on a stud of that thread.

        Rule R22.
        """
        if not ends:
            return frozenset((Lugs(tongues_ma=self.setting.nothing),))
        key = (thread, ends, most)
        if key not in self._groupings:
            self._groupings[key] = self._firsts(self._all_groupings(thread, ends, most))
        return self._groupings[key]

    def _firsts(self, every: Iterable[Lugs]) -> frozenset[Lugs]:
        """Of ways alike in lugs, tongues, room and current the one that the key puts first."""
        first: dict[tuple[int, int, int, Amps], Lugs] = {}
        for lugs in every:
            kind = lugs.lugs, lugs.tongues_dmm, lugs.angle_deg, lugs.tongues_ma
            if kind not in first or self._key(lugs) < self._key(first[kind]):
                first[kind] = lugs
        return frozenset(first.values())

    def _key(self, lugs: Lugs) -> tuple[int, ...]:
        tally = Tally(0, 0, 0, lugs.money_micro, 0, lugs.folds, lugs.margin_um2)
        return summed_key(tally, self.limits)

    def _all_groupings(self, thread: str, ends: Ends, most: int) -> Iterator[Lugs]:
        first, others = ends[0], range(1, len(ends))
        partners = [index for index in others if ends[index].shares == first.shares]
        tried: set[Ends] = set()
        for size in range(len(partners) + 1):
            for chosen in combinations(partners, size):
                group = (first, *(ends[index] for index in chosen))
                if group in tried:
                    continue
                tried.add(group)
                lugs = set(self._one_lug(thread, group, most))
                if not lugs:
                    continue
                rest = tuple(ends[index] for index in others if index not in chosen)
                for lug in lugs:
                    for more in self.groupings(thread, rest, most):
                        yield Lugs(
                            lug.lugs + more.lugs,
                            lug.tongues_dmm + more.tongues_dmm,
                            max(lug.angle_deg, more.angle_deg),
                            lug.money_micro + more.money_micro,
                            added(lug.tongues_ma, more.tongues_ma),
                            lug.folds + more.folds,
                            lug.margin_um2 + more.margin_um2,
                        )

    def _stands(self, post: Post, made: Lugs, ends: Ends, ready: tuple[Ready, ...]) -> bool:
        """Count, thread, room and current of a stud with these lugs and ready-made rings.

        Rules R20, R23.
        """
        limits = self.limits
        if post.carries_ma:
            through = made.tongues_ma
            for ring in ready:
                through = added(through, tuple(map(abs, ring.current_ma)))
            if self._half(through, self.net((*ends, *ready))) > post.carries_ma:
                return False
        lugs = made.lugs + len(ready) + post.reserved
        ends_counted = len(ends) + sum(ring.wires for ring in ready) + post.reserved
        count = lugs if limits.stud_count == "lugs" else ends_counted
        row = self.setting.stock.hardware_for(post.thread)
        used = made.tongues_dmm + sum(ring.tongue_dmm for ring in ready)
        used += post.reserved * post.reserved_tongue_dmm + row.nut_dmm
        used += row.lock_washer_dmm if limits.lock_washer else 0
        showing = limits.showing_thread_permille
        showing = self.setting.least("showing_thread", post.id, showing)
        used += ceil_div(showing * row.pitch_um, 100_000)
        angles = [made.angle_deg, *(ring.angle_deg for ring in ready)]
        if post.reserved:
            angles.append(post.reserved_angle_deg)
        return (
            count <= self.setting.most("lugs_per_stud", post.id, limits.lugs_per_stud)
            and used <= post.free_thread_dmm
            and lugs * max(angles) <= 360
        )

    def _on_stud(self, post: Post, ends: Ends, ready: tuple[Ready, ...]) -> Tally | None:
        """The cheapest way to crimp these ends on a stud, its stacked lugs counted. Rule R25."""
        if any(ring.thread != post.thread for ring in ready):
            return None
        landing = self.limits.minutes_landing_cmin
        ready_micro = sum(self.setting.labour_micro(landing["ring"][ring.stage]) for ring in ready)
        found = []
        for made in self.groupings(post.thread, ends, self._most(post)):
            if self._stands(post, made, ends, ready):
                lugs = made.lugs + len(ready)
                money = made.money_micro + ready_micro
                stacked, barrels = max(0, lugs - 1), (made.folds, made.margin_um2)
                found.append(Tally(0, stacked, made.lugs, money, lugs, *barrels))
        return min(found, key=lambda tally: summed_key(tally, self.limits), default=None)

    # -- tabs --------------------------------------------------------------------------------

    def _on_tab(self, post: Post, ends: Ends, ready: tuple[Ready, ...]) -> Tally | None:
        """One push-on with every end on the tab. Rule R24."""
        if ready or len(ends) > 2 or len({end.shares for end in ends}) > 1:
            return None
        current = self._carried(ends)
        net = max(map(abs, self.net(ends)))
        if not self._within(post.carries_ma, net):
            return None
        return self._first(
            self._one(self._crimped_micro(fitting, ends[0].stage), held)
            for fitting in self.fittings
            if fitting.kind == "push-on"
            and fitting.tab_size == post.tab_size
            and self._within(fitting.carries_ma, current)
            and (held := self.held(fitting.barrels[0], fitting.lined, ends, self._most(post)))
        )

    @staticmethod
    def _one(money: int, held: Held) -> Tally:
        """One fitting by itself."""
        return Tally(0, 0, 1, money, 0, held[0], -held[1])

    def _first(self, tallies: Iterable[Tally]) -> Tally | None:
        return min(tallies, key=lambda tally: summed_key(tally, self.limits), default=None)

    def on_post(self, post: Post, ends: Ends, ready: tuple[Ready, ...]) -> Tally | None:
        """The cheapest way to land these ends on a stud or tab; None when there is none."""
        if not ends and not ready:
            return Tally()
        ends = tuple(sorted(ends))
        key = (post.id, ends, tuple(sorted(ready)), 0)
        if key not in self._made:
            make = self._on_stud if post.kind == "stud" else self._on_tab
            self._made[key] = make(post, ends, ready)
        return self._made[key]

    # -- mid-air -----------------------------------------------------------------------------

    def _mid_air_held(self, fitting: FittingType, ends: Ends) -> Held | None:
        """How a butt (the first split over its halves) or a closed end takes all the ends."""
        if fitting.kind == "closed end":
            held = self.held(fitting.barrels[0], fitting.lined, ends, None)
            return None if held is None or held[0] else held
        found: list[Held] = []
        one_half, other_half = fitting.barrels
        places = range(len(ends))
        for size in range(1, len(ends)):
            for chosen in combinations(places, size):
                here = tuple(ends[index] for index in chosen)
                there = tuple(ends[index] for index in places if index not in chosen)
                one = self.held(one_half, fitting.lined, here, None)
                other = self.held(other_half, fitting.lined, there, None)
                if one and other:
                    found.append((one[0] + other[0], one[1] + other[1]))
        return min(found, default=None)

    def mid_air(self, kinds: tuple[str, ...], ends: Ends, flows_in_ma: int) -> Tally | None:
        """The cheapest splice or lead joint of these ends; None when there is none.

        Rules R9, R19, R31.
        """
        if len(ends) > self.limits.wires_per_splice:
            return None
        flows_in_ma = flows_in_ma if self.currents_matter else 0
        ends = tuple(sorted(ends))
        key = ("mid-air " + ", ".join(kinds), ends, (), flows_in_ma)
        if key not in self._made:
            self._made[key] = self._first(
                self._one(self._crimped_micro(fitting, None), held)
                for fitting in self.fittings
                if fitting.kind in ("butt", "closed end")
                and fitting.kind in kinds
                and self._within(fitting.carries_ma, flows_in_ma)
                and (held := self._mid_air_held(fitting, ends))
            )
        return self._made[key]

    def extension_butt(self, given: End, piece: End, flows_in_ma: int) -> Tally | None:
        """The butt between a given wire and its extension: one wire in each half."""
        most = max(1, self.limits.wires_per_barrel)  # a lone wire always counts as allowed
        found: list[Tally] = []
        for fitting in self.fittings:
            if fitting.kind != "butt":
                continue
            if not self._within(fitting.carries_ma, flows_in_ma):
                continue
            halves = (fitting.barrels, tuple(reversed(fitting.barrels)))
            for one, other in halves:
                near = self.held(one, fitting.lined, (given,), most)
                far = self.held(other, fitting.lined, (piece,), most)
                if near and far:
                    held = near[0] + far[0], near[1] + far[1]
                    found.append(self._one(self._crimped_micro(fitting, None), held))
        return self._first(found)
