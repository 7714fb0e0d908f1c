"""What a change does to every model, set against planning each from scratch."""

from pathlib import Path

import pytest
from catalogue_models import write_models
from support.catalogue import write_some

from lugwright.base.errors import BadInput
from lugwright.catalogue.impact import changed_jumpers, impact, impact_row, verdict_of
from lugwright.catalogue.proofs import Ground
from lugwright.catalogue.run import Power, look_at_change, plan_catalogue
from lugwright.catalogue.schema import End, ModelResult, Settings
from lugwright.catalogue.store import read_result

SERIAL = Power("serial")
# a change, and the ground on which some proofs are taken over ("": all are searched)
CHANGES = [
    (("lugs_per_stud=2",), Ground.TIGHTER.value),
    (("slack=7 %",), ""),
    (("drop_critical=5 %", "drop_other=15 %"), Ground.NEVER_MET.value),
    (("drop_critical=1 %",), Ground.TIGHTER.value),
    (("drip_loop=45 mm",), Ground.SAME_QUESTION.value),
    (("support_distance=300 mm", "strip_clearance=2 mm"), Ground.UNCHANGED.value),
    (("stud_kinds=ring",), ""),
]
ALSO_WIDE = [
    (("lugs_per_stud=3",), Ground.TIGHTER.value),
    (("wires_per_barrel=3",), ""),
    (("rate=99 /h",), ""),
    (("wires_per_splice=3",), Ground.TIGHTER.value),
    (("fuse_share=100 %",), Ground.TIGHTER.value),
    (("minimum_size=14 AWG",), Ground.TIGHTER.value),
    (("conductor_temperature=90 C",), Ground.TIGHTER.value),
    (("lugs_per_stud=5",), ""),
    (("showing_thread=2",), Ground.TIGHTER.value),
    (("clearance=8 mm",), Ground.SAME_QUESTION.value),
    (("splices=false",), Ground.TIGHTER.value),
    (("rule_set=strict",), ""),
]


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A few models planned, one of them without a plan when limits are tight."""
    place = tmp_path_factory.mktemp("impact")
    folder = write_some(place / "boats", (2, 14, 19))
    plan_catalogue(folder, place / "store", Settings(), SERIAL)
    return folder, place / "store"


def differences(
    folder: Path, store: Path, place: Path, settings: Settings, power: Power
) -> tuple[list, set]:
    """Models whose impact is not what planning from scratch gives, and the grounds used."""
    look_at_change(folder, store, place / "after", settings, power)
    plan_catalogue(folder, place / "scratch", settings, power)
    wrong, grounds = [], set()
    for path in sorted(folder.glob("*.toml")):
        one, two = (read_result(place / name, path.stem) for name in ("after", "scratch"))
        assert one is not None and two is not None
        grounds.add(one.ground)
        told = [(x.end, x.choice, x.plan, x.reasons, x.faults) for x in (one, two)]
        if told[0] != told[1]:
            wrong.append((path.stem, one.ground, one.end, two.end))
    return wrong, grounds


def settings_of(changes: tuple[str, ...]) -> Settings:
    """A change as settings; another rule set is one too."""
    if changes == ("rule_set=strict",):
        return Settings(rule_set="strict")
    return Settings(settings=changes)


@pytest.mark.parametrize(("changes", "ground"), [*CHANGES[::2], CHANGES[5]])
def test_impact_equals_planning_from_scratch(
    planned: tuple[Path, Path], tmp_path: Path, changes: tuple[str, ...], ground: str
) -> None:
    """Proof taken over or searched: the same end, choice and plan, to the last field."""
    wrong, grounds = differences(*planned, tmp_path, settings_of(changes), SERIAL)
    assert wrong == []
    assert ground in grounds


@pytest.mark.slow
@pytest.mark.parametrize(("changes", "ground"), [*CHANGES, *ALSO_WIDE])
def test_impact_equals_planning_from_scratch_over_200_models(
    wide: tuple[Path, Path], tmp_path: Path, changes: tuple[str, ...], ground: str
) -> None:
    """The same for 200 models of 4 to 8 instruments."""
    wrong, grounds = differences(*wide, tmp_path, settings_of(changes), Power("local"))
    assert wrong == []
    assert ground in grounds


@pytest.fixture(scope="module")
def wide(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """200 generated models, planned."""
    place = tmp_path_factory.mktemp("wide")
    write_models(place / "boats", 200)
    plan_catalogue(place / "boats", place / "store", Settings(), Power("local"))
    return place / "boats", place / "store"


def test_a_second_look_keeps_what_it_has(planned: tuple[Path, Path], tmp_path: Path) -> None:
    """An impact that was stopped goes on; what is there is not looked at again."""
    folder, store = planned
    settings = Settings(settings=("lugs_per_stud=3",))
    look_at_change(folder, store, tmp_path / "after", settings, SERIAL)
    again = look_at_change(folder, store, tmp_path / "after", settings, SERIAL)
    assert {done.how for done in again} == {"kept from an earlier run"}


def test_a_catalogue_that_is_not_planned_is_told(tmp_path: Path) -> None:
    """There is nothing to set the change against."""
    folder = write_some(tmp_path / "boats", (2,))
    with pytest.raises(BadInput, match=r"1 of 1 models are not planned.*catalogue plan"):
        look_at_change(folder, tmp_path / "none", tmp_path / "after", Settings(), SERIAL)


def results(planned: tuple[Path, Path], place: Path, *changes: str) -> tuple[ModelResult, ...]:
    """Model 14 before and after a change."""
    folder, store = planned
    look_at_change(folder, store, place, Settings(settings=changes), SERIAL)
    before, after = read_result(store, "model-014"), read_result(place, "model-014")
    assert before is not None and after is not None
    return before, after


def test_longer_jumpers_are_told_one_by_one(planned: tuple[Path, Path], tmp_path: Path) -> None:
    """More slack: each jumper that is cut longer, and the sums of it."""
    before, after = results(planned, tmp_path, "slack=30 %")
    row = impact_row(before, after)
    assert before.plan is not None and after.plan is not None
    assert (row.verdict, row.how) == ("changed", "searched")
    more = after.plan.totals.wire_dmm - before.plan.totals.wire_dmm
    assert row.more_wire_mm == f"{more / 10:g}"
    told = changed_jumpers(before.plan.jumpers, after.plan.jumpers)
    assert len(told) == row.other_jumpers > 0
    assert all(" mm " in text for text in told)


def test_a_model_that_has_no_plan_any_more_says_why(
    planned: tuple[Path, Path], tmp_path: Path
) -> None:
    """The limit that its earlier plan breaks, with place and numbers."""
    before, after = results(planned, tmp_path, "lugs_per_stud=1")
    assert (after.end, verdict_of(before, after)) == (End.IMPOSSIBLE, "newly impossible")
    overview = impact("boats", "lugs_per_stud=1", [(before, after)])
    why = next(part for part in overview.parts if part.name == "why").rows
    assert any("limit 1 lugs, from command line" in row.reason for row in why)


def test_a_file_that_was_edited_is_not_compared(planned: tuple[Path, Path], tmp_path: Path) -> None:
    """Then it is the edit that shows, not the change of limits."""
    before, after = results(planned, tmp_path, "lugs_per_stud=3")
    edited = after.model_copy(update={"console": "another"})
    assert verdict_of(before, edited) == "file changed since it was planned"


def test_a_waiver_that_loosens_nothing_any_more_is_told(tmp_path: Path) -> None:
    """With five lugs allowed everywhere, a waiver for five at one stud is idle."""
    folder = write_some(tmp_path / "boats", (14,))
    path = folder / "model-014.toml"
    waiver = (
        '[[waiver]]\nlimit = "lugs_per_stud"\nplace = "dial 1.ground"\nvalue = 5\n'
        'reason = "a fifth wire"\ninitials = "AB"\ndate = 2026-03-01\n'
    )
    path.write_text(path.read_text(encoding="utf-8") + waiver, encoding="utf-8")
    store = tmp_path / "store"
    plan_catalogue(folder, store, Settings(), SERIAL)
    before, after = results((folder, store), tmp_path / "after", "lugs_per_stud=5")
    assert verdict_of(before, after) == "a waiver no longer stands"
    overview = impact("boats", "lugs_per_stud=5", [(before, after)])
    told = next(part for part in overview.parts if part.name == "waivers").rows
    assert ["no looser than" in row.waiver for row in told] == [True]
