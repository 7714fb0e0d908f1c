"""The folder of a production run, written whole or not at all."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

from lugwright.base.errors import BadInput
from lugwright.base.files import read_text
from lugwright.outputs.digest import plan_digest
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.whole_folder import Tell, check_place, put_folder
from lugwright.production.run_text import sums_lines
from lugwright.production.tables import offcuts_csv, run_tables
from lugwright.production.traveller import travellers_pdf
from lugwright.production.whole_run import WholeRun

FORMAT = 1
MOST_BYTES = 50_000_000
RUN_FILE, TEXT_FILE, BOATS_FILE, OFFCUTS_FILE = (
    "run.json",
    "run.txt",
    "boat-sheets.pdf",
    "offcuts-left.csv",
)


def run_files(run: WholeRun, paper: Paper) -> dict[str, bytes]:
    """File name to content, for everything in a run's folder."""
    tables = run_tables(run.models, run.cuts, run.crimps, run.bought, run.spools)
    hand = {spool: list(lengths) for spool, lengths in run.on_hand.items()}
    return {
        RUN_FILE: _run_text(run).encode(),
        TEXT_FILE: ("\n".join(sums_lines(run)) + "\n").encode(),
        BOATS_FILE: travellers_pdf(run.models, paper),
        OFFCUTS_FILE: offcuts_csv(run.spools, hand).encode(),
        **{name: text.encode() for name, text in tables.items()},
    }


def write_run(
    run: WholeRun, target: Path, paper: Paper | None = None, tell: Tell | None = None
) -> tuple[str, ...]:
    """Write the folder of a run; the names of its files. ``tell`` hears of what a person keeps.

    Raises BadInput when the place holds anything that is not a run's, or cannot be written.
    """
    place = check_place(target, is_run_folder, "a production run's")
    return put_folder(place, target, run_files(run, paper or Paper()), tell=tell)


def is_run_folder(folder: Path) -> bool:
    """True when the folder holds a run's own file."""
    try:
        data = json.loads(read_text(folder / RUN_FILE, MOST_BYTES))
    except (BadInput, ValueError, RecursionError):
        return False
    return isinstance(data, dict) and data.get("what") == "production run"


def _run_text(run: WholeRun) -> str:
    data: dict[str, Any] = {
        "what": "production run",
        "format": FORMAT,
        "models": [
            {
                "title": model.plan.title,
                "boats": model.boats,
                "serials": list(model.serials()),
                "digest": plan_digest(model.plan),
            }
            for model in run.models
        ],
        "sums": asdict(run.sums),
        "times": asdict(run.times),
        "proved": run.proved,
    }
    return json.dumps(data, sort_keys=True, indent=1, ensure_ascii=False) + "\n"
