"""The console: a scenario read, looked up and rounded. What every later room works from.

Coordinates are in 0.1 mm, **seen from the back**: origin lower left as you look at the back of
the panel, x right, y up, z height above the panel's back face. The mirroring from the front
has been done when a Console exists.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from lugwright.base.identity import JointId, WireId

PostKind = Literal["stud", "tab", "lead"]
Stage = Literal["bench", "aboard"]
Side = Literal["feed", "ground"]
DropClass = Literal["critical", "other"]


@dataclass(frozen=True, order=True)
class Point:
    """A place behind the panel, 0.1 mm, seen from the back."""

    x_dmm: int
    y_dmm: int
    z_dmm: int


@dataclass(frozen=True)
class GivenWire:
    """A wire that is not cut from our stock: a pigtail, a lead, a boat wire."""

    wire_size: str
    colour: str
    area_um2: int
    insulation_um: int
    insulation_temp_c: int
    ampacity_size: str


@dataclass(frozen=True)
class Post:
    """Where wire meets an instrument.

    ``id`` is ``instrument.post``. ``circuit`` is the circuit it belongs to, or "" (a signal, a
    switched load, or nothing). ``link`` names the posts that are one piece of metal inside the
    instrument (a bus bar's studs); "" when it stands alone. ``optional``: the circuit need not
    reach it (an unloaded bus bar). ``thread``/``free_thread_dmm`` for a stud, ``tab_size`` for
    a tab, ``lead`` for a lead (whose ``at`` is its stated end). ``carries_ma`` 0 = none.
    ``reserved`` lugs are kept free on the stud for later, each of ``reserved_tongue_dmm``.
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


@dataclass(frozen=True)
class Instrument:
    """Anything mounted in a cut-out or on standoffs. Diameters and depths in 0.1 mm.

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


@dataclass(frozen=True)
class Load:
    """A load inside an instrument: current from ``feed_post`` to ``ground_post``, in mA."""

    name: str
    feed_post: JointId
    ground_post: JointId
    current_ma: int
    drop_class: DropClass


@dataclass(frozen=True)
class SupplyRun:
    """The run behind a pigtail back to the source. One way, 0.1 mm; conductors run together."""

    one_way_dmm: int
    wire: GivenWire
    conductors: int


@dataclass(frozen=True)
class ReadyRing:
    """A ring that is already on a wire when it comes."""

    thread: str
    tongue_dmm: int
    angle_deg: int


@dataclass(frozen=True)
class Pigtail:
    """A pigtail of the engine harness. ``circuit`` is "" when it is not used.

    ``fuse_ma`` 0 = no fuse: a ground, or a feed whose ``fuse_reason`` says why.
    ``fuse_distance_dmm`` along the conductor from the source.
    """

    label: str
    circuit: str
    wire: GivenWire
    entry: Point
    reach_dmm: int
    stage: Stage
    ring: ReadyRing | None
    fuse_ma: int
    fuse_distance_dmm: int
    to_source: SupplyRun | None
    cap_off: bool = False
    live: bool = False
    fuse_reason: str = ""


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


@dataclass(frozen=True)
class BoatBlock:
    """A sender, a load or a plug that is connected when the panel is in the boat.

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


@dataclass(frozen=True)
class Circuit:
    """Posts that must be one electrical point.

    ``taken_from`` is the feed circuit it is taken from, or "" when it has a pigtail of its own.
    """

    name: str
    side: Side
    colour: str
    colour_code: str
    taken_from: str
    posts: tuple[JointId, ...]
    pigtail: Pigtail | None
    minimum_area_um2: int


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
    """One panel, ready to be planned."""

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

    def post(self, post_id: str) -> Post:
        """The post of that id. Raises KeyError when there is none."""
        return self._posts_by_id[post_id]

    @cached_property
    def _posts_by_id(self) -> dict[str, Post]:
        return {post.id: post for post in self.posts}

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
