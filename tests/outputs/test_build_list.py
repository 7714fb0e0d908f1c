"""The printed build list."""

import pytest
from support.made_plan import STACKS, STEPS, small_plan

from lugwright.base.scale import mm_text
from lugwright.outputs.layout import WIDTH, table, wrapped
from lugwright.outputs.rows import rows_of
from lugwright.outputs.rows_bench import CrimpRow
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import BuyLine, Jumper

TEXT = ShownPlan(small_plan()).build_list
FLAT = " ".join(TEXT.split())


def test_it_opens_with_title_verdict_hub_and_cautions() -> None:
    """The first page tells what this is, how good, where the supply lands, what to beware of."""
    places = [
        FLAT.index(words)
        for words in (
            "Build list: Three dials",
            "Proved best: no plan of this console costs less",
            "Hub: depth;",
            "Worst drop: revs, 300.1 mV of 360.0 mV allowed, 59.9 mV left.",
            "Tightest stack: fuel.ground, 6.6 mm used of 7 mm free thread, 0.4 mm left.",
            "Tightest barrel: crimp 1 at depth.ignition, 0.010 mm² from the end of its range.",
            "Battery disconnected",
            "Planned under the rule set: usual.",
            "Cut list",
        )
    ]
    assert places == sorted(places)


@pytest.mark.parametrize("piece", small_plan().jumpers, ids=lambda piece: piece.label)
def test_every_piece_is_on_the_cut_list(piece: Jumper) -> None:
    """Label, colour, size, length and strips of each piece stand in one line."""
    line = next(x for x in TEXT.splitlines() if x.startswith(f"[ ]  {piece.label} "))
    lengths = (piece.length_dmm, piece.strip_a_dmm, piece.strip_b_dmm)
    for part in (piece.colour, piece.wire_size, *map(mm_text, lengths)):
        assert part in line


def test_codes_of_colours_stand_at_the_head() -> None:
    """Each circuit's wire with its colour, code and size, once."""
    assert "Wire cut here: ignition purple (PU) 16 AWG; ground black (B) 16 AWG; " in FLAT


@pytest.mark.parametrize("row", rows_of(small_plan()).crimps, ids=lambda row: str(row.number))
def test_every_crimp_is_on_the_crimp_list(row: CrimpRow) -> None:
    """Number, fitting, joint, wire ends, area and margin; a fold is named."""
    start = TEXT.index(f"[ ]  {row.number:>2}  ", TEXT.index("== Crimp list"))
    entry = TEXT[start : TEXT.index("\n", start)]
    for part in (
        row.fitting,
        row.joint,
        row.area_mm2,
        row.margin_mm2,
        row.wires.split(" / ")[0].split(" + ")[0],
    ):
        assert part in entry
    assert ("folded back" in entry) == bool(row.folded)


def test_dies_are_told_once_for_each_fitting() -> None:
    """Barrel colour, die and range stand before the crimps, with the fittings they hold for."""
    assert (
        "- blue barrel, die blue nest, takes 1.040 to 2.630 mm²: ring blue, butt blue, "
        "push-on blue, captive spade blue"
    ) in FLAT
    assert "takes 1.040 to 4.000 mm²: closed end blue" in FLAT
    assert "Made aboard: 9. All others at the bench." in FLAT


def test_stack_is_told_from_nut_to_base() -> None:
    """A stud's first line has its nut and its topmost lug, its last line the lug at the base."""
    lines = TEXT[TEXT.index("== Stacks") :].splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("fuel.ground "))
    assert [" ".join(line.split()) for line in lines[start : start + 2]] == [
        "fuel.ground M4 7 mm LOOSE 6.6 7 2 crimp 9, aboard 1.5 3",
        "1 crimp 8 1.5 3",
    ]
    assert "Nut LOOSE: on by a few turns until aboard." in FLAT


def test_boot_and_kept_room_lie_above_the_lugs() -> None:
    """What goes over the lugs is in the line above them."""
    lines = TEXT[TEXT.index("== Stacks") :].splitlines()
    assert any(x.startswith("depth.ignition ") and "boot over it" in x for x in lines)
    assert any(x.startswith("depth.ground ") and "room kept for 1" in x for x in lines)


def test_a_stud_without_bench_lugs_and_nut_is_not_called_loose() -> None:
    """Where no step puts a nut on at the bench, nothing is there to be loose."""
    late = STACKS[4].model_copy(update={"lugs": STACKS[4].lugs[1:], "bench_lugs": 0})
    steps = tuple(step for step in STEPS if step.verb != "nut loose")
    text = ShownPlan(small_plan(stacks=(late,), steps=steps)).build_list
    assert "LOOSE" not in text
    assert "not yet: its own nut and washer stay in the bag until aboard" in text


def test_steps_stand_under_their_stages() -> None:
    """Bench, aboard, key-on; places and clock positions say which side they are seen from."""
    assert TEXT.index("Steps at the bench") < TEXT.index("Steps aboard")
    assert TEXT.index("Steps aboard") < TEXT.index("Key-on test")
    titles = [x for x in TEXT.splitlines() if x.startswith(("== Steps", "== Stacks", "== Splices"))]
    assert len(titles) == 4
    assert all("seen from the back" in title for title in titles)


def test_splices_buy_list_fuses_and_limits_are_there() -> None:
    """Everything else a builder needs is on paper too."""
    for fact in (
        "ignition splice 1 4 closed end blue 210.5 90 30 mid",
        "16 AWG purple 699 mm 30000 1 12.34",
        "10 A in pigtail ignition, 150 mm from the source",
        "slack 3 % limits file, shop.toml:4",
        "money 22.60 EUR",
    ):
        assert fact in FLAT
    assert "usual.toml:9" not in TEXT


def test_an_unknown_price_is_a_dash() -> None:
    """What stock has no price for is not free."""
    tie = BuyLine(item="cable tie", unit="piece", need=3, pack=100, packs=1, cost_micro=0)
    text = ShownPlan(small_plan(buy=(tie,))).build_list
    line = next(x for x in text.splitlines() if "cable tie" in x)
    assert line.split()[-1] == "-"


def test_pigtails_keep_their_length() -> None:
    """Said where wires come as they are, unless no pigtail comes."""
    assert "Do not cut a pigtail to length" in FLAT
    given = tuple(item for item in small_plan().given if not item.wire.startswith("pigtail "))
    assert "Do not cut a pigtail" not in ShownPlan(small_plan(given=given)).build_list


def test_no_line_is_wider_than_the_page_whatever_the_names() -> None:
    """Long titles and names wrap; none of their letters is lost."""
    name = "The very long name of a very small boat " * 8
    plan = small_plan(title=name, hub="x" * 150)
    text = ShownPlan(plan).build_list
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
    text = ShownPlan(small_plan(title="boat\x1b[2J")).build_list
    assert "\x1b" not in text
    assert "Build list: boat [2J" in text


def test_markup_in_names_is_shown_as_written() -> None:
    """Square brackets in a name are letters, not styling."""
    plan = small_plan()
    piece = plan.jumpers[0].model_copy(update={"colour": "[red]purple[/red]"})
    assert "[red]purple[/red]" in ShownPlan(small_plan(jumpers=(piece,))).build_list


def test_empty_lists_say_that_they_are_empty() -> None:
    """A plan without stacks says so, so that no list looks lost."""
    text = ShownPlan(small_plan(caps=(), stacks=(), drops=(), limits=())).build_list
    assert "No stud carries a lug." in text
    assert "None: every limit is the built-in rule set's own." in text


def test_text_ends_lines_plainly() -> None:
    """One newline at the end, no spaces at line ends, the same text every time."""
    assert TEXT.endswith("\n") and not TEXT.endswith("\n\n")
    assert [line for line in TEXT.splitlines() if line != line.rstrip()] == []
    assert ShownPlan(small_plan()).build_list == TEXT
