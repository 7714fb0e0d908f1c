"""Positions of devices that everybody names alike."""

LANYARD = ("lanyard in", "lanyard out")
"""Positions a kill lanyard adds to its device, free of the device's own; in is at rest."""
