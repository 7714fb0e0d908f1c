"""The distinct dials of a panel: one drawing and one table for all that are alike."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.base.scale import mm_text
from lugwright.outputs.words import post_use
from lugwright.plans.panel import Panel, PanelEntry, PanelHole, PanelInstrument, PanelPost


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
    mount = one.mount
    rim = (mount.cut_out_width_dmm, mount.cut_out_height_dmm, mount.cut_out_radius_dmm,
           mount.bezel_width_dmm, mount.bezel_height_dmm, mount.from_back,
           tuple(sorted(screw.diameter_dmm for screw in mount.screws)))  # fmt: skip
    own = one.pattern, one.cut_out_dmm, one.bezel_dmm, one.body_dmm, one.body_depth_dmm
    return *own, sides, rim


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


def known_rim(one: PanelInstrument) -> dict[str, str]:
    """What the file says of a hole and a rim that are not round, by the keys of ``fields.RIM``."""
    mount = one.mount
    sizes = {
        "cut_out_width": mount.cut_out_width_dmm,
        "cut_out_height": mount.cut_out_height_dmm,
        "cut_out_radius": mount.cut_out_radius_dmm,
        "bezel_width": mount.bezel_width_dmm,
        "bezel_height": mount.bezel_height_dmm,
    }
    said = {key: f"{mm_text(size)} mm" if size else "" for key, size in sizes.items()}
    return {**said, "mounted_from": "back" if mount.from_back else "front" if one.is_cut_in else ""}


def known_screws(one: PanelInstrument) -> list[dict[str, str]]:
    """Its screws as they sit in the plate, by the keys of ``fields.SCREW``."""
    return [
        {
            "at x": f"{mm_text(screw.x_dmm - one.x_dmm)} mm",
            "at y": f"{mm_text(screw.y_dmm - one.y_dmm)} mm",
            "diameter": f"{mm_text(screw.diameter_dmm)} mm",
        }
        for screw in one.mount.screws
    ]


def known_loads(panel: Panel, one: PanelInstrument) -> list[tuple[str, dict[str, str]]]:
    """What it draws: each load's name and its current."""
    return [
        (load.name.removeprefix(f"{one.name}."), {"current": f"{load.current_ma / 1000:g} A"})
        for load in panel.loads
        if load.name.startswith(f"{one.name}.")
    ]


def known_hole(panel: Panel, hole: PanelHole) -> dict[str, str]:
    """A hole of the plate from the front, by the keys of ``fields.HOLE``."""
    return {
        "at x": f"{mm_text(panel.width_dmm - hole.x_dmm)} mm",
        "at y": f"{mm_text(hole.y_dmm)} mm",
        "diameter": f"{mm_text(hole.diameter_dmm)} mm",
        "what": hole.what,
    }


def known_wire(panel: Panel, entry: PanelEntry) -> dict[str, str]:
    """A wire from outside and where it comes in, front view, by the keys of ``fields.PIGTAIL``."""
    fuse_ma = next((fuse.fuse_ma for fuse in panel.fuses if fuse.wire == entry.wire), 0)
    return {
        "colour": entry.colour,
        "wire_size": entry.wire_size,
        "reach": f"{mm_text(entry.reach_dmm)} mm" if entry.reach_dmm else "",
        "entry x": f"{mm_text(panel.width_dmm - entry.x_dmm)} mm",
        "entry y": f"{mm_text(entry.y_dmm)} mm",
        "entry_height": f"{mm_text(entry.z_dmm)} mm",
        "fuse": f"{fuse_ma / 1000:g} A" if fuse_ma else "",
    }


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
