"""Where an instrument that switches something takes in what it passes on.

A ``load`` post is the far side of a switch: what lands there draws its current from the near post
of the same instrument. Of several feed posts the near one is the one without a load of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from lugwright.scenario.fitting_out import SENDER_FUNCTIONS, Fitted, FittedPost
from lugwright.scenario.supplies import Supply

_NEVER_NEAR = ("lamp", "second", "signal", "load", "ground")


def is_feed(post: FittedPost, supplies: Mapping[str, Supply]) -> bool:
    """True for a post that a feed reaches."""
    return post.circuit in supplies and supplies[post.circuit].side == "feed"


def has_load(instrument: Fitted, post: str) -> bool:
    """True for a post at which a load of the instrument itself takes its current."""
    return any(post == load.feed for load in instrument.pattern.loads)


def switches(instrument: Fitted) -> bool:
    """True for an instrument that has a far side: a post of function ``load`` with a use."""
    return any(post.function == "load" and not post.spare for post in instrument.posts.values())


def near_post(instrument: Fitted, supplies: Mapping[str, Supply]) -> str:
    """Name of the post where a switch takes in what it passes on; "" where nothing feeds it."""
    own = [post for post in instrument.posts.values() if _may_be_near(post)]
    bare = [post for post in own if not has_load(instrument, post.name)]
    fed = [post for post in bare or own if is_feed(post, supplies)]
    fed.sort(key=lambda post: (post.function != "ignition", post.name))
    return fed[0].name if fed else ""


def dial_feed(instrument: Fitted, supplies: Mapping[str, Supply]) -> str:
    """Name of the post where a dial takes in what its sender returns; "" where nothing feeds it."""
    order = {"ignition": 0, "lamp": 2, "second": 2}
    fed = [post for post in instrument.posts.values() if is_feed(post, supplies)]
    fed.sort(key=lambda post: (order.get(post.function, 1), post.name))
    return fed[0].name if fed else ""


def is_ground_post(
    fitted: Iterable[Fitted], supplies: Mapping[str, Supply], post_id: str
) -> bool:
    """True for a post of a ground, by ``instrument.post``: a load's current may come back there."""
    return any(
        instrument.post_id(post.name) == post_id
        and post.circuit in supplies
        and supplies[post.circuit].side == "ground"
        for instrument in fitted
        for post in instrument.posts.values()
    )


def takes_sender(post: FittedPost) -> bool:
    """True for a post on which only a sender's wire may land."""
    return post.function in SENDER_FUNCTIONS and not post.circuit


def _may_be_near(post: FittedPost) -> bool:
    return post.part.function not in _NEVER_NEAR
