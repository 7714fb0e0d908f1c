"""Each instrument with its pattern looked up and each of its posts assigned to a circuit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lugwright.base.errors import Complaint
from lugwright.base.identity import JointId
from lugwright.base.old_words import todays_word
from lugwright.scenario.complaints import NOT_SAYABLE, nearest
from lugwright.scenario.draft import Draft
from lugwright.scenario.library import find_pattern, pattern_names
from lugwright.scenario.pattern_schema import SPARE, PatternPart, PostChange, PostPart
from lugwright.scenario.schema import InstrumentPart

SECTION = ("instrument",)

# Functions whose posts belong to a circuit of another name, or to none by themselves.
_CIRCUIT_OF = {"lamp": "lamps", "signal": "", "second": "", "load": "", "near": "", "far": ""}
SENDER_FUNCTIONS = ("signal", "second")


@dataclass(frozen=True)
class FittedPost:
    """A post with the scenario's changes. ``circuit`` "" where it belongs to none.

    ``spare``: the file says that no wire goes to it. ``strap``: the metal of straps it is part of.
    """

    name: str
    part: PostPart
    function: str
    circuit: str
    reserved: int
    spare: bool = False
    strap: str = ""

    @property
    def metal(self) -> str:
        """What makes it one piece of metal with other posts of its instrument; "": nothing."""
        return self.strap or self.part.link or ""


@dataclass(frozen=True)
class Fitted:
    """An instrument with its pattern. ``index`` is its place in the draft's list."""

    index: int
    part: InstrumentPart
    pattern: PatternPart
    posts: dict[str, FittedPost]

    @property
    def name(self) -> str:
        """The rigger's name for it."""
        return self.part.name

    def post_id(self, post: str) -> JointId:
        """``instrument.post``."""
        return JointId(f"{self.part.name}.{post}")

    def metal(self, post: str) -> str:
        """The piece of metal a post is: what straps or a link join is one."""
        own = self.posts[post]
        link = f"{self.name}: {own.part.link}" if own.part.link else self.post_id(post)
        return own.strap or link


def fit_out(draft: Draft) -> tuple[list[Fitted], list[Complaint]]:
    """Every instrument whose pattern is known, by name, and the faults found on the way.

    An instrument that cannot be used is remembered in ``draft.lost``.
    """
    complaints: list[Complaint] = []
    found: dict[str, Fitted] = {}
    for index, part in enumerate(draft.part.instrument):
        path = draft.path(SECTION, index)
        if part.name in found or part.name in draft.lost.instruments:
            message = f'there are two instruments named "{part.name}"'
            complaints.append(draft.complain((*path, "name"), message))
            continue
        pattern = _pattern(draft, index, part, complaints)
        if pattern is None:
            draft.lost.instruments.add(part.name)
            continue
        posts = _posts(draft, index, part, pattern, complaints)
        found[part.name] = Fitted(index, part, pattern, posts)
    return [found[name] for name in sorted(found)], complaints


def _pattern(
    draft: Draft, index: int, part: InstrumentPart, complaints: list[Complaint]
) -> PatternPart | None:
    path = draft.path(SECTION, index)
    if part.pattern is not None and part.geometry is not None:
        message = "state either pattern or geometry, not both"
        complaints.append(draft.complain((*path, "pattern"), message))
        return part.geometry
    if part.geometry is not None:
        return part.geometry
    if part.pattern is None:
        message = "neither pattern nor geometry is stated"
        complaints.append(draft.complain(path, message, "name a pattern of the library"))
        return None
    pattern = find_pattern(part.pattern)
    if pattern is None:
        message = f'the instrument library has no pattern "{part.pattern}"'
        hint = nearest(part.pattern, pattern_names())
        complaints.append(draft.complain((*path, "pattern"), message, hint))
    return pattern


def _posts(
    draft: Draft,
    index: int,
    part: InstrumentPart,
    pattern: PatternPart,
    complaints: list[Complaint],
) -> dict[str, FittedPost]:
    for key, names in (
        ("feeds", part.feeds),
        ("reserve", part.reserve),
        ("posts", part.posts),
        ("amperes", part.amperes),
    ):
        complaints += _unknown(draft, index, key, names, pattern.posts, "post")
    known_loads = [load.name for load in pattern.loads]
    complaints += _unknown(draft, index, "loads", part.loads, known_loads, "load")
    posts = {}
    for name in sorted(pattern.posts):
        spec = _changed(draft, index, name, pattern.posts[name], part.posts.get(name), complaints)
        spare = SPARE in _now(part.feeds.get(name, ""))
        if name in far_posts(pattern) and not spare:
            function, circuit = _belongs_beyond(draft, part, name, spec)
        else:
            function, circuit = _belongs(draft, index, part, name, spec, complaints)
        reserved = part.reserve.get(name, 0)
        if reserved and spec.kind != "stud":
            path = draft.path(SECTION, index, "reserve", name)
            message = f"lugs are reserved on studs only; this post is a {spec.kind}"
            complaints.append(draft.complain(path, message))
            reserved = 0
        posts[name] = FittedPost(name, spec, function, circuit, reserved, spare)
    return posts


def far_posts(pattern: PatternPart) -> set[str]:
    """Posts at which a way ends that passes current on."""
    return {far for way in pattern.ways if way.kind != "stop" for far in way.to}


def _belongs_beyond(
    draft: Draft, part: InstrumentPart, name: str, spec: PostPart
) -> tuple[str, str]:
    """Function and circuit of a way's far post: as feeds has it, or the circuit it supplies."""
    function = "far" if spec.function == "load" else spec.function
    if name in part.feeds:
        return function, part.feeds[name]
    own = _CIRCUIT_OF.get(function, function)
    post_id = f"{part.name}.{name}"
    supplied = (c.name for c in draft.part.circuit if c.supplied_by == post_id)
    return function, own or next(supplied, "")


def _now(stated: str) -> tuple[str, str]:
    """What is stated, and the word of today if it is an old one for a post without a wire."""
    return stated, todays_word(stated, (SPARE,))


def _unknown(
    draft: Draft, index: int, key: str, names: Iterable[str], known: Iterable[str], what: str
) -> list[Complaint]:
    allowed = sorted(known)
    return [
        draft.complain(
            draft.path(SECTION, index, key, name),
            f'the instrument has no {what} "{name}"',
            nearest(name, allowed),
            at_key=True,
        )
        for name in names
        if name not in allowed
    ]


def _changed(
    draft: Draft,
    index: int,
    name: str,
    spec: PostPart,
    change: PostChange | None,
    complaints: list[Complaint],
) -> PostPart:
    if change is None:
        return spec
    own = {"stud": ("thread", "free_thread"), "tab": ("tab",), "lead": ()}[spec.kind]
    update = {key: value for key, value in change if value is not None}
    for key in ("thread", "free_thread", "tab"):
        if key in update and key not in own:
            path = draft.path(SECTION, index, "posts", name, key)
            complaints.append(draft.complain(path, f"this post is a {spec.kind}: it has no {key}"))
            del update[key]
    return spec.model_copy(update=update)


def _belongs(
    draft: Draft,
    index: int,
    part: InstrumentPart,
    name: str,
    spec: PostPart,
    complaints: list[Complaint],
) -> tuple[str, str]:
    """Function and circuit of a post."""
    stated = part.feeds.get(name)
    if stated is None:
        return spec.function, _CIRCUIT_OF.get(spec.function, spec.function)
    path = draft.path(SECTION, index, "feeds", name)
    if stated != SPARE and SPARE in _now(stated):
        message = f'"{stated}" is not a circuit'
        hint = f'a post without a wire is "{SPARE}": feeds = {{ {name} = "{SPARE}" }}'
        complaints.append(draft.complain(path, message, hint))
        return spec.function, ""
    if stated == SPARE:
        return spec.function, ""
    if spec.function == "load":
        message = "this post is what the switch switches; it cannot be fed from a circuit"
        complaints.append(draft.complain(path, message, NOT_SAYABLE))
        return spec.function, ""
    # a signal post that is declared a feed is one from then on, whatever its name
    return (stated if spec.function == "signal" else spec.function), stated
