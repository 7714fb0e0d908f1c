"""A production run: what N boats need, against counting and against the second opinion."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from support.plans import plan_of

from lugwright.base.errors import BadInput
from lugwright.cli.main import cli
from lugwright.outputs.folder import write_folder
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan
from lugwright.production.run import Model
from lugwright.production.spool_plan import read_on_hand
from lugwright.production.tables import offcuts_csv, spool_row_runs, spool_rows
from lugwright.production.times import built_in_times, read_times
from lugwright.production.whole_run import WholeRun, check_gathered, gather

KEEP_DMM = 10_000


@pytest.fixture(scope="module")
def skiff() -> Plan:
    """The skiff's plan."""
    return plan_of("sandbar-skiff")


@pytest.fixture(scope="module")
def dials() -> Plan:
    """Another small console's plan."""
    return plan_of("metric-studs")


def run_of(*models: Model, on_hand: dict[str, list[int]] | None = None) -> WholeRun:
    """A run with the built-in times."""
    return gather(models, times=built_in_times(), on_hand=on_hand or {}, keep_dmm=KEEP_DMM)


@pytest.mark.parametrize("boats", [1, 2, 7, 200])
def test_n_boats_need_n_times_one_boat(skiff: Plan, boats: int) -> None:
    """Pieces, minutes and money are exactly N times one boat's; packs and set-ups save."""
    one, run = run_of(Model(skiff, 1)), run_of(Model(skiff, boats))
    assert run.sums.piece_cmin == boats * one.sums.piece_cmin == boats * skiff.totals.minutes_cmin
    assert run.sums.piece_money_micro == boats * skiff.totals.money_micro
    assert sum(batch.count for batch in run.cuts) == boats * len(skiff.jumpers)
    assert sum(batch.count for batch in run.crimps) == boats * len(skiff.crimps)
    needs = {line.item: line.need for line in run.bought}
    assert needs == {line.item: boats * line.need for line in skiff.buy}
    assert run.sums.buy_micro <= boats * one.sums.buy_micro == run.sums.buy_alone_micro
    assert run.sums.set_up_cmin <= boats * one.sums.set_up_cmin
    assert run.proved


def test_one_boat_buys_its_own_buy_list(skiff: Plan) -> None:
    """A run of one is the plan's own buy list."""
    found = {line.item: (line.packs, line.cost_micro) for line in run_of(Model(skiff, 1)).bought}
    assert found == {line.item: (line.packs, line.cost_micro) for line in skiff.buy}


def test_the_second_opinion_passes_a_run_and_a_mix(skiff: Plan, dials: Plan) -> None:
    """Counted anew from jumpers, crimps and caps of the plans."""
    run = run_of(Model(skiff, 12), Model(dials, 5), on_hand={"16 AWG black": [12_345, 90_000]})
    report = check_gathered(run)
    assert report.findings == ()
    assert report.checks > 20


def test_the_second_opinion_finds_planted_faults(skiff: Plan) -> None:
    """A batch short, a pack too many, a spool overfilled, minutes and money off: all are found."""
    run = run_of(Model(skiff, 40))
    first, line = run.cuts[0], run.bought[-1]
    spool = run.spools[0]
    filled = spool.packing.filled
    short = replace(filled[0], stock_dmm=filled[0].stock_dmm // 2)
    broken = [
        replace(run, cuts=(replace(first, count=first.count - 1), *run.cuts[1:])),
        replace(run, crimps=run.crimps[1:]),
        replace(
            run,
            bought=(*run.bought[:-1], line.model_copy(update={"packs": line.packs + 1})),
        ),
        replace(
            run,
            spools=(
                replace(spool, packing=replace(spool.packing, filled=(short, *filled[1:]))),
                *run.spools[1:],
            ),
        ),
        replace(run, sums=replace(run.sums, piece_cmin=run.sums.piece_cmin - 1)),
        replace(run, sums=replace(run.sums, piece_money_micro=1)),
        replace(run, sums=replace(run.sums, set_up_micro=1)),
    ]
    for fault in broken:
        assert not check_gathered(fault).passed


def test_two_caps_of_one_size_on_a_console_both_count(skiff: Plan) -> None:
    """Two unused pigtails that take the same cap need two for each boat."""
    cap = next(cap for cap in skiff.caps if cap.item)
    line = next(line for line in skiff.buy if line.item == cap.item)
    two = skiff.model_copy(
        update={
            "caps": (cap, cap),
            "buy": tuple(
                line.model_copy(update={"need": 2}) if one is line else one for one in skiff.buy
            ),
        }
    )
    assert check_gathered(run_of(Model(two, 6))).findings == ()
    assert not check_gathered(run_of(Model(two.model_copy(update={"caps": (cap,)}), 6))).passed


def test_batches_hold_like_pieces_once(skiff: Plan) -> None:
    """One batch for each wire, length and pair of strips, the longest first on every spool."""
    batches = run_of(Model(skiff, 3)).cuts
    keys = [(b.spool, b.length_dmm, b.strip_least_dmm, b.strip_most_dmm) for b in batches]
    assert len(set(keys)) == len(keys)
    for spool in {batch.spool for batch in batches}:
        lengths = [batch.length_dmm for batch in batches if batch.spool == spool]
        assert lengths == sorted(lengths, reverse=True)
    labels = Counter(label for batch in batches for label in batch.labels)
    assert labels == Counter(f"1: {piece.label}" for piece in skiff.jumpers)


def test_serial_numbers_count_up() -> None:
    """The digits at the end count, keeping their width; without any they are put behind."""
    plan = None
    assert list(Model(plan, 3, "SK-098").serials()) == ["SK-098", "SK-099", "SK-100"]  # type: ignore[arg-type]
    assert list(Model(plan, 2, "boat").serials()) == ["boat 1", "boat 2"]  # type: ignore[arg-type]
    assert list(Model(plan, 2).serials()) == ["1", "2"]  # type: ignore[arg-type]


def test_offcuts_are_used_and_what_is_left_is_told(skiff: Plan, tmp_path: Path) -> None:
    """Offcuts go first; what is kept afterwards is in the form the next run reads."""
    hand = {"16 AWG black": [20_000, 15_000]}
    run = run_of(Model(skiff, 3), on_hand=hand)
    black = next(one for one in run.spools if one.spool == "16 AWG black")
    assert black.packing.spools == 0
    file = tmp_path / "rest.csv"
    file.write_text(offcuts_csv(run.spools, hand), encoding="utf-8")
    left = read_on_hand(file, {one.spool for one in run.spools})
    need = sum(piece.length_dmm for piece in skiff.jumpers if piece.spool == "16 AWG black")
    scrap = black.packing.scrap_dmm
    assert sum(left["16 AWG black"]) == sum(hand["16 AWG black"]) - 3 * need - scrap


def test_like_spools_are_told_together(skiff: Plan) -> None:
    """Rows that differ in nothing but their number share a line."""
    run = run_of(Model(skiff, 4000))
    rows = spool_rows(run.spools)
    runs = spool_row_runs(rows)
    assert len(runs) < len(rows)
    assert sum(_count(number) for number, _ in runs) == len(rows)


def _count(number: str) -> int:
    first, _, last = number.partition(" to ")
    return int(last or first) - int(first) + 1


def test_plans_with_other_prices_are_refused(skiff: Plan) -> None:
    """Two plans from two shelves cannot be bought for together."""
    first = skiff.buy[0]
    dearer = first.model_copy(update={"cost_micro": first.cost_micro * 2})
    other = skiff.model_copy(update={"buy": (dearer, *skiff.buy[1:])})
    with pytest.raises(ValueError, match="different packs or at other prices"):
        run_of(Model(skiff, 1), Model(other, 1))


def test_offcuts_with_semicolons_and_decimal_commas(tmp_path: Path) -> None:
    """As a spreadsheet writes them where a decimal comma is usual."""
    file = tmp_path / "hand.csv"
    file.write_text("spool;length\n16 AWG black;3,5 m\n", encoding="utf-8")
    assert read_on_hand(file, {"16 AWG black"}) == {"16 AWG black": [35_000]}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("spool;long\n", "the first line must be spool,length"),
        ("spool,length\n16 AWG blak,3 m\n", "is not cut in this run"),
        ("spool,length\n16 AWG black,3\n", "needs its unit"),
        ('spool,length\n16 AWG black,"3,5 m"\n', "3,5 m"),
        ("spool,length\n16 AWG black,0 mm\n", "must be above 0"),
        ("spool,length\n16 AWG black\n", "has 1 cells"),
    ],
)
def test_a_bad_list_of_offcuts_is_told(tmp_path: Path, text: str, message: str) -> None:
    """With line and what is allowed."""
    file = tmp_path / "hand.csv"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as fault:
        read_on_hand(file, {"16 AWG black"})
    assert message in str(fault.value)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('set_up_spool = "2 min"\n', "is missing"),
        ('set_up_spol = "2 min"\n', 'did you mean "set_up_spool"'),
        ('set_up_spool = "2 m"\n', "working time"),
        ("set_up_spool = \n", "not valid TOML"),
    ],
)
def test_a_bad_time_table_is_told(tmp_path: Path, text: str, message: str) -> None:
    """Every fault by its name."""
    file = tmp_path / "times.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as fault:
        read_times(file)
    assert message in str(fault.value)


def test_the_commands_tell_the_same(skiff: Plan, tmp_path: Path) -> None:
    """``kits`` and ``spools`` as JSON agree; numbers of boats must match the plans."""
    write_folder(ShownPlan(skiff), tmp_path / "a")
    plan = str(tmp_path / "a")
    ask = CliRunner().invoke
    kits = ask(cli, ["kits", plan, "--boats", "20", "--json"])
    spools = ask(cli, ["spools", plan, "--boats", "20", "--json"])
    assert (kits.exit_code, spools.exit_code) == (0, 0)
    run, cut = json.loads(kits.output), json.loads(spools.output)
    assert [one["new"] for one in run["spools"]] == [one["new_spools"] for one in cut["spools"]]
    assert all(one["proved"] for one in cut["spools"])
    wrong = ask(cli, ["kits", plan, "--boats", "1", "--boats", "2"])
    assert wrong.exit_code == 2
    assert "given 2 times for 1 plans" in wrong.output
    text = ask(cli, ["kits", plan, "--boats", "20"]).output
    assert "Cut in batches" in text and "proved least" in text
