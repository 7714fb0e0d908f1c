"""What the shop holds is named where it is in the way, and never suggested."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.explaining import SCENARIOS, member, members_of

from lugwright import pipeline
from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.values import parse_value
from lugwright.scenario.brief import Brief
from lugwright.studies.question import Verdict
from lugwright.studies.schema import WhyNot
from lugwright.studies.tight_spots import tight_data, tight_lines, tight_spots
from lugwright.studies.why_not import why_not
from lugwright.studies.words import why_data, why_lines

LOCKS = '[shop]\nlocked = ["lugs_per_stud"]\n'


def asked(folder: Path, name: str, shop: str, *settings: str) -> Brief:
    """A scenario under a shop's file of that text."""
    path = folder / "shop.toml"
    path.write_text(shop, encoding="utf-8")
    return pipeline.read_inputs(SCENARIOS / f"{name}.toml", path, settings=settings)


def explained(folder: Path, name: str, shop: str, *settings: str) -> WhyNot:
    """Why that scenario has no plan under the shop's file."""
    inputs = asked(folder, name, shop, *settings)
    return why_not(inputs)


def test_a_locked_limit_is_named_and_not_suggested(tmp_path: Path) -> None:
    """Five rings on a stud, four allowed and locked: who locked it, and no way out by it."""
    why = explained(tmp_path, "too-many-rings", LOCKS)
    assert members_of(why) == [{"lugs_per_stud"}]
    found = member(why, "lugs_per_stud")
    assert (found.way, found.alone, found.without) == (None, Verdict.POSSIBLE, Verdict.POSSIBLE)
    assert found.held_by == "locked by the shop (limits file, shop.toml:2)"
    assert why.together == ()
    (line,) = (line for line in why_lines(why) if "lugs_per_stud" in line)
    assert line.startswith("  oil.ground: 5 lugs wanted, 4 allowed [lugs_per_stud = 4, ")
    assert line.endswith(
        "locked by the shop (limits file, shop.toml:2): no value a scenario may set is enough by "
        "itself"
    )
    (data,) = why_data(why)["conflicts"][0]["members"]
    assert (data["suggestion"], data["held_by"]) == (None, found.held_by)


def test_a_range_that_reaches_far_enough_is_a_way(tmp_path: Path) -> None:
    """What the shop leaves open within a range may be suggested, up to its end."""
    found = member(
        explained(tmp_path, "too-many-rings", "[shop.range]\nlugs_per_stud = [3, 5]"),
        "lugs_per_stud",
    )
    assert found.way is not None and found.way.value == "5"
    found = member(
        explained(tmp_path, "too-many-rings", "[shop.range]\nlugs_per_stud = [3, 4]"),
        "lugs_per_stud",
    )
    assert found.way is None
    assert found.held_by == "kept by the shop within 3 to 4 (limits file, shop.toml:2)"


def test_other_ways_out_of_a_conflict_stay(tmp_path: Path) -> None:
    """Of three ways out one is held: the other two are told, and it is named as held."""
    shop = '[shop]\ntighten_only = ["wires_per_barrel"]\n'
    why = explained(tmp_path, "one-wire-per-barrel", f"wires_per_barrel = 1\n{shop}", "splices=no")
    ways = {one.name: one.way and one.way.value for one in why.conflicts[0].members}
    assert ways == {"lamp_take_off": "any", "splices": "yes", "wires_per_barrel": None}
    assert "only to be tightened, says the shop (limits file, shop.toml:3)" in "\n".join(
        why_lines(why)
    )


def test_changes_together_leave_out_what_is_held(tmp_path: Path) -> None:
    """Two conflicts, one of whose limits is locked: the change of the other fact is named."""
    why = explained(tmp_path, "impossible/two-faults", '[shop]\nlocked = ["fuse_distance"]\n')
    names = [way.name for way in why.together]
    assert "fuse_distance" not in names
    assert "place of the fuse" in names


def test_nothing_together_where_all_of_a_conflict_is_held(tmp_path: Path) -> None:
    """Where every way out of one conflict is held there is none for both."""
    why = explained(tmp_path, "too-many-rings", LOCKS, "drop_critical=0.1 %")
    assert why.together == ()


@pytest.fixture(scope="module")
def inputs(tmp_path_factory: pytest.TempPathFactory) -> Brief:
    """One wire in a barrel, which the shop holds, and the cut step with it."""
    folder = tmp_path_factory.mktemp("shop")
    shop = 'wires_per_barrel = 1\n[shop]\ntighten_only = ["wires_per_barrel", "cut_step"]\n'
    return asked(folder, "one-wire-per-barrel", shop)


def test_tight_spots_do_not_move_what_is_held(inputs: Brief) -> None:
    """It would save most of all, and is named as held instead, with file and line."""
    spots = tight_spots(inputs)
    assert "wires_per_barrel" not in {spot.limit for spot in spots.spots}
    assert {spot.limit for spot in spots.spots} == {"lamp_take_off"}
    told = (
        "Not moved, only to be tightened, says the shop (limits file, shop.toml:3): "
        "wires_per_barrel, cut_step."
    )
    assert tight_lines(spots)[-1] == told
    assert [one["limit"] for one in tight_data(spots)["held"]] == ["wires_per_barrel", "cut_step"]


def test_every_suggestion_is_one_the_shop_allows(tmp_path: Path) -> None:
    """With every limit held no limit goes beyond the shop's; facts of the scenario may change."""
    shop = 'extensions = false\n[shop]\ntighten_only = "all"\n'
    why = explained(tmp_path, "impossible/out-of-reach", shop)
    limits = asked(tmp_path, "impossible/out-of-reach", shop).limits
    for conflict in why.conflicts:
        for one in conflict.members:
            if one.kind == "limit" and one.way:
                value = parse_value(SPEC_BY_NAME[one.name], one.way.value)
                assert limits.allows(one.name, value)
    assert member(why, "extensions").way is None
    assert member(why, "reach").way is not None
