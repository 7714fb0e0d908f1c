"""Path and cut length of every wire, and how far splices keep from posts."""

from __future__ import annotations

from fractions import Fraction

from lugwright.base.scale import mm_text
from lugwright.checker.book import Book
from lugwright.checker.facts import Facts
from lugwright.checker.geometry import path_dmm
from lugwright.limits.schema import Limits
from lugwright.plans.schema import Jumper


def check_lengths(facts: Facts, book: Book) -> None:
    """Path, cut length and distance from splice to post of every jumper.

    The cut length of an extension follows from what is short, not from its path: see ``reach``.
    """
    for wire in facts.plan.jumpers:
        if wire.path:
            book.same(
                wire.path_dmm,
                path_dmm(wire.path),
                "path length",
                wire.label,
                "sum of its legs",
                "x 0.1 mm",
            )
        if wire.role == "jumper":
            own = cut_length_dmm(facts.limits, Fraction(wire.path_dmm))
            book.same(wire.length_dmm, own, "cut length", wire.label, "cut length", "x 0.1 mm")
            _splice_distance(facts, book, wire)


def cut_length_dmm(limits: Limits, path_dmm: Fraction) -> int:
    """What is cut for a path: slack, both allowances, the least length, then up to the cut step.

    Where standard lengths are set, the shortest of them that is long enough; a piece longer than
    all of them stays as it is. Rule R3.
    """
    wanted = path_dmm * Fraction(1000 + limits.slack_permille, 1000)
    wanted += 2 * limits.end_allowance_dmm
    wanted = max(wanted, Fraction(limits.minimum_jumper_dmm))
    step = max(1, limits.cut_step_dmm)
    rounded = -(-wanted // step) * step
    enough = [length for length in limits.standard_lengths_dmm if length >= rounded]
    return min(enough, default=rounded)


def _splice_distance(facts: Facts, book: Book, wire: Jumper) -> None:
    """A splice keeps its distance from a post. Rule R4."""
    joints = (wire.from_joint, wire.to_joint)
    if sum(joint in facts.splices for joint in joints) != 1:
        return
    least = facts.limits.splice_to_post_dmm
    book.expect(
        wire.path_dmm >= least,
        "splice distance",
        wire.label,
        "its splice is too near its post",
        f"{mm_text(wire.path_dmm)} mm",
        f"{mm_text(least)} mm",
        facts.limits.origin("splice_to_post_dmm"),
    )
