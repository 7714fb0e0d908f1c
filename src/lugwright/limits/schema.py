"""The limits in force for one plan, resolved to integers, each with its origin."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from lugwright.base.origin import Origin
from lugwright.limits.compare import loosens
from lugwright.limits.locks import Lock
from lugwright.limits.spec import Value
from lugwright.limits.waivable import Waiver

ObjectiveName = Literal["default", "shortest", "lowest-stacks", "cheapest", "weights"]


@dataclass(frozen=True)
class Limits:
    """Every limit of a plan. Names carry their unit (``base.scale``).

    ``spec.py`` holds, for each field, its unit, meaning, default and published source;
    ``origins`` says where the value in force came from. ``locks`` says how the shop holds a
    limit, by plain name; ``waivers`` are the places at which the scenario loosens one. Whatever
    reads a limit that can be waived reads it through ``at``.
    """

    rule_set: str
    # lengths
    slack_permille: int
    end_allowance_dmm: int
    cut_step_dmm: int
    minimum_jumper_dmm: int
    splice_to_post_dmm: int
    dress_height_dmm: int
    clearance_dmm: int
    nut_driver_room_dmm: int
    drip_loop_dmm: int
    re_termination_dmm: int
    support_distance_dmm: int
    edge_margin_dmm: int
    full_size_side_dmm: int
    strip_clearance_dmm: int
    # hub, trees, splices
    one_hub: bool
    lamp_take_off: Literal["landing", "any"]
    way_take_off: Literal["one", "any"]
    wire_size_choice: Literal["circuit", "jumper"]
    extensions: bool
    splices: bool
    splice_neighbours: int
    # barrels
    pigtail_barrel: Literal["shared", "own"]
    wires_per_barrel: int
    wires_per_splice: int
    size_ratio_permille: int
    fold_back: bool
    stud_kinds: tuple[str, ...]
    lead_kinds: tuple[str, ...]
    splice_kinds: tuple[str, ...]
    # studs
    lugs_per_stud: int
    stud_count: Literal["lugs", "conductors"]
    lock_washer: bool
    showing_thread_permille: int
    # electricity
    conductor_temp_c: int
    stranding_permille: int
    drop_critical_permille: int
    drop_other_permille: int
    crimp_uohm: int
    ground_shift_mv: int | None
    off_loom_conductors: int
    bundle_rule: str
    fuse_permille: int
    load_permille: int
    fuse_distance_dmm: int
    minimum_area_um2: int
    minimum_size: str
    switch_12v_permille: Mapping[str, int]
    switch_24v_permille: Mapping[str, int]
    # money and minutes
    currency: str
    rate_micro_per_hour: int
    minutes_cut_cmin: int
    minutes_fitting_cmin: Mapping[str, int]
    minutes_landing_cmin: Mapping[str, Mapping[str, int]]
    # objective
    objective: ObjectiveName
    lug_worth_dmm: int
    fitting_worth_dmm: int
    weights: Mapping[str, int]
    origins: Mapping[str, Origin] = field(default_factory=lambda: MappingProxyType({}))
    locks: Mapping[str, Lock] = field(default_factory=lambda: MappingProxyType({}))
    waivers: tuple[Waiver, ...] = ()
    standard_lengths_dmm: tuple[int, ...] = ()

    def origin(self, name: str) -> str:
        """Where a limit comes from, in words; the rule set's name where nothing else is known."""
        origin = self.origins.get(name)
        return str(origin) if origin else f"built-in rule set, {self.rule_set}"

    def allows(self, name: str, value: Value) -> bool:
        """Whether a scenario of this shop may set a limit, by its plain name, to a value."""
        lock = self.locks.get(name)
        return lock is None or lock.allows(value)

    def how_held(self, name: str) -> str:
        """How the shop holds a limit, in words with file and line; "" where it leaves it open."""
        lock = self.locks.get(name)
        return lock.told if lock else ""

    def held_by(self, name: str) -> Origin | None:
        """Where the shop says that it holds a limit; None where it leaves it open."""
        lock = self.locks.get(name)
        return lock.origin if lock else None

    def at(self, field: str, place: str) -> int:
        """The value in force at a place: that of a waiver there, where it is the looser one.

        ``field`` is a field that is a number, in its own unit. The looser one counts, so that
        loosening a limit everywhere never tightens it at a waived place.
        """
        general: int = getattr(self, field)
        waiver = self._waived(field, place)
        return general if waiver is None else waiver.number

    def origin_at(self, field: str, place: str) -> str:
        """Where the value in force at a place comes from, in words."""
        waiver = self._waived(field, place)
        if waiver is None:
            return self.origin(field)
        return f"waiver by {waiver.initials}, {waiver.date}, {waiver.origin}"

    def words_at(self, field: str, place: str) -> str:
        """A waived value as its waiver writes it; "" where no waiver counts there."""
        waiver = self._waived(field, place)
        return waiver.text if waiver else ""

    def _waived(self, field: str, place: str) -> Waiver | None:
        """The waiver that counts for a field at a place."""
        for waiver in self.waivers:
            if waiver.place == place and waiver.field == field:
                general: int = getattr(self, field)
                return waiver if loosens(waiver.spec, waiver.number, general) else None
        return None
