"""Every wire of a plan as the job sheet shows it: patch of colour, code, size, what it does."""

from __future__ import annotations

from dataclasses import dataclass, replace

from lugwright.base.scale import mm_text
from lugwright.outputs.drawing.paint import paint_of
from lugwright.outputs.wire_facts import WireFacts, wire_facts
from lugwright.outputs.words import cut_labels
from lugwright.plans.schema import Crimp, EndRef, Plan


@dataclass(frozen=True)
class Wire:
    """A wire by name. ``fill`` and ``stripe`` are ``#rrggbb``; ``about`` is one sentence."""

    name: str
    colour: str
    code: str
    size: str
    fill: str
    stripe: str
    about: str


@dataclass(frozen=True)
class WireEnd:
    """One end of a wire in a barrel or on a post.

    ``end`` is a or b, "" for a wire that is not cut; ``bare_mm`` its strip, "" where the words of
    the step tell it.
    """

    wire: Wire
    end: str
    bare_mm: str


class Wires:
    """Looks up wires and their ends."""

    def __init__(self, plan: Plan) -> None:
        self._cut = cut_labels(plan)
        self._wires = {name: _wire(facts) for name, facts in wire_facts(plan).items()}
        self._bare = {
            (piece.label, end): mm_text(strip)
            for piece in plan.jumpers
            for end, strip in (("a", piece.strip_a_dmm), ("b", piece.strip_b_dmm))
        }
        self._bare |= {
            (given.wire, "a"): mm_text(given.strip_dmm)
            for given in plan.given
            if not given.ready_ring
        }

    def named(self, name: str) -> Wire:
        """The wire of that name; a name the plan tells nothing about stands alone."""
        return self._wires.get(name) or Wire(name, "", "", "", "", "", name)

    def end(self, ref: EndRef) -> WireEnd:
        """One end, with its strip where the plan has it."""
        shown = ref.end if ref.wire in self._cut else ""
        return WireEnd(self.named(ref.wire), shown, self._bare.get((ref.wire, ref.end), ""))

    def crimped(self, crimp: Crimp) -> tuple[tuple[WireEnd, ...], ...]:
        """The ends in each barrel of a fitting that is made: how far they were bared is past."""
        return tuple(
            tuple(replace(end, bare_mm="") for end in barrel) for barrel in self.barrels(crimp)
        )

    def barrels(self, crimp: Crimp) -> tuple[tuple[WireEnd, ...], ...]:
        """The ends in each barrel of a fitting."""
        return tuple(tuple(map(self.end, barrel)) for barrel in crimp.barrels)


def _wire(facts: WireFacts) -> Wire:
    paint = paint_of(facts.colour)
    return Wire(
        name=facts.wire,
        colour=facts.colour,
        code=facts.colour_code,
        size=facts.wire_size,
        fill=paint.fill,
        stripe=paint.stripe,
        about=_about(facts),
    )


def _about(facts: WireFacts) -> str:
    """``ground 3: 16 AWG black (BK), 155 mm, from volts.ground to depth.ground``."""
    length = f", {mm_text(facts.length_dmm)} mm" if facts.length_dmm else ""
    way = f"from {facts.from_joint} to {facts.to_joint}" if facts.to_joint else facts.from_joint
    return f"{facts.wire}: {facts.size_and_colour}{length}, {way}"
