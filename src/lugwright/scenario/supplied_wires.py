"""Supplied wires as the console has them: pigtails in use, capped ones, boat wires, loads."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from math import ceil, floor

from lugwright.base.identity import JointId, WireId
from lugwright.base.scale import DMM_PER_MM
from lugwright.base.units import to_dmm_up
from lugwright.scenario.console import (
    BoatBlock,
    BoatWire,
    Pigtail,
    Point,
    ReadyRing,
    SupplyRun,
)
from lugwright.scenario.fields import Place
from lugwright.scenario.given_wires import given_wire, supplied_wire
from lugwright.scenario.landings import Landed
from lugwright.scenario.load_pigtails import LoadPigtail
from lugwright.scenario.pattern_schema import RingPart
from lugwright.scenario.pigtail_checks import is_used, label_of
from lugwright.scenario.placing import point, to_back
from lugwright.scenario.schema import BoatWirePart, HarnessPart, PigtailPart, ScenarioPart
from lugwright.scenario.signals import SenderWire

# An unused pigtail whose size is not stated is capped as the usual size (common practice).
UNSTATED_SIZE = "16 AWG"


def rounded_down(length_mm: Fraction) -> int:
    """To 0.1 mm, rounded down: for a length that has to be enough."""
    return floor(length_mm * DMM_PER_MM)


class SuppliedWires:
    """The wires of a scenario without fault that are not cut here."""

    def __init__(self, part: ScenarioPart) -> None:
        self._part = part

    def _point(self, place_front: Place, height_mm: Fraction) -> Point:
        return point(to_back(place_front, self._part.panel.width), height_mm)

    def pigtail(self, part: PigtailPart) -> Pigtail:
        """A pigtail of the harness; its circuit is "" where it is not used."""
        harness = self._harness_of(part)
        return Pigtail(
            label=label_of(part),
            circuit=(part.circuit or "") if is_used(part) else "",
            wire=supplied_wire(part, UNSTATED_SIZE),
            entry=self._point(harness.entry, harness.entry_height),
            reach_dmm=rounded_down(part.reach or Fraction(0)),
            stage=part.stage,
            ring=_ring(part.ring),
            fuse_ma=part.fuse or 0,
            fuse_distance_dmm=to_dmm_up(part.fuse_distance),
            to_source=_run(part),
            cap_off=not is_used(part),
            live=bool(part.live),
            fuse_reason=(part.fuse_reason or "") if is_used(part) else "",
            harness=harness.name,
        )

    def _harness_of(self, part: PigtailPart) -> HarnessPart:
        """The harness that a pigtail is one of."""
        return next(
            one for one in self._part.harness if any(own is part for own in one.pigtails)
        )

    def sender_wire(self, wire: SenderWire) -> Pigtail:
        """The wire by which a signal circuit goes to its sender; only a stated run drops."""
        own_run_dmm = to_dmm_up(wire.part.one_way)
        if isinstance(wire.part, PigtailPart):
            pigtail = self.pigtail(wire.part)
            return replace(pigtail, circuit=wire.circuit, own_run_dmm=own_run_dmm)
        part, entry = wire.part, wire.part.entry
        return Pigtail(
            label=f"{wire.what}: {part.colour}",
            circuit=wire.circuit,
            wire=supplied_wire(part),
            entry=None if entry is None else self._point(entry, part.entry_height),
            reach_dmm=rounded_down(part.reach or Fraction(0)),
            stage="aboard",
            ring=_ring(part.ring),
            fuse_ma=0,
            fuse_distance_dmm=0,
            to_source=None,
            own_run_dmm=own_run_dmm,
            of_boat=True,
        )

    def unused_pigtails(self) -> tuple[Pigtail, ...]:
        """The pigtails that are capped off, by label."""
        unused = (p for one in self._part.harness for p in one.pigtails if not is_used(p))
        return tuple(sorted(map(self.pigtail, unused), key=lambda pigtail: pigtail.label))

    def _boat_block(self, landed: Landed) -> BoatBlock:
        part = landed.part
        by_circuit = landed.is_sender and not landed.drawn_from
        colours = Counter(wire.colour for wire in part.wires)
        wires = [self._boat_wire(part.name, wire, colours[wire.colour]) for wire in part.wires]
        return BoatBlock(
            name=part.name,
            wires=tuple(sorted(wires, key=lambda wire: wire.id)),
            current_ma=landed.current_ma,
            drawn_from=JointId(landed.drawn_from),
            returns_to=JointId("" if by_circuit else landed.returns_to),
            drop_class=part.drop_class,
            is_sender=landed.is_sender,
            load_kind=part.load_kind or "resistive",
            duty=part.duty,
            maker_fuse_ma=part.maker_fuse or 0,
        )

    def boat_blocks(self, landed: list[Landed], fed: list[LoadPigtail]) -> tuple[BoatBlock, ...]:
        """What is served in the boat, by boat wires and by loads' pigtails, by name."""
        blocks = [self._boat_block(each) for each in landed if each.part.wires]
        blocks += [self._load_pigtail(load) for load in fed]
        return tuple(sorted(blocks, key=lambda block: block.name))

    def _load_pigtail(self, load: LoadPigtail) -> BoatBlock:
        """A load at the end of a pigtail: a block of one wire, named by the pigtail's label."""
        part, pigtail = load.part, self.pigtail(load.part)
        wire = BoatWire(
            id=WireId(load.wire_id),
            boat_block=pigtail.label,
            lands_on=JointId(load.post),
            wire=pigtail.wire,
            ring=pigtail.ring,
            entry=pigtail.entry,
            reach_dmm=pigtail.reach_dmm,
            one_way_dmm=to_dmm_up(part.one_way),
            fuse_ma=part.fuse or 0,
            stage=part.stage,
        )
        return BoatBlock(
            name=pigtail.label,
            wires=(wire,),
            current_ma=load.current_ma,
            drawn_from=JointId(load.post),
            returns_to=JointId(load.returns_to),
            drop_class=part.drop_class,
            is_sender=False,
            load_kind=part.load_kind or "resistive",
            duty=part.duty,
            maker_fuse_ma=part.maker_fuse or 0,
        )

    def _boat_wire(self, name: str, wire: BoatWirePart, alike: int) -> BoatWire:
        label = wire.colour if alike == 1 else f"{wire.colour} to {wire.lands_on}"
        entry = wire.entry
        return BoatWire(
            id=WireId(f"{name}: {label}"),
            boat_block=name,
            lands_on=JointId(wire.lands_on),
            wire=supplied_wire(wire),
            ring=_ring(wire.ring),
            entry=None if entry is None else self._point(entry, wire.entry_height),
            reach_dmm=rounded_down(wire.reach or Fraction(0)),
            one_way_dmm=to_dmm_up(wire.one_way),
            fuse_ma=wire.fuse or 0,
        )


def _ring(part: RingPart | None) -> ReadyRing | None:
    if part is None:
        return None
    return ReadyRing(part.thread, to_dmm_up(part.tongue), ceil(part.angle), part.wires)


def _run(part: PigtailPart) -> SupplyRun | None:
    run = part.to_source
    if run is None:
        return None
    colour = run.colour or part.colour
    wire = given_wire(run.wire_size, colour, run.size_standard, run.insulation)
    return SupplyRun(to_dmm_up(run.one_way), wire, run.conductors)
