"""The panel as it stands in a plan: everything drawings, templates and test sheets need.

Places are in 0.1 mm, **seen from the back**: origin lower left as you look at the back, x right,
y up, z height above the panel's back. Seen from the front x is ``width_dmm - x_dmm``.
A plan repeats all this so that paper can be made from it alone.
"""

from __future__ import annotations

from typing import Any, Literal

from pydantic import SerializerFunctionWrapHandler, model_serializer

from lugwright.base.identity import JointId
from lugwright.plans.record import Record

Stage = Literal["bench", "aboard"]


class PanelHole(Record):
    """A round hole of the plate. ``what`` goes through it; "" for an instrument's screw."""

    x_dmm: int
    y_dmm: int
    diameter_dmm: int
    what: str = ""


class PanelMount(Record):
    """What the plate has for an instrument besides a plain round hole. Sizes in 0.1 mm.

    Width, height and corner radius of a rectangular cut-out, width and height of a rectangular
    bezel, before turning (0: round, or none). ``turn_mdeg``: how far they are turned, clockwise
    seen from the front, in 0.001 degrees. ``from_back``: the bezel is its front part, which passes
    the hole, and the body its flange, which does not.
    """

    cut_out_width_dmm: int = 0
    cut_out_height_dmm: int = 0
    cut_out_radius_dmm: int = 0
    bezel_width_dmm: int = 0
    bezel_height_dmm: int = 0
    turn_mdeg: int = 0
    screws: tuple[PanelHole, ...] = ()
    from_back: bool = False


ROUND = PanelMount()


class PanelInstrument(Record):
    """An instrument on the plate; a round body has ``body_width_dmm`` 0. Sizes in 0.1 mm.

    ``cut_out_dmm`` and ``bezel_dmm`` are of round ones; ``mount`` says what is not round, and is
    written only where something is. ``key_on``: what it must do at key-on, in words.
    ``positions`` of a device, the first at rest; ``lanyard``: it has a kill lanyard besides.
    ``carries_in_ma`` is the limit of each of its near posts, 0 where none is stated.
    """

    name: str
    pattern: str
    x_dmm: int
    y_dmm: int
    cut_out_dmm: int
    bezel_dmm: int
    body_dmm: int
    body_depth_dmm: int
    body_width_dmm: int
    body_height_dmm: int
    key_on: str
    hub_candidate: bool
    positions: tuple[str, ...] = ()
    lanyard: bool = False
    carries_in_ma: int = 0
    ignition_protected: bool = False
    setting: str = ""
    mount: PanelMount = ROUND

    @property
    def is_cut_in(self) -> bool:
        """Whether the plate is cut for it, as it is not for what stands on standoffs."""
        return bool(self.cut_out_dmm or self.mount.cut_out_width_dmm)

    @model_serializer(mode="wrap")
    def _written(self, written: SerializerFunctionWrapHandler) -> dict[str, Any]:
        facts: dict[str, Any] = written(self)
        if self.mount == ROUND:
            del facts["mount"]
        return facts


class PanelPost(Record):
    """A post: a stud, a tab, or the stated end of a lead (``lead_*``: the lead's own wire).

    ``circuit`` "" is a signal, a switched load, or nothing. ``link`` names posts that are one
    piece of metal. ``demand_ma`` is what the post draws or returns with everything on.
    ``carries`` names the blocks of boat wires that land on it.
    """

    id: str
    instrument: str
    name: str
    kind: Literal["stud", "tab", "lead"]
    function: str
    circuit: str
    x_dmm: int
    y_dmm: int
    z_dmm: int
    link: str
    optional: bool
    thread: str
    free_thread_dmm: int
    tab_size: str
    lead_size: str
    lead_colour: str
    lead_colour_code: str
    reserved: int
    live: bool
    demand_ma: int
    carries: tuple[str, ...]


class PanelStrap(Record):
    """A ready-made strap between studs; ``contact_uohm`` of each of its lugs, ``carries_ma`` 0: not
    stated."""

    name: str
    posts: tuple[JointId, ...]
    thickness_dmm: int
    contact_uohm: int
    carries_ma: int


class PanelKeepOut(Record):
    """A rectangle nothing may cross below ``height_dmm``."""

    name: str
    x0_dmm: int
    y0_dmm: int
    x1_dmm: int
    y1_dmm: int
    height_dmm: int


class PanelTiePoint(Record):
    """A place where the loom is tied; ``to`` names the tie points it leads on to."""

    name: str
    x_dmm: int
    y_dmm: int
    z_dmm: int
    to: tuple[str, ...]


class PanelEntry(Record):
    """Where a wire from outside comes to the panel. ``wire`` as in ``Given.wire``.

    An unused pigtail has ``circuit`` "". ``reach_dmm`` 0: not stated.
    """

    wire: str
    circuit: str
    stage: Stage
    x_dmm: int
    y_dmm: int
    z_dmm: int
    reach_dmm: int
    colour: str
    colour_code: str
    wire_size: str


class PanelCircuit(Record):
    """A circuit and what feeds it. Resistances in µΩ at the limits' conductor temperature.

    ``pigtail_uohm`` is over its full reach, ``run_uohm`` one way from the source; both 0 for a
    circuit that is taken from another, or supplied by a way (``supplied_by`` is its far post).
    ``fuse_ma`` 0: none stated. Of a signal circuit ``pigtail`` is the wire of its sender, which
    works by ``sender`` (resistance, pulse or switch); its current comes back at ``returns_to``
    (a ground post, "" elsewhere). Both are written of signal circuits only.
    """

    name: str
    side: Literal["feed", "ground", "signal", "stop"]
    taken_from: str
    posts: tuple[str, ...]
    pigtail: str
    pigtail_uohm: int
    run_uohm: int
    fuse_ma: int
    supplied_by: str = ""
    sender: str = ""
    returns_to: str = ""

    @model_serializer(mode="wrap")
    def _written(self, written: SerializerFunctionWrapHandler) -> dict[str, Any]:
        facts: dict[str, Any] = written(self)
        if not self.sender:
            del facts["sender"], facts["returns_to"]
        return facts


class PanelWay(Record):
    """A path inside a device from ``near`` to ``far`` (posts).

    ``closed`` lists the positions in which it conducts; none: always. ``amperes_ma`` 0 on a fuse
    or breaker is an empty holder.
    """

    instrument: str
    near: str
    far: str
    kind: Literal["switch", "fuse", "breaker", "dimmer", "stop"]
    closed: tuple[str, ...]
    amperes_ma: int
    contact_uohm: int

    @property
    def conducts(self) -> bool:
        """False for an empty holder: it never does."""
        return self.kind not in ("fuse", "breaker") or self.amperes_ma > 0


class PanelLoad(Record):
    """A load inside an instrument: current from one post to another, mA. ``senses``: what a dial
    sends to the sender on its signal circuit; written only where it is so.
    """

    name: str
    feed_post: str
    ground_post: str
    current_ma: int
    kind: str = "resistive"
    duty: str = "continuous"
    senses: bool = False

    @model_serializer(mode="wrap")
    def _written(self, written: SerializerFunctionWrapHandler) -> dict[str, Any]:
        facts: dict[str, Any] = written(self)
        if not self.senses:
            del facts["senses"]
        return facts


class PanelBoatBlock(Record):
    """What is connected aboard. ``lands_on`` holds the post of each of its ``wires``.

    Its current enters the panel's wiring at ``drawn_from`` and comes back at ``returns_to``
    ("" where it returns elsewhere).
    """

    name: str
    is_sender: bool
    current_ma: int
    drawn_from: str
    returns_to: str
    wires: tuple[str, ...]
    lands_on: tuple[str, ...]


class PanelFuse(Record):
    """A stated fuse: the wire it is in, ``Given.wire`` or ``lead POST``, and its rating.

    ``by_maker``: the wires it protects by their maker's word, in place of a share of ampacity.
    """

    wire: str
    fuse_ma: int
    by_maker: tuple[str, ...] = ()


class Panel(Record):
    """The whole panel. ``crimp_uohm`` is the resistance of one crimp, ``edge_margin_dmm`` the
    least distance from a hole to the plate's edge, ``full_size_side_dmm`` the longest side of a
    drawing that is made at 1:1 unasked, all as the limits have them. ``holes`` are the plate's
    own; they and ``straps`` are written only where there are any.
    """

    width_dmm: int
    height_dmm: int
    thickness_dmm: int
    nominal_mv: int
    service_travel_dmm: int
    conductor_temp_c: int
    crimp_uohm: int
    edge_margin_dmm: int
    full_size_side_dmm: int
    instruments: tuple[PanelInstrument, ...]
    posts: tuple[PanelPost, ...]
    keep_outs: tuple[PanelKeepOut, ...]
    tie_points: tuple[PanelTiePoint, ...]
    entries: tuple[PanelEntry, ...]
    circuits: tuple[PanelCircuit, ...]
    loads: tuple[PanelLoad, ...]
    boat_blocks: tuple[PanelBoatBlock, ...]
    fuses: tuple[PanelFuse, ...] = ()
    ways: tuple[PanelWay, ...] = ()
    holes: tuple[PanelHole, ...] = ()
    straps: tuple[PanelStrap, ...] = ()

    @model_serializer(mode="wrap")
    def _written(self, written: SerializerFunctionWrapHandler) -> dict[str, Any]:
        facts: dict[str, Any] = written(self)
        for name in ("holes", "straps"):
            if not getattr(self, name):
                del facts[name]
        return facts
