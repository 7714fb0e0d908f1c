"""A post is told by the circuit in force, not by what its pattern calls it."""

from __future__ import annotations

import pytest
from support.plans import plan_of

from lugwright.outputs.drawing.labels import post_words
from lugwright.outputs.words import post_use
from lugwright.plans.panel import PanelPost


def post(
    function: str, circuit: str, name: str = "feed", carries: tuple[str, ...] = ()
) -> PanelPost:
    """A tab of a panel with another function and circuit."""
    some = plan_of("switch-panel-loom").panel.posts[0]
    change = {"function": function, "circuit": circuit, "name": name, "carries": carries}
    return some.model_copy(update={"kind": "tab", **change})


@pytest.mark.parametrize(
    ("function", "circuit", "carries", "use"),
    [
        ("ignition", "accessory", (), "accessory"),
        ("ignition", "ignition", (), "ignition"),
        ("ground", "dial return", (), "dial return"),
        ("lamp", "lamps", (), "lamp"),
        ("lamp", "ignition", (), "ignition"),
        ("ignition", "", (), "no wire"),
        ("signal", "", ("fuel sender",), "signal"),
        ("second", "", (), "second"),
    ],
)
def test_use(function: str, circuit: str, carries: tuple[str, ...], use: str) -> None:
    """The circuit, where it has one that its function does not name."""
    assert post_use(post(function, circuit, carries=carries)) == use


def test_a_rocker_on_the_accessory_feed_says_so() -> None:
    """On drawings and cards."""
    assert post_words(post("ignition", "accessory")) == ("feed: accessory",)
    assert post_words(post("ignition", "accessory", name="ignition")) == ("ignition: accessory",)


def test_no_post_of_a_plan_is_told_by_another_circuit() -> None:
    """Every post of a panel with two feeds."""
    plan = plan_of("switch-panel-loom")
    names = {circuit.name for circuit in plan.panel.circuits}
    told = {one.id: post_use(one) for one in plan.panel.posts}
    wrong = {
        one.id: told[one.id]
        for one in plan.panel.posts
        if told[one.id] in names and told[one.id] != one.circuit
    }
    assert wrong == {}
    assert "accessory" in told.values()
