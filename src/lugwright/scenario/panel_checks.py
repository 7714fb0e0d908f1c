"""Faults of a console that only the limits and the stock can show.

Edge margins and room for nut drivers come from the limits; rings, push-ons, nuts and wire from
the stock. Everything here is in 0.1 mm, seen from the back.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import floor, isqrt

from lugwright.base.errors import Complaint
from lugwright.base.scale import ceil_div, ceil_hypot, mm_text
from lugwright.base.shapes import Shape, circle, directed, rectangle
from lugwright.base.toml import KeyPath, TomlFile
from lugwright.scenario.brief import Brief
from lugwright.scenario.complaints import field_words
from lugwright.scenario.console import Circuit, Console, Instrument, Post


def edge_faults(brief: Brief, toml: TomlFile) -> Iterator[Complaint]:
    """Cut-outs, screws and holes of the plate that leave less to an edge than the edge margin."""
    console, limits = brief.console, brief.limits
    for what, path, shape in _cut_shapes(console, toml):
        (across, up), x, y = shape.reach, shape.x, shape.y
        left = floor(
            min(x - across, y - up, console.width_dmm - x - across, console.height_dmm - y - up)
        )
        if left < limits.edge_margin_dmm:
            yield _at(
                toml,
                path,
                f"{what} leaves {mm_text(left)} mm of plate to the edge, "
                f"{mm_text(limits.edge_margin_dmm)} mm are wanted",
                f"edge margin: {limits.origin('edge_margin_dmm')}",
            )


def _cut_shapes(console: Console, toml: TomlFile) -> Iterator[tuple[str, KeyPath, Shape]]:
    """All that is cut out of the plate: what it is called, where the file has it, its shape."""
    for one in console.instruments:
        path, mount = _instrument_path(toml, one.name, "centre"), one.mount
        at = one.centre.x_dmm, one.centre.y_dmm
        if one.cut_out_dmm:
            yield "its cut-out", path, circle(*at, one.cut_out_dmm)
        elif mount.cut_out_width_dmm:
            sides = mount.cut_out_width_dmm, mount.cut_out_height_dmm
            direction = directed(Fraction(mount.turn_mdeg, 1000))
            yield "its cut-out", path, rectangle(at, sides, mount.cut_out_radius_dmm, direction)
        for screw in mount.screws:
            yield "a screw of it", path, circle(screw.x_dmm, screw.y_dmm, screw.diameter_dmm)
    for index, hole in enumerate(console.holes):
        hole_path: KeyPath = ("panel", "holes", index, "at")
        yield "it", hole_path, circle(hole.x_dmm, hole.y_dmm, hole.diameter_dmm)


def nut_driver_faults(brief: Brief, toml: TomlFile) -> Iterator[Complaint]:
    """Studs whose nut a driver cannot reach past a neighbour's higher body."""
    console, limits = brief.console, brief.limits
    across_um = {row.thread: row.across_flats_um for row in brief.stock.hardware}
    for post in console.posts:
        if post.kind != "stud" or post.thread not in across_um:
            continue
        # a hexagon's corner is its width across flats over the square root of three from its axis
        corner_dmm = ceil_div(isqrt(across_um[post.thread] ** 2 // 3) + 1, 100)
        wanted = corner_dmm + limits.nut_driver_room_dmm
        for neighbour in console.instruments:
            if neighbour.name == post.instrument or neighbour.body_depth_dmm <= post.at.z_dmm:
                continue
            gap = _gap_dmm(post, neighbour)
            if gap < wanted:
                yield _at(
                    toml,
                    _instrument_path(toml, post.instrument, "centre"),
                    f'no room for a nut driver on post "{post.name}": the body of '
                    f'"{neighbour.name}" stands {mm_text(gap)} mm from it, '
                    f"{mm_text(wanted)} mm are wanted",
                    f"nut driver room: {limits.origin('nut_driver_room_dmm')}",
                )


def _gap_dmm(post: Post, neighbour: Instrument) -> int:
    """Distance from a post's axis to a body's outline; 0 inside it."""
    dx = abs(post.at.x_dmm - neighbour.centre.x_dmm)
    dy = abs(post.at.y_dmm - neighbour.centre.y_dmm)
    if neighbour.body_width_dmm:
        dx = max(0, dx - ceil_div(neighbour.body_width_dmm, 2))
        dy = max(0, dy - ceil_div(neighbour.body_height_dmm, 2))
        return isqrt(dx * dx + dy * dy)
    return max(0, ceil_hypot(dx, dy) - ceil_div(neighbour.body_dmm, 2))


def post_faults(brief: Brief, toml: TomlFile) -> Iterator[Complaint]:
    """Studs no lug or nut in stock fits, tabs no push-on fits, of the posts that are wired."""
    console, limits, stock = brief.console, brief.limits, brief.stock
    rings = {
        thread
        for row in stock.fittings
        if row.kind in limits.stud_kinds
        for thread in row.stud_threads
    }
    nuts = {row.thread for row in stock.hardware}
    tabs = {row.tab_size for row in stock.fittings if row.kind == "push-on"}
    landed = {wire.lands_on for boat_block in console.boat_blocks for wire in boat_block.wires}
    for post in console.posts:
        if post.optional or not (post.circuit or post.id in landed):
            continue
        path = _instrument_path(toml, post.instrument, "name")
        if post.kind == "stud" and post.thread not in rings:
            kinds = " or ".join(limits.stud_kinds)
            message = f'no {kinds} in stock fits post "{post.name}", a {post.thread} stud'
            yield _at(toml, path, message, _in_stock(rings))
        elif post.kind == "stud" and post.thread not in nuts:
            message = f'no nut in stock fits post "{post.name}", a {post.thread} stud'
            yield _at(toml, path, message, _in_stock(nuts))
        elif post.kind == "tab" and post.tab_size not in tabs:
            message = f'no push-on in stock fits post "{post.name}", a {post.tab_size} tab'
            yield _at(toml, path, message, _in_stock(tabs))


def wire_faults(brief: Brief, toml: TomlFile) -> Iterator[Complaint]:
    """Circuits for which the stock has no wire of the colour, or none thick enough."""
    console, stock = brief.console, brief.stock
    for circuit in console.circuits:
        if len(circuit.posts) == 1 and not circuit.taken_from:
            continue  # its pigtail lands on its only post, or a way ends there: no jumper is cut
        spools = stock.spools_of_colour(circuit.colour)
        if not spools:
            colours = {spool.colour for spool in stock.spools}
            path = _circuit_path(toml, circuit, "colour")
            message = f'no {circuit.colour} wire in stock for circuit "{circuit.name}"'
            yield _at(toml, path, message, _in_stock(colours))
        elif spools[-1].area_um2 < circuit.minimum_area_um2:
            path = _circuit_path(toml, circuit, "minimum_size")
            message = (
                f'no {circuit.colour} wire in stock is as large as circuit "{circuit.name}" wants'
            )
            yield _at(toml, path, message, f"largest in stock: {spools[-1].wire_size}")


def _in_stock(names: set[str]) -> str:
    return f"in stock: {', '.join(sorted(names))}" if names else "the stock has none at all"


def _at(toml: TomlFile, path: KeyPath, message: str, hint: str = "") -> Complaint:
    return toml.complaint(path, field_words(path, toml.values), message, hint)


def _instrument_path(toml: TomlFile, name: str, key: str) -> KeyPath:
    for index, record in enumerate(toml.values.get("instrument", ())):
        if str(record.get("name", "")).strip() == name:
            return ("instrument", index, key)
    return ()


def _circuit_path(toml: TomlFile, circuit: Circuit, key: str) -> KeyPath:
    """Where the file speaks of a circuit: its own table, its pigtail, or nowhere."""
    for index, record in enumerate(toml.values.get("circuit", ())):
        if str(record.get("name", "")).strip() == circuit.name:
            return ("circuit", index, key if key in record else "name")
    for number, harness in enumerate(toml.values["harness"]):
        for index, record in enumerate(harness["pigtails"]):
            if circuit.pigtail and str(record.get("circuit", "")).strip() == circuit.name:
                return ("harness", number, "pigtails", index, "circuit")
    return ()
