"""The one set of rows behind every output."""

from dataclasses import astuple

from support.made_plan import small_plan

from lugwright.outputs.rows import rows_of

ROWS = rows_of(small_plan())


def test_cut_row_holds_all_the_bench_needs_to_cut() -> None:
    """Label, colour with code, size, length, both joints, strips, and the crimps on its ends."""
    assert astuple(ROWS.cut[1]) == (
        "ignition 2",
        "ignition",
        "jumper",
        "bench",
        "purple (PU)",
        "16 AWG",
        "123.5",
        "depth.ignition",
        "ignition splice 1",
        "7.5",
        "8",
        "1",
        "4",
        "16 AWG purple",
        "1.5",
    )


def test_crimp_row_shows_area_against_range_with_margin() -> None:
    """Two ends of 1.31 mm² in a barrel of 1.04 to 2.63 mm² leave 0.01 mm²."""
    assert astuple(ROWS.crimps[0]) == (
        1,
        "ring blue",
        "ring",
        "blue",
        "blue nest",
        "ignition 1-b + ignition 2-a",
        "depth.ignition",
        "bench",
        "",
        "2.620",
        "1.040 to 2.630",
        "0.010",
        "1.5",
    )


def test_butt_keeps_its_halves_apart() -> None:
    """A stroke parts the halves; the range is told once where both are alike."""
    butt = ROWS.crimps[2]
    assert butt.wires == "pigtail ignition / ignition 1-a"
    assert (butt.area_mm2, butt.range_mm2) == ("1.310 / 1.310", "1.040 to 2.630")


def test_folded_wire_is_named() -> None:
    """A folded wire is said to be folded, and no other."""
    assert [row.number for row in ROWS.crimps if row.folded == "folded back"] == [5]


def test_stack_rows_run_from_base_to_nut() -> None:
    """On each stud order 1 lies at the base; the aboard lug is on top."""
    fuel = [astuple(row)[1:6] for row in ROWS.stacks if row.post == "fuel.ground"]
    assert fuel == [
        (1, "crimp 8", "ground 1-b", "ground", "bench"),
        (2, "crimp 9", "fuel sender: black", "ground", "aboard"),
    ]


def test_ready_made_ring_is_a_lug_by_its_wire() -> None:
    """A ring that came with its wire has no crimp number."""
    ground = next(row for row in ROWS.stacks if row.post == "depth.ground")
    assert (ground.lug, ground.wires) == ("ready-made ring of pigtail ground", "pigtail ground")


def test_stud_row_tells_thread_washer_driver_and_nut() -> None:
    """Thread used, free and left, and whether the nut stays loose."""
    fuel = next(row for row in ROWS.studs if row.post == "fuel.ground")
    assert astuple(fuel) == (
        "fuel.ground",
        "M4",
        "7 mm nut driver",
        2,
        1,
        0,
        "lock washer",
        "loose",
        "6.6",
        "7",
        "0.4",
        "",
    )


def test_loose_nuts_say_what_comes_aboard() -> None:
    """Only the stud that waits for the sender is left loose."""
    assert [astuple(row) for row in ROWS.loose_nuts] == [
        ("fuel.ground", "M4", "7 mm nut driver", 1, "", "crimp 9: fuel sender: black")
    ]


def test_live_pigtails_are_capped_first() -> None:
    """The order of capping puts live before dead, whatever the plan's order."""
    assert [(row.order, row.pigtail, row.live) for row in ROWS.caps] == [
        (1, "trim sender", "live"),
        (2, "tilt", "dead"),
    ]


def test_a_missing_cap_is_said() -> None:
    """Where no cap in stock fits, the row says so instead of staying empty."""
    plan = small_plan()
    bare = plan.caps[0].model_copy(update={"item": ""})
    assert rows_of(small_plan(caps=(bare,))).caps[0].cap == "no cap in stock fits"


def test_splice_row_has_its_place_and_ends() -> None:
    """A splice is found by its place seen from the back and its tie point."""
    assert astuple(ROWS.splices[0]) == (
        "ignition splice 1",
        "ignition",
        "210.5",
        "90",
        "30",
        "mid",
        4,
        "closed end blue",
        "ignition 2-b + ignition 3-a + ignition 4-a",
    )


def test_worst_drop_stands_first() -> None:
    """Fullest share of the limit first, rounded up, what is left rounded down."""
    assert [astuple(row) for row in ROWS.drops] == [
        ("revs", "0.25", "150.1", "150.0", "300.1", "360.0", "59.9"),
        ("depth lamp", "0.25", "10.0", "10.0", "20.0", "120.0", "100.0"),
    ]


def test_changed_limits_are_marked() -> None:
    """A limit from a file differs from the built-in rule set, the others do not."""
    assert [(row.name, row.differs) for row in ROWS.limits] == [
        ("slack", "differs"),
        ("currency", ""),
    ]


def test_every_step_has_a_sentence() -> None:
    """A step's own text is kept; the others get words with every part in them."""
    said = {row.number: row.text for row in ROWS.steps}
    assert said[13] == "Slip crimp 9 under the nut."
    assert said[2] == "Cut ignition 2: 16 AWG purple (PU), 123.5 mm; strip a 7.5 mm, b 8 mm."
    assert said[3] == "Crimp 5: ring blue, die blue nest: ignition 3-b, folded back."
    assert said[5] == "Put the ready-made ring of pigtail ground on depth.ground."
    assert said[14] == "Test revs: the needle rises."


def test_steps_run_stage_after_stage() -> None:
    """Steps given out of order are sorted by stage; within a stage the order is the plan's."""
    plan = small_plan()
    mixed = (plan.steps[13], plan.steps[12], *plan.steps[:12])
    assert [row.stage for row in rows_of(small_plan(steps=mixed)).steps] == [
        *["bench"] * 11,
        *["aboard"] * 2,
        "key-on",
    ]


def test_money_carries_the_currency_of_the_limits() -> None:
    """The plan's currency comes from the limits it was made under."""
    money = next(row for row in ROWS.totals if row.total == "money")
    assert (money.value, money.unit) == ("22.60", "EUR")


def test_rule_set_is_named_once() -> None:
    """The rule set stands among the cautions, added only where no caution names it."""
    assert ROWS.cautions[-1].caution == "Planned under the rule set: usual."
    named = small_plan(cautions=("Planned under the rule set: usual.",))
    assert len(rows_of(named).cautions) == 1
