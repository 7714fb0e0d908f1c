"""Many jobs on every engine; a worker that dies takes nothing with it but its own job."""

from pathlib import Path

import pytest
from support.work import die_at_three, die_once, double

from lugwright.catalogue.engine import ENGINES, Engine, run_jobs
from lugwright.cli.cmd_catalogue import ENGINES as OFFERED

JOBS = tuple(range(12))


def given_up(_job: object) -> int:
    """What stands for a job nobody could do."""
    return -1


def not_called(_job: object) -> int:
    """No job may be given up."""
    raise AssertionError


def test_the_commands_offer_every_engine() -> None:
    """The list of engines stands in two rooms, so that help loads neither."""
    assert OFFERED == ENGINES


@pytest.mark.parametrize("engine", ["serial", "local"])
def test_every_job_is_done_once(engine: Engine) -> None:
    """In whatever order they end."""
    done = run_jobs(double, JOBS, engine=engine, workers=2, gave_up=not_called)
    assert sorted(done) == [2 * number for number in JOBS]


def test_a_job_that_kills_its_process_is_given_up_alone() -> None:
    """The others are done, whoever was in hand beside it."""
    done = run_jobs(die_at_three, JOBS, engine="local", workers=2, gave_up=given_up)
    assert sorted(done) == sorted([-1, *(2 * number for number in JOBS if number != 3)])


def test_a_process_that_dies_by_chance_costs_nothing(tmp_path: Path) -> None:
    """Its job is tried again and done."""
    jobs = [(number, str(tmp_path / "mark")) for number in JOBS]
    done = run_jobs(die_once, jobs, engine="local", workers=2, gave_up=not_called)
    assert sorted(done) == [2 * number for number in JOBS]


def test_a_cluster_does_the_same_and_outlives_a_worker(tmp_path: Path) -> None:
    """A local cluster; the scheduler hands a dead worker's jobs to another."""
    pytest.importorskip("distributed", reason="the cluster's library is an extra")
    jobs = [(number, str(tmp_path / "mark")) for number in JOBS]
    done = run_jobs(die_once, jobs, engine="dask", workers=2, gave_up=not_called)
    assert sorted(done) == [2 * number for number in JOBS]
    assert (tmp_path / "mark").exists()
