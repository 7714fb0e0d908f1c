"""One model planned. Nothing that goes wrong with it reaches another.

A job is plain data, runs in any process that sees the same files, and leaves its result in a
file of its own before it returns: what it returns is only word of that.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from lugwright import pipeline
from lugwright.base.canonical import digest_of
from lugwright.base.errors import BadInput, own_words
from lugwright.catalogue.keys import key_of, limit_values, stock_rows
from lugwright.catalogue.question import question_digests
from lugwright.catalogue.schema import End, ModelResult, Settings
from lugwright.catalogue.store import read_result, write_result
from lugwright.problem.held import hold_in
from lugwright.scenario.brief import Brief

KEPT, PLANNED = "kept from an earlier run", "planned"


@dataclass(frozen=True)
class Job:
    """One model to plan: its scenario, the store its result goes into, and the settings."""

    scenario: Path
    store: Path
    settings: Settings

    @property
    def name(self) -> str:
        """The model's name: its file's name without ending."""
        return self.scenario.stem


@dataclass(frozen=True)
class Done:
    """Word of a job that has ended: the model, how it ended, and how that came about."""

    name: str
    end: End
    how: str


def run_job(job: Job) -> Done:
    """Plan one model, unless its result is there already, and put the result into the store.

    Faults of the file and of this program become results too. Raises KeyboardInterrupt where the
    search was interrupted, and OSError where the result cannot be written.
    """
    try:
        brief = read_model(job)
    except BadInput as fault:
        return finish(job, faulty(job.name, fault), PLANNED)
    except Exception as error:
        return finish(job, failed(job.name, error), PLANNED)
    key = key_of(brief, job.settings.seconds)
    known = read_result(job.store, job.name)
    if known is not None and known.key == key and known.end is not End.FAILED:
        return Done(job.name, known.end, KEPT)
    return finish(job, planned(job, brief, key), PLANNED)


def read_model(job: Job) -> Brief:
    """The brief of a model under the job's settings. Raises BadInput with every fault."""
    rules = job.settings
    return pipeline.read_inputs(
        job.scenario, rules.limits_file, rules.stock_folder, rules.rule_set, rules.settings
    )


def finish(job: Job, result: ModelResult, how: str) -> Done:
    """Put the result into the store and give word of it."""
    write_result(job.store, result)
    return Done(job.name, result.end, how)


def faulty(name: str, fault: BadInput) -> ModelResult:
    """The result of a file that is at fault: every fault in words, in the order of the file."""
    faults = sorted(set(fault.complaints))
    waivers = [str(one) for one in faults if one.field.startswith("waiver ")]
    return ModelResult(
        name=name,
        end=End.FAULTY,
        faults=tuple(map(str, faults)),
        idle_waivers=tuple(waivers) if len(waivers) == len(faults) else (),
    )


def failed(name: str, error: BaseException) -> ModelResult:
    """The result of a model our program could not cope with."""
    text = own_words(error) or "the planning broke off"
    fault = f"{text}; `lugwright --traceback plan FILE` shows where"
    return ModelResult(name=name, end=End.FAILED, faults=(fault,))


def planned(job: Job, brief: Brief, key: str) -> ModelResult:
    """Plan one model from what was read. A fault of ours is its result, not our end."""
    try:
        posed = pipeline.pose(brief)
        held = hold_in(posed[0], brief.holds)
        run = pipeline.make_plan(brief, time_limit_s=job.settings.seconds, posed=posed)
    except BadInput as fault:
        return faulty(job.name, fault)
    except Exception as error:
        return failed(job.name, error)
    if run.outcome.interrupted:
        raise KeyboardInterrupt
    return result_of(job.name, brief, key, run, question_digests(held, brief.stock))


def result_of(
    name: str, brief: Brief, key: str, run: pipeline.Run, question: tuple[str, str]
) -> ModelResult:
    """A planning run as a result. A plan the checker rejects is told and not kept."""
    outcome = run.outcome
    rejected = run.report is not None and not run.report.passed
    findings = run.report.findings if run.report and rejected else ()
    return ModelResult(
        name=name,
        end=End.REJECTED if rejected else End(outcome.ending.value),
        key=key,
        console=digest_of(brief.console),
        question=question[0],
        question_but_drops=question[1],
        holds=brief.holds.told,
        stock=digest_of(stock_rows(brief.stock)),
        limits=limit_values(brief.limits),
        faults=tuple(map(str, findings)),
        reasons=tuple(map(str, outcome.reasons)),
        note=outcome.note,
        idle_waivers=run.report.notes if run.report else (),
        met=outcome.met,
        choice=None if rejected else outcome.choice,
        plan=None if rejected else run.plan,
    )
