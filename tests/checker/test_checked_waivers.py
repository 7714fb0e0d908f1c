"""The second opinion on waivers: as the scenario has them, used where given, and needed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.plan_edits import judge, rules
from support.waivers import waived
from support.wired_by_hand import AREA, hand_console, hand_limits, hand_plan

from lugwright.limits.waivable import Waiver
from lugwright.plans.schema import Plan, WaiverUsed

PLAN = hand_plan()
TIGHT = {
    # limit of the hand plan that it just keeps, tightened: the field, value, rule broken
    "lugs_per_stud": ("lugs_per_stud", 1, "lug count"),
    "fuse_share": ("fuse_permille", 10, "fuse"),
    "load_share": ("load_permille", 10, "fuse load"),
    "minimum_size": ("minimum_area_um2", AREA + 1, "minimum size"),
}


def stating(*waivers: Waiver) -> Plan:
    """The hand plan, stating these waivers."""
    rows = tuple(
        WaiverUsed(
            limit=w.limit, place=w.place, value=w.text, reason=w.reason, initials=w.initials,
            date=w.date, origin=str(w.origin),
        )
        for w in waivers
    )  # fmt: skip
    return PLAN.model_copy(update={"waivers": rows})


def places_broken(limit: str) -> set[str]:
    """Where the hand plan breaks a limit that is tightened everywhere."""
    field, value, rule = TIGHT[limit]
    report = judge(limits=hand_limits(**{field: value}))
    assert rules(report) == {rule}
    circuits = {wire.label: wire.circuit for wire in PLAN.jumpers}
    return {circuits.get(f.place, f.place.removeprefix("fuse of ")) for f in report.findings}


@pytest.mark.parametrize("limit", TIGHT)
def test_a_limit_waived_wherever_the_plan_breaks_it(limit: str) -> None:
    """With a waiver at each of those places nothing is found; with one too few, it is."""
    field, value, rule = TIGHT[limit]
    loose = {"lugs_per_stud": 4, "fuse_share": 1500, "load_share": 1000, "minimum_size": AREA}
    waivers = tuple(waived(limit, at, loose[limit]) for at in sorted(places_broken(limit)))
    limits = hand_limits(**{field: value}, waivers=waivers)
    report = judge(stating(*waivers), limits=limits)
    assert ([str(f) for f in report.findings], report.notes) == ([], ())
    one_less = hand_limits(**{field: value}, waivers=waivers[1:])
    report = judge(stating(*waivers[1:]), limits=one_less)
    assert rules(report) == {rule}


def test_a_finding_beyond_a_waiver_names_it() -> None:
    """Where even the waived value does not do, the limit comes from the waiver."""
    waiver = waived("fuse_share", "ignition", 20)
    report = judge(stating(waiver), limits=hand_limits(fuse_permille=10, waivers=(waiver,)))
    assert {finding.rule for finding in report.findings} == {"fuse"}
    origins = {finding.origin for finding in report.findings}
    assert origins == {"waiver by AB, 2026-01-31, scenario, skiff.toml:40"}


def test_a_waiver_the_plan_does_not_need_is_told() -> None:
    """The plan keeps the limit as it is: a note, and no fault."""
    waiver = waived("lugs_per_stud", "dial1.ignition", 9)
    report = judge(stating(waiver), limits=hand_limits(waivers=(waiver,)))
    assert report.passed
    (note,) = report.notes
    assert note.startswith("waiver of lugs_per_stud at dial1.ignition to 9: this plan does not")


OWN = waived("lugs_per_stud", "dial1.ignition", 9)
STATED = [
    # what the scenario waives, what the plan states, message
    ((), (OWN,), "the plan waives this, and the scenario does not"),
    ((OWN,), (), "the scenario waives this, and the plan does not say so"),
    ((OWN,), (replace(OWN, value=8),), "value, reason, initials and date of the waiver"),
    ((OWN,), (replace(OWN, reason="other"),), "value, reason, initials and date of the waiver"),
    ((OWN,), (replace(OWN, initials="XY"),), "value, reason, initials and date of the waiver"),
    ((OWN,), (replace(OWN, place="dial2.ignition"),), "the plan waives this, and the scenario"),
    ((OWN,), (OWN, OWN), "a waiver is stated twice"),
]


@pytest.mark.parametrize(("held", "stated", "message"), STATED)
def test_a_plan_states_the_scenarios_waivers(
    held: tuple[Waiver, ...], stated: tuple[Waiver, ...], message: str
) -> None:
    """Every one, in full, and none that the scenario does not hold."""
    report = judge(stating(*stated), limits=hand_limits(waivers=held))
    assert rules(report) == {"waiver"}
    assert any(finding.message.startswith(message) for finding in report.findings)


def test_a_plan_that_leans_on_a_waiver_nobody_gave_is_refused() -> None:
    """A plan that states a waiver of its own still breaks the limit it would waive."""
    waiver = waived("lugs_per_stud", "dial1.ignition", 4)
    report = judge(stating(waiver), limits=hand_limits(lugs_per_stud=1))
    assert rules(report) == {"waiver", "lug count"}


def test_the_console_of_these_tests_has_the_places() -> None:
    """Otherwise a waiver here would be one for nothing."""
    console = hand_console()
    assert console.post(OWN.place).kind == "stud"
    assert "ignition" in {circuit.name for circuit in console.circuits}
