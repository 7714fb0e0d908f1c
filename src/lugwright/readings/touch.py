"""Where the tips of a meter go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lugwright.plans.panel import PanelPost
from lugwright.readings.feeds import Feed

FEW = 2  # feeds told with their circuits; more make a line too long to work from


@dataclass(frozen=True)
class Touch:
    """Names posts for the person with the meter."""

    posts: Mapping[str, PanelPost]

    def words(self, post: str) -> str:
        """A post as a tip reaches it: always the instrument's own metal."""
        kind = self.posts[post].kind
        return post if kind == "stud" else f"{post} ({kind})"

    def feeds(self, feeds: Sequence[Feed]) -> str:
        """Where the volts or ohms of feeds are read; of many only the posts."""
        if len(feeds) > FEW:
            return ", ".join(one.post for one in feeds)
        return ", ".join(f"{self.words(one.post)} of {one.circuit}" for one in feeds)
