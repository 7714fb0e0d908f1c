"""Plots of what ``scale.py`` wrote: growth of CPU seconds, and gap over time, as SVG."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from scale_table import gap, solve_cpu_s
from svg_chart import Axis, Chart, Point, page

Row = Mapping[str, Any]
GROWING = ("ours", "one model", "HiGHS", "SCIP", "brute force")
GROWTH_FILE, GAP_FILE = "growth.svg", "gap.svg"
SECONDS = (1, 2, 5, 10, 20, 60, 120, 300, 600)
TICKS = (4, 5, 8, 12, 16, 20, 30, 40, 60)


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
    charts = []
    for circuits in sorted({row["circuits"] for row in rows}):
        chart = Chart(
            f"{circuits} circuits, {layout}, loose limits",
            Axis("instruments", 4, 60, TICKS),
            Axis(
                "CPU s until the answer (open: stopped by its time)",
                0.1,
                1000,
                (0.1, 1, 10, 100, 1000),
            ),
        )
        for way in GROWING:
            own = sorted(
                (row["instruments"], solve_cpu_s(row), row["ending"] in ("proved", "impossible"))
                for row in rows
                if (row["circuits"], row["limits"], row["layout"]) == (circuits, "loose", layout)
                and row["way"] == way
            )
            chart.line(way, [Point(size, seconds, ended) for size, seconds, ended in own])
        charts.append(chart)
    return page(charts)


def gap_plot(rows: list[Row]) -> str:
    """Gap between best plan and bound against wall seconds, for the largest consoles.

    A panel for each set of limits, a line for each layout and number of circuits. It starts with
    the first plan.
    """
    ours = [row for row in rows if row["way"] == "ours" and "without" not in row["limits"]]
    most = max((row["instruments"] for row in ours), default=0)
    charts = []
    for limits in ("loose", "binding"):
        own = [row for row in ours if (row["instruments"], row["limits"]) == (most, limits)]
        if not own:
            continue
        last = max(10.0, *(row["wall_s"] for row in own))
        named = {f"{row['circuits']} circuits, {row['layout']}": row for row in own}
        without = ", ".join(name for name, row in sorted(named.items()) if not _gaps(row))
        chart = Chart(
            f"{most} instruments, {limits} limits"
            + (f" (no plan in time: {without})" if without else ""),
            Axis("wall s", 1, last, tuple(tick for tick in SECONDS if tick <= last)),
            Axis("gap between plan and bound, %", 0, _top(own), (), log=False),
        )
        for name, row in sorted(named.items()):
            chart.line(name, list(_staircase(row)))
        charts.append(chart)
    return page(charts)


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
