"""Thin supplied wires and rings of several wires against trying everything.

The consoles are those of the random sample, with wires that are not cut here made thin, limited
or fused as their maker allows, and more wires put into ready-made rings.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from brute.case import Case
from brute.random_consoles import random_case
from model.test_against_enumeration import cost_of, judge, planned
from support.seeds import MANY_WAYS, seeds

from lugwright.scenario.console import Circuit, Console, Exemption, GivenWire, Pigtail

SAMPLE = range(36)
WIDE = range(36, 300)
REASONS: tuple[Exemption, ...] = ("electronics under 1 A", "inside a housing", "pigtail under 7 in")


def thin_case(seed: int) -> Case:
    """A random console with thin and limited wires, and rings of up to three wires."""
    case, rng = random_case(seed), random.Random(f"thin {seed}")
    return replace(case, console=_thinned(rng, case.console))


def _wire(rng: random.Random, wire: GivenWire) -> GivenWire:
    """One wire: as it was, limited, fused as its maker says, or of 22 AWG."""
    limit, fuse = rng.choice((300, 900, 1500, 6000)), rng.choice((0, 0, 1000, 5000, 20_000))
    kind = rng.randrange(4)
    if kind == 0:
        return wire
    if kind == 1:
        return replace(wire, carries_ma=limit, fuse_up_to_ma=fuse)
    return replace(
        wire,
        ampacity_size="22 AWG",
        carries_ma=limit,
        fuse_up_to_ma=fuse or 30_000,
        exempt=rng.choice(REASONS),
    )


def _pigtail(rng: random.Random, circuit: Circuit) -> Circuit:
    pigtail = circuit.pigtail
    if not isinstance(pigtail, Pigtail):
        return circuit
    ring = pigtail.ring
    if ring is not None:
        ring = replace(ring, wires=rng.randint(1, 3))
    wire = _wire(rng, pigtail.wire) if rng.random() < 0.2 else pigtail.wire
    return replace(circuit, pigtail=replace(pigtail, wire=wire, ring=ring))


def _thinned(rng: random.Random, console: Console) -> Console:
    posts = tuple(
        replace(post, lead=_wire(rng, post.lead)) if post.lead else post for post in console.posts
    )
    blocks = tuple(
        replace(
            block,
            wires=tuple(
                replace(
                    wire,
                    wire=_wire(rng, wire.wire),
                    ring=replace(wire.ring, wires=rng.randint(1, 3)) if wire.ring else None,
                )
                for wire in block.wires
            ),
        )
        for block in console.boat_blocks
    )
    circuits = tuple(_pigtail(rng, circuit) for circuit in console.circuits)
    return replace(console, posts=posts, boat_blocks=blocks, circuits=circuits)


@pytest.mark.parametrize("seed", seeds(SAMPLE, {*MANY_WAYS, *SAMPLE[1::2]}))
def test_a_sample_of_consoles_with_thin_wires(seed: int) -> None:
    """Equal cost, or both say impossible; and the plan passes the checker."""
    judge(thin_case(seed))


@pytest.mark.slow
@pytest.mark.parametrize("seed", WIDE)
def test_the_wide_sweep_with_thin_wires(seed: int) -> None:
    """Several times as many as in the default run."""
    judge(thin_case(seed))


@pytest.mark.slow
def test_thin_wires_are_felt_and_planned() -> None:
    """They change the answer in a tenth of the sample, and leave a plan in another tenth."""
    felt = left = 0
    for seed in SAMPLE:
        case, cost = thin_case(seed), cost_of(planned(thin_case(seed)))
        felt += cost != cost_of(planned(random_case(seed)))
        left += cost is not None and case.console != random_case(seed).console
    assert felt * 10 >= len(SAMPLE)
    assert left * 10 >= len(SAMPLE)
