"""Money: what wire and labour cost, in millionths of the currency, each rounded up."""

from __future__ import annotations

from lugwright.base.scale import DMM_PER_MM, ceil_div
from lugwright.limits.schema import Limits

DMM_PER_M = 1000 * DMM_PER_MM
CMIN_PER_HOUR = 6000


def wire_cost_micro(length_dmm: int, price_micro_per_m: int) -> int:
    """Price of one cut wire, rounded up.

    >>> wire_cost_micro(15, 1_000_000)
    1500
    """
    return ceil_div(price_micro_per_m * length_dmm, DMM_PER_M)


def cut_piece_micro(length_dmm: int, price_micro_per_m: int, limits: Limits) -> int:
    """Money for one cut piece: its wire and the cutting, each rounded up. Rule R27."""
    cutting = labour_micro(limits.minutes_cut_cmin, limits.rate_micro_per_hour)
    return wire_cost_micro(length_dmm, price_micro_per_m) + cutting


def labour_micro(minutes_cmin: int, rate_micro_per_hour: int) -> int:
    """Money for some hundredths of a minute at the shop's rate, rounded up. Rule R27.

    >>> labour_micro(100, 60_000_000)
    1000000
    """
    return ceil_div(minutes_cmin * rate_micro_per_hour, CMIN_PER_HOUR)
