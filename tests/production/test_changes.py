"""What changed between two plans, told apart by what pieces are and not by their numbers."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

from click.testing import CliRunner
from support.plans import plan_of

from lugwright.cli.main import cli
from lugwright.outputs.folder import write_folder
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan
from lugwright.production.revisions import changes_between


def planned(hub: str = "") -> Plan:
    """The skiff's plan, where asked for with its hub held."""
    return plan_of("sandbar-skiff", hub=hub)


def test_a_plan_does_not_differ_from_itself() -> None:
    """No change, no work, every jumper the same."""
    plan = planned()
    found = changes_between(plan, plan)
    assert found.none
    assert found.work == ()
    assert found.same_jumpers == len(plan.jumpers)


def test_numbers_alone_are_a_renaming() -> None:
    """The same pieces under other labels: only new tags are asked for."""
    plan = planned()
    names = {f"ground {n}": f"ground {n + 10}" for n in range(1, 10)}

    def renamed(text: str) -> str:
        for old, new in names.items():
            text = text.replace(f'"{old}"', f'"{new}"')
        return text

    other = Plan.model_validate(json.loads(renamed(json.dumps(plan.model_dump(mode="json")))))
    found = changes_between(plan, other)
    assert {change.kind for change in found.changes} == {"renamed"}
    assert len(found.work) == 1 and found.work[0].startswith("Put on new tags")


def test_another_hub() -> None:
    """Hub, landings and totals are told; every piece of the old plan has one fate."""
    old, new = planned(), planned(hub="fuel")
    found = changes_between(old, new)
    hubs = [change for change in found.changes if change.part == "hub"]
    assert [(one.before, one.after) for one in hubs] == [("speed", "fuel")]
    kinds = [change.kind for change in found.changes if change.part == "jumper"]
    gone, come = kinds.count("removed"), kinds.count("new")
    both = kinds.count("recut") + kinds.count("moved")
    assert found.same_jumpers + both + gone == len(old.jumpers)
    assert found.same_jumpers + both + come == len(new.jumpers)
    totals = {change.place: change for change in found.changes if change.part == "total"}
    assert totals["wire"].before == "1345 mm"


def test_the_way_back_takes_out_what_the_way_there_put_in() -> None:
    """Fittings and stacks that one direction removes, the other makes."""
    old, new = planned(), planned(hub="fuel")
    there, back = changes_between(old, new), changes_between(new, old)

    def count(changes: tuple[object, ...], part: str, kind: str) -> int:
        return sum((one.part, one.kind) == (part, kind) for one in changes)  # type: ignore[attr-defined]

    for part in ("fitting", "stack"):
        assert count(there.changes, part, "new") == count(back.changes, part, "removed")


def test_a_recut_piece_is_shortened_where_it_can_be() -> None:
    """A longer piece between the same joints is cut shorter, a shorter one is cut new."""
    plan = planned()
    piece = plan.jumpers[0]
    longer = piece.model_copy(update={"length_dmm": piece.length_dmm + 500})
    old = plan.model_copy(update={"jumpers": (longer, *plan.jumpers[1:])})
    assert any(line.startswith("Shorten") for line in changes_between(old, plan).work)
    work = changes_between(plan, old).work
    assert any(line.startswith(f"Cut {piece.label}") for line in work)
    assert any(line.startswith(f"Take out old {piece.label}") for line in work)


def test_the_command_tells_it(tmp_path: Path) -> None:
    """As lines and as JSON, with exit code 0."""
    write_folder(ShownPlan(planned()), tmp_path / "old")
    write_folder(ShownPlan(planned(hub="fuel")), tmp_path / "new")
    asked = ["changes", str(tmp_path / "old"), str(tmp_path / "new")]
    told = CliRunner().invoke(cli, asked)
    assert told.exit_code == 0
    assert "hub: changed" in told.output
    data = json.loads(CliRunner().invoke(cli, [*asked, "--json"]).output)
    assert data["answer"] == "changes"
    assert data["same_jumpers"] == 10


def test_limits_and_rule_set_are_compared() -> None:
    """A limit with another value is told by name, with both values."""
    plan = planned()
    first = plan.limits[0]
    other = plan.model_copy(
        update={"limits": (first.model_copy(update={"value": "other"}), *plan.limits[1:])}
    )
    found = changes_between(plan, other).changes
    assert [(one.part, one.place, one.after) for one in found] == [("limit", first.name, "other")]
    assert replace(changes_between(plan, other), changes=()).none
