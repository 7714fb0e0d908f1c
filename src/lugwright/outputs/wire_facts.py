"""What is written beside a wire wherever it is drawn or labelled: size, colour, where it goes."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.outputs.words import colour_text
from lugwright.plans.schema import Given, Jumper, Plan, Stage
from lugwright.trade.names import lead_wire


@dataclass(frozen=True)
class WireFacts:
    """One wire of a plan. ``wire`` is its name as in ``EndRef.wire``.

    ``from_joint`` is where its end a sits, ``to_joint`` end b; a wire that is not cut here
    has only its panel end, ``from_joint``. ``length_dmm`` 0: it comes as it is.
    """

    wire: str
    circuit: str
    wire_size: str
    colour: str
    colour_code: str
    stage: Stage
    from_joint: str
    to_joint: str = ""
    length_dmm: int = 0

    @property
    def size_and_colour(self) -> str:
        """``16 AWG dark blue (DBU)``; what is not stated is said so."""
        colour = colour_text(self.colour, self.colour_code) or "colour not stated"
        return f"{self.wire_size or 'size not stated'} {colour}"


def wire_facts(plan: Plan) -> dict[str, WireFacts]:
    """Every wire of a plan by name: what is cut, what comes as it is, leads of instruments."""
    leads = (
        WireFacts(
            lead_wire(post.id), post.circuit, post.lead_size, post.lead_colour,
            post.lead_colour_code, "bench", post.id,
        )
        for post in plan.panel.posts
        if post.kind == "lead"
    )  # fmt: skip
    found = (*map(_of_jumper, plan.jumpers), *map(_of_given, plan.given), *leads)
    return {facts.wire: facts for facts in found}


def _of_jumper(piece: Jumper) -> WireFacts:
    """A wire that is cut here."""
    return WireFacts(
        piece.label, piece.circuit, piece.wire_size, piece.colour, piece.colour_code,
        piece.stage, piece.from_joint, piece.to_joint, piece.length_dmm,
    )  # fmt: skip


def _of_given(given: Given) -> WireFacts:
    """A pigtail or a boat wire."""
    return WireFacts(
        given.wire, given.circuit, given.wire_size, given.colour, given.colour_code,
        given.stage, given.joint,
    )  # fmt: skip
