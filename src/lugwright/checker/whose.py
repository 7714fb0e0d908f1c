"""Whether a plan is one of this console at all: of another it is told in one line."""

from __future__ import annotations

from lugwright.checker.finding import Finding
from lugwright.plans.schema import Plan
from lugwright.scenario.console import Console

HINT = "name the scenario that the plan was made from, or plan this console"


def another_console(console: Console, plan: Plan) -> tuple[Finding, ...]:
    """One finding where the plan is of another console: other title, or mostly other posts.

    A plan of this very scenario file is never taken for another's, whatever its title says.
    """
    stated = plan.inputs.get("scenario") or plan.inputs.get("console")
    if stated and stated == console.digest:
        return ()
    own, there = {post.id for post in console.posts}, {post.id for post in plan.panel.posts}
    if plan.title != console.title:
        message = f'this is a plan of "{plan.title}", the scenario is "{console.title}"; {HINT}'
    elif 2 * len(own & there) < len(own | there):
        message = (
            f"this is a plan of another panel: {len(own & there)} of its {len(there)} posts "
            f"are on this one; {HINT}"
        )
    else:
        return ()
    return (Finding("inputs", "console", message),)
