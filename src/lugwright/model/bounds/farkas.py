"""That no answer exists, from prices that prove it.

Were everything free, an answer would cost nothing; prices by which it costs more show that there
is none (J. Farkas, "Theorie der einfachen Ungleichungen", 1902).
"""

from __future__ import annotations

import numpy as np

from lugwright.model.bounds.rows import Real, Whole
from lugwright.model.bounds.weak_duality import WeakDuality


def refuses(duality: WeakDuality, prices: Real, high: Whole) -> bool:
    """Whether these prices prove that no answer within ``high`` exists, in whole numbers."""
    largest = float(np.abs(prices).max(initial=0))
    if not np.isfinite(largest) or not largest:
        return False
    found = duality.scaled(prices / largest, high, np.zeros_like(high))
    return found is not None and found[0] > 0
