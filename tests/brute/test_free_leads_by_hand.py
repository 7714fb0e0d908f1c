"""Leads with a length, every number reckoned by hand (lengths in 0.1 mm).

Places are those of the dials in a row: a stud at 300, the lead's exit at 1300.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.limits import plain_limits

from brute.by_hand import BUTT, RING, WIRE, console, pigtail, post, two_dials
from brute.by_hand import best as best_with
from brute.case import Case
from brute.statements import FreeLead, Statements
from brute.test_joints_by_hand import only_hub, stock_of, with_post
from brute.test_ways_by_hand import LEAD, SHELF, keyed, stopped
from lugwright.limits.schema import Limits
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.console import Console, Load, Point, TiePoint

SHORTEST = plain_limits(objective="shortest")


def at(circuit: str, *places: tuple[int, int, int]) -> dict[str, tuple[SplicePoint, ...]]:
    """Candidates of a circuit."""
    numbered = enumerate(places, start=1)
    points = (SplicePoint(f"{circuit}~{n}", circuit, Point(*place)) for n, place in numbered)
    return {circuit: tuple(points)}


def best(
    given: Console,
    splices: dict[str, tuple[SplicePoint, ...]],
    lengths: dict[str, int],
    limits: Limits = SHORTEST,
) -> tuple[int, ...] | None:
    """The least cost with these leads' lengths."""
    leads = tuple(FreeLead(name, length) for name, length in lengths.items())
    return best_with(given, limits, SHELF, splices, Statements(free_leads=leads))


def with_lead() -> Console:
    """Dials a and b; b's ignition is a lead."""
    return with_post(two_dials(), "b.ignition", **LEAD)


ROW = at("ignition", (800, 0, 0), (1000, 0, 0), (1250, 0, 0))


@pytest.mark.parametrize(
    ("length", "found"),
    [(500, 500), (499, 700), (300, 700), (299, 950), (50, 950), (49, None)],
)
def test_its_end_is_brought_as_near_as_it_reaches(length: int, found: int | None) -> None:
    """From 1300 to 800 are 500, to 1000 300, to 1250 50; the jumper starts at 300.

    A ring at a, a butt of lead and jumper; with nothing in reach there is no plan.
    """
    cost = None if found is None else (found, 0, 2)
    assert best(with_lead(), ROW, {"b.ignition": length}) == cost


def test_one_re_termination_is_kept_and_no_slack() -> None:
    """500 of path, 20 for another end: 520. The jumper of 500 has 5 % of slack, the lead none."""
    limits = replace(SHORTEST, re_termination_dmm=20, slack_permille=50)
    assert best(with_lead(), ROW, {"b.ignition": 520}, limits) == (525, 0, 2)
    assert best(with_lead(), ROW, {"b.ignition": 519}, limits) == (735, 0, 2)


def test_heights_count_in_its_reach() -> None:
    """A candidate 30 up: 530 of lead; and the jumper has 500 + 30."""
    high = at("ignition", (800, 0, 30))
    assert best(with_lead(), high, {"b.ignition": 530}) == (530, 0, 2)
    assert best(with_lead(), high, {"b.ignition": 529}) is None


def test_its_joint_is_a_joint_at_a_lead() -> None:
    """By the kinds of fitting for leads; its own wire counts; it never lands the supply."""
    given, lengths = with_lead(), {"b.ignition": 500}
    butt_only = replace(SHORTEST, lead_kinds=("closed end",))
    assert best(given, ROW, lengths, butt_only) is None
    assert best(given, ROW, lengths, replace(SHORTEST, wires_per_splice=1)) is None
    assert best(only_hub(given, "b"), ROW, lengths) is None
    weak = stock_of(RING, replace(BUTT, carries_ma=499))
    more = Statements(free_leads=(FreeLead("b.ignition", 500),))
    assert best_with(given, SHORTEST, weak, ROW, more) is None
    strong = stock_of(RING, replace(BUTT, carries_ma=500))
    assert best_with(given, SHORTEST, strong, ROW, more) == (500, 0, 2)


def test_two_leads_at_one_place_are_two_joints() -> None:
    """Leads at 1300 and 1500 brought to 900: 400 and 600. 600 from a, and nothing between them.

    At a a ring, two butts; the piece between has the least length. With 599 the second cannot.
    """
    posts = [
        post("a", "ignition", 300, 0),
        post("b", "ignition", 1300, 0, **LEAD),
        post("c", "ignition", 1500, 0, **LEAD),
    ]
    loads = [Load(each.instrument, each.id, "", 500, "other") for each in posts]
    given = console(posts, loads, ignition=pigtail("ignition"))
    place = at("ignition", (900, 0, 0))
    lengths = {"b.ignition": 400, "c.ignition": 600}
    assert best(given, place, lengths) == (600, 0, 3)
    least = replace(SHORTEST, minimum_jumper_dmm=80)
    assert best(given, place, lengths, least) == (680, 0, 3)
    assert best(given, place, {**lengths, "c.ignition": 599}) is None


def test_one_place_for_a_lead_s_end_and_a_splice() -> None:
    """Studs at (0, 0), (1200, 0) and (600, 600); the lead comes from (600, 900) to (600, 300).

    From there 671, 671 and 300. A lead's joint of four takes all: three rings and it. Of three
    (the lead's wire and two more) the third stud hangs on the one above, 849 for 671; or a splice
    at the same place takes two studs and a piece of the least length to the lead's joint, which
    no distance from splice to post forbids.
    """
    places = {"a": (0, 0), "d": (1200, 0), "e": (600, 600)}
    posts = [post(name, "ignition", x, y) for name, (x, y) in places.items()]
    posts.append(post("b", "ignition", 600, 900, **LEAD))
    loads = [Load("b", "b.ignition", "", 500, "other")]
    given = console(posts, loads, ignition=pigtail("ignition"))
    middle, lengths = at("ignition", (600, 300, 0)), {"b.ignition": 600}
    assert best(given, middle, lengths) == (1642, 0, 4)
    three = replace(SHORTEST, wires_per_splice=3)
    assert best(given, middle, lengths, three) == (1820, 0, 4)
    spliced = replace(three, splices=True)
    assert best(given, middle, lengths, spliced) == (1642, 0, 5)
    least = replace(spliced, minimum_jumper_dmm=80)
    assert best(given, middle, lengths, least) == (1722, 0, 5)
    apart = replace(spliced, splice_to_post_dmm=1)
    assert best(given, middle, lengths, apart) == (1820, 0, 4)


def test_a_far_post_s_lead_is_brought_towards_its_hub() -> None:
    """From its exit at 100 to 280 are 180: one jumper of 20 on to a, then 1000 and 200."""
    given, place = keyed(far=LEAD), at("ignition", (280, 0, 0))
    assert best(given, place, {"key.ignition": 180}) == (1220, 0, 5)
    assert best(given, place, {"key.ignition": 179}) is None


def test_a_stop_s_pigtail_lands_on_its_end() -> None:
    """The kill switch's lead, from 400 to 150: 250. 150 of stop and 400 of ground.

    The pigtail comes in at 500: 350 to the lead's end, 500 to the key's stud.
    """
    given, place = stopped(**LEAD), at("stop", (150, 0, 0))
    for reach, found in ((350, (550, 0, 4)), (349, None)):
        circuits = tuple(
            replace(each, pigtail=replace(each.pigtail, entry=Point(500, 0, 0), reach_dmm=reach))
            if each.name == "stop" and each.pigtail
            else each
            for each in given.circuits
        )
        made = replace(given, circuits=circuits)
        assert best(made, place, {"kill.stop": 250}) == found
        assert best(made, place, {"kill.stop": 249}) is None


def test_a_lead_that_need_not_be_joined_needs_no_end() -> None:
    """An unloaded optional lead stays out, in reach or not; then a alone has the pigtail."""
    given = with_post(two_dials(), "b.ignition", **LEAD, optional=True)
    given = replace(given, loads=given.loads[:1])
    for length in (500, 10):
        assert best(given, ROW, {"b.ignition": length}) == (0, 0, 1)


def test_it_is_a_conductor_on_the_loom_legs_it_runs_along() -> None:
    """Ties at 500 and 1000; the lead goes from 1300 over both, 800, and the jumper has 200.

    16 AWG at 105 C stands 25 A, two conductors together 70 % of it, 17.5 A. The pigtail from the
    left is not on that leg; from the right it is.
    """
    one, other = (TiePoint("t1", Point(500, 0, 0), ("t2",)), TiePoint("t2", Point(1000, 0, 0), ()))
    given = only_hub(replace(with_lead(), tie_points=(one, other)), "a")
    end = {"ignition": (SplicePoint("ignition~1", "ignition", one.at, "t1"),)}
    limits = replace(SHORTEST, bundle_rule="e11-dc")
    for entry, current, found in (
        (0, 25_000, (200, 0, 2)),
        (0, 25_001, None),
        (1300, 17_500, (200, 0, 2)),
        (1300, 17_501, None),
    ):
        circuit = given.circuits[0]
        own = replace(pigtail("ignition"), entry=Point(entry, 0, 0))
        loads = (Load("b", "b.ignition", "", current, "other"),)
        made = replace(given, loads=loads, circuits=(replace(circuit, pigtail=own),))
        assert best(made, end, {"b.ignition": 800}, limits) == found
        assert best(made, end, {"b.ignition": 799}, limits) is None


def test_only_a_lead_has_a_length() -> None:
    """A stud has none."""
    with pytest.raises(ValueError, match="only a lead"):
        best(two_dials(), ROW, {"b.ignition": 500})


def test_the_same_with_everything_kept() -> None:
    """The enumerator finds the same when it leaves nothing out."""
    thin = replace(WIRE, area_um2=800_000)
    given = with_post(with_lead(), "b.ignition", lead=thin)
    more = Statements(free_leads=(FreeLead("b.ignition", 400),))
    limits = replace(SHORTEST, splices=True)
    case = Case(given, limits, SHELF, 0, frozenset(), ROW, more)
    assert case.best().cost == case.best(thorough=True).cost == (700, 0, 2)
