"""Whether a plan keeps what was held, read off the plan itself."""

from __future__ import annotations

from lugwright.checker.finding import Finding
from lugwright.plans.schema import Plan
from lugwright.scenario.holds import Held, Hold


def holds_broken(plan: Plan, held: Held) -> tuple[Finding, ...]:
    """A finding for every hold that the plan does not keep."""
    broken = [hold for hold in held.holds if not _kept(plan, hold)]
    return tuple(
        Finding("hold", str(hold), "is held, and the plan has it otherwise", "", "", "held")
        for hold in broken
    )


def _kept(plan: Plan, hold: Hold) -> bool:
    jumpers = [jumper for jumper in plan.jumpers if jumper.role == "jumper"]
    pairs = [frozenset((jumper.from_joint, jumper.to_joint)) for jumper in jumpers]
    if hold.what == "hub":
        return {x.post.partition(".")[0] for x in plan.landings} <= set(hold.names)
    if hold.what == "jumper":
        return frozenset(hold.names) in pairs
    if hold.what == "no-jumper":
        return frozenset(hold.names) not in pairs
    if hold.what == "last":
        return all(jumper.from_joint not in hold.names for jumper in jumpers)
    if hold.what == "no-splice":
        return not plan.splices
    circuit, size = hold.names
    cut = [jumper for jumper in jumpers if jumper.circuit == circuit]
    cut += [j for j in plan.jumpers if j.from_joint == f"join pigtail {circuit}"]
    return all(jumper.wire_size == size for jumper in cut)
