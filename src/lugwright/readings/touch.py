"""Where the tips of a meter go."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from lugwright.plans.panel import PanelPost
from lugwright.readings.feeds import Feed


@dataclass(frozen=True)
class Touch:
    """Names posts for the person with the meter."""

    posts: Mapping[str, PanelPost]

    def words(self, post: str) -> str:
        """A post as a tip reaches it: always the instrument's own metal."""
        kind = self.posts[post].kind
        return post if kind == "stud" else f"{post} ({kind})"

    def feeds(self, feeds: Iterable[Feed]) -> str:
        """Where the volts or ohms of feeds are read."""
        return ", ".join(f"{self.words(one.post)} of {one.circuit}" for one in feeds)
