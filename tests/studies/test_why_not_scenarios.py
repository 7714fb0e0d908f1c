"""Why there is no plan: consoles of every kind of "no", with what must be named."""

from dataclasses import replace
from pathlib import Path

import pytest
from support.explaining import (
    SCENARIOS,
    assert_irreducible,
    has_plan,
    member,
    members_of,
    question_of,
)
from support.seeds import every

from lugwright.routes.build import build_routes
from lugwright.scenario.brief import Brief
from lugwright.studies.question import Verdict
from lugwright.studies.schema import WhyNot
from lugwright.studies.why_not import OUT_OF_TIME, why_not
from lugwright.studies.words import why_lines

EXPECTED = {
    "too-many-rings": [{"lugs_per_stud"}],
    "impossible/short-studs": [{"free thread", "lock_washer", "showing_thread"}],
    "impossible/no-common-hub": [{"hub candidates", "one_hub", "reach", "extensions"}],
    "impossible/battery-too-far": [{"supply run size", "drop_critical"}],
    "impossible/out-of-reach": [{"reach", "extensions"}],
    "impossible/fuse-too-big": [{"given wire size", "in-line fuse", "fuse rating", "fuse_share"}],
    "impossible/no-barrel": [{"barrels in stock"}],
    "impossible/two-faults": [
        {"reserved lugs", "lugs_per_stud"},
        {"place of the fuse", "fuse_distance"},
    ],
}
# scenario, member, its suggestion's value, and one step less
LIMIT_WAYS = [
    ("too-many-rings", "lugs_per_stud", "5", "4"),
    ("impossible/battery-too-far", "drop_critical", "3.4 %", "3.3 %"),
    ("impossible/short-studs", "showing_thread", "0.3 pitches", "0.4 pitches"),
    ("impossible/short-studs", "lock_washer", "no", "yes"),
    ("impossible/out-of-reach", "extensions", "yes", "no"),
    ("impossible/no-common-hub", "one_hub", "no", "yes"),
]
# scenario, member, the suggestion's words, what to write in the file for it, and one step less
FACT_WAYS = [
    (
        "impossible/out-of-reach",
        "reach",
        "500 mm of reach for pigtail ignition",
        'reach = "380 mm"',
        'reach = "500 mm"',
        'reach = "490 mm"',
    ),
    (
        "impossible/fuse-too-big",
        "fuse rating",
        "a 15 A fuse at pigtail ignition",
        'fuse = "30 A"',
        'fuse = "15 A"',
        'fuse = "20 A"',
    ),
    (
        "impossible/battery-too-far",
        "supply run size",
        "the supply run of pigtail ignition in 12 AWG",
        '"7.5 A", to_source = { one_way = "26 m", wire_size = "14 AWG" }',
        '"7.5 A", to_source = { one_way = "26 m", wire_size = "12 AWG" }',
        '"7.5 A", to_source = { one_way = "26 m", wire_size = "14 AWG" }',
    ),
    (
        "impossible/no-common-hub",
        "hub candidates",
        "fuel as hub",
        'centre = ["190 mm", "90 mm"]\nhub_candidate = false',
        'centre = ["190 mm", "90 mm"]\nhub_candidate = true',
        'centre = ["190 mm", "90 mm"]\nhub_candidate = false',
    ),
]
_told: dict[str, WhyNot] = {}


def told(name: str) -> WhyNot:
    """The explanation of a scenario, made once."""
    if name not in _told:
        _told[name] = why_not(question_of(name))
    return _told[name]


def with_text(tmp_path: Path, name: str, old: str, new: str) -> Path:
    """The scenario with one thing written otherwise."""
    text = (SCENARIOS / f"{name}.toml").read_text(encoding="utf-8")
    assert text.count(old) == 1
    path = tmp_path / "changed.toml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


@pytest.mark.parametrize("name", EXPECTED)
def test_the_limits_in_the_way_are_named(name: str) -> None:
    """The conflicts are the known ones, settled, each limit with its origin."""
    why = told(name)
    assert members_of(why) == EXPECTED[name]
    assert why.complete and why.note == "" and why.missing == ()
    for conflict in why.conflicts:
        assert all(one.without is Verdict.POSSIBLE and one.origin for one in conflict.members)


@pytest.mark.parametrize("name", every(2, sorted(EXPECTED)))
def test_none_of_them_can_be_left_out(name: str) -> None:
    """By fresh solves: together they have no plan, without any one of them there is one."""
    assert_irreducible(question_of(name), told(name), build_routes)


@pytest.mark.parametrize(("name", "limit", "enough", "short"), LIMIT_WAYS)
def test_a_limit_is_suggested_as_little_as_will_do(
    name: str, limit: str, enough: str, short: str
) -> None:
    """Set on the command line the suggestion gives a checked plan; one step less gives none."""
    way = member(told(name), limit).way
    assert way is not None and (way.value, way.least) == (enough, True)
    path = SCENARIOS / f"{name}.toml"
    assert has_plan(path, (f"{limit}={enough}",))
    assert not has_plan(path, (f"{limit}={short}",))


@pytest.mark.parametrize(("name", "fact", "words", "now", "enough", "short"), FACT_WAYS)
def test_a_fact_is_suggested_as_little_as_will_do(
    tmp_path: Path, name: str, fact: str, words: str, now: str, enough: str, short: str
) -> None:
    """Written in the file the suggestion gives a checked plan; one step less gives none."""
    way = member(told(name), fact).way
    assert way is not None and (way.text, way.least) == (words, True)
    assert has_plan(with_text(tmp_path, name, now, enough))
    assert not has_plan(with_text(tmp_path, name, now, short))


def test_the_words_have_place_and_numbers() -> None:
    """Wanted against allowed, where, by which limit from where, and the way out."""
    assert why_lines(told("too-many-rings")) == [
        "This cannot hold; without it a plan exists:",
        "  oil.ground: 5 lugs wanted, 4 allowed [lugs_per_stud = 4, from built-in rule set, "
        f"{told('too-many-rings').conflicts[0].members[0].origin.split(', ')[1]}]; "
        "possible with 5 lugs on a stud",
    ]


def test_a_share_above_its_published_range_is_never_suggested() -> None:
    """A 30 A fuse over a 15 A lead asks for 200 %; the most that may be set is 150 %."""
    found = member(told("impossible/fuse-too-big"), "fuse_share")
    assert (found.alone, found.way, found.unsettled) == (Verdict.POSSIBLE, None, False)
    assert any(
        "no value that may be set is enough by itself (1 % to 150 %)" in line
        for line in why_lines(told("impossible/fuse-too-big"))
    )


def test_two_conflicts_are_ended_together() -> None:
    """Where no change alone is enough the changes that are enough together are named."""
    why = told("impossible/two-faults")
    assert [(way.name, way.value) for way in why.together] == [
        ("lugs_per_stud", "6"),
        ("fuse_distance", "500 mm"),
    ]
    path = SCENARIOS / "impossible/two-faults.toml"
    assert not has_plan(path, ("lugs_per_stud=6",))
    assert not has_plan(path, ("lugs_per_stud=5", "fuse_distance=500 mm"))
    assert has_plan(path, ("lugs_per_stud=6", "fuse_distance=500 mm"))


def test_a_held_hub_that_cannot_be() -> None:
    """An instrument without studs held as the hub: that it may not be one, and why."""
    why = why_not(question_of("flying-leads", holds=(("hub", "depth"),)))
    assert members_of(why) == [{"held hub depth"}]
    assert (
        "depth may not be the hub: no stud or tab for ground and ignition on it"
        in (why_lines(why)[1])
    )


def test_holds_that_cannot_hold_together() -> None:
    """Fuel held as the hub, and nothing may go on from its ground: letting go of one will do."""
    holds = (("hub", "fuel"), ("last", "fuel.ground"))
    question = question_of("one-wire-per-barrel", ("wires_per_barrel=2",), holds)
    why = why_not(question)
    assert members_of(why) == [{"held hub fuel", "held last fuel.ground"}]
    assert_irreducible(question, why, build_routes)
    words = [one.way and one.way.text for one in why.conflicts[0].members]
    assert words == ["hub fuel not held", "last fuel.ground not held"]


def test_barrels_or_splices_or_lamps_from_anywhere() -> None:
    """One wire per barrel and no splice: three ways out, each by itself."""
    why = why_not(question_of("one-wire-per-barrel", ("splices=no",)))
    assert members_of(why) == [{"lamp_take_off", "splices", "wires_per_barrel"}]
    ways = {one.name: one.way and one.way.value for one in why.conflicts[0].members}
    assert ways == {"lamp_take_off": "any", "splices": "yes", "wires_per_barrel": "2"}
    assert why.together == ()


def test_no_time_is_not_read_as_impossible() -> None:
    """With no time nothing is claimed, and that is said."""
    why = why_not(question_of("too-many-rings"), time_limit_s=0.0)
    assert why == WhyNot((), (), (), why.asked, 0, False, OUT_OF_TIME)


def test_what_nothing_would_mend() -> None:
    """Dials on leads alone: there is no post to land on, and no limit would make one."""
    question = question_of("flying-leads")
    console = question.console
    leads = {"depth", "bottom"}
    kept = tuple(post for post in console.posts if post.instrument in leads)
    ids = {post.id for post in kept}
    bare = replace(
        console,
        instruments=tuple(one for one in console.instruments if one.name in leads),
        posts=kept,
        loads=tuple(load for load in console.loads if load.feed_post in ids),
        circuits=tuple(
            replace(c, posts=tuple(post for post in c.posts if post in ids))
            for c in console.circuits
        ),
        boat_blocks=(),
    )
    why = why_not(Brief(bare, question.limits, question.stock))
    assert why.conflicts == () and why.complete
    assert {reason.place for reason in why.missing} == {"circuit ground", "circuit ignition"}
