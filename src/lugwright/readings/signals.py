"""Lines of the test sheet for signal circuits: apart from the feed, and what follows a sender."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from lugwright.plans.panel import PanelCircuit, PanelLoad
from lugwright.plans.schema import Plan
from lugwright.readings import bands as b
from lugwright.readings.schema import Line
from lugwright.readings.wiring import post_node

Words = Callable[[str], str]
"""Where to hold a tip of the meter, in words, by post."""
On = Callable[[str], tuple[frozenset[str], str]]
"""What is closed while a circuit is looked at, and what is set for it, in words."""


def signal_circuits(plan: Plan) -> Iterator[tuple[PanelCircuit, list[PanelLoad]]]:
    """Every signal circuit with what goes to its sender."""
    for circuit in plan.panel.circuits:
        if circuit.side == "signal":
            loads = [load for load in plan.panel.loads if load.ground_post in circuit.posts]
            yield circuit, loads


def apart_lines(plan: Plan, words: Words) -> Iterator[Line]:
    """A dial's signal post is no feed: the dial stands between them."""
    feeds = {post: row.name for row in plan.panel.circuits for post in row.posts}
    for circuit, loads in signal_circuits(plan):
        for load in loads:
            if not load.senses:
                continue
            total = sum(one.current_ma for one in loads)
            least = plan.panel.nominal_mv * b.REST_PERMILLE // (2 * total)
            low = max(b.METER_MOHM, least // b.STEP_MOHM * b.STEP_MOHM)
            yield Line(
                "", "signal to feed", feeds[load.feed_post], post_node(load.ground_post),
                post_node(load.feed_post), words(load.ground_post), words(load.feed_post), "ohm",
                low, None, what=f"sender of {circuit.name} unplugged",
            )  # fmt: skip


def sender_lines(plan: Plan, on: On) -> Iterator[Line]:
    """What each instrument on a signal circuit does, its sender off, held to ground, and on."""
    feeds = {post: row.name for row in plan.panel.circuits for post in row.posts}
    instruments = {post.id: post.instrument for post in plan.panel.posts}
    for circuit, loads in signal_circuits(plan):
        if not loads:
            continue
        names = list(dict.fromkeys(instruments[load.ground_post] for load in loads))
        told = " and ".join((", ".join(names[:-1]), names[-1])) if names[1:] else names[0]
        seen = _SEEN[circuit.sender].format(told=told, all="" if not names[1:] else ", all alike")
        closed, setting = on(feeds[loads[0].feed_post])
        yield Line(
            "", "does", "", "", "", "", f"signal {circuit.name}", "yes or no",
            what=f"{setting}: {seen}" if setting else seen,
            loads=tuple(load.name for load in loads), closed=closed,
        )  # fmt: skip


_SEEN = {
    "resistance": (
        "with the sender's wire off {told} at one end of the scale, with it held to ground at the "
        "other; with it back on they follow the sender{all}"
    ),
    "pulse": (
        "at zero with the sender's wire off: {told}; with it on they follow the sender, which "
        "only the running engine shows{all}"
    ),
    "switch": (
        "dark and silent with the sender's wire off: {told}; on with it held to ground{all}; "
        "with it back on, as its switch stands (while that is open its wire is at battery volts)"
    ),
}
"""What is seen, by what the sender works by."""
