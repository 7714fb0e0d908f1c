"""Pegs of the build board: what to drill at each post.

A stud gets a peg as thick as the stud itself, so that its own lugs go over it; a tab, a lead and a
splice get a panel pin (common practice, no source).
"""

from __future__ import annotations

import re
from fractions import Fraction

from lugwright.base.scale import mm_text
from lugwright.plans.panel import PanelPost

PIN_DMM = 20
# Major diameter of a numbered inch screw: 0.060 in + 0.013 in a number (ASME B1.1).
_NUMBERED = re.compile(r"#(\d+)-\d+")
_INCH = re.compile(r"(\d+)/(\d+)-\d+")
# An ISO metric thread is named by its major diameter (ISO 261).
_METRIC = re.compile(r"M(\d+(?:\.\d+)?)")
_DMM_PER_IN = 254


def thread_dmm(thread: str) -> int:
    """Major diameter of a thread by its name, 0.1 mm, rounded down; 0 for a name unknown here."""
    if numbered := _NUMBERED.match(thread):
        return int((60 + 13 * int(numbered[1])) * Fraction(_DMM_PER_IN, 1000))
    if inch := _INCH.match(thread):
        return int(Fraction(int(inch[1]), int(inch[2]) or 1) * _DMM_PER_IN)
    if metric := _METRIC.match(thread):
        return int(Fraction(metric[1]) * 10)
    return 0


def peg_dmm(post: PanelPost) -> int:
    """Diameter of a post's peg, 0.1 mm; 0 where the stud's thread is not known here."""
    return thread_dmm(post.thread) if post.kind == "stud" else PIN_DMM


def peg_text(post: PanelPost) -> str:
    """What to drill at a post, in words."""
    size = peg_dmm(post)
    if not size:
        return f"peg as thick as {post.thread}"
    return f"peg {mm_text(size)} mm" if post.kind == "stud" else f"pin {mm_text(size)} mm"
