"""The hub: which instruments may be it, and what must land on it. Rule R7."""

from __future__ import annotations

from lugwright.checker.book import Book
from lugwright.checker.facts import Facts
from lugwright.scenario.console import Circuit


def check_hub(facts: Facts, book: Book) -> None:
    """Supplies land on instruments that may be a hub, on one for all where the limit says so.

    What stops an engine has no hub: its pigtail lands on any of its posts. Nor has a signal.
    """
    rows = facts.console.circuits
    landing = [row for row in rows if lands(facts, row) and row.side not in ("stop", "signal")]
    where = {row.circuit: facts.posts[row.post].instrument
             for row in facts.plan.landings if row.post in facts.posts}  # fmt: skip
    may = {one.name for one in facts.console.instruments if one.hub_candidate}
    for circuit in landing:
        name = where.get(circuit.name, "")
        if name and _has_choice(facts, circuit):
            message = f"{circuit.name} lands here; it may not be a hub"
            book.expect(name in may, "hub", name, message)
    told = sorted({where[row.name] for row in _told(facts, landing) if row.name in where})
    if facts.limits.one_hub and landing:
        book.same(facts.plan.hub, ", ".join(told), "hub", "panel", "the hub")
        for harness in sorted({row.harness for row in landing}):
            _one_hub(facts, book, [row for row in landing if row.harness == harness], where)


def _one_hub(facts: Facts, book: Book, landing: list[Circuit], where: dict[str, str]) -> None:
    """One instrument has all that can land on it, and none could take more circuits."""
    offers = {circuit.name: _offers(facts, circuit) for circuit in landing}
    names = sorted(frozenset[str]().union(*offers.values()))
    of_all = [name for name in names if all(name in offer for offer in offers.values())]
    wide = [circuit.name for circuit in landing if _pieces(facts, circuit) > 1]
    count = {name: sum(name in offers[one] for one in wide) for name in names}
    best = of_all or [name for name in names if count[name] == max(count.values()) > 0]
    held = _held(facts)
    if held and (held in names or len(facts.console.harnesses) == 1):
        best = [held]
    full = [
        name
        for name in best
        if all(where.get(one, name) == name for one, offer in offers.items() if name in offer)
    ]
    if best:
        message = "the supplies land on several instruments, and one could have more of them"
        book.expect(
            bool(full), "hub", "panel", message, ", ".join(sorted(set(where.values()))), "one hub",
            facts.limits.origin("one_hub"),
        )  # fmt: skip


def _held(facts: Facts) -> str:
    """The instrument the plan says was held as its hub; "" where none was."""
    texts = facts.plan.proof.held
    for one in facts.console.instruments:
        words = f"hub {one.name}"
        if any(text == words or text.startswith(f"{words} (") for text in texts):
            return one.name
    return ""


def _pieces(facts: Facts, circuit: Circuit) -> int:
    """Pieces of metal of a circuit beside that of its far post."""
    metal = {facts.node(post) for post in circuit.posts}
    return len(metal - {facts.node(circuit.supplied_by)} if circuit.supplied_by else metal)


def _has_choice(facts: Facts, circuit: Circuit) -> bool:
    """Whether a circuit could land on one post or another: not where its way or one post says."""
    on_its_way = bool(circuit.supplied_by) and facts.limits.way_take_off == "any"
    return _pieces(facts, circuit) > 1 and not on_its_way


def lands(facts: Facts, circuit: Circuit) -> bool:
    """Whether a circuit has a landing to choose or to state: not one that is a far post alone."""
    return bool(circuit.pigtail or (circuit.supplied_by and _pieces(facts, circuit)))


def _told(facts: Facts, landing: list[Circuit]) -> list[Circuit]:
    """The circuits by which the plan names its hub: not those that a way leads to one post."""
    return [one for one in landing if one.pigtail or _pieces(facts, one) > 1] or landing


def _offers(facts: Facts, circuit: Circuit) -> frozenset[str]:
    """Instruments that may be a hub and have a stud or tab the circuit could land on."""
    may = {one.name for one in facts.console.instruments if one.hub_candidate}
    far = circuit.supplied_by
    posts = [facts.posts[name] for name in circuit.posts]
    if far and facts.limits.way_take_off == "any":
        posts = [facts.posts[far]]
    elif far:
        posts = [p for p in posts if facts.node(p.id) != facts.node(far) and p.kind != "lead"]
    else:
        posts = [post for post in posts if post.kind != "lead"]
    return frozenset(post.instrument for post in posts) & may
