"""Ways of devices: what each carries against its own limit, its fuse, and the live table."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from lugwright.base.scale import amps_text
from lugwright.checker.book import Book
from lugwright.checker.facts import Facts
from lugwright.checker.fuses import fuse_ahead, protects
from lugwright.checker.live import live_table
from lugwright.checker.network import Loads, Setting
from lugwright.checker.positions import Closed, feed_ways, reached
from lugwright.plans.schema import WayRow
from lugwright.scenario.console import Way

_HALF_MV = 18_000  # 12 V consoles below, 24 V above: those take the table's row of 28 V


def check_ways(facts: Facts, loads: Loads, book: Book) -> None:
    """A row for each way with what it carries, within its rating; near posts as a whole.

    A switch is judged by current times the kind of load (AC 43.13-1B, Table 11-4). Rule R33.
    """
    stated = {(row.near, row.far): row for row in facts.plan.ways}
    real: dict[tuple[str, str], Way] = {(one.near, one.far): one for one in facts.console.ways}
    book.same(frozenset(stated), frozenset(real), "way", "ways", "the ways of the plan")
    _straps(facts, book)
    for key in sorted(stated.keys() & real.keys()):
        _way(facts, loads, book, real[key], stated[key])
    for near in sorted({way.near for way in feed_ways(facts.console)}):
        _near(facts, loads, book, near)


def check_live(facts: Facts, book: Book) -> None:
    """The live table: all off, then each position of each device with what feeds it on."""
    stated = [(row.state, row.set_to, row.live) for row in facts.plan.live]
    own = list(live_table(facts.console)) if facts.console.ways else []
    book.same(len(stated), len(own), "live", "live table", "number of its states")
    for mine, real in zip(stated, own, strict=False):
        book.same(mine, real, "live", f"state {real[0]}", "devices not at rest, live circuits")


def _way(facts: Facts, loads: Loads, book: Book, way: Way, row: WayRow) -> None:
    place, circuit = f"way {way.near} > {way.far}", facts.supplies(way.far)
    circuit = "" if way.kind == "stop" else circuit
    own = loads.worst(lambda one: through_ma(facts, one, way)) or Fraction(0)
    book.same(row.current_ma, own, "way", place, "its worst-case current", "mA")
    judged = own if way.kind != "switch" else Fraction(_factored_ma(facts, way, circuit))
    book.same(row.judged_ma, judged, "way", place, "its current by kind of load", "mA")
    said = (row.kind, row.circuit, row.carries_ma, row.fuse_ma)
    fuse_ma = way.amperes_ma if protects(way) else 0
    true = (way.kind, circuit, way.carries_ma, fuse_ma)
    book.same(said, true, "way", place, "kind, circuit, limit and fuse")
    book.same(row.lost_nv, way.contact_uohm * own, "way", place, "drop in its contact", "nV")
    if way.carries_ma and circuit:
        book.expect(
            judged <= way.carries_ma, "way", place, "its contact carries too much",
            f"{amps_text(int(judged))} A", f"{amps_text(way.carries_ma)} A", "console",
        )  # fmt: skip


def through_ma(facts: Facts, setting: Setting, way: Way) -> Fraction | None:
    """What flows through a way in one setting, mA: all that hangs beyond it."""
    name = facts.supplies(way.far)
    if not name or way.far not in setting.closed or way.kind == "stop":
        return None
    solved = setting.currents_ma.get(f"way {way.far}")
    return abs(solved) if solved is not None else Fraction(facts.beyond_ma(way.far, setting.closed))


def _factored_ma(facts: Facts, way: Way, circuit: str) -> int:
    """The worst sum, over the settings, of current times factor beyond a way, mA rounded up."""
    if not circuit:
        return 0
    worst = 0
    for closed in facts.settings:
        if way.far in closed:
            beyond = _beyond(facts, circuit, closed)
            own = (mass for post, mass in _weighed(facts, way, closed) if post in beyond)
            worst = max(worst, sum(own))
    return -(-worst // 1000)


def _beyond(facts: Facts, circuit: str, closed: Closed) -> frozenset[str]:
    """Posts of a circuit and of all it leads to."""
    names = reached(facts.console, closed, [circuit])
    return frozenset(post for name in names for post in facts.circuits[name].posts)


def _weighed(facts: Facts, way: Way, closed: Closed) -> Iterator[tuple[str, int]]:
    """Each load that is on, by the post it draws from, mA times thousandths of its factor."""
    high = facts.console.nominal_mv > _HALF_MV
    limits = facts.limits
    factors: Mapping[str, int] = limits.switch_24v_permille if high else limits.switch_12v_permille

    def factor(kind: str) -> int:
        return 1000 if kind in way.rated_for else factors.get(kind, factors["resistive"])

    for load in facts.console.loads:
        if facts.is_on(load.feed_post, closed):
            yield load.feed_post, load.current_ma * factor(load.kind)
    for block in facts.console.boat_blocks:
        if facts.is_on(block.drawn_from, closed):
            yield block.drawn_from, block.current_ma * factor(block.load_kind)


def _straps(facts: Facts, book: Book) -> None:
    """The fuse ahead of a strap is at most what the strap carries. Rule R35."""
    for strap in facts.console.straps:
        ahead, owner = fuse_ahead(facts, facts.posts[strap.posts[0]].circuit)
        book.expect(
            ahead <= strap.carries_ma or not strap.carries_ma, "way", f"strap {strap.name}",
            f"the fuse of {owner} is more than it carries", f"{amps_text(ahead)} A",
            f"{amps_text(strap.carries_ma)} A", "console",
        )  # fmt: skip


def _near(facts: Facts, loads: Loads, book: Book, near: str) -> None:
    """A near post's own limit: the sum of what its ways carry, and the fuse ahead of a block."""
    device = facts.console.instrument(facts.posts[near].instrument)
    if not device.carries_in_ma:
        return
    own = [way for way in feed_ways(facts.console) if way.near == near]
    ahead, owner = fuse_ahead(facts, facts.posts[near].circuit)
    if any(way.kind in ("fuse", "breaker") for way in own):
        book.expect(
            ahead <= device.carries_in_ma, "way", near,
            f"the fuse of {owner} is more than it takes", f"{amps_text(ahead)} A",
            f"{amps_text(device.carries_in_ma)} A", "console",
        )  # fmt: skip

    def total(setting: Setting) -> Fraction:
        return sum((through_ma(facts, setting, way) or Fraction(0) for way in own), Fraction(0))

    worst = loads.worst(total) or Fraction(0)
    book.expect(
        worst <= device.carries_in_ma, "way", near, "its ways together carry too much",
        f"{amps_text(int(worst))} A", f"{amps_text(device.carries_in_ma)} A", "console",
    )  # fmt: skip
