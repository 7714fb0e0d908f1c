"""A case with one rule taken away and everything else as it was.

A rule *binds* in a case when the least cost, or whether there is a plan at all, changes.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from brute.case import Case
from lugwright.electrics.ampacity import table_ma
from lugwright.scenario.console import Circuit, Console, GivenWire, Post
from lugwright.stock.schema import Barrel, FittingType, Spool

RULES = ("thread", "barrel", "lugs", "drop", "ampacity", "fuse", "reach", "minimum length")
AMPLE = 10**6
LARGEST = "4/0 AWG"


def loosened(case: Case, rule: str) -> Case:
    """The case without that rule. Raises ValueError for a rule that is not in ``RULES``."""
    limits = case.limits
    if rule == "thread":
        posts = tuple(_with_thread(post) for post in case.console.posts)
        return replace(case, console=replace(case.console, posts=posts))
    if rule == "barrel":
        fittings = tuple(_with_barrels(fitting) for fitting in case.stock.fittings)
        limits = replace(limits, wires_per_barrel=99, size_ratio_permille=AMPLE)
        return replace(case, limits=limits, stock=replace(case.stock, fittings=fittings))
    if rule == "lugs":
        return replace(case, limits=replace(limits, lugs_per_stud=99))
    if rule == "drop":
        wide: dict[str, Any] = {"drop_critical_permille": 900, "drop_other_permille": 900}
        return replace(case, limits=replace(limits, **wide))
    if rule == "ampacity":
        return _without_ampacity(case)
    if rule == "fuse":
        free: dict[str, Any] = {
            "fuse_permille": AMPLE,
            "load_permille": AMPLE,
            "fuse_distance_dmm": AMPLE,
        }
        return replace(case, limits=replace(limits, **free))
    if rule == "reach":
        # not by longer pigtails: a pigtail's full reach counts in the drop
        return replace(case, limits=replace(limits, drip_loop_dmm=-AMPLE))
    if rule == "minimum length":
        return replace(case, limits=replace(limits, minimum_jumper_dmm=0))
    raise ValueError(f'"{rule}" is none of {", ".join(RULES)}')


def _with_thread(post: Post) -> Post:
    more = 1000 if post.kind == "stud" else 0
    return replace(post, free_thread_dmm=post.free_thread_dmm + more)


def _with_barrels(fitting: FittingType) -> FittingType:
    barrels = tuple(Barrel(0, 10**9, 10**6, barrel.length_dmm) for barrel in fitting.barrels)
    return replace(fitting, barrels=barrels, lined=False)


def _spared(case: Case, fuse_ma: int, wire: Spool | GivenWire) -> bool:
    row = table_ma(wire.ampacity_size, wire.insulation_temp_c, case.console.engine_space)
    return fuse_ma <= row * case.limits.fuse_permille // 1000


def _fuse_of(case: Case, circuit: Circuit) -> int:
    owner = case.console.circuit(circuit.taken_from) if circuit.taken_from else circuit
    if circuit.side == "ground" or owner.pigtail is None:
        return 0
    return owner.pigtail.fuse_ma


def _given_spared(case: Case) -> bool:
    """Whether every given wire a fuse protects is spared by it, under the case's own table."""
    console, fused = case.console, []
    for circuit in console.circuits:
        fuse = _fuse_of(case, circuit)
        if circuit.pigtail is not None:
            run = circuit.pigtail.to_source
            fused += [(fuse, circuit.pigtail.wire)] + ([(fuse, run.wire)] if run else [])
        for post in map(console.post, circuit.posts):
            if post.lead is not None:
                fused.append((post.lead_fuse_ma or fuse, post.lead))
    for boat_block in console.boat_blocks:
        for wire in boat_block.wires:
            fuse = wire.fuse_ma
            fed = console.post(wire.lands_on).function == "load"
            fed |= wire.lands_on == boat_block.drawn_from
            if not fuse and boat_block.drawn_from and fed:
                fuse = _fuse_of(case, console.circuit(console.post(boat_block.drawn_from).circuit))
            fused.append((fuse, wire.wire))
    return all(_spared(case, fuse, wire) for fuse, wire in fused)


def _without_ampacity(case: Case) -> Case:
    """Every wire in the largest row of the table, and still only what the fuses spared before.

    The fuse rule reads the same table. So it is applied here, by the true rows: spools of a
    fused circuit's colour that it forbids go from the stock, and where it forbids a given wire
    no fuse is near enough to its source any more, which leaves the case without a plan.
    """
    forbidden = set()
    for circuit in case.console.circuits:
        for spool in case.stock.spools_of_colour(circuit.colour):
            if not _spared(case, _fuse_of(case, circuit), spool):
                forbidden.add(spool)
    spools = tuple(
        replace(spool, ampacity_size=LARGEST)
        for spool in case.stock.spools
        if spool not in forbidden
    )
    near = case.limits.fuse_distance_dmm if _given_spared(case) else -1
    limits = replace(case.limits, fuse_permille=AMPLE, fuse_distance_dmm=near)
    stock = replace(case.stock, spools=spools)
    return replace(case, console=_in_largest_row(case.console), limits=limits, stock=stock)


def _largest(wire: GivenWire) -> GivenWire:
    return replace(wire, ampacity_size=LARGEST)


def _largest_pigtail(circuit: Circuit) -> Circuit:
    pigtail = circuit.pigtail
    if pigtail is None:
        return circuit
    run = pigtail.to_source
    if run is not None:
        run = replace(run, wire=_largest(run.wire))
    return replace(circuit, pigtail=replace(pigtail, wire=_largest(pigtail.wire), to_source=run))


def _in_largest_row(console: Console) -> Console:
    """The console with every given wire in the largest row of the ampacity table."""
    posts = tuple(
        replace(post, lead=_largest(post.lead)) if post.lead else post for post in console.posts
    )
    boat_blocks = []
    for boat_block in console.boat_blocks:
        wires = tuple(replace(wire, wire=_largest(wire.wire)) for wire in boat_block.wires)
        boat_blocks.append(replace(boat_block, wires=wires))
    circuits = tuple(_largest_pigtail(circuit) for circuit in console.circuits)
    return replace(console, posts=posts, boat_blocks=tuple(boat_blocks), circuits=circuits)
