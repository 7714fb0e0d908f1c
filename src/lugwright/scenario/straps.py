"""Straps: ready-made metal that joins studs, with one lug on each.

What straps and links join is one piece of metal and one node of its circuit's tree. The current in
a strap is told stud by stud, so no two ways may lead through metal from one stud to another.
Rules R8, R35.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from lugwright.base.errors import Complaint
from lugwright.base.identity import JointId
from lugwright.base.units import to_dmm_up
from lugwright.scenario.complaints import nearest
from lugwright.scenario.console import Post, Strap
from lugwright.scenario.draft import Draft
from lugwright.scenario.fitting_out import Fitted, FittedPost
from lugwright.scenario.schema import StrapPart

STRAPS = ("strap",)
_TREE = "straps join studs as a tree: take this stud off one of them"


def with_straps(draft: Draft, fitted: list[Fitted]) -> list[Fitted]:
    """The instruments, each post with the metal of the straps it is part of."""
    metals = _Metals(draft, fitted)
    return [
        replace(
            one,
            posts={
                name: replace(post, strap=metals.of(one.post_id(name)))
                for name, post in one.posts.items()
            },
        )
        for one in fitted
    ]


def strap_faults(draft: Draft, fitted: list[Fitted]) -> list[Complaint]:
    """Straps that lead nowhere, join what may not be joined, or join what is one already.

    Rule R8.
    """
    return [
        complaint
        for index, part in enumerate(draft.part.strap)
        for complaint in (*_named_twice(draft, index, part), *_posts(draft, fitted, index, part))
    ] or list(_rings(draft, fitted))


def straps_of(written: Sequence[StrapPart], posts: Sequence[Post]) -> tuple[Strap, ...]:
    """The straps of a console without fault, by name."""
    parts = sorted(written, key=lambda part: part.name)
    return tuple(_strap(parts, part, posts) for part in parts)


def _strap(parts: Sequence[StrapPart], part: StrapPart, posts: Sequence[Post]) -> Strap:
    inside = {post.id: post.link or post.id for post in posts}
    studs = tuple(sorted(post.id for post in posts if post.id in part.posts))
    return Strap(
        name=part.name,
        posts=studs,
        thickness_dmm=to_dmm_up(part.thickness),
        contact_uohm=part.contact,
        carries_ma=part.carries or 0,
        sides=tuple(_side(parts, inside, part.name, stud) for stud in studs),
    )


def _side(
    parts: Sequence[StrapPart], inside: Mapping[JointId, str], strap: str, post: JointId
) -> frozenset[JointId]:
    """All posts on a stud's side, were the strap taken off there: by other straps and links."""
    found, waiting = {inside[post]}, [inside[post]]
    while waiting:
        metal = waiting.pop()
        for part in parts:
            ends = {own for end, own in inside.items() if end in part.posts}
            if part.name != strap and metal in ends:
                waiting += ends - found
                found |= ends
    return frozenset(each for each, metal in inside.items() if metal in found)


class _Metals:
    """Which studs straps join, links inside instruments included; by post, the metal's name."""

    def __init__(self, draft: Draft, fitted: list[Fitted]) -> None:
        self._inside = _inside(fitted)
        self._name: dict[str, str] = {}
        for part in sorted(draft.part.strap, key=lambda part: part.name):
            ends = {self._inside[post] for post in part.posts if post in self._inside}
            names = {self._name[end] for end in ends if end in self._name}
            name = min([f"strap {part.name}", *names])
            self._name |= dict.fromkeys(ends, name)
            self._name = {end: name if own in names else own for end, own in self._name.items()}

    def of(self, post: str) -> str:
        """The metal of straps a post is part of; "" where none is on it."""
        return self._name.get(self._inside[post], "")


def _inside(fitted: list[Fitted]) -> dict[str, str]:
    """The metal each post is inside its own instrument; no post is called as a link is."""
    return {
        one.post_id(name): f"{one.name}: {post.part.link}" if post.part.link else one.post_id(name)
        for one in fitted
        for name, post in one.posts.items()
    }


def _named_twice(draft: Draft, index: int, part: StrapPart) -> Iterator[Complaint]:
    if part.name in [other.name for other in draft.part.strap[:index]]:
        path = draft.path(STRAPS, index, "name")
        yield draft.complain(path, f'two straps are named "{part.name}"')


def _posts(
    draft: Draft, fitted: list[Fitted], index: int, part: StrapPart
) -> Iterator[Complaint]:
    """Each of its posts is a stud of one and the same circuit, named once."""
    found: dict[str, FittedPost] = {}
    for number, post_id in enumerate(part.posts):
        path = draft.path(STRAPS, index, "posts", number)
        instrument, _, name = post_id.rpartition(".")
        if instrument in draft.lost.instruments or draft.lost.unnamed_instrument:
            return
        post = next((o.posts.get(name) for o in fitted if o.name == instrument), None)
        if post is None:
            known = [one.post_id(each) for one in fitted for each in one.posts]
            yield draft.complain(path, f'there is no post "{post_id}"', nearest(post_id, known))
        elif post_id in found:
            yield draft.complain(path, f'"{post_id}" is named twice', "a strap has one lug on it")
        elif post.part.kind != "stud":
            message = f'"{post_id}" is a {post.part.kind}, and a strap goes on studs'
            yield draft.complain(path, message)
        elif not post.circuit:
            said = "is spare: no wire goes to it" if post.spare else "is on no circuit"
            hint = f'say which circuit, as its instrument has it: feeds = {{ {name} = "..." }}'
            yield draft.complain(path, f'"{post_id}" {said}, and metal joins it to others', hint)
        else:
            first = next(iter(found.items()), (post_id, post))
            if first[1].circuit != post.circuit:
                message = (
                    f'"{first[0]}" is on circuit "{first[1].circuit}" and "{post_id}" on '
                    f'"{post.circuit}": the strap would join them, a short'
                )
                yield draft.complain(path, message, "a strap joins studs of one circuit")
            found[post_id] = post


def _rings(draft: Draft, fitted: list[Fitted]) -> Iterator[Complaint]:
    """Metal that leads from one stud to another in two ways: none could tell what each carries."""
    inside = _inside(fitted)
    joined: dict[str, str] = {}
    for index, part in enumerate(draft.part.strap):
        for number, post in enumerate(part.posts):
            mine, strap = _end(joined, inside.get(post, post)), _end(joined, f"strap {part.name}")
            if mine == strap:
                path = draft.path(STRAPS, index, "posts", number)
                message = f'"{post}" is one piece of metal with the strap\'s other studs already'
                yield draft.complain(path, message, _TREE)
            joined[mine] = strap


def _end(joined: Mapping[str, str], name: str) -> str:
    while joined.get(name, name) != name:
        name = joined[name]
    return name
