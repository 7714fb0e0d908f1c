"""The tests before power, at first power and at key-on, with what must be seen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from lugwright.assemble.built import Built
from lugwright.assemble.order import circuits_in_order, node_finder
from lugwright.assemble.phrases import joined
from lugwright.assemble.spots import (
    Spot,
    consumer_spots,
    is_keyed,
    load_spots,
    probe_words,
    source_words,
    within_reach,
)
from lugwright.base.scale import amps_text
from lugwright.plan.schema import Landing
from lugwright.scenario.console import Circuit, Console, Instrument, Load

NV_PER_MV = 1_000_000
TEN_MV = 10
LAMP = "lamp"


@dataclass(frozen=True)
class Test:
    """One test: what is tested, what must be seen, and the sentence to work from."""

    what: str
    seen: tuple[str, ...]
    text: str


def proving_tests(built: Built) -> Iterator[Test]:
    """Before power: continuity, no short, polarity. Then the fuse, the dials, lamps and volts."""
    if not built.landings:
        return
    yield Test(
        "power off",
        ("battery off", "every fuse out"),
        "Battery off and every fuse out until first power. Continuity means no more than the "
        "meter's own leads read.",
    )
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
    """From where a circuit is fed to every place of it a tip can reach, other metal only."""
    console, node_of = built.console, node_finder(built.console)
    for circuit in circuits_in_order(console):
        start = _feeding_post(built, circuit)
        if not start:
            continue
        wired = [post for post in _wired_posts(built, circuit) if node_of(post) != node_of(start)]
        posts = within_reach(console, wired)
        if posts:
            yield Test(
                f"continuity {circuit.name}",
                tuple(posts),
                f"Continuity, {circuit.name}: from {probe_words(console, start)} to "
                f"{_places(console, posts)}.",
            )


def _places(console: Console, posts: Iterable[str]) -> str:
    """Posts to touch: studs by name, then the tabs, which are reached behind their push-ons."""
    studs = [post for post in posts if console.post(post).kind == "stud"]
    tabs = [post for post in posts if console.post(post).kind != "stud"]
    told = [joined(studs)] if studs else []
    if tabs:
        told.append(f"{joined(tabs)} (back-probe)")
    return "; to ".join(told)


def _supplies(built: Built, side: str) -> list[Landing]:
    """The landings of every pigtail on one side, by circuit."""
    circuits = built.console.circuit
    found = [item for item in built.landings if circuits(item.circuit).side == side]
    return sorted(found, key=lambda item: item.circuit)


def _no_short(built: Built) -> Iterator[Test]:
    console = built.console
    for feed in _supplies(built, "feed"):
        for ground in _supplies(built, "ground"):
            yield Test(
                f"no short {feed.circuit} to {ground.circuit}",
                ("no steady reading near zero",),
                f"No dead short between {probe_words(console, feed.post)} and "
                f"{probe_words(console, ground.post)}: a steady reading near zero must be found "
                "before going on.",
            )


def _polarity(built: Built) -> Iterator[Test]:
    feeds, grounds = _supplies(built, "feed"), _supplies(built, "ground")
    if feeds and grounds:
        plus = joined([f"pigtail {item.circuit}" for item in feeds])
        minus = joined([f"pigtail {item.circuit}" for item in grounds])
        come = "come" if len(feeds) > 1 else "comes"
        yield Test(
            "polarity",
            (f"{plus} from plus", f"{minus} from minus"),
            f"See that {plus} {come} from the battery's plus and {minus} from its minus, and that "
            "every feed sits on the post marked for it.",
        )


def _first_power(built: Built) -> Iterator[Test]:
    """Feeds that are not behind the key first; the key comes last."""
    console = built.console
    feeds = _supplies(built, "feed")
    for item in sorted(feeds, key=lambda one: is_keyed(console, console.circuit(one.circuit))):
        circuit = console.circuit(item.circuit)
        pigtail = circuit.pigtail
        fuse = amps_text(pigtail.fuse_ma) if pigtail is not None and pigtail.fuse_ma else ""
        fitted = f"put the {fuse} A fuse in" if fuse else "connect it"
        keyed = is_keyed(console, circuit)
        key = ", then turn the key on" if keyed else ""
        holds = "the fuse holds, nothing warms" if fuse else "nothing warms"
        undo = "key off" if keyed else "fuse out" if fuse else "battery off"
        yield Test(
            f"first power {item.circuit}",
            (holds,),
            f"Battery on; {item.circuit}: {fitted}{key}: {holds}. "
            f"If not, {undo} and back to the test for a short.",
        )


def _is_lamp(console: Console, load: Load) -> bool:
    """A lamp is fed at a lamp post, or by a circuit that rides on another."""
    post = console.post(load.feed_post)
    rides = bool(post.circuit) and bool(console.circuit(post.circuit).rides_on)
    return rides or post.function == LAMP


def _dials(console: Console) -> Iterator[Test]:
    """Every instrument with a load that is no lamp wakes."""
    for instrument in sorted(console.instruments, key=lambda item: item.name):
        loads = [load for load in _loads_at(console, instrument) if not _is_lamp(console, load)]
        if loads or instrument.key_on:
            seen = instrument.key_on.rstrip(".") or "it wakes"
            text = f"{_power_word(console, instrument)}, at {instrument.name}: {seen}."
            yield Test(f"wakes {instrument.name}", (seen,), text)


def _loads_at(console: Console, instrument: Instrument) -> list[Load]:
    return [
        load for load in console.loads if console.post(load.feed_post).instrument == instrument.name
    ]


def _power_word(console: Console, instrument: Instrument) -> str:
    """What gives an instrument power: the key, or the fuse alone."""
    fed = {console.post(load.feed_post).circuit for load in _loads_at(console, instrument)}
    fed |= {
        post.circuit
        for post in console.posts
        if not fed and post.instrument == instrument.name and post.circuit
    }
    feeds = [console.circuit(name) for name in fed if name]
    feeds = [circuit for circuit in feeds if circuit.side == "feed"]
    return "Key on" if not feeds or any(is_keyed(console, one) for one in feeds) else "Fuse in"


def _lamps(console: Console) -> Iterator[Test]:
    """Every lamp lights: with what it rides on, or on a feed of its own."""
    by_circuit: dict[str, list[str]] = {}
    for load in sorted(console.loads, key=lambda item: item.name):
        if _is_lamp(console, load):
            by_circuit.setdefault(console.post(load.feed_post).circuit, []).append(load.name)
    for name, lamps in sorted(by_circuit.items()):
        if not name:
            continue
        circuit = console.circuit(name)
        if is_keyed(console, circuit):
            when = "Key on: every lamp lights with the key"
        elif circuit.rides_on:
            when = f"Every lamp lights with the fuse of {circuit.rides_on}"
        else:
            when = f"Lamps on ({name} has a feed of its own): every lamp lights"
        what = "lamps" if len(by_circuit) == 1 else f"lamps {name}"
        yield Test(what, tuple(lamps), f"{when}: {joined(lamps)}.")


def _volts(built: Built) -> Iterator[Test]:
    """Volts at the fullest load a tip can reach, and at every consumer, everything on."""
    for spot in (*load_spots(built)[:1], *consumer_spots(built)):
        yield _volts_test(built, spot)


def _volts_test(built: Built, spot: Spot) -> Test:
    """What a meter must read at a spot, rounded down to 10 mV."""
    console = built.console
    least, fails = _volts_left(console, spot.drop_nv), _volts_left(console, spot.allowed_nv)
    nominal = f"{console.nominal_mv / 1000:.2f} V"
    where = source_words(built, spot)
    tips = f"{probe_words(console, spot.plus)} to {probe_words(console, spot.minus)}"
    if spot.before:
        first = f"All on, switch on at {spot.before}, {spot.load} running"
    elif spot.load in {item.name for item in console.arrivals}:
        first = f"All on, {spot.load} running"
    else:
        first = "All on"
    return Test(
        f"volts at {spot.load}",
        (f"at least {least} of {nominal} {where}", f"below {fails}: over the limit"),
        f"{first}: {tips} reads at least {least} of {nominal} {where}; below {fails} fails.",
    )


def _volts_left(console: Console, drop_nv: int) -> str:
    left_mv = (console.nominal_mv * NV_PER_MV - drop_nv) // NV_PER_MV
    return f"{left_mv // TEN_MV / 100:.2f} V"
