"""What the search sees of a model, as one digest: the same digest, the same answer.

The search is one path for one problem (``model/PROOF.md``: fixed seed, one thread a solve, models
built in sorted order, no clock). So what it has not seen cannot change its answer. A limit that
only shapes the problem (lengths, ampacities, room on studs, drop limits) is in the digest by what
it made of the problem; a limit the search and its tables read themselves is in it by value.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from lugwright.base.canonical import digest_of, plain
from lugwright.catalogue.keys import limit_values
from lugwright.problem.schema import Problem
from lugwright.stock.schema import Stock

# Limits that neither the search nor the tables of groups read: they reach it through the problem.
SHAPING = frozenset(
    {
        *("slack_permille", "end_allowance_dmm", "cut_step_dmm", "minimum_jumper_dmm"),
        *("splice_to_post_dmm", "dress_height_dmm", "clearance_dmm", "nut_driver_room_dmm"),
        *("drip_loop_dmm", "re_termination_dmm", "extensions", "splices", "splice_neighbours"),
        *("lock_washer", "showing_thread_permille"),
        *("conductor_temp_c", "stranding_permille", "off_loom_conductors"),
        *("drop_critical_permille", "drop_other_permille", "ground_shift_mv"),
        *("fuse_permille", "load_permille", "fuse_distance_dmm"),
        *("minimum_area_um2", "minimum_size"),
        *("pigtail_barrel", "way_take_off", "switch_12v_permille", "switch_24v_permille"),
    }
)
# Limits that reach only the worked-up plan, or only the reading of the scenario.
ON_PAPER = frozenset(
    {
        *("rule_set", "currency", "support_distance_dmm", "strip_clearance_dmm"),
        *("edge_margin_dmm", "full_size_side_dmm"),
    }
)
# What a row of the stock says beside what the search reads.
_SAID_ONLY = frozenset({"source", "pack", "spool_length_dmm", "size_standard"})
_ONLY_BOUGHT = frozenset({"price_micro"})  # of nuts, washers and fuses: not counted (rule R27)


def in_effect(values: Mapping[str, Any]) -> dict[str, Any]:
    """The values of limits, without those that the objective in force never asks for."""
    objective = values["objective"]
    idle = set() if objective == "weights" else {"weights"}
    idle |= set() if objective == "default" else {"lug_worth_dmm", "fitting_worth_dmm"}
    return {name: value for name, value in values.items() if name not in idle}


def stock_in_effect(rows: Mapping[str, Any]) -> dict[str, Any]:
    """The rows of the stock, without what neither search nor checker reads."""

    def bare(kind: str, row: Mapping[str, Any]) -> dict[str, Any]:
        left_out = _SAID_ONLY | (_ONLY_BOUGHT if kind in ("hardware", "fuses") else frozenset())
        return {name: value for name, value in row.items() if name not in left_out}

    return {kind: [bare(kind, row) for row in rows[kind]] for kind in sorted(rows)}


def question_of(problem: Problem, stock: Stock) -> dict[str, Any]:
    """All that the search reads, as plain data."""
    limits = in_effect(limit_values(problem.limits))
    seen: dict[str, Any] = {
        name: plain(getattr(problem, name))
        for name in (
            *("console", "circuits", "studs", "post_kind", "post_limit_ma", "boat_groups"),
            "bench_ends",
            *("extensions", "drops", "shifts", "legs", "required", "last"),
        )
    }
    seen["faults"] = len(problem.faults)
    seen["limits"] = {n: v for n, v in limits.items() if n not in SHAPING | ON_PAPER}
    seen["fittings"] = stock_in_effect({"fittings": plain(stock.fittings)})
    return seen


def question_digests(problem: Problem, stock: Stock) -> tuple[str, str]:
    """Digest of all that the search reads; and of the same without its drop limits."""
    seen = question_of(problem, stock)
    whole = digest_of(seen)
    for name in ("drops", "shifts"):
        seen[name] = [{**path, "limit_nv": 0} for path in seen[name]]
    return whole, digest_of(seen)
