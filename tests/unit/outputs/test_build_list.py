"""The printed build list."""

import pytest
from unit.outputs.plan_for_tests import small_plan

from lugwright.outputs.build_list import build_list
from lugwright.outputs.layout import WIDTH, table, wrapped
from lugwright.outputs.rows import rows_of

TEXT = build_list(small_plan())
FLAT = " ".join(TEXT.split())


def test_it_opens_with_title_verdict_hub_and_cautions() -> None:
    """The first page tells what this is, how good, where the supply lands, what to beware of."""
    places = [
        FLAT.index(words)
        for words in (
            "Build list: Three dials",
            "Proved best: no plan of this console costs less",
            "Hub: depth.",
            "Worst drop: revs, 300.1 mV of 360.0 mV allowed, 59.9 mV left.",
            "Tightest stack: fuel.ground, 6.6 mm used of 7 mm free thread, 0.4 mm left.",
            "Tightest barrel: crimp 1 at depth.ignition, 0.010 mm² from the end of its range.",
            "Battery disconnected",
            "Planned under the rule set: usual.",
            "Cut list",
        )
    ]
    assert places == sorted(places)


@pytest.mark.parametrize("row", rows_of(small_plan()).cut, ids=lambda row: row.label)
def test_every_piece_is_on_the_cut_list(row: object) -> None:
    """Label, colour, size, length and strips of each piece stand in one line."""
    line = next(x for x in TEXT.splitlines() if x.startswith(f"[ ]  {row.label} "))  # type: ignore[attr-defined]
    for part in ("colour", "wire_size", "length_mm", "strip_a_mm", "strip_b_mm"):
        assert getattr(row, part) in line


@pytest.mark.parametrize("row", rows_of(small_plan()).crimps, ids=lambda row: str(row.number))
def test_every_crimp_is_on_the_crimp_list(row: object) -> None:
    """Number, fitting, barrel colour, die, joint, stage, wire ends, area, range and margin."""
    start = TEXT.index(f"[ ] crimp {row.number} ")  # type: ignore[attr-defined]
    block = " ".join(TEXT[start : start + 300].split())
    for part in (
        "fitting",
        "barrel_colour",
        "die",
        "joint",
        "stage",
        "wires",
        "folded",
        "area_mm2",
        "range_mm2",
        "margin_mm2",
    ):
        assert getattr(row, part) in block


def test_stack_is_drawn_from_nut_to_base() -> None:
    """The column stands as the stud does: nut on top, the first lug on the base."""
    start = TEXT.index("fuel.ground: thread M4")
    assert TEXT[start:].split("\n\n")[0].splitlines() == [
        "fuel.ground: thread M4, 7 mm nut driver; thread used 6.6 mm of 7 mm free, 0.4 mm left",
        "    nut    LOOSE at the bench, snug aboard",
        "    washer lock washer",
        "     2  aboard  crimp 9: fuel sender: black; ground, 1.5 A, at 3 o'clock, tongue 0.8 mm",
        "     1  bench   crimp 8: ground 1 B; ground, 1.5 A, at 3 o'clock, tongue 0.8 mm",
        "    base",
    ]


def test_every_step_has_a_box() -> None:
    """Each step can be ticked off, under the heading of its stage."""
    for row in rows_of(small_plan()).steps:
        assert f"[ ] {row.number:>3}  {row.text}" in TEXT
    assert TEXT.index("Steps at the bench") < TEXT.index("Steps aboard")
    assert TEXT.index("Steps aboard") < TEXT.index("Key-on test")


def test_caps_loose_nuts_splices_buy_list_fuses_and_limits_are_there() -> None:
    """Everything else a builder needs is on paper too."""
    for fact in (
        "[ ] trim sender, white: LIVE; cap blue",
        "[ ] fuel.ground (M4, 7 mm nut driver): 1 on at the bench; aboard comes crimp 9",
        "ignition splice 1 ignition 210.5 90 30 mid 4 closed end blue",
        "16 AWG purple 699 mm 30000 1 12.34",
        "10 A in pigtail ignition, 150 mm from the source",
        "slack 3 % limits file, shop.toml:4",
        "money 22.60 EUR",
    ):
        assert fact in FLAT
    assert "usual.toml:9" not in TEXT


def test_no_line_is_wider_than_the_page_whatever_the_names() -> None:
    """Long titles and names wrap; none of their letters is lost."""
    name = "The very long name of a very small boat " * 8
    plan = small_plan(title=name, hub="x" * 150)
    text = build_list(plan)
    assert max(map(len, text.splitlines())) <= WIDTH
    assert "x" * 150 in "".join(text.split())


def test_a_number_keeps_its_unit() -> None:
    """No line ends between a number and its unit, wherever the line would break."""
    for length in range(60, 100):
        lines = wrapped("x" * length + " bare 7.4 mm of 16 AWG at 3 o'clock, 0.5 mm² for 1.5 A")
        assert [line for line in lines if line[-1].isdigit()] == []
        assert "\u00a0" not in "".join(lines)


def test_table_breaks_no_word_while_another_column_can_wrap() -> None:
    """A post's name stays whole when the words of a neighbour can take another line."""
    lines = table(("post", "words"), [("depth.ignition" * 3, "some words " * 12)])
    assert lines[2].startswith("depth.ignition" * 3 + "  some words")
    assert max(map(len, lines)) <= WIDTH


def test_table_loses_nothing_when_it_cannot_fit() -> None:
    """Two words wider than the page are broken, not cut off."""
    lines = table(("a", "b"), [("x" * 90, "y" * 90)])
    assert sum(line.count("x") for line in lines) == 90
    assert sum(line.count("y") for line in lines) == 90
    assert max(map(len, lines)) <= WIDTH


def test_terminal_commands_in_a_title_are_harmless() -> None:
    """An escape character in a title never reaches the terminal."""
    text = build_list(small_plan(title="boat\x1b[2J"))
    assert "\x1b" not in text
    assert "Build list: boat [2J" in text


def test_markup_in_names_is_shown_as_written() -> None:
    """Square brackets in a name are letters, not styling."""
    plan = small_plan()
    piece = plan.jumpers[0].model_copy(update={"colour": "[red]purple[/red]"})
    assert "[red]purple[/red]" in build_list(small_plan(jumpers=(piece,)))


def test_empty_lists_say_that_they_are_empty() -> None:
    """A plan without caps, loose nuts or stacks says so, so that no list looks lost."""
    text = build_list(small_plan(caps=(), stacks=(), drops=(), limits=()))
    assert "No pigtail is left over." in text
    assert "No stud carries a lug." in text
    assert "None: every limit is the built-in practice's own." in text


def test_text_ends_lines_plainly() -> None:
    """One newline at the end, no spaces at line ends, the same text every time."""
    assert TEXT.endswith("\n") and not TEXT.endswith("\n\n")
    assert [line for line in TEXT.splitlines() if line != line.rstrip()] == []
    assert build_list(small_plan()) == TEXT
