"""Numbers, colours, wire ends and verdicts as a person reads them."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from lugwright.base.scale import ceil_div, mm_text, money_text
from lugwright.trade.names import end_label

if TYPE_CHECKING:  # help pages and tables of limits use this module, and know no plan
    from lugwright.plans.panel import PanelPost
    from lugwright.plans.schema import EndRef, Landing, Plan, Proof, WaiverUsed

NV_PER_TENTH_MV = 100_000
UM2_PER_THOUSANDTH_MM2 = 1_000
PIGTAIL_NOTE = (
    "Do not cut a pigtail to length: the rest is a service loop, with a drip loop before the post."
)


def one_line(text: str) -> str:
    """The text with control and invisible format characters gone and white space made single.

    Titles and names are the user's; on a terminal a control character can repaint the screen,
    and in a spreadsheet a leading tab hides a formula from the guard against it.
    """
    if text.isprintable():  # nothing of the kind in it, as in nearly every text
        return " ".join(text.split())
    kept = (
        " " if unicodedata.category(char) in ("Cc", "Zl", "Zp") else char
        for char in text
        if unicodedata.category(char) not in ("Cf", "Cs")
    )
    return " ".join("".join(kept).split())


def lines_that_fit(text: str, fits: Callable[[str], bool]) -> list[str]:
    """The text in lines that ``fits`` says are short enough; a word that is too long is broken.

    >>> lines_that_fit("a ring for a stud", lambda line: len(line) <= 7)
    ['a ring', 'for a', 'stud']
    """
    lines, line = list[str](), ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if fits(longer):
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while not fits(line) and len(line) > 1:
            most = next((n for n in range(len(line) - 1, 1, -1) if fits(line[:n])), 1)
            lines.append(line[:most])
            line = line[most:]
    return [*lines, line]


def area_text(area_um2: int) -> str:
    """A strand area in mm² with three places, to nearest (for showing, never for deciding)."""
    thousandths = (area_um2 + UM2_PER_THOUSANDTH_MM2 // 2) // UM2_PER_THOUSANDTH_MM2
    return f"{thousandths / 1000:.3f}"


def area_margin_text(margin_um2: int) -> str:
    """A margin of area in mm² with three places, rounded down."""
    return f"{margin_um2 // UM2_PER_THOUSANDTH_MM2 / 1000:.3f}"


def drop_text(drop_nv: int) -> str:
    """A voltage drop in mV with one place, rounded up."""
    return f"{ceil_div(drop_nv, NV_PER_TENTH_MV) / 10:.1f}"


def drop_margin_text(margin_nv: int) -> str:
    """What is left under a limit, in mV with one place, rounded down."""
    return f"{margin_nv // NV_PER_TENTH_MV / 10:.1f}"


def minutes_text(minutes_cmin: int) -> str:
    """Hundredths of a minute as minutes with two places."""
    return f"{minutes_cmin / 100:.2f}"


def colour_text(colour: str, code: str) -> str:
    """A wire colour written out, with its code behind it."""
    return f"{colour} ({code})" if code else colour


def cut_labels(plan: Plan) -> frozenset[str]:
    """Labels of the wires the plan cuts; every other wire comes as it is."""
    return frozenset(jumper.label for jumper in plan.jumpers)


def end_text(end: EndRef, cut: frozenset[str]) -> str:
    """A wire end in words: ``ground 3-a``. A wire that is not cut has only its panel end."""
    return end_label(end.wire, end.end) if end.wire in cut else end.wire


def barrel_text(barrel: Iterable[EndRef], cut: frozenset[str]) -> str:
    """The wire ends of one barrel."""
    return " + ".join(end_text(end, cut) for end in barrel)


def barrels_text(barrels: Iterable[Iterable[EndRef]], cut: frozenset[str]) -> str:
    """The wire ends of a fitting; a stroke parts the two halves of a butt."""
    return " / ".join(barrel_text(barrel, cut) for barrel in barrels)


def number_ranges(numbers: Iterable[int]) -> str:
    """Numbers in their order, runs told by their ends.

    >>> number_ranges([1, 2, 3, 5, 7, 8])
    '1 to 3, 5, 7 and 8'
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(
        str(a) if a == b else f"{a} and {b}" if b == a + 1 else f"{a} to {b}" for a, b in runs
    )


def currency(plan: Plan) -> str:
    """The currency the plan counts in, or nothing where no limit names it."""
    return next((limit.value for limit in plan.limits if limit.name == "currency"), "")


def level_text(name: str, value: int) -> str:
    """One compared quantity with its value, in the unit a person counts in.

    A level counted in 0.1 mm or in millionths of the currency says so in its name, as a suffix
    of ``base.scale`` or in words behind a comma.
    """
    what, _, unit = name.partition(", ")
    if name.endswith("_dmm") or unit == "0.1 mm":
        return f"{what.removesuffix('_dmm').replace('_', ' ')} {mm_text(value)} mm"
    if name.endswith("_micro") or unit.startswith("millionth"):
        return f"{what.removesuffix('_micro').replace('_', ' ')} {money_text(value)}"
    return f"{name.replace('_', ' ')} {value}"


def levels_text(levels: Sequence[str], values: Sequence[int]) -> str:
    """All compared quantities, the most important first."""
    return ", ".join(level_text(name, value) for name, value in zip(levels, values, strict=False))


def proof_sentence(proof: Proof) -> str:
    """What is known about the plan's cost, in one sentence, never more than was proved."""
    cost = levels_text(proof.levels, proof.cost)
    held = f" Held: {'; '.join(map(one_line, proof.held))}." if proof.held else ""
    if proof.proved:
        plan = "plan that keeps what is held" if held else "plan of this console"
        return f"Proved best: no {plan} costs less.{held}"
    if not proof.bound:
        unknown = "nothing is known of what it could cost"
        return f"Not proved best: this plan costs {cost}; {unknown}.{held}"
    bound = levels_text(proof.levels, proof.bound)
    return (
        f"Not proved best ({proof.objective}): this plan costs {cost}; "
        f"no plan can cost less than {bound}{_gap_text(proof)}.{held}"
    )


def cost_sentence(plan: Plan) -> str:
    """What the compared cost is made of, in one line; the values only where they say it all."""
    proof, totals = plan.proof, plan.totals
    cost = levels_text(proof.levels, proof.cost)
    worth = {limit.name: limit.value for limit in plan.limits}
    if proof.objective != "default" or not {"lug_worth", "fitting_worth"} <= worth.keys():
        return f"Cost ({proof.objective}): {cost}."
    return (
        f"Cost {mm_text(proof.cost[0])} mm: wire {mm_text(totals.wire_dmm)} mm + "
        f"{worth['lug_worth']} for each of {totals.stacked_lugs} stacked lugs + "
        f"{worth['fitting_worth']} for each of {totals.fittings} fittings."
    )


def _gap_text(proof: Proof) -> str:
    """How much the first quantity that differs could still fall, in tenths of a percent, up."""
    for name, cost, bound in zip(proof.levels, proof.cost, proof.bound, strict=False):
        if cost != bound:
            permille = ceil_div((cost - bound) * 1000, cost) if cost > 0 else 0
            share = f" ({permille / 10:.1f} %)" if permille > 0 else ""
            return f", so at most {level_text(name, cost - bound)}{share} could still be saved"
    return ""


def _landing_text(landing: Landing) -> str:
    """Where one circuit's supply lands."""
    longer = f", lengthened by {landing.extension}," if landing.extension else ""
    if landing.way:
        away = landing.post != landing.way
        return f"{landing.circuit} from {landing.way}" + (f" on {landing.post}" if away else "")
    return f"{landing.pigtail}{longer} on {landing.post}"


def hub_sentence(plan: Plan) -> str:
    """Which instrument is the hub, and where each supply lands."""
    landings = "; ".join(_landing_text(landing) for landing in plan.landings)
    return f"Hub: {plan.hub}; {landings}."


def waiver_sentence(waiver: WaiverUsed) -> str:
    """A limit loosened for one place: what, by whom, when and why."""
    return one_line(
        f"Waived: {waiver.limit} at {waiver.place}, {waiver.value}. {waiver.reason} "
        f"({waiver.initials}, {waiver.date}; {waiver.origin})"
    )


# Functions whose circuit has another name, and those that say that a post is fed or grounded.
_USUAL_CIRCUIT = {"lamp": "lamps"}
_NEEDS_A_CIRCUIT = ("ignition", "ground", "lamp", "near", "far")
NO_WIRE = "no wire"


def post_use(post: PanelPost) -> str:
    """What a post is here: its circuit in force, whatever its pattern calls it.

    Its function where that is its circuit, or where it has none (a signal, a switched load).
    """
    if post.circuit and post.circuit != _USUAL_CIRCUIT.get(post.function, post.function):
        return post.circuit
    if not post.circuit and not post.carries and post.function in _NEEDS_A_CIRCUIT:
        return NO_WIRE
    return post.function


def program_text(plan: Plan) -> str:
    """The program and version that made a plan. What it searched with stands in plan.json only."""
    return one_line(plan.made_with.partition(",")[0])
