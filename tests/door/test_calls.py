"""The five calls of ``import lugwright``: what they return, and that an end is a value."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import networkx
import pytest

import lugwright
from lugwright.scenario.brief import Brief

SCENARIOS = Path(__file__).parents[2] / "scenarios"
SKIFF = SCENARIOS / "sandbar-skiff.toml"


@pytest.fixture(scope="module")
def console() -> Brief:
    """The skiff, read."""
    return lugwright.read(SKIFF)


@pytest.fixture(scope="module")
def answer(console: Brief) -> lugwright.Answer:
    """The skiff, planned."""
    return lugwright.plan(console)


@pytest.fixture(scope="module")
def view(answer: lugwright.Answer) -> Iterator[lugwright.PlanView]:
    """The skiff's plan."""
    assert answer.plan is not None
    yield answer.plan


def test_importing_loads_nothing_of_ours() -> None:
    """The door's rooms are loaded when a name is first asked for."""
    code = (
        "import sys, lugwright; "
        "print(sorted(n for n in sys.modules if n.startswith(('lugwright.', 'pandas', 'networkx',"
        " 'ortools', 'pydantic'))))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_public_names_are_the_doors(console: Brief) -> None:
    """Each name is what its place holds, also once rooms beneath have been loaded."""
    from lugwright.door import calls

    assert console.console.title == "Sandbar skiff, four dials"
    for name in ("read", "plan", "check", "hubs", "write"):
        assert getattr(lugwright, name) is getattr(calls, name)
        assert name in dir(lugwright)
    with pytest.raises(AttributeError, match="no attribute 'wire'"):
        _ = lugwright.wire


def test_an_answer_is_a_value(answer: lugwright.Answer) -> None:
    """Proved best: cost is the bound and no gap is left."""
    assert (answer.status, answer.proved, answer.gap) == ("proved best", True, 0.0)
    assert answer.cost == answer.bound
    assert answer.reasons == ()
    assert "1345 mm of wire, 2 stacked lugs, 16 fittings" in repr(answer)


def test_no_plan_is_a_value_with_its_reasons() -> None:
    """Nothing raises where no plan exists; the reasons are in the trade's words."""
    answer = lugwright.plan(lugwright.read(SCENARIOS / "too-many-rings.toml"))
    assert (answer.status, answer.plan, answer.gap) == ("no plan exists", None, None)
    assert any("lugs" in reason for reason in answer.reasons)


def test_bad_input_raises_with_its_place(tmp_path: Path) -> None:
    """Only bad input raises."""
    wrong = tmp_path / "wrong.toml"
    wrong.write_text(SKIFF.read_text(encoding="utf-8").replace("420 mm", "420 mn"))
    with pytest.raises(lugwright.BadInput, match=r"wrong\.toml"):
        lugwright.read(wrong)


def test_settings_and_holds_are_obeyed(console: Brief) -> None:
    """A limit set by the call, and a held hub."""
    slack = lugwright.read(SKIFF, settings={"slack": "0 %", "cut_step": "1 mm"})
    assert (slack.limits.slack_permille, slack.limits.cut_step_dmm) == (0, 10)
    held = lugwright.plan(console, holds={"hub": "fuel"})
    assert held.plan is not None
    assert held.plan.hub == "fuel"


def test_tables_are_frames_of_numbers(view: lugwright.PlanView) -> None:
    """The cut list adds up to the plan's own total; figures are numbers."""
    cut = view.tables["cut"]
    assert cut["length_mm"].sum() * 10 == view.record.totals.wire_dmm
    assert list(cut["label"]) == [jumper.label for jumper in view.record.jumpers]
    assert len(view.tables) == len(list(view.tables))
    assert all(len(view.tables[name].columns) > 0 for name in view.tables)
    with pytest.raises(KeyError, match="there is no table 'cuts'; there are: buy"):
        _ = view.tables["cuts"]


def test_the_graph_is_the_wiring(view: lugwright.PlanView) -> None:
    """An edge for each jumper, keyed by its label; each circuit is a tree over its joints."""
    graph = view.graph()
    assert isinstance(graph, networkx.MultiGraph)
    edges = {key: data for _, _, key, data in graph.edges(keys=True, data=True)}
    assert set(edges) == {jumper.label for jumper in view.record.jumpers}
    assert math.isclose(
        sum(data["length_mm"] for data in edges.values()), view.record.totals.wire_dmm / 10
    )
    ground = graph.edge_subgraph(
        [edge for edge in graph.edges(keys=True) if edge[2].startswith("ground ")]
    )
    assert networkx.is_tree(ground)


def test_a_plan_shows_itself(view: lugwright.PlanView, answer: lugwright.Answer) -> None:
    """A notebook gets a line, the drawing as a picture, and the cautions."""
    html = answer._repr_html_()
    assert 'src="data:image/svg+xml;base64,' in html
    assert "<svg" not in html
    assert view.line in html
    assert all(caution.split("<")[0] in html for caution in view.record.cautions[:1])


def test_check_and_write(
    console: Brief, view: lugwright.PlanView, tmp_path: Path
) -> None:
    """The folder written is the one the checker passes; an edited length is found."""
    assert lugwright.check(console, view).passed
    names = lugwright.write(view, tmp_path / "skiff", page="Letter")
    assert "plan.json" in names
    assert lugwright.check(console, tmp_path / "skiff").passed
    data = json.loads((tmp_path / "skiff" / "plan.json").read_text(encoding="utf-8"))
    data["jumpers"][0]["length_dmm"] -= 500
    edited = tmp_path / "edited.json"
    edited.write_text(json.dumps(data), encoding="utf-8")
    assert not lugwright.check(console, edited).passed


def test_hubs_side_by_side(console: Brief) -> None:
    """Every candidate in a frame; the best is the plan's own hub."""
    hubs = lugwright.hubs(console)
    assert hubs.best == "speed"
    assert hubs.why.startswith("speed is best")
    assert hubs.table.loc["speed", "wire_mm"] == 1345
    assert set(hubs.plans) == {"fuel", "speed", "volts"}


def test_ways_of_devices_are_edges_of_the_graph_and_in_the_tables() -> None:
    """The graph joins both sides of every way; current from battery to dials can be followed."""
    view = lugwright.plan(lugwright.read(SCENARIOS / "key-fuses-dimmer.toml")).plan
    assert view is not None
    graph = view.graph()
    ways = {key: facts for _, _, key, facts in graph.edges(keys=True, data=True)}
    assert ways["way key.ign"]["kind"] == "switch"
    assert ways["way fuses.f1"]["fuse_ma"] == 5000
    assert networkx.has_path(graph, "key.bat", "tachometer.lamp")
    cut = [e for e in graph.edges(keys=True, data="role") if e[3] == "way"]
    assert len(cut) == len(view.record.ways)
    graph.remove_edges_from([(a, b, key) for a, b, key, _ in cut])
    assert not networkx.has_path(graph, "key.bat", "tachometer.lamp")
    landings = view.tables["landings"]
    assert "fuses.f1" in set(landings["pigtail"])
