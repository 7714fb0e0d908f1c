"""Feed to ground on ohms: what may stay in place, and when an ohmmeter cannot tell a short.

Loads stay where they are as long as even a sound panel reads more than a short would. Where it
does not, what can come out comes out: push-ons, and fuses of leads. What is crimped on a stud
stays on it. Where that is not enough, first power through the lamp tells.
"""

from __future__ import annotations

from collections.abc import Sequence

from lugwright.plans.schema import Landing, Plan
from lugwright.readings.bands import Bands
from lugwright.readings.feeds import Feed, fed_posts, feeds_of, landed, lead_fuses, loads_of
from lugwright.readings.schema import Line
from lugwright.readings.settings import Devices
from lugwright.readings.touch import Touch
from lugwright.readings.wiring import Load, Wiring, post_node


def rest_lines(plan: Plan, wiring: Wiring, bands: Bands) -> tuple[list[Line], tuple[str, ...]]:
    """A line for every feed and ground, and the feeds that ohms say nothing of."""
    maker = _Rest(plan, wiring, bands)
    lines: list[Line] = []
    untold: list[str] = []
    for feed in feeds_of(plan):
        for ground in landed(plan, "ground"):
            line = maker.line(feed, ground)
            if line:
                lines.append(line)
            elif feed.circuit not in untold:
                untold.append(feed.circuit)
    return lines, tuple(untold)


class _Rest:
    """Tries with everything in place, then with what can come out."""

    def __init__(self, plan: Plan, wiring: Wiring, bands: Bands) -> None:
        self.plan, self.wiring, self.bands = plan, wiring, bands
        self.posts = {post.id: post for post in plan.panel.posts}
        self.touch = Touch(self.posts)
        self.closed = Devices(plan.panel).apart

    def line(self, feed: Feed, ground: Landing) -> Line | None:
        """The line between two landing posts; None where ohms cannot tell."""
        short = self._short_mohm(feed, ground)
        loads = [load for load in self.wiring.loads if not load.outside]
        out = self._can_come_out(feed.circuit)
        for gone in ((), out):
            kept = [load for load in loads if load not in gone]
            ends = post_node(feed.post), post_node(ground.post)
            low = self.bands.rest_mohm(*ends, kept, self.closed)
            if low > short:
                return self._made(feed, ground, low, self._words(gone))
        return None

    def _made(self, feed: Feed, ground: Landing, low: int, what: str) -> Line:
        return Line(
            "", "feed to ground", feed.circuit, post_node(feed.post), post_node(ground.post),
            self.touch.words(feed.post), self.touch.words(ground.post), "ohm", low, None,
            what=what, closed=self.closed,
        )  # fmt: skip

    def _short_mohm(self, feed: Feed, ground: Landing) -> int:
        """The most a meter may read with a dead short between any two posts of the two, mΩ."""
        total = 0
        for landing in (feed, ground):
            start = post_node(landing.post)
            ways = (
                self.bands.path_mohm(start, post_node(post), self.closed)
                for post in fed_posts(self.plan, landing.circuit)
            )
            total += max((way for way in ways if way is not None), default=0)
        return total

    def _can_come_out(self, feed: str) -> Sequence[Load]:
        """Loads of a feed that a push-on or a fuse of their own takes out."""
        fused = lead_fuses(self.plan)
        found = []
        for load in loads_of(self.plan, self.wiring, feed):
            post = load.a.removeprefix("post ")
            if not load.outside and (self.posts[post].kind == "tab" or post in fused):
                found.append(load)
        return found

    def _words(self, gone: Sequence[Load]) -> str:
        """What to take out first; put back after the last of these lines."""
        posts = sorted({load.a.removeprefix("post ") for load in gone})
        tabs = [post for post in posts if self.posts[post].kind == "tab"]
        fuses = [post for post in posts if post not in tabs]
        told = [f"push-ons off {', '.join(tabs)}"] if tabs else []
        told += [f"fuses of the leads {', '.join(fuses)} out"] if fuses else []
        return "; ".join(told)
