"""Small consoles with a device between the battery and the dials, made by hand.

``keyed`` takes a console of ``tiny_console`` and puts a key before its ignition: the pigtail that
fed the dials lands on ``key.bat``, and ignition is what ``key.ign`` supplies.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from support.consoles import THREAD, place

from lugwright.scenario.console import (
    BoatBlock,
    BoatWire,
    Circuit,
    Console,
    GivenWire,
    Instrument,
    Post,
    Way,
)

KEY_MM = (50.0, 155.0)
"""Where its far post is: straight above the ignition stud of a dial at (60, 60)."""


def keyed(console: Console, at_mm: tuple[float, float] = KEY_MM, **way: Any) -> Console:
    """The console behind a key; ``way`` says of the key's way what is not as usual."""
    battery = console.circuit("ignition").pigtail
    assert battery is not None
    battery = replace(battery, label="battery", circuit="battery")
    x, y = at_mm
    posts = (stud("key.bat", "battery", x, y + 20), stud("key.ign", "ignition", x, y))
    made = Way("key", "key.bat", "key.ign", "switch", ("on",))
    circuits = [Circuit("battery", "feed", "purple", "", "", ("key.bat",), battery, 0)]
    for circuit in console.circuits:
        if circuit.name == "ignition":
            ids = ("key.ign", *circuit.posts)
            circuit = replace(circuit, pigtail=None, supplied_by="key.ign", posts=ids)
        circuits.append(circuit)
    key = device("key", at_mm, positions=("off", "on"))
    return replace(
        console,
        instruments=(*console.instruments, key),
        posts=(*console.posts, *posts),
        circuits=tuple(circuits),
        ways=(*console.ways, replace(made, **way)),
    )


def device(name: str, at_mm: tuple[float, float], **changes: Any) -> Instrument:
    """A device on the panel that is no hub."""
    made = Instrument(name, "device for tests", place(*at_mm), 220, 340, 210, 300, 0, 0, False)
    return replace(made, **changes)


def stud(post_id: str, circuit: str, x_mm: float, y_mm: float, **changes: Any) -> Post:
    """A stud 50 mm above the panel."""
    instrument, name = post_id.split(".")
    made = Post(
        id=post_id,
        instrument=instrument,
        name=name,
        kind="stud",
        function="way",
        circuit=circuit,
        at=place(x_mm, y_mm, 50.0),
        thread=THREAD,
        free_thread_dmm=90,
    )
    return replace(made, **changes)


def load_aboard(
    name: str, post: str, current_ma: int, wire: GivenWire, **changes: Any
) -> BoatBlock:
    """A load in the boat whose one wire lands on a post; it comes back elsewhere."""
    lands = BoatWire(f"{name}: out", name, post, wire, None, None, 0, 0, 0)
    return replace(BoatBlock(name, (lands,), current_ma, post, "", "other", False), **changes)


def behind_fuse(console: Console, near: str, circuit: str, amperes_ma: int, **way: Any) -> Console:
    """The console with one more way, a fuse from a post on the feed side to ``fuses.CIRCUIT``.

    The circuit is new and has no other post yet.
    """
    far = f"fuses.{circuit}"
    made = Way("fuses", near, far, "fuse", amperes_ma=amperes_ma)
    post = stud(far, circuit, 90.0, 155.0)
    new = Circuit(circuit, "feed", "purple", "", "", (far,), None, 0, supplied_by=far)
    return replace(
        console,
        instruments=(*console.instruments, device("fuses", (90.0, 155.0))),
        posts=(*console.posts, post),
        circuits=(*console.circuits, new),
        ways=(*console.ways, replace(made, **way)),
    )
