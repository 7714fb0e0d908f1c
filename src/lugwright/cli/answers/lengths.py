"""What ``lugwright lengths`` reads and answers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.scale import mm_text
from lugwright.catalogue.store import MODELS, results_in
from lugwright.cli.table import table
from lugwright.outputs.plan_json import PLAN_FILE, read_unedited
from lugwright.outputs.plot import Axes, PlotPoint, frontier_plot
from lugwright.plans.schema import Plan
from lugwright.production.standard_lengths import LengthSet


def needed_lengths(plans: tuple[Path, ...], boats: tuple[int, ...]) -> Counter[int]:
    """Cut lengths (0.1 mm) of every jumper, times its boats.

    Raises BadInput for a file that is no plan, a folder without one, numbers that do not match.
    """
    given = boats or (1,)
    if len(given) not in (1, len(plans)):
        message = f"given {len(given)} times for {len(plans)} plans"
        raise BadInput(Complaint("--boats", 0, 0, "", message, "give it once, or once for each"))
    needs: Counter[int] = Counter()
    for at, path in enumerate(plans):
        for plan in _plans(path):
            for piece in plan.jumpers:
                needs[piece.length_dmm] += given[at if len(given) > 1 else 0]
    if not needs:
        raise BadInput(Complaint(str(plans[0]), 0, 0, "", "no plan given cuts a jumper"))
    return needs


def _plans(path: Path) -> Iterator[Plan]:
    """The plan itself; or every plan of a folder of plan folders, or of a planned catalogue.

    Raises BadInput for a folder that holds none.
    """
    if not path.is_dir() or (path / PLAN_FILE).is_file():
        yield read_unedited(path)
        return
    folders = sorted(one.parent for one in path.glob(f"*/{PLAN_FILE}"))
    names = sorted(one.stem for one in path.glob(f"{MODELS}/*.json"))
    if not folders and not names:
        raise BadInput(Complaint(str(path), 0, 0, "", "holds no plan", "name a plan folder"))
    yield from map(read_unedited, folders)
    yield from (result.plan for result in results_in(path, names) if result.plan is not None)


def as_lines(sets: tuple[LengthSet, ...], pieces: int) -> list[str]:
    """The best set for each number of lengths."""
    rows = [
        (
            str(len(one.lengths_dmm)),
            mm_text(one.waste_dmm),
            f"{one.waste_dmm * 100 / one.need_dmm:.1f}",
            ", ".join(map(mm_text, one.lengths_dmm)),
        )
        for one in sets
    ]
    head = ("lengths", "waste mm", "% of need", "which, mm")
    need = mm_text(sets[0].need_dmm)
    return [
        f"{pieces} jumpers need {need} mm of wire. Least waste, proved for each number:",
        table(head, rows, right=(0, 1, 2)),
    ]


def curve(sets: tuple[LengthSet, ...]) -> str:
    """Waste over the number of lengths, as SVG."""
    points = [PlotPoint(len(one.lengths_dmm), one.waste_dmm, "") for one in sets]
    axes = Axes(
        "Wire wasted by standard lengths",
        "number of standard lengths",
        "wire wasted, mm",
        str,
        mm_text,
        True,
    )
    return frontier_plot(points, None, axes).file()
