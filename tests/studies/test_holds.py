"""What is held is kept and told with its cost; what cannot be held is refused clearly."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from brute.case import Case
from brute.random_consoles import random_case
from support.asking import only_ground
from support.consoles import tiny_console
from support.limits import plain_limits
from support.seeds import every

from lugwright.base.errors import BadInput
from lugwright.checker.holds import holds_broken
from lugwright.cli.main import run
from lugwright.limits.schema import Limits
from lugwright.model.choose import best_choice
from lugwright.outputs.shown import ShownPlan
from lugwright.pipeline import Run, holding, make_plan, read_inputs
from lugwright.plans.outcome import Ending, Outcome
from lugwright.problem.build import build_problem
from lugwright.problem.held import hold_in
from lugwright.problem.schema import Problem
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console
from lugwright.scenario.holds import Held, Hold
from lugwright.stock.read import read_stock
from lugwright.studies.hubs import compare_hubs

SKIFF = Path(__file__).resolve().parents[2] / "scenarios" / "sandbar-skiff.toml"
HOLD = tuple[str, str]


def inputs_of(console: Console, limits: Limits | None = None) -> Brief:
    """Inputs without files."""
    return Brief(console, limits or plain_limits(), read_stock())


ROW = inputs_of(tiny_console())


def planned(*holds: HOLD, inputs: Brief = ROW) -> Run:
    """Three dials in a row, with something held."""
    return make_plan(holding(inputs, holds))


def pairs(run_: Run) -> set[frozenset[str]]:
    """The jumpers of a plan by their ends."""
    assert run_.plan is not None
    return {frozenset((jumper.from_joint, jumper.to_joint)) for jumper in run_.plan.jumpers}


FAR = ("jumper", "dial1.ground > dial3.ground")


def test_a_required_jumper_is_in_the_plan() -> None:
    """From end to end, past the middle dial: dearer, proved, and told with its cost."""
    free, held = planned(), planned(FAR)
    ends = frozenset(("dial1.ground", "dial3.ground"))
    assert ends not in pairs(free) and ends in pairs(held)
    assert held.outcome.ending is Ending.PROVED and held.outcome.cost > free.outcome.cost
    assert held.plan is not None and held.report is not None and held.report.passed
    (told,) = held.plan.proof.held
    more = (held.outcome.cost[0] - free.outcome.cost[0]) / 10
    assert told.startswith("jumper dial1.ground > dial3.ground (costs ")
    assert f" {more:g} mm more; without it: " in told
    said = " ".join(ShownPlan(held.plan).build_list.split())
    assert "no plan that keeps what is held costs less" in said and "Held: jumper" in said


def test_a_required_jumper_may_be_written_either_way_round() -> None:
    """The wire is the same from both ends."""
    other = planned(("jumper", "dial3.ground>dial1.ground"))
    assert other.plan == planned(FAR).plan


def test_a_forbidden_jumper_is_not_in_the_plan() -> None:
    """Without the short piece between neighbours another is cut."""
    free = planned()
    assert frozenset(("dial1.ground", "dial2.ground")) in pairs(free)
    held = planned(("no-jumper", "dial1.ground > dial2.ground"))
    assert frozenset(("dial1.ground", "dial2.ground")) not in pairs(held)
    assert held.outcome.ending is Ending.PROVED and held.outcome.cost > free.outcome.cost


def test_a_last_post_has_no_jumper_going_on() -> None:
    """The middle dial's ground goes on when free, and is an end when held last."""
    free, held = planned(), planned(("last", "dial2.ground"))
    assert free.plan is not None and held.plan is not None
    assert any(jumper.from_joint == "dial2.ground" for jumper in free.plan.jumpers)
    assert not any(jumper.from_joint == "dial2.ground" for jumper in held.plan.jumpers)
    assert held.outcome.cost > free.outcome.cost and held.outcome.ending is Ending.PROVED


def test_no_splice() -> None:
    """Three grounds about a point are joined there when free, and in a chain when held."""
    centres = ((130, 85), (250, 85), (190, 265))
    limits = plain_limits(splices=True, dress_height_dmm=500, lug_worth_dmm=0, fitting_worth_dmm=0)
    inputs = inputs_of(only_ground(tiny_console(centres, lamps=False)), limits)
    free = make_plan(inputs)
    held = make_plan(holding(inputs, [("no-splice", "")]))
    assert free.plan is not None and free.plan.splices
    assert held.plan is not None and not held.plan.splices
    assert held.outcome.ending is Ending.PROVED and held.outcome.cost > free.outcome.cost


def test_a_wire_size() -> None:
    """All ground jumpers are cut from the held size."""
    held = planned(("size", "ground:14 AWG"))
    assert held.plan is not None
    sizes = {jumper.wire_size for jumper in held.plan.jumpers if jumper.circuit == "ground"}
    assert sizes == {"14 AWG"} and held.outcome.ending is Ending.PROVED


def test_each_of_several_holds_has_its_price() -> None:
    """Every hold against the rest, and all together against the free optimum."""
    held = planned(FAR, ("hub", "dial1"), ("no-splice", ""))
    assert held.plan is not None
    told = held.plan.proof.held
    assert [words.partition(" (")[0] for words in told] == [
        "hub dial1",
        "jumper dial1.ground > dial3.ground",
        "no splice",
        "all holds together",
    ]
    assert "no splice (costs nothing)" in told


def test_no_plan_under_holds_says_which_to_let_go() -> None:
    """A hub that must be last cannot pass anything on; either alone is possible."""
    held = planned(("hub", "dial2"), ("last", "dial2.ground"))
    assert held.outcome.ending is Ending.IMPOSSIBLE and held.plan is None
    assert held.outcome.note == (
        "held: hub dial2; last dial2.ground; a plan exists without: hub dial2, or without: "
        "last dial2.ground"
    )


def test_no_time_for_the_price_is_said() -> None:
    """A hold whose price was not asked for is told as such, never as costing nothing."""
    from lugwright.studies.holds import Price, with_prices

    held = Held((Hold("hub", ("dial1",)),))
    outcome = planned(("hub", "dial1")).outcome
    told = with_prices(outcome, held, (Price("hub dial1", None),)).held
    assert told == ("hub dial1 (what that costs was not found in time)",)


def test_a_plan_that_breaks_a_hold_is_found_out() -> None:
    """The look at the plan itself finds every kind of hold broken."""
    plan = planned().plan
    assert plan is not None
    broken = Held(
        (
            Hold("hub", ("elsewhere",)),
            Hold("jumper", ("dial1.ground", "dial3.ground")),
            Hold("no-jumper", ("dial1.ground", "dial2.ground")),
            Hold("last", ("dial2.ground",)),
            Hold("size", ("ground", "8 AWG")),
        )
    )
    assert [finding.place for finding in holds_broken(plan, broken)] == list(broken.told)
    assert holds_broken(plan, Held((Hold("no-splice", ()),))) == ()


# -- against trying everything, and against the free optimum -------------------------------------


def case_problem(case: Case) -> Problem:
    """A random case posed."""
    return build_problem(case.brief, case.routes())


def cost(outcome: Outcome) -> tuple[int, ...] | None:
    """The proved cost; None: no plan exists."""
    assert outcome.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    return outcome.cost or None


@pytest.mark.parametrize("seed", every(3, [*range(4), 5, 6, *range(8, 16)]))
def test_holding_what_the_best_plan_has_costs_nothing(seed: int) -> None:
    """Every jumper and every last post of the best plan may be held, alone or together."""
    problem = case_problem(random_case(seed))
    free = best_choice(problem)
    if free.choice is None:
        return
    jumpers = [
        j for j in free.choice.jumpers if j.a in problem.post_kind and j.b in problem.post_kind
    ]
    going_on = {jumper.a for jumper in free.choice.jumpers}
    holds = [Hold("jumper", (min(j.a, j.b), max(j.a, j.b))) for j in jumpers]
    holds += [Hold("last", (j.b,)) for j in jumpers if j.b not in going_on]
    assert cost(best_choice(hold_in(problem, Held(tuple(sorted(holds)))))) == free.cost


@pytest.mark.parametrize("seed", every(3, [*range(4), 5, 6, *range(8, 16)]))
def test_required_and_forbidden_share_all_plans(seed: int) -> None:
    """Whatever the jumper: with it or without it, the better of the two is the free optimum."""
    problem = case_problem(random_case(seed))
    free = cost(best_choice(problem))
    rng = Random(seed)
    edges = [(e.a, e.b) for c in problem.circuits for e in (*c.edges, *c.take_off)]
    for a, b in rng.sample(edges, min(2, len(edges))):
        names = (min(a, b), max(a, b))
        both = [
            cost(best_choice(hold_in(problem, Held((Hold(what, names),)))))
            for what in ("jumper", "no-jumper")
        ]
        assert min((one for one in both if one), default=None) == free
        assert all(one is None or (free is not None and one >= free) for one in both)


@pytest.mark.parametrize("seed", every(3, [*range(4), 5, 6, *range(8, 16)]))
def test_a_held_size_is_the_case_with_that_spool_alone(seed: int) -> None:
    """Holding a circuit's size equals the enumerator on a stock without its other sizes."""
    case = random_case(seed)
    problem = case_problem(case)
    if problem.faults:
        return
    circuit = problem.circuits[0]
    shared = [c.name for c in case.console.circuits if c.colour == circuit.choices[0].colour]
    if shared != [circuit.name] or case.console.boat_blocks:
        return  # another circuit would lose its spools too
    size = circuit.choices[-1].size
    spools = tuple(
        s for s in case.stock.spools if s.colour != circuit.choices[0].colour or s.wire_size == size
    )
    alone = replace(case, stock=replace(case.stock, spools=spools))
    held = best_choice(hold_in(problem, Held((Hold("size", (circuit.name, size)),))))
    assert cost(held) == alone.best().cost


@pytest.mark.parametrize("seed", every(2, [2, 5, 6, 12, 10]))
def test_no_splice_is_the_case_without_splice_points(seed: int) -> None:
    """Holding no splice equals the enumerator where there are no candidate points."""
    case = random_case(seed)
    assert any(case.splices.values())
    held = best_choice(hold_in(case_problem(case), Held((Hold("no-splice", ()),))))
    assert cost(held) == replace(case, splices={}).best().cost


# -- what cannot be held --------------------------------------------------------------------------

WRONG = (
    (("hub", "dail1"), "named 'dail1'", 'did you mean "dial1"? there are: dial1'),
    (("jumper", "dial1.ground"), "does not name a jumper", "write two posts"),
    (("jumper", "a>b>c"), "does not name a jumper", "write two posts"),
    (("jumper", "dial1.groun>dial2.ground"), "no wired post is named", 'mean "dial1.ground"?'),
    (("jumper", "dial1.ground>dial1.ground"), "no jumper runs", "one piece of metal"),
    (
        ("no-jumper", "dial1.ground>dial2.ignition"),
        "no jumper runs from dial1.ground to dial2.ignition",
        "one is ground, the other ignition",
    ),
    (("last", "dial9.ground"), "no wired post is named 'dial9.ground'", "did you mean"),
    (("last", "key.ground"), "no wired post is named 'key.ground'", "(there are: dial1."),
    (("no-splice", "yes"), "no-splice stands by itself", "write no-splice"),
    (("size", "ground"), "is not a circuit and a size", "ground:16 AWG"),
    (("size", "grond:16 AWG"), "no circuit is named 'grond'", 'did you mean "ground"?'),
    (("size", "ground:16 ABC"), "wire size", "16 AWG"),
    (("size", "ground:0 AWG"), "", "16 AWG"),
    (("spool", "x"), "'spool' cannot be held", "these can: hub, jumper, no-jumper, last"),
)


@pytest.mark.parametrize(("hold", "message", "hint"), WRONG)
def test_a_hold_that_means_nothing(hold: HOLD, message: str, hint: str) -> None:
    """One clear complaint with what is allowed and the nearest spelling."""
    with pytest.raises(BadInput) as caught:
        holding(ROW, [hold])
    (complaint,) = caught.value.complaints
    assert message in complaint.message and hint in str(complaint)
    assert complaint.field == "--hold"


@pytest.mark.parametrize(
    ("holds", "message"),
    [
        ([("hub", "dial1"), ("hub", "dial2")], "hub is held twice"),
        ([("size", "ground:16 AWG"), ("size", "ground:14 AWG")], "size of ground is held twice"),
        ([FAR, ("no-jumper", FAR[1])], "is both wanted and forbidden"),
    ],
)
def test_holds_against_each_other(holds: list[HOLD], message: str) -> None:
    """What is held twice and otherwise is refused once."""
    with pytest.raises(BadInput) as caught:
        holding(ROW, holds)
    (complaint,) = caught.value.complaints
    assert message in complaint.message


def test_a_size_below_the_least_is_a_fault_with_a_reason() -> None:
    """In stock but not allowed here: no plan exists, and the sizes that are allowed are named."""
    inputs = inputs_of(tiny_console(), plain_limits(minimum_area_um2=2_000_000))
    held = planned(("size", "ignition:16 AWG"), inputs=inputs)
    assert held.outcome.ending is Ending.IMPOSSIBLE
    reason = next(one for one in held.outcome.reasons if one.rule == "hold")
    assert reason.place == "circuit ignition" and reason.measured == "16 AWG"
    assert "14 AWG" in reason.limit and "16 AWG" not in reason.limit


# -- in a scenario ---------------------------------------------------------------------------------


def scenario_with(tmp_path: Path, text: str) -> Path:
    """The skiff with something held in its own file."""
    file = tmp_path / "held.toml"
    file.write_text(SKIFF.read_text(encoding="utf-8") + text, encoding="utf-8")
    return file


def test_holds_of_a_scenario(tmp_path: Path) -> None:
    """Every kind in [[hold]]; the command line's hub stands over the scenario's."""
    text = (
        '\n[[hold]]\nhub = "fuel"\n[[hold]]\njumper = "fuel.ground > speed.ground"\n'
        '[[hold]]\nno_jumper = "fuel.ground > depth.ground"\n[[hold]]\nlast = "depth.ground"\n'
        '[[hold]]\nno_splice = true\n[[hold]]\ncircuit = "ground"\nsize = "16 AWG"\n'
    )
    inputs = read_inputs(scenario_with(tmp_path, text))
    assert inputs.holds.told == (
        "hub fuel",
        "jumper fuel.ground > speed.ground",
        "last depth.ground",
        "no jumper depth.ground > fuel.ground",
        "no splice",
        "size ground: 16 AWG",
    )
    assert holding(inputs, {"hub": "volts"}).holds.hub == "volts"
    made = make_plan(inputs)
    assert made.plan is not None and made.plan.hub == "fuel"
    assert len(made.plan.proof.held) == 7
    table = compare_hubs(holding(inputs, [("hub", "speed")]))
    assert [row.hub for row in table.rows] == ["speed"]
    assert "Held in every row: last depth.ground." in table.told


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('hub = "fule"', "hold 1, hub: no instrument is named 'fule' (did you mean \"fuel\"?"),
        ('hub = "fuel"\nlast = "fuel.ground"', "one thing is held in each [[hold]]"),
        ("", "one thing is held in each [[hold]]"),
        ('size = "16 AWG"', "size and circuit are held together"),
        ('hubb = "fuel"', 'unknown key "hubb" (did you mean "hub"?)'),
        ("no_splice = false", "no_splice is held by writing true"),
        ('last = "fuel"', "does not name a post"),
    ],
)
def test_a_wrong_hold_in_a_scenario(tmp_path: Path, text: str, said: str) -> None:
    """Refused at its own line with the way out."""
    file = scenario_with(tmp_path, f"\n[[hold]]\n{text}\n")
    with pytest.raises(BadInput) as caught:
        read_inputs(file)
    complaint = caught.value.complaints[0]
    assert said in f"{complaint.field}: {complaint.message} ({complaint.hint})"
    assert complaint.line > len(SKIFF.read_text(encoding="utf-8").splitlines())


def test_the_command_line_holds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A call with holds prints what they cost; no-splice stands without a name."""
    monkeypatch.chdir(tmp_path)
    call = ["plan", str(SKIFF), "--quiet", "--hold", "no-splice", "--hold", "hub=fuel"]
    assert run(call) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "hub fuel (costs wire and worths 205 mm more" in said
    assert "no splice (costs nothing)" in said
    assert run([*call, "--hold", "last=fuel.grond"]) == 2
    assert 'did you mean "fuel.ground"?' in capsys.readouterr().err
