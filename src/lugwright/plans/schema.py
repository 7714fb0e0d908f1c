"""The plan: the whole answer, as it stands in ``plan.json``. Immutable, integers only.

Every number has its unit in its name (``base.scale``). A plan repeats what the bench needs
(labels, colours, names of fittings) so that it can be built from without the scenario.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from lugwright.base.identity import JointId, WireId
from lugwright.plans.panel import Panel
from lugwright.plans.record import Record

FORMAT = 3

Stage = Literal["bench", "aboard"]


class Waypoint(Record):
    """One corner of a routed path, 0.1 mm, back view. ``tie`` names the tie point, if it is one."""

    x_dmm: int
    y_dmm: int
    z_dmm: int
    tie: str = ""


class EndRef(Record):
    """One end of one wire.

    ``wire`` is a jumper's label (``ground 3``), or a given wire: ``pigtail ignition``,
    ``lead depth.ignition``, or a boat wire's id (``fuel sender: pink``).
    ``end`` is ``a`` or ``b`` for a jumper; a given wire's panel end is ``a``.
    """

    wire: WireId
    end: Literal["a", "b"]


class Jumper(Record):
    """One cut piece of wire. ``from_joint`` is its end a (supply side), ``to_joint`` its end b.

    A joint is a post id, a splice's label, or ``join NAME`` for the butt of an extension.
    ``current_ma`` is the worst-case current. ``resistance_uohm`` is the wire alone.
    ``role`` is ``jumper`` or ``extension``.
    """

    label: WireId
    circuit: str
    number: int
    role: Literal["jumper", "extension"]
    stage: Stage
    from_joint: JointId
    to_joint: JointId
    path: tuple[Waypoint, ...]
    path_dmm: int
    length_dmm: int
    wire_size: str
    colour: str
    colour_code: str
    spool: str
    current_ma: int
    resistance_uohm: int
    strip_a_dmm: int
    strip_b_dmm: int


class Crimp(Record):
    """One fitting crimped on wire ends.

    ``item`` is the fitting's name in stock. ``barrels`` holds the wire ends of each barrel (two
    entries for a butt). ``folded``: a lone wire in it is folded back; in a butt
    that is the half (or both) whose wire does not fit as it is. ``joint`` is the post,
    splice or join it belongs to. ``current_ma``: on a post the sum over its wire ends, in
    mid-air what flows in. ``area_um2``: the summed strand area in each barrel. ``lined``: its
    sleeve is adhesive-lined and is shrunk with hot air.
    """

    number: int
    item: str
    kind: str
    colour: str
    die: str
    joint: JointId
    stage: Stage
    barrels: tuple[tuple[EndRef, ...], ...]
    folded: bool
    area_um2: tuple[int, ...]
    area_min_um2: tuple[int, ...]
    area_max_um2: tuple[int, ...]
    current_ma: int
    lined: bool = False


class StackedLug(Record):
    """One lug: a crimp by number, or a ready-made one (``crimp`` 0, ``ready``: wire, strap)."""

    crimp: int
    ready: str
    circuit: str
    stage: Stage
    current_ma: int
    tongue_dmm: int
    conductors: int
    clock: int


class Stack(Record):
    """The lugs of one stud from base to nut.

    ``used_dmm`` = tongues (reserved ones included) + lock washer + nut + showing thread.
    ``bench_lugs`` is how many lugs are put on at the bench; the rest go on aboard.
    ``nut_at_bench``: ``snug`` (run down), ``loose`` (put on loosely: something comes aboard).
    """

    post: JointId
    thread: str
    driver: str
    lugs: tuple[StackedLug, ...]
    reserved: int
    lock_washer: bool
    used_dmm: int
    free_dmm: int
    bench_lugs: int
    nut_at_bench: Literal["snug", "loose"]
    boot: bool

    @property
    def waiting(self) -> tuple[StackedLug, ...]:
        """Bench lugs that lie above a lug that comes aboard: until then they wait, loose."""
        stages = [lug.stage for lug in self.lugs]
        first = stages.index("aboard") if "aboard" in stages else len(stages)
        return tuple(lug for lug in self.lugs[first:] if lug.stage == "bench")


class Splice(Record):
    """A splice point that is used. ``crimp`` is its fitting's number."""

    label: JointId
    circuit: str
    at: Waypoint
    crimp: int


class Landing(Record):
    """Where the supply of a circuit lands: its pigtail, or the jumper from its way's far post.

    ``pigtail`` is "" where a way supplies it; then ``way`` is the far post.
    """

    circuit: str
    post: JointId
    pigtail: WireId
    extension: str = ""
    way: str = ""


class Cap(Record):
    """An unused pigtail: insulated by itself, tied back and left long. Live ones come first."""

    pigtail: str
    colour: str
    live: bool
    item: str
    colour_code: str = ""


class Tie(Record):
    """A tie or support: at a tie point, or every so far along a wire. ``count`` of them."""

    where: str
    count: int


class Step(Record):
    """One thing to do. ``verb`` is from a closed set; ``target`` and ``parts`` name what with.

    ============== =================== =======================================================
    verb           target              parts
    ============== =================== =======================================================
    cap            pigtail             the cap
    cut            jumper label        -
    crimp          crimp number        wire ends, ``ground 3-a``
    land           post                the lug: crimp number, or ``ready WIRE``
    wait           post                a lug that lies above one that comes aboard: labelled with
                                       its place, put on to wait under the loose nut (bench)
    lift           post                the lugs that waited, from the top: they come off again, to
                                       be landed in their turn (aboard)
    push on        post                crimp number
    washer         post                -
    nut loose      post                -
    nut off        post                - (a loose nut and washer come off again, aboard)
    nut snug       post                -
    boot           post                -
    tie            where               count
    test           what                what must be seen
    ============== =================== =======================================================
    """

    number: int
    stage: Literal["bench", "aboard", "key-on"]
    verb: str
    target: str
    parts: tuple[str, ...] = ()
    text: str = ""


class LoadDrop(Record):
    """Drop to one load over its whole path, and its limit (both nV)."""

    load: str
    current_ma: int
    feed_nv: int
    ground_nv: int
    drop_nv: int
    limit_nv: int


class WayRow(Record):
    """What a way of a device carries in the worst case, and what it may carry.

    ``judged_ma`` is the current as the way's own limit sees it (a switch: with the factor of each
    kind of load); ``carries_ma`` that limit, 0 where none is stated. ``fuse_ma`` is the fuse or
    trip-free breaker by which it protects what is beyond, 0 where it does not. ``lost_nv`` is the
    drop in its contact. ``circuit`` is what it supplies ("" for an empty holder or a stop way).
    """

    far: str
    near: str
    kind: str
    circuit: str
    current_ma: int
    judged_ma: int
    carries_ma: int
    fuse_ma: int
    lost_nv: int


class LiveRow(Record):
    """What is live in one state. ``set_to`` are (device, position) pairs; others are at rest.

    The first row of a plan is ``all off``: switches and keys at rest, fuses in, breakers closed.
    """

    state: str
    set_to: tuple[tuple[str, str], ...]
    live: tuple[str, ...]


class BuyLine(Record):
    """One line of the buy list. ``need`` in ``unit``; ``packs`` whole packs of ``pack``."""

    item: str
    unit: Literal["mm", "piece"]
    need: int
    pack: int
    packs: int
    cost_micro: int


class Totals(Record):
    """Sums over the plan, as section 6 counts them."""

    wire_dmm: int
    jumpers: int
    fittings: int
    stacked_lugs: int
    tallest_stack: int
    splices: int
    wire_cost_micro: int
    fitting_cost_micro: int
    minutes_cmin: int
    labour_cost_micro: int
    money_micro: int


class Proof(Record):
    """What is known about the plan's cost.

    ``objective`` is its name; ``levels`` names the quantities compared, in order, and ``cost``
    their values; ``bound`` the proved lower bound of the same quantities. Proved best: equal.
    ``held`` says what was fixed beforehand and what that costs: then all this is said of plans
    that keep it.
    """

    objective: str
    levels: tuple[str, ...]
    cost: tuple[int, ...]
    bound: tuple[int, ...]
    proved: bool
    tie_rule: str
    note: str = ""
    held: tuple[str, ...] = ()


class LimitUsed(Record):
    """One limit in force, as a person reads it, with where it came from."""

    name: str
    value: str
    origin: str
    source: str


class WaiverUsed(Record):
    """A limit loosened for one place: by whom, when and why. ``origin`` is its file.

    ``place`` names the post, circuit or load it holds for; ``value`` reads as in LimitUsed.
    """

    limit: str
    place: str
    value: str
    reason: str
    initials: str
    date: str
    origin: str


class CircuitWire(Record):
    """The wire size a circuit is planned in ("mixed" where jumpers differ)."""

    circuit: str
    colour: str
    colour_code: str
    wire_size: str


class Given(Record):
    """A wire the plan does not cut: a pigtail or a boat wire, and where its end goes.

    ``path`` runs from its entry to its post, over the whole way where it is lengthened; empty
    where no entry is stated.
    """

    wire: WireId
    circuit: str
    stage: Stage
    joint: JointId
    wire_size: str
    colour: str
    current_ma: int
    ready_ring: bool
    strip_dmm: int
    colour_code: str = ""
    path: tuple[Waypoint, ...] = ()


class Plan(Record):
    """The whole answer. ``inputs`` maps each input file's role to its SHA-256.

    ``family`` names the family whose plans share jumpers with this one ("" for none): there the
    same part has the same label in every variant, and numbers may be left out. ``edited`` is
    never written: it says that the file read is not as this program wrote it.
    """

    format: Annotated[int, Field(ge=1)] = FORMAT
    title: str
    family: str = ""
    edited: Annotated[bool, Field(exclude=True)] = False
    rule_set: str
    made_with: str
    inputs: dict[str, str]
    panel: Panel
    hub: str
    landings: tuple[Landing, ...]
    circuit_wires: tuple[CircuitWire, ...]
    jumpers: tuple[Jumper, ...]
    given: tuple[Given, ...]
    crimps: tuple[Crimp, ...]
    splices: tuple[Splice, ...]
    stacks: tuple[Stack, ...]
    caps: tuple[Cap, ...]
    ties: tuple[Tie, ...]
    steps: tuple[Step, ...]
    drops: tuple[LoadDrop, ...]
    ways: tuple[WayRow, ...] = ()
    live: tuple[LiveRow, ...] = ()
    fuses: tuple[str, ...]
    buy: tuple[BuyLine, ...]
    totals: Totals
    proof: Proof
    limits: tuple[LimitUsed, ...]
    waivers: tuple[WaiverUsed, ...] = ()
    cautions: tuple[str, ...]
