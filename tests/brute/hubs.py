"""Where the supplies land: every choice of a landing post for each circuit that has one.

A circuit taken from another has none. A circuit supplied by a way lands on its far post where
that is its only post or the limit ``way_take_off`` is ``any``. Rule R7.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from brute.setting import Setting
from lugwright.scenario.console import Circuit, Post


def others(setting: Setting, circuit: Circuit) -> tuple[str, ...]:
    """The nodes of a circuit besides its far post's: what links and
    straps join counts once, optional ones too."""
    far = setting.node(circuit.supplied_by) if circuit.supplied_by else ""
    return tuple(node for node in setting.nodes(circuit) if node != far)


def lands_anywhere(setting: Setting, circuit: Circuit) -> bool:
    """Whether where a circuit lands has nothing to do with the hub.

    So with one post or none besides its far post, and with what has no hub.
    """
    return has_no_hub(circuit) or len(others(setting, circuit)) < 2


def has_no_hub(circuit: Circuit) -> bool:
    """Whether no hub is asked of a circuit: a stop's, or a signal's whose sender's wire lands on
    any of its posts. Rule R34."""
    return circuit.side in ("stop", "signal")


def on_far_post(setting: Setting, circuit: Circuit) -> bool:
    """Whether the far post of a circuit's way is its landing post."""
    if not circuit.supplied_by:
        return False
    return setting.limits.way_take_off == "any" or not others(setting, circuit)


def landing_posts(setting: Setting, circuit: Circuit) -> list[Post]:
    """Every post a circuit's supply may land on.

    The studs and tabs on instruments that may be the hub, or of the only node; of a stop or a
    signal circuit any post, or the one that its sender's wire is held to.
    """
    if on_far_post(setting, circuit):
        return [setting.posts[circuit.supplied_by]]
    nodes = setting.nodes(circuit)
    posts = [post for node in others(setting, circuit) for post in nodes[node]]
    if has_no_hub(circuit):
        return [post for post in posts if circuit.lands_on in ("", post.id)]
    hubs = {each.name for each in setting.console.instruments if each.hub_candidate}
    alone = lands_anywhere(setting, circuit)
    return [post for post in posts if post.kind != "lead" and (alone or post.instrument in hubs)]


def harness_of(setting: Setting, circuit: Circuit) -> str:
    """The harness a circuit is fed from, over ways and all."""
    here = setting.owner(circuit)
    while here.supplied_by:
        way = setting.console.way_to(here.supplied_by)
        here = setting.owner(setting.circuits[setting.posts[way.near].circuit])
    return here.harness


def hub_names(setting: Setting, owners: list[Circuit]) -> list[str]:
    """The instruments that may be the one hub of these circuits; none where none is needed.

    Where some have a landing post of them all, those; else those that have one of most circuits
    of two posts or more besides far posts.
    """
    counted = [each for each in owners if not lands_anywhere(setting, each)]
    landing = [each for each in owners if not has_no_hub(each) and others(setting, each)]
    may = [each.name for each in setting.console.instruments if each.hub_candidate]

    def most(circuits: list[Circuit]) -> tuple[list[str], int]:
        has = dict.fromkeys(may, 0)
        for circuit in circuits:
            for name in {post.instrument for post in landing_posts(setting, circuit)} & set(may):
                has[name] += 1
        best = max(has.values(), default=0)
        return [name for name, count in has.items() if count == best], best

    with_all, count = most(landing)
    if count == len(landing):
        return with_all if landing else []
    return most(counted)[0] if counted else []


def _on(setting: Setting, circuit: Circuit, hub: str) -> list[Post]:
    """Where a circuit may land with that hub: on it where it can, else anywhere it may."""
    posts = landing_posts(setting, circuit)
    here = [post for post in posts if post.instrument == hub]
    return here if here and not has_no_hub(circuit) else posts


def _with_one_hub(setting: Setting, owners: list[Circuit]) -> Iterator[tuple[Post, ...]]:
    seen = set()
    for hub in hub_names(setting, owners) or [""]:
        for posts in product(*(_on(setting, circuit, hub) for circuit in owners)):
            if posts not in seen:
                seen.add(posts)
                yield posts


def landing(setting: Setting, owners: list[Circuit]) -> list[tuple[Circuit, str]]:
    """What lands: each circuit with a supply of its own, and the harness it is fed from.

    Last the further pigtails of grounds that are joined aboard.
    """
    first = [(circuit, harness_of(setting, circuit)) for circuit in owners]
    return first + [(setting.circuits[each.circuit], each.harness) for each in setting.joined]


def landings(setting: Setting, owners: list[Circuit]) -> Iterator[tuple[Post, ...]]:
    """Every choice of a landing post for each of what lands.

    With one hub, every harness has a hub by itself.
    """
    lands = landing(setting, owners)
    if not setting.limits.one_hub:
        yield from product(*(landing_posts(setting, circuit) for circuit, _ in lands))
        return
    groups = [
        [number for number, (_, own) in enumerate(lands) if own == harness]
        for harness in dict.fromkeys(harness for _, harness in lands)
    ]
    circuits = [[lands[number][0] for number in group] for group in groups]
    for parts in product(*(list(_with_one_hub(setting, group)) for group in circuits)):
        at = {
            number: post
            for group, posts in zip(groups, parts, strict=True)
            for number, post in zip(group, posts, strict=True)
        }
        yield tuple(at[number] for number in range(len(lands)))
