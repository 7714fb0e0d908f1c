"""The limits of a built-in rule set as they are, with nothing laid over them."""

from __future__ import annotations

from lugwright.limits.built_in import DEFAULT_RULE_SET
from lugwright.limits.resolve import resolve_limits
from lugwright.limits.schema import Limits


def built_in(rule_set: str = DEFAULT_RULE_SET) -> Limits:
    """The limits of a built-in rule set.

    Raises BadInput for a name that is not one, naming those there are.
    """
    return resolve_limits(rule_set, None, None, ())
