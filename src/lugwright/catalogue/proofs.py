"""Whether a stored proof still holds under other limits or other stock, without a search.

A stored result says: of all choices that keep rules R at costs C, this one is best (equals in
cost are told apart by a fixed order), or: none keeps R. It is taken over in four cases only.

1. **Nothing that counts has changed.** What differs reaches the worked-up plan alone (where ties
   go, how long a strip is, the name of the currency): the same choice is worked up again.
2. **Only tighter.** Every changed limit is one that only forbids (it neither makes a wire longer
   nor a fitting dearer), and forbids more than before; the stock has only lost items, or items
   the plan does not use became dearer. Then every choice that keeps the new rules kept the old
   ones, at no more cost. So where the stored choice passes the checker under the new rules at the
   cost it had, nothing beats it, and no equal that stood behind it has come before it. And where
   nothing kept the old rules, nothing keeps the new.
3. **The same question.** The search would see the same problem to the last number
   (``question``): for example an allowance that no jumper's length feels after rounding, or room
   asked for where there was room. The same question has the same answer.
4. **A rule that was never met.** As 3, but for the limits of drop and ground shift, which are
   looser now, while on its way to the proof the search met no answer that broke any electrical
   rule. Those limits are only ever held against finished answers; held looser against the same
   answers they forbid none of them, so the search would go the same way.

Whatever is taken over is worked up and checked anew under the new limits; if the checker does not
pass it, or its cost is another, the model is searched. Never taken over: results that are not
proved, whose search stopped before it had told all equals apart, or that hold something (a hold's
price is a search of its own).
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from typing import Any

from lugwright.catalogue.question import ON_PAPER, in_effect, stock_in_effect
from lugwright.catalogue.schema import ModelResult


class Ground(Enum):
    """Why a stored proof still holds."""

    UNCHANGED = "nothing that counts has changed"
    TIGHTER = "limits only tighter, and the plan stands"
    SAME_QUESTION = "the search would see the same question"
    NEVER_MET = "looser limits that never stood in the way"


# Limits that only forbid: a smaller value forbids more.
LESS = frozenset(
    {
        *("wires_per_barrel", "wires_per_splice", "size_ratio_permille", "fold_back"),
        *("lugs_per_stud", "extensions", "splices"),
        *("drop_critical_permille", "drop_other_permille"),
        *("fuse_permille", "load_permille", "fuse_distance_dmm"),
    }
)
# A greater value forbids more.
MORE = frozenset(
    {
        *("splice_to_post_dmm", "lock_washer", "showing_thread_permille"),
        *("conductor_temp_c", "stranding_permille", "crimp_uohm", "off_loom_conductors"),
        *("minimum_area_um2",),
    }
)
# Fewer kinds forbid more.
FEWER = frozenset({"stud_kinds", "lead_kinds", "splice_kinds"})
# From the looser to the tighter choice.
STEPS = {"stud_count": ("lugs", "conductors"), "pigtail_barrel": ("shared", "own")}
# A ground shift is a difference: more resistance on both sides may make it smaller.
SHIFTED_BY = frozenset({"conductor_temp_c", "stranding_permille", "crimp_uohm"})
LOOSER_NEVER_MET = frozenset({"drop_critical_permille", "drop_other_permille", "ground_shift_mv"})


def changed(old: Mapping[str, Any], new: Mapping[str, Any]) -> frozenset[str]:
    """Limits in effect whose values differ."""
    one, other = in_effect(old), in_effect(new)
    names = one.keys() | other.keys()
    return frozenset(name for name in names if one.get(name) != other.get(name))


def only_tighter(old: Mapping[str, Any], new: Mapping[str, Any]) -> bool:
    """True when every limit that differs only forbids, and forbids more in ``new``."""
    names = changed(old, new) - ON_PAPER
    if new["ground_shift_mv"] is not None and names & SHIFTED_BY:
        return False
    return all(_tighter(name, old.get(name), new.get(name)) for name in names)


def _tighter(name: str, old: Any, new: Any) -> bool:
    """True when the new value of a limit forbids all that the old one did."""
    if name in LESS:
        return bool(new <= old)
    if name in MORE:
        return bool(new >= old)
    if name in FEWER:
        return set(new) <= set(old)
    if name in STEPS:
        return (old, new) == STEPS[name]
    if name == "ground_shift_mv":
        return new is not None and (old is None or new <= old)
    return name == "minimum_size"  # the words beside minimum_area_um2, which decides


def only_looser_drops(old: Mapping[str, Any], new: Mapping[str, Any]) -> bool:
    """True when nothing differs but limits of drop and shift, and these are looser."""
    names = changed(old, new) - ON_PAPER
    return names <= LOOSER_NEVER_MET and all(
        _tighter(name, new.get(name), old.get(name)) for name in names
    )


def only_shrunk(old: Mapping[str, Any], new: Mapping[str, Any], used: frozenset[str]) -> bool:
    """True when the stock lost only items not used, or these became dearer.

    ``used`` names the spools and fittings of the stored plan.
    """
    before, after = stock_in_effect(old), stock_in_effect(new)
    if any(before[kind] != after[kind] for kind in ("hardware", "fuses")):
        return False
    for kind in ("spools", "fittings"):
        known = {row["name"]: row for row in before[kind]}
        rows = {row["name"]: row for row in after[kind]}
        if not rows.keys() <= known.keys() or (known.keys() - rows.keys()) & used:
            return False
        if not all(_no_better(known[name], row, name in used) for name, row in rows.items()):
            return False
    return True


def _no_better(old: Mapping[str, Any], new: Mapping[str, Any], used: bool) -> bool:
    """True when a row is as it was, or is dearer and not used."""
    prices = [name for name in old if name.startswith("price_")]
    same = all(new.get(name) == value for name, value in old.items() if name not in prices)
    dearer = all(new.get(name, 0) >= old[name] for name in prices)
    cost_same = all(new.get(name) == old[name] for name in prices)
    return same and new.keys() == old.keys() and (cost_same or (dearer and not used))


def used_items(result: ModelResult) -> frozenset[str]:
    """The spools and fittings a stored plan is made of."""
    if result.plan is None:
        return frozenset()
    spools = {jumper.spool for jumper in result.plan.jumpers}
    return frozenset(spools | {crimp.item for crimp in result.plan.crimps})
