"""Faults of the metal behind the panel: too many posts, two in one place, a short, one in the air.

Places are seen from the back, in millimetres, exact.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from lugwright.base.errors import Complaint
from lugwright.base.toml import KeyPath
from lugwright.base.units import length_text
from lugwright.scenario.draft import Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted, FittedPost
from lugwright.scenario.geometry_checks import off_plate_faults
from lugwright.scenario.placing import Pair, to_back, turned

# As many as the most instruments have, at four posts each, and one of each circuit with some to
# spare. The ways to
# share out the jumpers of one post over its lugs grow with about the fourth power of the latter.
MOST_POSTS = 240
MOST_POSTS_OF_A_CIRCUIT = 64

_PARTS = "plan part of the panel at a time"


def metal_faults(draft: Draft, fitted: list[Fitted]) -> list[Complaint]:
    """Every fault of the posts of instruments that needs neither limits nor stock."""
    complaints = list(_too_many(draft, fitted))
    for instrument in fitted:
        complaints += _in_one_place(draft, instrument)
        complaints += _shorts(draft, instrument)
        complaints += _linked_leads(draft, instrument)
        if not draft.lost.panel and not off_plate_faults(draft, instrument):
            complaints += _off_plate(draft, instrument)
    return complaints


def _path(draft: Draft, instrument: Fitted, post: str, key: str) -> KeyPath:
    """Where the file says it: in the instrument's own geometry or change, else at its name."""
    part = instrument.part
    if part.geometry is not None:
        return draft.path(INSTRUMENTS, instrument.index, "geometry", "posts", post, key)
    if post in part.posts:
        return draft.path(INSTRUMENTS, instrument.index, "posts", post, key)
    return draft.path(INSTRUMENTS, instrument.index, "name")


def _too_many(draft: Draft, fitted: list[Fitted]) -> Iterator[Complaint]:
    count = sum(len(instrument.posts) for instrument in fitted)
    if count > MOST_POSTS:
        message = f"there are {count} posts in all, at most {MOST_POSTS} are planned"
        yield draft.complain(INSTRUMENTS, message, _PARTS, at_key=True)
    circuits = Counter(post.circuit for instrument in fitted for post in instrument.posts.values())
    for circuit, posts in sorted(circuits.items()):
        if circuit and posts > MOST_POSTS_OF_A_CIRCUIT:
            message = (
                f'circuit "{circuit}" has {posts} posts, at most {MOST_POSTS_OF_A_CIRCUIT} are '
                "planned"
            )
            yield draft.complain(INSTRUMENTS, message, _PARTS, at_key=True)


def _in_one_place(draft: Draft, instrument: Fitted) -> Iterator[Complaint]:
    """Studs and tabs are of metal, and one of them fills its place. Leads may end anywhere."""
    first_at: dict[Pair, str] = {}
    for post in instrument.posts.values():
        if post.part.kind == "lead":
            continue
        first = first_at.setdefault(post.part.at, post.name)
        if first != post.name:
            path = _path(draft, instrument, post.name, "at")
            message = f'post "{post.name}" stands where post "{first}" stands'
            yield draft.complain(path, message)


def _shorts(draft: Draft, instrument: Fitted) -> Iterator[Complaint]:
    """Posts that are one piece of metal cannot belong to two circuits, or to one and to none."""
    first_of: dict[str, FittedPost] = {}
    by_circuit = sorted(instrument.posts.values(), key=lambda post: not post.circuit)
    for post in by_circuit:
        if not post.part.link or post.spare:
            continue
        first = first_of.setdefault(post.part.link, post)
        if first.circuit != post.circuit:
            path = _path(draft, instrument, post.name, "link")
            if post.name in instrument.part.feeds:
                path = draft.path(INSTRUMENTS, instrument.index, "feeds", post.name)
            message = (
                f'post "{post.name}" ({post.circuit or post.function}) and post "{first.name}" '
                f"({first.circuit}) are one piece of metal: a short"
            )
            yield draft.complain(path, message, "linked posts belong to one circuit")


def _linked_leads(draft: Draft, instrument: Fitted) -> Iterator[Complaint]:
    """A lead that is linked passes on what others take, and how much hangs on the plan."""
    used = [post for post in instrument.posts.values() if post.part.link and not post.spare]
    of_link = Counter(post.part.link for post in used)
    for post in used:
        if post.part.kind == "lead" and of_link[post.part.link] > 1:
            message = (
                f'post "{post.name}" is a flying lead linked to another post: how much would flow '
                "in its wire cannot be said beforehand"
            )
            hint = f'insulate its end and say feeds = {{ {post.name} = "spare" }}'
            yield draft.complain(_path(draft, instrument, post.name, "link"), message, hint)


def _off_plate(draft: Draft, instrument: Fitted) -> Iterator[Complaint]:
    panel = draft.part.panel
    x, y = to_back(instrument.part.centre, panel.width)
    for post in instrument.posts.values():
        if post.part.kind == "lead":
            continue
        dx, dy = turned(post.part.at, instrument.part.turn)
        if not (0 <= x + dx <= panel.width and 0 <= y + dy <= panel.height):
            path = _path(draft, instrument, post.name, "at")
            plate = f"the plate is {length_text(panel.width)} by {length_text(panel.height)}"
            yield draft.complain(path, f'post "{post.name}" stands beyond the plate', plate)
