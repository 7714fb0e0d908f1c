"""Arrays of whole numbers: what many joints, lines and corners are told in at once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.int64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]


def plane_lengths_dmm(offsets: Whole) -> Whole:
    """``scale.ceil_hypot`` of many offsets (rows of dx, dy): lengths rounded up, exactly.

    >>> plane_lengths_dmm(np.array([(3, 4), (1, 1), (0, 0)])).tolist()
    [5, 2, 0]
    """
    square: Whole = (offsets * offsets).sum(axis=1)
    # The root of a float may be one off; whole squares put it right.
    root: Whole = np.ceil(np.sqrt(square.astype(np.float64))).astype(np.int64)
    root -= (root > 0) & ((root - 1) * (root - 1) >= square)
    root += root * root < square
    return root


def each_with_each(ones: int, others: int) -> Indices:
    """Rows of two numbers: each of the first ``ones`` with each of the ``others`` after them.

    >>> each_with_each(1, 2).tolist()
    [[0, 1], [0, 2]]
    """
    one, other = np.indices((ones, others)).reshape(2, -1)
    return np.stack([one, ones + other], axis=1)
