"""The answer to "why not?": conflicts, their members, and the ways out."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.plans.outcome import Reason
from lugwright.studies.question import Verdict


@dataclass(frozen=True)
class Finding:
    """What a plan would want of one place, and what it may have there, in words and numbers.

    ``part`` names the fitting it is about, where it is about one.
    """

    place: str
    wanted: str
    allowed: str
    part: str = ""


@dataclass(frozen=True)
class Way:
    """A change that alone lets a plan exist; a solve found one.

    ``text`` words it ("5 lugs on a stud"), ``value`` is it in the limit's own writing where it
    is a limit. ``places`` names where, for a fact of some places. ``least``: one step less is
    known to leave no plan.
    """

    name: str
    text: str
    value: str
    places: tuple[str, ...]
    least: bool


@dataclass(frozen=True)
class Member:
    """One thing that cannot hold together with the others.

    ``kind`` is ``limit``, ``scenario``, ``stock`` or ``hold``. ``without`` is whether a plan
    exists with this one taken away and only the conflict's others in force: anything but
    POSSIBLE means it was not settled in time. ``alone`` is the same with everything else in
    force. ``way`` is the least change of it alone; None with ``alone`` POSSIBLE means that no
    value it may have is enough. ``unsettled``: the search for a way ran out of time.
    ``held_by`` says how the shop holds a limit, with file and line, "" where it is open: no step
    the shop refuses is ever a way.
    """

    name: str
    kind: str
    value: str
    origin: str
    findings: tuple[Finding, ...]
    without: Verdict
    alone: Verdict
    way: Way | None
    unsettled: bool = False
    held_by: str = ""


@dataclass(frozen=True)
class Conflict:
    """Members that cannot hold together; taking any one away ends it."""

    members: tuple[Member, ...]


@dataclass(frozen=True)
class WhyNot:
    """Why no plan exists.

    ``conflicts`` share no member, and each of them must end. ``together``: changes that let a
    plan exist when all are made, where no change of one thing alone does. ``missing`` is what
    no change of any limit or fact asked about would mend. ``asked`` is all that was
    taken away to find the conflicts. ``probes`` counts the solves.
    ``complete``: no further conflict is left behind those that are named. ``note`` says what
    else must be known, "" when nothing.
    """

    conflicts: tuple[Conflict, ...]
    together: tuple[Way, ...]
    missing: tuple[Reason, ...]
    asked: tuple[str, ...]
    probes: int
    complete: bool
    note: str = ""
