"""The distinct dials of a panel: one drawing and one table for all that are alike."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.base.scale import mm_text
from lugwright.outputs.words import post_use
from lugwright.plans.panel import Panel, PanelInstrument, PanelPost


@dataclass(frozen=True)
class Dial:
    """One kind of instrument: an example of it with its posts, and the names of all alike.

    Posts are numbered from 1 in the order of their names.
    """

    example: PanelInstrument
    posts: tuple[PanelPost, ...]
    names: tuple[str, ...]

    @property
    def title(self) -> str:
        """What heads its part of the sheet."""
        return f"{self.example.pattern or 'no pattern'}: {', '.join(self.names)}"

    def offset_dmm(self, post: PanelPost) -> tuple[int, int]:
        """A post's place from the dial's centre as it sits in the plate, back view, 0.1 mm."""
        return post.x_dmm - self.example.x_dmm, post.y_dmm - self.example.y_dmm


def dials_of(panel: Panel) -> tuple[Dial, ...]:
    """Every distinct dial of a panel, in the order of the first name of each.

    Alike are instruments with the same pattern, outline and posts, wherever they sit and however
    they are turned.
    """
    found: dict[tuple[object, ...], Dial] = {}
    for one in panel.instruments:
        posts = tuple(post for post in panel.posts if post.instrument == one.name)
        key = (*_outline(one), *map(_make, posts))
        first = found.get(key)
        found[key] = (
            Dial(first.example, first.posts, (*first.names, one.name))
            if first
            else Dial(one, posts, (one.name,))
        )
    return tuple(found.values())


def _outline(one: PanelInstrument) -> tuple[object, ...]:
    """What makes two bodies alike; a turned one has its sides the other way round."""
    sides = tuple(sorted((one.body_width_dmm, one.body_height_dmm)))
    return one.pattern, one.cut_out_dmm, one.bezel_dmm, one.body_dmm, one.body_depth_dmm, sides


def _make(post: PanelPost) -> tuple[object, ...]:
    """What makes two posts alike, wherever they are."""
    return (
        post.name, post.kind, post.function, post_use(post), post.z_dmm, post.thread,
        post.free_thread_dmm, post.tab_size, post.lead_size, post.lead_colour,
    )  # fmt: skip


def known_body(one: PanelInstrument) -> dict[str, str]:
    """What the file says of a body, by the keys of ``fields.BODY``; "" where it does not apply."""
    sizes = {
        "cut_out": one.cut_out_dmm,
        "bezel": one.bezel_dmm,
        "body": one.body_dmm if not one.body_width_dmm else 0,
        "body_width": one.body_width_dmm,
        "body_height": one.body_height_dmm,
        "body_depth": one.body_depth_dmm,
    }
    return {key: f"{mm_text(size)} mm" if size else "" for key, size in sizes.items()}


def known_post(dial: Dial, post: PanelPost) -> dict[str, str]:
    """What the file says of a post, by the keys of ``fields.POST``."""
    x, y = dial.offset_dmm(post)
    free = post.free_thread_dmm
    return {
        "kind": post.kind,
        "function": _function(post),
        "at x": f"{mm_text(x)} mm",
        "at y": f"{mm_text(y)} mm",
        "height": f"{mm_text(post.z_dmm)} mm",
        "thread": post.thread,
        "free_thread": f"{mm_text(free)} mm" if free else "",
        "tab": post.tab_size,
        "lead": " ".join(word for word in (post.lead_size, post.lead_colour) if word),
    }


def _function(post: PanelPost) -> str:
    """What the file marks beside a post, and what it is here where that is something else."""
    use = post_use(post)
    return post.function if use == post.function else f"{post.function}, here {use}"


def known_place(panel: Panel, one: PanelInstrument) -> dict[str, str]:
    """Where the file puts a dial, seen from the front."""
    return {
        "centre x": f"{mm_text(panel.width_dmm - one.x_dmm)} mm",
        "centre y": f"{mm_text(one.y_dmm)} mm",
        "turn": "",
    }


def known_plate(panel: Panel) -> dict[str, str]:
    """What the file says of the plate."""
    sizes = {
        "width": panel.width_dmm,
        "height": panel.height_dmm,
        "thickness": panel.thickness_dmm,
    }
    return {key: f"{mm_text(size)} mm" for key, size in sizes.items()}
