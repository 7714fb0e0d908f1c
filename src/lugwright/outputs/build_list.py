"""The printed build list: all a person at the bench needs, without a screen."""

from __future__ import annotations

from lugwright.outputs.layout import heading, table, wrapped
from lugwright.outputs.rows import Rows, rows_of
from lugwright.outputs.rows_bench import CrimpRow, StepRow, crimp_margin_um2
from lugwright.outputs.stack_text import stack_columns, tightest_sentence
from lugwright.outputs.words import area_margin_text, hub_sentence, proof_sentence, spare_text
from lugwright.plan.schema import Plan

_STAGE_TITLES = {
    "bench": "Steps at the bench (panel on the table)",
    "aboard": "Steps aboard (panel in the boat)",
    "key-on": "Key-on test",
}


def build_list(plan: Plan) -> str:
    """The whole build list as plain text of at most ``layout.WIDTH`` columns, LF at the end."""
    rows = rows_of(plan)
    lines = [
        *_opening(plan, rows),
        *_wire_section(rows),
        *_crimp_section(rows),
        *_stack_section(rows),
        *_step_section(rows, "bench"),
        *_cap_section(rows),
        *_loose_section(rows),
        *_step_section(rows, "aboard"),
        *_step_section(rows, "key-on"),
        *_buy_section(rows),
        *_drop_section(rows),
        *_total_section(plan, rows),
        *_limit_section(rows),
    ]
    return "\n".join(lines) + "\n"


def _opening(plan: Plan, rows: Rows) -> list[str]:
    """Title, verdict, hub, what is closest to a limit, cautions."""
    title = heading(f"Build list: {plan.title}")[1:]
    return [
        *title,
        "",
        *wrapped(proof_sentence(plan.proof)),
        *(wrapped(plan.proof.note) if plan.proof.note else ()),
        *wrapped(hub_sentence(plan)),
        *wrapped(_worst_drop_sentence(rows)),
        *wrapped(tightest_sentence(plan)),
        *wrapped(_tightest_barrel_sentence(plan)),
        *heading("Cautions"),
        *(line for row in rows.cautions for line in wrapped(row.caution, first="- ")),
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


def _tightest_barrel_sentence(plan: Plan) -> str:
    """The crimp whose filled area lies nearest to an end of its range."""
    if not plan.crimps:
        return "Tightest barrel: nothing is crimped."
    crimp = min(plan.crimps, key=lambda crimp: (crimp_margin_um2(crimp), crimp.number))
    margin = area_margin_text(crimp_margin_um2(crimp))
    room = "" if float(margin) == 0 else f"{margin} mm² from the end of its range"
    return (
        f"Tightest barrel: crimp {crimp.number} at {crimp.joint}, "
        f"{room or 'at the end of its range'}."
    )


def _none(lines: list[str], words: str) -> list[str]:
    """The lines, or a sentence that there is nothing, so that an empty list is not a lost one."""
    return lines or [words]


def _cut_table(rows: Rows, stage: str) -> list[str]:
    """The pieces to cut for one stage."""
    pieces = [x for x in rows.cut if x.stage == stage]
    if not pieces:
        return []
    return [
        *heading(
            f"Cut list, {stage} (lengths and strips A, B in mm; in brackets the crimp on that end)"
        ),
        *table(
            ("", "label", "colour", "size", ">length", "from (A)", "to (B)", ">A", ">B"),
            (
                (
                    "[ ]",
                    x.label,
                    x.colour,
                    x.wire_size,
                    x.length_mm,
                    _joint_with_crimp(x.from_joint, x.crimp_a),
                    _joint_with_crimp(x.to_joint, x.crimp_b),
                    x.strip_a_mm,
                    x.strip_b_mm,
                )
                for x in pieces
            ),
        ),
    ]


def _joint_with_crimp(joint: str, crimp: str) -> str:
    """A joint and the number of the crimp that goes on the wire there."""
    return f"{joint} ({crimp})" if crimp else joint


def _wire_section(rows: Rows) -> list[str]:
    """Circuits, the cut list, and the wires that come as they are."""
    return [
        *heading("Circuits"),
        *table(
            ("circuit", "wire", "size"), ((x.circuit, x.colour, x.wire_size) for x in rows.circuits)
        ),
        *_cut_table(rows, "bench"),
        *_cut_table(rows, "aboard"),
        *heading("Wires that come as they are"),
        *table(
            ("wire", "circuit", "colour", "size", "end", ">strip mm", "goes to", "stage"),
            (
                (x.wire, x.circuit, x.colour, x.wire_size, x.end, x.strip_mm, x.joint, x.stage)
                for x in rows.given
            ),
        ),
    ]


def _crimp_lines(x: CrimpRow) -> list[str]:
    """One crimp: what fitting with which die where, then the wire ends and how full it is."""
    first = f"[ ] crimp {x.number:<3} "
    folded = f", {x.folded}" if x.folded else ""
    return [
        *wrapped(
            f"{x.fitting}; {x.barrel_colour} barrel, die {x.die}; at {x.joint}, {x.stage}", first
        ),
        *wrapped(
            f"{x.wires}{folded}; {x.area_mm2} mm² in {x.range_mm2}, {spare_text(x.margin_mm2)}",
            " " * len(first),
        ),
    ]


def _crimp_section(rows: Rows) -> list[str]:
    """The crimp list and the splices."""
    lines = [
        *heading("Crimp list (a stroke parts the two halves of a butt)"),
        *(line for x in rows.crimps for line in _crimp_lines(x)),
    ]
    if rows.splices:
        lines += heading("Splices (place seen from the back, mm)")
        lines += table(
            ("splice", "circuit", ">x", ">y", ">height", "tie point", ">crimp", "fitting", "ends"),
            (
                (
                    x.label,
                    x.circuit,
                    x.x_mm,
                    x.y_mm,
                    x.height_mm,
                    x.tie,
                    x.crimp,
                    x.fitting,
                    x.wires,
                )
                for x in rows.splices
            ),
        )
    return lines


def _stack_section(rows: Rows) -> list[str]:
    """The stacks as columns."""
    return [
        *heading("Stacks (number 1 lies at the base; o'clock as seen from the back)"),
        *_none(stack_columns(rows), "No stud carries a lug."),
    ]


def _step_line(step: StepRow) -> list[str]:
    """One step with its box."""
    return wrapped(step.text, first=f"[ ] {step.number:>3}  ")


def _step_section(rows: Rows, stage: str) -> list[str]:
    """The steps of one stage, in working order."""
    lines = [line for step in rows.steps if step.stage == stage for line in _step_line(step)]
    return [*heading(_STAGE_TITLES[stage]), *_none(lines, "Nothing to do.")]


def _cap_section(rows: Rows) -> list[str]:
    """Pigtails to cap off, live ones first."""
    lines = [
        line
        for x in rows.caps
        for line in wrapped(
            f"{x.pigtail}, {x.colour}: {x.live.upper() if x.live == 'live' else x.live}; {x.cap}",
            first="[ ] ",
        )
    ]
    return [*heading("Cap off, live ones first"), *_none(lines, "No pigtail is left over.")]


def _loose_section(rows: Rows) -> list[str]:
    """Nuts that stay loose until the panel is in the boat."""
    lines = [
        line
        for x in rows.loose_nuts
        for line in wrapped(
            f"{x.post} ({x.thread}, {x.driver}): {x.on_at_bench} on at the bench; "
            f"aboard comes {x.comes_aboard}",
            first="[ ] ",
        )
    ]
    return [*heading("Leave these nuts loose at the bench"), *_none(lines, "None.")]


def _buy_section(rows: Rows) -> list[str]:
    """Buy list, fuses and ties."""
    lines = [
        *heading("Buy list"),
        *table(
            ("item", ">need", "unit", ">pack", ">packs", ">cost"),
            ((x.item, x.need, x.unit, x.pack, x.packs, x.cost) for x in rows.buy),
        ),
    ]
    if rows.fuses:
        lines += [*heading("Fuses"), *(y for x in rows.fuses for y in wrapped(x.fuse, first="- "))]
    if rows.ties:
        lines += heading("Ties")
        lines += (y for x in rows.ties for y in wrapped(f"{x.where}: {x.count}", first="- "))
    return lines


def _drop_section(rows: Rows) -> list[str]:
    """Drops with their margins, worst first."""
    drops = table(
        ("load", ">A", ">feed mV", ">ground mV", ">drop mV", ">limit mV", ">left mV"),
        (
            (x.load, x.current_a, x.feed_mv, x.ground_mv, x.drop_mv, x.limit_mv, x.margin_mv)
            for x in rows.drops
        ),
    )
    return [*heading("Drop to each load, worst first"), *drops]


def _total_section(plan: Plan, rows: Rows) -> list[str]:
    """Totals, and how equal plans are told apart."""
    return [
        *heading("Totals"),
        *table(("total", ">value", "unit"), ((x.total, x.value, x.unit) for x in rows.totals)),
        *wrapped(f"Equal plans are told apart by this rule: {plan.proof.tie_rule}."),
        *wrapped(f"Made with {plan.made_with}."),
    ]


def _limit_section(rows: Rows) -> list[str]:
    """Limits that are not the built-in practice's own."""
    changed = [x for x in rows.limits if x.differs]
    if not changed:
        return [
            *heading("Limits that differ from built-in practice"),
            "None: every limit is the built-in practice's own.",
        ]
    return [
        *heading("Limits that differ from built-in practice"),
        *table(
            ("limit", "value", "from", "source"),
            ((x.name, x.value, x.origin, x.source) for x in changed),
        ),
    ]
