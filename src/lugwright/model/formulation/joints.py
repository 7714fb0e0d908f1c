"""What meets at a joint: ends grouped into fittings, fittings stacked on studs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from lugwright.base.identity import JointId
from lugwright.model.formulation.ask import LUG_CURRENTS, GroupKey
from lugwright.model.formulation.stud_room import add_room, posed
from lugwright.model.formulation.variables import Linear, Variables, total
from lugwright.model.formulation.wire_ends import end_counts, options_at, possible, room_for_ends
from lugwright.problem.schema import (
    CircuitQuestion,
    Counts,
    GroupOption,
    Node,
    Stud,
)
from lugwright.trade.names import boat_group, pigtail_wire
from lugwright.trade.objective import rank_of_equals


def add_joints(v: Variables) -> None:
    """Options at every joint of every circuit asked for, and the room on every stud."""
    for circuit in v.circuits:
        for node in v.nodes(circuit):
            for joint in node.joints:
                _own_ends(v, circuit, joint)
            if node.one_joint:
                _one_end(v, circuit, node)
        for post in v.ask.landing_posts(circuit.name):
            _pigtail_apart(v, circuit, post)
    for circuit in v.circuits:
        for taker in circuit.takers:
            _guests(v, circuit, v.problem.circuit(taker))
    for boat_block in v.problem.boat_groups:
        if posed(v, boat_block):
            _choose(v, (boat_block.post, boat_group(boat_block.boat_block)), boat_block.options, {})
    for post in _posts_posed(v):
        add_room(v, post)


def _posts_posed(v: Variables) -> list[JointId]:
    return sorted({joint for joint, _ in v.picks})


# -- which ends are there ----------------------------------------------------------------------


def _own_ends(v: Variables, circuit: CircuitQuestion, joint: JointId) -> None:
    """The bench group of a joint: its circuit's jumper ends and bare bench pigtails. Rule R22."""
    ends: dict[str, list[Linear]] = defaultdict(list)
    for load in v.problem.bench_ends_at(circuit.name, joint):
        ends[load.end_type].append(1)
    for arc in (*v.arcs_in[circuit.name, joint], *v.arcs_out[circuit.name, joint]):
        ends[arc.choice.end_type].append(arc.use)
    supply = circuit.supply
    kind = v.problem.post_kind.get(joint, "splice")
    if supply and not supply.apart_at(kind):
        for source in v.sources_at[circuit.name, joint]:
            name = source.extension.end_type if source.extension else supply.end_type
            if name:
                ends[name].append(source.use)
    present: dict[str, Linear] = {name: total(uses) for name, uses in ends.items()}
    # An end that nothing here can bring is no end: without it no option may count on it.
    sizes = {circuit.choice(size).end_type for size in v.ask.sizes_of(circuit.name)}
    jumpers = sorted(sizes & present.keys())
    own = circuit.own_extension
    singles = [own.end_type] if own and own.end_type in present else []
    singles += [supply.end_type] if supply and supply.end_type in present else []
    options: list[GroupOption] = []
    for counts in _counts_posed(v, circuit, joint, jumpers, singles):
        options += options_at(v.problem, joint, counts)
    key = (joint, circuit.name)
    always = len(v.node_of[circuit.name, joint].joints) == 1 and _needed(v, circuit, joint)
    if not always:
        _choose(v, key, [*options, NOTHING], present)
        return
    # Only a landing may hold no bench end of its own: a ready ring or an aboard pigtail alone.
    bare = _landed_elsewhere(v, circuit, joint)
    _choose(v, key, [*options, NOTHING] if bare else options, present)
    for option, use in v.picks.get(key, ()):
        if option is NOTHING:
            v.model.add(use <= total(bare))


NOTHING = GroupOption((), (), 0, 0, 0, 0)


def _one_end(v: Variables, circuit: CircuitQuestion, node: Node) -> None:
    """A lead whose end is chosen has one end: wires are joined to it at one place. Rule R36."""
    keys = ((joint, circuit.name) for joint in node.joints)
    taken = (use for key in keys for option, use in v.picks.get(key, ()) if option is not NOTHING)
    v.model.add(total(taken) <= 1)


def _needed(v: Variables, circuit: CircuitQuestion, joint: JointId) -> bool:
    return v.node_of[circuit.name, joint].needed


def _landed_elsewhere(v: Variables, circuit: CircuitQuestion, joint: JointId) -> list[Linear]:
    """Landings on a joint that bring no end into its bench group."""
    supply, kind = circuit.supply, v.problem.post_kind.get(joint, "splice")
    return [
        source.use
        for source in v.sources_at[circuit.name, joint]
        if supply and (supply.apart_at(kind) or not (source.extension or supply.end_type))
    ]


def _counts_posed(
    v: Variables,
    circuit: CircuitQuestion,
    joint: JointId,
    jumpers: Sequence[str],
    singles: Sequence[str],
) -> list[Counts]:
    """Multisets of ends that could meet at a joint; sizes mix only with one for each jumper."""
    if v.problem.limits.wire_size_choice == "jumper":
        return list(end_counts(v.problem, circuit, joint, jumpers, singles))
    found: dict[Counts, None] = {}
    for name in jumpers or [""]:
        mixed = [name] if name else []
        found.update(dict.fromkeys(end_counts(v.problem, circuit, joint, mixed, singles)))
    return list(found)


def _pigtail_apart(v: Variables, circuit: CircuitQuestion, post: JointId) -> None:
    """A pigtail that comes aboard, or has its own barrel: a lug by itself on the landing post."""
    supply = circuit.supply
    if supply is None or not supply.apart_at(v.problem.post_kind[post]):
        return
    ends: dict[str, list[Linear]] = defaultdict(list)
    for source in v.sources_at[circuit.name, post]:
        name = source.extension.end_type if source.extension else supply.end_type
        if name:
            ends[name].append(source.use)
    options = [NOTHING]
    for name in sorted(ends):
        options += options_at(v.problem, post, ((name, 1),), supply.stage)
    if ends:
        present: dict[str, Linear] = {name: total(uses) for name, uses in ends.items()}
        _choose(v, (post, pigtail_wire(circuit.name)), options, present)
    if ends and v.problem.post_kind[post] == "lead":
        _one_fitting(v, circuit, post, total(present.values()))


def _one_fitting(
    v: Variables, circuit: CircuitQuestion, lead: JointId, aboard: Linear
) -> None:
    """A lead has one fitting: what comes aboard on it shares it with no bench wire."""
    bench = (use for option, use in v.picks.get((lead, circuit.name), ()) if option is not NOTHING)
    v.model.add(total([aboard, *bench]) <= 1)


def _guests(v: Variables, host: CircuitQuestion, taker: CircuitQuestion) -> None:
    """Ends of a taken circuit's take-off jumpers on the studs of the circuit it is taken from."""
    sizes = v.ask.sizes_of(taker.name)
    types = sorted({taker.choice(size).end_type for size in sizes})
    landing_only = v.problem.limits.lamp_take_off == "landing"
    posed = taker.name in v.ask.circuits
    for stud in sorted({edge.a for edge in taker.take_off}):
        if landing_only and stud not in v.ask.landing_posts(host.name):
            continue
        if (host.name, stud) not in v.node_of:
            continue
        if posed:
            arcs = [arc for arc in v.arcs_out[taker.name, stud] if arc.take_off]
            present: dict[str, Linear] = {
                name: total(arc.use for arc in arcs if arc.choice.end_type == name)
                for name in types
            }
            # a lone far-post tab holds one lamp jumper and nothing else
            on_tab = v.problem.post_kind[stud] != "stud"
            most = 1 if on_tab else min(room_for_ends(v.problem, stud), len(taker.nodes))
            options = [NOTHING]
            for counts in possible(types, [], 1 if landing_only else most):
                options += options_at(v.problem, stud, counts)
            _choose(v, (stud, taker.name), options, present)
        else:
            _lone_guest(v, host, taker, stud, types)
    if landing_only and not posed:
        starts = {edge.a for edge in taker.take_off}
        for post in v.ask.landing_posts(host.name):
            if post not in starts:  # nothing can be taken off there
                v.model.add(v.landed_at(host, post) == 0)


def _lone_guest(
    v: Variables, host: CircuitQuestion, taker: CircuitQuestion, stud: JointId, types: Sequence[str]
) -> None:
    """The one end of a taker asked for elsewhere: it is on the landing post all the same."""
    options = [NOTHING]
    for name in types:
        options += options_at(v.problem, stud, ((name, 1),))
    key = (stud, taker.name)
    _choose(v, key, [_unnamed(option) for option in options], {})
    here = total(use for option, use in v.picks[key] if option.picks)
    v.model.add(here == v.landed_at(host, stud))


def _unnamed(option: GroupOption) -> GroupOption:
    """The option as seen by one who does not care which size the end has."""
    return replace(option, counts=(("any", option.ends),) if option.ends else ())


# -- which option --------------------------------------------------------------------------------


def _choose(
    v: Variables, key: GroupKey, options: Sequence[GroupOption], present: dict[str, Linear]
) -> None:
    """Exactly one option, and it takes exactly the ends that are there."""
    nothing_here = not options and not present
    if key[0] in v.problem.studs:
        options = [option for option in options if _fits_alone(v.problem.studs[key[0]], option)]
    if LUG_CURRENTS not in v.ask.families:
        options = _without_limits(options)
    picks = []
    for index, option in enumerate(options):
        picks.append((option, v.model.new_bool_var(f"{key[0]} {key[1]} option {index}")))
    if nothing_here:
        return
    v.picks[key] = picks
    v.model.add_exactly_one([use for _, use in picks])
    for name, number in sorted(present.items()):
        taken = total(dict(option.counts).get(name, 0) * use for option, use in picks)
        v.model.add(number == taken)


def _fits_alone(stud: Stud, option: GroupOption) -> bool:
    if not option.lugs:
        return True
    return option.lugs + stud.reserved <= stud.places and option.tongue_dmm <= stud.thread_dmm


def _without_limits(options: Sequence[GroupOption]) -> list[GroupOption]:
    """Options no other beats once current limits are left out (they are looked at afterwards)."""
    kept: list[GroupOption] = []
    for option in options:
        if not any(
            other.counts == option.counts
            and other.lugs <= option.lugs
            and other.tongue_dmm <= option.tongue_dmm
            and other.angle_deg <= option.angle_deg
            and other.money_micro <= option.money_micro
            and other.fittings <= option.fittings
            and other.folds <= option.folds
            and rank_of_equals(other) <= rank_of_equals(option)
            for other in kept
        ):
            kept.append(option)
    return kept
