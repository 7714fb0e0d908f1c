"""Which wire ends may share which fittings: every way worth considering, as tables.

A barrel takes wires by summed strand area, summed jacket cross-section, number, lining and
ratio of sizes. The tables hold each way of taking a multiset of ends that no other way beats
in every respect the decision can see (lugs, tongues, room, money, current limit, wires folded
back, and where those are level the margin, rule R28). On a stud with
a current limit of its own it matters which ends share a barrel, since what passes inside a barrel
does not pass the stud: there a way is only beaten by one that shares the ends out alike.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import cache, cached_property
from itertools import chain

from lugwright.limits.schema import Limits
from lugwright.problem.schema import Counts, EndType, GroupOption, LugPick
from lugwright.stock.schema import STUD_KINDS, FittingType, Stock
from lugwright.trade.barrels import barrel_margin_um2, barrel_takes, folds
from lugwright.trade.fittings import (
    WIRES_AT_A_SPLICE,
    WIRES_ON_A_TAB,
    Where,
    goes_on_stud,
    goes_on_tab,
    most_in_barrel,
)
from lugwright.trade.money import labour_micro
from lugwright.trade.names import lead_wire
from lugwright.trade.objective import counts_money, rank_of_equals

NO_LIMIT_MA = 10**9


class Grouper:
    """Option tables for one stock and one set of limits; asked by post, answered from a cache."""

    def __init__(
        self,
        stock: Stock,
        limits: Limits,
        types: Iterable[EndType],
        limited: Iterable[str] = (),
    ) -> None:
        """``limited`` names the studs that have a current limit of their own."""
        self.stock = stock
        self.limits = limits
        self.limited = frozenset(limited)
        self.types = {kind.name: kind for kind in types}
        self._lugs = cache(self._lugs_uncached)
        self._stud = cache(self._stud_uncached)
        self._tab = cache(self._tab_uncached)
        self._splice = cache(self._splice_uncached)
        self._lead = cache(self._lead_uncached)

    # -- studs ---------------------------------------------------------------------------------

    def most_at(self, post: str) -> int:
        """The most wire ends in one barrel on a post."""
        return most_in_barrel("post", self.limits, post)

    def least_lug(self, thread: str) -> tuple[int, int]:
        """The thinnest tongue (0.1 mm) and the least room round a stud (degrees) of any lug that
        may go on that thread; noughts where none may."""
        return self._of_lugs(thread, min)

    def largest_lug(self, thread: str) -> tuple[int, int]:
        """The thickest tongue (0.1 mm) and the most room round a stud (degrees), likewise."""
        return self._of_lugs(thread, max)

    def _of_lugs(self, thread: str, pick: Callable[[Iterable[int]], int]) -> tuple[int, int]:
        rows = [
            (fitting.tongue_dmm, fitting.barrel_angle_deg)
            for fitting in self.stock.fittings
            if goes_on_stud(fitting, thread, self.limits)
        ]
        tongues, angles = zip(*rows, strict=True) if rows else ((0,), (0,))
        return pick(tongues), pick(angles)

    def stud(
        self, thread: str, counts: Counts, stage: str, post: str = ""
    ) -> tuple[GroupOption, ...]:
        """Ways to put these ends on a stud of that thread, as lugs landed at that stage.

        ``post`` names the stud, for what is waived there.
        """
        limited = post in self.limited
        lugs = len(_names(counts))
        if limited or self._some_lug_limited:  # then there are many ways: none of too many lugs
            lugs = min(lugs, self.limits.at("lugs_per_stud", post))
        return self._stud(thread, counts, stage, self.most_at(post), limited, lugs)

    @cached_property
    def _some_lug_limited(self) -> bool:
        rows = (row for row in self.stock.fittings if row.kind in STUD_KINDS)
        return any(row.carries_ma for row in rows)

    def _stud_uncached(
        self, thread: str, counts: Counts, stage: str, most: int, limited: bool, most_lugs: int
    ) -> tuple[GroupOption, ...]:
        """The lug that holds the first end, then the best ways for what is left.

        A way that is beaten stays beaten whatever lug is added to both, so only the unbeaten
        ways of the rest are carried on.
        """
        if not counts:
            return (GroupOption((), (), 0, 0, 0, 0),)
        if len(_names(counts)) > most_lugs * most:
            return ()
        (first, number), more = counts[0], counts[1:]
        remaining = (((first, number - 1),) if number > 1 else ()) + more
        found: list[GroupOption] = []
        for others in _submultisets(remaining, most - 1):
            lugs = self._lugs(thread, tuple(sorted((first, *others))), stage, most)
            if lugs:
                rest = _without(remaining, others)
                fewer = min(most_lugs - 1, len(_names(rest)))
                tails = self._stud(thread, rest, stage, most, limited, fewer)
                found += [_with_lug(counts, lug, tail) for lug in lugs for tail in tails]
        return _unbeaten(found, alike=limited)

    def _lugs_uncached(
        self, thread: str, group: tuple[str, ...], stage: str, most: int
    ) -> tuple[GroupOption, ...]:
        """Ring and spade rows that take this group. Rule R21."""
        rows = []
        for fitting in self.stock.fittings:
            if not goes_on_stud(fitting, thread, self.limits):
                continue
            lug = self._single(fitting, group, stage, most)
            if lug:
                on_stud = (1, fitting.tongue_dmm, fitting.barrel_angle_deg)
                lugs, tongue_dmm, angle_deg = on_stud
                rows.append(replace(lug, lugs=lugs, tongue_dmm=tongue_dmm, angle_deg=angle_deg))
        return _unbeaten(rows)

    def _single(
        self,
        fitting: FittingType,
        group: tuple[str, ...],
        stage: str,
        most: int,
        counts: Counts = (),
    ) -> GroupOption | None:
        """One fitting of one barrel that takes all of a group; None where it does not."""
        ends = [self.types[name] for name in group]
        barrel = fitting.barrels[0]
        folded = folds(barrel, ends, self.limits, fitting.lined, most)
        if folded is None:
            return None
        pick = LugPick((group,), fitting.name, folded, fitting.carries_ma or NO_LIMIT_MA)
        money = self.money(fitting, stage)
        margin_um2 = barrel_margin_um2(barrel, ends, folded)
        return GroupOption(counts, (pick,), 0, 0, 0, money, int(folded), margin_um2)

    def money(self, fitting: FittingType, stage: str) -> int:
        """Price, crimping and (for what lands on a post) landing of one fitting. Rule R27."""
        total = fitting.price_micro
        rate = self.limits.rate_micro_per_hour
        total += labour_micro(self.limits.minutes_fitting_cmin.get(fitting.kind, 0), rate)
        landing = self.limits.minutes_landing_cmin.get(fitting.kind, {})
        return total + labour_micro(landing.get(stage, 0), rate)

    # -- tabs ----------------------------------------------------------------------------------

    def tab(
        self, tab_size: str, counts: Counts, stage: str, post: str = ""
    ) -> tuple[GroupOption, ...]:
        """Push-ons that take all these ends at once; ``post`` names the tab. Rule R24."""
        return self._tab(tab_size, counts, stage, self.most_at(post))

    def _tab_uncached(
        self, tab_size: str, counts: Counts, stage: str, most: int
    ) -> tuple[GroupOption, ...]:
        group = _names(counts)
        if len(group) > WIRES_ON_A_TAB:
            return ()
        found = []
        for fitting in self.stock.fittings:
            if goes_on_tab(fitting, tab_size):
                option = self._single(fitting, group, stage, most, counts)
                if option:
                    found.append(option)
        return _unbeaten(found)

    # -- mid-air -------------------------------------------------------------------------------

    def splice(self, counts: Counts) -> tuple[GroupOption, ...]:
        """Butts and closed ends that join these ends at a splice point. Rule R9."""
        return self._splice(counts)

    def _splice_uncached(self, counts: Counts) -> tuple[GroupOption, ...]:
        group = _names(counts)
        if not WIRES_AT_A_SPLICE <= len(group) <= self.limits.wires_per_splice:
            return ()
        return self._mid_air(counts, group, self.limits.splice_kinds, must_hold="")

    def lead(self, lead: EndType, counts: Counts) -> tuple[GroupOption, ...]:
        """Butts and closed ends that join these ends to a lead; the lead counts as an end.

        Rule R31.
        """
        return self._lead(lead, counts)

    def _lead_uncached(self, lead: EndType, counts: Counts) -> tuple[GroupOption, ...]:
        self.types[lead.name] = lead
        group = tuple(sorted((*_names(counts), lead.name)))
        if not 2 <= len(group) <= self.limits.wires_per_splice:
            return ()
        return self._mid_air(counts, group, self.limits.lead_kinds, must_hold=lead.name)

    def extension(self, given: EndType, size: str, current_ma: int) -> GroupOption | None:
        """The butt that joins a given wire to an extension, one each side: of those the objective
        does not tell apart the one that comes first (rule R28)."""
        self.types[given.name] = given
        best: GroupOption | None = None
        money = counts_money(self.limits)
        for fitting in self.stock.fittings:
            if fitting.kind != "butt":
                continue
            for halves in (((given.name,), (size,)), ((size,), (given.name,))):
                option = self._butt((), fitting, halves, "join")
                if option and option.picks[0].carries_ma < current_ma:
                    continue
                if option and (best is None or _first(option, best, money=money)):
                    best = option
        return best

    def _mid_air(
        self, counts: Counts, group: tuple[str, ...], kinds: Sequence[str], must_hold: str
    ) -> tuple[GroupOption, ...]:
        found = []
        for fitting in self.stock.fittings:
            if fitting.kind not in kinds:
                continue
            if fitting.kind == "closed end":
                ends = [self.types[name] for name in group]
                if barrel_takes(
                    fitting.barrels[0], ends, self.limits, folded=False, lined=fitting.lined
                ):
                    found.append(self._option(counts, fitting, (group,), folded=(False,)))
            elif fitting.kind == "butt":
                for halves in _halves(group):
                    option = self._butt(counts, fitting, halves, "mid-air")
                    if option:
                        found.append(option)
        return _unbeaten(found)

    def _butt(
        self,
        counts: Counts,
        fitting: FittingType,
        halves: tuple[tuple[str, ...], tuple[str, ...]],
        where: Where,
    ) -> GroupOption | None:
        rows = fitting.barrels if len(fitting.barrels) == 2 else fitting.barrels * 2
        most = most_in_barrel(where, self.limits)
        each_folded = []
        for barrel, half in zip(rows, halves, strict=True):
            ends = [self.types[name] for name in half]
            folded = folds(barrel, ends, self.limits, fitting.lined, most)
            if folded is None:
                return None
            each_folded.append(folded)
        return self._option(counts, fitting, halves, folded=each_folded)

    def _option(
        self,
        counts: Counts,
        fitting: FittingType,
        barrels: tuple[tuple[str, ...], ...],
        *,
        folded: Sequence[bool],
    ) -> GroupOption:
        """One fitting in mid-air; ``folded`` barrel by barrel."""
        limit = fitting.carries_ma or NO_LIMIT_MA
        pick = LugPick(barrels, fitting.name, any(folded), limit)
        rows = fitting.barrels if len(fitting.barrels) == len(barrels) else fitting.barrels * 2
        margin_um2 = sum(
            barrel_margin_um2(row, [self.types[name] for name in half], folds_here)
            for row, half, folds_here in zip(rows, barrels, folded, strict=True)
        )
        money = self.money(fitting, "bench")
        return GroupOption(counts, (pick,), 0, 0, 0, money, sum(folded), margin_um2)


def _with_lug(counts: Counts, lug: GroupOption, tail: GroupOption) -> GroupOption:
    return GroupOption(
        counts=counts,
        picks=tuple(sorted((*lug.picks, *tail.picks))),
        lugs=tail.lugs + lug.lugs,
        tongue_dmm=tail.tongue_dmm + lug.tongue_dmm,
        angle_deg=max(tail.angle_deg, lug.angle_deg),
        money_micro=tail.money_micro + lug.money_micro,
        folds=tail.folds + lug.folds,
        margin_um2=tail.margin_um2 + lug.margin_um2,
    )


def _names(counts: Counts) -> tuple[str, ...]:
    return tuple(name for name, number in counts for _ in range(number))


def _submultisets(counts: Counts, most: int) -> list[tuple[str, ...]]:
    if not counts or most <= 0:
        return [()]
    (name, number), rest = counts[0], counts[1:]
    return [
        (name,) * taken + tail
        for taken in range(min(number, most) + 1)
        for tail in _submultisets(rest, most - taken)
    ]


def _without(counts: Counts, taken: tuple[str, ...]) -> Counts:
    left = [(name, number - taken.count(name)) for name, number in counts]
    return tuple((name, number) for name, number in left if number)


def _halves(group: tuple[str, ...]) -> list[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Every way to lay a multiset of ends into two halves, both used. Rule R19."""
    counts = tuple((name, group.count(name)) for name in sorted(set(group)))
    found = []
    for first in _submultisets(counts, len(group) - 1):
        if first:
            found.append((first, _names(_without(counts, first))))
    return found


Order = tuple[int, int, int, int, int, int, tuple[LugPick, ...]]


def _order(option: GroupOption) -> Order:
    """Fewer lugs, then as equal plans are told apart (rule R28), then names."""
    first, second, third = rank_of_equals(option)
    room = option.tongue_dmm, option.angle_deg
    return (option.lugs, first, second, *room, third, option.picks)


def _first(one: GroupOption, other: GroupOption, *, money: bool) -> bool:
    """Whether one comes before another; by ``money`` first where that is in the objective."""
    if money and one.money_micro != other.money_micro:
        return one.money_micro < other.money_micro
    return _order(one) < _order(other)


def _unbeaten(options: list[GroupOption], *, alike: bool = False) -> tuple[GroupOption, ...]:
    """Drop options that another one beats or equals in every respect, current limits included.

    ``alike``: only one that shares the ends out over barrels in the same way counts as a beater.
    Sorted in ``_order`` each stands behind whatever beats it.
    """
    kept: list[GroupOption] = []
    free: list[GroupOption] = []  # those without any current limit
    shaped: dict[Shape, list[GroupOption]] = defaultdict(list)
    for option in sorted(options, key=_order):
        shape = tuple(pick.barrels for pick in option.picks)
        rivals = chain(shaped[shape], () if alike else free)
        if not any(_as_good(other, option, alike) for other in rivals):
            kept.append(option)
            shaped[shape].append(option)
            if all(pick.carries_ma >= NO_LIMIT_MA for pick in option.picks):
                free.append(option)
    return tuple(kept)


Shape = tuple[tuple[tuple[str, ...], ...], ...]
"""Which ends share which barrels, fitting by fitting."""


def _as_good(other: GroupOption, option: GroupOption, alike: bool) -> bool:
    if (
        other.lugs > option.lugs
        or other.tongue_dmm > option.tongue_dmm
        or other.angle_deg > option.angle_deg
        or other.money_micro > option.money_micro
        or other.fittings > option.fittings
        or other.folds > option.folds
        or rank_of_equals(other) > rank_of_equals(option)
    ):
        return False
    if not alike and all(pick.carries_ma >= NO_LIMIT_MA for pick in other.picks):
        return True
    # With limits in play only like is compared with like: the same ends share the same barrels.
    pairs = zip(other.picks, option.picks, strict=False)
    return len(other.picks) == len(option.picks) and all(
        mine.barrels == theirs.barrels and mine.carries_ma >= theirs.carries_ma
        for mine, theirs in pairs
    )


def lead_type(post: str, area_um2: int, insulation_um: int) -> EndType:
    """The end type of a lead: its own, so that tables of different leads do not mix."""
    return EndType(lead_wire(post), area_um2, insulation_um)
