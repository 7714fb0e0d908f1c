"""The plan made by eye."""

from __future__ import annotations

from dataclasses import replace

from support.bench import (
    bench_console,
    bench_limits,
    bench_stock,
    spool,
    straight_routes,
)
from support.consoles import given_wire

from lugwright.assemble.build import assemble_plan
from lugwright.assemble.hand_plan import hand_choice
from lugwright.limits.schema import Limits
from lugwright.plans.choice import Choice, WireKey
from lugwright.plans.outcome import Ending, Outcome
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console
from lugwright.stock.schema import Stock


def by_hand(
    console: Console, limits: Limits | None = None, stock: Stock | None = None
) -> Choice | None:
    """The hand plan on straight routes."""
    brief = Brief(console, limits or bench_limits(), stock or bench_stock())
    return hand_choice(brief, straight_routes(console))


def tallest(console: Console, dial: str) -> Console:
    """The same console with taller studs on one dial."""
    posts = tuple(
        replace(p, free_thread_dmm=p.free_thread_dmm + 30)
        if p.instrument == dial and p.kind == "stud"
        else p
        for p in console.posts
    )
    return replace(console, posts=posts)


def ends(choice: Choice, circuit: str) -> list[tuple[str, str]]:
    """Both ends of a circuit's jumpers, sorted."""
    return [(item.a, item.b) for item in choice.jumpers if item.circuit == circuit]


def test_hub_has_the_tallest_studs() -> None:
    """Dial 3 with taller studs is the hub; among equals the first by name."""
    chosen = by_hand(tallest(bench_console(), "dial3"))
    assert chosen is not None
    assert chosen.landings == (("ground", "dial3.ground"), ("ignition", "dial3.ignition"))
    plain = by_hand(bench_console())
    assert plain is not None
    assert dict(plain.landings)["ground"] == "dial1.ground"


def test_each_post_joins_the_nearest_wired_one() -> None:
    """From dial 1: 1 to 2 (100 mm), then 2 to 3 (100 mm), not 1 to 3 (200 mm).

    Lamps leave the landing post for the nearest lamp, once, and go on from lamp to lamp.
    """
    chosen = by_hand(bench_console())
    assert chosen is not None
    assert ends(chosen, "ignition") == [
        ("dial1.ignition", "dial2.ignition"),
        ("dial2.ignition", "dial3.ignition"),
    ]
    assert ends(chosen, "lamps") == [
        ("dial1.ignition", "dial1.lamp"),
        ("dial1.lamp", "dial2.lamp"),
        ("dial2.lamp", "dial3.lamp"),
    ]


def test_a_tab_gets_no_third_wire() -> None:
    """From the middle dial's lamp tab only one jumper goes on; the next starts at its far end.

    Dial 2 is the hub: 2.ignition to 2.lamp, 2.lamp to 1.lamp, and 1.lamp on to 3.lamp.
    """
    chosen = by_hand(tallest(bench_console(), "dial2"))
    assert chosen is not None
    assert ends(chosen, "lamps") == [
        ("dial1.lamp", "dial3.lamp"),
        ("dial2.ignition", "dial2.lamp"),
        ("dial2.lamp", "dial1.lamp"),
    ]


def test_two_wires_go_into_one_fitting() -> None:
    """At the hub the first jumper shares the pigtail's ring; the take-off has its own.

    18 AWG of the sender and 16 AWG of the bench never share.
    """
    chosen = by_hand(tallest(bench_console(), "dial2"))
    assert chosen is not None
    at_hub = [item for item in chosen.fittings if item.joint == "dial2.ignition"]
    held = sorted((item.item, len(item.barrels[0])) for item in at_hub)
    assert held == [("blue ring", 2), ("red ring", 1), ("red ring", 1)]
    takeoff = WireKey("jumper", "lamps", "dial2.ignition", "dial2.lamp")
    assert (takeoff,) in [item.barrels[0] for item in at_hub]
    sender = [item for item in chosen.fittings if item.joint == "dial3.ground"]
    assert all(len(item.barrels[0]) == 1 for item in sender)


def test_one_wire_per_fitting_where_no_barrel_takes_two() -> None:
    """Without the blue ring every end gets a red one; without any ring there is no plan."""
    stock = bench_stock()
    few = replace(stock, fittings=tuple(f for f in stock.fittings if f.name != "blue ring"))
    chosen = by_hand(bench_console(), stock=few)
    assert chosen is not None
    assert all(len(f.barrels[0]) == 1 for f in chosen.fittings if f.item == "red ring")
    none = replace(stock, fittings=tuple(f for f in stock.fittings if f.kind != "ring"))
    assert by_hand(bench_console(), stock=none) is None


def test_smallest_wire_the_fuse_allows() -> None:
    """18 AWG is in stock; its table current at 105 C is 20 A (33 CFR 183.425 Table 5).

    A fuse of 10 A lets it stand, one of 21 A asks for 16 AWG (25 A), and so does a limit on size.
    """
    stock = bench_stock()
    thin = tuple(
        spool("18 AWG", colour, 823_000, 2_200) for colour in ("purple", "black", "dark blue")
    )
    both = replace(stock, spools=(*stock.spools, *thin))

    def sizes(console: Console, limits: Limits) -> set[str]:
        chosen = by_hand(console, limits, both)
        assert chosen is not None
        return {item.wire_size for item in chosen.jumpers if item.circuit == "ignition"}

    usual = bench_limits(fuse_permille=1000)
    assert sizes(bench_console(), usual) == {"18 AWG"}
    assert sizes(bench_console(fuse_ma=21_000), usual) == {"16 AWG"}
    least = bench_limits(fuse_permille=1000, minimum_area_um2=1_000_000)
    assert sizes(bench_console(), least) == {"16 AWG"}


def test_no_hub_no_plan() -> None:
    """Where no candidate has every circuit's post there is nothing to make by eye."""
    assert by_hand(bench_console(hub_candidates=())) is None


def test_optional_posts_are_left_out() -> None:
    """An unloaded bus bar nobody must reach stays unwired."""
    console = bench_console()
    posts = tuple(replace(p, optional=True) if p.id == "dial3.ground" else p for p in console.posts)
    chosen = by_hand(replace(console, posts=posts))
    assert chosen is not None
    assert ends(chosen, "ground") == [("dial1.ground", "dial2.ground")]


def test_extension_by_hand() -> None:
    """Pigtails of 50 mm reach are lengthened where that is allowed, in the circuit's wire."""
    console = bench_console(reach_mm=50.0)
    chosen = by_hand(console, bench_limits(extensions=True))
    assert chosen is not None
    assert [(e.wire, e.wire_size, e.colour) for e in chosen.extensions] == [
        ("pigtail ground", "16 AWG", "black"),
        ("pigtail ignition", "16 AWG", "purple"),
    ]
    joins = [item for item in chosen.fittings if item.joint.startswith("join ")]
    assert [item.item for item in joins] == ["red butt", "red butt"]
    without = by_hand(console)
    assert without is not None
    assert without.extensions == ()


def test_leads_by_hand() -> None:
    """A lead is joined by a butt with the lead alone in one half."""
    console = bench_console()
    posts = tuple(
        replace(p, kind="lead", lead=given_wire("16 AWG", "red"), thread="", free_thread_dmm=0)
        if p.id == "dial3.ignition"
        else p
        for p in console.posts
    )
    chosen = by_hand(replace(console, posts=posts))
    assert chosen is not None
    joint = next(item for item in chosen.fittings if item.joint == "dial3.ignition")
    assert joint.item == "red butt"
    assert WireKey("given", "lead dial3.ignition") in [keys[0] for keys in joint.barrels]


def test_hand_plan_assembles_and_beats_no_rule_of_counting() -> None:
    """The hand plan is a whole plan: 7 jumpers, and its lugs stack higher than one to a stud."""
    console = tallest(bench_console(), "dial2")
    choice = by_hand(console)
    brief = Brief(console, bench_limits(), bench_stock())
    outcome = Outcome(Ending.NO_ANSWER, (), choice)
    plan = assemble_plan(brief, straight_routes(console), outcome, "test")
    assert (plan.totals.jumpers, plan.totals.tallest_stack) == (7, 3)
    assert plan.hub == "dial2"


def test_same_console_in_another_order_same_choice() -> None:
    """Names decide, not the order of the file."""
    console = bench_console()
    turned = replace(console, instruments=console.instruments[::-1], posts=console.posts[::-1])
    circuits = tuple(replace(c, posts=c.posts[::-1]) for c in console.circuits[::-1])
    assert by_hand(console) == by_hand(replace(turned, circuits=circuits))
