"""``lugwright guide``: the guide's pages, read from the program itself, without a network."""

from __future__ import annotations

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.cli import options
from lugwright.cli.talk import say

ANSWER_FORMAT = 1


@click.command("guide", short_help="Read the guide: rigging, keys, limits, production, Python.")
@click.argument("name", metavar="[TOPIC]", required=False)
@options.json_option
@options.ends_well
def command(name: str | None, as_json: bool) -> None:
    """Print a page of the guide, or without TOPIC the list of pages.

    The pages come with the program and need no network.
    """
    from lugwright.base.spelling import did_you_mean
    from lugwright.cli.table import table
    from lugwright.guide.topics import TOPICS, topic

    if name is None:
        if as_json:
            pages = [{"topic": each.name, "about": each.about} for each in TOPICS]
            say(options.json_text("guide", ANSWER_FORMAT, {"topics": pages}))
        else:
            say(table(("topic", "about"), [(each.name, each.about) for each in TOPICS]))
        return
    try:
        page = topic(name)
    except KeyError:
        names = [each.name for each in TOPICS]
        close = did_you_mean(name, names)
        hint = f"{close} " if close else ""
        hint += f"the pages are: {', '.join(names)}"
        message = f"there is no page {name!r}"
        raise BadInput(Complaint("command line", 0, 0, "TOPIC", message, hint)) from None
    if as_json:
        say(options.json_text("guide", ANSWER_FORMAT, {"topic": page.name, "text": page.text}))
    else:
        say(page.text.rstrip("\n"))
