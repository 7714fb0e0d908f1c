"""The pattern of an instrument: its hole, its body, its posts and what it draws.

A pattern stands in the library (``patterns/NAME.toml``) or inline in a scenario, under
``geometry``. Places of posts are seen from the back, relative to the centre, before turning.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field, model_validator

from lugwright.base.letters import look
from lugwright.scenario.console import DropClass, Duty, Exemption, LoadKind, PostKind
from lugwright.scenario.fields import (
    Colour,
    Count,
    Degrees,
    Length,
    Line,
    Name,
    Part,
    Place,
    PositiveCurrent,
    PositiveHeight,
    PositiveLength,
    SizeStandard,
    TabSize,
    Temperature,
    Thread,
    WireSize,
    YesNo,
)
from lugwright.scenario.rims import rim_faults
from lugwright.scenario.way_schema import WayPart

SPARE = "spare"
"""Written instead of a circuit for a post that stays without a wire."""


class OwnWirePart(Part):
    """What the maker of a wire says of it."""

    carries: PositiveCurrent | None = None
    """Its own current limit. A wire thinner than 18 AWG has no other, and states it."""
    exempt: Exemption | None = None
    """Why it may be thinner than 18 AWG, by 33 CFR 183.425(g): "electronics under 1 A", "inside a
    housing" or "pigtail under 7 in". None of them is exempt from a fuse."""
    fuse_up_to: PositiveCurrent | None = None
    """The largest fuse its maker allows before it, in place of a share of its ampacity. That is
    practice, not law, and the sheets say so."""


class LeadPart(OwnWirePart):
    """The flying wire of a lead."""

    wire_size: WireSize
    """Size of the lead's own wire."""
    colour: Colour
    """Colour of the lead's own wire."""
    size_standard: SizeStandard = "AWG"
    """By which standard the size is meant: AWG, SAE or metric."""
    insulation: Temperature = 80
    """Insulation rating; 80 C when not stated (common practice, no source)."""
    fuse: PositiveCurrent | None = None
    """Rating of an in-line fuse in the lead."""
    length: PositiveLength | None = None
    """Length of its wire from where it leaves the instrument, which is then what the post's place
    says; where its end goes is chosen. Not stated: the place is that of its end."""


class PostPart(Part):
    """A post: a stud, a tab or a lead. Its place is seen from the back."""

    kind: PostKind
    """stud (threaded), tab (male blade) or lead (flying wire)."""
    function: Name
    """ignition, ground, lamp, signal, second, load, or the name of a further feed's circuit; near
    and far at a device's way, where feeds says which circuits they are on."""
    at: Place
    """x and y from the instrument's centre, seen from the back, before it is turned;
    for a lead the end of its wire."""
    height: PositiveHeight
    """Height above the panel's back at which wire meets the post."""
    thread: Thread | None = None
    """Thread of a stud."""
    free_thread: PositiveLength | None = None
    """Free thread of a stud above the instrument's own mounting nut."""
    tab: TabSize | None = None
    """Width and thickness of a tab."""
    lead: LeadPart | None = None
    """The flying wire of a lead."""
    link: Name | None = None
    """Posts of an instrument with the same link are one piece of metal inside it."""
    optional: YesNo = False
    """True: the circuit need not reach this post while nothing is connected to it."""
    carries: PositiveCurrent | None = None
    """The post's own current limit."""
    live: YesNo = False
    """True: the post is live even with the key off, and gets a boot."""

    @model_validator(mode="after")
    def _fits_its_kind(self) -> PostPart:
        wanted = {"stud": ("thread", "free_thread"), "tab": ("tab",), "lead": ("lead",)}
        own = wanted[self.kind]
        absent = [name for name in own if getattr(self, name) is None]
        foreign = [
            name
            for kind, names in wanted.items()
            if kind != self.kind
            for name in names
            if getattr(self, name) is not None
        ]
        if absent:
            raise ValueError(f"a {self.kind} needs {' and '.join(absent)}")
        if foreign:
            raise ValueError(f"a {self.kind} has no {' and no '.join(foreign)}")
        return self


class LoadPart(Part):
    """What the instrument draws between two of its posts."""

    name: Name
    """Name of the load: movement, lamp, display."""
    feed: Name
    """Post where the current comes in."""
    ground: Name
    """Post where it goes out."""
    current: PositiveCurrent
    """Worst-case current at the nominal voltage."""
    drop_class: DropClass = "critical"
    """Which voltage-drop limit it falls under: critical or other."""
    load_kind: LoadKind | None = None
    """What it is: bulb, led (feed is plus), relay, motor or resistive."""
    duty: Duty = "continuous"
    """continuous or momentary."""


class ScrewPart(Part):
    """A hole for a screw that holds a bar, a block or a switch to the plate."""

    at: Place
    """x and y from the instrument's centre, seen from the back, before it is turned."""
    diameter: PositiveLength
    """Diameter of the hole in the plate."""


class PatternPart(Part):
    """Hole, body, posts and loads of an instrument."""

    about: Line = ""
    """What it is, in a line."""
    cut_out: PositiveLength | None = None
    """Diameter of a round hole; no cut-out at all for what stands on standoffs."""
    cut_out_width: PositiveLength | None = None
    """Width of a rectangular hole, before turning."""
    cut_out_height: PositiveLength | None = None
    """Height of a rectangular hole, before turning."""
    cut_out_radius: Length = Fraction(0)
    """Radius of the corners of a rectangular hole; 0 when not stated."""
    bezel: PositiveLength | None = None
    """Diameter of a round front rim."""
    bezel_width: PositiveLength | None = None
    """Width of a rectangular front rim, before turning."""
    bezel_height: PositiveLength | None = None
    """Height of a rectangular front rim, before turning."""
    screws: tuple[ScrewPart, ...] = Field(default=(), max_length=20)
    """Holes for the screws that hold it to the plate."""
    mounted_from: Literal["front", "back"] = "front"
    """From which side it goes into its hole. back: the bezel is its front part, which passes the
    hole, and the body its flange, which does not."""
    body: PositiveLength | None = None
    """Diameter of a round body behind the panel."""
    body_width: PositiveLength | None = None
    """Width of a rectangular body, before turning."""
    body_height: PositiveLength | None = None
    """Height of a rectangular body, before turning."""
    body_depth: PositiveHeight
    """How far the body sticks out behind the panel."""
    hub_candidate: YesNo = True
    """True: the supply may land here and be jumped on."""
    key_on: Line = ""
    """What must be seen when the key is turned on."""
    posts: dict[Name, PostPart] = Field(min_length=1, max_length=100)
    """The posts by name."""
    loads: tuple[LoadPart, ...] = Field(default=(), max_length=100)
    """What it draws."""
    positions: tuple[Name, ...] = Field(default=(), max_length=12)
    """Positions of a device, one at a time; the first is at rest."""
    lanyard: Literal["grounds"] | None = None
    """grounds: a lanyard pulled out puts a stop circuit to ground; it adds the positions "lanyard
    in" and "lanyard out", free of the others."""
    ways: tuple[WayPart, ...] = Field(default=(), max_length=40)
    """What a device passes on, from which post to which."""
    carries_in: PositiveCurrent | None = None
    """The most current that may come in at each near post."""
    ignition_protected: YesNo = False
    """True for a device that may stand where petrol vapour can be."""

    @model_validator(mode="after")
    def _is_whole(self) -> PatternPart:
        round_body = self.body is not None
        square_body = self.body_width is not None and self.body_height is not None
        if round_body == square_body or (self.body_width is None) != (self.body_height is None):
            raise ValueError("state either body (round) or both body_width and body_height")
        if faults := list(rim_faults(self)):
            raise ValueError("; ".join(faults))
        self._check_loads()
        if len(set(map(look, self.posts))) < len(self.posts):
            raise ValueError("two posts have names that look the same on paper")
        return self

    def _check_loads(self) -> None:
        names = [load.name for load in self.loads]
        if len(set(names)) != len(names):
            raise ValueError("two loads have the same name")
        for load in self.loads:
            for end in (load.feed, load.ground):
                if end not in self.posts:
                    posts = ", ".join(sorted(self.posts))
                    raise ValueError(f'load "{load.name}" names no post "{end}"; posts: {posts}')
            if load.feed == load.ground:
                raise ValueError(f'load "{load.name}" starts and ends at one post')


class PostChange(Part):
    """What differs at one post from the pattern. Absent keys stay as the pattern has them."""

    at: Place | None = None
    """x and y from the centre, seen from the back, before turning."""
    height: PositiveHeight | None = None
    """Height above the panel's back."""
    thread: Thread | None = None
    """Thread of a stud."""
    free_thread: PositiveLength | None = None
    """Free thread of a stud above the instrument's own mounting nut."""
    tab: TabSize | None = None
    """Width and thickness of a tab."""
    carries: PositiveCurrent | None = None
    """The post's own current limit."""
    optional: YesNo | None = None
    """True: the circuit need not reach it while nothing is connected to it."""
    live: YesNo | None = None
    """True: live even with the key off."""


class RingPart(Part):
    """A ring that is already crimped on a wire."""

    thread: Thread
    """Thread it fits."""
    tongue: PositiveLength = Fraction(4, 5)
    """Thickness of its tongue; 0.8 mm when not stated (0.03 in, as red and blue rings)."""
    angle: Degrees = Fraction(60)
    """Room its barrel needs round the stud; 60 deg when not stated (common practice, no source)."""
    wires: Annotated[Count, Field(ge=1, le=4)] = 1
    """How many wires are in it; 1 when not stated. Counted where a limit counts conductors."""


class SupplyRunPart(Part):
    """The run behind a pigtail, back to the source."""

    one_way: PositiveLength
    """Length one way."""
    wire_size: WireSize
    """Size of its wire."""
    colour: Colour | None = None
    """Colour of its wire; that of the pigtail when not stated."""
    size_standard: SizeStandard = "AWG"
    """By which standard the size is meant: AWG, SAE or metric."""
    insulation: Temperature = 105
    """Insulation rating; 105 C when not stated (common practice, no source)."""
    conductors: Count = Field(default=2, ge=1, le=100)
    """Current-carrying conductors that run together there; 2 (feed and return) when not stated."""
