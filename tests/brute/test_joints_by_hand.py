"""Hand-worked two-dial consoles for tabs, leads, what comes aboard, fuses and ampacity."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from support.limits import plain_limits

from brute.by_hand import BUTT, RING, STOCK, WIRE, best, two_dials
from lugwright.scenario.console import BoatBlock, BoatWire, Console, ReadyRing
from lugwright.stock.schema import Barrel, Stock

PUSH_ON = replace(RING, name="push-on", kind="push-on", stud_threads=(), tab_size="6.3 x 0.8")
SHORTEST = plain_limits(objective="shortest")


def with_post(console: Console, post_id: str, **changes: Any) -> Console:
    """The console with some fields of one post changed."""
    posts = tuple(
        replace(each, **changes) if each.id == post_id else each for each in console.posts
    )
    return replace(console, posts=posts)


def only_hub(console: Console, name: str) -> Console:
    """The console with one hub candidate."""
    dials = tuple(replace(each, hub_candidate=each.name == name) for each in console.instruments)
    return replace(console, instruments=dials)


def stock_of(*fittings: Any) -> Stock:
    """The plain stock with these fittings in place of its own."""
    return replace(STOCK, fittings=fittings)


def from_aboard(wires: int, **changes: Any) -> tuple[BoatBlock, ...]:
    """One block of boat wires with so many wires on dial a's ignition post, drawing nothing."""
    fields: dict[str, Any] = {"ring": None, "entry": None, "reach_dmm": 0, **changes}
    landed = tuple(
        BoatWire(f"plug: {n}", "plug", "a.ignition", WIRE, one_way_dmm=0, fuse_ma=0, **fields)
        for n in range(wires)
    )
    return (BoatBlock("plug", landed, 0, "", "", "other", False),)


def test_a_tab_takes_one_push_on_with_both_ends() -> None:
    """Landing on a tab: pigtail and jumper in one push-on; with one wire a barrel it cannot be."""
    tab = with_post(two_dials(), "a.ignition", kind="tab", tab_size="6.3 x 0.8", thread="")
    given, stock = only_hub(tab, "a"), stock_of(RING, PUSH_ON)

    assert best(given, SHORTEST, stock) == (1000, 0, 2)
    assert best(given, replace(SHORTEST, wires_per_barrel=1), stock) is None
    assert best(given, SHORTEST, STOCK) is None


def test_a_lead_is_joined_and_never_lands_the_supply() -> None:
    """b is a lead: one ring at a, one butt of lead and jumper; its crimp limit is the count."""
    given = with_post(two_dials(), "b.ignition", kind="lead", lead=WIRE, thread="")

    assert best(given, SHORTEST) == (1000, 0, 2)
    assert best(only_hub(given, "b"), SHORTEST) is None
    assert best(given, replace(SHORTEST, lead_kinds=("closed end",))) is None
    assert best(given, replace(SHORTEST, wires_per_splice=1)) is None


def test_a_lone_wire_is_folded_where_the_barrel_is_too_wide() -> None:
    """A barrel from 2.0 mm2 holds two wires of 1.3, or one folded back; the far stud has one."""
    wide = replace(RING, barrels=(Barrel(2_000_000, 2_700_000, 9000, 50),))

    assert best(two_dials(), SHORTEST, stock_of(wide)) == (1000, 0, 2)
    assert best(two_dials(), replace(SHORTEST, fold_back=False), stock_of(wide)) is None


def test_insulation_adds_by_its_squares() -> None:
    """Two of 2.5 mm need a sleeve of 3.536 mm (sqrt 12.5): 3536 um holds them, 3535 um does not."""
    for sleeve, expected in ((3536, (1000, 0, 2)), (3535, (1000, 1, 3))):
        ring = replace(RING, barrels=(Barrel(0, 2_700_000, sleeve, 50),))
        assert best(two_dials(), SHORTEST, stock_of(ring)) == expected


def test_what_comes_aboard_shares_no_barrel_with_the_bench() -> None:
    """Two wires of one block share a lug of their own on a: one stacked, three fittings.

    With rings of their own they are two more lugs and no fittings: two stacked.
    """
    given = only_hub(two_dials(), "a")
    assert best(replace(given, boat_blocks=from_aboard(2)), SHORTEST) == (1000, 1, 3)
    ringed = from_aboard(2, ring=ReadyRing("M4", 8, 60))
    assert best(replace(given, boat_blocks=ringed), SHORTEST) == (1000, 2, 2)


def test_a_boat_wire_too_short_gets_an_extension() -> None:
    """Entry at the origin, 300 to the post, reach 180: 120 more from a black spool and one butt."""
    wires = from_aboard(1, entry=two_dials().circuits[0].pigtail.entry, reach_dmm=180)  # type: ignore[union-attr]
    given = replace(only_hub(two_dials(), "a"), boat_blocks=wires)

    assert best(given, SHORTEST) is None
    longer = replace(SHORTEST, extensions=True)
    assert best(given, longer) == (1120, 1, 4)
    no_butt = stock_of(replace(BUTT, barrels=(Barrel(0, 1_000_000, 9000, 50),) * 2), RING)
    assert best(given, longer, no_butt) is None


def test_room_round_a_stud() -> None:
    """Two lugs of 180 degrees fill the round exactly; 181 is too wide."""
    one_a_barrel = replace(SHORTEST, wires_per_barrel=1)
    for angle, expected in ((180, (1000, 1, 3)), (181, None)):
        ring = replace(RING, barrel_angle_deg=angle)
        assert best(two_dials(), one_a_barrel, stock_of(ring)) == expected


def test_conductors_or_lugs_are_counted() -> None:
    """Two ends in one lug are one lug and two conductors."""
    one = replace(SHORTEST, lugs_per_stud=1)
    assert best(two_dials(), one) == (1000, 0, 2)
    assert best(two_dials(), replace(one, stud_count="conductors")) is None


def test_a_fuse_spares_every_wire_behind_it() -> None:
    """16 AWG at 105 C carries 25 A (33 CFR 183.425 Table 5): a 25 A fuse spares it, 26 A not."""
    limits = replace(SHORTEST, fuse_permille=1000)
    assert best(two_dials(fuse_ma=25_000), limits) == (1000, 0, 2)
    assert best(two_dials(fuse_ma=26_000), limits) is None
    assert best(two_dials(fuse_ma=1500), replace(limits, load_permille=999)) is None


def test_ampacity_counts_the_conductors_off_the_loom() -> None:
    """25 A x 0.7 for two together (rule set e11-dc): 17.5 A is carried, a milliampere more not."""
    limits = replace(SHORTEST, bundle_rule="e11-dc", off_loom_conductors=2)
    given = two_dials()
    for more, expected in ((16_000, (1000, 0, 2)), (16_001, None)):
        big = (given.loads[0], replace(given.loads[1], current_ma=500 + more))
        loads = (replace(big[0], current_ma=1000), big[1])
        assert best(replace(given, loads=loads), limits) == expected


def test_a_fitting_carries_its_largest_end() -> None:
    """At a the shared ring carries the pigtail's 1500 mA; what passes its tongue is 1000."""
    given = only_hub(two_dials(), "a")
    assert best(given, SHORTEST, stock_of(replace(RING, carries_ma=1500))) == (1000, 0, 2)
    assert best(given, SHORTEST, stock_of(replace(RING, carries_ma=1499))) is None


def test_a_stud_carries_what_passes_its_tongues() -> None:
    """Pigtail and jumper in one ring: 1500 less 500 pass the stud. In rings of their own, all 1500.

    1000 mA is what dial a itself draws: no stud of it can do with less.
    """
    for most, limit_ma, expected in (
        (2, 1000, (1000, 0, 2)), (2, 999, None), (1, 1500, (1000, 1, 3)), (1, 1499, None),
    ):  # fmt: skip
        weak = with_post(only_hub(two_dials(), "a"), "a.ignition", carries_ma=limit_ma)
        assert best(weak, replace(SHORTEST, wires_per_barrel=most)) == expected
