"""From a scenario file to a console: look up, mirror, turn, round once, and put in order.

The order in the file does not matter: everything is sorted by name.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from lugwright.base.errors import BadInput
from lugwright.base.identity import JointId
from lugwright.base.scale import amps_text
from lugwright.base.toml import TomlFile, read_toml
from lugwright.base.units import to_dmm, to_dmm_up
from lugwright.electrics.colours import colour_code
from lugwright.electrics.sizes import nominal_area_um2
from lugwright.scenario.console import (
    Circuit,
    Console,
    Instrument,
    KeepOut,
    Load,
    Pigtail,
    Point,
    Post,
    TiePoint,
)
from lugwright.scenario.cross_checks import cross_faults
from lugwright.scenario.device_checks import device_faults
from lugwright.scenario.devices import all_ways, ends_of
from lugwright.scenario.dimmer_checks import dimmer_faults
from lugwright.scenario.draft import Draft, read_draft
from lugwright.scenario.fields import ELSEWHERE, Place
from lugwright.scenario.fitting_out import Fitted, FittedPost, fit_out
from lugwright.scenario.given_wires import supplied_wire
from lugwright.scenario.landings import Landed, Landings
from lugwright.scenario.load_pigtails import LoadPigtail, LoadPigtails
from lugwright.scenario.mains_checks import mains_faults
from lugwright.scenario.mounts import mount_of, plate_holes
from lugwright.scenario.placing import point, to_back, turned, turned_extent
from lugwright.scenario.purposes import purpose_faults
from lugwright.scenario.schema import HoldPart, ScenarioPart
from lugwright.scenario.signal_checks import (
    feed_circuit,
    feed_post,
    range_questions,
    signal_faults,
)
from lugwright.scenario.signals import Signal, Signals, find_signals
from lugwright.scenario.stop_checks import stop_faults
from lugwright.scenario.straps import strap_faults, straps_of, with_straps
from lugwright.scenario.supplied_wires import SuppliedWires, rounded_down
from lugwright.scenario.supplies import Supply, find_supplies
from lugwright.scenario.way_supplies import way_faults

# A lug kept free for later: a 0.8 mm tongue (0.03 in, as red and blue rings) whose barrel takes
# a sixth of the way round (common practice, no source).
RESERVED_TONGUE_DMM = 8
RESERVED_ANGLE_DEG = 60


@dataclass(frozen=True)
class LoadedScenario:
    """What a scenario file says: the console; its own limits and holds as written; its rule set."""

    console: Console
    limits_table: dict[str, Any]
    rule_set: str
    toml: TomlFile
    holds: tuple[HoldPart, ...] = ()


def load_scenario(path: str | Path) -> LoadedScenario:
    """Read a scenario file.

    Raises BadInput with every fault of the file, in the order of the file.
    """
    return load_toml(read_toml(path))


def load_toml(toml: TomlFile) -> LoadedScenario:
    """The same for a TOML file already read."""
    draft, complaints = read_draft(toml)
    if draft is None:
        raise BadInput(*sorted(set(complaints)))
    fitted, found = fit_out(draft)
    complaints += found
    fitted = with_straps(draft, fitted)
    signals = find_signals(draft, fitted)
    fitted = signals.fitted
    supplies, found = find_supplies(draft, fitted, signals.by_name)
    complaints += found
    landings = Landings(draft, signals, supplies)
    landed = landings.find()
    complaints += landings.complaints
    load_pigtails = LoadPigtails(draft, fitted, supplies)
    fed = load_pigtails.find()
    complaints += load_pigtails.complaints
    complaints += cross_faults(draft, fitted, supplies)
    complaints += strap_faults(draft, fitted)
    complaints += purpose_faults(draft, fitted, supplies, [load.post for load in fed])
    complaints += mains_faults(draft)
    complaints += device_faults(draft, fitted)
    complaints += way_faults(draft, fitted, supplies)
    complaints += stop_faults(draft, fitted, supplies)
    complaints += dimmer_faults(draft, fitted, supplies, landed)
    complaints += signal_faults(draft, signals, supplies)
    if complaints:
        raise BadInput(*sorted(set(complaints)))
    console = _Builder(draft, signals, supplies, landed, fed).console()
    return LoadedScenario(
        console, dict(draft.part.limits), draft.part.rule_set, toml, draft.part.hold
    )


class _Builder:
    """Builds the console of a scenario without fault."""

    def __init__(
        self,
        draft: Draft,
        signals: Signals,
        supplies: Mapping[str, Supply],
        landed: list[Landed],
        fed: list[LoadPigtail],
    ) -> None:
        self._draft = draft
        self._part: ScenarioPart = draft.part
        self._toml = draft.toml
        self._signals = signals
        self._fitted = signals.fitted
        self._supplies = supplies
        self._landed = landed
        self._fed = fed
        self._wires = SuppliedWires(draft.part)

    def console(self) -> Console:
        part, panel = self._part, self._part.panel
        posts = self._posts()
        return Console(
            title=part.title,
            width_dmm=to_dmm(panel.width),
            height_dmm=to_dmm(panel.height),
            thickness_dmm=to_dmm(panel.thickness),
            nominal_mv={"12 V": 12_000, "24 V": 24_000}[part.voltage],
            engine_space=part.engine_space,
            service_travel_dmm=to_dmm_up(part.service.travel),
            instruments=tuple(self._instrument(fitted) for fitted in self._fitted),
            posts=posts,
            loads=self._loads(),
            circuits=self._circuits(posts),
            unused_pigtails=self._wires.unused_pigtails(),
            boat_blocks=self._wires.boat_blocks(self._landed, self._fed),
            keep_outs=self._keep_outs(),
            tie_points=self._tie_points(),
            digest=self._toml.digest,
            file=self._toml.file,
            notes=self._notes(),
            ways=tuple(way.way() for _, way in sorted(all_ways(self._fitted).items())),
            petrol_behind=panel.petrol_behind,
            holes=plate_holes(panel),
            harnesses=tuple(one.name for one in part.harness),
            questions=tuple(sorted(range_questions(self._draft, self._signals))),
            straps=straps_of(self._part.strap, posts),
        )

    def _point(self, place_front: Place, height_mm: Fraction) -> Point:
        return point(to_back(place_front, self._part.panel.width), height_mm)

    def _instrument(self, fitted: Fitted) -> Instrument:
        part, pattern = fitted.part, fitted.pattern
        zero = Fraction(0)
        wide, high = turned_extent(
            pattern.body_width or zero, pattern.body_height or zero, part.turn
        )
        hub = pattern.hub_candidate if part.hub_candidate is None else part.hub_candidate
        return Instrument(
            name=part.name,
            pattern=part.pattern or "",
            centre=self._point(part.centre, zero),
            cut_out_dmm=to_dmm(pattern.cut_out or zero),
            bezel_dmm=to_dmm(pattern.bezel or zero),
            body_dmm=to_dmm(pattern.body or zero),
            body_depth_dmm=to_dmm(pattern.body_depth),
            body_width_dmm=to_dmm(wide),
            body_height_dmm=to_dmm(high),
            hub_candidate=hub,
            key_on=pattern.key_on if part.key_on is None else part.key_on,
            positions=pattern.positions,
            lanyard=pattern.lanyard is not None,
            carries_in_ma=pattern.carries_in or 0,
            ignition_protected=pattern.ignition_protected,
            setting=part.setting,
            mount=mount_of(fitted, self._part.panel),
        )

    def _posts(self) -> tuple[Post, ...]:
        wanted = self._wanted_nodes()
        posts = [
            self._post(fitted, post, _node(fitted, post) not in wanted)
            for fitted in self._fitted
            for post in fitted.posts.values()
        ]
        return tuple(sorted(posts, key=lambda post: post.id))

    def _wanted_nodes(self) -> set[str]:
        """Nodes something is connected to: a load, boat wires, a lug reserved for later."""
        landed = {post for landed in self._landed for post in landed.posts}
        landed |= {load.post for load in self._fed}
        return {
            _node(fitted, post)
            for fitted in self._fitted
            for post in fitted.posts.values()
            if post.reserved
            or fitted.post_id(post.name) in landed
            or any(post.name in (load.feed, load.ground) for load in fitted.pattern.loads)
            or post.name in ends_of(fitted)
        }

    def _post(self, fitted: Fitted, post: FittedPost, is_free: bool) -> Post:
        spec = post.part
        centre = to_back(fitted.part.centre, self._part.panel.width)
        offset = turned(spec.at, fitted.part.turn)
        place = point((centre[0] + offset[0], centre[1] + offset[1]), spec.height)
        lead = spec.lead
        return Post(
            id=fitted.post_id(post.name),
            instrument=fitted.name,
            name=post.name,
            kind=spec.kind,
            function=post.function,
            circuit=post.circuit if post.circuit in self._supplies else "",
            at=place,
            link=f"{fitted.name}.{spec.link}" if spec.link else "",
            optional=spec.optional and is_free,
            thread=spec.thread or "",
            free_thread_dmm=rounded_down(spec.free_thread or Fraction(0)),
            tab_size=spec.tab or "",
            lead=supplied_wire(lead) if lead else None,
            lead_fuse_ma=(lead.fuse or 0) if lead else 0,
            carries_ma=spec.carries or 0,
            reserved=post.reserved,
            reserved_tongue_dmm=RESERVED_TONGUE_DMM if post.reserved else 0,
            reserved_angle_deg=RESERVED_ANGLE_DEG if post.reserved else 0,
            live=spec.live,
            strap=post.strap,
            lead_length_dmm=self._free_length_dmm(post),
        )

    def _free_length_dmm(self, post: FittedPost) -> int:
        """The length of a lead whose end is chosen: of one that a jumper reaches."""
        length = post.part.lead.length if post.part.lead else None
        wired = post.circuit in self._supplies and not post.spare
        return rounded_down(length) if length and wired else 0

    def _is_fed(self, fitted: Fitted, post: str) -> bool:
        return fitted.posts[post].circuit in self._supplies

    def _loads(self) -> tuple[Load, ...]:
        """Loads whose feed post has a wire. One without draws nothing."""
        loads = [
            Load(
                name=fitted.post_id(load.name),
                feed_post=fitted.post_id(load.feed),
                ground_post=fitted.post_id(load.ground),
                current_ma=fitted.part.loads.get(load.name, load.current),
                drop_class=load.drop_class,
                kind=load.load_kind or "resistive",
                duty=load.duty,
            )
            for fitted in self._fitted
            for load in fitted.pattern.loads
            if self._is_fed(fitted, load.feed)
        ]
        for signal in self._signals.by_name.values():
            loads += self._sent(signal)
        return tuple(sorted(loads, key=lambda load: load.name))

    def _sent(self, signal: Signal) -> list[Load]:
        """What the dials on a signal circuit send to its sender."""
        return [
            Load(
                name=member.instrument.post_id(member.posts[0].name),
                feed_post=member.instrument.post_id(feed),
                ground_post=member.instrument.post_id(member.posts[0].name),
                current_ma=signal.wire.current_ma,
                drop_class="other",
                senses=True,
            )
            for member in signal.dials
            if (feed := feed_post(member, self._supplies)) and signal.wire.current_ma
        ]

    def _circuits(self, posts: tuple[Post, ...]) -> tuple[Circuit, ...]:
        circuits = []
        for name, supply in self._supplies.items():
            own = tuple(post.id for post in posts if post.circuit == name)
            if not own:
                continue  # a taken circuit without posts has no jumpers
            size = supply.part.minimum_size if supply.part else None
            signal = supply.signal
            circuits.append(
                Circuit(
                    name=name,
                    side=supply.side,
                    colour=supply.colour,
                    colour_code=colour_code(supply.colour),
                    taken_from=supply.taken_from,
                    posts=own,
                    pigtail=self._pigtail(supply),
                    minimum_area_um2=nominal_area_um2(size) if size else 0,
                    supplied_by=JointId(supply.supplied_by),
                    harness=self._harness_of(name, set()),
                    sender=signal.wire.sender if signal else None,
                    returns_to=JointId(self._returns_to(signal) if signal else ""),
                    lands_on=JointId(signal.wire.held if signal else ""),
                )
            )
        return tuple(sorted(circuits, key=lambda circuit: circuit.name))

    def _pigtail(self, supply: Supply) -> Pigtail | None:
        """What supplies a circuit, or goes to its sender; None where a way or a circuit does."""
        if supply.signal:
            return self._wires.sender_wire(supply.signal.wire)
        if supply.pigtail is None:
            return None
        return self._wires.pigtail(self._draft.pigtails[supply.pigtail])

    def _harness_of(self, name: str, seen: set[str]) -> str:
        """The harness that a circuit is fed from, through ways and circuits it is taken from."""
        supply, first = self._supplies.get(name), self._part.harness[0].name
        if supply is None or name in seen:
            return first
        seen.add(name)
        pigtail = supply.signal.wire.pigtail if supply.signal else supply.pigtail
        if pigtail is not None:
            return self._draft.harness_of(pigtail).name
        if supply.signal and supply.signal.members:
            return self._harness_of(feed_circuit(supply.signal.members[0], self._supplies), seen)
        if supply.supplied_by:
            way = all_ways(self._fitted)[supply.supplied_by]
            return self._harness_of(way.instrument.posts[way.near].circuit, seen)
        return self._harness_of(supply.taken_from, seen)

    def _returns_to(self, signal: Signal) -> str:
        """The ground post of this panel at which a sender's current comes back; "" elsewhere."""
        wire = signal.wire
        if wire.block is not None:
            return next(one.returns_to for one in self._landed if one.index == wire.block)
        stated = wire.of.returns_to or ""
        return "" if stated in ELSEWHERE else stated

    def _keep_outs(self) -> tuple[KeepOut, ...]:
        found = []
        for part in self._part.keep_out:
            a, b = (self._point(corner, part.height) for corner in part.corners)
            found.append(
                KeepOut(
                    part.name,
                    min(a.x_dmm, b.x_dmm),
                    min(a.y_dmm, b.y_dmm),
                    max(a.x_dmm, b.x_dmm),
                    max(a.y_dmm, b.y_dmm),
                    a.z_dmm,
                )
            )
        return tuple(sorted(found, key=lambda keep_out: keep_out.name))

    def _tie_points(self) -> tuple[TiePoint, ...]:
        links: dict[str, set[str]] = {part.name: set() for part in self._part.tie_point}
        for part in self._part.tie_point:
            for other in part.links:
                links[part.name].add(other)
                links[other].add(part.name)
        return tuple(
            TiePoint(part.name, self._point(part.at, part.height), tuple(sorted(links[part.name])))
            for part in sorted(self._part.tie_point, key=lambda part: part.name)
        )

    def _notes(self) -> tuple[str, ...]:
        """What was assumed, or left out, that the reader should know."""
        notes = [
            f"The current of {landed.part.name}, {amps_text(landed.current_ma)} A, is from memory, "
            "for the file does not say: ask its maker."
            for landed in self._landed
            if landed.is_sender and landed.drawn_from and landed.part.current is None
        ]
        notes += [
            f"The circuit {circuit.name} is taken from {circuit.taken_from} by a plain wire: no "
            "switch or fuse stands between them."
            for circuit in self._part.circuit
            if circuit.taken_from and circuit.name in self._supplies
        ]
        notes += [
            f"The load {fitted.post_id(load.name)} draws nothing: its post {load.feed} has no wire."
            for fitted in self._fitted
            for load in fitted.pattern.loads
            if not self._is_fed(fitted, load.feed)
        ]
        notes += [
            f"The current of {signal.wire.what}, {amps_text(signal.wire.current_ma)} A for each "
            "dial, is from memory, for the file does not say: ask the sender's maker."
            for signal in self._signals.by_name.values()
            if signal.dials and signal.wire.of.current is None
        ]
        return tuple(sorted(notes))


def _node(fitted: Fitted, post: FittedPost) -> str:
    """Linked posts are one node; any other post is its own. The two never share a name."""
    return fitted.metal(post.name)
