"""The job sheet on paper: whole, of the right size, and enough to build from by itself."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pdfplumber
import pytest
from support.pages import printed
from support.plans import plan_of
from support.stranger import WrittenDown, write_down

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.paper_size import PAGES_DMM
from lugwright.plans.schema import EndRef, Plan

if TYPE_CHECKING:
    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser
QUICK = ["sandbar-skiff"]
MORE = [
    *("hub-per-circuit", "flying-leads", "one-wire-per-barrel"),
    *("six-dial-console", "bridge-24-instruments"),
]
POINTS_PER_DMM = 72 / 254


def wanted(plan: Plan) -> WrittenDown:
    """What the reader ought to have, from the plan itself."""
    cut = {piece.label for piece in plan.jumpers}

    def end(ref: EndRef) -> str:
        return f"{ref.wire}-{ref.end}" if ref.wire in cut else ref.wire

    at = {(e.wire, e.end): c.number for c in plan.crimps for half in c.barrels for e in half}
    barrels = {c.number: tuple(tuple(map(end, half)) for half in c.barrels) for c in plan.crimps}
    late = {s.target for s in plan.steps if (s.stage, s.verb) == ("bench", "nut loose")}
    return WrittenDown(
        jumpers={
            (j.label, j.from_joint, j.to_joint, j.length_dmm, j.wire_size,
             f"{j.colour} ({j.colour_code})", j.strip_a_dmm, j.strip_b_dmm, j.stage,
             at[(j.label, "a")], at[(j.label, "b")])
            for j in plan.jumpers
        },
        given={
            (g.wire, g.joint, g.wire_size, f"{g.colour} ({g.colour_code})",
             "ready-made ring" if g.ready_ring else "bare", g.strip_dmm, g.stage)
            for g in plan.given
        },
        barrels={
            (c.number, c.item, c.die, c.joint, barrels[c.number], c.folded, c.stage)
            for c in plan.crimps
        },
        stacks={
            s.post: [
                (place, f"crimp {x.crimp}" if x.crimp else f"ready-made ring of {x.ready}",
                 barrels[x.crimp] if x.crimp else ((x.ready,),), x.stage, x.clock)
                for place, x in enumerate(s.lugs, start=1)
            ]
            for s in plan.stacks
        },
        studs={
            (s.post, s.thread, s.driver,
             ("lock washer" if s.lock_washer else "none") + (", boot" if s.boot else ""),
             s.nut_at_bench if s.bench_lugs or s.post in late else "none yet",
             len(s.lugs), s.bench_lugs, s.reserved, s.used_dmm, s.free_dmm)
            for s in plan.stacks
        },
        caps=[
            f"{c.pigtail} {'live' if c.live else 'dead'} {c.item}"
            for c in sorted(plan.caps, key=lambda c: not c.live)
        ],
        loose=[s.post for s in plan.stacks if s.nut_at_bench == "loose"],
        splices={
            (s.label, s.crimp, (s.at.x_dmm, s.at.y_dmm, s.at.z_dmm)) for s in plan.splices
        },
    )  # fmt: skip


@pytest.mark.parametrize(
    "name", [*QUICK, *(pytest.param(name, marks=pytest.mark.slow) for name in MORE)]
)
def test_a_stranger_writes_the_plan_down(chromium: Browser, tmp_path: Path, name: str) -> None:
    """Every jumper, barrel, stack, stud, cap, loose nut and splice, from the print alone."""
    plan = plan_of(name)
    assert write_down(printed(chromium, plan, tmp_path)) == wanted(plan)


@pytest.mark.parametrize("page", ["A4", pytest.param("Letter", marks=pytest.mark.slow)])
def test_pages_have_the_papers_size_and_count_themselves(
    chromium: Browser, tmp_path: Path, page: str
) -> None:
    """Each page carries the plan's digest and its place among all pages."""
    plan = plan_of("sandbar-skiff")
    with pdfplumber.open(printed(chromium, plan, tmp_path, page)) as sheet:
        sizes = {tuple(sorted((p.width, p.height))) for p in sheet.pages}
        foot = [p.extract_text().splitlines()[-1] for p in sheet.pages]
    (size,) = sizes
    asked = tuple(x * POINTS_PER_DMM for x in PAGES_DMM[page])
    assert [round(a - b) for a, b in zip(size, asked, strict=True)] == [0, 0]
    assert foot == [
        f"Job sheet: {plan.title} · plan {plan_digest(plan)} page {n} of {len(foot)}"
        for n in range(1, len(foot) + 1)
    ]


def test_every_fact_is_on_paper(chromium: Browser, tmp_path: Path) -> None:
    """Cautions, drops, fuses, totals, tools and the sentence of each test are printed too."""
    plan = plan_of("sandbar-skiff")
    with pdfplumber.open(printed(chromium, plan, tmp_path)) as sheet:
        text = " ".join(page.extract_text(use_text_flow=True) for page in sheet.pages)
    flat = re.sub(r"\s+", "", text)
    facts = [
        *plan.cautions,
        *plan.fuses,
        *(drop.load for drop in plan.drops),
        *(f"{-(-drop.drop_nv // 100_000) / 10:.1f}" for drop in plan.drops),
        *(step.text for step in plan.steps if step.verb == "test"),
        *(stack.driver for stack in plan.stacks),
        *(line.item for line in plan.buy),
        f"{plan.totals.money_micro / 1e6:.2f}",
    ]
    assert [fact for fact in facts if re.sub(r"\s+", "", fact) not in flat] == []
