"""The answer to "why not?" in lines for a person, and as data."""

from __future__ import annotations

from typing import Any

from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.values import range_text
from lugwright.studies.question import Verdict
from lugwright.studies.schema import Conflict, Finding, Member, Way, WhyNot

MOST_FINDINGS = 2


def why_lines(why: WhyNot) -> list[str]:
    """Why no plan exists: each conflict with its members, places, numbers and ways out."""
    lines = [f"  {reason}" for reason in why.missing]
    if lines:
        lines.insert(0, "No change of one thing or of all together mends this:")
    for number, conflict in enumerate(why.conflicts, 1):
        lines.append(_lead(conflict, number, len(why.conflicts)))
        settled = [one for one in conflict.members if one.without is Verdict.POSSIBLE]
        lines += [f"  {_member_line(member)}" for member in settled]
        open_names = [one.name for one in conflict.members if one not in settled]
        if open_names:
            lines.append(f"  undecided in the time given: {', '.join(open_names)}")
    if why.together:
        changes = "; ".join(way.text for way in why.together)
        lines.append(f"A plan exists with all of these changes together: {changes}")
    if why.note and not why.missing:
        lines.append(f"{why.note[0].upper()}{why.note[1:]}.")
    return lines


def _lead(conflict: Conflict, number: int, count: int) -> str:
    others = "" if count == 1 else f"Conflict {number} of {count}, each by itself: "
    undecided = any(member.without is not Verdict.POSSIBLE for member in conflict.members)
    if len(conflict.members) == 1:
        text = "this cannot hold; without it a plan exists:"
    else:
        text = "these cannot hold together; without any one of them a plan exists:"
    if undecided:
        text = "among these is what cannot hold together; time ended before it was narrowed down:"
    elif any(member.alone is not Verdict.POSSIBLE for member in conflict.members):
        what = "this cannot hold" if len(conflict.members) == 1 else "these cannot hold together"
        text = f"{what}, even with everything else out of the way:"
    elif count > 1:
        text = text.replace("a plan exists", "this conflict ends")
    return others + (text if others else text[0].upper() + text[1:])


def _member_line(member: Member) -> str:
    """``oil.ground: 5 lugs wanted, 4 allowed [lugs_per_stud = 4, ...]; possible with 5 lugs``."""
    named = f"{member.name} = {member.value}" if member.value else member.name
    source = f"{named}, from {member.origin}"
    found = _findings_text(member.findings)
    text = f"{found} [{source}]" if found else f"[{source}]"
    return f"{text}; {_way_text(member)}"


def _findings_text(found: tuple[Finding, ...]) -> str:
    """The first few places with their numbers; places that want the same stand together."""
    together: dict[tuple[str, str], list[str]] = {}
    for one in found:
        places = together.setdefault((one.wanted, one.allowed), [])
        if one.place not in places:
            places.append(one.place)
    parts = []
    for (wanted, allowed), places in together.items():
        where = ", ".join(places[:MOST_FINDINGS])
        if len(places) > MOST_FINDINGS:
            where += f" and {len(places) - MOST_FINDINGS} more"
        parts.append(f"{where}: {wanted}" + (f", {allowed}" if allowed else ""))
    shown = "; ".join(parts[:MOST_FINDINGS])
    more = len(parts) - MOST_FINDINGS
    return f"{shown}; and {more} more like it" if more > 0 else shown


def _way_text(member: Member) -> str:
    if member.way is not None:
        least = "" if member.way.least else " (less may be enough)"
        return f"possible with {member.way.text}{least}"
    if member.held_by:
        return f"{member.held_by}: no value a scenario may set is enough by itself"
    if member.alone is Verdict.IMPOSSIBLE:
        return "not enough by itself while everything else stays"
    if member.alone is Verdict.UNDECIDED or member.unsettled:
        return "no least change found in the time given"
    if member.kind == "limit":
        allowed = range_text(SPEC_BY_NAME[member.name])
        return f"no value that may be set is enough by itself ({allowed})"
    return "no change of it that was tried is enough by itself"


def why_data(why: WhyNot) -> dict[str, Any]:
    """The answer as plain data, for JSON."""
    return {
        "conflicts": [
            {"members": [_member_data(member) for member in conflict.members]}
            for conflict in why.conflicts
        ],
        "together": [_way_data(way) for way in why.together],
        "missing": [vars(reason) for reason in why.missing],
        "probes": why.probes,
        "complete": why.complete,
        "note": why.note,
    }


def _member_data(member: Member) -> dict[str, Any]:
    return {
        "name": member.name,
        "kind": member.kind,
        "value": member.value,
        "origin": member.origin,
        "findings": [
            {"place": one.place, "wanted": one.wanted, "allowed": one.allowed}
            for one in member.findings
        ],
        "without": member.without.value,
        "alone": member.alone.value,
        "suggestion": None if member.way is None else _way_data(member.way),
        "unsettled": member.unsettled,
        "held_by": member.held_by,
    }


def _way_data(way: Way) -> dict[str, Any]:
    return {**vars(way), "places": list(way.places)}
