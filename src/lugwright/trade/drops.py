"""Voltage drop: what a load may have, and the resistance of wire that drops it."""

from __future__ import annotations

from lugwright.electrics.resistance import nohm_per_mm, wire_uohm
from lugwright.limits.schema import Limits
from lugwright.scenario.console import BoatWire, Circuit, Console, Pigtail


def drop_limit_nv(console: Console, limits: Limits, drop_class: str, load: str) -> int:
    """The drop a load of that class may have, nV: the share of nominal volts, thousandths.

    Rule R14.
    """
    return console.nominal_mv * limits.at(f"drop_{drop_class}_permille", load) * 1000


def wire_rate_nohm_per_mm(area_um2: int, limits: Limits) -> int:
    """Resistance of wire of that strand area at the limits' temperature, nΩ/mm. Rule R13."""
    return nohm_per_mm(area_um2, limits.conductor_temp_c, limits.stranding_permille)


def length_uohm(area_um2: int, length_dmm: int, limits: Limits) -> int:
    """Resistance of a length of that wire, µΩ, rounded up. Rule R13."""
    return wire_uohm(wire_rate_nohm_per_mm(area_um2, limits), length_dmm)


def supply_uohm(pigtail: Pigtail, limits: Limits) -> int:
    """Resistance from the source to a pigtail's landing, µΩ: its run, its whole reach, its crimp.

    Of a sender's wire only the run that is stated counts, beside the crimp. Rule R14.
    """
    length_dmm = pigtail.reach_dmm if pigtail.own_run_dmm is None else pigtail.own_run_dmm
    uohm = length_uohm(pigtail.wire.area_um2, length_dmm, limits) + limits.crimp_uohm
    if pigtail.to_source:
        run = pigtail.to_source
        uohm += length_uohm(run.wire.area_um2, run.one_way_dmm, limits)
    return uohm


def ground_of_sender(console: Console, circuit: Circuit) -> BoatWire | None:
    """The ground wire of its own by which a sender's current comes back to the panel.

    None where it has none. Rule R34.
    """
    if circuit.pigtail is None or not circuit.returns_to:
        return None
    for block in console.boat_blocks:
        if block.is_sender and circuit.pigtail.label.startswith(f"{block.name}: "):
            return next((w for w in block.wires if w.lands_on == circuit.returns_to), None)
    return None


def sender_ground_uohm(wire: BoatWire, limits: Limits) -> int:
    """Resistance of a sender's ground wire, µΩ: its crimp, and its run where that is stated.

    An extension comes to that. Rules R13, R34.
    """
    return length_uohm(wire.wire.area_um2, wire.one_way_dmm, limits) + limits.crimp_uohm
