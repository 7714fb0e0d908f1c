"""What each barrel holds: area, insulation, number, ratio, fold, and who shares it."""

from __future__ import annotations

from typing import Literal

from lugwright.checker.book import Book
from lugwright.checker.facts import Conductor, Facts
from lugwright.plans.schema import Crimp, EndRef
from lugwright.stock.schema import Barrel, FittingType

Where = Literal["stud", "tab", "lead", "splice", "join", ""]
PER_BARREL = "wires_per_barrel"
LINED_MOST = 2  # adhesive-lined barrels take two wires at most: common practice, no source
PUSH_ON_MOST = 2  # UL 310, scope: one or two conductors in a push-on


def where_is(facts: Facts, crimp: Crimp) -> Where:
    """What a crimp sits at, "" when its joint is not known."""
    if crimp.joint.startswith("join "):
        return "join"
    if crimp.joint in facts.splices:
        return "splice"
    post = facts.posts.get(crimp.joint)
    return post.kind if post else ""


def halves_as_used(crimp: Crimp, fitting: FittingType) -> tuple[Barrel, ...]:
    """The fitting's barrels in the order of the crimp's: a butt may be used either way round.

    Rule R19.
    """
    stated = (crimp.area_min_um2, crimp.area_max_um2)
    turned = tuple(reversed(fitting.barrels))
    return turned if stated == _ranges(turned) else fitting.barrels


def _ranges(barrels: tuple[Barrel, ...]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    return (
        tuple(barrel.area_min_um2 for barrel in barrels),
        tuple(barrel.area_max_um2 for barrel in barrels),
    )


def check_barrels(facts: Facts, book: Book) -> None:
    """Every crimp in stock: its barrels one by one, then the fitting as a whole."""
    for crimp in facts.plan.crimps:
        fitting = facts.fittings.get(crimp.item)
        where = where_is(facts, crimp)
        _mix(facts, book, crimp, where)
        if fitting is None:
            continue
        place = f"crimp {crimp.number} at {crimp.joint}"
        filled = len(crimp.barrels) == len(fitting.barrels) and all(crimp.barrels)
        message = f"{crimp.item} has {len(fitting.barrels)} barrels, each with wire in it"
        if not book.expect(filled, "barrel", place, message):
            continue
        halves = halves_as_used(crimp, fitting)
        message = "its barrels' ranges"
        stated = (crimp.area_min_um2, crimp.area_max_um2)
        book.same(stated, _ranges(halves), "barrel area", place, message, "µm²")
        folds = _folds(facts, book, crimp, place, halves)
        for index, (barrel, half) in enumerate(zip(halves, crimp.barrels, strict=True)):
            _one_barrel(facts, book, crimp, index, barrel, half, folds[index])
        _number(facts, book, crimp, where, folds)
        if fitting.lined:
            most = max(
                2 if fold else len(half) for fold, half in zip(folds, crimp.barrels, strict=True)
            )
            message = "too many wires in an adhesive-lined barrel"
            origin = "common practice, no source"
            book.expect(
                most <= LINED_MOST, "barrel count", place, message, most, LINED_MOST, origin
            )


def _conductors(facts: Facts, half: tuple[EndRef, ...]) -> list[Conductor]:
    found = (facts.conductor(end.wire) for end in half)
    return [wire for wire in found if wire is not None]


def _folds(
    facts: Facts, book: Book, crimp: Crimp, place: str, halves: tuple[Barrel, ...]
) -> list[bool]:
    """Which barrels hold a folded wire: those whose lone wire fits only so."""
    if not crimp.folded:
        return [False] * len(halves)
    origin = facts.limits.origin("fold_back")
    message = "wires are not to be folded back"
    book.expect(facts.limits.fold_back, "fold", place, message, "folded", "not folded", origin)
    folds = []
    for barrel, half in zip(halves, crimp.barrels, strict=True):
        area = sum(wire.area_um2 for wire in _conductors(facts, half))
        fits, fits_folded = (
            barrel.area_min_um2 <= times * area <= barrel.area_max_um2 for times in (1, 2)
        )
        folds.append(len(half) == 1 and fits_folded and not fits)
    message = "only a lone wire that does not fit as it is can be folded back"
    book.expect(any(folds), "fold", place, message)
    return folds


def _one_barrel(
    facts: Facts,
    book: Book,
    crimp: Crimp,
    index: int,
    barrel: Barrel,
    half: tuple[EndRef, ...],
    folded: bool,
) -> None:
    """Area, insulation, number, lining and ratio of sizes in one barrel. Rule R18."""
    wires = _conductors(facts, half)
    if len(wires) < len(half):
        return  # a wire nobody knows: "names" has said so
    place = f"crimp {crimp.number} at {crimp.joint}"
    area = sum(wire.area_um2 for wire in wires) * (2 if folded else 1)
    printed = crimp.area_um2[index] if index < len(crimp.area_um2) else None
    book.same(printed, area, "barrel area", place, "summed area", "µm²")
    origin = f"stock table, {crimp.item}"
    book.expect(
        barrel.area_min_um2 <= area <= barrel.area_max_um2, "barrel area", place,
        "the summed strand area is outside the barrel's range", f"{area / 1e6:.3f} mm²",
        f"{barrel.area_min_um2 / 1e6:.3f} to {barrel.area_max_um2 / 1e6:.3f} mm²", origin,
    )  # fmt: skip
    jackets = sum(wire.insulation_um**2 for wire in wires)
    book.expect(
        jackets <= barrel.sleeve_um**2, "barrel sleeve", place,
        "the insulation does not fit the sleeve", f"{jackets**0.5 / 1000:.2f} mm across",
        f"{barrel.sleeve_um / 1000:.2f} mm", origin,
    )  # fmt: skip
    areas = [wire.area_um2 for wire in wires]
    ratio = facts.limits.size_ratio_permille
    book.expect(
        max(areas) * 1000 <= min(areas) * ratio, "size ratio", place,
        "the wires are too unlike in size", f"{max(areas) / max(1, min(areas)):.3f} to 1",
        f"{ratio / 1000:.3f} to 1", facts.limits.origin("size_ratio_permille"),
    )  # fmt: skip


def _number(facts: Facts, book: Book, crimp: Crimp, where: Where, folds: list[bool]) -> None:
    limits, place = facts.limits, f"crimp {crimp.number} at {crimp.joint}"
    counted = [2 if fold else len(half) for fold, half in zip(folds, crimp.barrels, strict=True)]
    message = "too many wire ends in one barrel"
    if where in ("stud", "tab") or (where == "join" and any(folds)):
        post = "" if where == "join" else crimp.joint
        most, origin = limits.at(PER_BARREL, post), limits.origin_at(PER_BARREL, post)
        fine = max(counted) <= most
        book.expect(fine, "barrel count", place, message, max(counted), most, origin)
    ends = sum(len(half) for half in crimp.barrels)
    if where == "tab":
        fine = max(len(half) for half in crimp.barrels) <= PUSH_ON_MOST
        book.expect(fine, "barrel count", place, message, ends, PUSH_ON_MOST, "UL 310")
    if where == "lead":
        most, name = limits.wires_per_splice, "wires_per_splice"
        message = "too many wire ends at one lead"
        book.expect(ends <= most, "barrel count", place, message, ends, most, limits.origin(name))
        book.expect(ends >= 2, "barrel count", place, "nothing is joined to the lead", ends, 2)
    if where == "join":
        fine = all(len(half) == 1 for half in crimp.barrels)
        book.expect(fine, "barrel count", place, "a join has one wire in each half", ends, 2)


def _mix(facts: Facts, book: Book, crimp: Crimp, where: Where) -> None:
    """One circuit, one stage; aboard one block, and an aboard pigtail by itself. Rule R22."""
    place = f"crimp {crimp.number} at {crimp.joint}"
    wires = [end.wire for half in crimp.barrels for end in half]
    lead = f"lead {crimp.joint}"
    shared = [wire for wire in wires if wire != lead]
    for wire in wires:
        ready = facts.is_ready(wire)
        book.expect(not ready, "barrel mix", place, f"{wire} comes with a ring of its own")
    stages = {facts.stage_of(wire) for wire in shared}
    message = "boat wires share a barrel with bench wires"
    book.expect(len(stages) <= 1, "barrel mix", place, message)
    stage = "aboard" if "aboard" in stages else "bench"
    book.same(crimp.stage, stage, "step stage", place, "its stage")
    sources = {facts.source_of(wire) for wire in shared}
    if stage == "aboard" and where != "join":
        message = f"{', '.join(sorted(sources))} share a barrel aboard"
        book.expect(len(sources) <= 1, "barrel mix", place, message)
    circuits = {facts.circuit_of(wire) for wire in wires}
    if where in ("stud", "tab") and facts.limits.pigtail_barrel == "own" and len(wires) > 1:
        pigtails = sorted(wire for wire in wires if facts.is_of_harness(wire))
        message = f"{', '.join(pigtails)} shares a barrel, and a pigtail has its own"
        origin = facts.limits.origin("pigtail_barrel")
        book.expect(not pigtails, "barrel mix", place, message, "", "", origin)
    if stage == "bench":
        message = f"wires of {', '.join(sorted(circuits))} share a barrel"
        book.expect(len(circuits) <= 1, "barrel mix", place, message)
