"""Fuses by section, and what a way carries: nothing here is chosen.

A section runs from a pigtail's fuse, or from the far post of a fused way, on through ways that
are not fused and through what is taken off, up to and including the near posts of the next
fused ways. So every wire of a circuit lies in one section: that of the nearest fuse above it.
"""

from __future__ import annotations

from brute.setting import Setting
from lugwright.scenario.console import Circuit, Way


def _is_protection(way: Way) -> bool:
    """A fuse, or a breaker that trips free (33 CFR 183.455(a))."""
    return way.kind == "fuse" or (way.kind == "breaker" and way.trip_free)


def section(setting: Setting, circuit: Circuit) -> tuple[int, str]:
    """The fuse over a circuit's wires (mA; 0: none) and the circuit it is the fuse of.

    Rule R16.
    """
    if circuit.side != "feed":
        return 0, circuit.name
    here = setting.owner(circuit)
    while here.pigtail is None:
        way = setting.console.way_to(here.supplied_by)
        if way.is_empty or _is_protection(way):
            return way.amperes_ma, here.name
        here = setting.owner(setting.circuits[setting.posts[way.near].circuit])
    return here.pigtail.fuse_ma, here.name


def straps_stand(setting: Setting) -> bool:
    """A strap is a bus, and the fuse ahead of it is at most what it carries (ABYC E-11, from
    memory). Rule R35."""
    for strap in setting.metals.straps:
        fuse, _ = section(setting, setting.circuits[setting.posts[strap.posts[0]].circuit])
        if 0 < strap.carries_ma < fuse:
            return False
    return True


def load_stands(setting: Setting, circuit: Circuit, fuse_ma: int) -> bool:
    """What a fuse feeds: the continuous loads within their share of it, all within the whole."""
    share = setting.most("load_share", circuit.name, setting.limits.load_permille)
    steady, every = setting.total_ma(circuit, steady=True), setting.total_ma(circuit)
    return max(steady) <= fuse_ma * share // 1000 and max(every) <= fuse_ma


def factored_permille(setting: Setting, way: Way, circuit: Circuit) -> int:
    """The most a way is judged to carry, thousandths of mA: by kind of load for a switch."""
    if way.kind != "switch":
        return 1000 * max(setting.total_ma(circuit))
    beyond = setting.beyond(way)
    sums = []
    for state in setting.states:
        total = 0
        for index in state & beyond:
            one = setting.consumers[index]
            factor = 1000 if one.kind in way.rated_for else setting.factor_permille(one.kind)
            total += one.current_ma * factor
        sums.append(total)
    return max(sums)


def way_stands(setting: Setting, circuit: Circuit) -> bool:
    """Rating and fuse of the way that supplies a circuit."""
    way = setting.console.way_to(circuit.supplied_by)
    if way.carries_ma and factored_permille(setting, way, circuit) > 1000 * way.carries_ma:
        return False
    fused = way.kind in ("fuse", "breaker") and not way.is_empty
    return not fused or load_stands(setting, circuit, way.amperes_ma)


def least_carries_in_ma(setting: Setting, device: str) -> int:
    """What each near post of a device must stand: its ways together; of a block the fuse ahead."""
    least = 0
    ways = [way for way in setting.console.ways if way.instrument == device]
    for near in {way.near for way in ways if way.kind != "stop"}:
        least = max(least, *setting.through_ma(near))
        if any(way.kind in ("fuse", "breaker") for way in ways if way.near == near):
            ahead, _ = section(setting, setting.circuits[setting.posts[near].circuit])
            least = max(least, ahead)
    return least


def near_posts_stand(setting: Setting) -> bool:
    """Whether every device's near posts stand what they must."""
    limited = [device for device in setting.console.instruments if device.carries_in_ma]
    return all(
        least_carries_in_ma(setting, device.name) <= device.carries_in_ma for device in limited
    )
