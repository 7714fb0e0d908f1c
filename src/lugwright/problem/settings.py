"""How the search is set, stated once: a plan says it, and the same input gives the same plan."""

from __future__ import annotations

SEED = 7
SETTINGS = f"CP-SAT, one worker a solve, seed {SEED}"
