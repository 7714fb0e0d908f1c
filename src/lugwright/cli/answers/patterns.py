"""What ``lugwright patterns`` answers: the list, and one pattern with its drawing."""

from __future__ import annotations

from typing import Any

from lugwright.cli import options
from lugwright.cli.table import table
from lugwright.scenario import pattern_text as text
from lugwright.scenario.library import find_pattern
from lugwright.scenario.pattern_schema import PatternPart
from lugwright.scenario.pattern_text import hole_text, post_counts

ANSWER_FORMAT = 1


def known(name: str) -> PatternPart:
    """A pattern the library lists."""
    pattern = find_pattern(name)
    if pattern is None:
        raise RuntimeError(f"the library lists {name} and does not hold it")
    return pattern


def as_list(patterns: dict[str, PatternPart]) -> str:
    """A line for each pattern."""
    rows = [
        (name, hole_text(each), post_counts(each), each.about) for name, each in patterns.items()
    ]
    return table(("pattern", "hole", "posts", "what it is"), rows)


def as_page(name: str, pattern: PatternPart) -> str:
    """One pattern as text with its drawing."""
    posts = table(
        ("post", "kind", "function", "at, mm, from the back", "height, mm", "size", "carries"),
        text.post_rows(pattern),
    )
    parts = [f"{name}: {pattern.about}", *text.body_lines(pattern), "", posts]
    ways = text.way_rows(pattern)
    if ways:
        parts += ["", table(("way", "from", "to", "closed", "carries"), ways)]
    loads = text.load_rows(pattern)
    if loads:
        parts += ["", table(("load", "from", "to", "amps", "drop class"), loads)]
    return "\n".join([*parts, "", *text.drawing(pattern), "", text.INVENTED])


def list_json(patterns: dict[str, PatternPart]) -> str:
    """The list as data."""
    content = {"patterns": [{"name": n, "about": p.about} for n, p in patterns.items()]}
    return options.json_text("patterns", ANSWER_FORMAT, content)


def one_json(name: str, pattern: PatternPart) -> str:
    """One pattern as data."""
    own = pattern.model_dump(mode="json", by_alias=True)
    content: dict[str, Any] = {"name": name, "pattern": own}
    return options.json_text("patterns", ANSWER_FORMAT, content)
