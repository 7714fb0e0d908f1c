"""Rows of a panel's devices: what each way carries, and what is live in which state."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.base.scale import amps_text
from lugwright.plans.panel import PanelWay
from lugwright.plans.schema import Plan, WayRow


@dataclass(frozen=True)
class DeviceRow:
    """One way of a device. ``amps`` flow in it at most, ``judged_amps`` with the factor of each
    kind of load; ``carries`` is its own limit in A, ``fuse`` the rating of its fuse or breaker.
    """

    device: str
    way: str
    kind: str
    closed: str
    supplies: str
    amps: str
    judged_amps: str
    carries: str
    fuse: str


@dataclass(frozen=True)
class LiveStateRow:
    """One state of the devices: what is live then, and which feeds are not."""

    state: str
    live: str
    not_live: str


def device_rows(plan: Plan) -> tuple[DeviceRow, ...]:
    """Every way, device by device."""
    ways = {(way.near, way.far): way for way in plan.panel.ways}
    posts = {post.id: post for post in plan.panel.posts}
    rows = sorted(plan.ways, key=lambda row: (ways[row.near, row.far].instrument, row.far))
    return tuple(
        DeviceRow(
            device=ways[row.near, row.far].instrument,
            way=f"{posts[row.near].name} to {posts[row.far].name}",
            kind=row.kind,
            closed=_closed(ways[row.near, row.far]),
            supplies=row.circuit,
            amps=amps_text(row.current_ma) if row.circuit else "",
            judged_amps=amps_text(row.judged_ma) if row.circuit else "",
            carries=amps_text(row.carries_ma) if row.carries_ma else "",
            fuse=_fuse(row),
        )
        for row in rows
    )


def _closed(way: PanelWay) -> str:
    """The positions it conducts in."""
    return ", ".join(way.closed) or ("always" if way.conducts else "never")


def _fuse(row: WayRow) -> str:
    if row.kind not in ("fuse", "breaker"):
        return ""
    return f"{amps_text(row.fuse_ma)} A" if row.fuse_ma else "empty holder"


def live_state_rows(plan: Plan) -> tuple[LiveStateRow, ...]:
    """What is live, all off first."""
    feeds = [one.name for one in plan.panel.circuits if one.side == "feed"]
    return tuple(
        LiveStateRow(
            row.state,
            ", ".join(row.live) or "nothing",
            ", ".join(name for name in sorted(feeds) if name not in row.live) or "nothing",
        )
        for row in plan.live
    )


DEVICES_TITLE = "Devices: way, position, what it carries, current in A, fuse"
DEVICES_HEADS = (
    "device", "way", "kind", "closed in", "supplies", ">A", ">A by kind of load", ">carries, A",
    "fuse",
)  # fmt: skip
LIVE_TITLE = "What is live: all off first, fuses in and breakers closed"
LIVE_HEADS = ("state", "live", "not live")


def device_cells(rows: tuple[DeviceRow, ...]) -> list[tuple[str, ...]]:
    """The cells of the table of devices on every sheet."""
    return [
        (
            x.device, x.way, x.kind, x.closed, x.supplies or "-", x.amps or "-",
            x.judged_amps or "-", x.carries or "-", x.fuse or "-",
        )
        for x in rows
    ]  # fmt: skip


def live_cells(rows: tuple[LiveStateRow, ...]) -> list[tuple[str, ...]]:
    """The cells of the table of what is live on every sheet."""
    return [(x.state, x.live, x.not_live) for x in rows]
