"""From a path to a cut piece, rounded up to the cut step; extensions, and the reach needed."""

from __future__ import annotations

from lugwright.base.scale import ceil_div
from lugwright.limits.schema import Limits
from lugwright.scenario.console import Console


def jumper_length_dmm(path_dmm: int, limits: Limits) -> int:
    """Length to cut for a jumper along a path, 0.1 mm.

    Path × (1 + slack) + an end allowance at each end, raised to the minimum jumper length where
    shorter, then rounded up to the cut step, then to the shortest standard length that is long
    enough, where there is one; exact. Raises ValueError for a negative path.

    >>> from types import SimpleNamespace
    >>> limits = SimpleNamespace(
    ...     slack_permille=50, end_allowance_dmm=150, minimum_jumper_dmm=800, cut_step_dmm=50,
    ...     standard_lengths_dmm=(),
    ... )
    >>> jumper_length_dmm(1001, limits)  # 1001 × 1.05 + 300 = 1351.05, up to 1400
    1400
    >>> jumper_length_dmm(100, limits)  # 105 + 300 = 405, raised to 800
    800

    Rule R3.
    """
    if path_dmm < 0:
        raise ValueError(f"a path cannot be {path_dmm} long")
    thousandths = path_dmm * (1000 + limits.slack_permille) + 2000 * limits.end_allowance_dmm
    thousandths = max(thousandths, 1000 * limits.minimum_jumper_dmm)
    length = ceil_div(thousandths, 1000 * limits.cut_step_dmm) * limits.cut_step_dmm
    return next((each for each in limits.standard_lengths_dmm if each >= length), length)


def extension_length_dmm(shortfall_dmm: int, limits: Limits) -> int:
    """Length to cut for an extension that makes up a shortfall of reach, 0.1 mm.

    An extension is cut as a jumper is: slack on the shortfall, two end allowances, the minimum,
    the cut step. Raises ValueError when nothing is short (``shortfall_dmm`` ≤ 0). Rule R11.
    """
    if shortfall_dmm <= 0:
        raise ValueError("nothing is short, so there is nothing to extend")
    return jumper_length_dmm(shortfall_dmm, limits)


def reach_needed_dmm(path_dmm: int, console: Console, limits: Limits) -> int:
    """Reach a wire must have to land at the end of a path, 0.1 mm.

    Path + service travel + drip loop + twice the re-termination; no slack (it is in the drip
    loop and the re-terminations already). Rule R11.
    """
    spare_dmm = limits.drip_loop_dmm + 2 * limits.re_termination_dmm
    return path_dmm + console.service_travel_dmm + spare_dmm
