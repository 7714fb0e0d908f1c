"""Random small questions for the property tests: consoles, limits and shelves.

Everything here is small on purpose (two to four dials), so that whole searches stay quick.
New features of consoles are added here, once, for every property.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from support.asking import fitting, roomy_limits, spool, stock_of, wide_stock
from support.consoles import THREAD, tiny_console

from lugwright.limits.schema import Limits
from lugwright.model.choose import best_choice
from lugwright.pipeline import Run, holding, make_plan, pose
from lugwright.plans.outcome import Ending, Outcome
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, ReadyRing
from lugwright.stock.schema import Barrel, Stock

FEW = settings(max_examples=6, deadline=None, derandomize=True, database=None)
SOME = settings(max_examples=8, deadline=None, derandomize=True, database=None)
OBJECTIVES = ("default", "default", "shortest", "lowest-stacks", "cheapest", "weights")
ANY_MANY = Barrel(500_000, 20_000_000, 20_000, 60)


@dataclass(frozen=True)
class Case:
    """One question: a console, its limits and the stock."""

    console: Console
    limits: Limits
    stock: Stock

    @property
    def brief(self) -> Brief:
        """As the pipeline reads it, without files."""
        return Brief(self.console, self.limits, self.stock)

    def run(self, **holds: str) -> Run:
        """The whole way to a checked plan."""
        return make_plan(holding(self.brief, holds))

    def outcome(self, **search: Any) -> Outcome:
        """The search alone."""
        problem, _ = pose(self.brief)
        return best_choice(problem, **search)

    def with_limits(self, **changes: Any) -> Case:
        """The same under changed limits."""
        return replace(self, limits=replace(self.limits, **changes))


def cost(outcome: Outcome) -> tuple[int, ...] | None:
    """The proved cost; None where no plan exists. Nothing else may come out without a clock."""
    assert outcome.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    return outcome.cost if outcome.ending is Ending.PROVED else None


def no_dearer(one: tuple[int, ...] | None, other: tuple[int, ...] | None) -> bool:
    """Whether ``one`` is at most ``other``; no plan is dearer than any."""
    return other is None or (one is not None and one <= other)


@st.composite
def centres(draw: st.DrawFn, most: int) -> list[tuple[float, float]]:
    """Places of two to ``most`` dials in cells of 110 mm, moved about a little in whole 0.1 mm."""
    cells = draw(
        st.lists(
            st.tuples(st.integers(0, 3), st.integers(0, 1)), min_size=2, max_size=most, unique=True
        )
    )
    jitter = st.integers(-150, 150)
    return [(60 + 110 * x + draw(jitter) / 10, 60 + 110 * y + draw(jitter) / 10) for x, y in cells]


@st.composite
def consoles(draw: st.DrawFn, most: int = 4) -> Console:
    """Like dials with uneven heights, some lamps, senders, short studs and ready-made rings."""
    places = draw(centres(most))
    dials = range(1, len(places) + 1)
    heights = {n: draw(st.sampled_from((50.0, 50.0, 62.0))) for n in dials}
    console = tiny_console(
        places,
        lamps=draw(st.booleans()),
        heights_mm=heights,
        senders=[n for n in dials if draw(st.integers(0, 3)) == 0],
        dial_ma=draw(st.sampled_from((100, 2000))),
        reach_mm=draw(st.sampled_from((900.0, 450.0, 250.0))),
        supply_one_way_mm=draw(st.sampled_from((0.0, 3000.0))),
    )
    posts = tuple(
        replace(p, free_thread_dmm=draw(st.sampled_from((90, 90, 60, 48))))
        if p.kind == "stud"
        else p
        for p in console.posts
    )
    circuits = []
    for circuit in console.circuits:
        pigtail = circuit.pigtail
        if pigtail is not None and draw(st.integers(0, 3)) == 0:
            pigtail = replace(pigtail, ring=ReadyRing(THREAD, 9, 60))
        if pigtail is not None and draw(st.integers(0, 5)) == 0:
            pigtail = replace(pigtail, stage="aboard")
        circuits.append(replace(circuit, pigtail=pigtail))
    return replace(console, posts=posts, circuits=tuple(circuits))


@st.composite
def limits(draw: st.DrawFn) -> Limits:
    """Limits some of which are felt."""
    return roomy_limits(
        slack_permille=draw(st.sampled_from((0, 50))),
        end_allowance_dmm=draw(st.sampled_from((0, 100))),
        cut_step_dmm=draw(st.sampled_from((1, 50))),
        minimum_jumper_dmm=draw(st.sampled_from((0, 800))),
        dress_height_dmm=200,
        clearance_dmm=20,
        nut_driver_room_dmm=50,
        drip_loop_dmm=draw(st.sampled_from((0, 200))),
        splice_to_post_dmm=draw(st.sampled_from((0, 250))),
        wires_per_barrel=draw(st.sampled_from((1, 2, 2))),
        wires_per_splice=draw(st.sampled_from((3, 4))),
        lugs_per_stud=draw(st.sampled_from((2, 3, 4))),
        stud_count=draw(st.sampled_from(("lugs", "lugs", "conductors"))),
        lock_washer=draw(st.booleans()),
        splices=draw(st.sampled_from((False, False, True))),
        splice_neighbours=2,
        extensions=draw(st.booleans()),
        one_hub=draw(st.sampled_from((True, True, False))),
        lamp_take_off=draw(st.sampled_from(("landing", "landing", "any"))),
        stud_kinds=("ring", "captive spade"),
        drop_critical_permille=draw(st.sampled_from((1000, 20))),
        objective=draw(st.sampled_from(OBJECTIVES)),
        weights=MappingProxyType({"length": 2, "stacked": 300, "fittings": 100, "money": 0}),
    )


@st.composite
def shelves(draw: st.DrawFn) -> Stock:
    """A wide stock or a narrow one, two sizes of wire, with splice fittings and thin rings."""
    mid_air = (
        fitting("butt", "butt", ANY_MANY, ANY_MANY),
        fitting("closed end", "closed end", ANY_MANY, price_micro=150_000),
    )
    if draw(st.booleans()):
        sizes = draw(st.sampled_from((("16 AWG",), ("16 AWG", "14 AWG"))))
        stock = wide_stock(*mid_air, wire_sizes=sizes)
    else:
        spade = fitting("spade 0", "captive spade", Barrel(700_000, 1_400_000, 3000, 60))
        stock = stock_of(*mid_air, spade)
    thin = tuple(spool("18 AWG", colour) for colour in ("pink", "white"))
    return replace(stock, spools=(*stock.spools, *thin))


@st.composite
def cases(draw: st.DrawFn, most: int = 4) -> Case:
    """A whole question."""
    return Case(draw(consoles(most)), draw(limits()), draw(shelves()))
