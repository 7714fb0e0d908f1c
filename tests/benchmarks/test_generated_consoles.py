"""The consoles that benchmarks generate: each is a scenario this program takes, read only."""

from __future__ import annotations

import pytest
from consoles import CIRCUITS, LAYOUTS, scenario_text, tab_waivers
from device_consoles import device_text
from scale import SEED, SIZES
from scale_limits import RULES, LimitSet, binding, loose

from lugwright.base.toml import parse_toml
from lugwright.model.choose import best_choice
from lugwright.pipeline import pose, read_inputs
from lugwright.plans.outcome import Ending
from lugwright.scenario.brief import Brief


def read(text: str, limits: LimitSet) -> Brief:
    """A console under a set of limits."""
    return read_inputs(parse_toml(text.encode(), "console.toml"), settings=limits.settings)


@pytest.mark.parametrize("circuits", CIRCUITS)
@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("size", SIZES[::3])
def test_every_console_is_a_valid_scenario(size: int, layout: str, circuits: int) -> None:
    """So many instruments and circuits; every circuit with posts, a supply and a load or more."""
    console = read(scenario_text(size, layout, SEED, circuits), loose(size)).console
    assert len(console.instruments) == size
    assert len(console.circuits) == circuits
    assert all(circuit.posts for circuit in console.circuits)
    assert all(bool(circuit.taken_from) != bool(circuit.pigtail) for circuit in console.circuits)
    fed = {post for load in console.loads for post in (load.feed_post, load.ground_post)}
    assert fed == {post for circuit in console.circuits for post in circuit.posts}


@pytest.mark.parametrize("circuits", CIRCUITS)
@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("size", SIZES[1:6:2])
def test_every_set_of_limits_can_be_set(size: int, layout: str, circuits: int) -> None:
    """Binding, whole and less one rule, with the tabs waived where it puts one wire in a barrel."""
    plain = scenario_text(size, layout, SEED, circuits)
    for rule in ("", *RULES):
        limits = binding(size, circuits, layout, rule)
        text = plain + tab_waivers(size, circuits) if limits.tabs_waived else plain
        inputs = read(text, limits)
        tabs = [post.id for post in inputs.console.posts if post.kind == "tab"]
        assert all(inputs.limits.at("wires_per_barrel", post) == 2 for post in tabs)


def test_a_rule_taken_away_is_as_loose_as_the_loose_set() -> None:
    """Without a rule, its limits are those of the loose set, and the others stand."""
    size, text = 30, scenario_text(30, "grid", SEED)
    free = read(text, loose(size)).limits
    whole = read(text + tab_waivers(size), binding(size, 3, "grid")).limits
    less = read(text + tab_waivers(size), binding(size, 3, "grid", "drop")).limits
    assert less.drop_critical_permille == free.drop_critical_permille
    assert less.crimp_uohm == free.crimp_uohm
    assert less.wires_per_barrel == whole.wires_per_barrel == 1
    assert less.showing_thread_permille == whole.showing_thread_permille


def test_a_seed_gives_one_console() -> None:
    """The same seed the same file, another seed another one where dials are scattered."""
    assert scenario_text(8, "scattered", 1, 6) == scenario_text(8, "scattered", 1, 6)
    assert scenario_text(8, "scattered", 1, 6) != scenario_text(8, "scattered", 2, 6)


@pytest.mark.parametrize("size", [8, 12])
def test_consoles_with_devices_are_proved(size: int) -> None:
    """Eight circuits, six of them behind ways, each proved; what its fuses feed lands nowhere."""
    inputs = read_inputs(parse_toml(device_text(size).encode(), "console.toml"))
    assert len(inputs.console.instruments) == size
    assert sum(bool(circuit.supplied_by) for circuit in inputs.console.circuits) == 6
    problem, _ = pose(inputs)
    outcome = best_choice(problem)
    assert outcome.ending is Ending.PROVED
    assert outcome.choice is not None
    landed = {circuit for circuit, _ in outcome.choice.landings}
    assert landed == {"battery", "ground", "switched", "ignition", "light feed", "lamps"}
