"""The stack on each stud: lugs from base to nut, thread used, and what stays loose.

All lugs lie by current, the highest at the base (ABYC E-11, secondary source). A bench lug that
lies above an aboard lug waits, labelled, under a loose nut until the panel is in the boat.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lugwright.assemble.clocks import clock_positions
from lugwright.assemble.crimps import CrimpSheet
from lugwright.assemble.currents import Flow
from lugwright.assemble.ends import GivenEnd
from lugwright.assemble.wires import Wires
from lugwright.plans.choice import WireKey
from lugwright.plans.schema import Stack, StackedLug
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, Post, Stage
from lugwright.trade.live import live_posts
from lugwright.trade.names import strap_name
from lugwright.trade.straps import strap_lugs
from lugwright.trade.threads import used_thread_dmm


@dataclass(frozen=True)
class LooseLug:
    """A lug before it has its place: a crimp, or the ready-made ring of ``ready``, or a strap's.

    ``conductors``: wires in it, a ready-made ring's that are none of the plan's included.
    """

    crimp: int
    ready: str
    circuit: str
    stage: Stage
    current_ma: int
    tongue_dmm: int
    angle_deg: int
    keys: tuple[WireKey, ...]
    conductors: int = 1

    @property
    def rank(self) -> tuple[int, bool, str, int, str]:
        """Highest current first; ties bench before aboard, then by circuit, then by number (a
        ready-made ring has none)."""
        return (-self.current_ma, self.stage == "aboard", self.circuit, self.crimp, self.ready)


def stud_lugs(
    console: Console, sheet: CrimpSheet, ends: Sequence[GivenEnd], lengthened: set[str], flow: Flow
) -> dict[str, list[LooseLug]]:
    """Every crimped or ready-made lug or push-on, by post."""
    found: dict[str, list[LooseLug]] = {}
    for crimp in sheet.crimps:
        row = sheet.rows[crimp.number]
        found.setdefault(crimp.joint, []).append(
            LooseLug(
                crimp.number,
                "",
                sheet.circuits[crimp.number],
                crimp.stage,
                crimp.current_ma,
                row.tongue_dmm,
                row.barrel_angle_deg,
                sheet.keys[crimp.number],
                len(sheet.keys[crimp.number]),
            )
        )
    for end in ends:
        if end.ring is not None and end.name not in lengthened:
            found.setdefault(end.joint, []).append(
                LooseLug(
                    0,
                    end.name,
                    end.circuit,
                    end.stage,
                    end.current_ma,
                    end.ring.tongue_dmm,
                    end.ring.angle_deg,
                    (end.key,),
                    end.ring.wires,
                )
            )
    for lug in strap_lugs(console):
        found.setdefault(lug.post, []).append(
            LooseLug(
                0,
                strap_name(lug.strap),
                console.post(lug.post).circuit,
                "bench",
                abs(flow.through[lug.strap, lug.post]),
                lug.thickness_dmm,
                0,
                (),
            )
        )
    return found


def stacking_order(lugs: Sequence[LooseLug]) -> tuple[LooseLug, ...]:
    """Lugs from base to nut. Rule R24a."""
    return tuple(sorted(lugs, key=lambda lug: lug.rank))


def build_stacks(
    brief: Brief,
    ranks: Mapping[str, int],
    lugs: Mapping[str, Sequence[LooseLug]],
    cut: Wires,
) -> tuple[Stack, ...]:
    """The stack of every stud that takes a lug, in the order the posts are worked."""
    studs = [post for post in brief.console.posts if post.kind == "stud" and lugs.get(post.id)]
    studs.sort(key=lambda post: ranks[post.id])
    live = live_posts(brief.console)
    return tuple(
        _stack(post, lugs[post.id], brief, cut, live=post.id in live) for post in studs
    )


def _stack(
    post: Post, lugs: Sequence[LooseLug], brief: Brief, cut: Wires, *, live: bool
) -> Stack:
    """One stud's stack; ``live``: with everything off."""
    limits = brief.limits
    ordered = stacking_order(lugs)
    hardware = brief.stock.hardware_for(post.thread)
    widest = max(
        [lug.angle_deg for lug in ordered] + [post.reserved_angle_deg] * bool(post.reserved)
    )
    legs = [
        cut.first_leg(lug.keys[0], post.id) if lug.keys else _towards(brief.console, lug, post)
        for lug in ordered
    ]
    clocks = clock_positions(legs, widest, post.reserved)
    bench = sum(lug.stage == "bench" for lug in ordered)
    return Stack(
        post=post.id,
        thread=post.thread,
        driver=hardware.driver,
        lugs=tuple(_stacked(lug, clock) for lug, clock in zip(ordered, clocks, strict=True)),
        reserved=post.reserved,
        lock_washer=limits.lock_washer,
        used_dmm=used_thread_dmm(post, [lug.tongue_dmm for lug in ordered], hardware, limits),
        free_dmm=post.free_thread_dmm,
        bench_lugs=bench,
        nut_at_bench="snug" if bench == len(ordered) else "loose",
        boot=live,
    )


def _towards(console: Console, lug: LooseLug, post: Post) -> tuple[int, int]:
    """Plane direction from a stud to the nearest other stud of the strap that lug is of."""
    strap = next(one for one in console.straps if strap_name(one.name) == lug.ready)
    others = [console.post(other).at for other in strap.posts if other != post.id]
    offsets = [(at.x_dmm - post.at.x_dmm, at.y_dmm - post.at.y_dmm) for at in others]
    return min(offsets, key=lambda off: (off[0] ** 2 + off[1] ** 2, off))


def _stacked(lug: LooseLug, clock: int) -> StackedLug:
    return StackedLug(
        crimp=lug.crimp,
        ready=lug.ready,
        circuit=lug.circuit,
        stage=lug.stage,
        current_ma=lug.current_ma,
        tongue_dmm=lug.tongue_dmm,
        conductors=lug.conductors,
        clock=clock,
    )
