"""The printed build list: all a person at the bench needs, without a screen."""

from __future__ import annotations

from lugwright.outputs.crimp_text import crimp_section, tightest_barrel_sentence
from lugwright.outputs.layout import heading, short_heading, table, wrapped
from lugwright.outputs.rows import Rows
from lugwright.outputs.rows_ways import (
    DEVICES_HEADS,
    DEVICES_TITLE,
    LIVE_HEADS,
    LIVE_TITLE,
    device_cells,
    live_cells,
)
from lugwright.outputs.sides import side_notes
from lugwright.outputs.stack_text import stack_table, tightest_sentence
from lugwright.outputs.step_text import printed_lines
from lugwright.outputs.words import (
    PIGTAIL_NOTE,
    cost_sentence,
    hub_sentence,
    program_text,
    proof_sentence,
    waiver_sentence,
)
from lugwright.plans.schema import Plan
from lugwright.trade.names import is_pigtail

_STAGE_TITLES = {
    "bench": "Steps at the bench (panel on the table; places and o'clock as seen from the back)",
    "aboard": "Steps aboard (panel in the boat; o'clock as seen from the back)",
    "key-on": "Key-on test",
}


def build_list(plan: Plan, rows: Rows) -> str:
    """The whole build list as plain text of at most ``layout.WIDTH`` columns, LF at the end."""
    lines = [
        *_opening(plan, rows),
        *_cut_section(plan, rows),
        *_given_section(rows),
        *crimp_section(rows),
        *_splice_section(rows),
        *_stack_section(rows),
        *(line for stage in _STAGE_TITLES for line in _step_section(plan, rows, stage)),
        *_buy_section(rows),
        *_device_section(rows),
        *_drop_section(rows),
        *_total_section(plan, rows),
        *_limit_section(rows),
    ]
    return "\n".join(lines) + "\n"


def _opening(plan: Plan, rows: Rows) -> list[str]:
    """Title, verdict, what the cost is made of, hub, circuits, tightest spots, cautions."""
    circuits = "; ".join(
        f"{x.circuit} {x.colour} {x.wire_size}" for x in rows.circuits if x.wire_size
    )
    return [
        *heading(f"Build list: {plan.title}")[1:],
        "",
        *wrapped(proof_sentence(plan.proof)),
        *wrapped(cost_sentence(plan)),
        *(wrapped(plan.proof.note) if plan.proof.note else ()),
        *wrapped(hub_sentence(plan)),
        *(wrapped(f"Wire cut here: {circuits}.") if circuits else ()),
        *wrapped(_worst_drop_sentence(rows)),
        *wrapped(tightest_sentence(plan)),
        *wrapped(tightest_barrel_sentence(plan)),
        *(line for note in side_notes(plan.panel) for line in wrapped(note)),
        *short_heading("Cautions"),
        *(line for row in rows.cautions for line in wrapped(row.caution, first="- ")),
        *(line for x in plan.waivers for line in wrapped(waiver_sentence(x), first="- ")),
    ]


def _worst_drop_sentence(rows: Rows) -> str:
    """The load that uses up most of its drop limit."""
    if not rows.drops:
        return "Worst drop: no load is stated."
    worst = rows.drops[0]
    return (
        f"Worst drop: {worst.load}, {worst.drop_mv} mV of {worst.limit_mv} mV allowed, "
        f"{worst.margin_mv} mV left."
    )


def _none(lines: list[str], words: str) -> list[str]:
    """The lines, or a sentence that there is nothing, so that an empty list is not a lost one."""
    return lines or [words]


def _cut_section(plan: Plan, rows: Rows) -> list[str]:
    """The cut list of each stage that has one."""
    return [line for stage in ("bench", "aboard") for line in _cut_table(plan, rows, stage)]


def _cut_table(plan: Plan, rows: Rows, stage: str) -> list[str]:
    """The pieces to cut for one stage; the codes of their colours stand at the list's head."""
    colours: dict[str, str] = {piece.label: piece.colour for piece in plan.jumpers}
    pieces = [x for x in rows.cut if x.stage == stage]
    if not pieces:
        return []
    return [
        *short_heading(
            f"Cut list, {stage} (cut and bare in mm; in brackets the crimp on that end)"
        ),
        *table(
            (
                *("", "label", "colour", "size", ">cut"),
                *("from (end a)", "to (end b)", ">bare a", ">bare b"),
            ),
            (
                (
                    "[ ]",
                    x.label,
                    colours[x.label],
                    x.wire_size,
                    x.length_mm,
                    _joint_with_crimp(x.from_joint, x.crimp_at_a),
                    _joint_with_crimp(x.to_joint, x.crimp_at_b),
                    x.bare_at_a_mm,
                    x.bare_at_b_mm,
                )
                for x in pieces
            ),
        ),
    ]


def _joint_with_crimp(joint: str, crimp: str) -> str:
    """A joint and the number of the crimp that goes on the wire there."""
    return f"{joint} ({crimp})" if crimp else joint


def _given_section(rows: Rows) -> list[str]:
    """The wires that come as they are, and what is done with the length of a pigtail."""
    lines = table(
        ("wire", "circuit", "colour", "size", "end", ">strip mm", "goes to", "stage"),
        (
            (x.wire, x.circuit, x.colour, x.wire_size, x.end, x.strip_mm, x.joint, x.stage)
            for x in rows.given
        ),
    )
    if any(is_pigtail(x.wire) for x in rows.given):
        lines += wrapped(PIGTAIL_NOTE)
    return [*short_heading("Wires that come as they are"), *lines]


def _splice_section(rows: Rows) -> list[str]:
    """The splices, each with its place."""
    if not rows.splices:
        return []
    return [
        *short_heading("Splices (mm from the panel's left and lower edge, seen from the back)"),
        *table(
            ("splice", ">crimp", "fitting", ">from left", ">up", ">off the back", "tie point"),
            (
                (x.label, x.crimp, x.fitting, x.x_mm, x.y_mm, x.height_mm, x.tie or "-")
                for x in rows.splices
            ),
        ),
    ]


def _stack_section(rows: Rows) -> list[str]:
    """The stacks, and what the words in the nut's column mean."""
    washer = "washer under each nut; " if any(x.washer != "none" for x in rows.studs) else ""
    waiting = {x.nut_at_bench for x in rows.studs}
    words = ["LOOSE: on by a few turns until aboard"] * ("loose" in waiting)
    if any(x.waits for x in rows.loose_nuts):
        words.append("a lug that waits is labelled with its place; what comes aboard goes under it")
    if "none yet" in waiting:
        words.append("not yet: its own nut and washer stay in the bag until aboard")
    return [
        *short_heading(
            f"Stacks, nut to base ({washer}lug 1 at the base; o'clock seen from the back)"
        ),
        *_none(stack_table(rows), "No stud carries a lug."),
        *(wrapped(f"Nut {'; '.join(words)}.") if words else ()),
    ]


def _step_section(plan: Plan, rows: Rows, stage: str) -> list[str]:
    """The steps of one stage, in working order."""
    lines = printed_lines(plan, [step for step in rows.steps if step.stage == stage])
    return [*short_heading(_STAGE_TITLES[stage]), *_none(lines, "Nothing to do.")]


def _buy_section(rows: Rows) -> list[str]:
    """Buy list and fuses; where stock holds no price there is a dash."""
    return [
        *short_heading("Buy list"),
        *table(
            ("item", ">need", "unit", ">pack", ">packs", ">cost"),
            ((x.item, x.need, x.unit, x.pack, x.packs, x.cost or "-") for x in rows.buy),
        ),
        *(wrapped(f"Fuses: {'; '.join(x.fuse for x in rows.fuses)}.") if rows.fuses else ()),
    ]


def _device_section(rows: Rows) -> list[str]:
    """The ways of devices and what is live in each state, where the panel has some."""
    if not rows.ways:
        return []
    return [
        *short_heading(DEVICES_TITLE),
        *table(DEVICES_HEADS, device_cells(rows.ways)),
        *short_heading(LIVE_TITLE),
        *table(LIVE_HEADS, live_cells(rows.live)),
    ]


def _drop_section(rows: Rows) -> list[str]:
    """Drops with their margins, worst first."""
    drops = table(
        ("load", ">amps", ">feed mV", ">ground mV", ">drop mV", ">limit mV", ">left mV"),
        (
            (x.load, x.amps, x.feed_mv, x.ground_mv, x.drop_mv, x.limit_mv, x.margin_mv)
            for x in rows.drops
        ),
    )
    return [*short_heading("Drop to each load, worst first"), *drops]


def _total_section(plan: Plan, rows: Rows) -> list[str]:
    """Totals, and how equal plans are told apart."""
    totals = "; ".join(
        f"{x.total} {x.value}" + (f" {x.unit}" if x.unit not in ("", "min") else "")
        for x in rows.totals
    )
    return [
        *short_heading("Totals"),
        *wrapped(f"{totals}."),
        *wrapped(f"Equal plans are told apart by this rule: {plan.proof.tie_rule}."),
        *wrapped(f"Made with {program_text(plan)}."),
    ]


def _limit_section(rows: Rows) -> list[str]:
    """Limits that are not the built-in rule set's own."""
    changed = [x for x in rows.limits if x.differs]
    if not changed:
        return [
            *short_heading("Limits that differ from the built-in rule set"),
            "None: every limit is the built-in rule set's own.",
        ]
    return [
        *short_heading("Limits that differ from the built-in rule set"),
        *table(
            ("limit", "value", "from", "source"),
            ((x.name, x.value, x.origin, x.source) for x in changed),
        ),
    ]
