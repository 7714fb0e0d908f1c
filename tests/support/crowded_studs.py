"""Random consoles on which wires, tabs and studs stand in each other's way.

One to three dials with studs of unlike heights, turned at random; tabs up to 30 mm from a stud of
their own dial or of a neighbour, at any bearing; nuts from a random stock.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin
from random import Random

from support.asking import PUSH_ONS, RINGS, stock_of
from support.consoles import dmm, place, tiny_console
from support.limits import plain_limits
from support.strategies import Case

from lugwright.scenario.console import Console, KeepOut, Point, Post, TiePoint
from lugwright.stock.schema import Hardware, Stock

THREADS = ("#8-32 UNC", "#10-32 UNF", "M4 x 0.7")


def crowd(seed: int) -> Case:
    """The question of a seed."""
    random = Random(seed)
    console = _dials(random)
    console = replace(console, posts=_moved(random, console))
    if random.random() < 0.3:
        console = replace(console, tie_points=_ties(random, console))
    if random.random() < 0.2:
        x, y = random.randint(0, 2000), random.randint(0, 1500)
        rib = KeepOut("rib", x, y, x + 150, y + 300, random.choice((200, 500, 900)))
        console = replace(console, keep_outs=(rib,))
    limits = plain_limits(
        wires_per_barrel=2,
        lugs_per_stud=6,
        clearance_dmm=random.choice((0, 0, 30, 60, 80, 150, random.randint(0, 150))),
        nut_driver_room_dmm=random.choice((0, 30, 50, 100, random.randint(0, 100))),
        splices=random.random() < 0.3,
        dress_height_dmm=random.choice((0, 200, 450, 800)),
    )
    return Case(console, limits, _stock(random))


def _dials(random: Random) -> Console:
    number = random.randint(1, 3)
    step = random.choice((62, 70, 100))
    centres = [(50 + step * at, 60 + random.choice((0, 0, 7, 40))) for at in range(number)]
    entry = (random.randint(0, 200), random.randint(0, 20))
    return tiny_console(
        centres,
        heights_mm={at: random.choice((20, 45, 50, 60)) for at in range(1, number + 1)},
        depths_mm={at: random.choice((0, 30, 45, 55)) for at in range(1, number + 1)},
        entry_mm=entry,
        free_thread_mm=60,
        pigtail_size="16 AWG",
    )


def _moved(random: Random, console: Console) -> tuple[Post, ...]:
    """Dials turned, their posts at heights of their own, some tabs beside a stud."""
    turn = {one.name: random.choice((0, 90, 180, random.random() * 360)) for one in
            console.instruments}  # fmt: skip
    middle = {one.name: one.centre for one in console.instruments}
    posts = []
    for post in console.posts:
        x, y = post.at.x_dmm - middle[post.instrument].x_dmm, post.at.y_dmm
        y -= middle[post.instrument].y_dmm
        angle = turn[post.instrument] * pi / 180
        at = Point(
            middle[post.instrument].x_dmm + round(x * cos(angle) - y * sin(angle)),
            middle[post.instrument].y_dmm + round(x * sin(angle) + y * cos(angle)),
            max(0, post.at.z_dmm + random.choice((0, 0, -100, 100, 150))),
        )
        thread = random.choice(THREADS) if post.kind == "stud" else ""
        posts.append(replace(post, at=at, thread=thread))
    studs = [post for post in posts if post.kind == "stud"]
    return tuple(
        _beside(random, post, random.choice(studs)) if _is_moved(random, post) else post
        for post in posts
    )


def _is_moved(random: Random, post: Post) -> bool:
    return post.kind == "tab" and random.random() < 0.8


def _beside(random: Random, tab: Post, stud: Post) -> Post:
    """The tab at up to 30 mm from a stud, as a rule lower."""
    far, bearing = random.random() * dmm(30), random.random() * 2 * pi
    at = Point(
        max(0, stud.at.x_dmm + round(far * cos(bearing))),
        max(0, stud.at.y_dmm + round(far * sin(bearing))),
        max(0, stud.at.z_dmm - random.choice((0, 50, 100, 200))),
    )
    return replace(tab, at=at)


def _ties(random: Random, console: Console) -> tuple[TiePoint, ...]:
    """A loom of three ties, the middle one often beside a stud."""
    stud = random.choice([post for post in console.posts if post.kind == "stud"])
    x, y = stud.at.x_dmm + random.randint(-250, 250), stud.at.y_dmm + random.randint(-250, 250)
    beside = Point(max(0, x), max(0, y), random.choice((0, 200, 450)))
    return (
        TiePoint("one", place(10, 20, 10), ("two",)),
        TiePoint("two", beside, ("three",)),
        TiePoint("three", place(190, 30, 10), ()),
    )


def _stock(random: Random) -> Stock:
    """Nuts from 6 to 16 mm across flats for every thread, and a ring for each."""
    nuts = tuple(
        Hardware(thread, 20, 8, 800, random.choice((6_000, 8_732, 9_525, 13_000, 16_000)),
                 "nut driver", 60_000, 10)
        for thread in THREADS
    )  # fmt: skip
    rings = tuple(replace(row, stud_threads=THREADS) for row in RINGS)
    return replace(stock_of(), hardware=nuts, fittings=(*rings, *PUSH_ONS))
