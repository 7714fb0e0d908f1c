"""Leads with a length: where their free ends may be brought. Rule R36.

What the specification says: the file gives the exit and the length; the free end is chosen among
the candidates of splice points; the path from the exit is at most the length less one
re-termination, without slack; from then on it is a joint at a lead. What it leaves open is read
here so:

- The candidates are those of the lead's own circuit, also where the limits allow no splices: what
  hangs there is no splice. The exit itself is none of them, unless one lies there.
- The lead runs from its exit as any wire does, over the tie points where there are any. It is then
  one more conductor on each loom leg it runs along, and is judged there as off the loom.
- A lead that nothing is joined to needs no end. With nothing in reach, one that must be joined
  makes the plan impossible.
- A candidate may be taken by several leads, and by a splice besides: each is a joint of its own,
  never one joint together; the jumper between two at one place has no path, and the least length.
- A jumper from a splice to it has the path that one to a post must have.
- What the lead's own wire loses is its instrument's, and counted as little as with a stated end.
- A pigtail or a sender's wire that lands on it is judged by its reach up to the chosen end.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product

from brute.setting import Setting
from lugwright.scenario.console import Circuit

Tips = Mapping[str, str]
"""The candidate each lead with a length is brought to; "": none, and nothing is joined to it."""


def in_reach(setting: Setting, lead: str) -> tuple[str, ...]:
    """The candidates that a lead's free end reaches."""
    circuit = setting.posts[lead].circuit
    most = setting.lengths[lead] - setting.limits.re_termination_dmm
    points = setting.routes.splice_points(circuit)
    return tuple(p.id for p in points if setting.routes.between(lead, p.id).path_dmm <= most)


def tips(setting: Setting, circuit: Circuit) -> Iterator[Tips]:
    """Every choice of free ends for the leads of a circuit."""
    leads = [post for post in circuit.posts if post in setting.lengths]
    for chosen in product(*(("", *in_reach(setting, lead)) for lead in leads)):
        yield dict(zip(leads, chosen, strict=True))
