"""The cautions of every sheet, word for word, kept here and nowhere else.

Common practice, no source, unless a line says otherwise. What one panel adds to them stands in
``assemble.cautions``.
"""

from __future__ import annotations

GOVERNED = "Local rules and a licensed electrician govern over anything on this sheet."

ALWAYS = (
    "Disconnect every battery and the shore charger before any wire is touched: negative off "
    "first and on last.",
    "Never disconnect a battery or the alternator while the engine runs.",
    "Fuel vapour explodes: no flame near it, and keep the hot-air tool well away from vapour.",
    "Where petrol is near: blower first and sniff; everything fitted must be protected against "
    "igniting its vapour.",
    "Every feed is fused at its source. A fuse too big for the smallest wire protects nothing.",
    "Posts fed by senders never take power.",
    "While the engine can turn: no meter on ohms and no hand on a stop wire.",
    "No AC behind this panel.",
    "Keep wires and instruments clear of the compass, and swing the compass afterwards.",
    "The instrument maker's torque governs. None is printed here: posts are soft and break.",
    GOVERNED,
)

# What stands on every page of a printed sheet whose cautions are on its first.
ON_PAGE_1 = "Battery disconnected? Cautions: see page 1."
ON_FIRST_PAGES = "Battery disconnected? Cautions: see page 1 of each boat."
