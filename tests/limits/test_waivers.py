"""Waivers of a scenario, case by case, with the message each bad one ends in."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.layers import layered, refusals

from lugwright.limits.explain import waiver_rows
from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.values import range_text
from lugwright.limits.waivable import WAIVABLE

GOOD = {
    "limit": '"lugs_per_stud"',
    "place": '"depth.ground"',
    "value": "5",
    "reason": '"the bus bar came one stud short"',
    "initials": '"AB"',
    "date": "2026-11-25",
}


def waiver(**changes: str | None) -> str:
    """A good waiver with some keys written otherwise, or (None) left out."""
    keys = {**GOOD, **changes}
    return "[[waiver]]\n" + "".join(f"{k} = {v}\n" for k, v in keys.items() if v is not None)


def test_a_waiver_counts_at_its_place_alone() -> None:
    """There the waived value counts, with the waiver as its origin; everywhere else the limit."""
    limits = layered((), waiver())
    assert limits.at("lugs_per_stud", "depth.ground") == 5
    assert limits.at("lugs_per_stud", "fuel.ground") == limits.lugs_per_stud == 4
    told = "waiver by AB, 2026-11-25, scenario, skiff.toml:1"
    assert limits.origin_at("lugs_per_stud", "depth.ground") == told
    assert limits.origin_at("lugs_per_stud", "fuel.ground").startswith("built-in rule set")


def test_loosening_everywhere_never_tightens_a_waived_place() -> None:
    """Where a limit is loosened beyond its waiver, the looser of the two counts."""
    limits = replace(layered((), waiver()), lugs_per_stud=7)
    assert limits.at("lugs_per_stud", "depth.ground") == 7
    assert limits.origin_at("lugs_per_stud", "depth.ground").startswith("built-in rule set")


def test_a_smaller_wire_for_one_circuit() -> None:
    """A minimum size is compared by area and told as it was written."""
    text = waiver(limit='"minimum_size"', place='"lamps"', value='"18 AWG"')
    limits = layered((), text)
    assert limits.at("minimum_area_um2", "lamps") < limits.minimum_area_um2
    assert limits.words_at("minimum_area_um2", "lamps") == "18 AWG"
    assert limits.words_at("minimum_area_um2", "ground") == ""


def test_as_it_is_printed() -> None:
    """With what counts everywhere else, who answers for it, when, why, and file and line."""
    (row,) = waiver_rows(layered((), 'title = "skiff"\n' + waiver()))
    assert list(vars(row).values()) == [
        *("lugs_per_stud", "depth.ground", "5", "4", "the bus bar came one stud short"),
        *("AB", "2026-11-25", "scenario, skiff.toml:2"),
    ]


BAD = [
    # waiver, field, message
    (waiver(limit=None), "limit", "a waiver names its limit"),
    (waiver(limit='"lugs_per_std"'), "limit", 'there is no limit "lugs_per_std"'),
    (waiver(limit='"splices"'), "limit", "splices cannot be waived at a place"),
    (waiver(place=None), "place", "a waiver has its place: one line of text"),
    (waiver(place='""'), "place", "a waiver has its place: one line of text"),
    (waiver(value=None), "value", "a waiver has the value that counts at its place"),
    (waiver(value='"five"'), "value", '"five" is not a whole number'),
    (waiver(value="21"), "value", "21 is outside what is allowed"),
    (waiver(value="4"), "value", "4 is no looser than what counts everywhere, 4 (built-in"),
    (waiver(value="3"), "value", "3 is no looser than what counts everywhere, 4 (built-in"),
    (waiver(reason=None), "reason", "a waiver has its reason: one line of text"),
    (waiver(reason='"  "'), "reason", "a waiver has its reason: one line of text"),
    (waiver(reason='"a\\u001bb"'), "reason", "this is one line of at most 200 printable"),
    (waiver(reason=f'"{"x" * 201}"'), "reason", "this is one line of at most 200 printable"),
    (waiver(initials=None), "initials", "a waiver has its initials: one line of text"),
    (waiver(initials='"the whole crew"'), "initials", "this is one line of at most 8 printable"),
    (waiver(date=None), "date", "a waiver has the date it was given"),
    (waiver(date='"25.11.2026"'), "date", "a waiver has the date it was given"),
    (waiver(date='"2026-02-30"'), "date", "a waiver has the date it was given"),
    (waiver(date="2026-11-25T10:00:00"), "date", "a waiver has the date it was given"),
    (waiver(until="2027-01-01"), "until", "there is no such key"),
    (waiver() + waiver(value="6"), "place", "lugs_per_stud is waived there already"),
    (
        waiver(limit='"ground_shift"', place='"fuel sender"', value='"off"'),
        "value",
        "a waiver loosens a limit, it does not put it off",
    ),
]


@pytest.mark.parametrize(("text", "key", "message"), BAD)
def test_a_bad_waiver(text: str, key: str, message: str) -> None:
    """Each fault is told at its key, with the waiver's number."""
    (told,) = refusals((), text)
    number = text.count("[[waiver]]")
    assert (told.file, told.field) == ("skiff.toml", f"waiver {number}, {key}")
    assert told.message.startswith(message)


def test_what_is_no_list_of_waivers() -> None:
    """One table instead of a list is told so."""
    (told,) = refusals((), "[waiver]\nlimit = 'slack'")
    assert (told.field, told.message) == ("waiver", "this is a list of waivers")


SHOPS = [
    # shop, message (None: it stands)
    ("[shop]\nwaivers = true", None),
    ('[shop]\ntighten_only = "all"', None),
    ('[shop]\nwaivers = ["lugs_per_stud"]', None),
    ("[shop.range]\nlugs_per_stud = [2, 5]", None),
    ("[shop]\nwaivers = false", "the shop does not let lugs_per_stud be waived (limits file, shop"),
    (
        '[shop]\nwaivers = ["drop_other"]',
        "the shop does not let lugs_per_stud be waived (limits file, shop.toml:2)",
    ),
    ('[shop]\nlocked = ["lugs_per_stud"]', "lugs_per_stud: locked (limits file, shop.toml:2): it"),
    (
        "[shop.range]\nlugs_per_stud = [2, 4]",
        "5 lies outside the shop's range, 2 to 4 (limits file, shop.toml:2)",
    ),
]


@pytest.mark.parametrize(("shop", "message"), SHOPS)
def test_whether_the_shop_lets_it_be_waived(shop: str, message: str | None) -> None:
    """A limit that is held may be waived unless the shop says no; a locked one never."""
    if message is None:
        assert layered(shop, waiver()).at("lugs_per_stud", "depth.ground") == 5
        return
    (told,) = refusals(shop, waiver())
    assert told.message.startswith(message)


@pytest.mark.parametrize("name", WAIVABLE)
def test_every_limit_that_can_be_waived_has_a_direction_and_a_range(name: str) -> None:
    """Otherwise nobody could say that a waiver loosens it, nor how far."""
    spec = SPEC_BY_NAME[name]
    assert spec.tighter in ("less", "more")
    assert " to " in range_text(spec) or name == "minimum_size"
