"""``lugwright patterns``: the instrument library, pattern by pattern, with a drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.cli import options
from lugwright.cli.talk import say

if TYPE_CHECKING:
    pass


@click.command("patterns", short_help="List the instrument library: posts, threads, currents.")
@click.argument("name", required=False)
@options.json_option
@options.ends_well
def command(name: str | None, as_json: bool) -> None:
    """List the library's patterns, or show one: hole, body, posts, ways, loads and a drawing.

    Patterns are invented, with the dimensions usual in the trade. Measure the instrument in your
    hand before you drill: `lugwright sheets SCENARIO --only measuring` prints boxes for it.
    """
    from lugwright.base.spelling import did_you_mean
    from lugwright.cli.answers.patterns import as_list, as_page, known, list_json, one_json
    from lugwright.scenario.library import find_pattern, pattern_names

    if name is None:
        patterns = {each: known(each) for each in pattern_names()}
        say(list_json(patterns) if as_json else as_list(patterns))
        return
    pattern = find_pattern(name)
    if pattern is None:
        close = did_you_mean(name, list(pattern_names()))
        hint = f"{close} " if close else ""
        hint += f"the patterns are: {', '.join(pattern_names())}"
        raise BadInput(
            Complaint("command line", 0, 0, "NAME", f"there is no pattern {name!r}", hint)
        )
    say(one_json(name, pattern) if as_json else as_page(name, pattern))
