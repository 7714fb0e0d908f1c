"""What is judged over several circuits at once: drops, and ground shift."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from brute.given import Given
from brute.setting import Setting
from lugwright.scenario.console import BoatBlock, Circuit


@dataclass(frozen=True)
class Judged:
    """A load whose drop is judged: where it draws and returns, its own part, its limit."""

    name: str
    feed_post: str
    ground_post: str
    own_nv: int
    limit_nv: int


def judged_loads(setting: Setting, given: Given) -> tuple[Judged, ...]:
    """Every load, and every block that draws current and is not a sender. Rule R14."""
    console, limits = setting.console, setting.limits
    general = {"critical": limits.drop_critical_permille, "other": limits.drop_other_permille}

    def allowed(name: str, drop_class: str) -> int:
        share = setting.most(f"drop_{drop_class}", name, general[drop_class])
        return console.nominal_mv * share * 1000

    found = []
    for load in console.loads:
        limit = allowed(load.name, load.drop_class)
        found.append(Judged(load.name, load.feed_post, load.ground_post, 0, limit))
    for boat_block in console.boat_blocks:
        if not boat_block.is_sender and boat_block.drawn_from and boat_block.current_ma:
            limit = allowed(boat_block.name, boat_block.drop_class)
            own = given.added_uohm[boat_block.name] * boat_block.current_ma
            where = (boat_block.drawn_from, boat_block.returns_to)
            found.append(Judged(boat_block.name, *where, own, limit))
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


def dial_ground(setting: Setting, sender: BoatBlock) -> str | None:
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

    Raises ValueError when dial and sender return over two different circuits. Rule R14.
    """
    general_mv = setting.limits.ground_shift_mv
    if general_mv is None:
        return True
    for sender in setting.console.boat_blocks:
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
