"""Faults between ways and circuits: what a way joins, what it supplies, what would pass round it.

A far post starts one circuit, and that circuit has no other supply; its near post is on a feed.
Whatever else is written there would let a wire of the plan pass round the device. Rule R32.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from lugwright.base.errors import Complaint
from lugwright.scenario.complaints import nearest
from lugwright.scenario.devices import FittedWay, all_ways, has_bad_ends, ways_of
from lugwright.scenario.draft import Draft
from lugwright.scenario.fitting_out import Fitted, FittedPost
from lugwright.scenario.pattern_schema import SPARE
from lugwright.scenario.purposes import post_path
from lugwright.scenario.schema import CircuitPart
from lugwright.scenario.supplies import Supply
from lugwright.scenario.taken_from import CIRCUITS, IGNITION, LAMPS


def way_faults(
    draft: Draft, fitted: list[Fitted], supplies: Mapping[str, Supply]
) -> list[Complaint]:
    """Every fault of a way that passes current on, and of a circuit that one supplies."""
    complaints: list[Complaint] = []
    ways = {post: way for post, way in all_ways(fitted).items() if not way.is_stop}
    for instrument in fitted:
        asked: set[str] = set()
        for way in ways_of(instrument):
            if not way.is_stop:
                complaints += _way_faults(draft, way, ways, supplies, asked)
    first: dict[str, str] = {}
    for index, part in enumerate(draft.part.circuit):
        if part.supplied_by is not None:
            complaints += _supply_faults(draft, index, part, fitted, ways, supplies)
            complaints += _started_twice(draft, index, part, first)
            complaints += _feeds_nothing(draft, index, part, fitted, ways, supplies)
    complaints += _circles(draft, ways, supplies)
    return complaints


def _way_faults(
    draft: Draft,
    way: FittedWay,
    ways: Mapping[str, FittedWay],
    supplies: Mapping[str, Supply],
    asked: set[str],
) -> Iterator[Complaint]:
    near, far = way.instrument.posts[way.near], way.instrument.posts[way.far]
    if far.spare:
        return
    if near.spare:
        message = (
            f'post "{far.name}" supplies circuit "{far.circuit}" from post "{near.name}", which '
            f'feeds calls "{SPARE}"'
        )
        hint = "say in feeds which feed the near post is on"
        yield draft.complain(post_path(draft, way.instrument, near.name), message, hint)
    elif not near.circuit and near.name not in asked:
        asked.add(near.name)
        message = f'which feed is post "{near.name}" on? It is the near side of a {way.part.kind}'
        hint = (
            f'feeds = {{ {near.name} = "..." }} names the circuit it takes its current from; '
            f'where the device has no wire, "{SPARE}" at each of its posts'
        )
        yield draft.complain(post_path(draft, way.instrument, near.name), message, hint)
    if not far.circuit and not draft.lost.supplies:
        yield draft.complain(
            post_path(draft, way.instrument, far.name),
            f'which circuit does post "{far.name}" supply? It is the far side of a {way.part.kind}',
            f'[[circuit]] name = "...", supplied_by = "{way.far_id}"; where no wire goes to it, '
            f'feeds = {{ {far.name} = "{SPARE}" }}',
        )
    if not far.circuit:
        return
    yield from _side_faults(draft, way, supplies)
    yield from _round_faults(draft, way, near, far, ways, supplies)


def _side_faults(
    draft: Draft, way: FittedWay, supplies: Mapping[str, Supply]
) -> Iterator[Complaint]:
    """Switches, fuses, breakers and dimmers stand on the feed side (46 CFR 183.380(b))."""
    for name in (way.near, way.far):
        post = way.instrument.posts[name]
        supply = supplies.get(post.circuit)
        if supply is None or supply.side == "feed":
            continue
        message = f'a {way.part.kind} stands on the feed side, and post "{name}" is on a ground'
        hint = "a ground opens only together with its feed (46 CFR 183.380(b))"
        if supply.side == "stop":
            message = f'post "{name}" is on a stop circuit, and a {way.part.kind} ends at it'
            hint = "a stop circuit never meets a feed"
        elif way.part.kind == "dimmer":
            hint = "a lamp that returns inside its dial cannot be dimmed in its ground"
        yield draft.complain(post_path(draft, way.instrument, name), message, hint)


def _round_faults(
    draft: Draft,
    way: FittedWay,
    near: FittedPost,
    far: FittedPost,
    ways: Mapping[str, FittedWay],
    supplies: Mapping[str, Supply],
) -> Iterator[Complaint]:
    """The far post's circuit must start at it, and be another than the near post's."""
    path = post_path(draft, way.instrument, far.name)
    hint = (
        f"what is behind it is a circuit of its own: "
        f'[[circuit]] name = "...", supplied_by = "{way.far_id}"'
    )
    kind = way.part.kind
    supply = supplies.get(far.circuit)
    if supply is not None and supply.supplied_by not in ("", *ways):
        return  # said at the circuit
    if near.circuit == far.circuit:
        message = (
            f'posts "{near.name}" and "{far.name}" are the two sides of a {kind}, and both are on '
            f'circuit "{far.circuit}": wires of this plan would pass round the {kind}'
        )
        yield draft.complain(path, message, hint)
    elif supply is not None and supply.side == "feed" and supply.supplied_by != way.far_id:
        message = (
            f'post "{far.name}" is the far side of a {kind}, and circuit "{far.circuit}" '
            f"{_supplied(supply)}: wires of this plan would pass round the {kind}"
        )
        yield draft.complain(path, message, hint)


def _supplied(supply: Supply) -> str:
    if supply.supplied_by:
        return f'is supplied by "{supply.supplied_by}"'
    if supply.taken_from:
        return f'is taken from "{supply.taken_from}"'
    return "has a pigtail"


def _supply_faults(
    draft: Draft,
    index: int,
    part: CircuitPart,
    fitted: list[Fitted],
    ways: Mapping[str, FittedWay],
    supplies: Mapping[str, Supply],
) -> Iterator[Complaint]:
    """Faults of what a circuit says of the way that supplies it."""
    path = draft.path(CIRCUITS, index, "supplied_by")
    stated = part.supplied_by or ""
    supply = supplies.get(part.name)
    if supply is not None and supply.pigtail is not None:
        message = f'it has two supplies: a pigtail, and post "{stated}"'
        yield draft.complain(path, message, "a circuit has one supply: two are never joined")
    if part.taken_from is not None:
        message = f'it has two supplies: it is taken from "{part.taken_from}", and post "{stated}"'
        yield draft.complain(path, message, "a circuit has one supply: two are never joined")
    if part.side == "ground" or (supply is not None and supply.side == "ground"):
        yield draft.complain(path, "what a way supplies is a feed, never a ground")
    if part.use is None and part.colour is None and part.name not in (IGNITION, LAMPS):
        message = f'what does circuit "{part.name}" serve? Its colour follows from that'
        hint = (
            "use = instruments, lights, navigation, pumps, blower, start or accessories, or its "
            "colour"
        )
        yield draft.complain(draft.path(CIRCUITS, index, "name"), message, hint)
    way = ways.get(stated)
    if way is None:
        yield from _no_far_post(draft, index, stated, fitted, ways)
        return
    post = way.instrument.posts[way.far]
    if way.is_empty:
        yield draft.complain(
            path,
            f'the holder at "{stated}" is empty: circuit "{part.name}" would never be live',
            f'its rating: amperes = {{ {way.far} = "5 A" }}; where it stays empty, '
            f'feeds = {{ {way.far} = "{SPARE}" }}, and leave the circuit out',
        )
    if post.spare:
        message = f'feeds calls post "{stated}" "{SPARE}": no wire goes to it'
        yield draft.complain(path, message)
    elif post.circuit != part.name:
        message = f'post "{stated}" is on circuit "{post.circuit}", and starts that one'
        yield draft.complain(
            path, message, f'say in feeds {way.far} = "{part.name}", or name its own far post here'
        )


def _no_far_post(
    draft: Draft,
    index: int,
    stated: str,
    fitted: list[Fitted],
    ways: Mapping[str, FittedWay],
) -> Iterator[Complaint]:
    lost = draft.lost
    name = stated.partition(".")[0]
    if name in lost.instruments or lost.unnamed_instrument:
        return
    if any(one.name == name and has_bad_ends(one) for one in fitted):
        return  # said at its ways
    there = {one.post_id(post) for one in fitted for post in one.posts}
    message, hint = f'no post is called "{stated}"', nearest(stated, ways)
    if stated in there:
        message = f'no way ends at post "{stated}": it supplies nothing'
        if any(one.name == name and one.part.geometry is not None for one in fitted):
            hint = f'under its ways, to = ["{stated.partition(".")[2]}"] says what stands before it'
    elif name not in {one.name for one in fitted}:
        message = f'there is no instrument "{name}"'
    yield draft.complain(draft.path(CIRCUITS, index, "supplied_by"), message, hint)


def _started_twice(
    draft: Draft, index: int, part: CircuitPart, first: dict[str, str]
) -> Iterator[Complaint]:
    stated = part.supplied_by or ""
    other = first.setdefault(stated, part.name)
    if other != part.name:
        message = f'post "{stated}" starts circuit "{other}" already: a far post starts one circuit'
        hint = f'[[circuit]] taken_from = "{other}" takes a circuit from another by a plain wire'
        yield draft.complain(draft.path(CIRCUITS, index, "supplied_by"), message, hint)


def _feeds_nothing(
    draft: Draft,
    index: int,
    part: CircuitPart,
    fitted: list[Fitted],
    ways: Mapping[str, FittedWay],
    supplies: Mapping[str, Supply],
) -> Iterator[Complaint]:
    """A circuit behind a way that nothing draws from: what hangs on it may have been forgotten."""
    if draft.lost.boat_blocks or draft.lost.supplies or part.supplied_by not in ways:
        return
    own = {part.name, *(one.name for one in supplies.values() if one.taken_from == part.name)}
    fed = {wire.lands_on for block in draft.part.boat_wires for wire in block.wires}
    loads = {one.circuit for one in draft.pigtails if one.role == "load"}
    if not loads <= set(supplies):
        return  # said at the pigtail
    for instrument in fitted:
        fed |= {instrument.post_id(load.feed) for load in instrument.pattern.loads}
        fed |= {way.near_id for way in ways_of(instrument)}
        fed |= {instrument.post_id(p.name) for p in instrument.posts.values() if p.reserved}
    posts = ((one, post) for one in fitted for post in one.posts.values() if post.circuit in own)
    if not own & loads and not any(one.post_id(post.name) in fed for one, post in posts):
        message = f'what hangs on circuit "{part.name}"? Nothing in the file draws from it'
        hint = (
            'a load, boat wires that land on it, a pigtail with role = "load", or a lug in '
            f'reserve; where no wire goes to it, "{SPARE}" at its far post, and leave it out'
        )
        yield draft.complain(draft.path(CIRCUITS, index, "name"), message, hint)


def _circles(
    draft: Draft, ways: Mapping[str, FittedWay], supplies: Mapping[str, Supply]
) -> Iterator[Complaint]:
    """Circuits that supply one another in a circle: no pigtail feeds any of them."""
    if draft.lost.supplies or draft.lost.instruments or draft.lost.unnamed_instrument:
        return
    told: set[str] = set()
    for index, part in enumerate(draft.part.circuit):
        chain: list[str] = []
        name = part.name
        while name in supplies and name not in chain:
            chain.append(name)
            name = before(supplies[name], ways)
        if name == part.name and name in chain and not told & set(chain):
            told |= set(chain)
            listed = " > ".join([*reversed(chain), chain[-1]])
            message = f"these circuits supply one another in a circle: {listed}"
            keys = "supplied_by" if part.supplied_by else "name"
            hint = "the first of them has a pigtail"
            yield draft.complain(draft.path(CIRCUITS, index, keys), message, hint)


def before(supply: Supply, ways: Mapping[str, FittedWay]) -> str:
    """The circuit a circuit gets its current from; "" where a pigtail supplies it."""
    way = ways.get(supply.supplied_by)
    if way is None:
        return supply.taken_from
    return way.instrument.posts[way.near].circuit
