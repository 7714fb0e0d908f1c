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


def _lands_on(plan: Plan, hub: str) -> bool:
    """All that can land on a held hub does: what has no post there lands where it likes, and so
    does what lands on the far post of its way, where nothing is chosen.
    """
    posts = {post.id: post for post in plan.panel.posts}
    sides = {circuit.name: circuit.side for circuit in plan.panel.circuits}
    landed = [row for row in plan.landings if row.post in posts]
    no_hub = ("stop", "signal")
    chosen = [row for row in landed if row.post != row.way and sides.get(row.circuit) not in no_hub]
    elsewhere = {row.circuit for row in chosen if posts[row.post].instrument != hub}
    far = {way.far for way in plan.panel.ways}
    offers = {
        post.circuit
        for post in posts.values()
        if post.instrument == hub and post.kind != "lead" and post.id not in far
    }
    return len(elsewhere) < len(landed) and elsewhere.isdisjoint(offers)


def _kept(plan: Plan, hold: Hold) -> bool:
    jumpers = [jumper for jumper in plan.jumpers if jumper.role == "jumper"]
    pairs = [frozenset((jumper.from_joint, jumper.to_joint)) for jumper in jumpers]
    if hold.what == "hub":
        return _lands_on(plan, hold.names[0])
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
