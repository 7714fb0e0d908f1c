"""A random console with a second stud linked to each far post: the same metal, and one way out."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from brute.case import Case
from lugwright.scenario.console import Point

APART_DMM = 100


def with_linked_far_posts(case: Case) -> Case:
    """The case with such a stud, mostly optional, beside each far post that is a stud."""
    console, rng = case.console, Random(f"linked {case.seed}")
    posts, circuits = list(console.posts), list(console.circuits)
    for number, circuit in enumerate(circuits):
        far = console.post(circuit.supplied_by) if circuit.supplied_by else None
        if far is None or far.kind != "stud" or far.link:
            continue
        posts[posts.index(far)] = replace(far, link=far.name)
        beside = replace(
            far,
            id=f"{far.id} 2",
            name=f"{far.name} 2",
            at=Point(far.at.x_dmm + APART_DMM, far.at.y_dmm, far.at.z_dmm),
            link=far.name,
            optional=rng.random() < 0.7,
            reserved=0,
        )
        posts.append(beside)
        circuits[number] = replace(circuit, posts=(*circuit.posts, beside.id))
    changed = replace(console, posts=tuple(posts), circuits=tuple(circuits))
    return replace(case, console=changed, splices={})
