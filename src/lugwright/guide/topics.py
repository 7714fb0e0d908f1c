"""The pages of the guide by name."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

_FOLDER = Path(__file__).parent


@dataclass(frozen=True)
class Topic:
    """One page: its name on the command line, and what it is about."""

    name: str
    about: str

    @property
    def text(self) -> str:
        """The page, as Markdown."""
        return (_FOLDER / f"{self.name}.md").read_text(encoding="utf-8")


TOPICS: tuple[Topic, ...] = (
    Topic("rigger", "from the measuring sheet to key-on: one console, step by step"),
    Topic("scenario-file", "what stands in a console's file, key by key"),
    Topic("limits", "every limit, what it is about, and its value in each rule set"),
    Topic("shop", "one set of limits for the whole shop: locks, ranges, waivers, stock tables"),
    Topic("production", "many boats of one console: kits, spools, families, revisions, rework"),
    Topic("other-files", "the other files the program reads and writes, column by column"),
    Topic("engineers", "the same from Python: read, plan, tables, wiring, a limit swept"),
)


def topic(name: str) -> Topic:
    """The page of that name. Raises KeyError for a name that is none."""
    for each in TOPICS:
        if each.name == name:
            return each
    raise KeyError(name)
