"""What the benchmark of growth makes of its runs: jobs, rows, tables and plots."""

from __future__ import annotations

import argparse
import json
import re
import sys
from pathlib import Path
from typing import Any

import pytest
from child import run_child
from hand_plan import figures
from scale import WAYS, Job, estimate, jobs, key_of, measure, read_options, solve, write
from scale_limits import RULES, loose
from scale_plots import GROWING, gap_plot, growth, write_plots
from scale_table import USUAL_DROP, binding_rules, gap, limits_text, table, times_the_milp
from support.made_plan import small_plan

from lugwright.limits.defaults import built_in

ROOT = Path(__file__).resolve().parents[2]
ABOUT = {
    "date": "2026-11-28T10:00:00+00:00",
    "cpus": 2,
    "machine": "Linux",
    "python": "3.11",
    "seed": 1,
    **dict.fromkeys(("ortools", "highspy", "pyscipopt"), "1.0"),
}


def options(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *words: str) -> argparse.Namespace:
    """A command line as read."""
    monkeypatch.setattr(sys, "argv", ["scale.py", "--json", str(tmp_path / "all.json"), *words])
    return read_options()


def row(size: int, way: str, ending: str = "proved", **more: Any) -> dict[str, Any]:
    """A row as the benchmark writes it."""
    return {
        "instruments": size,
        "circuits": 3,
        "layout": "grid",
        "limits": "loose",
        "settings": [],
        "tabs_waived": False,
        "seed": 1,
        "way": way,
        "seconds": 60.0,
        "ending": ending,
        "cost": [1000],
        "bound": [1000],
        "cpu_s": 5.0,
        "solve_cpu_s": 4.0,
        "posed_cpu_s": 1.0,
        "wall_s": 6.0,
        "peak_mb": 100,
        **more,
    }


# -- jobs ------------------------------------------------------------------------------------------


def test_what_is_asked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The MILP only under loose limits, brute force only on small consoles, rules only for ours."""
    asked = options(tmp_path, monkeypatch, "--binds", "8", "--other-most", "8")
    found = list(jobs(asked))
    milps = [job for job in found if job.way in ("HiGHS", "SCIP")]
    assert {(job.limits.name, job.layout) for job in milps} == {("loose", "grid")}
    assert max(job.instruments for job in milps) == 8
    assert {job.instruments for job in found if job.way == "brute force"} == {4, 5}
    less = [job for job in found if "without" in job.limits.name]
    assert {job.way for job in less} == {"ours"}
    assert {job.limits.name for job in less} == {f"binding without {rule}" for rule in RULES}
    assert {job.instruments for job in less} == {4, 5, 8}
    assert {job.way for job in found} == set(WAYS)


def test_the_estimate_is_the_most_it_takes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every run at its limit and its grace; or as long as it took before."""
    asked = options(tmp_path, monkeypatch, "--sizes", "4", "--ways", "ours", "--limits", "loose")
    found = list(jobs(asked))
    assert len(found) == 6
    most = f"all: 6 runs, at most {6 * 90 / 3600:.2f} h wall"
    assert estimate(found, 30.0, []).endswith(most)
    before = [row(4, "ours", wall_s=18.0), row(4, "greedy")]
    likely = f"{most}, {(5 * 90 + 18) / 3600:.2f} h going by 1 runs before"
    assert estimate(found, 30.0, before).endswith(likely)


def test_an_unknown_way_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the ways there are."""
    with pytest.raises(SystemExit, match="greedy"):
        list(jobs(options(tmp_path, monkeypatch, "--ways", "luck")))


# -- runs ------------------------------------------------------------------------------------------


def test_a_process_is_killed_at_its_limit() -> None:
    """It would sleep for an hour."""
    used = run_child([sys.executable, "-c", "import time; time.sleep(3600)"], 0.3)
    assert used.killed
    assert used.code < 0


def test_what_a_process_used() -> None:
    """Its exit code, and more memory than it asked for."""
    used = run_child([sys.executable, "-c", "x = bytes(50 << 20); raise SystemExit(3)"], 60)
    assert (used.code, used.killed) == (3, False)
    assert used.peak_mb >= 50


def test_a_row_of_ours(tmp_path: Path) -> None:
    """Proved and checked, with best and bound over time up to the end."""
    found = solve(Job(4, 3, "grid", loose(4), "ours", 120.0), tmp_path, 60.0, 0)
    assert (found["ending"], found["findings"], found["cost"]) == ("proved", 0, found["bound"])
    progress = found["progress"]
    assert isinstance(progress, list)
    assert progress[-1][2:] == [found["cost"], found["bound"]]
    assert json.loads(json.dumps(found)) == {**found, "settings": []}


def test_a_way_that_fails_says_so(tmp_path: Path) -> None:
    """A limit that does not exist: the row keeps the words of the fault."""
    wrong = loose(4).__class__("loose", ("no_such_limit=1",))
    found = solve(Job(4, 3, "grid", wrong, "hand plan", 60.0), tmp_path, 60.0, 0)
    assert found["ending"] == "fault"
    assert "no_such_limit" in str(found["words"])


def test_what_is_done_is_not_done_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A run that was broken off goes on where it stopped, and does faults over."""
    asked = options(
        *(tmp_path, monkeypatch, "--sizes", "4", "--layouts", "grid", "--circuits", "3"),
        *("--limits", "loose", "--ways", "hand plan,greedy"),
    )
    kept = {**row(4, "hand plan"), "note": "kept"}
    fault = row(4, "greedy", "fault")
    result: dict[str, Any] = {"runs": [], "rows": [kept, fault]}
    measure(asked, result)
    written = json.loads((tmp_path / "all.json").read_text(encoding="utf-8"))
    assert [each["way"] for each in written["rows"]] == ["hand plan", "greedy"]
    assert written["rows"][0]["note"] == "kept"
    assert written["rows"][1]["ending"] == "not proved"
    assert str(tmp_path) not in json.dumps(written)


def test_another_time_is_another_question() -> None:
    """A row of 60 seconds does not stand for one of 120."""
    assert key_of(row(8, "ours")) != key_of(row(8, "ours", seconds=120.0))


# -- tables ----------------------------------------------------------------------------------------


def test_the_gap() -> None:
    """Of the cost, and none without a plan."""
    assert gap(row(8, "ours", cost=[200], bound=[190])) == 0.05
    assert gap(row(8, "ours", cost=None)) is None


def test_how_many_times_faster() -> None:
    """Over the faster of the two MILPs; a run its time ended is a lower bound."""
    ours = row(16, "ours", solve_cpu_s=2.0)
    slow = row(16, "HiGHS", "no answer", solve_cpu_s=60.0, cost=None, bound=None)
    assert times_the_milp([ours, slow]) == "> 30.0"
    assert times_the_milp([ours, slow, row(16, "SCIP", solve_cpu_s=21.0)]) == "10.5"
    assert times_the_milp([ours]) == ""


def test_which_rules_bind() -> None:
    """A rule binds whose absence is cheaper; what is not proved says nothing."""

    def own(limits: str, cost: int, ending: str = "proved", bound: int = 0) -> dict[str, Any]:
        more = {"cost": [cost], "bound": [bound or cost]}
        return {**row(8, "ours", ending), "limits": limits, **more}

    rows = [
        own("binding", 1000),
        own("binding without drop", 900),
        own("binding without thread", 1000),
        own("binding without barrels", 1000, "not proved", 800),
        own("binding without bundles", 950, "not proved", 800),
    ]
    assert binding_rules(rows) == {(8, 3, "grid"): (["bundles", "drop"], ["thread"])}


def test_every_row_says_its_limits() -> None:
    """The drop of each layout, read from the row: the usual one where nothing was set."""
    wide = {**row(60, "ours"), "layout": "row", "settings": ["drop_critical=20 %"]}
    usual = row(60, "ours")
    assert limits_text([usual]) == "loose, drop 3 %"
    assert limits_text([usual, wide]) == "loose, drop 20/3 %"
    assert f"{built_in().drop_critical_permille / 10:g} %" == USUAL_DROP


def test_the_readme_has_the_rows_that_were_measured() -> None:
    """Every row of its tables of grown consoles is one of those made from the kept results."""
    result = json.loads((ROOT / "benchmarks/results/growth.json").read_text("utf-8"))
    made = set(table(result).splitlines())
    told = (ROOT / "benchmarks" / "README.md").read_text("utf-8")
    grown = re.findall(r"^\| \d+ \| \d \| .*$", told, re.M)
    assert grown and set(grown) <= made


def test_money_of_the_hand_plan_is_the_programs_own() -> None:
    """Rounded up to the cent, as on every sheet."""
    plan = small_plan()
    money = plan.totals.model_copy(update={"money_micro": 12_001})
    assert figures(plan.model_copy(update={"totals": money})).endswith(", 0.02")


def test_the_tables_tell_what_was_measured() -> None:
    """Seconds, gaps, ratios, rules of thumb and limits; costs that differ are shouted."""
    rows = [
        row(16, "ours", cost=[1000], solve_cpu_s=2.0),
        row(16, "HiGHS", "not proved", cost=[1100], bound=[990], solve_cpu_s=60.0),
        row(16, "hand plan", "not proved", cost=[1100], bound=None, findings=0),
        row(16, "greedy", "not proved", cost=[1050], bound=None, findings=0),
        row(20, "hand plan", "not proved", cost=[1100], bound=None, findings=2),
    ]
    text = table({"runs": [ABOUT], "rows": rows})
    for piece in ("60.0 (10.0%)", "> 30.0", "+10.0%", "+5.0%", "2 faults", "the usual rule set"):
        assert piece in text
    assert "DIFFER" not in text
    rows.append(row(16, "SCIP", cost=[999]))
    assert "DIFFER" in table({"runs": [ABOUT], "rows": rows})


# -- plots -----------------------------------------------------------------------------------------


def test_the_growth_plot_has_a_line_for_each_way() -> None:
    """Ours, one model, both MILPs and brute force, each by name; an open mark where time ended."""
    rows = [row(size, way) for size in (4, 8) for way in GROWING]
    svg = growth([*rows, row(12, "SCIP", "no answer")])
    assert all(svg.count(f'id="line {way}"') == 1 for way in GROWING)
    assert re.findall(r'id="open ([^"]+)"', svg) == ["SCIP"]
    assert growth([*rows, row(12, "SCIP", "no answer")]) == svg


def test_the_gap_plot_is_of_the_largest_consoles(tmp_path: Path) -> None:
    """A line for each layout that had a plan; the others are named."""
    progress = [[1.0, 1.0, None, [900]], [2.0, 2.0, [1100], [900]], [9.0, 9.0, [1000], [1000]]]
    large = row(60, "ours", progress=progress)
    rows = [row(4, "ours", progress=progress), large, {**large, "layout": "row", "circuits": 6}]
    rows.append({**large, "layout": "scattered", "ending": "no answer", "progress": []})
    svg = gap_plot(rows)
    assert svg.count('id="line ') == 2
    assert "60 instruments, loose limits (no plan in time: 3 circuits, scattered)" in svg
    result = {"runs": [ABOUT], "rows": rows}
    assert [path.name for path in write_plots(result, tmp_path)] == ["growth.svg", "gap.svg"]


def test_a_result_is_written_whole(tmp_path: Path) -> None:
    """Nothing of the writing is left beside it."""
    write(tmp_path / "all.json", {"rows": []})
    assert [path.name for path in tmp_path.iterdir()] == ["all.json"]
