"""What meets at a joint: ends grouped into fittings, fittings stacked on studs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import product

from lugwright.model.formulation.ask import LUG_CURRENTS, GroupKey
from lugwright.model.formulation.variables import Linear, Pick, Variables, total
from lugwright.problem.groups import lead_type
from lugwright.problem.schema import (
    BoatGroup,
    CircuitQuestion,
    Counts,
    GroupOption,
    Problem,
    Stud,
)


def add_joints(v: Variables) -> None:
    """Options at every joint of every circuit asked for, and the room on every stud."""
    for circuit in v.circuits:
        for node in v.nodes(circuit):
            for joint in node.joints:
                _own_ends(v, circuit, joint)
        for post in v.ask.landing_posts(circuit.name):
            _aboard_pigtail(v, circuit, post)
    for circuit in v.circuits:
        for taker in circuit.takers:
            _guests(v, circuit, v.problem.circuit(taker))
    for boat_block in v.problem.boat_groups:
        if posed(v, boat_block):
            _choose(
                v, (boat_block.post, f"boat wires {boat_block.boat_block}"), boat_block.options, {}
            )
    for post in _posts_posed(v):
        _room(v, post)


def posed(v: Variables, boat_block: BoatGroup) -> bool:
    """Whether the post of a block of boat wires belongs to what is asked."""
    owner = v.problem.console.post(boat_block.post).circuit
    if owner in {circuit.name for circuit in v.problem.circuits}:
        return owner in v.ask.circuits
    return v.ask.rest


def _posts_posed(v: Variables) -> list[str]:
    return sorted({joint for joint, _ in v.picks})


# -- which ends are there ----------------------------------------------------------------------


def _own_ends(v: Variables, circuit: CircuitQuestion, joint: str) -> None:
    """The bench group of a joint: its circuit's jumper ends and a bare bench pigtail."""
    ends: dict[str, list[Linear]] = defaultdict(list)
    for arc in (*v.arcs_in[circuit.name, joint], *v.arcs_out[circuit.name, joint]):
        ends[arc.choice.end_type].append(arc.use)
    supply = circuit.supply
    if supply and not supply.aboard:
        for source in v.sources_at[circuit.name, joint]:
            name = source.extension.end_type if source.extension else supply.end_type
            if name:
                ends[name].append(source.use)
    present: dict[str, Linear] = {name: total(uses) for name, uses in ends.items()}
    # An end that nothing here can bring is no end: without it no option may count on it.
    sizes = {circuit.choice(size).end_type for size in v.ask.sizes_of(circuit.name)}
    jumpers = sorted(sizes & present.keys())
    singles = [supply.end_type] if supply and supply.end_type in present else []
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


def _needed(v: Variables, circuit: CircuitQuestion, joint: str) -> bool:
    return v.node_of[circuit.name, joint].needed


def _landed_elsewhere(v: Variables, circuit: CircuitQuestion, joint: str) -> list[Linear]:
    """Landings on a joint that bring no end into its bench group."""
    supply = circuit.supply
    return [
        source.use
        for source in v.sources_at[circuit.name, joint]
        if supply and (supply.aboard or not (source.extension or supply.end_type))
    ]


def _most_ends(problem: Problem, circuit: CircuitQuestion, joint: str) -> int:
    """More ends than this cannot meet at a joint: by its room, and by how many nodes there are."""
    return min(room_for_ends(problem, joint), len(circuit.nodes))


def room_for_ends(problem: Problem, joint: str) -> int:
    """More wire ends than this have no room at a joint, whatever it is crimped with."""
    kind = problem.post_kind.get(joint, "splice")
    if kind == "stud":
        return _ends_on_a_stud(problem, problem.studs[joint])
    if kind == "tab":
        return min(2, problem.tables.most_at(joint))
    return problem.limits.wires_per_splice - (1 if kind == "lead" else 0)


def _ends_on_a_stud(problem: Problem, stud: Stud) -> int:
    """Ends that find room in number, thread and all round, were every lug the smallest there is.

    Where the number is no limit, thread and room still are: without them a stud would have ways
    beyond number that can never be.
    """
    tongue_dmm, angle_deg = problem.tables.least_lug(problem.console.post(stud.post).thread)
    lugs = stud.places
    if tongue_dmm:
        lugs = min(lugs, max(0, stud.thread_dmm) // tongue_dmm)
    if angle_deg:
        lugs = min(lugs, max(0, 360 // angle_deg - stud.reserved))
    ends = lugs * problem.tables.most_at(stud.post)
    counted = problem.limits.stud_count == "conductors"
    return min(ends, max(0, stud.places - stud.reserved)) if counted else ends


def _possible(jumpers: Sequence[str], singles: Sequence[str], most: int) -> Iterable[Counts]:
    """Every multiset of at most ``most`` jumper ends and at most one of each single end."""
    for alone in product(range(2), repeat=len(singles)):
        for numbers in _at_most(len(jumpers), most - sum(alone)):
            if sum(alone) + sum(numbers):
                pairs = zip((*singles, *jumpers), (*alone, *numbers), strict=True)
                yield tuple(sorted((name, number) for name, number in pairs if number))


def _at_most(kinds: int, most: int) -> Iterable[tuple[int, ...]]:
    """Every tuple of ``kinds`` numbers that add up to at most ``most``."""
    if kinds == 0:
        if most >= 0:
            yield ()
        return
    for first in range(most + 1):
        for rest in _at_most(kinds - 1, most - first):
            yield (first, *rest)


def _counts_posed(
    v: Variables,
    circuit: CircuitQuestion,
    joint: str,
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


def options_at(problem: Problem, joint: str, counts: Counts) -> tuple[GroupOption, ...]:
    """Ways to take these bench ends at a joint."""
    tables = problem.tables
    kind = problem.post_kind.get(joint, "splice")
    if kind == "splice":
        return tables.splice(counts)
    post = problem.console.post(joint)
    if kind == "stud":
        return tables.stud(post.thread, counts, "bench", post.id)
    if kind == "tab":
        return tables.tab(post.tab_size, counts, "bench", post.id)
    if post.lead is None:
        return ()
    return tables.lead(lead_type(joint, post.lead.area_um2, post.lead.insulation_um), counts)


def end_counts(
    problem: Problem,
    circuit: CircuitQuestion,
    joint: str,
    jumpers: Sequence[str],
    singles: Sequence[str],
) -> Iterable[Counts]:
    """Every multiset of a circuit's ends that could meet at a joint."""
    return _possible(jumpers, singles, _most_ends(problem, circuit, joint))


def _aboard_pigtail(v: Variables, circuit: CircuitQuestion, post: str) -> None:
    """A pigtail that comes aboard: a lug of its own on the landing post."""
    supply = circuit.supply
    if supply is None or not supply.aboard:
        return
    ends: dict[str, list[Linear]] = defaultdict(list)
    for source in v.sources_at[circuit.name, post]:
        name = source.extension.end_type if source.extension else supply.end_type
        if name:
            ends[name].append(source.use)
    options = [NOTHING]
    place = v.problem.console.post(post)
    for name in sorted(ends):
        counts = ((name, 1),)
        if place.kind == "stud":
            options += v.problem.tables.stud(place.thread, counts, "aboard", place.id)
        else:
            options += v.problem.tables.tab(place.tab_size, counts, "aboard", place.id)
    if ends:
        present: dict[str, Linear] = {name: total(uses) for name, uses in ends.items()}
        _choose(v, (post, f"pigtail {circuit.name}"), options, present)


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
        place = v.problem.console.post(stud)
        if posed:
            arcs = [arc for arc in v.arcs_out[taker.name, stud] if arc.take_off]
            present: dict[str, Linear] = {
                name: total(arc.use for arc in arcs if arc.choice.end_type == name)
                for name in types
            }
            most = min(room_for_ends(v.problem, stud), len(taker.nodes))
            options = [NOTHING]
            for counts in _possible(types, [], 1 if landing_only else most):
                options += v.problem.tables.stud(place.thread, counts, "bench", place.id)
            _choose(v, (stud, taker.name), options, present)
        else:
            _lone_guest(v, host, taker, stud, types)
    if landing_only and not posed:
        for source in v.sources:
            if source.circuit == host.name and v.problem.post_kind[source.landing.post] != "stud":
                v.model.add(source.use == 0)  # nothing can be taken off there


def _lone_guest(
    v: Variables, host: CircuitQuestion, taker: CircuitQuestion, stud: str, types: Sequence[str]
) -> None:
    """The one end of a taker asked for elsewhere: it is on the landing stud all the same."""
    place = v.problem.console.post(stud)
    options = [NOTHING]
    for name in types:
        options += v.problem.tables.stud(place.thread, ((name, 1),), "bench", place.id)
    key = (stud, taker.name)
    _choose(v, key, [_unnamed(option) for option in options], {})
    here = total(use for option, use in v.picks[key] if option.lugs)
    v.model.add(here == total(s.use for s in v.sources_at[host.name, stud]))


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
            for other in kept
        ):
            kept.append(option)
    return kept


# -- room on the stud ------------------------------------------------------------------------------


def _room(v: Variables, post: str) -> None:
    """Places, thread and room round one post, over all groups that land on it."""
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
    lugs = lugs + total(number * use for number, _, _, use in ready)
    tongues = total(o.tongue_dmm * use for picks in groups.values() for o, use in picks)
    tongues = tongues + total(tongue * use for _, tongue, _, use in ready)
    if stud.thread_dmm < 0:
        v.model.add(lugs == 0)
    v.model.add(tongues <= max(0, stud.thread_dmm))
    counted = lugs
    if v.problem.limits.stud_count == "conductors":
        counted = total(o.ends * use for picks in groups.values() for o, use in picks)
        counted = counted + total(number * use for number, _, _, use in ready)
    v.model.add(counted <= max(0, stud.places - stud.reserved))
    _round_about(v, stud, lugs, groups, ready)
    _stacked(v, post, lugs)


Ready = tuple[int, int, int, Linear]


def _ready(v: Variables, post: str) -> list[Ready]:
    """Ready-made rings on a post: (number, tongues, widest, whether)."""
    found: list[Ready] = []
    for circuit in v.circuits:
        supply = circuit.supply
        if supply and not supply.end_type:
            for source in v.sources_at[circuit.name, post]:
                if source.extension is None:
                    found.append((1, supply.ready_tongue_dmm, supply.ready_angle_deg, source.use))
    for boat_block in v.problem.boat_groups:
        if boat_block.post == post and boat_block.ready_lugs and posed(v, boat_block):
            found.append(
                (boat_block.ready_lugs, boat_block.ready_tongue_dmm, boat_block.ready_angle_deg, 1)
            )
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
    for _, _, angle, there in ready:
        widths[angle].append(there)
    for angle, uses in sorted(widths.items()):
        room = 360 // angle if angle else most
        if room < most:
            for chosen in uses:
                # chosen = 1: lugs + reserved <= room
                v.model.add(lugs + stud.reserved <= room + most * (1 - chosen))
    if stud.reserved and stud.reserved_angle_deg:
        v.model.add(lugs <= max(0, 360 // stud.reserved_angle_deg - stud.reserved))


def _stacked(v: Variables, post: str, lugs: Linear) -> None:
    stacked = v.model.new_int_var(0, 100, f"{post} stacked lugs")
    v.model.add(stacked >= lugs - 1)
    v.stacked.append(stacked)
    v.lugs[post] = lugs
    if v.tallest is not None:
        v.model.add(v.tallest >= lugs)
