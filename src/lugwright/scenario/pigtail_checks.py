"""Faults of one pigtail: its label, its size, its fuse, and whether it is live where it is capped.

A feed without a fuse is refused unless the file says so and says why (33 CFR 183.455 wants one
at the source of power of every ungrounded conductor).
"""

from __future__ import annotations

from lugwright.base.errors import Complaint
from lugwright.base.toml import KeyPath
from lugwright.scenario.console import Side
from lugwright.scenario.draft import PIGTAILS, Draft
from lugwright.scenario.given_wires import checked_supplied, checked_wire, wire_or_reason
from lugwright.scenario.pattern_schema import SPARE
from lugwright.scenario.schema import PigtailPart

_OF_A_SUPPLY = ("to_source", "fuse_distance", "fuse_reason")
_OF_A_LOAD = (
    *("lands_on", "current", "duty", "load_kind", "maker_fuse", "drop_class", "returns_to"),
    "one_way",
)
_OF_A_SENDER = ("sender", "range", "stations")
_ALSO_OF_A_SENDER = ("lands_on", "current", "returns_to", "one_way")
_NO_FUSE = 'where there is none, write fuse = "none" with fuse_reason = "..."'


def is_used(pigtail: PigtailPart) -> bool:
    """True for a pigtail that supplies a circuit, or that a load or a sender is at the end of."""
    return (pigtail.circuit is not None or pigtail.role == "signal") and not pigtail.cap_off


def label_of(pigtail: PigtailPart) -> str:
    """What the pigtail's label says: the circuit's name when not stated, else its colour."""
    lands_on = (pigtail.lands_on or "").replace(".", " ") if pigtail.role == "signal" else ""
    return pigtail.label or pigtail.circuit or lands_on or pigtail.colour


def pigtail_faults(draft: Draft) -> list[Complaint]:
    """Every fault of a pigtail that does not depend on the circuit it supplies."""
    complaints: list[Complaint] = []
    roles: dict[str, str] = {}
    for index, pigtail in enumerate(draft.pigtails):
        path = draft.path(PIGTAILS, index)
        label = label_of(pigtail)
        shared = {pigtail.role, roles.get(label)} - {None}
        if label in roles and (pigtail.label or not is_used(pigtail) or "load" in shared):
            message = f'two pigtails are labelled "{label}"'
            key = "label" if pigtail.label else "circuit" if is_used(pigtail) else "colour"
            complaints.append(draft.complain((*path, key), message, "give each its own label"))
        roles[label] = pigtail.role
        if not is_used(pigtail) and not pigtail.cap_off:
            message = "it supplies no circuit and is not capped off"
            hint = "name its circuit, or write cap_off = true and live = true or false"
            complaints.append(draft.complain(path, message, hint))
        if pigtail.circuit == SPARE:
            message = f'"{SPARE}" means a post without a wire: no circuit has that name'
            complaints.append(draft.complain((*path, "circuit"), message))
        complaints += _live_faults(draft, path, pigtail)
        complaints += _role_faults(draft, path, pigtail)
        complaints += _wire_faults(draft, path, pigtail)
    return complaints


def fuse_faults(draft: Draft, index: int, side: Side) -> list[Complaint]:
    """Faults of the fuse of a pigtail in use (by its index), as its circuit's side asks."""
    pigtail = draft.pigtails[index]
    path = draft.path(PIGTAILS, index)
    if side in ("ground", "stop", "signal"):
        names = ("fuse", "fuse_reason", "fuse_up_to")
        keys = [key for key in names if getattr(pigtail, key) is not None]
        message = "a ground has no fuse: it belongs in the feed"
        if side == "stop":
            message = "a stop circuit has no fuse: with it blown the engine would not stop"
        elif side == "signal":
            message = "a sender's wire has no fuse: it lies behind its dial, whose feed has one"
        hint = "leave the key out"
        return [draft.complain((*path, key), message, hint) for key in keys[:1]]
    if pigtail.fuse is None:
        message = '"fuse" is missing: a feed without a fuse can set the boat on fire'
        hint = f'write its rating, fuse = "10 A"; {_NO_FUSE}'
        return [draft.complain(path, message, hint)]
    if pigtail.fuse == 0 and not pigtail.fuse_reason:
        message = 'a feed without a fuse wants its reason: "fuse_reason" is missing or empty'
        hint = 'one line, which every sheet prints; or write the rating, fuse = "10 A"'
        return [draft.complain((*path, "fuse"), message, hint)]
    return []


def _role_faults(draft: Draft, path: KeyPath, pigtail: PigtailPart) -> list[Complaint]:
    """Keys that mean nothing at a pigtail of that role."""
    if not is_used(pigtail):
        return []
    usual = type(pigtail).model_fields
    if pigtail.role == "signal":
        return _signal_role_faults(draft, path, pigtail)
    said = [key for key in _OF_A_SENDER if getattr(pigtail, key) != usual[key].default]
    message, hint = "{} is said of a sender's pigtail", 'role = "signal", or leave it out'
    found = [draft.complain((*path, key), message.format(key), hint) for key in said]
    if pigtail.role == "load":
        keys = [key for key in _OF_A_SUPPLY if getattr(pigtail, key)]
        keys += ["fuse"] if pigtail.fuse == 0 else []
        message, hint = "{} is said of a pigtail that supplies", "leave it out at a load's pigtail"
    else:
        keys = [key for key in _OF_A_LOAD if getattr(pigtail, key) != usual[key].default]
        message, hint = "{} is said of a load's pigtail", 'role = "load", or leave it out'
        if pigtail.role == "stop":
            keys += [key for key in _OF_A_SUPPLY[:2] if getattr(pigtail, key)]
            message, hint = "{} is not said of a stop circuit", "leave it out"
    return found + [draft.complain((*path, key), message.format(key), hint) for key in keys]


def _signal_role_faults(draft: Draft, path: KeyPath, pigtail: PigtailPart) -> list[Complaint]:
    """Keys that mean nothing at a sender's pigtail."""
    usual = type(pigtail).model_fields
    foreign = [key for key in _OF_A_LOAD if key not in _ALSO_OF_A_SENDER]
    keys = [key for key in foreign if getattr(pigtail, key) != usual[key].default]
    keys += [key for key in _OF_A_SUPPLY[:2] if getattr(pigtail, key)]
    message, hint = "{} is not said of a sender's pigtail", "leave it out"
    found = [draft.complain((*path, key), message.format(key), hint) for key in keys]
    if pigtail.circuit is not None:
        message = "a sender's pigtail says where it lands, not which circuit it supplies"
        hint = f'lands_on = "{pigtail.circuit}", where several instruments share its sender'
        found.append(draft.complain((*path, "circuit"), message, hint))
    return found


def _live_faults(draft: Draft, path: KeyPath, pigtail: PigtailPart) -> list[Complaint]:
    if pigtail.cap_off and pigtail.live is None:
        message = '"live" is missing: a pigtail that is capped off says whether it is live'
        hint = "write live = true or live = false; a meter or its maker's diagram tells"
        return [draft.complain(path, message, hint)]
    if pigtail.live is not None and is_used(pigtail):
        message = "live is said of a pigtail that is capped off; this one is used"
        hint = "a post that is live with the key off is said at the post: live = true"
        return [draft.complain((*path, "live"), message, hint)]
    return []


def _wire_faults(draft: Draft, path: KeyPath, pigtail: PigtailPart) -> list[Complaint]:
    complaints: list[Complaint] = []
    space = draft.part.engine_space
    if pigtail.role == "supply" and pigtail.fuse_reason is not None and pigtail.fuse != 0:
        message = 'a reason stands beside fuse = "none" only'
        hint = "leave it out, or leave the rating out"
        if not (is_used(pigtail) and pigtail.fuse is None):
            complaints.append(draft.complain((*path, "fuse_reason"), message, hint))
    if not is_used(pigtail):
        return complaints + _capped_wire_faults(draft, path, pigtail)
    if pigtail.wire_size is None or pigtail.reach is None:
        absent = "wire_size" if pigtail.wire_size is None else "reach"
        message = f'"{absent}" is missing'
        complaints.append(draft.complain(path, message, "a pigtail that is used needs it"))
    if pigtail.wire_size is not None:
        complaints += checked_supplied(draft, path, pigtail)
        complaints += _thin_without_fuse(draft, path, pigtail)
    run = pigtail.to_source
    if run is not None:
        wire = wire_or_reason(
            run.wire_size, run.colour or pigtail.colour, run.size_standard, run.insulation
        )
        complaints += checked_wire(draft, (*path, "to_source", "wire_size"), wire, space)
    return complaints


def _thin_without_fuse(draft: Draft, path: KeyPath, pigtail: PigtailPart) -> list[Complaint]:
    """An exemption from size is not one from a fuse (33 CFR 183.455)."""
    if pigtail.exempt is None or pigtail.fuse != 0:
        return []
    message = "exempt frees it from the table of sizes, not from a fuse (33 CFR 183.455)"
    hint = "leave it out of this plan, and wire it by its maker's diagram; or state its fuse"
    return [draft.complain((*path, "fuse"), message, hint)]


def _capped_wire_faults(draft: Draft, path: KeyPath, pigtail: PigtailPart) -> list[Complaint]:
    """It carries nothing, so any size of the tables will do; a cap is chosen by its area."""
    if pigtail.wire_size is None:
        return []
    wire = wire_or_reason(
        pigtail.wire_size, pigtail.colour, pigtail.size_standard, pigtail.insulation
    )
    hint = 'leave it out on a pigtail that is capped off, or "24 AWG" up to "4/0 AWG"'
    said = isinstance(wire, str)
    return [draft.complain((*path, "wire_size"), str(wire), hint)] if said else []
