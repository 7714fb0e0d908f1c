"""Straps laid over a random console: one or two, thick or thin, with contacts and limits.

Everything is drawn from one seed. Names and numbers are invented.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

from brute.case import Case
from brute.random_consoles import FUSES_MA
from brute.setting import Setting
from brute.statements import Statements, Strap
from brute.straps import Metals
from lugwright.scenario.console import Circuit, Console
from lugwright.scenario.schema import StrapPart
from lugwright.scenario.straps import straps_of


def with_straps(case: Case, seed: int) -> Case | None:
    """The case with straps over studs of its own; None where no circuit has two to join."""
    rng = Random(f"straps {seed}")
    circuits = [circuit for circuit in case.console.circuits if _studs(case.console, circuit)]
    straps: list[Strap] = []
    for _ in range(rng.choice((1, 1, 2))):
        if not circuits:
            return None
        strap = _drawn(rng, case, rng.choice(circuits))
        if _joined(case.console, (*straps, strap)):
            straps.append(strap)
    return _strapped(case, tuple(straps)) if straps else None


def without_straps(case: Case) -> Case:
    """The case without its straps."""
    posts = tuple(replace(post, strap="") for post in case.console.posts)
    console = replace(case.console, straps=(), posts=posts)
    return replace(case, console=console, more=replace(case.more, straps=()))


def _studs(console: Console, circuit: Circuit) -> list[str]:
    """The first stud of each instrument, where at least two have one."""
    first: dict[str, str] = {}
    for post in map(console.post, circuit.posts):
        if post.kind == "stud":
            first.setdefault(post.instrument, post.id)
    return list(first.values()) if len(first) > 1 else []


def _drawn(rng: Random, case: Case, circuit: Circuit) -> Strap:
    studs = _studs(case.console, circuit)
    posts = rng.sample(studs, rng.randint(2, min(3, len(studs))))
    setting = Setting(case.console, case.limits, case.stock, case.routes())
    total = max(setting.total_ma(circuit))
    limits = (total, total * 3 // 4, total // 2)
    if circuit.side == "feed":  # a fuse ahead lets less pass than a strap may carry
        limits = (max(FUSES_MA), rng.choice(FUSES_MA))
    return Strap(
        posts=tuple(sorted(posts)),
        thickness_dmm=rng.choice((5, 10, 10, 20, 40)),
        contact_uohm=rng.choice((0, 200, 2_000, 40_000)),
        carries_ma=rng.choice((0, 0, *limits)),
    )


def _joined(console: Console, straps: tuple[Strap, ...]) -> Metals | None:
    """The metals of these straps; None where they lead round in a ring."""
    try:
        return Metals(console, straps)
    except ValueError:
        return None


def _strapped(case: Case, straps: tuple[Strap, ...]) -> Case:
    metals = Metals(case.console, straps)
    name = {
        metals.node(strap.posts[0]): f"strap {number}"
        for number, strap in reversed(list(enumerate(straps)))
    }
    posts = tuple(
        replace(post, strap=name.get(metals.node(post.id), "")) for post in case.console.posts
    )
    parts = [
        StrapPart.model_validate(
            {
                "name": str(number),
                "posts": list(strap.posts),
                "thickness": f"{strap.thickness_dmm / 10:g} mm",
                "contact": f"{strap.contact_uohm / 10**6:.6f} ohm",
                **({"carries": f"{strap.carries_ma} mA"} if strap.carries_ma else {}),
            }
        )
        for number, strap in enumerate(straps)
    ]
    console = replace(case.console, posts=posts, straps=straps_of(parts, posts))
    return replace(case, console=console, more=Statements(straps=straps))
