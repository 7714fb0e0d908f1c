"""Fuses: which one stands before a wire, and the largest that the smallest conductor allows.

A fuse protects every conductor behind it, so the smallest of them decides: each is asked in turn.
"""

from __future__ import annotations

from lugwright.limits.schema import Limits
from lugwright.scenario.console import Circuit, Console, Pigtail


def feeding_pigtail(console: Console, circuit: Circuit) -> Pigtail | None:
    """The pigtail whose fuse stands before a circuit: its own, or that of what it is taken from."""
    seen = set()
    while circuit.pigtail is None and circuit.taken_from and circuit.name not in seen:
        seen.add(circuit.name)
        circuit = console.circuit(circuit.taken_from)
    return circuit.pigtail


def fuse_allowed_ma(ampacity_ma: int, limits: Limits, fused: str) -> int:
    """The largest fuse over a conductor of that table ampacity, in mA.

    ``fused`` is the circuit whose pigtail the fuse is in, "" for a fuse elsewhere. Rule R16.
    """
    return ampacity_ma * limits.at("fuse_permille", fused) // 1000


def fuse_before(own_ma: int, pigtail: Pigtail | None) -> tuple[int, str]:
    """The fuse before a wire: its own, mA, else the pigtail's with its circuit (0: none)."""
    if own_ma or pigtail is None:
        return own_ma, ""
    return pigtail.fuse_ma, pigtail.circuit
