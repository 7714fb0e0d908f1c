"""What else could lie in stock: more wire sizes, wider barrels, narrower ones round a stud."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from lugwright.base.scale import amps_text
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console
from lugwright.stock.schema import Barrel, FittingType, Spool
from lugwright.studies.easing import Easing, Places
from lugwright.studies.facts import current_steps

WIDE_UM2, WIDE_UM = 10**9, 10**6
NARROWEST_DEG, STEP_DEG = 10, 5
WIDEST_PERCENT = 400

SIZES, BARRELS = "wire sizes in stock", "barrels in stock"
FITTING_CURRENT, ROOM = "current limit of a fitting", "room round the stud"


def stock_steps(brief: Brief) -> tuple[Easing, ...]:
    """Every lack of the stock that stands in anybody's way at all."""
    found = (_fitting_current(brief), _room(brief), _sizes(brief), _barrels(brief))
    return tuple(one for one in found if one is not None)


def _fittings(
    brief: Brief, places: Places, change: Callable[[FittingType], FittingType]
) -> Brief:
    rows = tuple(change(row) if row.name in places else row for row in brief.stock.fittings)
    return replace(brief, stock=replace(brief.stock, fittings=rows))


# -- fittings ----------------------------------------------------------------------------------


def _barrels(brief: Brief) -> Easing:
    """Barrels that take some per cent less and more, in area and jacket; off, they take all."""
    names = tuple(row.name for row in brief.stock.fittings if row.kind != "cap")

    def wider(barrel: Barrel, percent: int) -> Barrel:
        return replace(
            barrel,
            area_min_um2=barrel.area_min_um2 * 100 // (100 + percent),
            area_max_um2=barrel.area_max_um2 * (100 + percent) // 100,
            sleeve_um=barrel.sleeve_um * (100 + percent) // 100,
        )

    def at(brief: Brief, percent: int, places: Places) -> Brief:
        return _fittings(
            brief,
            places,
            lambda row: replace(row, barrels=tuple(wider(b, percent) for b in row.barrels)),
        )

    def off(brief: Brief) -> Brief:
        def all_wires(row: FittingType) -> FittingType:
            barrels = tuple(Barrel(0, WIDE_UM2, WIDE_UM, b.length_dmm) for b in row.barrels)
            return replace(row, barrels=barrels, lined=False)

        return _fittings(brief, frozenset(names), all_wires)

    def say(brief: Brief, percent: int, place: str) -> str:
        if not place:
            return f"barrels that take {percent} % less and more"
        barrel = wider(brief.stock.fitting(place).barrels[0], percent)
        span = f"{barrel.area_min_um2 / 1e6:.2f} to {barrel.area_max_um2 / 1e6:.2f} mm2"
        return f"a {place} whose barrel takes {span}"

    return Easing(
        BARRELS,
        "stock",
        off,
        tuple(range(1, WIDEST_PERCENT + 1)),
        at,
        say,
        names,
    )


def _fitting_current(brief: Brief) -> Easing | None:
    names = tuple(row.name for row in brief.stock.fittings if row.carries_ma)
    if not names:
        return None

    def at(brief: Brief, more_ma: int, places: Places) -> Brief:
        return _fittings(
            brief,
            places,
            lambda row: replace(row, carries_ma=row.carries_ma + more_ma),
        )

    def off(brief: Brief) -> Brief:
        return _fittings(brief, frozenset(names), lambda row: replace(row, carries_ma=0))

    def say(brief: Brief, more_ma: int, place: str) -> str:
        present_ma = brief.stock.fitting(place).carries_ma if place else 0
        return f"a {place or 'fitting'} that may carry {amps_text(present_ma + more_ma)} A"

    return Easing(FITTING_CURRENT, "stock", off, current_steps(), at, say, names)


def _room(brief: Brief) -> Easing | None:
    """Barrels no wider than so many degrees, the ready-made and the reserved ones included."""
    widest = max((row.barrel_angle_deg for row in brief.stock.fittings), default=0)
    widest = max(widest, *(post.reserved_angle_deg for post in brief.console.posts), 0)
    if not widest:
        return None

    def at(brief: Brief, most_deg: int, _places: Places) -> Brief:
        rows = tuple(
            replace(row, barrel_angle_deg=min(row.barrel_angle_deg, most_deg))
            for row in brief.stock.fittings
        )
        console = _narrow_console(brief.console, most_deg)
        return replace(brief, console=console, stock=replace(brief.stock, fittings=rows))

    steps = tuple(range(widest - STEP_DEG, NARROWEST_DEG - 1, -STEP_DEG))
    return Easing(
        ROOM,
        "stock",
        lambda brief: at(brief, 0, frozenset()),
        steps,
        at,
        lambda _brief, most_deg, _place: f"barrels no wider than {most_deg} degrees",
    )


def _narrow_console(console: Console, most_deg: int) -> Console:
    posts = tuple(
        replace(post, reserved_angle_deg=min(post.reserved_angle_deg, most_deg))
        for post in console.posts
    )

    def ring_of(owner: Any) -> Any:
        if owner.ring is None:
            return owner
        angle = min(owner.ring.angle_deg, most_deg)
        return replace(owner, ring=replace(owner.ring, angle_deg=angle))

    circuits = tuple(
        replace(circuit, pigtail=ring_of(circuit.pigtail)) if circuit.pigtail else circuit
        for circuit in console.circuits
    )
    boat_blocks = tuple(
        replace(boat_block, wires=tuple(ring_of(wire) for wire in boat_block.wires))
        for boat_block in console.boat_blocks
    )
    return replace(console, posts=posts, circuits=circuits, boat_blocks=boat_blocks)


# -- wire --------------------------------------------------------------------------------------


def _sizes(brief: Brief) -> Easing | None:
    """A size that lies in stock in some colour, laid there in a circuit's colour as well.

    Thicker sizes first, since they are what most often helps, then thinner ones.
    """
    stock = brief.stock
    colours = tuple(sorted({c.colour for c in brief.console.circuits if c.posts}))
    patterns = _one_of_each_size(stock.spools)
    areas = [spool.area_um2 for colour in colours for spool in stock.spools_of_colour(colour)]
    thickest = max(areas, default=0)
    missing = [
        spool
        for spool in patterns
        if any(stock.spool(spool.wire_size, colour) is None for colour in colours)
    ]
    if not missing:
        return None
    missing.sort(key=lambda s: (s.area_um2 < thickest, abs(s.area_um2 - thickest), s.wire_size))

    def at(brief: Brief, spool: Spool, places: Places) -> Brief:
        return _with_spools(brief, [spool], places)

    return Easing(
        SIZES,
        "stock",
        lambda brief: _with_spools(brief, missing, frozenset(colours)),
        tuple(missing),
        at,
        lambda _brief, spool, colour: f"{colour} {spool.wire_size} wire in stock",
        colours,
        climbs=False,
    )


def _one_of_each_size(spools: tuple[Spool, ...]) -> list[Spool]:
    found: dict[str, Spool] = {}
    for spool in sorted(spools, key=lambda spool: (spool.area_um2, spool.name)):
        found.setdefault(spool.wire_size, spool)
    return list(found.values())


def _with_spools(brief: Brief, patterns: list[Spool], colours: Places) -> Brief:
    more = tuple(
        replace(spool, colour=colour, name=f"{colour} {spool.wire_size}, not in stock")
        for spool in patterns
        for colour in sorted(colours)
        if brief.stock.spool(spool.wire_size, colour) is None
    )
    stock = replace(brief.stock, spools=(*brief.stock.spools, *more))
    return replace(brief, stock=stock)
