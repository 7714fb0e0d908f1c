"""One model's result, and the settings that all models of a catalogue are planned under."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import Any

from pydantic import Field

from lugwright.plans.choice import Choice
from lugwright.plans.outcome import Ending
from lugwright.plans.record import Record
from lugwright.plans.schema import Plan

FORMAT = 1


class End(Enum):
    """How a model ended: as a planning run can, or without one."""

    PROVED = Ending.PROVED.value
    WITHIN_BOUND = Ending.WITHIN_BOUND.value
    IMPOSSIBLE = Ending.IMPOSSIBLE.value
    NO_ANSWER = Ending.NO_ANSWER.value
    FAULTY = "the file is at fault"
    REJECTED = "the checker rejects the plan"
    FAILED = "our fault"


@dataclass(frozen=True)
class Settings:
    """What all models are planned under: the limits over each scenario, the stock, the time.

    ``seconds`` per model; None for no end. With a time some results depend on the machine.
    """

    limits_file: Path | None = None
    rule_set: str | None = None
    settings: tuple[str, ...] = ()
    stock_folder: Path | None = None
    seconds: float | None = None


class ModelResult(Record):
    """What came of one model. ``name`` is its file's name without ending.

    ``key`` stands for everything it was made from, ``console`` for the scenario alone and
    ``question`` for all that the search saw (``question_but_drops``: its drop limits left out).
    ``holds`` tells what the scenario holds. ``limits`` holds the value of every limit in force
    (by its field, integers as in ``limits.schema``), ``stock`` the digest of the stock's rows.
    ``met`` names the electrical rules that stood in the way of an answer. ``faults``: what is
    wrong with the file, with our program, or with the plan. ``reasons``: why there is no plan.
    ``ground`` says why no search was needed ("" where there was one); ``breaks`` what of an
    earlier plan the limits forbid; ``idle_waivers`` the waivers that are not needed, or that the
    limits no longer let stand.
    """

    format: int = FORMAT
    name: str
    end: End
    key: str = ""
    console: str = ""
    question: str = ""
    question_but_drops: str = ""
    stock: str = ""
    limits: dict[str, Any] = Field(default_factory=dict)
    holds: tuple[str, ...] = ()
    met: tuple[str, ...] = ()
    ground: str = ""
    breaks: tuple[str, ...] = ()
    idle_waivers: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    note: str = ""
    choice: Choice | None = None
    plan: Plan | None = None

    @property
    def has_plan(self) -> bool:
        """True when a plan stands in it."""
        return self.plan is not None
