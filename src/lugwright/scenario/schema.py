"""The scenario as a rigger writes it. Cut-outs, entries and tie points are seen from the front.

The descriptions below are what an editor shows; ``json_schema.py`` writes them out.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, field_validator, model_validator

from lugwright.scenario.console import DropClass, Duty, LoadKind, SenderKind, Stage
from lugwright.scenario.fields import (
    Colour,
    Count,
    Current,
    Degrees,
    Fuse,
    Height,
    Landing,
    LandsOn,
    Length,
    Line,
    Name,
    Part,
    Place,
    PositiveCurrent,
    PositiveHeight,
    PositiveLength,
    Resistance,
    ReturnsTo,
    SenderRange,
    SizeStandard,
    Temperature,
    Title,
    WireSize,
    YesNo,
)
from lugwright.scenario.left_out import cannot_be_said
from lugwright.scenario.pattern_schema import (
    OwnWirePart,
    PatternPart,
    PostChange,
    RingPart,
    SupplyRunPart,
)

# Finding the wires' ways takes time with the cube of what stands behind the panel: beyond this it
# would take longer than anyone waits before a plan is looked for.
MOST_INSTRUMENTS = 60
Use = Literal["instruments", "lights", "navigation", "pumps", "blower", "start", "accessories"]


def _sender(value: Any) -> Any:
    if value == "excite":
        raise ValueError(cannot_be_said("an excite wire"))
    return value


def _supplied_by(value: Any) -> Any:
    if isinstance(value, list):
        raise ValueError(cannot_be_said("a circuit that several ways supply"))
    return value


Role = Literal["supply", "load", "signal", "stop"]
Sends = Annotated[SenderKind, BeforeValidator(_sender)]
Stations = Annotated[Count, Field(ge=1, le=10)]
SuppliedBy = Annotated[Landing, BeforeValidator(_supplied_by)]


class HolePart(Part):
    """A round hole of the plate itself: for a grommet, a mounting screw, a pipe."""

    at: Place
    """x and y from the plate's lower left corner, seen from the front."""
    diameter: PositiveLength
    """Diameter of the hole in the plate."""
    what: Name
    """What goes through it or holds it: grommet, mounting screw."""


class PanelPart(Part):
    """The plate."""

    width: PositiveLength
    """Width of the plate, seen from the front."""
    height: PositiveLength
    """Height of the plate."""
    thickness: PositiveHeight
    """Thickness of the plate."""
    holes: tuple[HolePart, ...] = Field(default=(), max_length=100)
    """Its own holes: mounting screws, grommets."""
    petrol_behind: YesNo = True
    """Whether the space behind it is shared with a petrol engine, tank or line; true when not
    stated. false where a bulkhead, a deck or 2 ft of open space parts them."""


class InstrumentPart(Part):
    """One instrument: a dial, switch, receptacle or bus bar."""

    name: Name
    """Your name for it; jumpers and posts are named by it."""
    pattern: str | None = Field(default=None, max_length=60)
    """Name of its pattern in the instrument library."""
    geometry: PatternPart | None = None
    """Its hole, body, posts and loads, instead of a pattern."""
    centre: Place
    """Where its centre is, x and y from the plate's lower left corner, seen from the front."""
    turn: Degrees = Fraction(0)
    """How far it is turned, clockwise as seen from the front."""
    feeds: dict[Name, Name] = Field(default_factory=dict)
    """Which circuit a post belongs to, where its function does not say so: second = "ignition".
    "spare" leaves a post without a wire."""
    amperes: dict[Name, PositiveCurrent] = Field(default_factory=dict)
    """Ratings of the fuses or breakers in a device, by far post: f1 = "5 A". A holder without
    one is empty."""
    reserve: dict[Name, Annotated[Count, Field(ge=1, le=20)]] = Field(default_factory=dict)
    """How many lugs to keep free on a stud for later: ground = 1."""
    posts: dict[Name, PostChange] = Field(default_factory=dict)
    """What differs from the pattern, post by post."""
    loads: dict[Name, PositiveCurrent] = Field(default_factory=dict)
    """Currents that differ from the pattern, load by load: lamp = "40 mA"."""
    hub_candidate: YesNo | None = None
    """Whether the supply may land here; as the pattern has it when not stated."""
    key_on: Line | None = None
    """What must be seen when the key is turned on; as the pattern has it when not stated."""
    range: SenderRange | None = None
    """Which senders the dial is made for: "240-33 ohm"."""
    setting: Line = ""
    """What is set on it before it goes in: "pulses as the engine's plate says"."""


class PigtailPart(OwnWirePart):
    """One pigtail of a harness."""

    circuit: Name | None = None
    """The circuit it supplies, or with role = "load" the one it draws from; absent when it is not
    used."""
    role: Role = "supply"
    """supply, load (it feeds something in the boat), signal (a sender's wire), or stop (it stops
    the engine by going to ground)."""
    label: Name | None = None
    """What its label says; the circuit's name when not stated."""
    colour: Colour
    """Colour of its wire."""
    wire_size: WireSize | None = None
    """Size of its wire; may be left out on a pigtail that is capped off."""
    size_standard: SizeStandard = "AWG"
    """By which standard the size is meant: AWG, SAE or metric."""
    insulation: Temperature = 105
    """Insulation rating; 105 C when not stated (common practice, no source)."""
    reach: PositiveLength | None = None
    """Its length from where it comes in; may be left out on a pigtail that is capped off."""
    fuse: Fuse | None = None
    """Rating of the fuse that protects it, stated on every feed; "none" only with fuse_reason.
    A ground has none, and leaves the key out."""
    fuse_reason: Line | None = None
    """Why this feed has no fuse, beside fuse = "none"; every sheet prints it."""
    fuse_distance: Length = Fraction(0)
    """How far along the wire the fuse is from its source of current."""
    to_source: SupplyRunPart | None = None
    """The run behind it, back to the source."""
    ring: RingPart | None = None
    """A ring that is already on it."""
    stage: Stage = "bench"
    """When it is landed: bench, or aboard."""
    cap_off: YesNo = False
    """True: it is not used; its end is insulated and it is tied back."""
    live: YesNo | None = None
    """Stated on a pigtail that is capped off: true where it is live (it is capped first)."""
    lands_on: LandsOn | None = None
    """The post a load's pigtail lands on; where its circuit has one post, that one. Of a sender's
    pigtail the post of its dial, or the signal circuit on any post of which it may land."""
    sender: Sends | None = None
    """What a signal pigtail's sender works by: resistance, pulse or switch."""
    range: SenderRange | None = None
    """The range of that sender: "240-33 ohm"."""
    stations: Stations = 1
    """How many dials that sender is made for; 1 when not stated."""
    current: PositiveCurrent | None = None
    """Worst-case current of what a load's pigtail feeds, or through a sender for each instrument;
    a sender's is 0.25 A when not stated."""
    duty: Duty = "continuous"
    """continuous or momentary, of what a load's pigtail feeds."""
    load_kind: LoadKind | None = None
    """What a load's pigtail feeds: bulb, led, relay, motor or resistive."""
    maker_fuse: PositiveCurrent | None = None
    """The fuse that the maker of what a load's pigtail feeds asks for."""
    drop_class: DropClass = "other"
    """Which voltage-drop limit that load falls under: critical or other."""
    returns_to: ReturnsTo | None = None
    """Where its current comes back: a post here, "engine" or "boat"."""
    one_way: Length = Fraction(0)
    """Run of a load's pigtail from the panel to what it feeds; 0 when not to be counted."""


class HarnessPart(Part):
    """A harness and where it comes in."""

    name: Name = "engine"
    """Your name for it; engine when not stated. Of several each has its own."""
    entry: Place
    """Where its pigtails come in, x and y seen from the front."""
    entry_height: Height = Fraction(0)
    """Height of that place above the panel's back."""
    pigtails: tuple[PigtailPart, ...] = Field(min_length=1, max_length=50)
    """Its pigtails, used or not."""


class BoatWirePart(OwnWirePart):
    """One wire of what comes aboard."""

    lands_on: LandsOn
    """The post it lands on: "fuel.signal"; or the signal circuit, on any post of which it may."""
    wire_size: WireSize
    """Size of the wire."""
    colour: Colour
    """Colour of the wire."""
    size_standard: SizeStandard = "AWG"
    """By which standard the size is meant: AWG, SAE or metric."""
    insulation: Temperature = 105
    """Insulation rating; 105 C when not stated (common practice, no source)."""
    ring: RingPart | None = None
    """A ring that is already on it."""
    entry: Place | None = None
    """Where it comes in, seen from the front; with it the reach is judged."""
    entry_height: Height = Fraction(0)
    """Height of that place above the panel's back."""
    reach: PositiveLength | None = None
    """Its length from where it comes in."""
    one_way: Length = Fraction(0)
    """Its own run from the panel to what it serves; 0 when not to be counted."""
    fuse: PositiveCurrent | None = None
    """Rating of an in-line fuse in this wire."""


class BoatWiresPart(Part):
    """A sender, a load or a plug that is connected when the panel is in the boat."""

    name: Name
    """Your name for it."""
    role: Literal["load", "signal"] | None = None
    """load or signal (a sender). Signal where sender is stated or one of its wires lands on a
    signal post, load on the load post of a switch; else to be stated."""
    sender: Sends | None = None
    """What a sender works by: resistance, pulse or switch. To be stated where instruments share it
    and where a lamp or buzzer works by it."""
    range: SenderRange | None = None
    """The range of a sender: "240-33 ohm"."""
    stations: Stations = 1
    """How many dials a sender is made for; 1 when not stated."""
    current: Current | None = None
    """Its worst-case current; a sender's, for each instrument, is 0.25 A when not stated."""
    drop_class: DropClass = "other"
    """Which voltage-drop limit a load falls under: critical or other."""
    duty: Duty = "continuous"
    """continuous or momentary."""
    load_kind: LoadKind | None = None
    """What it is: bulb, led, relay, motor or resistive (when not stated)."""
    maker_fuse: PositiveCurrent | None = None
    """The fuse that its maker asks for."""
    returns_to: ReturnsTo | None = None
    """Where its current comes back, if not by a wire of its own to a ground post: a post here,
    "engine" or "boat"."""
    wires: tuple[BoatWirePart, ...] = Field(min_length=1, max_length=20)
    """Its wires."""


class CircuitPart(Part):
    """A further feed, or what differs from the usual in a known circuit."""

    name: Name
    """Name of the circuit."""
    side: Literal["feed", "ground"] | None = None
    """feed or ground. To be stated, unless the circuit is named ignition, ground or lamps, is
    taken from another, is supplied by a way, or has a pigtail with a fuse (a feed) or for a
    stop."""
    use: Use | None = None
    """What it serves, which gives its jumpers' colour: instruments, lights, navigation, pumps,
    blower, start or accessories. To be stated where a way supplies it, unless it is named ignition
    or lamps or its colour is stated."""
    colour: Colour | None = None
    """Colour of its jumpers; by the published colour standard when not stated."""
    taken_from: Name | None = None
    """The circuit it is taken from, where it has no pigtail of its own."""
    supplied_by: SuppliedBy | None = None
    """The far post of a device's way that supplies it: "key.ign"."""
    minimum_size: WireSize | None = None
    """The smallest wire its jumpers may have."""


class KeepOutPart(Part):
    """A rectangle behind the panel that wires go round."""

    name: Name
    """Your name for it."""
    corners: tuple[Place, Place]
    """Two opposite corners, seen from the front."""
    height: PositiveLength
    """How far it stands out behind the panel."""


class TiePointPart(Part):
    """A place where the loom is tied."""

    name: Name
    """Your name for it."""
    at: Place
    """x and y, seen from the front."""
    height: Height = Fraction(0)
    """Height above the panel's back."""
    links: tuple[Name, ...] = Field(default=(), max_length=40)
    """The tie points it leads on to. One side naming the other is enough."""


class StrapPart(Part):
    """A ready-made strap or bar that joins studs: one lug of it on each, put on at the bench."""

    name: Name
    """Your name for it."""
    posts: tuple[Landing, ...] = Field(min_length=2, max_length=12)
    """The studs it joins, of one circuit."""
    thickness: PositiveLength
    """Thickness of its metal on a stud, which counts in the stud's thread."""
    contact: Resistance = 0
    """Resistance of each of its lugs on its stud; 0 where it is not stated."""
    carries: PositiveCurrent | None = None
    """The largest current it may carry from any of its studs."""


class HoldPart(Part):
    """One thing held beforehand."""

    hub: Name | None = None
    """The instrument on which the supply lands."""
    jumper: str | None = Field(default=None, min_length=1, max_length=200)
    """A jumper that must be, between two posts: "fuel.ground > depth.ground"."""
    no_jumper: str | None = Field(default=None, min_length=1, max_length=200)
    """A jumper that must not be, between two posts."""
    last: Landing | None = None
    """A post from which no jumper goes on."""
    no_splice: YesNo | None = None
    """true: no splice is used."""
    size: WireSize | None = None
    """The wire size of a circuit's jumpers; name the circuit beside it."""
    circuit: Name | None = None
    """The circuit whose size is held."""

    @model_validator(mode="after")
    def _one_thing(self) -> HoldPart:
        if len(self._keys()) != 1:
            raise ValueError(
                "one thing is held in each [[hold]]: hub, jumper, no_jumper, last, no_splice, or "
                "size with its circuit"
            )
        if self.no_splice is False:
            raise ValueError("no_splice is held by writing true; leave it out otherwise")
        if (self.size is None) != (self.circuit is None):
            raise ValueError("size and circuit are held together")
        return self

    def _keys(self) -> list[str]:
        named = ("hub", "jumper", "no_jumper", "last", "no_splice", "size")
        return [name for name in named if getattr(self, name) is not None]

    @property
    def key(self) -> str:
        """The key that says what is held."""
        return self._keys()[0]

    @property
    def what(self) -> str:
        """The same as the command line has it."""
        return self.key.replace("_", "-")

    @property
    def text(self) -> str:
        """What is held, as the command line has it."""
        if self.no_splice:
            return ""
        return f"{self.circuit}: {self.size}" if self.size else str(getattr(self, self.key))


class ServicePart(Part):
    """How the panel is taken off for service."""

    travel: Length = Fraction(0)
    """How far the panel is pulled out or hinged; every pigtail must follow."""


class ScenarioPart(Part):
    """One console: the panel, what is mounted in it, and what it is wired to."""

    title: Title
    """One line that names the console."""
    rule_set: str = Field(default="usual", min_length=1, max_length=200)
    """A built-in rule set, or the shop's own limits file."""
    voltage: Literal["12 V", "24 V"] = "12 V"
    """Nominal voltage."""
    engine_space: YesNo = False
    """True where the wiring runs in an engine space: ampacity is then lower."""
    panel: PanelPart
    """The plate."""
    instrument: tuple[InstrumentPart, ...] = Field(min_length=1, max_length=MOST_INSTRUMENTS)
    """What is mounted."""
    harness: tuple[HarnessPart, ...] = Field(min_length=1, max_length=10)
    """The harnesses whose pigtails supply the panel: one for each engine, one for the house."""
    boat_wires: tuple[BoatWiresPart, ...] = Field(default=(), max_length=100)
    """What comes aboard: senders, loads, plugs."""
    circuit: tuple[CircuitPart, ...] = Field(default=(), max_length=20)
    """Further feeds, and what differs in known circuits."""
    keep_out: tuple[KeepOutPart, ...] = Field(default=(), max_length=20)
    """Rectangles that wires go round."""
    tie_point: tuple[TiePointPart, ...] = Field(default=(), max_length=40)
    """Where the loom is tied. With tie points every path runs along them."""
    strap: tuple[StrapPart, ...] = Field(default=(), max_length=20)
    """Ready-made straps that join studs of several instruments."""
    hold: tuple[HoldPart, ...] = Field(default=(), max_length=200)
    """What is held beforehand; each is reported with what it costs."""
    service: ServicePart = ServicePart()
    """Taking the panel off."""
    waiver: tuple[dict[str, Any], ...] = Field(default=(), max_length=200)
    """Limits loosened for one place each, on the record (read by ``limits.waivers``)."""
    limits: dict[str, Any] = Field(default_factory=dict)
    """Limits that differ from the rule set for this console."""

    @field_validator("harness")
    @classmethod
    def _each_named(cls, harness: tuple[HarnessPart, ...]) -> tuple[HarnessPart, ...]:
        names = [one.name for one in harness]
        if len(set(names)) < len(names):
            raise ValueError(
                'each [[harness]] has a name of its own: name = "port", name = "starboard"'
            )
        return harness
