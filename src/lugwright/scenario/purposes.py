"""Every post on a feed has a purpose: what has none may be one side of a switch or a fuse.

A key, a light switch, a fuse block or a dimmer written as bare posts would be jumped past: posts
of one circuit are joined by wire, and a circuit taken from another starts there. So a post on a
feed is a load's, an end of a way, one piece of metal with others (``link``), the near side of a
switch whose far side is a ``load`` post, or has a wire from the boat on it; else the file says
``spare``. What an own drawing states as ways is taken at its word, its other posts are not. And an
instrument with a bare post beside another post that the same supply feeds is refused: the wire
between the two would pass round whatever stands between them. So is an own drawing with two ground
posts that no metal joins, one of them without a load: a switch in the ground looks just so.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from lugwright.base.errors import Complaint
from lugwright.base.toml import KeyPath
from lugwright.scenario.complaints import NOT_SAYABLE
from lugwright.scenario.device_words import named_as_device, says_device, says_lanyard
from lugwright.scenario.devices import ends_of, has_bad_ends, is_device
from lugwright.scenario.draft import Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted, FittedPost
from lugwright.scenario.left_out import LEFT_OUT
from lugwright.scenario.near_posts import has_load, is_feed, near_post, switches
from lugwright.scenario.pattern_schema import SPARE
from lugwright.scenario.supplies import Supply


@dataclass(frozen=True)
class _Node:
    """Posts of an instrument that are one piece of metal, or one post; all on one feed."""

    posts: tuple[FittedPost, ...]
    root: str
    is_loaded: bool
    is_near: bool
    is_way: bool
    has_wire: bool

    @property
    def is_linked(self) -> bool:
        return bool(self.posts[0].metal)

    @property
    def is_bar(self) -> bool:
        return len(self.posts) > 1

    @property
    def is_bare(self) -> bool:
        """Nothing of the instrument itself takes current there."""
        return not (self.is_loaded or self.is_near or self.is_way)

    @property
    def has_purpose(self) -> bool:
        return not self.is_bare or self.is_linked or self.has_wire


def purpose_faults(
    draft: Draft, fitted: list[Fitted], supplies: Mapping[str, Supply], loads: Collection[str]
) -> list[Complaint]:
    """Every post on a feed that has no purpose, and every device that would be passed round.

    ``loads`` are the posts on which loads' pigtails land. Rule R32.
    """
    landed = {*loads, *(wire.lands_on for part in draft.part.boat_wires for wire in part.wires)}
    complaints: list[Complaint] = []
    for instrument in fitted:
        nodes = _nodes(instrument, supplies, landed)
        passed = list(_passed_round(draft, instrument, nodes))
        complaints += passed or _without_purpose(draft, instrument, nodes)
        complaints += _passed_round_on_ground(draft, instrument, supplies)
        complaints += _stops_an_engine(draft, instrument, supplies)
        if not draft.lost.boat_blocks:
            complaints += _switches_nothing(draft, instrument, landed)
    return complaints


def post_path(draft: Draft, instrument: Fitted, post: str) -> KeyPath:
    """Where the file says what a post is: under feeds, in its own drawing, or its name."""
    part = instrument.part
    if post in part.feeds:
        return draft.path(INSTRUMENTS, instrument.index, "feeds", post)
    if part.geometry is not None:
        return draft.path(INSTRUMENTS, instrument.index, "geometry", "posts", post)
    return draft.path(INSTRUMENTS, instrument.index, "name")


def _nodes(
    instrument: Fitted, supplies: Mapping[str, Supply], landed: set[str]
) -> tuple[_Node, ...]:
    near = near_post(instrument, supplies) if switches(instrument) else ""
    ends = ends_of(instrument)
    groups: dict[tuple[bool, str], list[FittedPost]] = {}
    for post in instrument.posts.values():
        if is_feed(post, supplies):
            groups.setdefault((bool(post.metal), post.metal or post.name), []).append(post)
    found = []
    for posts in groups.values():
        supply = supplies[posts[0].circuit]
        found.append(
            _Node(
                tuple(posts),
                supply.taken_from or supply.name,
                any(has_load(instrument, post.name) for post in posts),
                any(post.name == near for post in posts),
                any(post.name in ends for post in posts),
                any(instrument.post_id(post.name) in landed for post in posts),
            )
        )
    return tuple(found)


def _passed_round(
    draft: Draft, instrument: Fitted, nodes: tuple[_Node, ...]
) -> Iterator[Complaint]:
    """Bare posts beside others of the same supply, or beside other bare posts."""
    is_named = named_as_device(instrument)
    for node in nodes:
        others = [other for other in nodes if other is not node]
        beside = [other for other in others if other.root == node.root or _is_side(other)]
        if node.is_bare:
            is_fault = bool(beside) and not (node.is_bar and instrument.part.geometry is None)
            is_fault |= is_named and (node.is_linked or node.has_wire)
            is_fault |= _feeds_a_sender(instrument, node)
            is_fault |= is_device(instrument) and not has_bad_ends(instrument)
        else:
            is_fault = any(_both_sides(instrument, node, other) for other in beside)
        if is_fault:
            yield _complaint(draft, instrument, node, beside)


def _passed_round_on_ground(
    draft: Draft, instrument: Fitted, supplies: Mapping[str, Supply]
) -> Iterator[Complaint]:
    """Ground posts of an own drawing that no metal joins, one of which is no load's return."""
    if instrument.part.geometry is None:
        return
    returns = {load.ground for load in instrument.pattern.loads}
    sides: dict[str, dict[str, list[FittedPost]]] = {}
    for post in instrument.posts.values():
        if post.circuit in supplies and supplies[post.circuit].side == "ground":
            metal = f"link {post.metal}" if post.metal else post.name
            sides.setdefault(post.circuit, {}).setdefault(metal, []).append(post)
    for circuit, metals in sides.items():
        bare = [
            posts[0]
            for posts in metals.values()
            if named_as_device(instrument)
            or not any(post.name in (*returns, *ends_of(instrument)) for post in posts)
        ]
        if len(metals) > 1 and bare:
            other = next(p[0] for p in metals.values() if p[0] is not bare[0])
            message = (
                f'posts "{bare[0].name}" and "{other.name}" are both on circuit "{circuit}", and '
                "no metal joins them: wires of this plan would pass round what is between them"
            )
            path = post_path(draft, instrument, bare[0].name)
            yield draft.complain(path, message, NOT_SAYABLE)


def _stops_an_engine(
    draft: Draft, instrument: Fitted, supplies: Mapping[str, Supply]
) -> Iterator[Complaint]:
    """An own drawing called a kill switch or lanyard that takes power: it may ground a magneto."""
    if instrument.part.geometry is None or is_device(instrument):
        return
    if not says_lanyard(instrument.name):
        return
    for post in instrument.posts.values():
        if is_feed(post, supplies) or (post.function == "load" and not post.spare):
            message = (
                f'"{instrument.name}" stops an engine, and post "{post.name}" takes or passes on '
                "power: a stop circuit meets no feed, and cannot be said here by posts alone"
            )
            path = post_path(draft, instrument, post.name)
            yield draft.complain(path, message, NOT_SAYABLE)
            return


def _feeds_a_sender(instrument: Fitted, node: _Node) -> bool:
    """A signal post of the library put on a feed: power on a sender's post on somebody's word."""
    return instrument.part.geometry is None and node.posts[0].part.function == "signal"


def _both_sides(instrument: Fitted, node: _Node, other: _Node) -> bool:
    """Two posts with loads of something called a switch: loads do not make it a dial."""
    own_lamp = any(one.posts[0].part.function == "lamp" for one in (node, other))
    is_named = instrument.part.geometry is not None and says_device(instrument.name)
    return (
        is_named
        and not own_lamp
        and not (node.is_near or other.is_near)
        and not node.is_way
    )


def _is_side(node: _Node) -> bool:
    return node.is_bare and not node.is_bar


def _complaint(draft: Draft, instrument: Fitted, node: _Node, beside: list[_Node]) -> Complaint:
    post = node.posts[0]
    message = f'post "{post.name}" takes nothing from circuit "{post.circuit}" itself'
    if instrument.part.geometry is None:
        message += ", as this pattern has it"
        hint = (
            "a dial whose leaflet wants power there is drawn under geometry, with a load of its "
            f'own that takes it; where no wire goes to it, feeds = {{ {post.name} = "{SPARE}" }}'
        )
        return draft.complain(post_path(draft, instrument, post.name), message, hint)
    if is_device(instrument):
        message = (
            f'no way begins or ends at post "{post.name}" (circuit "{post.circuit}"): what stands '
            "between it and the others?"
        )
    elif beside:
        other = beside[0].posts[0]
        message += (
            f', and post "{other.name}" (circuit "{other.circuit}") stands beside it: wires of '
            "this plan would pass round what is between them"
        )
    else:
        message += ", and its words say that it switches, protects or sets what passes"
    return draft.complain(post_path(draft, instrument, post.name), message, NOT_SAYABLE)


def _without_purpose(
    draft: Draft, instrument: Fitted, nodes: tuple[_Node, ...]
) -> Iterator[Complaint]:
    if draft.lost.boat_blocks or has_bad_ends(instrument):
        return  # what lands there may have been left out
    for node in nodes:
        if node.has_purpose:
            continue
        post = node.posts[0]
        message = (
            f'what is post "{post.name}" for? It is on circuit "{post.circuit}" and has no load'
        )
        hint = (
            f"allowed: a load that takes its current there; a wire under [[boat_wires]] that "
            f"lands on it; link (metal of one bar, or a lone junction stud); "
            f'feeds = {{ {post.name} = "{SPARE}" }} where no wire goes to it; '
            f"{NOT_SAYABLE}"
        )
        if named_as_device(instrument):
            hint = NOT_SAYABLE
        yield draft.complain(post_path(draft, instrument, post.name), message, hint)


def _switches_nothing(draft: Draft, instrument: Fitted, landed: set[str]) -> Iterator[Complaint]:
    """Far posts on which nothing lands: what they are thought to switch has power already."""
    for post in instrument.posts.values():
        post_id = instrument.post_id(post.name)
        is_stated = post.name in instrument.part.feeds
        if post.function != "load" or is_stated or post_id in landed:
            continue
        message = f'what does post "{post.name}" switch? No wire from the boat lands on it'
        hint = (
            f'a wire under [[boat_wires]] with lands_on = "{post_id}"; where no wire goes to it, '
            f'feeds = {{ {post.name} = "{SPARE}" }}; where it switches what this plan wires: '
            f"{LEFT_OUT}"
        )
        yield draft.complain(post_path(draft, instrument, post.name), message, hint)
