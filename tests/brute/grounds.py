"""Two ground pigtails of one circuit, each of its own harness, the negatives joined aboard.

What the specification says: one circuit, one tree, a landing post for each pigtail on the hub of
its own harness; every figure with each pigtail alone carrying everything, and the worse counts.
What it leaves open is read here so:

- A state is what is on together, with one of the pigtails alone: so currents in the tree may run
  the one way or the other, and each load's drop, the ground shift, each wire, lug, post and strap
  is judged both ways. The other pigtail then carries nothing.
- The circuit counts for the hub of every harness it has a pigtail of. Both pigtails may land on
  one post, where both hubs are one instrument.
- Bare pigtails of the bench may share a barrel there, with one another as with jumpers; one that
  comes aboard is an arrival of its own and shares with none.
- Both run in bundles and are counted there, whatever they carry. Each has its own reach, extension
  (of a size as the circuit's jumpers have it), ring, and run behind it.
"""

from __future__ import annotations

from lugwright.scenario.console import Console, Pigtail


def checked(console: Console, joined: tuple[Pigtail, ...]) -> tuple[Pigtail, ...]:
    """The further pigtails. Raises ValueError where they are not grounds of different harnesses.

    And where they are of several circuits, which nothing here is asked to know.
    """
    if not joined:
        return ()
    if len({each.circuit for each in joined}) > 1:
        raise ValueError("grounds of several circuits are joined aboard")
    circuit = console.circuit(joined[0].circuit)
    if circuit.side != "ground" or circuit.pigtail is None:
        raise ValueError(f"{circuit.name} is no ground with a pigtail: two feeds never meet")
    harnesses = [circuit.harness, *(each.harness for each in joined)]
    if len(set(harnesses)) < len(harnesses):
        raise ValueError(f"a harness has one pigtail of {circuit.name}, a second is capped off")
    return joined
