"""Numbers, colours and verdicts as a person reads them."""

import pytest
from support.made_plan import small_plan

from lugwright.outputs import words
from lugwright.plans.schema import LimitUsed, Proof


def proof(proved: bool, cost: tuple[int, ...], bound: tuple[int, ...], *levels: str) -> Proof:
    """A proof over the given levels."""
    return Proof(
        objective="shortest",
        levels=levels,
        cost=cost,
        bound=bound,
        proved=proved,
        tie_rule="less money first, then names",
    )


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("two\nlines", "two lines"),
        ("\t=1+1", "=1+1"),
        ("red\x1b[31m", "red [31m"),
        ("a\u202eb", "ab"),
        ("a\u2028b", "a b"),
        ("  plain  text ", "plain text"),
        ("Möwe 2 × 3", "Möwe 2 × 3"),
    ],
)
def test_one_line_takes_out_what_a_terminal_or_spreadsheet_would_obey(
    text: str, expected: str
) -> None:
    """Control and format characters go, every other character stays."""
    assert words.one_line(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a ring for a stud", ["a ring", "for a", "stud"]),
        ("", [""]),
        ("wwwwwwwwwww on", ["wwwwwww", "wwww on"]),
        ("an instrument", ["an", "instrum", "ent"]),
    ],
)
def test_a_text_is_broken_where_it_fits(text: str, expected: list[str]) -> None:
    """Between words where that does, inside a word where nothing else helps; no letter is lost."""
    assert words.lines_that_fit(text, lambda line: len(line) <= 7) == expected
    assert words.lines_that_fit("ab", lambda line: False) == ["a", "b"]


def test_drop_is_rounded_up_and_what_is_left_down() -> None:
    """A shown drop is never smaller than the real one, a shown margin never larger."""
    assert words.drop_text(300_000_001) == "300.1"
    assert words.drop_text(300_000_000) == "300.0"
    assert words.drop_margin_text(59_999_999) == "59.9"
    assert words.drop_margin_text(-1) == "-0.1"


def test_area_margin_is_rounded_down() -> None:
    """A barrel that is one square micrometre too full shows a negative margin."""
    assert words.area_margin_text(10_999) == "0.010"
    assert words.area_margin_text(-1) == "-0.001"
    assert words.area_text(1_309_500) == "1.310"


@pytest.mark.parametrize(
    ("name", "value", "expected"),
    [
        ("wire length, 0.1 mm", 12345, "wire length 1234.5 mm"),
        ("wire_dmm", 12340, "wire 1234 mm"),
        ("money, millionths", 1_234_567, "money 1.24"),
        ("money_micro", 1_230_000, "money 1.23"),
        ("stacked lugs", 3, "stacked lugs 3"),
    ],
)
def test_level_is_shown_in_its_unit(name: str, value: int, expected: str) -> None:
    """A compared quantity is shown in mm or in money where its name says how it is counted."""
    assert words.level_text(name, value) == expected


def test_proof_sentence_of_a_proved_plan() -> None:
    """Proved best is said in plain words; what was counted is told beside it."""
    said = words.proof_sentence(proof(True, (1000, 2), (1000, 2), "wire length, 0.1 mm", "lugs"))
    assert said == "Proved best: no plan of this console costs less."


def test_cost_sentence_tells_what_the_cost_is_made_of() -> None:
    """Wire, and what stacked lugs and fittings are worth: 1403.5 + 3 x 40 + 12 x 25 = 1823.5."""
    plan = small_plan()
    worth = tuple(
        LimitUsed(name=name, value=value, origin="built-in rule set", source="")
        for name, value in (("lug_worth", "40 mm"), ("fitting_worth", "25 mm"))
    )
    told = plan.proof.model_copy(update={"cost": (18235,), "levels": ("worth, 0.1 mm",)})
    assert words.cost_sentence(small_plan(limits=worth, proof=told)) == (
        "Cost 1823.5 mm: wire 1403.5 mm + 40 mm for each of 3 stacked lugs + "
        "25 mm for each of 12 fittings."
    )


def test_cost_sentence_of_other_objectives_names_their_quantities() -> None:
    """Where the cost is not one length, the quantities are told as they were compared."""
    told = proof(True, (3, 1000), (3, 1000), "lugs", "wire length, 0.1 mm")
    assert words.cost_sentence(small_plan(proof=told)) == (
        "Cost (shortest): lugs 3, wire length 100 mm."
    )


def test_proof_sentence_owns_up_to_the_gap() -> None:
    """A plan that is not proved names its cost, the bound and the most that could be saved."""
    said = words.proof_sentence(proof(False, (3, 1000), (3, 900), "lugs", "wire length, 0.1 mm"))
    assert said == (
        "Not proved best (shortest): this plan costs lugs 3, wire length 100 mm; no plan can cost "
        "less than lugs 3, wire length 90 mm, so at most wire length 10 mm (10.0 %) could still "
        "be saved."
    )


def test_proof_sentence_without_a_bound_claims_nothing() -> None:
    """Where nothing was proved, nothing is claimed."""
    said = words.proof_sentence(proof(False, (3,), (), "lugs"))
    assert said.startswith("Not proved best: this plan costs lugs 3; nothing is known")


def test_hub_sentence_names_every_landing() -> None:
    """The hub, each landing post, and the extension where there is one."""
    assert words.hub_sentence(small_plan()) == (
        "Hub: depth; pigtail ignition, lengthened by ignition 1, on depth.ignition; "
        "pigtail ground on depth.ground."
    )
