"""When a stored proof still holds: the table of cases, and what the search really reads."""

import dataclasses
from pathlib import Path
from typing import Any

import pytest
from support.catalogue import SMALL, write_some
from support.limits import plain_limits

from lugwright import pipeline
from lugwright.base.toml import parse_toml
from lugwright.catalogue.keys import limit_values, stock_rows
from lugwright.catalogue.proofs import (
    FEWER,
    LESS,
    MORE,
    STEPS,
    only_looser_drops,
    only_shrunk,
    only_tighter,
)
from lugwright.catalogue.question import ON_PAPER, SHAPING, question_digests
from lugwright.limits.schema import Limits
from lugwright.limits.spec_rows import SPECS
from lugwright.model.choose import best_choice
from lugwright.stock.read import read_stock

OLD = limit_values(
    plain_limits(
        lugs_per_stud=4,
        wires_per_barrel=2,
        ground_shift_mv=200,
        stud_kinds=("ring", "captive spade"),
        fold_back=True,
        lock_washer=False,
        stud_count="lugs",
        drop_critical_permille=30,
        objective="default",
    )
)
CASES = [
    ({}, True),
    ({"lugs_per_stud": 3}, True),
    ({"lugs_per_stud": 5}, False),
    ({"lugs_per_stud": 3, "wires_per_barrel": 3}, False),
    ({"lugs_per_stud": 3, "wires_per_barrel": 1}, True),
    ({"fold_back": False}, True),
    ({"lock_washer": True}, True),
    ({"stud_kinds": ["ring"]}, True),
    ({"stud_kinds": ["ring", "captive spade", "plain spade"]}, False),
    ({"stud_count": "conductors"}, True),
    ({"ground_shift_mv": 100}, True),
    ({"ground_shift_mv": 300}, False),
    ({"ground_shift_mv": None}, False),
    ({"conductor_temp_c": 90}, False),  # a shift is a difference of two drops
    ({"conductor_temp_c": 90, "ground_shift_mv": None}, False),
    ({"drop_critical_permille": 20}, True),
    ({"slack_permille": 80}, False),
    ({"cut_step_dmm": 100}, False),
    ({"rate_micro_per_hour": 1}, False),
    ({"objective": "shortest"}, False),
    ({"weights": {"length": 2}}, True),  # the default objective asks for no weights
    ({"lug_worth_dmm": 1}, False),
    ({"support_distance_dmm": 100, "rule_set": "other", "currency": "USD"}, True),
    ({"waivers": [["lugs_per_stud", "a.b", 6]]}, False),
    ({"bundle_rule": "e11-dc"}, False),
]


@pytest.mark.parametrize(("changes", "tighter"), CASES)
def test_only_tighter(changes: dict[str, Any], tighter: bool) -> None:
    """Limits that only forbid, and forbid more; anything else is searched again."""
    assert only_tighter(OLD, {**OLD, **changes}) is tighter


def test_more_resistance_is_tighter_where_no_shift_is_judged() -> None:
    """Then it only makes drops larger."""
    old = {**OLD, "ground_shift_mv": None}
    assert only_tighter(old, {**old, "conductor_temp_c": 90, "crimp_uohm": 999})


@pytest.mark.parametrize(
    ("changes", "looser"),
    [
        ({"drop_critical_permille": 50, "ground_shift_mv": None}, True),
        ({"drop_critical_permille": 20}, False),
        ({"drop_critical_permille": 50, "lugs_per_stud": 3}, False),
    ],
)
def test_only_looser_drops(changes: dict[str, Any], looser: bool) -> None:
    """Drop and shift limits alone, and none of them tighter."""
    assert only_looser_drops(OLD, {**OLD, **changes}) is looser


def test_ways_agree_with_the_limits_own_rows() -> None:
    """What forbids more here is what the limits' rows call tighter."""
    rows = {spec.field: spec.tighter for spec in SPECS if not spec.keys}
    assert {rows[name] for name in (LESS | FEWER) & rows.keys()} == {"less"}
    assert {rows[name] for name in MORE & rows.keys()} == {"more"}
    assert {rows[name] for name in STEPS} == {"listed"}


STOCK = stock_rows(read_stock(None))
USED = frozenset({"16 AWG black"})


def stock_with(kind: str, name: str, **changes: object) -> dict[str, Any]:
    """The stock with one row changed; changed to nothing, it is gone."""
    rows = [
        {**row, **changes} if row["name"] == name else row
        for row in STOCK[kind]
        if changes or row["name"] != name
    ]
    return {**STOCK, kind: rows}


@pytest.mark.parametrize(
    ("after", "shrunk"),
    [
        (STOCK, True),
        (stock_with("spools", "18 AWG black"), True),
        (stock_with("spools", "16 AWG black"), False),
        (stock_with("spools", "18 AWG black", price_micro_per_m=10**9), True),
        (stock_with("spools", "18 AWG black", price_micro_per_m=1), False),
        (stock_with("spools", "16 AWG black", price_micro_per_m=10**9), False),
        (stock_with("spools", "18 AWG black", area_um2=1), False),
        (stock_with("spools", "16 AWG black", source="another paper", spool_length_dmm=1), True),
        (stock_with("fittings", "ring blue #8", pack=999), True),
        ({**STOCK, "spools": [*STOCK["spools"], {**STOCK["spools"][0], "name": "new"}]}, False),
        ({**STOCK, "hardware": STOCK["hardware"][1:]}, False),
    ],
)
def test_only_shrunk(after: dict[str, Any], shrunk: bool) -> None:
    """Items lost or dearer that the plan does not use; never a new, better or cheaper one."""
    assert only_shrunk(STOCK, after, USED) is shrunk


class _Watched:
    """Limits that note which of their fields are read."""

    def __init__(self, limits: Limits) -> None:
        self._limits = limits
        self.read: set[str] = set()

    def __getattr__(self, name: str) -> Any:
        fields = {field.name for field in dataclasses.fields(Limits)}
        if name in fields:
            self.read.add(name)
        return getattr(self._limits, name)

    def at(self, field: str, place: str) -> int:
        """As the limits' own."""
        self.read.add(field)
        return self._limits.at(field, place)


@pytest.mark.parametrize("number", SMALL)
def test_the_search_reads_no_limit_that_only_shapes_the_problem(number: int, tmp_path: Any) -> None:
    """A question's digest holds by value every limit that search and tables read."""
    path = write_some(tmp_path / "boats", (number,)) / f"model-{number:03}.toml"
    problem, _ = pipeline.pose(pipeline.read_inputs(path))
    watched = _Watched(problem.limits)
    problem.tables.limits = watched  # type: ignore[attr-defined]
    best_choice(dataclasses.replace(problem, limits=watched))  # type: ignore[arg-type]
    assert watched.read & {"objective", "wires_per_barrel", "wire_size_choice"}
    assert watched.read & (SHAPING | ON_PAPER) == set()


def test_every_limit_is_either_read_or_shapes_or_stays_on_paper() -> None:
    """No limit has been renamed away from under the lists."""
    fields = {field.name for field in dataclasses.fields(Limits)}
    assert SHAPING | ON_PAPER | LESS | MORE | FEWER | STEPS.keys() <= fields
    assert set() == SHAPING & ON_PAPER


def test_a_question_is_told_by_what_it_asks(tmp_path: Any) -> None:
    """Room asked for where there was room changes nothing; another length does."""
    path = write_some(tmp_path / "boats", (2,)) / "model-002.toml"

    def digests(*settings: str) -> tuple[str, str]:
        inputs = pipeline.read_inputs(path, settings=settings)
        return question_digests(pipeline.pose(inputs)[0], inputs.stock)

    plain = digests()
    assert digests("drip_loop=51 mm") == plain
    assert digests("slack=20 %")[0] != plain[0]
    assert digests("lugs_per_stud=5")[0] != plain[0]
    looser = digests("drop_other=20 %")
    assert looser[0] != plain[0]
    assert looser[1] == plain[1]


KEYED = Path(__file__).parents[2] / "scenarios" / "key-fuses-dimmer.toml"


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ('kind = "switch", closed = ["on", "start"], ', None),  # a contact that drops
        ('closed = ["start"]', 'closed = ["on", "start"]'),
        ('f1 = "5 A"', 'f1 = "7.5 A"'),
        ('carries_in = "20 A"', 'carries_in = "19 A"'),
    ],
)
def test_a_changed_device_is_another_question(was: str, now: str | None) -> None:
    """Contact, positions, fuse and rating: none leaves the digest of what is asked as it was."""
    text = KEYED.read_text(encoding="utf-8")
    assert text.count(was) == 1
    after = text.replace(was, was + 'contact = "0.01 ohm", ' if now is None else now)

    def asked(words: str) -> tuple[str, str]:
        inputs = pipeline.read_inputs(parse_toml(words.encode(), "keyed.toml"))
        return question_digests(pipeline.pose(inputs)[0], inputs.stock)

    assert asked(text) == asked(text)
    assert asked(after)[0] != asked(text)[0]


def test_the_search_reads_no_shaping_limit_of_a_console_with_devices() -> None:
    """Where jumpers may leave a far post, and the factors of switches, are in the problem."""
    problem, _ = pipeline.pose(pipeline.read_inputs(KEYED))
    watched = _Watched(problem.limits)
    problem.tables.limits = watched  # type: ignore[attr-defined]
    best_choice(dataclasses.replace(problem, limits=watched))  # type: ignore[arg-type]
    assert watched.read & (SHAPING | ON_PAPER) == set()
