"""What is judged over several circuits at once: drops, and ground shift."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from brute.given import Given
from brute.setting import Setting
from lugwright.scenario.console import Arrival, Circuit


@dataclass(frozen=True)
class Judged:
    """A load whose drop is judged: where it draws and returns, its own part, its limit."""

    name: str
    feed_post: str
    ground_post: str
    own_nv: int
    limit_nv: int


def judged_loads(setting: Setting, given: Given) -> tuple[Judged, ...]:
    """Every load, and every arrival that draws current and is not a sender."""
    console, limits = setting.console, setting.limits
    general = {"critical": limits.drop_critical_permille, "other": limits.drop_other_permille}

    def allowed(name: str, drop_class: str) -> int:
        share = setting.most(f"drop_{drop_class}", name, general[drop_class])
        return console.nominal_mv * share * 1000

    found = []
    for load in console.loads:
        limit = allowed(load.name, load.drop_class)
        found.append(Judged(load.name, load.feed_post, load.ground_post, 0, limit))
    for arrival in console.arrivals:
        if not arrival.is_sender and arrival.drawn_from and arrival.current_ma:
            limit = allowed(arrival.name, arrival.drop_class)
            own = given.added_uohm[arrival.name] * arrival.current_ma
            where = (arrival.drawn_from, arrival.returns_to)
            found.append(Judged(arrival.name, *where, own, limit))
    return tuple(found)


def post_drop_nv(setting: Setting, post: str, drop_nv: Mapping[str, int]) -> int:
    """The drop up to a post: to its node, and over a lead's one crimp."""
    crimp = 0
    if setting.posts[post].kind == "lead":
        crimp = setting.limits.crimp_uohm * setting.demand_ma(post)
    return drop_nv[setting.node(post)] + crimp


def own_part_nv(
    setting: Setting, circuit: Circuit, load: Judged, drop_nv: Mapping[str, int]
) -> int:
    """The part of a load's drop that lies in one circuit."""
    ends = (load.feed_post, load.ground_post)
    inside = [post for post in ends if post and setting.posts[post].circuit == circuit.name]
    return sum(post_drop_nv(setting, post, drop_nv) for post in inside)


def dial_ground(setting: Setting, sender: Arrival) -> str | None:
    """The ground post of the dial a sender draws from (first by id); None when it has no load."""
    dial = setting.posts[sender.drawn_from].instrument
    loads = setting.console.loads
    grounds = [
        load.ground_post
        for load in loads
        if load.ground_post and setting.posts[load.ground_post].instrument == dial
    ]
    return min(grounds, default=None)


def shift_holds(setting: Setting, circuit: Circuit, drop_nv: Mapping[str, int]) -> bool:
    """Whether every sender's ground shift over this ground circuit is within its limit.

    Raises ValueError when dial and sender return over two different circuits.
    """
    general_mv = setting.limits.ground_shift_mv
    if general_mv is None:
        return True
    for sender in setting.console.arrivals:
        if not sender.is_sender or not sender.current_ma or not sender.drawn_from:
            continue
        ground = dial_ground(setting, sender)
        if ground is None or setting.posts[ground].circuit != circuit.name:
            continue
        shift = post_drop_nv(setting, ground, drop_nv)
        if sender.returns_to:
            if setting.posts[sender.returns_to].circuit != circuit.name:
                raise ValueError(f"{sender.name} and its dial return over two circuits")
            shift -= post_drop_nv(setting, sender.returns_to, drop_nv)
        limit_mv = setting.most("ground_shift", sender.name, general_mv)
        if abs(shift) > limit_mv * 1_000_000:
            return False
    return True
