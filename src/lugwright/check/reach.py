"""Whether pigtails and arriving wires reach their posts, and by how much they are extended."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from lugwright.base.scale import mm_text
from lugwright.check.book import Book
from lugwright.check.facts import Facts, PanelWire
from lugwright.check.geometry import leg_dmm, linked, way_over_ties
from lugwright.check.lengths import cut_length_dmm
from lugwright.check.runs import blocking, loom_legs, standing_outlines
from lugwright.plan.schema import Jumper
from lugwright.scenario.console import Point


@dataclass(frozen=True)
class GivenRun:
    """Where a given wire runs from its entry to its post.

    ``exact`` is false when something may stand in the straight way: the path is then at least
    ``path_dmm``, and which loom legs it uses is not known here.
    """

    path_dmm: int
    legs: tuple[tuple[str, str], ...]
    off_loom: bool
    exact: bool


def given_run(facts: Facts, wire: PanelWire) -> GivenRun | None:
    """The way of a pigtail or arriving wire over the panel; None where no entry is stated.

    An extended wire's own path is taken from the plan (``runs`` has judged its corners).
    """
    end = facts.at(wire.post)
    if wire.entry is None or end is None:
        return None
    extension = facts.extension_of.get(wire.name)
    if extension and extension.path:
        legs, off_loom = loom_legs(facts.console, extension.path)
        return GivenRun(extension.path_dmm, legs, off_loom, True)
    return _straight_run(facts, wire, wire.entry, end)


def _straight_run(facts: Facts, wire: PanelWire, entry: Point, end: Point) -> GivenRun:
    outlines = standing_outlines(facts)
    ties = {tie.name: tie for tie in facts.console.tie_points}
    if not ties:
        clear = blocking(outlines, (entry, end), (wire.post,)) is None
        return GivenRun(leg_dmm(entry, end), (), True, clear)
    length, way = way_over_ties(ties, linked(facts.console.tie_points), entry, end)
    legs = tuple((min(pair), max(pair)) for pair in pairwise(way))
    spurs = ((entry, ties[way[0]].at), (ties[way[-1]].at, end))
    clear = all(blocking(outlines, spur, (wire.post,)) is None for spur in spurs)
    return GivenRun(length, legs, True, clear)


def check_reach(facts: Facts, book: Book) -> None:
    """Every pigtail in use and every arriving wire whose entry is stated."""
    for wire in facts.panel_wires.values():
        if wire.sort == "lead" or not wire.post:
            continue
        extension = facts.extension_of.get(wire.name)
        run = given_run(facts, wire)
        if run is None:
            message = "it is extended, but where it comes in is not stated"
            book.expect(extension is None, "reach", wire.name, message)
            continue
        limits = facts.limits
        need = run.path_dmm + facts.console.service_travel_dmm
        need += limits.drip_loop_dmm + 2 * limits.re_termination_dmm
        short = need - wire.reach_dmm
        if extension is None:
            message = f"it does not reach {wire.post} and is not extended"
            book.expect(
                short <= 0, "reach", wire.name, message, f"{mm_text(need)} mm needed",
                f"{mm_text(wire.reach_dmm)} mm", "console, its reach",
            )  # fmt: skip
        else:
            _extension(facts, book, wire, extension, short, run.exact)


def _extension(
    facts: Facts, book: Book, wire: PanelWire, extension: Jumper, short: int, exact: bool
) -> None:
    limits, label = facts.limits, extension.label
    origin = limits.origin("extensions")
    message = "extensions are not allowed"
    book.expect(limits.extensions, "reach", label, message, 1, 0, origin)
    if exact:
        message = f"{wire.name} reaches {wire.post} without an extension"
        book.expect(short > 0, "reach", label, message)
    own = cut_length_dmm(limits, Fraction(max(short, 0)))
    if exact:
        book.same(extension.length_dmm, own, "cut length", label, "cut length", "x 0.1 mm")
    else:
        message = f"it is shorter than what {wire.name} lacks even by the straight way"
        long_enough = extension.length_dmm >= own
        measured, limit = f"{mm_text(extension.length_dmm)} mm", f"{mm_text(own)} mm"
        book.expect(long_enough, "cut length", label, message, measured, limit, "reach")
    book.same(extension.stage, wire.stage, "step stage", label, "its stage")
    book.same(extension.to_joint, wire.post, "wire ends", label, "the post it ends on")
