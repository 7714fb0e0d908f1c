"""The sets of limits that consoles are solved under while they grow, and what each is for.

*Loose*: the usual rule set, under which nothing electrical stands in the way of the best plan.
The pigtails of large consoles use up most of the 3 % that critical loads may lose, or all of it;
there ``WIDER`` drops are allowed.

*Binding*: four rules tightened at once. One wire in a barrel and no joint in mid-air (tabs are
waived, or no lamp could be chained); nuts that must show much thread, which leaves the short
studs room for two lugs with three circuits and for one with six; crimps that resist, with a drop
limit by size; and bundles of 25 off the loom. ``scale.py --binds`` takes each away by itself and
says whether the proved best changes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from consoles import LAYOUTS

LIMIT_SETS = ("loose", "binding")
RULES = ("barrels", "thread", "drop", "bundles")
WIDER = {30: ("drop_critical=10 %",), 60: ("drop_critical=20 %", "drop_other=20 %")}
"""Looser drop limits, from so many instruments on."""

SHOWING_THREAD = {3: "showing_thread=4.5", 6: "showing_thread=5"}
"""Pitches, by number of circuits: what the studs of the generated dials can just live with."""

CRIMP = "crimp_resistance=0.003 ohm"
DROP_PERMILLE = {
    4: (2, 2, 2),
    5: (3, 3, 3),
    8: (6, 4, 4),
    12: (11, 7, 9),
    16: (20, 14, 13),
    20: (32, 18, 18),
    30: (60, 36, 36),
    40: (110, 60, 60),
    60: (240, 130, 130),
}
"""Thousandths that critical loads may lose, by instruments: in a row, a grid, scattered. Up to 20
chosen from proved plans, so that it binds on most consoles; beyond, carried on. Other loads may
lose as much where that is more than the usual ``OTHER_PERMILLE``."""
OTHER_PERMILLE = 100


@dataclass(frozen=True)
class LimitSet:
    """Limits set for a console, and whether its tabs are waived from one wire in a barrel."""

    name: str
    settings: tuple[str, ...]
    tabs_waived: bool = False


def limit_sets(
    instruments: int, circuits: int, layout: str, names: Iterable[str], binds_up_to: int
) -> list[LimitSet]:
    """The sets of those names for a console; up to so many instruments binding is told apart."""
    found = []
    for name in names:
        if name == "loose":
            found.append(loose(instruments))
            continue
        if name != "binding":
            raise ValueError(f'"{name}" is none of {", ".join(LIMIT_SETS)}')
        found.append(binding(instruments, circuits, layout))
        if instruments <= binds_up_to:
            found += [binding(instruments, circuits, layout, rule) for rule in RULES]
    return found


def loose(instruments: int) -> LimitSet:
    """Nothing electrical binds."""
    wider = [settings for least, settings in sorted(WIDER.items()) if least <= instruments]
    return LimitSet("loose", wider[-1] if wider else ())


def binding(instruments: int, circuits: int, layout: str, without: str = "") -> LimitSet:
    """All four rules tightened, or all but one."""
    drop = drop_permille(instruments, layout)
    other = (f"drop_other={drop / 10:g} %",) if drop > OTHER_PERMILLE else ()
    by_rule: dict[str, tuple[str, ...]] = {
        "barrels": ("wires_per_barrel=1", "splices=no"),
        "thread": (SHOWING_THREAD[circuits],),
        "drop": (CRIMP, f"drop_critical={drop / 10:g} %", *other),
        "bundles": ("off_loom_conductors=25",),
    }
    rest = loose(instruments).settings if without == "drop" else ()
    kept = [setting for rule, own in by_rule.items() if rule != without for setting in own]
    name = f"binding without {without}" if without else "binding"
    return LimitSet(name, (*kept, *rest), tabs_waived=without != "barrels")


def drop_permille(instruments: int, layout: str) -> int:
    """The drop limit of a console: that of the next larger size there is one for."""
    sizes = [size for size in sorted(DROP_PERMILLE) if size >= instruments]
    limits = DROP_PERMILLE[sizes[0] if sizes else max(DROP_PERMILLE)]
    return dict(zip(LAYOUTS, limits, strict=True))[layout]
