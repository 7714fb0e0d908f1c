"""The limits that can be loosened, and how far.

Lengths and allowances of a jumper, temperatures, times and money are not among them: they say
how wire is cut and counted, and a console is not saved by cutting it too short.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from lugwright.limits.explain import limit_value
from lugwright.limits.schema import Limits
from lugwright.limits.spec import SizeValue
from lugwright.limits.spec_rows import BUNDLE_RULES, JOINING_KINDS, SPEC_BY_NAME, STUD_KINDS
from lugwright.limits.values import value_text
from lugwright.scenario.brief import Brief
from lugwright.stock.schema import Stock
from lugwright.studies.easing import Easing, Places

AMPLE = 10**6
# With this share even a fuse of 1 mA may be loaded with any current.
ANY_LOAD_PERMILLE = 10**9
# 3 % to critical loads and 10 % to others: ABYC E-11 11.14.2.6 (secondary source).
# No published share lies above the 10 %.
LARGEST_DROP_PERMILLE = 100
# A stud with more wires in each barrel is no question of limits: summed areas end before that.
MOST_WIRES = 6


def limit_steps(brief: Brief) -> tuple[Easing, ...]:
    """Every limit that is not at its loosest already.

    A limit that the shop holds can be taken away to find out what is in the way; of its steps
    only those stay that a scenario may take.
    """
    limits = brief.limits
    found = (*_hub(limits), *_barrels(limits), *_studs(limits), *_electric(limits, brief.stock))
    return tuple(_within_the_shop(one, limits) for one in found if one is not None)


def _within_the_shop(one: Easing, limits: Limits) -> Easing:
    allowed = tuple(value for value in one.values if limits.allows(one.name, value))
    return replace(one, values=allowed)


def _setter(field: str) -> Callable[[Brief, Any, Places], Brief]:
    def at(brief: Brief, value: Any, _places: Places) -> Brief:
        changes: dict[str, Any] = {field: value}
        return replace(brief, limits=replace(brief.limits, **changes))

    return at


def _limit(
    name: str, limits: Limits, values: list[Any], off: Any, phrase: str, *, climbs: bool = True
) -> Easing | None:
    """A limit's easing; None where it is as loose as it can be. ``{}`` stands for the value."""
    spec = SPEC_BY_NAME[name]
    if limit_value(spec, limits) == off:
        return None
    at = _setter(spec.field)

    def taken_away(brief: Brief) -> Brief:
        return at(brief, off, frozenset())

    def say(_brief: Brief, value: Any, _place: str) -> str:
        return phrase.format(value_text(spec, value))

    return Easing(name, "limit", taken_away, tuple(values), at, say, climbs=climbs)


def _flag(name: str, limits: Limits, loose: bool, phrase: str) -> Easing | None:
    return _limit(name, limits, [loose], loose, phrase)


def _up(name: str, limits: Limits, step: int = 1, most: int | None = None) -> list[int]:
    """Values above the present one, up to the largest the limit may have."""
    spec = SPEC_BY_NAME[name]
    present = getattr(limits, spec.field)
    return list(range(present + step, (most or spec.most) + 1, step))


def _down(name: str, limits: Limits, step: int = 1) -> list[int]:
    spec = SPEC_BY_NAME[name]
    present = getattr(limits, spec.field)
    values = list(range(present - step, spec.least - 1, -step))
    return values if spec.least in values or present <= spec.least else [*values, spec.least]


def _hub(limits: Limits) -> Iterator[Easing | None]:
    yield _limit(
        "clearance", limits, _down("clearance", limits, 10), 0, "{} between wires and bodies"
    )
    yield _limit(
        "nut_driver_room", limits, _down("nut_driver_room", limits, 10), 0, "{} round a nut"
    )
    yield _limit(
        "wire_size_choice", limits, ["jumper"], "jumper", "a wire size of its own for each jumper"
    )
    yield _limit("lamp_take_off", limits, ["any"], "any", "lamp jumpers from any ignition stud")
    yield _flag("extensions", limits, True, "a pigtail out of reach lengthened by a butt")
    yield _flag("one_hub", limits, False, "a hub of its own for each circuit")


def _barrels(limits: Limits) -> Iterator[Easing | None]:
    kinds = [kind for kind in STUD_KINDS if kind not in limits.stud_kinds]
    wider = [
        tuple(k for k in STUD_KINDS if k in limits.stud_kinds or k in kinds[: n + 1])
        for n in range(len(kinds))
    ]
    yield _limit("stud_kinds", limits, wider, STUD_KINDS, "{} on studs")
    if set(limits.lead_kinds) != set(JOINING_KINDS):
        yield _limit("lead_kinds", limits, [JOINING_KINDS], JOINING_KINDS, "{} at leads")
    if set(limits.splice_kinds) != set(JOINING_KINDS) and limits.splices:
        yield _limit("splice_kinds", limits, [JOINING_KINDS], JOINING_KINDS, "{} at splices")
    ratios = _up("size_ratio", limits, 500, 20_000)
    yield _limit("size_ratio", limits, ratios, AMPLE, "areas up to {} in one barrel")
    yield _flag("fold_back", limits, True, "a lone wire folded back")
    wires = _up("wires_per_splice", limits)
    yield _limit(
        "wires_per_splice",
        limits,
        wires,
        SPEC_BY_NAME["wires_per_splice"].most,
        "{} wires per splice",
    )
    if limits.splice_to_post_dmm:
        steps = _down("splice_to_post", limits, 100)
        yield _limit("splice_to_post", limits, steps, 0, "splices {} from a post")
    yield _flag("splices", limits, True, "splices")
    if limits.wires_per_barrel < MOST_WIRES:
        more = _up("wires_per_barrel", limits, most=MOST_WIRES)
        yield _limit("wires_per_barrel", limits, more, MOST_WIRES, "{} wires per barrel")
    if limits.pigtail_barrel == "own":
        words = "a pigtail's barrel {} with bench wires"
        yield _limit("pigtail_barrel", limits, ["shared"], "shared", words)


def _studs(limits: Limits) -> Iterator[Easing | None]:
    yield _flag("lock_washer", limits, False, "no lock washer under the nut")
    showing = _down("showing_thread", limits, 100)
    yield _limit("showing_thread", limits, showing, 0, "{} of thread showing")
    if limits.stud_count == "conductors":
        yield _limit("stud_count", limits, ["lugs"], "lugs", "{} counted on a stud")
    counted = limits.stud_count
    yield _limit(
        "lugs_per_stud", limits, _up("lugs_per_stud", limits), 100, f"{{}} {counted} on a stud"
    )


def _electric(limits: Limits, stock: Stock) -> Iterator[Easing | None]:
    yield _minimum_size(limits, stock)
    steps = _down("off_loom_conductors", limits)
    yield _limit("off_loom_conductors", limits, steps, 1, "{} taken to run together off the loom")
    looser = BUNDLE_RULES[: BUNDLE_RULES.index(limits.bundle_rule)][::-1]
    yield _limit("bundle_rule", limits, list(looser), "none", "bundle factors of {}", climbs=False)
    distance = _up("fuse_distance", limits)
    yield _limit("fuse_distance", limits, distance, AMPLE, "a fuse up to {} from the source")
    loads = _up("load_share", limits, 10)
    yield _limit("load_share", limits, loads, ANY_LOAD_PERMILLE, "loads up to {} of a fuse")
    shares = _up("fuse_share", limits, 10)
    yield _limit("fuse_share", limits, shares, AMPLE, "fuses up to {} of the ampacity")
    if limits.ground_shift_mv is not None:
        shifts = _up("ground_shift", limits, 10)
        yield _limit("ground_shift", limits, shifts, None, "a ground shift of {}")
    for name, kind in (("drop_other", "other"), ("drop_critical", "critical")):
        most = max(LARGEST_DROP_PERMILLE, getattr(limits, SPEC_BY_NAME[name].field))
        shares = _up(name, limits, most=most)
        yield _limit(name, limits, shares, AMPLE, f"{{}} drop to {kind} loads")


def _minimum_size(limits: Limits, stock: Stock) -> Easing | None:
    """Smaller smallest sizes, as there are in stock."""
    if not limits.minimum_area_um2:
        return None
    thinner = {s.area_um2: s.wire_size for s in stock.spools}
    sizes = [
        SizeValue(thinner[area], area)
        for area in sorted(thinner, reverse=True)
        if area < limits.minimum_area_um2
    ]

    def at(brief: Brief, value: SizeValue, _places: Places) -> Brief:
        changed = replace(brief.limits, minimum_size=value.text, minimum_area_um2=value.area_um2)
        return replace(brief, limits=changed)

    return Easing(
        "minimum_size",
        "limit",
        lambda brief: at(brief, SizeValue("none", 0), frozenset()),
        tuple(sizes),
        at,
        lambda _brief, value, _place: f"wire as thin as {value.text}",
    )
