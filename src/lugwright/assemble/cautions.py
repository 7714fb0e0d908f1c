"""The cautions every sheet carries. Common practice, no source, unless a line says otherwise."""

from __future__ import annotations

from lugwright.scenario.console import Console

ALWAYS = (
    "Disconnect the battery before any wire is touched.",
    "Fuel vapour explodes: no flame near it, and keep the hot-air tool well away from vapour.",
    "Where petrol is near, everything fitted must be protected against igniting its vapour.",
    "Every feed is fused at its source. A fuse too big for the smallest wire protects nothing.",
    "Keep wires and instruments clear of the compass, and swing the compass afterwards.",
    "Posts fed by senders never take power.",
    "The instrument maker's torque governs. None is printed here: posts are soft and break.",
    "Local rules govern, and work on mains or shore power is for a licensed electrician.",
)


def cautions_for(console: Console, practice: str) -> tuple[str, ...]:
    """The cautions of a plan: those of its panel, then the rule set it was planned under."""
    return (*cautions_before(console), f"Planned under the rule set: {practice}.")


def cautions_before(console: Console) -> tuple[str, ...]:
    """The fixed cautions, then what this panel adds; nothing needs to be planned for them."""
    found = list(ALWAYS)
    live_pigtails = sorted(item.label for item in console.unused_pigtails if item.live)
    if live_pigtails:
        found.append(f"Live even when unused: {', '.join(live_pigtails)}. Cap these first.")
    live_posts = sorted(post.id for post in console.posts if post.live)
    if live_posts:
        found.append(f"Live with the key off: {', '.join(live_posts)}. A boot covers each stud.")
    return tuple(found)
