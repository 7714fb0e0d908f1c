"""What is seen at the fuses and the key: ratings, what each fuse feeds, what the key turns off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lugwright.base.scale import amps_text
from lugwright.plans.schema import Plan
from lugwright.readings.feeds import behind_fuse, is_keyed, landed, loads_of
from lugwright.readings.schema import Line, Part
from lugwright.readings.wiring import Load, Wiring


def before_lines(plan: Plan) -> Iterator[Line]:
    """The rating of each fuse, read from the fuse itself."""
    for fuse in plan.panel.fuses:
        rating = amps_text(fuse.fuse_ma)
        yield _seen("fuse", fuse.wire, f"its fuse says {rating} A: read aloud from the fuse itself")


def pulled_lines(plan: Plan, wiring: Wiring) -> Iterator[Line]:
    """Each fuse by itself; the key; and what a qualified person sees with the engine running."""
    for fuse in plan.panel.fuses:
        dead = _names(plan, wiring, behind_fuse(plan, wiring, fuse.wire))
        if dead:
            yield _seen("pulled", fuse.wire, f"its fuse pulled, all others in: {dead}")
    keyed = [one.circuit for one in landed(plan, "feed") if is_keyed(plan, one.circuit)]
    for feed in keyed:
        dead = _names(plan, wiring, loads_of(plan, wiring, feed))
        yield _seen("key off", "key off", dead or f"nothing of {feed} is live")
    if keyed:
        yield _seen(
            "engine", "the engine",
            f"started, then key off: it stops; nothing stays live after key off{_not_keyed(plan)}",
        )  # fmt: skip


def _not_keyed(plan: Plan) -> str:
    """Feeds that the key does not switch."""
    others = [one.circuit for one in landed(plan, "feed") if not is_keyed(plan, one.circuit)]
    return f" but {', '.join(others)}, which the key does not switch" if others else ""


def _seen(part: Part, at: str, what: str) -> Line:
    return Line("", part, "", "", "", "", at, "yes or no", what=what)


def _names(plan: Plan, wiring: Wiring, loads: Iterable[Load]) -> str:
    """What dies, and that nothing else does: a whole instrument by its name, else load by load."""
    instruments = {post.id: post.instrument for post in plan.panel.posts}
    senders = {one.name for one in plan.panel.boat_blocks if one.is_sender}

    def home(load: Load) -> str:
        return load.name if load.outside else instruments[load.a.removeprefix("post ")]

    real = [one for one in wiring.loads if one.current_ma and one.share == 1]
    gone = {load.name for load in loads} - senders
    lives = {home(load) for load in real if load.name not in gone}
    told = sorted({
        load.name if home(load) in lives else home(load) for load in real if load.name in gone
    })  # fmt: skip
    if not told:
        return ""
    listed = told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"
    return f"{listed} {'dies' if len(told) == 1 else 'die'}, nothing else does"
