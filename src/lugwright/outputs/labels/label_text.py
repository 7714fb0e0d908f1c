"""What stands on the labels of a plan's wires, one row for each wire end at the panel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lugwright.base.scale import mm_text
from lugwright.outputs.words import colour_text
from lugwright.plans.schema import Cap, Given, Jumper, Plan
from lugwright.trade.names import end_label, is_pigtail, pigtail_wire

STOP = "STOP"


@dataclass(frozen=True)
class WireLabel:
    """One label. ``end`` is a or b on a piece that is cut here, else empty.

    ``here`` is the joint of this end, ``from_joint`` and ``to_joint`` those of the wire; what is
    not at the panel is empty. ``code`` is what the QR code of the wire says. ``note`` tells what
    is done with a wire that is not used.
    """

    wire: str
    end: str
    circuit: str
    colour: str
    colour_code: str
    wire_size: str
    length_mm: str
    here: str
    from_joint: str
    to_joint: str
    stage: str
    note: str
    code: str

    @property
    def name(self) -> tuple[str, str]:
        """Its name in two parts; the second must never be lost: `` 3-a``, ``: pink``."""
        if self.end and not is_pigtail(self.wire):
            whole = end_label(self.wire, self.end)
            first = self.circuit if self.wire.startswith(f"{self.circuit} ") else self.wire
            return first, whole.removeprefix(first)
        boat_block, colon, colour = self.wire.rpartition(": ")
        return (boat_block, colon + colour) if colon else (self.wire, "")

    @property
    def details(self) -> str:
        """Size, colour and cut length."""
        length = f"{self.length_mm} mm" if self.length_mm else ""
        words = (self.wire_size, colour_text(self.colour, self.colour_code), length)
        return " ".join(word for word in words if word)


def wire_labels(plan: Plan, digest: str) -> tuple[WireLabel, ...]:
    """Two labels for each piece that is cut, in the order of the cut list, one for each given wire.

    Pigtails that are capped off come last: they stay in the boat and somebody will ask. ``digest``
    is the plan's. Wires of a stop circuit say so at both ends.
    """
    stops = frozenset(one.name for one in plan.panel.circuits if one.side == "stop")
    return (
        *(label for piece in plan.jumpers for label in _of_jumper(piece, digest, stops)),
        *(label for given in plan.given for label in _of_given(given, digest, stops)),
        *_of_caps(plan, digest),
    )


def code_text(wire: str, digest: str) -> str:
    """What a QR code says: the wire's name, and the plan it belongs to."""
    return f"{wire} #{digest}"


def _of_jumper(piece: Jumper, digest: str, stops: frozenset[str]) -> Iterator[WireLabel]:
    """Both ends of a piece that is cut here."""
    for end, here in (("a", piece.from_joint), ("b", piece.to_joint)):
        yield WireLabel(
            piece.label, end, piece.circuit, piece.colour, piece.colour_code, piece.wire_size,
            mm_text(piece.length_dmm), here, piece.from_joint, piece.to_joint, piece.stage,
            f"{STOP}: {here}" if piece.circuit in stops else "", code_text(piece.label, digest),
        )  # fmt: skip


def _of_given(given: Given, digest: str, stops: frozenset[str]) -> Iterator[WireLabel]:
    """The panel end of a pigtail or a boat wire; of a stop wire the engine's end too."""
    stop = given.circuit in stops
    ends = [("", given.joint), ("b", "at the engine")] if stop else [("", given.joint)]
    for end, here in ends:
        yield WireLabel(
            given.wire, end, given.circuit, given.colour, given.colour_code, given.wire_size, "",
            given.joint, "", given.joint, given.stage, f"{STOP}: {here}" if stop else "",
            code_text(given.wire, digest),
        )  # fmt: skip


def _of_caps(plan: Plan, digest: str) -> Iterator[WireLabel]:
    """Pigtails that are not used."""
    sizes = {entry.wire: entry.wire_size for entry in plan.panel.entries}
    for cap in plan.caps:
        wire = pigtail_wire(cap.pigtail)
        yield WireLabel(
            wire, "", "", cap.colour, cap.colour_code, sizes.get(wire, ""), "", "", "", "",
            "bench", _cap_note(cap), code_text(wire, digest),
        )  # fmt: skip


def _cap_note(cap: Cap) -> str:
    """That it is not used, and whether it is live."""
    return "LIVE, capped off" if cap.live else "not used, capped off"
