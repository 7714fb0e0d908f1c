"""Plots of what ``scale.py`` wrote: growth of CPU seconds, and gap over time, as SVG."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import matplotlib
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import NullFormatter, StrMethodFormatter
from scale_table import gap, solve_cpu_s

Row = Mapping[str, Any]
GROWING = ("ours", "one model", "HiGHS", "SCIP", "brute force")
GROWTH_FILE, GAP_FILE = "growth.svg", "gap.svg"
SECONDS = (1, 2, 5, 10, 20, 60, 120, 300, 600)
TICKS = (4, 5, 8, 12, 16, 20, 30, 40, 60)
DASHES = ("-", "--", ":", "-.", (0, (6, 2, 1, 2, 1, 2)), (0, (2, 1)))
# Letters as text, no date and no chance in the names inside: the same figures, the same file.
_STEADY = {"svg.fonttype": "none", "svg.hashsalt": "growth and gap", "font.size": 8}


@dataclass(frozen=True)
class Point:
    """One measured point; an open mark where it did not end by itself, none on a mere corner."""

    x: float
    y: float
    ended: bool
    mark: bool = True


def write_plots(result: Mapping[str, Any], folder: Path) -> list[Path]:
    """Write both plots into a folder; returns where they are."""
    folder.mkdir(parents=True, exist_ok=True)
    found = []
    for name, text in ((GROWTH_FILE, growth(result["rows"])), (GAP_FILE, gap_plot(result["rows"]))):
        (folder / name).write_text(text, encoding="utf-8")
        found.append(folder / name)
    return found


def growth(rows: list[Row], layout: str = "grid") -> str:
    """CPU seconds until the answer against instruments, both on log scales, loose limits.

    A panel for each number of circuits. An open mark is a run that its time ended.
    """
    numbers = sorted({row["circuits"] for row in rows})
    figure, panels = _figure(len(numbers))
    for circuits, axes in zip(numbers, panels, strict=True):
        axes.set_title(f"{circuits} circuits, {layout}, loose limits")
        axes.set_xlabel("instruments")
        axes.set_ylabel("CPU s until the answer (open: stopped by its time)")
        axes.set_yscale("log")
        axes.set_ylim(0.1, 1000)
        _log_x(axes, 4, 60, TICKS)
        for number, way in enumerate(GROWING):
            own = sorted(
                (row["instruments"], solve_cpu_s(row), row["ending"] in ("proved", "impossible"))
                for row in rows
                if (row["circuits"], row["limits"], row["layout"]) == (circuits, "loose", layout)
                and row["way"] == way
            )
            _line(axes, number, way, [Point(size, max(0.1, s), ended) for size, s, ended in own])
        _legend(axes)
    return _svg(figure)


def gap_plot(rows: list[Row]) -> str:
    """Gap between best plan and bound against wall seconds, for the largest consoles.

    A panel for each set of limits, a line for each layout and number of circuits. It starts with
    the first plan.
    """
    ours = [row for row in rows if row["way"] == "ours" and "without" not in row["limits"]]
    most = max((row["instruments"] for row in ours), default=0)
    sets = {
        limits: [row for row in ours if (row["instruments"], row["limits"]) == (most, limits)]
        for limits in ("loose", "binding")
    }
    sets = {limits: own for limits, own in sets.items() if own}
    figure, panels = _figure(len(sets))
    for (limits, own), axes in zip(sets.items(), panels, strict=True):
        last = max(10.0, *(row["wall_s"] for row in own))
        named = {f"{row['circuits']} circuits, {row['layout']}": row for row in own}
        without = ", ".join(name for name, row in sorted(named.items()) if not _gaps(row))
        axes.set_title(
            f"{most} instruments, {limits} limits"
            + (f" (no plan in time: {without})" if without else "")
        )
        axes.set_xlabel("wall s")
        axes.set_ylabel("gap between plan and bound, %")
        axes.set_ylim(0, _top(own))
        _log_x(axes, 1, last, [tick for tick in SECONDS if tick <= last])
        for number, (name, row) in enumerate(sorted(named.items())):
            _line(axes, number, name, list(_staircase(row)))
        _legend(axes)
    return _svg(figure)


def _figure(panels: int) -> tuple[Figure, Sequence[Axes]]:
    """A figure of so many panels, one below the other."""
    figure = Figure(figsize=(6.4, 3.6 * max(1, panels)), layout="constrained")
    return figure, figure.subplots(panels, squeeze=False)[:, 0] if panels else ()


def _log_x(axes: Axes, least: float, most: float, ticks: Sequence[float]) -> None:
    """Instruments or seconds along the foot, on a log scale, written as one says them."""
    axes.set_xscale("log")
    axes.set_xlim(least * 0.95, most * 1.05)
    axes.set_xticks(list(ticks))
    axes.xaxis.set_major_formatter(StrMethodFormatter("{x:g}"))
    axes.xaxis.set_minor_formatter(NullFormatter())
    axes.grid(True, color="#d0d0d0", linewidth=0.5)


def _line(axes: Axes, number: int, name: str, points: Sequence[Point]) -> None:
    """One line with its marks; nothing where there is no point. Told apart by dashes too."""
    if not points:
        return
    (line,) = axes.plot(
        [point.x for point in points],
        [point.y for point in points],
        linestyle=DASHES[number % len(DASHES)],
        label=name,
        gid=f"line {name}",
    )
    for ended, inside in ((True, line.get_color()), (False, "white")):
        marked = [point for point in points if point.mark and point.ended is ended]
        axes.plot(
            [point.x for point in marked],
            [point.y for point in marked],
            linestyle="none",
            marker="o",
            markersize=4,
            color=line.get_color(),
            markerfacecolor=inside,
            gid=f"{'ended' if ended else 'open'} {name}" if marked else None,
        )


def _legend(axes: Axes) -> None:
    if axes.get_legend_handles_labels()[0]:
        axes.legend(loc="center left", bbox_to_anchor=(1.01, 0.5), fontsize=7)


def _svg(figure: Figure) -> str:
    """The figure as text; the same figure gives the same bytes."""
    out = io.StringIO()
    with matplotlib.rc_context(_STEADY):
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    return out.getvalue()


def _gaps(row: Row) -> list[tuple[float, float]]:
    """Wall seconds and gap in per cent of every report with a plan."""
    found = []
    for wall_s, _, cost, bound in row.get("progress", ()):
        share = gap({"cost": cost, "bound": bound})
        if share is not None:
            found.append((max(1.0, wall_s), 100 * share))
    return found


def _staircase(row: Row) -> Iterator[Point]:
    before = None
    for wall_s, share in _gaps(row):
        if before is not None:
            yield Point(wall_s, before, False, mark=False)
        yield Point(wall_s, share, share == 0)
        before = share


def _top(rows: list[Row]) -> float:
    """A round number above every gap, in per cent."""
    most = max((share for row in rows for _, share in _gaps(row)), default=0.0)
    return next((top for top in (1, 2, 5, 10, 20, 50) if top >= most), 100)
