"""The steps in working order, each with a sentence of its own."""

from __future__ import annotations

from lugwright.base.scale import mm_text
from lugwright.outputs.rows_bench import StepRow
from lugwright.outputs.words import barrels_text, colour_text, cut_labels
from lugwright.plans.schema import Plan, Step
from lugwright.trade.names import is_ready, ready_words, wire_of_ready

STAGES = ("bench", "aboard", "key-on")
_PLAIN_WORDS = {
    "lift": "Lift off {target} what waited there: {parts}.",
    "washer": "Put the lock washer on {target}.",
    "nut loose": "Put the nut on {target} and leave it loose: something comes aboard.",
    "nut off": "Take the loose nut and washer off {target}.",
    "nut snug": "Run the nut down on {target}.",
    "boot": "Put the boot on {target}.",
    "tie": "Tie the wires at {target} (ties: {parts}).",
    "test": "Test {target}: {parts}.",
    "cap": "Cap pigtail {target} by itself with {parts}; tie it back and leave it long.",
    "push on": "Push crimp {parts} on {target}.",
}


def step_rows(plan: Plan) -> tuple[StepRow, ...]:
    """Every step, stage after stage, each stage in the plan's order."""
    words = _Words(plan)
    in_order = sorted(plan.steps, key=lambda step: STAGES.index(step.stage))
    return tuple(
        StepRow(
            number=step.number,
            stage=step.stage,
            verb=step.verb,
            target=step.target,
            parts=", ".join(step.parts),
            text=step.text or words.sentence(step),
        )
        for step in in_order
    )


class _Words:
    """Sentences for steps that bring none of their own."""

    def __init__(self, plan: Plan) -> None:
        cut = cut_labels(plan)
        self._pieces: dict[str, str] = {
            piece.label: (
                f"{piece.wire_size} {colour_text(piece.colour, piece.colour_code)}, "
                f"{mm_text(piece.length_dmm)} mm; strip a {mm_text(piece.strip_a_dmm)} mm, "
                f"b {mm_text(piece.strip_b_dmm)} mm"
            )
            for piece in plan.jumpers
        }
        self._crimps = {
            str(crimp.number): f"{crimp.item}, die {crimp.die}: {barrels_text(crimp.barrels, cut)}"
            + (", folded back" if crimp.folded else "")
            for crimp in plan.crimps
        }

    def sentence(self, step: Step) -> str:
        """The sentence of one step."""
        parts = ", ".join(step.parts)
        if step.verb == "cut":
            return f"Cut {step.target}: {self._pieces.get(step.target, parts)}."
        if step.verb == "crimp":
            return f"Crimp {step.target}: {self._crimps.get(step.target, parts)}."
        if step.verb == "land":
            return f"Put {self._lug(parts)} on {step.target}."
        if step.verb == "wait":
            return f"Label {self._lug(parts)} and put it on {step.target} to wait, loose."
        plain = _PLAIN_WORDS.get(step.verb)
        if plain is None:
            return f"{step.verb} {step.target} {parts}".strip() + "."
        return plain.format(target=step.target, parts=parts)

    @staticmethod
    def _lug(part: str) -> str:
        """A lug as a step names it: a crimp's number, or ``ready WIRE``."""
        if is_ready(part):
            return f"the {ready_words(wire_of_ready(part))}"
        return f"crimp {part}"
