"""``lugwright patterns``: the instrument library, pattern by pattern, with a drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.cli import options
from lugwright.cli.talk import say

if TYPE_CHECKING:
    from lugwright.scenario.pattern_schema import PatternPart

ANSWER_FORMAT = 1


@click.command("patterns", short_help="List the instrument library: posts, threads, currents.")
@click.argument("name", required=False)
@options.json_option
@options.ends_well
def command(name: str | None, as_json: bool) -> None:
    """List the library's patterns, or show one: hole, body, posts, ways, loads and a drawing.

    Patterns are invented, with the dimensions usual in the trade. Measure the instrument in your
    hand before you drill: `lugwright sheets SCENARIO --only measuring` prints boxes for it.
    """
    from lugwright.scenario.library import find_pattern, pattern_names

    if name is None:
        patterns = {each: _known(each) for each in pattern_names()}
        say(_list_json(patterns) if as_json else _list(patterns))
        return
    pattern = find_pattern(name)
    if pattern is None:
        from lugwright.base.spelling import did_you_mean

        close = did_you_mean(name, list(pattern_names()))
        hint = f"{close} " if close else ""
        hint += f"the patterns are: {', '.join(pattern_names())}"
        raise BadInput(
            Complaint("command line", 0, 0, "NAME", f"there is no pattern {name!r}", hint)
        )
    say(_one_json(name, pattern) if as_json else _one(name, pattern))


def _known(name: str) -> PatternPart:
    from lugwright.scenario.library import find_pattern

    pattern = find_pattern(name)
    if pattern is None:
        raise RuntimeError(f"the library lists {name} and does not hold it")
    return pattern


def _list(patterns: dict[str, PatternPart]) -> str:
    """A line for each pattern."""
    from lugwright.cli.table import table
    from lugwright.scenario.pattern_text import hole_text, post_counts

    rows = [
        (name, hole_text(each), post_counts(each), each.about) for name, each in patterns.items()
    ]
    return table(("pattern", "hole", "posts", "what it is"), rows)


def _one(name: str, pattern: PatternPart) -> str:
    """One pattern as text with its drawing."""
    from lugwright.cli.table import table
    from lugwright.scenario import pattern_text as text

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


def _list_json(patterns: dict[str, PatternPart]) -> str:
    content = {"patterns": [{"name": n, "about": p.about} for n, p in patterns.items()]}
    return options.json_text("patterns", ANSWER_FORMAT, content)


def _one_json(name: str, pattern: PatternPart) -> str:
    content: dict[str, Any] = {
        "name": name,
        "pattern": pattern.model_dump(mode="json", by_alias=True),
    }
    return options.json_text("patterns", ANSWER_FORMAT, content)
