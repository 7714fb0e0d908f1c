"""The integer scales, stated once. Every number the planner decides with is one of these.

================  =============================  ==================================
suffix in a name  unit                           rounding at the edge
================  =============================  ==================================
``_dmm``          0.1 mm                         to nearest at input, legs up
``_ma``           milliampere                    loads up
``_mv``           millivolt                      -
``_uohm``         micro-ohm (of one whole wire)  up
``_nohm_per_mm``  nano-ohm per millimetre        up
``_nv``           nanovolt = µΩ x mA             exact
``_um2``          square micrometre              to nearest
``_permille``     thousandths                    to nearest
``_cmin``         hundredth of a minute          to nearest
``_micro``        millionth of the currency      up, item by item
================  =============================  ==================================
"""

from __future__ import annotations

from math import isqrt

DMM_PER_MM = 10
CMIL_TO_UM2 = 506.7074790974977  # 1 circular mil = pi/4 * (25.4 um)^2
MICRO = 1_000_000


def ceil_div(numerator: int, denominator: int) -> int:
    """Integer quotient rounded up; ``denominator`` > 0."""
    return -(-numerator // denominator)


def ceil_hypot(dx: int, dy: int) -> int:
    """Plane distance of an integer offset, rounded up to the same unit, exactly."""
    square = dx * dx + dy * dy
    root = isqrt(square)
    return root if root * root == square else root + 1


def mm_text(length_dmm: int) -> str:
    """A length in 0.1 mm as a person reads it: ``1234`` is ``123.4``, ``1230`` is ``123``."""
    sign = "-" if length_dmm < 0 else ""
    whole, tenth = divmod(abs(length_dmm), DMM_PER_MM)
    return f"{sign}{whole}.{tenth}" if tenth else f"{sign}{whole}"


def amps_text(current_ma: int) -> str:
    """A current in mA as amperes with no trailing zeros: ``1500`` is ``1.5``."""
    return f"{current_ma / 1000:.3f}".rstrip("0").rstrip(".")


def money_text(cost_micro: int) -> str:
    """Money in millionths as a decimal with two places, rounded up to the hundredth."""
    return f"{ceil_div(cost_micro, 10_000) / 100:.2f}"
