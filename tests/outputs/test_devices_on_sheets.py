"""A panel with devices on every sheet: its ways, what is live, hubs, settings, stop wires."""

from __future__ import annotations

import csv
import io
import re
from functools import cache

import openpyxl
from support.plans import plan_of

from lugwright.outputs.drawing.layers import hubs_of
from lugwright.outputs.folder import folder_files
from lugwright.outputs.labels.label_text import wire_labels
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import NO_WIRE, post_use
from lugwright.plans.schema import Plan


def plan() -> Plan:
    """A plan with key, lanyard, fuse block, light switch and dimmer."""
    return plan_of("key-fuses-dimmer")


@cache
def files() -> dict[str, bytes]:
    """Everything its folder holds."""
    return folder_files(ShownPlan(plan()))


def rows(name: str) -> list[dict[str, str]]:
    """A table read back."""
    return list(csv.DictReader(io.StringIO(files()[name].decode())))


def plain(name: str) -> str:
    """The words of a sheet."""
    return " ".join(re.sub(r"<[^>]*>", " ", files()[name].decode()).split())


def test_ways_and_what_is_live_are_tables() -> None:
    """By hand: the key's contact carries 5.09 A, 11.01 A by kind of load, of 15 A."""
    ways = {(row["device"], row["way"]): row for row in rows("ways.csv")}
    key = ways["key", "bat to ign"]
    assert (key["amps"], key["judged_amps"], key["carries"]) == ("5.09", "11.01", "15")
    assert (key["closed"], key["supplies"]) == ("on, start", "switched")
    assert ways["fuses", "in to f3"]["fuse"] == "7.5 A"
    assert ways["fuses", "in to f4"]["fuse"] == "empty holder"
    live = {row["state"]: row for row in rows("live.csv")}
    assert live["all off"]["live"] == "battery"
    assert live["key on, light on"]["not_live"] == "start"
    book = openpyxl.load_workbook(io.BytesIO(files()["workbook.xlsx"]))
    assert {"ways", "live"} <= set(book.sheetnames)


def test_the_same_tables_stand_on_list_job_sheet_and_test_sheet() -> None:
    """Heads and cells; on a panel without devices the tables are empty."""
    for name in ("build-list.txt", "job-sheet.html", "test-sheet.html"):
        words = plain(name)
        assert "Devices: way, position, what it carries, current in A, fuse" in words, name
        assert "What is live: all off first, fuses in and breakers closed" in words, name
        assert "empty holder" in words, name
    without = folder_files(ShownPlan(plan_of("sandbar-skiff")))
    assert [len(without[name].splitlines()) for name in ("ways.csv", "live.csv")] == [1, 1]
    assert "What is live: all off first" not in without["build-list.txt"].decode()


def test_only_the_plans_hubs_are_marked() -> None:
    """Where a lone post behind a way is landed on is no hub; nor is a stop circuit's."""
    assert list(hubs_of(plan())) == sorted(plan().hub.split(", "))
    assert "stop" not in hubs_of(plan())["key"]


def test_an_empty_holder_reads_no_wire() -> None:
    """Not what its pattern calls it."""
    (spare,) = (post for post in plan().panel.posts if post.id == "fuses.f4")
    assert post_use(spare) == NO_WIRE


def test_a_setting_is_a_step_before_mounting_and_a_line_of_the_test_sheet() -> None:
    """In the words of the file."""
    said = "pulses as the engine's plate says"
    step = next(one for one in plan().steps if said in one.text)
    assert step.stage == "bench"
    assert step.number < min(one.number for one in plan().steps if one.verb == "cut")
    lines = [one["what"] for one in rows("test-readings.csv") if one["part"] == "setting"]
    assert lines == [f"it is set: {said}"]


def test_a_stop_wire_says_so_at_both_ends() -> None:
    """At its post and at the engine; no other wire does."""
    labels = wire_labels(plan(), "000000000000")
    told = [(label.wire, label.note) for label in labels if "STOP" in label.note]
    assert told == [("pigtail stop", "STOP: key.stop"), ("pigtail stop", "STOP: at the engine")]


def test_colours_are_cautioned_where_wires_have_them() -> None:
    """Three dark blue feeds; and the battery's pigtail would be lengthened in orange."""
    alike = [one for one in plan().cautions if one.startswith("Feeds of one colour")]
    assert alike == [
        "Feeds of one colour (dark blue): dimmed, lamps and light feed. Go by label and test, "
        "not by colour.",
        "Feeds of one colour (orange): battery and switched. Go by label and test, not by colour.",
    ]
    assert "Live with everything off: key.bat. A boot covers each stud." in plan().cautions
