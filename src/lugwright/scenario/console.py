"""The console: a scenario read, looked up and rounded. What every later room works from.

Coordinates are in 0.1 mm, **seen from the back**: origin lower left as you look at the back of
the panel, x right, y up, z height above the panel's back face. The mirroring from the front
has been done when a Console exists.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from lugwright.base.identity import NO_JOINT, JointId, WireId

PostKind = Literal["stud", "tab", "lead"]
Stage = Literal["bench", "aboard"]
SenderKind = Literal["resistance", "pulse", "switch"]
Side = Literal["feed", "ground", "signal", "stop"]
DropClass = Literal["critical", "other"]
WayKind = Literal["switch", "fuse", "breaker", "dimmer", "stop"]
LoadKind = Literal["bulb", "led", "relay", "motor", "resistive"]
Duty = Literal["continuous", "momentary"]

Exemption = Literal["electronics under 1 A", "inside a housing", "pigtail under 7 in"]
"""Why a wire may be thinner than 33 CFR 183.425 Table 5 has it: 183.425(g) frees these from the
table. None of them is free from a fuse, which 183.455 asks for."""


@dataclass(frozen=True, order=True)
class Point:
    """A place behind the panel, 0.1 mm, seen from the back."""

    x_dmm: int
    y_dmm: int
    z_dmm: int


@dataclass(frozen=True)
class GivenWire:
    """A wire that is not cut from our stock: a pigtail, a lead, a boat wire.

    ``carries_ma`` is its own current limit, ``fuse_up_to_ma`` the largest fuse its maker allows
    (0: not stated). ``exempt`` stands on a wire without a row in the ampacity table, thinner than
    18 AWG: the reason why it may be that thin; its ``carries_ma`` is then what it carries.
    """

    wire_size: str
    colour: str
    area_um2: int
    insulation_um: int
    insulation_temp_c: int
    ampacity_size: str
    carries_ma: int = 0
    fuse_up_to_ma: int = 0
    exempt: Exemption | Literal[""] = ""


@dataclass(frozen=True)
class Post:
    """Where wire meets an instrument.

    ``id`` is ``instrument.post``. ``circuit`` is the circuit it belongs to, or "" (a signal, a
    switched load, or nothing). ``link`` names the posts that are one piece of metal inside the
    instrument (a bus bar's studs); "" when it stands alone. ``optional``: the circuit need not
    reach it (an unloaded bus bar). ``thread``/``free_thread_dmm`` for a stud, ``tab_size`` for
    a tab, ``lead`` for a lead (whose ``at`` is its stated end). ``carries_ma`` 0 = none.
    ``reserved`` lugs are kept free on the stud for later, each of ``reserved_tongue_dmm``.
    ``strap`` names the metal of straps it is part of; "" where it is part of none.
    ``lead_length_dmm`` of a lead whose end is chosen: ``at`` is where it leaves (0: its end).
    """

    id: JointId
    instrument: str
    name: str
    kind: PostKind
    function: str
    circuit: str
    at: Point
    link: str = ""
    optional: bool = False
    thread: str = ""
    free_thread_dmm: int = 0
    tab_size: str = ""
    lead: GivenWire | None = None
    lead_fuse_ma: int = 0
    carries_ma: int = 0
    reserved: int = 0
    reserved_tongue_dmm: int = 0
    reserved_angle_deg: int = 0
    live: bool = False
    strap: str = ""
    lead_length_dmm: int = 0

    @property
    def node(self) -> str:
        """The name of its piece of metal: linked posts, and studs straps join. Rule R8."""
        # A colon stands in no name, so no post is called like this.
        return self.strap or (f"{self.instrument} link: {self.link}" if self.link else self.id)


@dataclass(frozen=True)
class Strap:
    """A ready-made strap that joins studs. ``contact_uohm``: of each of its lugs on its stud.

    ``sides``: stud by stud, every post that would hang on it were the strap taken off there.
    """

    name: str
    posts: tuple[JointId, ...]
    thickness_dmm: int
    contact_uohm: int
    carries_ma: int
    sides: tuple[frozenset[JointId], ...]


@dataclass(frozen=True, order=True)
class Hole:
    """A round hole of the plate: for a screw of an instrument, or the plate's own.

    Back view, 0.1 mm. ``what``: grommet, mounting screw; "" for the screw of an instrument.
    """

    x_dmm: int
    y_dmm: int
    diameter_dmm: int
    what: str = ""


@dataclass(frozen=True)
class Mount:
    """What the plate has for an instrument besides a plain round hole. Sizes in 0.1 mm.

    Width, height and corner radius of a rectangular cut-out, width and height of a rectangular
    front rim, before turning (0: round, or none). ``turn_mdeg``: how far they are turned, clockwise
    seen from the front, in 0.001 degrees. ``screws`` are placed on the plate. ``from_back``: the
    bezel is its front part, which passes the hole, and the body its flange, which does not.
    """

    cut_out_width_dmm: int = 0
    cut_out_height_dmm: int = 0
    cut_out_radius_dmm: int = 0
    bezel_width_dmm: int = 0
    bezel_height_dmm: int = 0
    turn_mdeg: int = 0
    screws: tuple[Hole, ...] = ()
    from_back: bool = False


ROUND = Mount()
"""Nothing but a round hole, or none at all."""


@dataclass(frozen=True)
class Instrument:
    """Anything mounted in a cut-out or on standoffs. Diameters and depths in 0.1 mm.

    ``cut_out_dmm`` and ``bezel_dmm`` are of round ones; ``mount`` says what is not round.

    ``positions`` of a device, the first at rest; ``lanyard`` adds ``LANYARD``. ``carries_in_ma``
    is the limit of each of its near posts (0: none stated).
    ``setting`` is what is set on it before it goes in ("": nothing).
    ``centre`` is seen from the back. A round body has ``body_width_dmm`` = 0. ``height`` of the
    body above the panel's back is ``body_depth_dmm`` (0: nothing sticks out).
    """

    name: str
    pattern: str
    centre: Point
    cut_out_dmm: int
    bezel_dmm: int
    body_dmm: int
    body_depth_dmm: int
    body_width_dmm: int = 0
    body_height_dmm: int = 0
    hub_candidate: bool = True
    key_on: str = ""
    positions: tuple[str, ...] = ()
    lanyard: bool = False
    carries_in_ma: int = 0
    ignition_protected: bool = False
    setting: str = ""
    mount: Mount = ROUND


@dataclass(frozen=True)
class Way:
    """A path inside a device from its near post to a far post, which names it (post ids).

    ``closed`` lists the device's positions in which it conducts; empty: always (a fuse, a
    breaker, a dimmer). ``amperes_ma`` rates a fuse or breaker; 0 is an empty holder, an open way,
    and for other kinds says nothing. ``carries_ma`` 0: no limit stated. ``rated_for`` names the
    kinds of load its maker rates it for in full.
    """

    instrument: str
    near: JointId
    far: JointId
    kind: WayKind
    closed: tuple[str, ...] = ()
    carries_ma: int = 0
    amperes_ma: int = 0
    contact_uohm: int = 0
    rated_for: tuple[LoadKind, ...] = ()
    trip_free: bool = False
    as_switch: bool = False
    suits: tuple[LoadKind, ...] = ()

    @property
    def is_fused(self) -> bool:
        """True where what is beyond hangs on a fuse or breaker of its own.

        A breaker counts only if it is trip-free (33 CFR 183.455(a)).
        """
        is_counted = self.kind == "fuse" or (self.kind == "breaker" and self.trip_free)
        return is_counted and self.amperes_ma > 0

    @property
    def is_empty(self) -> bool:
        """True for a fuse holder without a fuse: it never conducts."""
        return self.kind in ("fuse", "breaker") and not self.amperes_ma


@dataclass(frozen=True)
class Load:
    """A load inside an instrument: current from ``feed_post`` to ``ground_post``, in mA.

    ``ground_post`` may be on a signal circuit, by which the current goes on to a sender.
    ``senses``: it is what a dial sends there; no limit of drop is said of it.
    """

    name: str
    feed_post: JointId
    ground_post: JointId
    current_ma: int
    drop_class: DropClass
    kind: LoadKind = "resistive"
    duty: Duty = "continuous"
    senses: bool = False


@dataclass(frozen=True)
class SupplyRun:
    """The run behind a pigtail back to the source. One way, 0.1 mm; conductors run together."""

    one_way_dmm: int
    wire: GivenWire
    conductors: int


@dataclass(frozen=True)
class ReadyRing:
    """A ring that is already on a wire when it comes, with ``wires`` wires in it.

    Others than the wire it is said of are none of this plan's: they come with it.
    """

    thread: str
    tongue_dmm: int
    angle_deg: int
    wires: int = 1


@dataclass(frozen=True)
class Pigtail:
    """A pigtail of the engine harness. ``circuit`` is "" when it is not used.

    ``fuse_ma`` 0 = no fuse: a ground, or a feed whose ``fuse_reason`` says why.
    ``fuse_distance_dmm`` along the conductor from the source. Of a sender's wire, ``entry`` may be
    None (its reach is not judged), and ``own_run_dmm`` is the run that counts in drop, as stated;
    None: all its reach does. ``of_boat``: no pigtail but a wire of the boat, lengthened as such.
    """

    label: str
    circuit: str
    wire: GivenWire
    entry: Point | None
    reach_dmm: int
    stage: Stage
    ring: ReadyRing | None
    fuse_ma: int
    fuse_distance_dmm: int
    to_source: SupplyRun | None
    cap_off: bool = False
    live: bool = False
    fuse_reason: str = ""
    harness: str = "engine"
    own_run_dmm: int | None = None
    of_boat: bool = False


@dataclass(frozen=True)
class Sender:
    """What a signal circuit goes to. ``range`` as stated, "" where it is not; ``stations``: how
    many dials a sender by resistance is made for."""

    kind: SenderKind
    range: str = ""
    stations: int = 1


@dataclass(frozen=True)
class BoatWire:
    """One wire of something that comes aboard. ``entry`` None: reach is not judged.

    ``one_way_dmm`` is the wire's own run from the panel to what it serves (0: not stated).
    ``fuse_ma`` an in-line fuse in this wire (0: none).
    """

    id: WireId
    boat_block: str
    lands_on: JointId
    wire: GivenWire
    ring: ReadyRing | None
    entry: Point | None
    reach_dmm: int
    one_way_dmm: int
    fuse_ma: int
    stage: Stage = "aboard"


@dataclass(frozen=True)
class BoatBlock:
    """A sender, a load or a plug that is connected when the panel is in the boat, or a load at
    the end of a harness's pigtail (its wire's ``stage`` says which).

    ``current_ma`` enters the panel's wiring at ``drawn_from`` (a post of a feed circuit, "" when
    the block draws nothing), leaves by the wire on its signal or load post, and returns by the
    wire that lands on a ground post: ``returns_to`` ("" = it returns elsewhere, as a one-wire
    sender on the engine block does).
    """

    name: str
    wires: tuple[BoatWire, ...]
    current_ma: int
    drawn_from: JointId
    returns_to: JointId
    drop_class: DropClass
    is_sender: bool
    load_kind: LoadKind = "resistive"
    duty: Duty = "continuous"
    maker_fuse_ma: int = 0


@dataclass(frozen=True)
class Circuit:
    """Posts that must be one electrical point.

    It has one kind of supply: a ``pigtail``, ``taken_from`` (the feed circuit it is taken from),
    or ``supplied_by`` (the far post of a way, one of its own posts); the others are None or "".
    Circuits that a way or another circuit supplies are of the harness these are fed from.
    A signal circuit has no supply: its ``pigtail`` is the wire of its ``sender``, whose current
    comes back at ``returns_to`` (a ground post of this panel, "" elsewhere). ``lands_on`` is the
    post that wire is held to ("": any of its posts).
    ``harness`` is the name of the harness its current comes from.
    """

    name: str
    side: Side
    colour: str
    colour_code: str
    taken_from: str
    posts: tuple[JointId, ...]
    pigtail: Pigtail | None
    minimum_area_um2: int
    supplied_by: JointId = NO_JOINT
    harness: str = "engine"
    sender: Sender | None = None
    returns_to: JointId = NO_JOINT
    lands_on: JointId = NO_JOINT


@dataclass(frozen=True)
class KeepOut:
    """A rectangle nothing may cross below ``height_dmm``; back view, 0.1 mm."""

    name: str
    x0_dmm: int
    y0_dmm: int
    x1_dmm: int
    y1_dmm: int
    height_dmm: int


@dataclass(frozen=True)
class TiePoint:
    """A place where the loom is tied; ``to`` names the tie points it leads on to."""

    name: str
    at: Point
    to: tuple[str, ...]


@dataclass(frozen=True)
class Console:
    """One panel, ready to be planned. ``questions`` are to be asked before a part goes in."""

    title: str
    width_dmm: int
    height_dmm: int
    thickness_dmm: int
    nominal_mv: int
    engine_space: bool
    service_travel_dmm: int
    instruments: tuple[Instrument, ...]
    posts: tuple[Post, ...]
    loads: tuple[Load, ...]
    circuits: tuple[Circuit, ...]
    unused_pigtails: tuple[Pigtail, ...]
    boat_blocks: tuple[BoatBlock, ...]
    keep_outs: tuple[KeepOut, ...]
    tie_points: tuple[TiePoint, ...]
    digest: str = ""
    file: str = ""
    notes: tuple[str, ...] = field(default=())
    ways: tuple[Way, ...] = ()
    petrol_behind: bool = True
    holes: tuple[Hole, ...] = ()
    harnesses: tuple[str, ...] = ("engine",)
    questions: tuple[str, ...] = ()
    straps: tuple[Strap, ...] = ()

    def post(self, post_id: str) -> Post:
        """The post of that id. Raises KeyError when there is none."""
        return self._posts_by_id[post_id]

    @cached_property
    def _posts_by_id(self) -> dict[str, Post]:
        return {post.id: post for post in self.posts}

    def way_to(self, far: str) -> Way:
        """The way to that far post. Raises KeyError when there is none."""
        for way in self.ways:
            if way.far == far:
                return way
        raise KeyError(far)

    def circuit(self, name: str) -> Circuit:
        """The circuit of that name. Raises KeyError when there is none."""
        for circuit in self.circuits:
            if circuit.name == name:
                return circuit
        raise KeyError(name)

    def instrument(self, name: str) -> Instrument:
        """The instrument of that name. Raises KeyError when there is none."""
        for instrument in self.instruments:
            if instrument.name == name:
                return instrument
        raise KeyError(name)
