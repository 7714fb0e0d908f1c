"""A whole catalogue planned: every model's result in its file, and one row for each.

Started again, it goes on where it was stopped: results that stand are kept, and the store ends
up the same to the byte, whichever engine ran it and however often it was stopped. Paths are
handed to workers as they were given, since plans name them: a worker on another machine has to
stand in the same folder, or be given whole paths.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from lugwright.base.errors import BadInput, Complaint, LugwrightError
from lugwright.base.files import refuse_lost_link
from lugwright.catalogue.engine import Engine, run_jobs
from lugwright.catalogue.job import Done, Job, failed, finish, run_job
from lugwright.catalogue.keys import stock_rows
from lugwright.catalogue.schema import Settings
from lugwright.catalogue.store import drop_strays, models_in, result_path
from lugwright.catalogue.whatif import WhatIf, run_whatif, write_stock
from lugwright.stock.read import read_stock

DIED = "its process died each time it was planned (out of memory?)"

Tell = Callable[[Done, int, int], None]
"""Told of each job as it ends, with how many have ended of how many."""


@dataclass(frozen=True)
class Power:
    """What runs the jobs: the engine, how many workers (None: one a core), a cluster's address."""

    engine: Engine = "local"
    workers: int | None = None
    cluster: str = ""


def models_of(folder: Path, settings: Settings) -> tuple[Path, ...]:
    """The scenario files of a catalogue. Raises BadInput where there is none."""
    leave = () if settings.limits_file is None else (settings.limits_file,)
    models = models_in(folder, leave=leave)
    if not models:
        hint = "a catalogue is a folder of scenario files, NAME.toml"
        raise BadInput(Complaint(str(folder), 0, 0, "", "holds no scenario", hint))
    return models


def plan_catalogue(
    folder: Path,
    store: Path,
    settings: Settings,
    power: Power | None = None,
    tell: Tell | None = None,
) -> tuple[Done, ...]:
    """Plan every model of a folder into a store; word of each, by name.

    Raises BadInput where the folder holds no scenario.
    """
    models = models_of(folder, settings)
    refuse_lost_link(store)
    keep_stock(store, settings)
    jobs = [Job(path, store, settings) for path in models]
    ended = run_all(run_job, jobs, power or Power(), tell)
    drop_strays(store, (job.name for job in jobs))
    return ended


def look_at_change(
    folder: Path,
    before: Path,
    store: Path,
    settings: Settings,
    power: Power | None = None,
    tell: Tell | None = None,
) -> tuple[Done, ...]:
    """Every model of a planned catalogue under other settings, into a store of its own.

    Raises BadInput where the folder holds no scenario or the catalogue is not planned.
    """
    models = models_of(folder, settings)
    _check_planned(folder, before, models)
    refuse_lost_link(store)
    keep_stock(store, settings)
    jobs = [WhatIf(path, store, settings, before) for path in models]
    ended = run_all(run_whatif, jobs, power or Power(), tell)
    drop_strays(store, (job.name for job in jobs))
    return ended


def planned_models(folder: Path, store: Path) -> tuple[str, ...]:
    """The names of a catalogue's models, all planned.

    Files that are no models (a shop's limits file in the same folder) have no result and are left
    out. Raises BadInput where nothing is planned.
    """
    names = [path.stem for path in models_of(folder, Settings())]
    planned = tuple(name for name in names if result_path(store, name).is_file())
    if not planned:
        raise BadInput(_not_planned(folder, store, "nothing is planned here"))
    return planned


def _check_planned(folder: Path, store: Path, models: Sequence[Path]) -> None:
    """Raise BadInput where a model has no result in the store."""
    missing = [path.stem for path in models if not result_path(store, path.stem).is_file()]
    if missing:
        what = f"{len(missing)} of {len(models)} models are not planned, {missing[0]} first"
        raise BadInput(_not_planned(folder, store, what))


def _not_planned(folder: Path, store: Path, what: str) -> Complaint:
    hint = f"lugwright catalogue plan {folder.as_posix()}"
    return Complaint(str(store), 0, 0, "", what, hint)


def keep_stock(store: Path, settings: Settings) -> None:
    """Put the stock's rows into a store. Raises BadInput where the stock cannot be read."""
    write_stock(store, stock_rows(read_stock(settings.stock_folder)))


J = TypeVar("J", bound=Job)


def run_all(
    work: Callable[[J], Done], jobs: list[J], power: Power, tell: Tell | None
) -> tuple[Done, ...]:
    """Do all jobs on an engine and tell of each; word of all, by name."""
    ended = []
    for done in run_jobs(
        work,
        jobs,
        engine=power.engine,
        workers=power.workers,
        cluster=power.cluster,
        gave_up=_gave_up,
    ):
        ended.append(done)
        if tell is not None:
            tell(done, len(ended), len(jobs))
    return tuple(sorted(ended, key=lambda done: done.name))


def _gave_up(job: Job) -> Done:
    """The result of a model that took its process down every time."""
    return finish(job, failed(job.name, LugwrightError(DIED)), "given up")
