"""Whether pigtails and boat wires reach their posts, and by how much they are extended."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from lugwright.base.scale import mm_text
from lugwright.checker.book import Book
from lugwright.checker.facts import Facts, PanelWire
from lugwright.checker.geometry import leg_dmm, path_dmm
from lugwright.checker.lengths import cut_length_dmm
from lugwright.checker.loom import loom_legs
from lugwright.plans.schema import Jumper


@dataclass(frozen=True)
class GivenRun:
    """Where a given wire runs from its entry to its post, as the plan states it (see ``runs``)."""

    path_dmm: int
    legs: tuple[tuple[str, str], ...]
    off_loom: bool


def given_run(facts: Facts, wire: PanelWire) -> GivenRun | None:
    """The way of a pigtail or boat wire over the panel; None where the plan states none."""
    row = facts.given.get(wire.name)
    if row is None or not row.path:
        return None
    legs, off_loom = loom_legs(facts.console, row.path)
    return GivenRun(path_dmm(row.path), legs, off_loom or not legs)


def check_reach(facts: Facts, book: Book) -> None:
    """Every pigtail in use and every boat wire whose entry is stated. Rule R11."""
    for wire in facts.panel_wires.values():
        if wire.sort == "lead" or not wire.post:
            continue
        extension = facts.extension_of.get(wire.name)
        run = given_run(facts, wire)
        if wire.entry is None:
            message = "it is extended, but where it comes in is not stated"
            book.expect(extension is None, "reach", wire.name, message)
            message = "it has a path, but where it comes in is not stated"
            book.expect(run is None, "run", wire.name, message)
        if run is None:
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
            _extension(facts, book, wire, extension, short)


def check_leads(facts: Facts, book: Book) -> None:
    """A lead with a length reaches its end as the crow flies, with one re-termination left over.

    The way it runs is made again from the routes (``remade``). Rule R36.
    """
    for lead, exit_at in facts.exits.items():
        post = facts.posts[lead]
        if facts.crimps_at.get(lead):
            need = leg_dmm(exit_at, post.at) + facts.limits.re_termination_dmm
            book.expect(
                need <= post.lead_length_dmm, "reach", f"lead {lead}", "its end is out of reach",
                f"{mm_text(need)} mm needed", f"{mm_text(post.lead_length_dmm)} mm", "console",
            )  # fmt: skip


def _extension(facts: Facts, book: Book, wire: PanelWire, extension: Jumper, short: int) -> None:
    limits, label = facts.limits, extension.label
    origin = limits.origin("extensions")
    message = "extensions are not allowed"
    book.expect(limits.extensions, "reach", label, message, 1, 0, origin)
    message = "its ready-made ring holds other wires too, and is not cut off"
    book.expect(wire.ring is None or wire.ring.wires == 1, "reach", label, message)
    message = f"{wire.name} reaches {wire.post} without an extension"
    book.expect(short > 0, "reach", label, message)
    own = cut_length_dmm(limits, Fraction(max(short, 0)))
    book.same(extension.length_dmm, own, "cut length", label, "cut length", "x 0.1 mm")
    book.same(extension.stage, wire.stage, "step stage", label, "its stage")
    book.same(extension.to_joint, wire.post, "wire ends", label, "the post it ends on")
