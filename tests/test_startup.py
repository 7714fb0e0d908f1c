"""What each command may load: facts about modules, never about seconds."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from consoles import scenario_text
from startup import HEAVY, PAGES, Job, heavy_of, help_pages, jobs, loaded

from lugwright.cli.main import COMMANDS

MODELS = frozenset({"pydantic"})
READ = MODELS | {"tree_sitter"}  # a scenario, with the places of what stands in it
PDF = frozenset({"reportlab", "PIL", "segno"})
PAPER = PDF | {"drawsvg", "jinja2", "xlsxwriter", "rich"}
PACKING = MODELS | {"ortools", "numpy"}
SEARCH = READ | {"ortools", "highspy", "numpy"}

MAY_LOAD: dict[str, frozenset[str]] = {
    "limits": frozenset({"tree_sitter"}),
    "limits SCENARIO": frozenset({"tree_sitter"}),
    "stock": frozenset(),
    "guide": frozenset(),
    "guide TOPIC": frozenset(),
    "patterns": MODELS,
    "patterns NAME": MODELS | {"tree_sitter"},
    "new": MODELS,
    "plan": SEARCH | PAPER,
    "check": READ | {"numpy"},  # routes, to make a plan again
    "sheets": MODELS | PAPER,
    "sheets SCENARIO": READ | PDF | {"drawsvg"},
    "readings": MODELS,
    "hubs": SEARCH | {"drawsvg", "jinja2"},
    "changes": MODELS,
    "kits": PACKING,
    "spools": PACKING,
    "lengths": MODELS,
    "rework": SEARCH,
    "family": SEARCH | {"tomlkit"},
    "catalogue plan, kept": SEARCH | {"jinja2", "xlsxwriter"},
    "catalogue impact, kept": SEARCH | {"jinja2", "xlsxwriter"},
    "catalogue stock": MODELS | {"jinja2", "numpy", "xlsxwriter", "rich"},
}


@pytest.mark.parametrize("job", help_pages(), ids=lambda job: job.what)
def test_a_help_page_loads_nothing_heavy(job: Job) -> None:
    """No package of the list, and no room of ours that knows a plan or a scenario by model."""
    code, modules = loaded(job)
    rooms = ("lugwright.plans.schema", "lugwright.scenario.schema", "lugwright.pipeline")
    assert (code, heavy_of(modules), modules.intersection(rooms)) == (0, (), frozenset())


def test_every_command_has_its_page_and_its_job() -> None:
    """No command is forgotten by these tests or by the benchmark."""
    told = {page.split()[0] for page in PAGES if page}
    assert told == set(COMMANDS)
    assert {what.split()[0].rstrip(",") for what in MAY_LOAD} == told


SEARCHING = {what for what, may in MAY_LOAD.items() if may >= SEARCH}
"""Commands that search: they load most of what there is, and take longest."""
FIRST = {"plan", "catalogue plan, kept"}  # others work on what they wrote


@pytest.mark.parametrize("every", [False, pytest.param(True, marks=pytest.mark.slow)])
def test_a_command_loads_only_what_it_may(tmp_path: Path, every: bool) -> None:
    """Each run on a small console: it ends well, and loads no package beyond its own."""
    scenario = tmp_path / "small.toml"
    scenario.write_text(scenario_text(2), encoding="utf-8")
    later = set() if every else SEARCHING - FIRST
    seen_jobs, found = set(), {}
    for job in jobs(tmp_path, scenario):
        seen_jobs.add(job.what)
        if job.what not in later:
            found[job.what] = loaded(job)
    assert seen_jobs == MAY_LOAD.keys()
    assert {what: code for what, (code, _) in found.items() if code} == {}
    surplus = {what: set(heavy_of(seen)) - MAY_LOAD[what] for what, (_, seen) in found.items()}
    assert {what: more for what, more in surplus.items() if more} == {}


def test_what_may_be_loaded_is_told_by_the_benchmark() -> None:
    """A package these tests allow somewhere is one the benchmark looks for."""
    assert frozenset().union(*MAY_LOAD.values()) <= set(HEAVY)


def test_importing_the_package_loads_nothing() -> None:
    """``import lugwright`` is the version and no more."""
    program = "import sys, lugwright; print([x for x in sys.modules if 'lugwright.' in x])"
    ended = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert ended.stdout.strip() == "[]"
