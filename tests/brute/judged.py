"""What is judged over several circuits at once: drops, and ground shift."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from brute.given import Given
from brute.setting import Setting
from brute.states import ways_above
from lugwright.scenario.console import BoatBlock, Circuit

Drops = Mapping[str, tuple[int, ...]]  # nV from a circuit's supply to each metal, by state


@dataclass(frozen=True)
class Judged:
    """A load whose drop is judged, in one state in which it is on.

    Its feed's current leaves the panel's wires at ``feed_posts``: at its own post, then at the
    near post of every way above it. ``own_nv`` is its own part and that of the ways' contacts.
    """

    name: str
    state: int
    feed_posts: tuple[str, ...]
    ground_posts: tuple[str, ...]
    own_nv: int
    limit_nv: int

    def posts(self) -> tuple[str, ...]:
        """Where it leaves the panel's wires, on the feed and on the way back."""
        return (*self.feed_posts, *self.ground_posts)


def _path(setting: Setting, feed_post: str, state: int) -> tuple[tuple[str, ...], int]:
    """Where a load's feed leaves the wires, and the drop over the contacts of its ways (nV)."""
    circuit = setting.circuits.get(setting.posts[feed_post].circuit) if feed_post else None
    posts, contacts = [feed_post] if feed_post else [], 0
    for way in ways_above(setting.console, circuit) if circuit else ():
        beyond = setting.circuits[setting.posts[way.far].circuit]
        contacts += way.contact_uohm * setting.total_ma(beyond)[state]
        posts.append(way.near)
    return tuple(posts), contacts


def _way_back(
    setting: Setting, given: Given, ground: str
) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """Where a load's current goes back: by its ground; or by a signal, and where its sender's own
    ground wire comes back to the panel, with what is lost over that wire (nV, by state). Rule R34.
    """
    circuit = setting.circuits.get(setting.posts[ground].circuit) if ground else None
    if circuit is None or circuit.side != "signal" or not circuit.returns_to:
        return ((ground,) if ground else ()), ()
    assert circuit.pigtail is not None
    back, label = circuit.returns_to, circuit.pigtail.label
    blocks = setting.console.boat_blocks
    own = next(each for each in blocks if label.startswith(f"{each.name}: "))
    uohm = given.added_uohm[own.name] + setting.limits.crimp_uohm
    return (ground, back), tuple(uohm * each for each in setting.total_ma(circuit))


def judged_loads(setting: Setting, given: Given) -> tuple[Judged, ...]:
    """Every load, and every block that draws current and is not a sender. Rule R14."""
    console, limits = setting.console, setting.limits
    general = {"critical": limits.drop_critical_permille, "other": limits.drop_other_permille}
    found = []
    for index, one in enumerate(setting.consumers):
        source = (*console.loads, *console.boat_blocks)[index]
        is_block = isinstance(source, BoatBlock)
        if is_block and (source.is_sender or not (one.feed and one.current_ma)):
            continue
        drop_class = source.drop_class
        share = setting.most(f"drop_{drop_class}", one.name, general[drop_class])
        limit = console.nominal_mv * share * 1000
        if not is_block and source.senses:
            continue
        own = given.added_uohm[one.name] * one.current_ma if is_block else 0
        back, over_sender = _way_back(setting, given, one.ground)
        for state, on in enumerate(setting.states):
            if index in on:
                posts, contacts = _path(setting, one.feed, state)
                before = own + contacts + (over_sender[state] if over_sender else 0)
                judged = Judged(one.name, state, posts, back, before, limit)
                found.append(judged)
    return tuple(found)


def post_drop_nv(setting: Setting, post: str, drop_nv: Drops, state: int) -> int:
    """The drop up to a post: to its metal, and over a lead's one crimp.

    At a far post the drop counts from inside its device, before the crimp of its own lead.
    """
    here = setting.posts[post]
    if here.circuit and setting.circuits[here.circuit].supplied_by == post:
        return 0
    crimp = 0
    if here.kind == "lead":
        crimp = setting.limits.crimp_uohm * setting.lead_ma(here)[state]
    return drop_nv[setting.metal(post)][state] + crimp


def own_part_nv(setting: Setting, circuit: Circuit, load: Judged, drop_nv: Drops) -> int:
    """The part of a load's drop that lies in one circuit."""
    inside = [post for post in load.posts() if setting.posts[post].circuit == circuit.name]
    return sum(post_drop_nv(setting, post, drop_nv, load.state) for post in inside)


def dial_ground(setting: Setting, sender: BoatBlock) -> str | None:
    """The ground post of the dial a sender draws from (first by id); None when it has no load."""
    dial = setting.posts[sender.drawn_from].instrument
    loads = setting.console.loads
    grounds = [
        load.ground_post
        for load in loads
        if load.ground_post
        and not load.senses
        and setting.posts[load.ground_post].instrument == dial
    ]
    return min(grounds, default=None)


def shift_holds(setting: Setting, circuit: Circuit, drop_nv: Drops) -> bool:
    """Whether every sender's ground shift over this ground circuit is within its limit.

    Judged with as much on as may be on together. Raises ValueError when dial and sender return
    over two different circuits. Rule R14.
    """
    general_mv = setting.limits.ground_shift_mv
    if general_mv is None:
        return True
    first = len(setting.console.loads)
    for index, sender in enumerate(setting.console.boat_blocks, start=first):
        if not sender.is_sender or not sender.current_ma or not sender.drawn_from:
            continue
        ground = dial_ground(setting, sender)
        if ground is None or setting.posts[ground].circuit != circuit.name:
            continue
        back = sender.returns_to
        if back and setting.posts[back].circuit != circuit.name:
            raise ValueError(f"{sender.name} and its dial return over two circuits")
        limit_mv = setting.most("ground_shift", sender.name, general_mv)
        for state in setting.fullest:
            if index not in setting.states[state]:
                continue
            shift = post_drop_nv(setting, ground, drop_nv, state)
            shift -= post_drop_nv(setting, back, drop_nv, state) if back else 0
            if abs(shift) > limit_mv * 1_000_000:
                return False
    return True
