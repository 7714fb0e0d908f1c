"""Random consoles whose leads have a length, as the file has them: where the planner plans them."""

from __future__ import annotations

from dataclasses import replace

from brute.case import Case
from brute.random_statements import with_free_leads


def with_lengths(case: Case) -> Case | None:
    """The case with its leads' ends free, in its console too; None where the file refuses that.

    So it does over a loom, at the ends of ways, where anything from outside lands, and on signal
    and stop circuits.
    """
    console = case.console
    found = None if console.tie_points else with_free_leads(case)
    if found is None:
        return None
    lengths = {lead.post: lead.length_dmm for lead in found.more.free_leads}
    kept = {wire.lands_on for block in console.boat_blocks for wire in block.wires}
    kept |= {end for way in console.ways for end in (way.near, way.far)}
    kept |= {p for one in console.circuits if one.side in ("signal", "stop") for p in one.posts}
    if kept & lengths.keys():
        return None
    posts = tuple(
        replace(post, lead_length_dmm=lengths.get(post.id, 0)) for post in found.console.posts
    )
    return replace(found, console=replace(found.console, posts=posts))
