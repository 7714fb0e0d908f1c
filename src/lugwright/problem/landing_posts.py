"""Where a circuit's supply may land: the posts, and the instruments that may be its hub.

A pigtail lands on a stud or tab of an instrument that may be the hub. What a way supplies lands
there by the one jumper that leaves its far post; or on the far post itself, where that is its
only post or the limit ``way_take_off`` says so. A circuit with one post besides its far post lands
there, whatever the hub. A stop circuit's pigtail and a sender's wire land on any post of their
circuit, a lead too, unless the file holds them to one. Rule R7.
"""

from __future__ import annotations

from lugwright.base.identity import JointId
from lugwright.limits.schema import Limits
from lugwright.scenario.console import Circuit, Console, Post
from lugwright.trade.hubs import NO_HUB


def posts_besides(console: Console, circuit: Circuit) -> dict[str, list[Post]]:
    """A circuit's posts by the piece of metal they are, but for that of its far post."""
    groups: dict[str, list[Post]] = {}
    for post_id in circuit.posts:
        post = console.post(post_id)
        groups.setdefault(post.node, []).append(post)
    if circuit.supplied_by:
        groups.pop(console.post(circuit.supplied_by).node, None)
    return groups


def lands_on_far_post(console: Console, limits: Limits, circuit: Circuit) -> bool:
    """Whether what a way supplies lands on its far post, and no one jumper has to leave it."""
    if not circuit.supplied_by:
        return False
    return limits.way_take_off == "any" or not posts_besides(console, circuit)


def possible_posts(console: Console, limits: Limits, circuit: Circuit) -> tuple[JointId, ...]:
    """Posts that a circuit's supply may land on, before any other limit, in the file's order."""
    if circuit.taken_from:
        return ()
    if lands_on_far_post(console, limits, circuit):
        return (circuit.supplied_by,)
    if circuit.lands_on:
        return (circuit.lands_on,)
    if circuit.side in NO_HUB:
        return circuit.posts
    besides = posts_besides(console, circuit)
    landed = [post for posts in besides.values() for post in posts if post.kind != "lead"]
    if len(besides) > 1:
        may = _may_be_hub(console)
        landed = [post for post in landed if post.instrument in may]
    found = {post.id for post in landed}
    return tuple(post for post in circuit.posts if post in found)


def hubs_of(console: Console, limits: Limits, circuit: Circuit) -> frozenset[str]:
    """Instruments that may be the hub and have a possible landing post of a circuit.

    None where there is nothing to land: a circuit that is a far post and no more has no hub. Nor
    has a stop or signal circuit: its pigtail lands on any of its posts.
    """
    if circuit.side in NO_HUB or (circuit.supplied_by and not posts_besides(console, circuit)):
        return frozenset()
    landed = possible_posts(console, limits, circuit)
    return _may_be_hub(console) & {console.post(post).instrument for post in landed}


def _may_be_hub(console: Console) -> frozenset[str]:
    return frozenset(each.name for each in console.instruments if each.hub_candidate)
