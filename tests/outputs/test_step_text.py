"""The steps as they are printed: runs told together, none left out, the order kept."""

from __future__ import annotations

from support.made_plan import CRIMPS, small_plan
from support.plans import plan_of as demo_plan

from lugwright.outputs.layout import WIDTH
from lugwright.outputs.rows import rows_of
from lugwright.outputs.step_text import PrintedStep, printed_lines, printed_steps
from lugwright.outputs.words import number_ranges
from lugwright.plans.schema import Plan, Step

Row = tuple[str, str, str, tuple[str, ...]]


def plan_of(*rows: Row) -> Plan:
    """The small plan with steps of (stage, verb, target, parts); each has a text of its own."""
    steps = tuple(
        Step.model_validate(
            {
                "number": number,
                "stage": stage,
                "verb": verb,
                "target": target,
                "parts": parts,
                "text": f"Step {number}.",
            }
        )
        for number, (stage, verb, target, parts) in enumerate(rows, 1)
    )
    return small_plan(steps=steps)


def printed(plan: Plan, stage: str = "bench") -> list[PrintedStep]:
    """The entries of one stage."""
    return list(printed_steps(plan, [row for row in rows_of(plan).steps if row.stage == stage]))


def all_cut() -> list[Row]:
    """A cut of every wire of the list, in its order."""
    return [("bench", "cut", piece.label, ()) for piece in small_plan().jumpers]


def test_cuts_of_the_whole_list_are_one_entry() -> None:
    """The cut list's own boxes are ticked; the entry spans the numbers of all cuts."""
    assert printed(plan_of(*all_cut())) == [
        PrintedStep(
            1, 8,
            "Cut all 8 wires of the bench cut list; bare and tag both ends. Tick each in that list."
        )
    ]


def test_cuts_of_a_part_are_named() -> None:
    """A run that is not the whole list says which wires it means."""
    entry = printed(plan_of(*all_cut()[1:3]))[0]
    assert entry.text.startswith("Cut ignition 2, ignition 3 of the bench cut list")


def test_plain_crimps_are_told_by_their_numbers() -> None:
    """Lugs and push-ons run together; a join, a splice and a fold stand alone."""
    crimps = [("bench", "crimp", str(one.number), ()) for one in CRIMPS if one.stage == "bench"]
    entries = printed(plan_of(*crimps))
    assert [(entry.first, entry.last) for entry in entries] == [
        (1, 2),
        (3, 3),
        (4, 4),
        (5, 5),
        (6, 11),
    ]
    assert "crimps 1 and 2 of the crimp list" in entries[0].text
    assert entries[1].text == "Step 3."
    assert "crimps 6 to 8, 10 to 12 of the crimp list" in entries[4].text


def test_a_stud_is_told_from_the_base_to_the_nut() -> None:
    """Lugs in their order with their clock positions, the washer, the nut and its driver."""
    plan = plan_of(
        ("bench", "land", "depth.ignition", ("1",)),
        ("bench", "land", "depth.ignition", ("2",)),
        ("bench", "washer", "depth.ignition", ()),
        ("bench", "nut snug", "depth.ignition", ()),
        ("bench", "land", "depth.ground", ("ready pigtail ground",)),
        ("bench", "washer", "depth.ground", ()),
    )
    assert [entry.text for entry in printed(plan)] == [
        "depth.ignition: crimp 1 (3 o'clock), on it crimp 2 (3 o'clock), lock washer, "
        "nut snug (7 mm nut driver).",
        "depth.ground: the ready-made ring of pigtail ground (3 o'clock), lock washer.",
    ]


def test_a_spade_slips_under_a_nut_left_loose() -> None:
    """With no step that takes the nut off, it is slackened; with one, it comes off."""
    bench = (("bench", "land", "fuel.ground", ("8",)), ("bench", "nut loose", "fuel.ground", ()))
    aboard = (
        ("aboard", "land", "fuel.ground", ("9",)),
        ("aboard", "nut snug", "fuel.ground", ()),
    )
    slipped = printed(plan_of(*bench, *aboard), "aboard")
    assert slipped[0].text == (
        "fuel.ground: slacken the nut, slip crimp 9 (3 o'clock) under the lock washer, "
        "nut snug (7 mm nut driver)."
    )
    off = ("aboard", "nut off", "fuel.ground", ())
    taken = printed(plan_of(*bench, off, *aboard), "aboard")
    assert taken[0].text == (
        "fuel.ground: nut and washer off again, crimp 9 (3 o'clock), nut snug (7 mm nut driver)."
    )


def test_a_spade_slips_under_the_lugs_that_wait() -> None:
    """A lug of the bench above it was labelled and left to wait; a rigger lifts that one."""
    plan = demo_plan("aboard-pigtails")
    told = [entry.text for entry in printed(plan, "aboard")]
    assert (
        "volts.ground: slacken the nut, slip crimp 11 (5 o'clock) under the lugs that wait, "
        "nut snug (7 mm nut driver)."
    ) in told


def test_a_run_that_is_too_long_is_parted() -> None:
    """Entries keep to two lines, and every step is in exactly one of them."""
    plan = plan_of(
        *[("bench", "push on", f"a dial with a name {n}.lamp", ("6",)) for n in range(9)]
    )
    entries = printed(plan)
    assert len(entries) > 1
    numbers = [n for entry in entries for n in range(entry.first, entry.last + 1)]
    assert numbers == list(range(1, 10))
    lines = printed_lines(plan, rows_of(plan).steps)
    assert len(lines) <= 2 * len(entries)
    assert max(map(len, lines)) <= WIDTH


def test_every_entry_has_a_box_and_its_numbers() -> None:
    """A run shows its first and last number, a step alone its own."""
    plan = plan_of(*all_cut(), ("bench", "boot", "depth.ignition", ()))
    lines = printed_lines(plan, rows_of(plan).steps)
    boxes = [line for line in lines if line.startswith("[ ]")]
    assert [line.split()[2] for line in boxes] == ["1-8", "9"]


def test_ties_say_where_they_are() -> None:
    """A tie point's name may tell it from the front, so its place is told as well."""
    piece = small_plan().jumpers[0]
    tied = piece.path[0].model_copy(update={"tie": "mid", "x_dmm": 1305})
    jumpers = (piece.model_copy(update={"path": (tied,)}), *small_plan().jumpers[1:])
    steps = plan_of(
        ("bench", "tie", "mid", ("1",)), ("bench", "tie", "along ground 1", ("2",))
    ).steps
    plan = small_plan(jumpers=jumpers, steps=steps)
    assert printed(plan)[0].text == "Tie: at tie point mid (130.5 mm from left), 2 along ground 1."


def test_number_ranges() -> None:
    """Runs are told by their ends, pairs by both, the rest one by one."""
    assert number_ranges([1, 2, 3, 5, 7, 8]) == "1 to 3, 5, 7 and 8"
    assert number_ranges([]) == ""
