"""Pass bands against sums done by hand."""

from __future__ import annotations

from support.made_plan import small_plan
from support.readings import line_at, small_sheet

from lugwright.plans.panel import PanelLoad
from lugwright.readings.lines import sheet_of
from lugwright.readings.procedure import sections
from lugwright.readings.schema import Sheet

# All by hand from the small plan: jumpers 14 mohm, pigtails 5, runs 60, every joint at 2 mohm;
# three loads of 250 mA and a sender of 100 mA drawn at fuel.ignition.


def test_volts_at_the_landing_post() -> None:
    """Run, pigtail and extension carry 850 mA; the post itself gives 250 mA to its dial.

    Supply joint 2, run 60, pigtail 5 and its crimp 2, extension 14 and two crimps 4, lug 2: 89
    mohm x 850 mA = 75.65 mV; stack to post 2 mohm x 250 mA = 0.5 mV. Together 76.15 mV, times
    1.25 for a supply at 125 % is 95.2: 100 in steps of 10, and 20 for the meter.
    """
    line = line_at(small_sheet(), "volts", "depth.ignition")
    assert (line.low, line.high, line.of_supply) == (-120, 20, True)


def test_volts_behind_the_splice() -> None:
    """On from the first lug: 18 mohm to the splice with 600 mA, 18 to fuel with 350, lug 2.

    75.65 + 10.8 + 6.3 + 0.7 = 93.45 mV, times 1.25 is 116.8: 120, and 20 for the meter.
    """
    line = line_at(small_sheet(), "volts", "fuel.ignition")
    assert (line.low, line.high) == (-140, 20)


def test_volts_of_a_ground_post_count_from_the_minus() -> None:
    """Supply joint 2, run 60, pigtail 5, ring crimp 2, lug 2: 71 mohm x 850 mA = 60.35 mV; on to
    fuel lug 2 mohm x 600 mA, jumper 18 x 350, lug 2 x 350, stud 2 x 250 mA: 8.7 mV.

    69.05 x 1.25 = 86.3: 90, and 20 for the meter. The sender's own lug lies before the stud.
    """
    line = line_at(small_sheet(), "volts", "fuel.ground")
    assert (line.low, line.high, line.of_supply) == (-20, 110, False)


def test_continuity_is_the_way_along_the_wires() -> None:
    """depth to fuel by the splice: stud 2, lug 2, 18, 18, lug 2: 42 mohm, so 0.1 ohm and 0.2."""
    line = line_at(small_sheet(), "continuity", "fuel.ignition")
    assert (line.low, line.high) == (0, 300)


def test_feed_to_ground_is_half_of_volts_over_amperes() -> None:
    """Three loads of 250 mA at 12 V are 16 ohm together; half of that is 8."""
    (line,) = (one for one in small_sheet().lines if one.part == "feed to ground")
    assert (line.low, line.high) == (8000, None)


def test_supply_without_loads_reads_at_least_a_kilohm() -> None:
    """A feed that nothing draws from at rest: a meter shows no path."""
    plan = small_plan()
    bare = plan.model_copy(update={"panel": plan.panel.model_copy(update={"loads": ()})})
    (line,) = (one for one in sheet_of(bare).lines if one.part == "feed to ground")
    assert line.low == 1_000_000


def test_every_post_that_is_wired_has_its_volts() -> None:
    """One line for each post of the small plan on which a wire lands."""
    wired = {stack.post for stack in small_plan().stacks} | {"revs.ignition", "fuel.lamp"}
    told = {line.at.removeprefix("post ") for line in small_sheet().lines if line.part == "volts"}
    assert wired == told


def test_linked_posts_are_measured_once() -> None:
    """Posts that are one piece of metal have one line, and no continuity between them."""
    plan = small_plan()
    posts = tuple(
        post.model_copy(update={"link": "bar"} if post.name == "ground" else {})
        for post in plan.panel.posts
    )
    linked = plan.model_copy(update={"panel": plan.panel.model_copy(update={"posts": posts})})
    grounds = [line for line in sheet_of(linked).lines if line.circuit == "ground"]
    assert [line.part for line in grounds] == ["far end", "far end", "volts"]


def shorted(feed_ma: int, posts: tuple[str, ...]) -> Sheet:
    """The small plan with nothing but lamps of this current at these posts."""
    plan = small_plan()
    lamps = tuple(
        PanelLoad(name=post, feed_post=post, ground_post="fuel.ground", current_ma=feed_ma)
        for post in posts
    )
    panel = plan.panel.model_copy(update={"loads": lamps})
    return sheet_of(plan.model_copy(update={"panel": panel}))


def rest_of(sheet: Sheet) -> list[tuple[int | None, str]]:
    """Band and what comes out first, of every line from feed to ground."""
    return [(one.low, one.what) for one in sheet.lines if one.part == "feed to ground"]


def test_lamps_stay_in_place_where_a_short_reads_less() -> None:
    """60 mA of bulbs at 12 V, cold a twelfth of 200 ohm: 16.6 ohm in steps of a tenth."""
    assert rest_of(shorted(60, ("fuel.lamp",))) == [(16_600, "")]


def test_push_ons_come_off_where_a_short_cannot_be_told() -> None:
    """2 A of bulbs read cold 0.5 ohm, no more than a short at the far end may: 0.3 and 0.3."""
    assert rest_of(shorted(2_000, ("fuel.lamp",))) == [(1_000_000, "push-ons off fuel.lamp")]


def test_nothing_crimped_on_a_stud_is_unplugged() -> None:
    """A lamp of 2 A on a stud stays on it: the sheet says that first power tells, not ohms."""
    sheet = shorted(2_000, ("depth.lamp",))
    assert rest_of(sheet) == []
    assert sheet.untold == ("ignition",)
    told = " ".join(text for part in sections(sheet) for text in part.after)
    assert "Ohms cannot tell a short of ignition from its loads: first power" in told
    assert not [line for line in sheet.lines if "off its stud" in line.what]


def test_a_powered_feed_behind_the_smallest_lamp() -> None:
    """750 mA of dials, at their lowest 8 ohm; a lamp of 21 W for 12 V is 6.857 ohm hot.

    Of 10.20 V the dials keep 8 / 14.857: 5.492, in steps of 10 mV 5.49. With the sender unplugged
    and a fifth more than 750 mA the current is at most 0.9 A, and 0.05 for its step.
    """
    (volts,) = (one for one in small_sheet().lines if one.part == "powered feed")
    (amps,) = (one for one in small_sheet().lines if one.part == "first current")
    assert (volts.low, volts.high, amps.high) == (5490, None, 950)
