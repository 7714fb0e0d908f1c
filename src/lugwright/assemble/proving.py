"""The tests before power, at first power and at key-on, with what must be seen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lugwright.assemble.built import Built
from lugwright.assemble.order import circuits_in_order
from lugwright.assemble.phrases import joined
from lugwright.base.scale import amps_text
from lugwright.plan.schema import LoadDrop
from lugwright.scenario.console import Circuit, Console, Load

NV_PER_MV = 1_000_000
TEN_MV = 10


@dataclass(frozen=True)
class Test:
    """One test: what is tested, what must be seen, and the sentence to work from."""

    what: str
    seen: tuple[str, ...]
    text: str


def proving_tests(built: Built) -> Iterator[Test]:
    """Before power: continuity, no short, polarity. Then the fuse, the dials, lamps and volts."""
    yield from _continuity(built)
    yield from _no_short(built)
    yield from _polarity(built)
    yield from _first_power(built)
    yield from _dials(built.console)
    yield from _lamps(built.console)
    yield from _volts(built)


def _wired_posts(built: Built, circuit: Circuit) -> list[str]:
    """The posts of a circuit that wire ends at, by id."""
    ends = {end for jumper in built.cut.jumpers for end in (jumper.from_joint, jumper.to_joint)}
    ends |= {landing.post for landing in built.landings}
    return sorted(ends & set(circuit.posts))


def _feeding_post(built: Built, circuit: Circuit) -> str:
    """Where a circuit's current comes in: its landing, or that of the circuit it rides on."""
    landed = {landing.circuit: landing.post for landing in built.landings}
    while circuit.name not in landed and circuit.rides_on:
        circuit = built.console.circuit(circuit.rides_on)
    return landed.get(circuit.name, "")


def _continuity(built: Built) -> Iterator[Test]:
    for circuit in circuits_in_order(built.console):
        start = _feeding_post(built, circuit)
        posts = [post for post in _wired_posts(built, circuit) if post != start]
        if start and posts:
            yield Test(
                f"continuity {circuit.name}",
                tuple(posts),
                f"Battery off, fuse out: from {start} the meter shows continuity, no more than "
                f"its own leads, to {joined(posts)}.",
            )


def _supplies(built: Built, side: str) -> list[tuple[str, str]]:
    """Circuit and landing post of every pigtail on one side, by circuit."""
    return sorted(
        (landing.circuit, landing.post)
        for landing in built.landings
        if built.console.circuit(landing.circuit).side == side
    )


def _no_short(built: Built) -> Iterator[Test]:
    for feed, plus in _supplies(built, "feed"):
        for ground, minus in _supplies(built, "ground"):
            yield Test(
                f"no short {feed} to {ground}",
                ("no steady reading near zero",),
                f"Battery off, fuse out: between {plus} and {minus} the meter shows the loads, "
                "not a dead short. Find a dead short before going on.",
            )


def _polarity(built: Built) -> Iterator[Test]:
    feeds, grounds = _supplies(built, "feed"), _supplies(built, "ground")
    if feeds and grounds:
        plus = joined([f"pigtail {name}" for name, _ in feeds])
        minus = joined([f"pigtail {name}" for name, _ in grounds])
        yield Test(
            "polarity",
            (f"plus to {plus}", f"minus to {minus}"),
            f"Fuse still out: plus leads to {plus} and minus to {minus}, and every instrument "
            "has its feed on its own marked post.",
        )


def _first_power(built: Built) -> Iterator[Test]:
    for name, _ in _supplies(built, "feed"):
        pigtail = built.console.circuit(name).pigtail
        fuse = amps_text(pigtail.fuse_ma) if pigtail is not None and pigtail.fuse_ma else ""
        fitted = f"Put the {fuse} A fuse into {name}" if fuse else f"Connect {name}"
        yield Test(
            f"first power {name}",
            ("the fuse holds, nothing warms",) if fuse else ("nothing warms",),
            f"Battery on. {fitted} and turn the key on: "
            + ("the fuse holds and nothing warms." if fuse else "nothing warms.")
            + " If not, key off and back to the test for a short.",
        )


def _is_lamp(console: Console, load: Load) -> bool:
    """A lamp is a load fed by a circuit that rides on another."""
    circuit = console.post(load.feed_post).circuit
    return bool(circuit) and bool(console.circuit(circuit).rides_on)


def _dials(console: Console) -> Iterator[Test]:
    """Every instrument with a load that is no lamp wakes."""
    for instrument in sorted(console.instruments, key=lambda item: item.name):
        loads = [
            load
            for load in console.loads
            if console.post(load.feed_post).instrument == instrument.name
            and not _is_lamp(console, load)
        ]
        if loads or instrument.key_on:
            seen = instrument.key_on.rstrip(".") or "it wakes"
            text = f"Key on, at {instrument.name}: {seen}."
            yield Test(f"wakes {instrument.name}", (seen,), text)


def _lamps(console: Console) -> Iterator[Test]:
    names = sorted(load.name for load in console.loads if _is_lamp(console, load))
    if names:
        yield Test("lamps", tuple(names), f"Lamps on: every lamp lights: {joined(names)}.")


def _volts(built: Built) -> Iterator[Test]:
    """Volts at the load with the largest drop, everything on, rounded down to 10 mV."""
    if not built.drops:
        return
    worst = max(built.drops, key=lambda drop: (drop.drop_nv, drop.load))
    posts = _posts_of(built.console, worst)
    least_mv = (built.console.nominal_mv * NV_PER_MV - worst.drop_nv) // NV_PER_MV
    volts = f"{least_mv // TEN_MV / 100:.2f} V"
    nominal = f"{built.console.nominal_mv / 1000:.2f} V"
    yield Test(
        f"volts at {worst.load}",
        (f"at least {volts} of {nominal} at the source",),
        f"Everything on: at {worst.load}, between {joined(posts)}, the meter shows at least "
        f"{volts} for {nominal} at the source.",
    )


def _posts_of(console: Console, drop: LoadDrop) -> list[str]:
    """The posts between which a load or an arrival is measured."""
    for load in console.loads:
        if load.name == drop.load:
            return [load.feed_post, load.ground_post]
    for arrival in console.arrivals:
        if arrival.name == drop.load:
            return [post for post in (arrival.drawn_from, arrival.returns_to) if post]
    return []
