"""The limits of a built-in practice as they are, with nothing laid over them."""

from __future__ import annotations

from lugwright.limits.built_in import DEFAULT_PRACTICE
from lugwright.limits.resolve import resolve_limits
from lugwright.limits.schema import Limits


def built_in(practice: str = DEFAULT_PRACTICE) -> Limits:
    """The limits of a built-in practice.

    Raises BadInput for a name that is not one, naming those there are.
    """
    return resolve_limits(practice, None, None, ())
