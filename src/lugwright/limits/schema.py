"""The limits in force for one plan, resolved to integers, each with its origin."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from lugwright.base.origin import Origin

ObjectiveName = Literal["default", "shortest", "lowest-stacks", "cheapest", "weights"]


@dataclass(frozen=True)
class Limits:
    """Every limit of a plan. Names carry their unit (``base.scale``).

    ``spec.py`` holds, for each field, its unit, meaning, default and published source;
    ``origins`` says where the value in force came from.
    """

    practice: str
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
    strip_clearance_dmm: int
    # hub, trees, splices
    one_hub: bool
    lamp_take_off: Literal["landing", "any"]
    wire_size_choice: Literal["circuit", "jumper"]
    extensions: bool
    splices: bool
    splice_neighbours: int
    # barrels
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
    stack_order: Literal["current", "stage"]
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

    def origin(self, name: str) -> str:
        """Where a limit comes from, in words; the practice's name where nothing else is known."""
        origin = self.origins.get(name)
        return str(origin) if origin else f"built-in practice, {self.practice}"
