"""The sheet that travels with a boat: serial number, what is in its kit, what has been done."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from lugwright.base.cautions import ON_FIRST_PAGES
from lugwright.base.scale import amps_text, mm_text
from lugwright.outputs.paper.cautions import caution_blocks
from lugwright.outputs.paper.flow import Block, Column, flow_pages, gap, table_blocks, words
from lugwright.outputs.paper.fonts import BOLD
from lugwright.outputs.paper.frame import Area, Head, Page, head_of, page_area, sheet_pdf
from lugwright.outputs.paper.lettering import TEXT_MM, write
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import colour_text, one_line
from lugwright.plans.schema import Plan
from lugwright.production.run import Model

# What is signed for, in working order.
SIGNED = (
    "kit gathered and counted",
    "wires cut, stripped and tagged",
    "fittings crimped, each pulled by hand",
    "stacks built, nuts as the plan says",
    "tested at the bench",
    "landed aboard, nuts snug",
    "proved at key-on",
)
_BOX_MM = 4.0
_SIGN_MM = 9.0


def travellers_pdf(models: Sequence[Model], paper: Paper) -> bytes:
    """One sheet for every boat of a run, in one file; same input, same bytes."""
    heads = [head_of(ShownPlan(model.plan), "Sheet of a boat") for model in models]
    pages = [
        page
        for model, head in zip(models, heads, strict=True)
        for page in _model_pages(model, head, paper)
    ]
    return sheet_pdf(_run_head(heads), paper, pages)


def _run_head(heads: Sequence[Head]) -> Head:
    """What stands on every page: the run's titles, rule sets and digests."""
    return Head(
        title=", ".join(dict.fromkeys(head.title for head in heads)),
        sheet="Sheet of a boat",
        rule_set=", ".join(dict.fromkeys(head.rule_set for head in heads)),
        digest=", ".join(dict.fromkeys(head.digest for head in heads)),
        cautions=heads[0].cautions,
        waivers=tuple(dict.fromkeys(text for head in heads for text in head.waivers)),
        where=ON_FIRST_PAGES,
    )


def _model_pages(model: Model, head: Head, paper: Paper) -> Iterator[Page]:
    """The pages of every boat of a model; all but the serial number is laid out once."""
    width = page_area(paper).width
    common = [
        *caution_blocks(head, width),
        gap(3),
        *_kit_blocks(model.plan, width),
        gap(3),
        *_signing_blocks(width),
    ]
    for serial in model.serials():
        title = f"Boat {one_line(serial)}: {one_line(model.plan.title)}"
        yield from flow_pages([*words(title, width, BOLD, 6.0), gap(2), *common], paper)


def _kit_blocks(plan: Plan, width: float) -> list[Block]:
    """Every cut piece and every bought piece with a box to tick."""
    rows: list[tuple[str, str, str, str]] = [
        (
            "☐",
            piece.label,
            f"{mm_text(piece.length_dmm)} mm",
            f"{colour_text(piece.colour, piece.colour_code)} {piece.wire_size}, "
            f"{piece.from_joint} to {piece.to_joint}",
        )
        for piece in plan.jumpers
    ]
    rows += [("☐", item, f"{count}", "fitting") for item, count in sorted(_fittings(plan).items())]
    rows += [
        ("☐", line.item, str(line.need), "")
        for line in plan.buy
        if line.unit == "piece" and line.item not in _fittings(plan)
    ]
    rows += [
        ("☐", f"fuse in at {way.far}", f"{amps_text(way.fuse_ma)} A", f"supplies {way.circuit}")
        for way in plan.ways
        if way.kind == "fuse" and way.fuse_ma and way.circuit
    ]
    columns = (
        Column("", 7),
        Column("in the kit", 55),
        Column("length or number", 30),
        Column("what it is", width - 92),
    )
    return table_blocks(columns, rows)


def _fittings(plan: Plan) -> Counter[str]:
    return Counter(crimp.item for crimp in plan.crimps)


def _signing_blocks(width: float) -> list[Block]:
    """A line to sign for every stage of the work."""
    return [Block(_SIGN_MM, partial(_draw_signing, text=text, width=width)) for text in SIGNED]


def _draw_signing(canvas: Canvas, area: Area, text: str, width: float) -> None:
    """A box, what is signed for, and rules for initials and date."""
    base = area.y + 2
    canvas.rect(area.x, base, _BOX_MM, _BOX_MM)
    write(canvas, area.x + _BOX_MM + 2, base + 0.5, text, TEXT_MM)
    for at, name in ((0.52, "initials"), (0.76, "date")):
        x = area.x + width * at
        write(canvas, x, base + 0.5, name, TEXT_MM)
        canvas.line(x + 15, base, area.x + width * (at + 0.22), base)
