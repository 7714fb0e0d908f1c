"""Room on a stud: places, thread, and all round, over every group that lands on it."""

from __future__ import annotations

from collections import defaultdict

from lugwright.base.identity import JointId
from lugwright.model.formulation.ask import GroupKey
from lugwright.model.formulation.variables import Linear, Pick, Variables, total
from lugwright.problem.schema import BoatGroup, Stud
from lugwright.trade.studs import FULL_TURN_DEG, counts_conductors, lugs_round


def posed(v: Variables, boat_block: BoatGroup) -> bool:
    """Whether the post of a block of boat wires belongs to what is asked."""
    owner = v.problem.console.post(boat_block.post).circuit
    if owner in {circuit.name for circuit in v.problem.circuits}:
        return owner in v.ask.circuits
    return v.ask.rest


def add_room(v: Variables, post: JointId) -> None:
    """Places, thread and room round one post, over all groups that land on it. Rule R23."""
    groups = {key: picks for key, picks in v.picks.items() if key[0] == post}
    kind = v.problem.post_kind.get(post, "splice")
    if kind == "splice":
        return
    if kind != "stud":
        taken = [use for picks in groups.values() for option, use in picks if option.picks]
        v.model.add_at_most_one(taken)
        return
    stud = v.problem.studs[post]
    ready = _ready(v, post)
    lugs = total(o.lugs * use for picks in groups.values() for o, use in picks)
    lugs = lugs + total(number * use for number, _, _, _, use in ready)
    tongues = total(o.tongue_dmm * use for picks in groups.values() for o, use in picks)
    tongues = tongues + total(tongue * use for _, _, tongue, _, use in ready)
    if stud.thread_dmm < 0:
        v.model.add(lugs == 0)
    v.model.add(tongues <= max(0, stud.thread_dmm))
    counted = lugs
    if counts_conductors(v.problem.limits):
        counted = total(o.ends * use for picks in groups.values() for o, use in picks)
        counted = counted + total(wires * use for _, wires, _, _, use in ready)
    v.model.add(counted <= max(0, stud.places - stud.reserved))
    _round_about(v, stud, lugs, groups, ready)
    _stacked(v, post, lugs)


Ready = tuple[int, int, int, int, Linear]
"""Ready-made rings: how many, the wires in them, their tongues, widest angle, whether there."""


def _ready(v: Variables, post: str) -> list[Ready]:
    """Ready-made rings on a post: (number, wires, tongues, widest, whether)."""
    found: list[Ready] = []
    for circuit in v.circuits:
        supply = circuit.supply
        if supply and not supply.end_type:
            for source in v.sources_at[circuit.name, post]:
                if source.extension is None:
                    row = (supply.ready_wires, supply.ready_tongue_dmm, supply.ready_angle_deg)
                    found.append((1, *row, source.use))
    for boat_block in v.problem.boat_groups:
        if boat_block.post == post and boat_block.ready_lugs and posed(v, boat_block):
            tongues_dmm, widest_deg = boat_block.ready_tongue_dmm, boat_block.ready_angle_deg
            rings = (boat_block.ready_lugs, boat_block.ready_wires)
            found.append((*rings, tongues_dmm, widest_deg, 1))
    return found


def _round_about(
    v: Variables,
    stud: Stud,
    lugs: Linear,
    groups: dict[GroupKey, list[Pick]],
    ready: list[Ready],
) -> None:
    """Lugs times the widest barrel is at most a full turn."""
    most = stud.places
    widths: dict[int, list[Linear]] = defaultdict(list)
    for picks in groups.values():
        for option, use in picks:
            if option.lugs:
                widths[option.angle_deg].append(use)
    for _, _, _, angle, there in ready:
        widths[angle].append(there)
    for angle, uses in sorted(widths.items()):
        room = lugs_round(angle, most)
        if room < most:
            for chosen in uses:
                # chosen = 1: lugs + reserved <= room
                v.model.add(lugs + stud.reserved <= room + most * (1 - chosen))
    if stud.reserved and stud.reserved_angle_deg:
        room = lugs_round(stud.reserved_angle_deg, FULL_TURN_DEG)
        v.model.add(lugs <= max(0, room - stud.reserved))


def _stacked(v: Variables, post: str, lugs: Linear) -> None:
    """Lugs but the first, and the tallest stack. Rule R25."""
    stacked = v.model.new_int_var(0, 100, f"{post} stacked lugs")
    v.model.add(stacked >= lugs - 1)
    v.stacked.append(stacked)
    v.lugs[post] = lugs
    if v.tallest is not None:
        v.model.add(v.tallest >= lugs)
