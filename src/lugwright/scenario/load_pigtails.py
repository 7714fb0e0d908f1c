"""Loads at the end of a harness's pigtail: which post each draws from, and where it comes back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from lugwright.base.errors import Complaint
from lugwright.base.identity import JointId
from lugwright.scenario.complaints import nearest
from lugwright.scenario.draft import PIGTAILS, Draft
from lugwright.scenario.fields import ELSEWHERE
from lugwright.scenario.fitting_out import Fitted, FittedPost
from lugwright.scenario.near_posts import is_ground_post
from lugwright.scenario.pigtail_checks import is_used, label_of
from lugwright.scenario.schema import PigtailPart
from lugwright.scenario.supplies import Supply, stands_alone


@dataclass(frozen=True)
class LoadPigtail:
    """A load's pigtail with its post found; ``returns_to`` "" where it comes back elsewhere."""

    part: PigtailPart
    post: str
    current_ma: int
    returns_to: str

    @property
    def wire_id(self) -> str:
        """What its wire is called, as other pigtails are: by its label."""
        return f"pigtail {label_of(self.part)}"


@dataclass(frozen=True)
class _Place:
    instrument: Fitted
    post: FittedPost

    @property
    def id(self) -> str:
        return self.instrument.post_id(self.post.name)


class LoadPigtails:
    """Finds the post of every load's pigtail and collects the faults."""

    def __init__(self, draft: Draft, fitted: list[Fitted], supplies: Mapping[str, Supply]) -> None:
        self._draft = draft
        self._supplies = supplies
        self._fitted = fitted
        self._places = {
            instrument.post_id(post.name): _Place(instrument, post)
            for instrument in fitted
            for post in instrument.posts.values()
        }
        self._taken = Counter(
            wire.lands_on for part in draft.part.boat_wires for wire in part.wires
        )
        self._names = {part.name for part in draft.part.boat_wires}
        self._names |= {
            part.circuit or "" for part in draft.pigtails if _is_called_otherwise(part)
        }
        self.complaints: list[Complaint] = []

    def find(self) -> list[LoadPigtail]:
        """Every load's pigtail that can be used."""
        found = []
        for index, part in enumerate(self._draft.pigtails):
            if part.role == "load" and is_used(part):
                load = self._load(index, part)
                if load is not None:
                    found.append(load)
        return found

    def _say(self, index: int, keys: tuple[str, ...], message: str, hint: str = "") -> None:
        path = self._draft.path(PIGTAILS, index, *keys)
        self.complaints.append(self._draft.complain(path, message, hint))

    def _load(self, index: int, part: PigtailPart) -> LoadPigtail | None:
        before = len(self.complaints)
        if label_of(part) in self._names:
            message = f'something else is called "{label_of(part)}": boat wires or a pigtail'
            keys = ("label",) if part.label else ("circuit",)
            self._say(index, keys, message, "give it a label of its own")
        place = self._place(index, part)
        if place is not None:
            self._check_place(index, part, place)
        if part.current is None:
            self._say(index, (), '"current" is missing: say what it draws')
        returns_to = self._returns_to(index, part)
        if place is None or len(self.complaints) > before:
            return None
        return LoadPigtail(part, place.id, part.current or 0, returns_to)

    def _place(self, index: int, part: PigtailPart) -> _Place | None:
        supply = self._supplies.get(part.circuit or "")
        if supply is None:
            if not self._draft.lost.supplies:
                message = f'it draws from circuit "{part.circuit}", which has no supply'
                feeds = [name for name, one in self._supplies.items() if one.side == "feed"]
                self._say(index, ("circuit",), message, nearest(part.circuit or "", feeds))
            return None
        if supply.side != "feed":
            message = f'a load draws from a feed, and circuit "{supply.name}" is a {supply.side}'
            self._say(index, ("circuit",), message)
            return None
        own = [place for place in self._places.values() if place.post.circuit == supply.name]
        if part.lands_on is None:
            return self._only_post(index, supply, own)
        place = self._places.get(JointId(part.lands_on))
        if "." not in part.lands_on:
            message = f'"{part.lands_on}" is no post'
            hint = 'write instrument, dot, post, as in "fuses.f1"'
            self._say(index, ("lands_on",), message, hint)
            return None
        if place in own:
            return place
        if not self._is_lost(part.lands_on):
            message = f'circuit "{supply.name}" has no post "{part.lands_on}"'
            self._say(index, ("lands_on",), message, nearest(part.lands_on, [p.id for p in own]))
        return None

    def _is_lost(self, post_id: str) -> bool:
        lost = self._draft.lost
        return lost.unnamed_instrument or post_id.partition(".")[0] in lost.instruments

    def _only_post(self, index: int, supply: Supply, own: list[_Place]) -> _Place | None:
        if len(own) == 1:
            return own[0]
        if own:
            message = f'where does it land? Circuit "{supply.name}" has {len(own)} posts'
            listed = ", ".join(f'"{place.id}"' for place in own[:6])
            self._say(index, (), message, f"say lands_on: {listed}")
        return None

    def _check_place(self, index: int, part: PigtailPart, place: _Place) -> None:
        spec, key = place.post.part, "circuit" if part.lands_on is None else "lands_on"
        self._taken[place.id] += 1
        if spec.kind == "lead":
            message = f'"{place.id}" is a lead: a load\'s pigtail lands on a stud or a tab'
            self._say(index, (key,), message)
        elif spec.kind == "tab":
            if part.ring is not None:
                self._say(index, ("ring",), "a ring does not go on a tab")
            if self._taken[place.id] > 1 or not self._is_free(place):
                message = (
                    f'tab "{place.id}" is used twice: a tab takes one push-on, and another wire '
                    "has it"
                )
                self._say(index, (key,), message, "a stud of the circuit takes it")
        elif part.ring is not None and part.ring.thread != spec.thread:
            message = f"its ring is for {part.ring.thread}, the stud is {spec.thread}"
            self._say(index, ("ring",), message)

    def _is_free(self, place: _Place) -> bool:
        return stands_alone(self._supplies, self._fitted, place.post)

    def _returns_to(self, index: int, part: PigtailPart) -> str:
        stated = part.returns_to
        if stated is None:
            message = '"returns_to" is missing: where does its current come back?'
            hint = 'write "engine", "boat", or the ground post its return wire lands on'
            self._say(index, (), message, hint)
        elif stated not in ELSEWHERE:
            if is_ground_post(self._fitted, self._supplies, stated):
                return stated
            if not self._draft.lost.supplies and not self._is_lost(stated):
                message = f'"{stated}" is no post of a ground'
                hint = 'a ground post of this panel, "engine" or "boat"'
                self._say(index, ("returns_to",), message, hint)
        return ""


def _is_called_otherwise(part: PigtailPart) -> bool:
    """True for a supply whose circuit's name, by which its wire goes, is not on its label."""
    return is_used(part) and part.role != "load" and label_of(part) != part.circuit
