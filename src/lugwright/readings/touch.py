"""Where the tips of a meter go."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lugwright.plans.panel import PanelPost


@dataclass(frozen=True)
class Touch:
    """Names posts for the person with the meter."""

    posts: Mapping[str, PanelPost]

    def words(self, post: str) -> str:
        """A post as a tip reaches it: always the instrument's own metal."""
        kind = self.posts[post].kind
        return post if kind == "stud" else f"{post} ({kind})"
