"""Tables for README.md beside this file, from the rows that ``scale.py`` wrote alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

Row = Mapping[str, Any]
Group = tuple[int, int, str]
"""Circuits, instruments, name of the set of limits."""

LAYOUTS = ("row", "grid", "scattered", "devices")
MILPS = ("HiGHS", "SCIP")
BESIDE = ("one model", *MILPS, "brute force")
DROP = "drop_critical="
USUAL_DROP = "3 %"  # of the rule set "usual", which a test holds
BY_RULE_OF_THUMB = ("hand plan", "greedy")
KEY = ("instruments", "circuits", "layout", "limits", "tabs_waived", "seed", "way", "seconds")


def key_of(row: Row) -> tuple[Any, ...]:
    """What makes two rows the same question put in the same way."""
    return (*(row[name] for name in KEY), *row["settings"])


def table(result: Mapping[str, Any]) -> str:
    """Everything as markdown: ours, side by side, rules of thumb, which limits bind, and how it
    was measured."""
    rows = result["rows"]
    parts = [_heading(result), _ours(rows), _beside(rows), _rules_of_thumb(rows), _binds(rows)]
    parts += [_limits(rows), _differences(rows)]
    return "\n\n".join(part for part in parts if part)


def gap(row: Row) -> float | None:
    """How far a plan may be from the best, as a share of its cost; None without a plan."""
    if not row.get("cost") or not row.get("bound"):
        return None
    cost, bound = row["cost"][0], row["bound"][0]
    return max(0.0, (cost - bound) / cost) if cost else 0.0


def solve_cpu_s(row: Row) -> float:
    """CPU seconds from the start of the process until the answer was known."""
    return float(row.get("solve_cpu_s") or row["cpu_s"])


def posed_cpu_s(row: Row) -> float:
    """CPU seconds of them until the question was posed: imports, reading, routes."""
    return float(row.get("posed_cpu_s") or 0.0)


def times_the_milp(rows: Iterable[Row], *, alone: bool = False) -> str:
    """CPU seconds of the faster MILP over ours, for one console; ">" where it did not end.

    ``alone``: what it takes to pose the question, which is the same for all, left out.
    """

    def spent(row: Row) -> float:
        return max(0.01, solve_cpu_s(row) - (posed_cpu_s(row) if alone else 0.0))

    by_way = {row["way"]: row for row in rows}
    milps = [by_way[way] for way in MILPS if way in by_way]
    if not milps or "ours" not in by_way or by_way["ours"]["ending"] != "proved":
        return ""
    faster = min(milps, key=spent)
    ratio = spent(faster) / spent(by_way["ours"])
    return ("" if faster["ending"] == "proved" else "> ") + f"{ratio:.1f}"


def _heading(result: Mapping[str, Any]) -> str:
    run, first = result["runs"][-1], result["runs"][0]
    days = sorted({first["date"][:10], run["date"][:10]})
    names = ("ortools", "highspy", "pyscipopt")
    with_these = ", ".join(f"{name} {run[name]}" for name in names)
    return (
        f"Measured {' to '.join(days)}: {run['cpus']} CPUs, {run['machine']}, Python "
        f"{run['python']}, {with_these}; consoles of seed {run['seed']}. Each way of solving is a "
        "process of its own; seconds are CPU seconds, imports and posing included. *x* (p %) is a "
        "run that its time ended p % from its bound."
    )


def _latest(rows: Iterable[Row]) -> dict[tuple[Any, ...], Row]:
    """The last row of each console and way, by group, layout and way."""
    return {(*_group(row), row["layout"], row["way"]): row for row in rows}


def _layouts(rows: Iterable[Row]) -> list[str]:
    """The layouts that rows are of, in their order."""
    there = {row["layout"] for row in rows}
    return [layout for layout in LAYOUTS if layout in there]


def _group(row: Row) -> Group:
    return row["circuits"], row["instruments"], row["limits"]


def _groups(rows: Iterable[Row], ways: Iterable[str]) -> list[Group]:
    wanted = set(ways)
    plain = [row for row in rows if row["way"] in wanted and "without" not in row["limits"]]
    return sorted({_group(row) for row in plain}, key=lambda g: (g[0], g[2] != "loose", g[1]))


def limits_text(rows: Iterable[Row]) -> str:
    """The set of limits of rows that differ in their layouts only, with the drop each allows.

    ``loose, drop 20/10/10 %``: what critical loads may lose in a row, a grid and scattered.
    """
    own = list(rows)
    by_layout = {row["layout"]: _drop(row) for row in own}
    names = sorted({row["limits"] for row in own})
    drops = [by_layout[layout] for layout in LAYOUTS if layout in by_layout]
    each = dict.fromkeys(drops) if len(set(drops)) == 1 else drops
    return f"{', '.join(names)}, drop {'/'.join(drop.removesuffix(' %') for drop in each)} %"


def _drop(row: Row) -> str:
    """The drop that critical loads may have."""
    return next((s.partition("=")[2] for s in row["settings"] if s.startswith(DROP)), USUAL_DROP)


def _seconds_text(row: Row | None, seconds: float | None = None) -> str:
    if row is None:
        return ""
    spent = f"{solve_cpu_s(row) if seconds is None else seconds:.1f}"
    if row["ending"] == "proved":
        return spent
    share = gap(row)
    return f"{spent} ({row['ending'] if share is None else f'{share:.1%}'})"


def _markdown(head: Iterable[str], rows: Iterable[Iterable[object]]) -> str:
    lines = [tuple(head)]
    lines += [tuple("-" * 3 for _ in lines[0])]
    lines += [tuple(map(str, row)) for row in rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def _ours(rows: list[Row]) -> str:
    """Whole processes of ours, all sheets written, layout by layout."""
    found, lines, layouts = _latest(rows), [], _layouts(rows)
    for group in _groups(rows, ["ours"]):
        own = [found.get((*group, layout, "ours")) for layout in layouts]
        there = [row for row in own if row is not None]
        cells = [_seconds_text(row, row["cpu_s"] if row else None) for row in own]
        walls = max(row["wall_s"] for row in there)
        peak = max(row["peak_mb"] for row in there)
        circuits, size, _ = group
        lines.append((size, circuits, limits_text(there), *cells, f"{walls:.1f}", peak))
    head = ("instruments", "circuits", "limits", *layouts, "most wall s", "peak MB")
    return f"Whole plans, checked, all sheets written:\n\n{_markdown(head, lines)}" if lines else ""


def _beside(rows: list[Row]) -> str:
    """Ours and the other ways on the same consoles."""
    found, lines = _latest(rows), []
    for group in _groups(rows, BESIDE):
        for layout in LAYOUTS:
            own = {way: found.get((*group, layout, way)) for way in ("ours", *BESIDE)}
            if not any(own[way] for way in BESIDE):
                continue
            cells = [_seconds_text(own[way]) for way in own]
            there = [row for row in own.values() if row]
            ratios = times_the_milp(there), times_the_milp(there, alone=True)
            told = limits_text(there)
            lines.append((group[1], group[0], told, layout, *cells, *ratios))
    ratio_names = ("faster MILP ÷ ours", "the same, posing left out")
    head = ("instruments", "circuits", "limits", "layout", "ours", *BESIDE, *ratio_names)
    words = (
        "The same question in other ways (the MILP has every wire size and leaves electrical rules "
        "out, so it is asked under loose limits only):"
    )
    return f"{words}\n\n{_markdown(head, lines)}" if lines else ""


def _rules_of_thumb(rows: list[Row]) -> str:
    """What the hand plan and the nearest-post plan cost more than the best that is known."""
    found, lines, layouts = _latest(rows), [], _layouts(rows)
    for group in _groups(rows, BY_RULE_OF_THUMB):
        cells = []
        for way in BY_RULE_OF_THUMB:
            for layout in layouts:
                own, best = (found.get((*group, layout, name)) for name in (way, "ours"))
                cells.append(_dearer(own, best))
        there = [row for key, row in found.items() if key[:3] == group]
        lines.append((group[1], group[0], limits_text(there), *cells))
    names = [f"{way}, {layout}" for way in BY_RULE_OF_THUMB for layout in layouts]
    head = ("instruments", "circuits", "limits", *names)
    words = (
        "Dearer than the proved best (~: than the best known); faults are the checker's findings:"
    )
    return f"{words}\n\n{_markdown(head, lines)}" if lines else ""


def _dearer(own: Row | None, best: Row | None) -> str:
    if own is None:
        return ""
    if not own.get("cost"):
        return "no plan" if own["ending"] == "no answer" else own["ending"]
    if own.get("findings"):
        return f"{own['findings']} faults"
    if best is None or not best.get("cost"):
        return "?"
    share = own["cost"][0] / best["cost"][0] - 1
    return ("" if best["ending"] == "proved" else "~") + f"{share:+.1%}"


def binding_rules(rows: Iterable[Row]) -> dict[tuple[int, int, str], tuple[list[str], list[str]]]:
    """By instruments, circuits and layout: the binding rules whose absence changes the cost, and
    those whose absence does not.

    A rule that is not proved either way is in neither: it is shown to bind as soon as the bound
    with it is above the cost of a plan without it.
    """
    ours = {
        (row["instruments"], row["circuits"], row["layout"], row["limits"]): row
        for row in rows
        if row["way"] == "ours"
    }
    found: dict[tuple[int, int, str], tuple[list[str], list[str]]] = {}
    for (size, circuits, layout, name), row in sorted(ours.items()):
        base = ours.get((size, circuits, layout, "binding"))
        if base is None or not name.startswith("binding without "):
            continue
        binds, idle = found.setdefault((size, circuits, layout), ([], []))
        rule = name.removeprefix("binding without ")
        if _is_above(base, row):
            binds.append(rule)
        elif base["ending"] == row["ending"] == "proved":
            idle.append(rule)
    return found


def _is_above(row: Row, other: Row) -> bool:
    """Whether no plan of a row can be as cheap as the plan of another."""
    if not other.get("cost"):
        return False
    return bool(row["ending"] == "impossible" or (row.get("bound") or [0]) > other["cost"])


def _binds(rows: list[Row]) -> str:
    """Which of the binding rules change the best plan when they are taken away."""
    found, lines = _latest(rows), []
    for (size, circuits, layout), (binds, idle) in sorted(binding_rules(rows).items()):
        costs = []
        for name in ("loose", "binding"):
            row = found.get((circuits, size, name, layout, "ours"))
            costs.append(row["cost"][0] if row and row.get("cost") else "")
        lines.append((size, circuits, layout, *costs, ", ".join(binds), ", ".join(idle)))
    head = ("instruments", "circuits", "layout", "cost, loose", "cost, binding", "binds", "idle")
    words = "Binding rules, each taken away by itself: does the proved best change?"
    return f"{words}\n\n{_markdown(head, lines)}" if lines else ""


def _limits(rows: list[Row]) -> str:
    """The limits used, as set: those of every console, then what differs and where."""
    lines = []
    for name in sorted({row["limits"] for row in rows if "without" not in row["limits"]}):
        own = [row for row in rows if row["limits"] == name]
        sets = {_place(row): {*row["settings"]} for row in own}
        common = set.intersection(*sets.values())
        told = [setting for setting in own[0]["settings"] if setting in common]
        if any(row["tabs_waived"] for row in own):
            told.append("tabs waived from wires_per_barrel")
        lines.append(f"- {name}: {'; '.join(told) or 'the usual rule set'}")
        for setting in dict.fromkeys(s for row in own for s in row["settings"] if s not in common):
            there = {place for place, settings in sets.items() if setting in settings}
            lines.append(f"  - {setting}: {_where(there, set(sets))}")
    return "Limits:\n\n" + "\n".join(lines)


Place = tuple[int, int, str]
"""Circuits, instruments, layout."""


def _place(row: Row) -> Place:
    return row["circuits"], row["instruments"], row["layout"]


def _where(there: set[Place], everywhere: set[Place]) -> str:
    """Some of the consoles, in few words."""
    for axis, words in ((0, "circuits"), (1, "instruments")):
        values = {place[axis] for place in there}
        if there == {place for place in everywhere if place[axis] in values}:
            return f"{', '.join(map(str, sorted(values)))} {words}"
    return ", ".join(dict.fromkeys(f"{size} {layout}" for _, size, layout in sorted(there)))


def _differences(rows: Iterable[Row]) -> str:
    """Every console whose proved costs differ from one way to another: there should be none."""
    lines = list(_differing(rows))
    return "COSTS DIFFER:\n\n" + "\n".join(lines) if lines else ""


def _differing(rows: Iterable[Row]) -> Iterator[str]:
    proved: dict[tuple[Any, ...], dict[str, list[int]]] = {}
    for row in rows:
        if row["ending"] == "proved":
            proved.setdefault((*_group(row), row["layout"]), {})[row["way"]] = list(row["cost"])
    for console, costs in sorted(proved.items()):
        if len(set(map(tuple, costs.values()))) > 1:
            yield f"- {console}: {costs}"
