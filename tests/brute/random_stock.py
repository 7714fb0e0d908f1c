"""Small random shelves and limits. All values are invented round the sizes of common wire."""

from __future__ import annotations

from random import Random
from types import MappingProxyType

from lugwright.scenario.console import GivenWire
from lugwright.stock.schema import Barrel, FittingKind, FittingType, Hardware, Spool, Stock

# strand area in um2 (from memory, near ASTM B258 areas) and an invented outside diameter in um
SIZES = MappingProxyType(
    {
        "18 AWG": (823_000, 2300),
        "16 AWG": (1_310_000, 2600),
        "14 AWG": (2_080_000, 3000),
        "12 AWG": (3_310_000, 3600),
        "10 AWG": (5_260_000, 4300),
    }
)
HARDWARE = (
    Hardware("M4", 32, 10, 700, 7000, "7 mm", 60_000, 10),
    Hardware("M5", 40, 12, 800, 8000, "8 mm", 80_000, 10),
)
OBJECTIVES = ("default", "shortest", "lowest-stacks", "cheapest", "cheapest", "weights")
TAB = "6.3 x 0.8"
# least and most area, sleeve: three invented families of barrels, and two wide ones
BARRELS = (
    (500_000, 1_680_000, 4600),
    (1_050_000, 2_640_000, 5000),
    (2_600_000, 6_700_000, 6600),
    (700_000, 4_600_000, 6200),
    (500_000, 9_000_000, 9000),
)


def jittered(rng: Random, value: int, percent: int) -> int:
    """A value moved by up to so many per cent."""
    return value * rng.randint(100 - percent, 100 + percent) // 100


def given_wire(size: str, colour: str, temp_c: int) -> GivenWire:
    """A wire that is not from stock, in the plain area of its size."""
    area, insulation = SIZES[size]
    return GivenWire(size, colour, area, insulation, temp_c, size)


def random_spools(
    rng: Random, colours: list[str], most_sizes: int, tight: frozenset[str]
) -> tuple[Spool, ...]:
    """Two or three sizes of each colour, all with the same insulation temperature."""
    hot = tight.isdisjoint(("ampacity", "fuse"))
    temp_c = rng.choice((75, 105) if hot else (60, 60, 75))
    found = []
    for colour in colours:
        start = rng.choice((0, 0, 0, 1))
        count = min(most_sizes, rng.choice((2, 3, 3, 3)))
        for size in list(SIZES)[start : start + count]:
            area, insulation = SIZES[size]
            found.append(
                Spool(
                    wire_size=size,
                    colour=colour,
                    size_standard="AWG",
                    area_um2=jittered(rng, area, 3),
                    insulation_um=jittered(rng, insulation, 5),
                    insulation_temp_c=temp_c,
                    ampacity_size=size,
                    price_micro_per_m=rng.randint(3, 9) * 100_000 + area // 10,
                    spool_length_dmm=300_000,
                    name=f"{size} {colour}",
                )
            )
    return tuple(found)


def _fitting(
    rng: Random, number: int, kind: FittingKind, family: int, threads: tuple[str, ...]
) -> FittingType:
    low, high, sleeve = BARRELS[family]
    halves = 2 if kind == "butt" else 1
    barrels = []
    for _ in range(halves):
        barrels.append(
            Barrel(jittered(rng, low, 4), jittered(rng, high, 4), jittered(rng, sleeve, 6), 80)
        )
    on_stud = kind in ("ring", "captive spade", "plain spade")
    return FittingType(
        name=f"{kind} {number}",
        kind=kind,
        colour="",
        barrels=tuple(barrels),
        lined=rng.random() < 0.12,
        stud_threads=threads if on_stud else (),
        tab_size=TAB if kind == "push-on" else "",
        tongue_dmm=rng.randint(6, 12) if on_stud else 0,
        barrel_angle_deg=rng.choice((45, 60, 60, 72, 90)) if on_stud else 0,
        carries_ma=rng.choice((6000, 10_000, 20_000)) if rng.random() < 0.1 else 0,
        die="",
        price_micro=rng.randint(80, 600) * 1000,
        pack=25,
    )


def random_fittings(
    rng: Random, threads: tuple[str, ...], tabs: bool, tight: frozenset[str]
) -> tuple[FittingType, ...]:
    """Rings and spades for the threads, push-ons where there are tabs, butts, closed ends."""
    wanted: list[tuple[FittingKind, int]] = [("ring", 1), ("ring", 3)]
    wanted.append(("ring", rng.choice((0, 2))))
    if rng.random() < 0.6:
        wanted.append(("captive spade", rng.choice((0, 1, 3))))
    if rng.random() < 0.2:
        wanted.append(("plain spade", rng.choice((1, 3))))
    if tabs:
        wanted += [("push-on", 1), ("push-on", rng.choice((2, 3)))]
    wanted += [("butt", 3), ("butt", rng.choice((1, 3)))]
    if rng.random() < 0.7:
        wanted.append(("closed end", rng.choice((2, 3))))
    if "barrel" not in tight:
        wanted += [("ring", 4), ("butt", 4)]
        if tabs:
            wanted.append(("push-on", 4))
    return tuple(
        _fitting(rng, number, kind, family, threads)
        for number, (kind, family) in enumerate(wanted, start=1)
    )


def random_stock(
    rng: Random,
    colours: list[str],
    most_sizes: int,
    threads: tuple[str, ...],
    tabs: bool,
    tight: frozenset[str],
) -> Stock:
    """A small stock for these colours and threads."""
    spools = random_spools(rng, colours, most_sizes, tight)
    return Stock(spools, random_fittings(rng, threads, tabs, tight), HARDWARE, ())


def random_minutes(rng: Random) -> dict[str, object]:
    """Minutes and the rate, as fields of ``Limits``."""
    landed = ("ring", "captive spade", "plain spade", "push-on")
    crimped = (*landed, "butt", "closed end")
    landing = {}
    for kind in landed:
        bench = rng.randint(40, 120)
        stages = {"bench": bench, "aboard": bench + rng.randint(0, 150)}
        landing[kind] = MappingProxyType(stages)
    return {
        "rate_micro_per_hour": rng.randint(20, 70) * 1_000_000,
        "minutes_cut_cmin": rng.randint(20, 90),
        "minutes_fitting_cmin": MappingProxyType({k: rng.randint(30, 120) for k in crimped}),
        "minutes_landing_cmin": MappingProxyType(landing),
    }


def _standard_lengths(rng: Random) -> tuple[int, ...]:
    """Mostly none; else a few, of which some pieces may be longer.

    Drawn aside, so that nothing drawn after it changes.
    """
    aside = Random()
    aside.setstate(rng.getstate())
    if aside.random() < 0.8:
        return ()
    return tuple(sorted({aside.randrange(200, 4000, 50) for _ in range(aside.randint(1, 4))}))


def _pigtail_barrel(rng: Random) -> str:
    """Mostly shared. Drawn aside, likewise."""
    aside = Random()
    aside.setstate(rng.getstate())
    aside.random()
    return "own" if aside.random() < 0.15 else "shared"


def random_limits(rng: Random, tight: frozenset[str]) -> dict[str, object]:
    """Limits drawn so that each of them is felt in a fair share of the consoles."""
    lugs, per_barrel = rng.choice(((5, 2), (5, 2), (6, 3)))
    if "lugs" in tight:
        lugs, per_barrel = rng.choice(((1, 2), (2, 1), (2, 1), (2, 2), (3, 1)))
    bundles = "ampacity" in tight
    fields: dict[str, object] = {
        "slack_permille": rng.choice((0, 50, 80)),
        "end_allowance_dmm": rng.choice((0, 50, 100)),
        "cut_step_dmm": rng.choice((1, 50, 100)),
        "standard_lengths_dmm": _standard_lengths(rng),
        "minimum_jumper_dmm": rng.choice((600, 900, 1200)) if "minimum length" in tight else 0,
        "splice_to_post_dmm": rng.choice((0, 200, 300)),
        "dress_height_dmm": rng.choice((0, 100, 250)),
        "drip_loop_dmm": rng.choice((0, 200)),
        "re_termination_dmm": rng.choice((0, 100)),
        "one_hub": rng.random() < 0.8,
        "extensions": rng.random() < 0.7,
        "pigtail_barrel": _pigtail_barrel(rng),
        "wires_per_barrel": per_barrel,
        "wires_per_splice": rng.choice((3, 4, 5)),
        "size_ratio_permille": rng.choice((1600, 2600)) if "barrel" in tight else 5000,
        "fold_back": rng.random() < (0.3 if "barrel" in tight else 0.8),
        "stud_kinds": ("ring", "captive spade"),
        "lugs_per_stud": lugs,
        "stud_count": "lugs" if lugs < 4 or rng.random() < 0.6 else "conductors",
        "lock_washer": rng.random() < 0.7,
        "showing_thread_permille": rng.choice((0, 1000, 1500)),
        "conductor_temp_c": rng.choice((20, 50)),
        "stranding_permille": rng.choice((0, 20)),
        "crimp_uohm": rng.choice((0, 0, 500, 1500)),
        "off_loom_conductors": rng.choice((3, 5)) if bundles else rng.choice((1, 1, 3)),
        "bundle_rule": "e11-dc" if bundles else rng.choice(("none", "e11-dc", "iso-13297")),
        "fuse_permille": rng.choice((1000, 1200)) if "fuse" in tight else 4000,
        "load_permille": rng.choice((800, 1000)),
        "fuse_distance_dmm": 1800,
        "minimum_area_um2": rng.choice((0, 0, 0, 0, 0, 1_000_000)),
        "objective": rng.choice(OBJECTIVES),
        "lug_worth_dmm": rng.choice((100, 400)),
        "fitting_worth_dmm": rng.choice((0, 250)),
        "weights": MappingProxyType(
            {
                "length": rng.randint(0, 3),
                "stacked": rng.choice((0, 300)),
                "fittings": rng.choice((0, 200)),
                "money": rng.choice((0, 1)),
            }
        ),
    }
    if rng.random() < 0.2:
        fields["splice_kinds"] = rng.choice((("butt",), ("closed end",)))
        fields["lead_kinds"] = rng.choice((("butt",), ("closed end",)))
    return {**fields, **random_minutes(rng)}
