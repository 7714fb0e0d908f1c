"""The question as posed: nodes, edges, landings, room on studs, currents, what is judged."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.asking import add_stud, change_pigtail, change_post, pose, roomy_limits, stock_of
from support.consoles import THREAD, place, tiny_console

from lugwright.base.scale import ceil_hypot
from lugwright.problem.schema import CircuitQuestion, Edge
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.console import ReadyRing
from lugwright.trade.demand import circuit_totals, demand_by_post
from lugwright.trade.drops import drop_limit_nv
from lugwright.trade.fuses import Fuse, fuse_ahead, fuse_allowed_ma

TWO_DIALS = [(60, 60), (160, 60)]


def edge(question: CircuitQuestion, a: str, b: str) -> Edge:
    """The one edge between two joints."""
    (found,) = [e for e in question.edges if {e.a, e.b} == {a, b}]
    return found


def test_circuits_and_edges_by_name() -> None:
    """Circuits in order of their names, edges once each with the lesser joint first."""
    problem = pose(tiny_console())
    assert [c.name for c in problem.circuits] == ["ground", "ignition", "lamps"]
    ground = problem.circuit("ground")
    assert [(e.a, e.b, e.length_dmm) for e in ground.edges] == [
        ("dial1.ground", "dial2.ground", 1000),
        ("dial1.ground", "dial3.ground", 2000),
        ("dial2.ground", "dial3.ground", 1000),
    ]
    assert ground.take_off == ()
    with pytest.raises(KeyError):
        problem.circuit("bilge")
    with pytest.raises(KeyError):
        ground.choice("2 AWG")


def test_take_off_edges_run_from_every_stud_of_the_host() -> None:
    """Two ignition studs to two lamps; a tab among them is left out."""
    problem = pose(tiny_console(TWO_DIALS))
    lamps = problem.circuit("lamps")
    assert {(e.a, e.b) for e in lamps.take_off} == {
        (f"dial{a}.ignition", f"dial{b}.lamp") for a in (1, 2) for b in (1, 2)
    }
    assert problem.circuit("ignition").takers == ("lamps",)
    tabbed = change_post(
        tiny_console(TWO_DIALS), "dial1.ignition", kind="tab", thread="", tab_size="6.3 x 0.8"
    )
    assert {e.a for e in pose(tabbed).circuit("lamps").take_off} == {"dial2.ignition"}


def test_lengths_are_cut_lengths() -> None:
    """1000 × 1.05 + 2 × 30 = 1110, up to 1150 in steps of 50; never less than the minimum."""
    limits = roomy_limits(slack_permille=50, end_allowance_dmm=30, cut_step_dmm=50)
    ground = pose(tiny_console(TWO_DIALS), limits).circuit("ground")
    assert edge(ground, "dial1.ground", "dial2.ground").length_dmm == 1150
    long = pose(tiny_console(TWO_DIALS), roomy_limits(minimum_jumper_dmm=1234)).circuit("ground")
    assert edge(long, "dial1.ground", "dial2.ground").length_dmm == 1234


def test_linked_posts_are_one_node() -> None:
    """Two studs of one bar: one node of both, needed when one of them is; no edge inside it."""
    console = tiny_console(TWO_DIALS, lamps=False)
    for number, optional in ((1, True), (2, False)):
        at = place(60, 80 + 20 * number, 50)
        console = add_stud(
            console, f"dial1.bar{number}", "ground", at, link="bar", optional=optional
        )
    ground = pose(console).circuit("ground")
    bar = next(node for node in ground.nodes if node.name == "dial1 link: bar")
    assert bar.joints == ("dial1.bar1", "dial1.bar2")
    assert bar.needed
    assert not any({e.a, e.b} == set(bar.joints) for e in ground.edges)
    console = change_post(console, "dial1.bar2", optional=True)
    nodes = {node.name: node.needed for node in pose(console).circuit("ground").nodes}
    assert nodes["dial1 link: bar"] is False


def test_splice_points_are_nodes_where_splices_are_allowed() -> None:
    """A used splice point is a node that is not needed; too near a post there is no edge to it."""
    console = tiny_console(TWO_DIALS, lamps=False)
    point = SplicePoint(
        "ground~1", "ground", place(100, 55, 50)
    )  # 300 from dial 1, 700 from dial 2
    splices = {"ground": (point,)}
    ground = pose(
        console, roomy_limits(splices=True, splice_to_post_dmm=301), splices=splices
    ).circuit("ground")
    node = next(node for node in ground.nodes if node.is_splice)
    assert (node.name, node.needed) == ("ground~1", False)
    assert [(e.a, e.b) for e in ground.edges if "ground~1" in (e.a, e.b)] == [
        ("dial2.ground", "ground~1")
    ]
    off = pose(console, roomy_limits(splices=False), splices=splices).circuit("ground")
    assert not any(node.is_splice for node in off.nodes)


def test_landings() -> None:
    """Candidates' studs and tabs; a ring lands on its thread alone, an extension takes it off."""
    console = tiny_console(TWO_DIALS, lamps=False, hub_candidates=[2])
    assert [x.post for x in pose(console).circuit("ground").landings] == ["dial2.ground"]
    ringed = change_pigtail(console, "ground", ring=ReadyRing("#10-32 UNF", 8, 45))
    assert pose(ringed).circuit("ground").landings == ()
    fitting_ring = change_pigtail(console, "ground", ring=ReadyRing(THREAD, 8, 45))
    question = pose(fitting_ring).circuit("ground")
    assert len(question.landings) == 1
    assert question.supply is not None
    assert question.supply.end_type == ""
    short = change_pigtail(ringed, "ground", reach_dmm=2000)
    (landing,) = pose(short, roomy_limits(extensions=True)).circuit("ground").landings
    # from the corner to (170, 55), 50 high: ceil(hypot(1700, 550)) + 500, less the reach of 2000
    assert landing.extension_dmm == ceil_hypot(1700, 550) + 500 - 2000


def test_room_on_a_stud() -> None:
    """9 mm of thread less nut 3.2, washer 1.0, showing 1.2 (1.5 × 0.8) and a reserved 1.0: 2.6."""
    console = change_post(
        tiny_console(TWO_DIALS),
        "dial1.ground",
        reserved=1,
        reserved_tongue_dmm=10,
        reserved_angle_deg=60,
    )
    limits = roomy_limits(lock_washer=True, showing_thread_permille=1500)
    stud = pose(console, limits).studs["dial1.ground"]
    assert (stud.thread_dmm, stud.places, stud.reserved, stud.reserved_angle_deg) == (26, 4, 1, 60)
    assert "dial1.lamp" not in pose(console, limits).studs


def test_a_stud_of_a_thread_without_hardware() -> None:
    """The table of nuts has no such thread: a KeyError that names it."""
    stock = replace(stock_of(), hardware=())
    with pytest.raises(KeyError, match=THREAD):
        pose(tiny_console(TWO_DIALS), stock=stock)


def test_currents_of_posts_and_circuits() -> None:
    """A dial 100, its lamp 150, its sender 50: ground posts carry all three."""
    console = tiny_console(TWO_DIALS, senders=[2])
    demand = demand_by_post(console)
    assert (demand["dial1.ignition"], demand["dial1.lamp"], demand["dial1.ground"]) == (
        100,
        150,
        250,
    )
    assert (demand["dial2.ignition"], demand["dial2.ground"], demand["dial2.signal"]) == (
        150,
        300,
        0,
    )
    assert circuit_totals(console) == {"ignition": 550, "ground": 550, "lamps": 300}


def test_drop_paths_name_both_posts_and_the_limit() -> None:
    """3 % of 12 V is 360 mV: 360 000 000 nV. A sender's own path is not judged."""
    problem = pose(
        tiny_console(TWO_DIALS, senders=[1]),
        roomy_limits(drop_critical_permille=30, drop_other_permille=100),
    )
    assert [(p.load, p.feed_post, p.ground_post, p.limit_nv) for p in problem.drops] == [
        ("dial1", "dial1.ignition", "dial1.ground", 360_000_000),
        ("dial1 lamp", "dial1.lamp", "dial1.ground", 1_200_000_000),
        ("dial2", "dial2.ignition", "dial2.ground", 360_000_000),
        ("dial2 lamp", "dial2.lamp", "dial2.ground", 1_200_000_000),
    ]
    assert drop_limit_nv(problem.console, problem.limits, "critical", "") == 360_000_000


def test_ground_shifts_only_with_their_limit() -> None:
    """One for each sender with current, between its dial's ground and where it returns."""
    console = tiny_console(TWO_DIALS, senders=[2])
    assert pose(console).shifts == ()
    (shift,) = pose(console, roomy_limits(ground_shift_mv=5)).shifts
    assert (shift.sender, shift.dial_post, shift.return_post) == (
        "sender2",
        "dial2.ground",
        "dial2.ground",
    )
    assert shift.limit_nv == 5_000_000


def test_the_fuse_that_stands_before_a_circuit() -> None:
    """Its own pigtail's, or that of what it is taken from; allowed up to a share of the table."""
    console = tiny_console(TWO_DIALS)
    assert fuse_ahead(console, console.circuit("lamps")) == Fuse(10_000, "ignition")
    assert fuse_allowed_ma(25_000, roomy_limits(fuse_permille=1500), "") == 37_500
    assert fuse_allowed_ma(333, roomy_limits(fuse_permille=1001), "") == 333
