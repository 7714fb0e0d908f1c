"""The panel a plan repeats is the scenario's: paper is made from the plan alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from lugwright.checker.book import Book
from lugwright.checker.facts import LEAD, PIGTAIL, Facts
from lugwright.checker.fuses import by_maker
from lugwright.checker.network import pigtail_uohm, resistance_uohm
from lugwright.electrics.tables import colour_codes
from lugwright.plans.panel import PanelHole
from lugwright.plans.record import Record
from lugwright.scenario.console import Hole, Way


def check_panel(facts: Facts, book: Book) -> None:
    """Plate, instruments, posts, areas kept out of, tie points, entries, circuits and loads.

    Rule R1.
    """
    console, panel = facts.console, facts.plan.panel
    for name in ("width_dmm", "height_dmm", "thickness_dmm", "nominal_mv", "service_travel_dmm"):
        book.same(getattr(panel, name), getattr(console, name), "panel", "plate", name)
    for name in ("conductor_temp_c", "crimp_uohm", "edge_margin_dmm", "full_size_side_dmm"):
        book.same(getattr(panel, name), getattr(facts.limits, name), "panel", "limits", name)
    _same_metal(facts, book)
    _same_wiring(facts, book)
    for place, colour, code in _codes(facts):
        if code:
            book.same(code, colour_codes().get(colour, ""), "panel", place, "the colour's code")


def _same_metal(facts: Facts, book: Book) -> None:
    """Instruments, posts, areas kept out of and tie points."""
    console, panel = facts.console, facts.plan.panel
    instruments = {row.name: row for row in panel.instruments}
    _same_rows(book, "instrument", instruments, _instruments(facts))
    _same_holes(facts, book)
    _same_rows(book, "post", {row.id: row for row in panel.posts}, _posts(facts))
    _same_rows(
        book, "strap", {row.name: row for row in panel.straps},
        {
            row.name: {name: value for name, value in vars(row).items() if name != "sides"}
            for row in console.straps
        },
    )  # fmt: skip
    _same_rows(
        book, "keep-out", {row.name: row for row in panel.keep_outs},
        {row.name: vars(row) for row in console.keep_outs},
    )  # fmt: skip
    _same_rows(
        book, "tie point", {row.name: row for row in panel.tie_points},
        {row.name: {**vars(row.at), "to": row.to} for row in console.tie_points},
    )  # fmt: skip


def _same_holes(facts: Facts, book: Book) -> None:
    """Rectangular cut-outs and rims, screws, from which side each goes in; the plate's holes."""
    stated = {row.name: row.mount for row in facts.plan.panel.instruments}
    for one in facts.console.instruments:
        if one.name in stated:
            mine = stated[one.name].model_dump()
            for field, value in vars(one.mount).items():
                found = mine[field]
                if field == "screws":
                    found, value = _drilled(stated[one.name].screws), _drilled(value)
                book.same(found, value, "panel", one.name, field)
    own, real = _drilled(facts.plan.panel.holes), _drilled(facts.console.holes)
    book.same(own, real, "panel", "plate", "holes")


def _drilled(holes: Iterable[Hole | PanelHole]) -> tuple[tuple[int, int, int, str], ...]:
    return tuple(sorted((h.x_dmm, h.y_dmm, h.diameter_dmm, h.what) for h in holes))


def _same_wiring(facts: Facts, book: Book) -> None:
    """Entries, circuits, loads, blocks of boat wires and fuses."""
    console, panel = facts.console, facts.plan.panel
    _same_rows(book, "entry", {row.wire: row for row in panel.entries}, _entries(facts))
    _same_rows(book, "circuit", {row.name: row for row in panel.circuits}, _circuits(facts))
    loads = {row.name: vars(row) for row in console.loads}
    _same_rows(
        book, "load", {row.name: row for row in panel.loads},
        {name: {k: v for k, v in row.items() if k != "drop_class"} for name, row in loads.items()},
    )  # fmt: skip
    _same_rows(
        book, "boat_block", {row.name: row for row in panel.boat_blocks}, _boat_blocks(facts)
    )
    fuses, told = {row.wire: row for row in panel.fuses}, by_maker(facts)
    stated = {k: {"fuse_ma": v, "by_maker": told.get(k, ())} for k, v in _fuses(facts)}
    _same_rows(book, "fuse", fuses, stated)
    _same_rows(
        book, "way", {f"{row.near} > {row.far}": row for row in panel.ways},
        {f"{way.near} > {way.far}": _way(way) for way in console.ways},
    )  # fmt: skip


def _fuses(facts: Facts) -> Iterator[tuple[str, int]]:
    """Every stated fuse with its rating: of pigtails, leads, and wires that come aboard."""
    for circuit in facts.console.circuits:
        if circuit.pigtail and circuit.pigtail.fuse_ma:
            yield PIGTAIL + circuit.name, circuit.pigtail.fuse_ma
    for post in facts.console.posts:
        if post.lead_fuse_ma:
            yield LEAD + post.id, post.lead_fuse_ma
    for wire in facts.wires_in.values():
        if wire.fuse_ma:
            yield wire.id, wire.fuse_ma
    for way in facts.console.ways:
        if way.kind == "fuse" and way.amperes_ma:
            yield way.far, way.amperes_ma


def _codes(facts: Facts) -> Iterator[tuple[str, str, str]]:
    """Colours the panel repeats with a code, but for those a circuit of the console codes."""
    coded = {circuit.colour for circuit in facts.console.circuits}
    for post in facts.plan.panel.posts:
        if post.lead_colour not in coded:
            yield post.id, post.lead_colour, post.lead_colour_code
    for entry in facts.plan.panel.entries:
        if entry.colour not in coded:
            yield entry.wire, entry.colour, entry.colour_code


def _same_rows(
    book: Book,
    what: str,
    stated: Mapping[str, Record],
    real: Mapping[str, Mapping[str, object]],
) -> None:
    """Every row is there once, none is made up, and each stated fact is the scenario's."""
    for name in sorted(stated.keys() | real.keys()):
        mine, own = stated.get(name), real.get(name)
        book.expect(mine is not None, "panel", name, f"the plan's panel has no such {what}")
        book.expect(own is not None, "panel", name, f"there is no such {what}")
        if mine is None or own is None:
            continue
        for field, value in own.items():
            found = getattr(mine, field)
            book.expect(
                found == value, "panel", name, f"{what}: {field} is not the scenario's",
                f"{found}", f"{value}",
            )  # fmt: skip


def _way(way: Way) -> dict[str, object]:
    same = ("instrument", "near", "far", "kind", "closed", "amperes_ma", "contact_uohm")
    return {name: getattr(way, name) for name in same}


def _instruments(facts: Facts) -> dict[str, dict[str, object]]:
    return {
        one.name: {
            **{k: v for k, v in vars(one).items() if k not in ("centre", "mount")},
            "x_dmm": one.centre.x_dmm,
            "y_dmm": one.centre.y_dmm,
        }
        for one in facts.console.instruments
    }


def _posts(facts: Facts) -> dict[str, dict[str, object]]:
    same = (
        "instrument", "name", "kind", "function", "circuit", "link", "optional", "thread",
        "free_thread_dmm", "tab_size", "reserved",
    )  # fmt: skip
    found: dict[str, dict[str, object]] = {}
    for post in facts.console.posts:
        landing = [
            name
            for name, boat_block in facts.boat_blocks.items()
            if post.id in {wire.lands_on for wire in boat_block.wires}
        ]
        found[post.id] = {
            **{name: getattr(post, name) for name in same},
            **vars(post.at),
            "lead_size": post.lead.wire_size if post.lead else "",
            "lead_colour": post.lead.colour if post.lead else "",
            "demand_ma": facts.demand_ma(post.id),
            "live": post.id in facts.live_posts,
            "carries": tuple(sorted(landing)),
        }
    return found


def _entries(facts: Facts) -> dict[str, dict[str, object]]:
    found: dict[str, dict[str, object]] = {}
    for name, wire in facts.panel_wires.items():
        if wire.entry is not None:
            found[name] = {
                **vars(wire.entry), "circuit": wire.circuit, "stage": wire.stage,
                "reach_dmm": wire.reach_dmm, "colour": wire.wire.colour,
                "wire_size": wire.wire.wire_size,
            }  # fmt: skip
    for pigtail in facts.console.unused_pigtails:
        found[f"pigtail {pigtail.label}"] = {
            **(vars(pigtail.entry) if pigtail.entry else {}), "circuit": "", "stage": pigtail.stage,
            "reach_dmm": pigtail.reach_dmm, "colour": pigtail.wire.colour,
            "wire_size": pigtail.wire.wire_size,
        }  # fmt: skip
    return found


def _circuits(facts: Facts) -> dict[str, dict[str, object]]:
    found: dict[str, dict[str, object]] = {}
    for circuit in facts.console.circuits:
        own = circuit.pigtail
        run = own.to_source if own else None
        found[circuit.name] = {
            "side": circuit.side,
            "taken_from": circuit.taken_from,
            "supplied_by": circuit.supplied_by,
            "posts": tuple(sorted(circuit.posts)),
            "pigtail": own.label if own else "",
            "fuse_ma": own.fuse_ma if own else 0,
            "pigtail_uohm": pigtail_uohm(facts, own) if own else 0,
            "sender": circuit.sender.kind if circuit.sender else "",
            "returns_to": circuit.returns_to,
            "run_uohm": resistance_uohm(facts, run.wire.area_um2, run.one_way_dmm) if run else 0,
        }
    return found


def _boat_blocks(facts: Facts) -> dict[str, dict[str, object]]:
    same = ("is_sender", "current_ma", "drawn_from", "returns_to")
    return {
        name: {
            **{field: getattr(boat_block, field) for field in same},
            "wires": tuple(wire.id for wire in boat_block.wires),
            "lands_on": tuple(wire.lands_on for wire in boat_block.wires),
        }
        for name, boat_block in facts.boat_blocks.items()
    }
