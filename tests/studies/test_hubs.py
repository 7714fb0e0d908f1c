"""Hubs side by side: every row its own proved best, every missing one with its reason."""

from __future__ import annotations

import csv
import io
import json
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest
from brute.case import Case
from brute.random_consoles import random_case
from markupsafe import escape
from support.consoles import tiny_console
from support.limits import plain_limits
from support.seeds import every

from lugwright import pipeline
from lugwright.assemble.panel import panel_of
from lugwright.checker.run import check_plan
from lugwright.cli.answers.hubs import exit_of
from lugwright.cli.exits import Exit
from lugwright.cli.main import run
from lugwright.limits.schema import Limits
from lugwright.model.choose import best_choice, best_per_hub
from lugwright.model.formulation.trials import ONE_PER_CIRCUIT
from lugwright.outputs.digest import plan_digest
from lugwright.outputs.drawing.small import small_blank
from lugwright.outputs.hubs_page import hubs_page
from lugwright.outputs.hubs_table import (
    COLUMNS,
    REJECTED,
    HubRow,
    best_row,
    figures,
    gap_text,
    hubs_csv,
    in_order,
    line_of,
    reason_text,
    why_best,
    wire_by_circuit,
)
from lugwright.pipeline import holding, make_plan, read_inputs
from lugwright.plans.outcome import Ending
from lugwright.problem.build import build_problem
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, ReadyRing
from lugwright.stock.read import read_stock
from lugwright.studies.hubs import HubTable, compare_hubs

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
SVG = "{http://www.w3.org/2000/svg}"
SKIFF = SCENARIOS / "sandbar-skiff.toml"
PER_CIRCUIT = SCENARIOS / "hub-per-circuit.toml"


def only_hub(case: Case, name: str) -> Case:
    """The case with one hub candidate left."""
    instruments = tuple(
        replace(one, hub_candidate=one.name == name) for one in case.console.instruments
    )
    return replace(case, console=replace(case.console, instruments=instruments))


def inputs_of(console: Console, limits: Limits | None = None) -> Brief:
    """Inputs without files."""
    return Brief(console, limits or plain_limits(), read_stock())


@pytest.mark.parametrize("seed", every(2, [*range(4), 5, 6, *range(8, 17), *range(18, 22), 23]))
def test_every_row_is_what_trying_everything_finds(seed: int) -> None:
    """On small random consoles each hub costs what the enumerator says, or has no plan."""
    case = random_case(seed)
    problem = build_problem(case.brief, case.routes())
    candidates = [one.name for one in case.console.instruments if one.hub_candidate]
    found = best_per_hub(problem, candidates, anywhere=not case.limits.one_hub)
    for name in candidates:
        cost = only_hub(case, name).best().cost
        if name not in found:
            assert cost is None
            continue
        ended = Ending.IMPOSSIBLE if cost is None else Ending.PROVED
        assert found[name].ending is ended
        assert (found[name].cost or None) == cost
    if not case.limits.one_hub and not problem.faults:
        assert (found[ONE_PER_CIRCUIT].cost or None) == case.best().cost


@pytest.fixture(scope="module")
def skiff() -> tuple[Brief, HubTable]:
    """The skiff and its hubs."""
    inputs = read_inputs(SKIFF)
    return inputs, compare_hubs(inputs)


def test_a_row_is_the_plan_of_that_hub_held(skiff: tuple[Brief, HubTable]) -> None:
    """A row's plan has the same jumpers, fittings and totals as planning with the hub held."""
    inputs, table = skiff
    for row in table.rows:
        held = make_plan(holding(inputs, {"hub": row.hub})).plan
        if row.plan is None:
            assert held is None
            continue
        assert held is not None
        assert (held.jumpers, held.crimps, held.totals) == (
            row.plan.jumpers,
            row.plan.crimps,
            row.plan.totals,
        )
    best = best_row(table.rows)
    assert best is not None and best.hub == "speed"
    free = make_plan(inputs).plan
    assert free == best.plan


def test_every_plan_passes_the_checker(skiff: tuple[Brief, HubTable]) -> None:
    """What stands in the table was checked: checking it again finds nothing."""
    inputs, table = skiff
    plans = [row.plan for row in table.rows if row.plan is not None]
    assert len(plans) == 3
    for plan in plans:
        assert check_plan(inputs, plan).passed


def test_why_the_best_one_is_best(skiff: tuple[Brief, HubTable]) -> None:
    """The sentence names the next hub, the wire saved by circuit, and the thread left."""
    _, table = skiff
    rows = {row.hub: row for row in table.rows}
    said = why_best(table.rows)
    best, other = rows["speed"].plan, rows["volts"].plan
    assert best is not None and other is not None
    saved = {
        name: other_dmm - wire_by_circuit(best)[name]
        for name, other_dmm in wire_by_circuit(other).items()
    }
    assert {name: wire for name, wire in saved.items() if wire} == {"lamps": 200}
    assert said == (
        "speed is best: against volts it saves 20 mm of lamps wire, two stacked lugs and two "
        "fittings; its ignition stud takes two lugs with 5.7 mm of thread to spare."
    )


@pytest.mark.parametrize("column", sorted(COLUMNS))
@pytest.mark.parametrize("backwards", [False, True])
def test_sorting(skiff: tuple[Brief, HubTable], column: str, backwards: bool) -> None:
    """Any column sorts; a hub without a plan stays at the end; no row is lost."""
    _, table = skiff
    rows = in_order(table.rows, column, backwards=backwards)
    assert sorted(row.hub for row in rows) == sorted(row.hub for row in table.rows)
    assert [row.plan is None for row in rows if column != "hub"] == sorted(
        row.plan is None for row in rows if column != "hub"
    )
    field = COLUMNS[column]
    if field:
        values = [figures(row)[field] for row in rows if row.plan is not None]
        assert values == sorted(values, reverse=backwards)  # type: ignore[type-var]


def test_csv_has_every_row_and_no_formula(skiff: tuple[Brief, HubTable]) -> None:
    """The table as CSV reads back; no cell had to be disarmed."""
    _, table = skiff
    read = list(csv.DictReader(io.StringIO(hubs_csv(in_order(table.rows, "wire")))))
    assert [line["hub"] for line in read][:3] == ["speed", "volts", "fuel"]
    assert [line["wire_mm"] for line in read][:3] == ["1345", "1365", "1420"]
    assert not any(cell.startswith("'") for line in read for cell in line.values())


def test_the_page_is_whole_and_alone(skiff: tuple[Brief, HubTable]) -> None:
    """One file: no script, nothing fetched; every hub drawn, its side said, circuits by name."""
    inputs, table = skiff
    text = hubs_page(table.rows, pipeline.before_planning(inputs))
    best = best_row(table.rows)
    assert best and best.plan and f"<code>{plan_digest(best.plan)}</code>" in text
    assert f"<dd>{inputs.limits.rule_set}</dd>" in text
    assert all(f"<li>{escape(caution)}</li>" in text for caution in best.plan.cautions)
    assert "<script" not in text and "://" not in text.replace("http://www.w3.org", "")
    closed = re.sub(r"<meta [^>]*>", "", text.partition("\n")[2])
    page = ET.fromstring(closed)  # noqa: S314
    drawings = [one for one in page.iter("svg") if one.get("role") == "img"]
    assert len(drawings) == len(table.rows)
    for row, drawing in zip(table.rows, drawings, strict=True):
        said = ["".join(text.itertext()) for text in drawing.iter("text")]
        assert "seen from the back" in said
        assert row.hub in said
        if row.plan is not None:
            assert f"<td>{plan_digest(row.plan)}</td>" in text
            assert said.count("HUB") == 1
            drawn = {one.get("data-wire") for one in drawing.iter() if one.get("data-wire")}
            assert {jumper.label for jumper in row.plan.jumpers} <= drawn


def test_a_hub_on_the_left_from_behind_is_drawn_on_the_left(
    skiff: tuple[Brief, HubTable],
) -> None:
    """Speed is drilled at the left of the front, so from the back it is at the right."""
    inputs, _ = skiff
    panel = panel_of(inputs)
    tree = ET.fromstring(small_blank(panel, "no plan").file())  # noqa: S314
    [speed] = [text for text in tree.iter(f"{SVG}text") if text.text == "speed"]
    assert float(speed.get("x", "0")) > panel.width_dmm / 20


def test_hubs_for_each_circuit_have_a_row_of_their_own() -> None:
    """With a hub for each circuit allowed, that optimum stands beside every hub for all."""
    table = compare_hubs(read_inputs(PER_CIRCUIT))
    rows = {row.hub: row for row in table.rows}
    assert rows[ONE_PER_CIRCUIT].cost == (18050,) and rows["hours"].cost == (20650,)
    assert rows["volts"].plan is None and "ring is for #8-32" in reason_text(rows["volts"])


def lacking_ground() -> Console:
    """Dials of which the second has no ground post of its own."""
    console = tiny_console(lamps=False)
    posts = tuple(post for post in console.posts if post.id != "dial2.ground")
    circuits = tuple(
        replace(one, posts=tuple(p for p in one.posts if p != "dial2.ground"))
        for one in console.circuits
    )
    loads = tuple(load for load in console.loads if load.ground_post != "dial2.ground")
    return replace(console, posts=posts, circuits=circuits, loads=loads)


def test_a_hub_without_a_post_says_so() -> None:
    """A circuit's missing post is the reason."""
    rows = {row.hub: row for row in compare_hubs(inputs_of(lacking_ground())).rows}
    assert reason_text(rows["dial2"]) == "it has no ground post"
    assert rows["dial1"].ending == rows["dial3"].ending == Ending.PROVED.value


def test_a_ring_that_does_not_fit_says_so() -> None:
    """A pigtail's own ring of another thread rules every stud out."""
    console = tiny_console(lamps=False)
    circuits = tuple(
        replace(one, pigtail=replace(one.pigtail, ring=ReadyRing("M4 x 0.7", 8, 60)))
        if one.name == "ground" and one.pigtail
        else one
        for one in console.circuits
    )
    table = compare_hubs(inputs_of(replace(console, circuits=circuits)))
    assert {reason_text(row) for row in table.rows} == {
        f"ground: the pigtail's own ring is for M4 x 0.7, and dial{n}.ground is a #8-32 UNC stud"
        for n in (1, 2, 3)
    }
    assert exit_of(table) is Exit.NO_PLAN and why_best(table.rows) == ""


def test_a_hub_out_of_reach_says_by_how_much() -> None:
    """Without extensions a short pigtail reaches only the near dial; the others tell the lack."""
    console = tiny_console(lamps=False, reach_mm=180)
    table = compare_hubs(inputs_of(console, plain_limits(extensions=False)))
    rows = {row.hub: row for row in table.rows}
    assert rows["dial1"].plan is not None
    assert "mm too short for dial3.ignition and may not be lengthened" in reason_text(rows["dial3"])


ONE_EACH = plain_limits(lugs_per_stud=1, wires_per_barrel=1)


def test_no_plan_with_a_hub_is_said_of_that_hub_only() -> None:
    """One lug with one wire a stud: no dial can pass the supply on, and all rows say so."""
    table = compare_hubs(inputs_of(tiny_console(lamps=False), ONE_EACH))
    assert {row.ending for row in table.rows} == {Ending.IMPOSSIBLE.value}
    assert {reason_text(row) for row in table.rows} == {
        "no plan with this hub: a second, different solve agrees"
    }


def test_no_answer_in_time_is_not_no_plan() -> None:
    """With no time at all nothing is said to be impossible, and the command ends with its code."""
    table = compare_hubs(read_inputs(SKIFF), time_limit_s=1e-6)
    searched = [row for row in table.rows if row.hub != "depth"]
    assert {row.ending for row in searched} == {Ending.NO_ANSWER.value}
    assert all(reason_text(row).startswith("no answer in time") for row in searched)
    assert not any("no plan exists" in reason_text(row) for row in searched)
    assert exit_of(table) is Exit.NO_ANSWER


def row(hub: str, ending: Ending, cost: int, bound: int, other: HubRow) -> HubRow:
    """A row with another's plan and a cost of its own."""
    return replace(other, hub=hub, ending=ending.value, cost=(cost,), bound=(bound,))


def test_a_row_not_proved_says_its_gap(skiff: tuple[Brief, HubTable]) -> None:
    """The gap in the row; and the best is best only as far as is known."""
    model = skiff[1].rows[1]
    rows = [
        row("a", Ending.PROVED, 1000, 1000, model),
        row("b", Ending.WITHIN_BOUND, 1200, 900, model),
    ]
    assert gap_text(rows[1]) == "at most wire and worths 30 mm could be saved (25.0 %)"
    said = why_best(rows)
    assert "is the best known so far" in said and said.endswith("Not settled yet: b.")
    assert exit_of(HubTable(tuple(rows), (), False)) is Exit.NOT_PROVED
    assert exit_of(HubTable(tuple(rows), (), True)) is Exit.INTERRUPTED
    bad = replace(rows[1], ending=REJECTED, plan=None, reasons=("length: too short",))
    assert exit_of(HubTable((rows[0], bad), (), False)) is Exit.REJECTED
    assert line_of(bad, rows[0]).reason == "length: too short"


def test_a_stopped_clock_keeps_what_is_known(monkeypatch: pytest.MonkeyPatch) -> None:
    """An interrupt while the search runs: every row is still told, none as impossible."""
    from lugwright.model.search.loop import Loop

    def interrupted(self: Loop) -> None:
        self.parts.clock.stop()

    monkeypatch.setattr(Loop, "run", interrupted)
    inputs = read_inputs(SKIFF)
    table = compare_hubs(inputs)
    kept = [row for row in table.rows if row.plan is not None]
    assert kept and all(row.ending != Ending.IMPOSSIBLE.value for row in kept)


def test_the_command_writes_page_and_csv_and_answers_in_json(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """One call: JSON with its format, the page in the plan folder, the CSV where it was asked for;
    planning afterwards may replace the folder."""
    monkeypatch.chdir(tmp_path)
    call = ["hubs", str(SKIFF), "--json", "--csv", "hubs.csv", "--quiet", "--sort", "wire"]
    assert run(call) == 0
    answer = json.loads(capsys.readouterr().out)
    assert (answer["answer"], answer["format"], answer["best"]) == ("hubs", 1, "speed")
    assert [one["hub"] for one in answer["hubs"]][:3] == ["speed", "volts", "fuel"]
    assert answer["hubs"][1]["difference"] == [1500]
    assert (tmp_path / "hubs.csv").read_text(encoding="utf-8").startswith("hub,ending,difference")
    page = tmp_path / "plans" / "sandbar-skiff" / "hubs.html"
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert run(["plan", str(SKIFF), "--quiet"]) == 0
    assert run(["hubs", str(SKIFF), "--quiet"]) == 0
    assert page.exists() and (page.parent / "plan.json").exists()


def test_hubs_frontier_and_tight_spots_are_of_one_question(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ways are found and the question is put together once, whatever is asked of it."""
    monkeypatch.chdir(tmp_path)
    posed, pose = [], pipeline.pose
    monkeypatch.setattr(pipeline, "pose", lambda inputs: posed.append(inputs) or pose(inputs))
    call = ["hubs", str(SKIFF), "--quiet", "--frontier", "--tight", "--time", "0.01"]
    assert run([*call, "--hold", "hub=fuel"]) in (Exit.NOT_PROVED, Exit.NO_ANSWER)
    assert [inputs.holds.told for inputs in posed] == [("hub fuel",)]


def test_an_unknown_column_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """The complaint lists what there is to sort by."""
    assert run(["hubs", str(SKIFF), "--sort", "beauty"]) == 2
    assert "'wire'" in capsys.readouterr().err


def test_the_same_question_gives_the_same_bytes(skiff: tuple[Brief, HubTable]) -> None:
    """Asked twice, table and page do not differ in a byte."""
    inputs, table = skiff
    again = compare_hubs(inputs)
    assert hubs_csv(again.rows) == hubs_csv(table.rows)
    before = pipeline.before_planning(inputs)
    assert hubs_page(again.rows, before) == hubs_page(table.rows, before)


def test_the_least_row_is_the_free_optimum() -> None:
    """Over all hubs the least cost is what the search over all hubs proves."""
    for seed in range(24, 30):
        case = random_case(seed)
        problem = build_problem(case.brief, case.routes())
        names = [one.name for one in case.console.instruments if one.hub_candidate]
        each = best_per_hub(problem, names, anywhere=not case.limits.one_hub)
        costs = [one.cost for one in each.values() if one.cost]
        assert (min(costs) if costs else ()) == best_choice(problem).cost


def test_a_held_hub_that_is_no_candidate_says_so() -> None:
    """The one row that is left tells why it has no plan."""
    console = tiny_console(lamps=False, hub_candidates=(1, 2))
    (only,) = compare_hubs(holding(inputs_of(console), [("hub", "dial3")])).rows
    assert only.plan is None and reason_text(only) == "it is not a hub candidate"


def test_a_strangers_folder_is_left_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder with somebody else's files is refused before any search."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "boat.jpg").write_text("", encoding="utf-8")
    assert run(["hubs", str(SKIFF), "--quiet", "--out", "photos"]) == 2
    assert "not a plan's" in capsys.readouterr().err
    assert [file.name for file in (tmp_path / "photos").iterdir()] == ["boat.jpg"]
