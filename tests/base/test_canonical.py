"""One text for one value."""

from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

import pytest

from lugwright.base.canonical import digest_of, plain


@dataclass(frozen=True)
class Pair:
    """Two things."""

    a: object
    b: object


def test_records_mappings_and_sets_have_one_form() -> None:
    """What has no order is sorted; what has one keeps it; paths are text."""
    value = Pair({"z": 1, "a": (3, 2)}, frozenset({"y", "x"}))
    assert plain(value) == {"a": {"a": [3, 2], "z": 1}, "b": ["x", "y"]}
    assert plain(MappingProxyType({("b", 1): Path("c/d")})) == {'["b",1]': "c/d"}


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ({"a": 1, "b": 2}, {"b": 2, "a": 1}),
        (frozenset("ab"), frozenset("ba")),
        ((1, 2), [1, 2]),
    ],
)
def test_the_same_value_has_the_same_digest(one: object, other: object) -> None:
    """Order of writing does not count where there is none."""
    assert digest_of(one) == digest_of(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [((1, 2), (2, 1)), ("1", 1), (True, 1), (None, ""), ({"a": 1}, {"a": 2}), ("é", "e")],
)
def test_other_values_have_other_digests(one: object, other: object) -> None:
    """A text is no number, and an order is an order."""
    assert digest_of(one) != digest_of(other)


@pytest.mark.parametrize("value", [1.5, object(), b"bytes"])
def test_what_has_no_one_form_is_refused(value: object) -> None:
    """A float has many ways of being written: none is taken by chance."""
    with pytest.raises(TypeError, match="no one way"):
        plain(value)
