"""Limits for small tests: nothing in the way, so that a test tightens only what it is about.

With these a jumper is as long as the plain distance between its joints, every fitting, stack
and fuse passes, and cost is the objective's own arithmetic. Everything is written out here and
nothing is taken from a built-in rule set, so a change of practice moves no test.
"""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import Any

from lugwright.limits.schema import Limits

_STUD_KINDS = ("ring", "captive spade", "plain spade")
_LANDED = (*_STUD_KINDS, "push-on")
_FACTORED = ("bulb", "relay", "motor", "resistive")
_CRIMPED = (*_LANDED, "butt", "closed end")

_PLAIN = Limits(
    rule_set="plain",
    slack_permille=0,
    end_allowance_dmm=0,
    cut_step_dmm=1,
    minimum_jumper_dmm=0,
    splice_to_post_dmm=0,
    dress_height_dmm=0,
    clearance_dmm=0,
    nut_driver_room_dmm=0,
    drip_loop_dmm=0,
    re_termination_dmm=0,
    support_distance_dmm=4500,
    edge_margin_dmm=0,
    full_size_side_dmm=12_000,
    strip_clearance_dmm=0,
    one_hub=True,
    lamp_take_off="landing",
    way_take_off="one",
    pigtail_barrel="shared",
    wire_size_choice="circuit",
    extensions=False,
    splices=False,
    splice_neighbours=3,
    wires_per_barrel=10,
    wires_per_splice=10,
    size_ratio_permille=100_000,
    fold_back=True,
    stud_kinds=_STUD_KINDS,
    lead_kinds=("butt", "closed end"),
    splice_kinds=("butt", "closed end"),
    lugs_per_stud=20,
    stud_count="lugs",
    lock_washer=False,
    showing_thread_permille=0,
    conductor_temp_c=20,
    stranding_permille=0,
    drop_critical_permille=1000,
    drop_other_permille=1000,
    crimp_uohm=0,
    ground_shift_mv=None,
    off_loom_conductors=1,
    bundle_rule="none",
    fuse_permille=10_000,
    load_permille=1000,
    fuse_distance_dmm=100_000,
    minimum_area_um2=0,
    minimum_size="none",
    switch_12v_permille=MappingProxyType(dict.fromkeys(_FACTORED, 1000)),
    switch_24v_permille=MappingProxyType(dict.fromkeys(_FACTORED, 1000)),
    currency="EUR",
    rate_micro_per_hour=60_000_000,
    minutes_cut_cmin=50,
    minutes_fitting_cmin=MappingProxyType(dict.fromkeys(_CRIMPED, 100)),
    minutes_landing_cmin=MappingProxyType(
        {kind: MappingProxyType({"bench": 100, "aboard": 200}) for kind in _LANDED}
    ),
    objective="default",
    lug_worth_dmm=400,
    fitting_worth_dmm=250,
    weights=MappingProxyType({"length": 1, "stacked": 400, "fittings": 250, "money": 0}),
)


def plain_limits(**changes: Any) -> Limits:
    """Limits that stand in nobody's way, with the named fields changed.

    Splices and extensions are off; ask for them by ``splices=True``, ``extensions=True``.
    Raises TypeError for a field ``Limits`` does not have.
    """
    return replace(_PLAIN, **changes)
