"""Many jobs: one after the other, on all cores of this machine, or on a cluster.

Every engine runs the same jobs, each with one process to itself; they differ only in the order
in which jobs end. A worker that dies takes nothing with it but the job it had in hand, which is
then tried again apart from the others.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from importlib import import_module
from typing import Any, Literal, TypeVar

Engine = Literal["local", "serial", "dask"]
ENGINES: tuple[Engine, ...] = ("local", "serial", "dask")
# To start processes takes seconds; a few models are done sooner in this one.
FEWEST_FOR_PROCESSES = 8
TRIES = 2  # how often a job may take its worker down before it is given up

# A run that is stopped leaves its last tidying to a helper process, which does it but complains.
_TIDIED = "ignore:resource_tracker"

J = TypeVar("J")
D = TypeVar("D")


class WorkerDied(Exception):
    """The process that ran a job ended before the job did."""


def run_jobs(
    work: Callable[[J], D],
    jobs: Sequence[J],
    *,
    engine: Engine = "local",
    workers: int | None = None,
    cluster: str = "",
    gave_up: Callable[[J], D],
) -> Iterator[D]:
    """Do all jobs and yield what each returns, as they end.

    ``workers`` None: one for each core. ``cluster`` is the address of a running cluster; "" starts
    one on this machine. ``gave_up`` is called for a job whose worker died every time. Raises
    ImportError where the cluster's library is not installed.
    """
    if engine == "dask":
        yield from _on_cluster(work, jobs, workers, cluster, gave_up)
    elif engine == "serial" or len(jobs) < FEWEST_FOR_PROCESSES or workers == 1:
        yield from map(work, jobs)
    else:
        yield from _on_cores(work, jobs, workers, gave_up)


def _on_cores(
    work: Callable[[J], D], jobs: Sequence[J], workers: int | None, gave_up: Callable[[J], D]
) -> Iterator[D]:
    """Jobs in processes of this machine. When one dies, the jobs in hand are tried apart."""
    left = dict(enumerate(jobs))
    while left:
        handed_out: list[int] = []
        try:
            yield from _in_pool(work, left, workers, handed_out)
        except WorkerDied:
            for number in [number for number in handed_out if number in left]:
                yield _apart(work, left.pop(number), gave_up)


def _in_pool(
    work: Callable[[J], D], left: dict[int, J], workers: int | None, handed_out: list[int]
) -> Iterator[D]:
    """Jobs in a pool of processes; each is struck from ``left`` when it has ended.

    ``handed_out`` gets the number of every job a process may have taken in hand. Raises
    WorkerDied when a process ends by itself; jobs struck off by then are done.
    """
    from joblib import Parallel, delayed
    from joblib.externals.loky.process_executor import TerminatedWorkerError

    if _TIDIED not in sys.warnoptions:
        sys.warnoptions.append(_TIDIED)
    def tasks() -> Iterator[Any]:
        for number, job in list(left.items()):
            handed_out.append(number)
            yield delayed(_numbered)(work, number, job)

    parallel = Parallel(
        n_jobs=workers or -1, backend="loky", return_as="generator_unordered", batch_size=1
    )
    try:
        for number, done in parallel(tasks()):
            del left[number]
            yield done
    except TerminatedWorkerError as dead:
        raise WorkerDied from dead


def _numbered(work: Callable[[J], D], number: int, job: J) -> tuple[int, D]:
    """What a job returns, with its number."""
    return number, work(job)


def _apart(work: Callable[[J], D], job: J, gave_up: Callable[[J], D]) -> D:
    """One job in a process of its own, so that it takes down nobody else's."""
    for _ in range(TRIES):
        try:
            return next(_in_pool(work, {0: job}, 2, []))
        except WorkerDied:
            continue
    return gave_up(job)


def _on_cluster(
    work: Callable[[J], D],
    jobs: Sequence[J],
    workers: int | None,
    cluster: str,
    gave_up: Callable[[J], D],
) -> Iterator[D]:
    """Jobs on a cluster; its scheduler hands the jobs of a dead worker to others.

    The cluster's own futures are asked, not a pool laid over them: the pool was seen to wait for
    ever once a worker had died.
    """
    dask: Any = import_module("distributed")
    home = None
    if not cluster:
        home = dask.LocalCluster(n_workers=workers, threads_per_worker=1, dashboard_address=None)
    try:
        with dask.Client(cluster or home) as client:
            futures = {client.submit(work, job, pure=False): job for job in jobs}
            for future in dask.as_completed(list(futures)):
                job = futures.pop(future)
                try:
                    yield future.result()
                except dask.KilledWorker:
                    yield gave_up(job)
                future.release()
    finally:
        if home is not None:
            home.close()
