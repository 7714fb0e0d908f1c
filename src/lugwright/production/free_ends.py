"""What cannot be planned while the ends of leads are still to be chosen."""

from __future__ import annotations

from lugwright.base.errors import BadInput, Complaint
from lugwright.scenario.console import Console
from lugwright.trade.names import lead_wire


def refuse_free_ends(console: Console, what: str) -> None:
    """Raise BadInput where a console has leads with a length: their ends move with each plan."""
    for post in console.posts:
        if post.lead_length_dmm:
            message = f"{what} needs leads whose ends are stated"
            hint = "say where its end is, as the post's place (at, height), and leave length out"
            raise BadInput(Complaint(console.file, 0, 0, lead_wire(post.id), message, hint))
